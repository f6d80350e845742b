#pragma once
// Where the sun stands, and when it rises and sets: for the day length that an animal's home range
// has, and for timers that follow it. Good for any place on Earth and the years 1900 to 2100.
//
// Sunrise and sunset are those of almanacs: the upper limb on a flat horizon at sea level with 34
// arc minutes of refraction and 16 of radius, so the centre at -0.8333 degrees. A hill, a house or
// unusual air move the real ones by minutes; this is no navigation. Between 65 N and S the events
// are within some seconds of other programs (30 s is the limit of the checks); near the polar
// circles an arc minute of refraction is worth minutes, and only the state (up or not) and the
// height of the sun are sure.
//
// A day is settled by its noon. The solar noon of a date is the passage of the meridian nearest the
// middle of that calendar day in the zone; sunrise and sunset are those of the solar day round it,
// from one lower passage to the next. So the three always belong together, but a sunrise may fall
// on the evening before, or a sunset after midnight: in the bright nights below the polar circle,
// or where the clock is far from the sun (Singapore's sun by UTC).
//
// Method: Reda & Andreas 2003, "Solar position algorithm for solar radiation applications",
// NREL/TP-560-34302, with its own terms; between three positions over the solar day the place of
// the sun is interpolated (Meeus 1998, Astronomical Algorithms, ch. 3), and the crossings are found
// there. Checked by: tests/reference/sun_test.cpp, tests/reference/sun_check.py.

#include <optional>

#include "core/time.h"
#include "core/words.h"

namespace warmside::light {

/// Where on Earth. Degrees, north and east positive.
struct Place {
  double latitude_deg = 0;   // -90..90
  double longitude_deg = 0;  // -180..180
};

/// The apparent sun from the centre of the Earth at a moment. Angles in degrees.
struct SunPosition {
  double longitude_deg = 0;         // along the ecliptic, 0..360
  double right_ascension_deg = 0;   // 0..360
  double declination_deg = 0;       // -23.5..23.5
  double distance_au = 0;           // astronomical units
  double sidereal_time_deg = 0;     // apparent, at Greenwich, 0..360
  double equation_of_time_min = 0;  // what a sundial is ahead of a clock of local mean time
};

/// Terrestrial time less universal time, for a day of the years 1900 to 2100.
/// Source: Espenak & Meeus 2006, NASA/TP-2006-214141, polynomial expressions; from memory. An error
/// of ten seconds here is worth 0.03 s in a sunrise.
Duration delta_t(Date day);

/// t: taken as universal time (UTC is within 0.9 s of it).
SunPosition sun_position(Instant t, Duration delta_t);

/// Height of the sun's centre above the horizon, without refraction and without the parallax of at
/// most 0.0025 degrees. Degrees, -90..90.
double sun_elevation_deg(const Place& place, Instant t);

/// Nothing unusual, sun up on the whole solar day, sun down on the whole of it.
enum class Polar { no, day, night };

/// The events of one date at one place.
struct SunDay {
  std::optional<Instant> sunrise;  // none where the sun does not come up on this solar day
  std::optional<Instant> sunset;   // none where it does not go down
  Instant solar_noon;
  double noon_elevation_deg = 0;
  Duration day_length;  // time the sun is up on the solar day, 0..24 h
  Polar polar = Polar::no;
};

/// Problems: out_of_range for a place that is not on Earth, a year outside 1900 to 2100, a day that
/// the zone's calendar leaves out.
/// On the few days between the bright and the usual season there may be a sunrise and no sunset, or
/// the other way round; such a day is not `polar`, and its length is the time the sun is up.
Result<SunDay> sun_day(const Place& place, Date date, const Zone& zone);

/// Day length at a latitude, whatever the longitude: the solar day of the meridian of Greenwich.
/// Problems as for sun_day.
Result<Duration> day_length(double latitude_deg, Date date);

/// How far the year has come from the winter solstice (0) to the summer solstice (1) and back, by
/// the sun's own declination: half at the equinoxes, slow near the solstices as the days are.
/// Problem out_of_range for a year outside 1900 to 2100.
Result<double> summer_share(bool northern, Date date);

}  // namespace warmside::light

namespace warmside {
template <>
struct Words<light::Polar> {
  static constexpr std::array<std::string_view, 3> list{"no", "day", "night"};
};
}  // namespace warmside
