#pragma once
// The scale of a picture: which colour a temperature has, in which unit it is shown, and the round
// numbers along it. Knows nothing of drawing.
// Checked by: tests/unit/report/climate_pictures_test.cpp.

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

/// From degC and m into the room's units and back, and in words.
struct Unit {
  UnitSystem system = UnitSystem::metric;
  double shown(double value) const;
  double celsius(double shown) const;
  const char* name() const { return system == UnitSystem::us ? "°F" : "°C"; }
  double length(double metres) const;  // in cm or inches
  double metres(double shown) const;
  const char* length_name() const { return system == UnitSystem::us ? "in" : "cm"; }

  /// "32 to 36".
  std::string range_text(double low, double high) const;
  /// "32.0 to 36.0 °C".
  std::string exact_range_text(double low, double high) const;
  /// Widened to round numbers of the unit, at least 4 K apart.
  Extent rounded(Extent range, double most) const;
};

/// "basking 32 to 36".
std::string with_range(const std::string& name, const Band& band, const Unit& unit);

// ---- Scale --------------------------------------------------------------------------------------

/// The scale from colour to temperature, and its numbers.
struct MapScale {
  Extent range;
  Unit unit;
  bool cut = false;  // there are hotter places than its end
  /// 0 at the cold end, 1 at the hot one.
  double share(double value) const { return (value - range.low) / range.width(); }
  Colour colour(double value) const { return heat_colour(share(value)); }
  /// What stands out against the colour of a temperature.
  Colour line_on(double value) const;
  /// Temperatures that are round in the room's unit, degC.
  std::vector<double> numbers(const Extent& within, double most) const;
};

/// The temperatures a day is drawn from and to, degC; empty where it holds none. Bands may touch
/// the frame of a day, lines keep off it.
Extent range_of(const DayStrip& day);

/// The one scale of both maps, or that of the day where there is no map.
MapScale scale_of(const ClimatePicture& picture);

}  // namespace warmside::report
