#pragma once
// The scales of a picture: which colour a temperature or a UV index has, in which unit it is shown,
// and the round numbers along it. Knows nothing of drawing.
// Checked by: tests/unit/report/map_scale_test.cpp.

#include <limits>
#include <string>
#include <vector>

#include "core/quantity.h"
#include "report/climate_pictures.h"

namespace warmside::report {

// ---- Colour -------------------------------------------------------------------------------------

/// A colour on a screen: sRGB (IEC 61966-2-1), each 0..1.
struct Colour {
  double red = 0, green = 0, blue = 0;
};

constexpr Colour kPaper{1, 1, 1}, kInk{0.13, 0.13, 0.15}, kFaint{0.38, 0.38, 0.41};

/// The colour of a place on the scale, from 0 (cold, dark blue) to 1 (hot, light yellow); others
/// are taken as the nearer end. Equal steps look equally large: the path is a helix in OKLab, so
/// that lightness rises evenly and every step has the same length.
/// Source: B. Ottosson, A perceptual color space for image processing, 2020 (OKLab); the helix and
/// its numbers are ours, chosen inside sRGB.
Colour heat_colour(double share);

/// The same for UV, from 0 (none, dark olive) by way of teal and blue to 1 (strong, light lilac).
/// At least 0.15 in OKLab from every colour of heat; to eyes that lack one kind of cones the two
/// paths cross, so that maps say in words what they show.
Colour uv_colour(double share);

// ---- Numbers ------------------------------------------------------------------------------------

/// At most one decimal, none where it is a zero unless asked for; with a true minus sign.
std::string number_text(double value, int least_decimals = 0);

/// The multiples of a round step (0.1, 0.2, 0.5, 1, 2, 5, ...) from low to high; the step is the
/// smallest that divides them into at most `most` parts and has at most so many decimals.
std::vector<double> round_numbers(double low, double high, double most, int most_decimals = 1);

/// The lowest and the highest of what was added; NaN does not count.
struct Extent {
  double low = std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();
  bool empty() const { return low > high; }
  double width() const { return high - low; }
  void add(double value);
  void add(const std::vector<double>& values);
  void add(const std::vector<Band>& bands);
};

enum class Measure { temperature, uv_index };

/// From degC or UV index and from m into what the room reads and back, and in words.
struct Unit {
  UnitSystem system = UnitSystem::metric;
  Measure measure = Measure::temperature;
  double shown(double value) const;
  double value(double shown) const;
  const char* name() const;            // "°C", "°F" or "UV index"
  double length(double metres) const;  // in cm or inches
  double metres(double shown) const;
  const char* length_name() const { return system == UnitSystem::us ? "in" : "cm"; }

  /// "32 to 36".
  std::string range_text(double low, double high) const;
  /// "32.0 to 36.0 °C" or "UV index 0.2 to 8.1"; in words where it holds nothing, or where UV would
  /// round to 0.
  std::string extent_text(const Extent& range) const;
  /// On a line of the map: "32°" or "UV 2.9".
  std::string line_text(double value) const;
  /// Widened to round numbers of the unit, temperatures to at least 4 K apart.
  Extent rounded(Extent range, double most) const;

 private:
  bool in_fahrenheit() const { return measure == Measure::temperature && system == UnitSystem::us; }
};

/// "basking 32 to 36" or "zone 3: 2.9 to 7.4".
std::string with_range(const std::string& name, const Band& band, const Unit& unit);

// ---- Scale --------------------------------------------------------------------------------------

/// The scale from colour to value, and its numbers.
struct MapScale {
  Extent range;
  Unit unit;
  bool cut = false;  // there are places beyond its upper end
  /// 0 at the lower end, 1 at the upper one.
  double share(double value) const { return (value - range.low) / range.width(); }
  Colour colour_at(double share) const;
  Colour colour(double value) const { return colour_at(share(value)); }
  /// What stands out against the colour of a value.
  Colour line_on(double value) const;
  /// Values that are round in the room's unit.
  std::vector<double> numbers(const Extent& within, double most) const;
  /// The values that get a line on a map. UV falls off so steeply from a lamp that even steps leave
  /// most of the floor bare: below the first step it has lines at 0.5 and 1 as well.
  std::vector<double> line_values(const Extent& within) const;
};

/// The temperatures a day is drawn from and to, degC; empty where it holds none. Bands may touch
/// the frame of a day, lines keep off it.
Extent range_of(const DayStrip& day);

/// The one scale of both heat maps, or that of the day where there is no map; and that of UV.
struct MapScales {
  MapScale heat, uv;
};
MapScales scales_of(const ClimatePicture& picture);

}  // namespace warmside::report
