#include "light/sun.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <span>
#include <vector>

#include "core/check.h"
#include "light/sun_terms_internal.h"

namespace warmside::light {
namespace {

// Reda & Andreas number their equations 1 to 47; "eq." below is one of theirs.

constexpr double kDegree = std::numbers::pi / 180;
constexpr double kFullTurn_deg = 360;
constexpr double kDay_s = 86'400;
constexpr int kFirstYear = 1900, kLastYear = 2100;

/// Refraction of 34 arc minutes and a radius of 16: the almanacs' convention, appendix A.2.1.
constexpr double kRiseElevation_deg = -0.8333;

double in_turn(double angle_deg) {
  const double rest = std::fmod(angle_deg, kFullTurn_deg);
  return rest < 0 ? rest + kFullTurn_deg : rest;
}

/// -180..180.
double in_half_turns(double angle_deg) {
  return std::remainder(angle_deg, kFullTurn_deg);
}

/// c0 + c1 x + c2 x^2 + ...
double polynomial(std::span<const double> coefficients, double x) {
  double sum = 0;
  for (std::size_t i = coefficients.size(); i-- > 0;) sum = sum * x + coefficients[i];
  return sum;
}

/// One series of table A4.2, eq. 9 and 10.
double series(std::span<const PeriodicTerm> terms, double jme) {
  double sum = 0;
  for (const PeriodicTerm& t : terms) sum += t.amplitude * std::cos(t.phase + t.frequency * jme);
  return sum;
}

/// The sum of the series times their powers of JME, eq. 11.
template <std::size_t N>
double of_earth(const std::array<std::span<const PeriodicTerm>, N>& tables, double jme) {
  std::array<double, N> sums;
  for (std::size_t i = 0; i < N; ++i) sums[i] = series(tables[i], jme);
  return polynomial(sums, jme) / 1e8;
}

struct Nutation {
  double longitude_deg, obliquity_deg;
};

/// Eq. 15 to 23.
Nutation nutation(double jce) {
  const double arguments_deg[] = {
      polynomial(std::array{297.85036, 445267.111480, -0.0019142, 1 / 189474.0}, jce),
      polynomial(std::array{357.52772, 35999.050340, -0.0001603, -1 / 300000.0}, jce),
      polynomial(std::array{134.96298, 477198.867398, 0.0086972, 1 / 56250.0}, jce),
      polynomial(std::array{93.27191, 483202.017538, -0.0036825, 1 / 327270.0}, jce),
      polynomial(std::array{125.04452, -1934.136261, 0.0020708, 1 / 450000.0}, jce)};
  Nutation sum{0, 0};
  for (const NutationTerm& term : kNutation) {
    double angle_deg = 0;
    for (int i = 0; i < 5; ++i) angle_deg += arguments_deg[i] * term.multiples[i];
    sum.longitude_deg += (term.a + term.b * jce) * std::sin(angle_deg * kDegree);
    sum.obliquity_deg += (term.c + term.d * jce) * std::cos(angle_deg * kDegree);
  }
  constexpr double kTenThousandths_of_arc_second = 36e6;
  return {sum.longitude_deg / kTenThousandths_of_arc_second,
          sum.obliquity_deg / kTenThousandths_of_arc_second};
}

/// True obliquity of the ecliptic, eq. 24 and 25.
double obliquity_deg(double jme, const Nutation& nutation) {
  const double mean_arc_seconds = polynomial(std::array{84381.448, -4680.93, -1.55, 1999.25, -51.38,
                                                        -249.67, -39.05, 7.12, 27.87, 5.79, 2.45},
                                             jme / 10);
  return mean_arc_seconds / 3600 + nutation.obliquity_deg;
}

/// Local hour angle of the sun, -180..180, positive after noon; eq. 32.
double hour_angle_deg(const SunPosition& sun, double longitude_deg) {
  return in_half_turns(sun.sidereal_time_deg + longitude_deg - sun.right_ascension_deg);
}

/// Eq. 41 with geocentric coordinates.
double elevation_deg(double latitude_deg, double declination_deg, double hour_angle_deg) {
  const double sine = std::sin(latitude_deg * kDegree) * std::sin(declination_deg * kDegree) +
                      std::cos(latitude_deg * kDegree) * std::cos(declination_deg * kDegree) *
                          std::cos(hour_angle_deg * kDegree);
  return std::asin(std::clamp(sine, -1.0, 1.0)) / kDegree;
}

Date day_of(Instant t) {
  return Zone().date_of(t);
}

/// The moment near `guess` at which the hour angle is `wanted_deg`. The sun runs 360 degrees in
/// about a day, so that each step leaves a few thousandths of the error.
Instant when_at_hour_angle(double longitude_deg, double wanted_deg, Instant guess,
                           Duration delta_t) {
  constexpr int kSteps = 3;
  for (int i = 0; i < kSteps; ++i) {
    const double ahead_deg =
        in_half_turns(hour_angle_deg(sun_position(guess, delta_t), longitude_deg) - wanted_deg);
    guess = guess - Duration::seconds(ahead_deg / kFullTurn_deg * kDay_s);
  }
  return guess;
}

/// The sun's height over a solar day, from its positions at three moments: u = -1 is the beginning,
/// 0 noon, 1 the end. Declination and hour angle are interpolated by second differences (Meeus
/// 1998, eq. 3.3); third differences of the declination over half a day come to 1e-6 degrees.
class SolarDay {
 public:
  SolarDay(const Place& place, Instant noon, Duration delta_t)
      : latitude_deg_(place.latitude_deg), noon_(noon) {
    for (int i = 0; i < 3; ++i) {
      const SunPosition sun = sun_position(at(i - 1), delta_t);
      declinations_deg_[i] = sun.declination_deg;
      // What the hour angle is ahead of an even turn; small, so that no turn is lost.
      ahead_deg_[i] =
          in_half_turns(hour_angle_deg(sun, place.longitude_deg) - (i - 1) * kFullTurn_deg / 2);
    }
  }

  Instant at(double u) const { return noon_ + Duration::seconds(u * kDay_s / 2); }
  double elevation(double u) const {
    return elevation_deg(latitude_deg_, between(declinations_deg_, u),
                         between(ahead_deg_, u) + u * kFullTurn_deg / 2);
  }
  bool up(double u) const { return elevation(u) > kRiseElevation_deg; }

  /// Where the sun crosses the horizon between a and b; it is up at one of the two only.
  double crossing(double a, double b) const {
    const bool up_at_a = up(a);
    constexpr int kHalvings = 32;  // of a quarter of an hour: below a microsecond
    for (int i = 0; i < kHalvings; ++i) {
      const double middle = (a + b) / 2;
      (up(middle) == up_at_a ? a : b) = middle;
    }
    return (a + b) / 2;
  }

 private:
  static double between(const std::array<double, 3>& y, double u) {
    return y[1] + u / 2 * (y[2] - y[0]) + u * u / 2 * (y[2] - 2 * y[1] + y[0]);
  }

  double latitude_deg_;
  Instant noon_;
  std::array<double, 3> declinations_deg_{};
  std::array<double, 3> ahead_deg_{};
};

SunDay events(const Place& place, Instant noon, Duration delta_t) {
  const SolarDay solar(place, noon, delta_t);
  SunDay day;
  day.solar_noon = noon;
  day.noon_elevation_deg = solar.elevation(0);
  // Steps of a quarter of an hour, noon and both ends among them: there the sun is highest and
  // lowest, so that a short peep over the horizon or below it is seen. Only within a degree of the
  // poles can a double crossing between two steps be missed, and there it is worth minutes.
  constexpr int kSteps = 48;
  double up_share = 0;  // of half a day
  double since = -1;
  bool up = solar.up(-1);
  const bool up_at_first = up;
  for (int i = -kSteps + 1; i <= kSteps; ++i) {
    const double u = static_cast<double>(i) / kSteps;
    if (solar.up(u) == up) continue;
    const double crossing = solar.crossing(static_cast<double>(i - 1) / kSteps, u);
    if (up) {
      up_share += crossing - since;
      day.sunset = solar.at(crossing);
    } else if (!day.sunrise) {
      day.sunrise = solar.at(crossing);
    }
    since = crossing;
    up = !up;
  }
  if (up) up_share += 1 - since;
  day.day_length = Duration::seconds(up_share * kDay_s / 2);
  if (!day.sunrise && !day.sunset) day.polar = up_at_first ? Polar::day : Polar::night;
  return day;
}

Problem outside(const char* what, const char* field, std::string expected, std::string found) {
  return {ProblemCode::out_of_range, what, {"", 0, field}, std::move(expected), std::move(found)};
}

bool has_year(Date day) {
  return day.year() >= kFirstYear && day.year() <= kLastYear;
}

Problem other_year(Date date) {
  return outside("the sun is computed for other years only", "date",
                 fmt::format("a day of the years {} to {}", kFirstYear, kLastYear), to_text(date));
}

}  // namespace

Duration delta_t(Date day) {
  WS_CHECK(has_year(day) || has_year(day + 1) || has_year(day - 1));
  const double year = day.year() + (day.month() - 0.5) / 12;
  const auto from = [&](double origin, std::initializer_list<double> coefficients) {
    return Duration::seconds(
        polynomial(std::span(coefficients.begin(), coefficients.size()), year - origin));
  };
  if (year < 1920) return from(1900, {-2.79, 1.494119, -0.0598939, 0.0061966, -0.000197});
  if (year < 1941) return from(1920, {21.20, 0.84493, -0.076100, 0.0020936});
  if (year < 1961) return from(1950, {29.07, 0.407, -1 / 233.0, 1 / 2547.0});
  if (year < 1986) return from(1975, {45.45, 1.067, -1 / 260.0, -1 / 718.0});
  if (year < 2005) {
    return from(2000, {63.86, 0.3345, -0.060374, 0.0017275, 0.000651814, 0.00002373599});
  }
  if (year < 2050) return from(2000, {62.92, 0.32217, 0.005589});
  const double century = (year - 1820) / 100;
  return Duration::seconds(-20 + 32 * century * century - 0.5628 * (2150 - year));
}

SunPosition sun_position(Instant t, Duration delta_t) {
  static constexpr std::array<std::span<const PeriodicTerm>, 6> kLongitude{
      kLongitude0, kLongitude1, kLongitude2, kLongitude3, kLongitude4, kLongitude5};
  static constexpr std::array<std::span<const PeriodicTerm>, 2> kLatitude{kLatitude0, kLatitude1};
  static constexpr std::array<std::span<const PeriodicTerm>, 5> kDistance{
      kDistance0, kDistance1, kDistance2, kDistance3, kDistance4};
  constexpr double kEpochUnix_d = 10'957.5;  // J2000.0, 2000-01-01T12:00

  const double days = static_cast<double>(t.unix_ms()) / (1000 * kDay_s) - kEpochUnix_d;
  const double century = days / 36'525;                             // JC, eq. 6
  const double jce = (days + delta_t.seconds() / kDay_s) / 36'525;  // eq. 7
  const double jme = jce / 10;                                      // eq. 8

  SunPosition sun;
  sun.distance_au = of_earth(kDistance, jme);
  // From the Earth's centre the sun stands opposite, eq. 13 and 14.
  const double longitude_deg = of_earth(kLongitude, jme) / kDegree + kFullTurn_deg / 2;
  const double latitude = -of_earth(kLatitude, jme);
  const Nutation wobble = nutation(jce);
  const double aberration_deg = -20.4898 / (3600 * sun.distance_au);  // eq. 26
  sun.longitude_deg = in_turn(longitude_deg + wobble.longitude_deg + aberration_deg);

  const double obliquity = obliquity_deg(jme, wobble) * kDegree;
  const double longitude = sun.longitude_deg * kDegree;
  sun.right_ascension_deg =  // eq. 30
      in_turn(std::atan2(std::sin(longitude) * std::cos(obliquity) -
                             std::tan(latitude) * std::sin(obliquity),
                         std::cos(longitude)) /
              kDegree);
  sun.declination_deg =  // eq. 31
      std::asin(std::sin(latitude) * std::cos(obliquity) +
                std::cos(latitude) * std::sin(obliquity) * std::sin(longitude)) /
      kDegree;
  const double nutation_of_equinox_deg = wobble.longitude_deg * std::cos(obliquity);
  sun.sidereal_time_deg =  // eq. 28 and 29
      in_turn(280.46061837 + 360.98564736629 * days +
              polynomial(std::array{0.0, 0.0, 0.000387933, -1 / 38'710'000.0}, century) +
              nutation_of_equinox_deg);
  const double mean_longitude_deg =  // appendix A.1
      polynomial(std::array{280.4664567, 360007.6982779, 0.03032028, 1 / 49'931.0, -1 / 15'300.0,
                            -1 / 2'000'000.0},
                 jme);
  constexpr double kMinutesPerDegree = 4;
  sun.equation_of_time_min =
      kMinutesPerDegree * in_half_turns(mean_longitude_deg - 0.0057183 - sun.right_ascension_deg +
                                        nutation_of_equinox_deg);
  return sun;
}

double sun_elevation_deg(const Place& place, Instant t) {
  const SunPosition sun = sun_position(t, delta_t(day_of(t)));
  return elevation_deg(place.latitude_deg, sun.declination_deg,
                       hour_angle_deg(sun, place.longitude_deg));
}

Result<SunDay> sun_day(const Place& place, Date date, const Zone& zone) {
  if (!(std::abs(place.latitude_deg) <= 90)) {
    return outside("no such latitude", "latitude", "-90 to 90 degrees, north positive",
                   fmt::format("{}", place.latitude_deg));
  }
  if (!(std::abs(place.longitude_deg) <= 180)) {
    return outside("no such longitude", "longitude", "-180 to 180 degrees, east positive",
                   fmt::format("{}", place.longitude_deg));
  }
  if (!has_year(date)) return other_year(date);
  const Instant begin = zone.start_of(date), end = zone.start_of(date + 1);
  if (!(begin < end)) {
    return outside("this day is missing from the calendar of the zone", "date",
                   "a day that " + zone.name() + " has", to_text(date));
  }
  const Duration difference = delta_t(date);
  const Instant middle = begin + (end - begin) / 2;
  return events(place, when_at_hour_angle(place.longitude_deg, 0, middle, difference), difference);
}

Result<Duration> day_length(double latitude_deg, Date date) {
  const auto day = sun_day({latitude_deg, 0}, date, Zone());
  if (!day) return day.problem();
  return day->day_length;
}

Result<double> summer_share(bool northern, Date date) {
  if (!has_year(date)) return other_year(date);
  // The greatest declination of the years 1900 to 2100, the obliquity with its nutation.
  constexpr double kSolstice_deg = 23.455;
  const SunPosition sun = sun_position(Zone().at(date, TimeOfDay{12 * 60}), delta_t(date));
  const double towards_summer = (northern ? 1 : -1) * sun.declination_deg / kSolstice_deg;
  return std::clamp((1 + towards_summer) / 2, 0.0, 1.0);
}

}  // namespace warmside::light
