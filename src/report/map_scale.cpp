#include "report/map_scale.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <optional>

namespace warmside::report {
namespace {

/// Lightness from low to high while the colour goes round a circle in (a, b) of OKLab. All of it
/// lies inside sRGB (a test looks).
struct Helix {
  double darkest, lightest;
  double middle_a, middle_b, radius;
  double from_deg, to_deg;
  double lightness(double share) const {
    return darkest + (lightest - darkest) * std::clamp(share, 0.0, 1.0);
  }
};

constexpr Helix kHeat{0.34, 0.92, 0.01, -0.05, 0.16, -95, 105};  // blue, red, yellow
// Olive, teal, blue, lilac: the other way round the hues, as far from heat as sRGB leaves room for.
constexpr Helix kUv{0.33, 0.88, 0.006, -0.027, 0.083, 92, 340};

double srgb_encoded(double linear) {  // IEC 61966-2-1:1999, 5.2
  const double x = std::clamp(linear, 0.0, 1.0);
  return x <= 0.0031308 ? 12.92 * x : 1.055 * std::pow(x, 1 / 2.4) - 0.055;
}

Colour colour_on(const Helix& helix, double share) {
  const double along = std::isnan(share) ? 0 : std::clamp(share, 0.0, 1.0);
  const double angle =
      (helix.from_deg + (helix.to_deg - helix.from_deg) * along) * std::numbers::pi / 180;
  const double L = helix.lightness(along);
  const double a = helix.middle_a + helix.radius * std::cos(angle);
  const double b = helix.middle_b + helix.radius * std::sin(angle);
  // OKLab to linear sRGB: Ottosson 2020, the function oklab_to_linear_srgb.
  const double l = std::pow(L + 0.3963377774 * a + 0.2158037573 * b, 3);
  const double m = std::pow(L - 0.1055613458 * a - 0.0638541728 * b, 3);
  const double s = std::pow(L - 0.0894841775 * a - 1.2914855480 * b, 3);
  return {srgb_encoded(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
          srgb_encoded(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
          srgb_encoded(-0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s)};
}

const Helix& helix_of(Measure measure) {
  return measure == Measure::uv_index ? kUv : kHeat;
}

/// The smallest of 1, 2, 5, 10, ... in parts of `per_one` that divides `range` into at most `most`
/// parts. Whole, so that its multiples are the nearest doubles to round numbers.
long round_step(double range, double most, double per_one) {
  long step = 1;
  for (int i = 0; range * per_one > most * static_cast<double>(step); ++i)
    step = step * (i % 3 == 1 ? 5 : 4) / 2;
  return step;
}

constexpr double kSlack = 1e-9;  // so that an end which is a multiple of a step counts as one

/// last_colour: where the colours end, if not with the range.
MapScale scale_over(Extent range, const std::optional<double>& last_colour, const Unit& unit) {
  const bool cut = last_colour && *last_colour > range.low && *last_colour < range.high;
  if (cut) range.high = *last_colour;
  return {unit.rounded(range, 12), unit, cut};
}

MapScale heat_scale_of(const ClimatePicture& picture) {
  Extent range;
  range.add(picture.plan.value);
  range.add(picture.section.value);
  if (has_heat_map(picture)) range.add(picture.bands);
  if (range.empty()) range = range_of(picture.day);
  if (range.empty()) range = {20, 30};  // nothing is known; no colour will be seen
  return scale_over(range, picture.hottest_colour_c, {picture.units, Measure::temperature});
}

MapScale uv_scale_of(const ClimatePicture& picture) {
  constexpr double kShortest = 0.5;  // so that a trace of UV does not look like a lot
  Extent range{0, kShortest};
  range.add(picture.uv_plan.value);
  range.add(picture.uv_section.value);
  range.add(picture.uv_bands);
  return scale_over(range, picture.strongest_uv_colour, {picture.units, Measure::uv_index});
}

}  // namespace

// ---- Colour -------------------------------------------------------------------------------------

Colour heat_colour(double share) {
  return colour_on(kHeat, share);
}

Colour uv_colour(double share) {
  return colour_on(kUv, share);
}

// ---- Numbers ------------------------------------------------------------------------------------

std::string number_text(double value, int least_decimals) {
  const double tenths = std::fabs(std::round(value * 10));
  const bool whole = least_decimals == 0 && std::fmod(tenths, 10) == 0;
  return (tenths > 0 && value < 0 ? "−" : "") + fmt::format("{:.{}f}", tenths / 10, whole ? 0 : 1);
}

std::vector<double> round_numbers(double low, double high, double most, int most_decimals) {
  const double per_one = std::pow(10, most_decimals);
  const long step = round_step(high - low, most, per_one);
  const double scale = static_cast<double>(step) / per_one;
  std::vector<double> numbers;
  for (long k = std::lround(std::ceil(low / scale - kSlack));
       k <= std::lround(std::floor(high / scale + kSlack)); ++k)
    numbers.push_back(static_cast<double>(k * step) / per_one);
  return numbers;
}

void Extent::add(double value) {
  if (std::isnan(value)) return;
  low = std::min(low, value);
  high = std::max(high, value);
}

void Extent::add(const std::vector<double>& values) {
  for (const double value : values) add(value);
}

void Extent::add(const std::vector<Band>& bands) {
  for (const Band& band : bands) {
    add(band.low);
    add(band.high);
  }
}

double Unit::shown(double value) const {
  return in_fahrenheit() ? Temperature::celsius(value).fahrenheit() : value;
}

double Unit::value(double shown) const {
  return in_fahrenheit() ? Temperature::fahrenheit(shown).celsius() : shown;
}

const char* Unit::name() const {
  if (measure == Measure::uv_index) return "UV index";
  return in_fahrenheit() ? "°F" : "°C";
}

double Unit::length(double metres) const {
  const Length length = Length::metres(metres);
  return system == UnitSystem::us ? length.inches() : length.centimetres();
}

double Unit::metres(double shown) const {
  return (system == UnitSystem::us ? Length::inches(shown) : Length::centimetres(shown)).metres();
}

std::string Unit::range_text(double low, double high) const {
  return number_text(shown(low)) + " to " + number_text(shown(high));
}

std::string Unit::extent_text(const Extent& range) const {
  if (measure == Measure::temperature) {
    if (range.empty()) return "no temperature";
    return number_text(shown(range.low), 1) + " to " + number_text(shown(range.high), 1) + " " +
           name();
  }
  const std::string what = name();
  if (range.empty()) return "no " + what;
  if (range.high <= 0) return what + " 0";
  if (range.high < 0.05) return what + " under 0.05";  // else "0.0 to 0.0"
  // Tenths of what is so strong would be made up.
  const auto text = [](double uv) {
    return uv < 10 ? number_text(uv, 1) : number_text(std::round(uv));
  };
  return what + " " + text(range.low) + " to " + text(range.high);
}

std::string Unit::line_text(double value) const {
  const std::string number = number_text(shown(value));
  return measure == Measure::uv_index ? "UV " + number : number + "°";
}

Extent Unit::rounded(Extent range, double most) const {
  const double middle = (range.low + range.high) / 2;
  if (measure == Measure::temperature && range.width() < 4) range = {middle - 2, middle + 2};
  const double low = shown(range.low), high = shown(range.high);
  const double step = static_cast<double>(round_step(high - low, most, 10)) / 10;
  return {value(std::floor(low / step + kSlack) * step),
          value(std::ceil(high / step - kSlack) * step)};
}

std::string with_range(const std::string& name, const Band& band, const Unit& unit) {
  const std::string range = unit.range_text(band.low, band.high);
  if (name.empty()) return range;
  // A zone's name ends in a number.
  return name + (unit.measure == Measure::uv_index ? ": " : " ") + range;
}

// ---- Scale --------------------------------------------------------------------------------------

Colour MapScale::colour_at(double share) const {
  return colour_on(helix_of(unit.measure), share);
}

Colour MapScale::line_on(double value) const {
  constexpr double kTurn = 0.6;  // in OKLab lightness
  return helix_of(unit.measure).lightness(share(value)) < kTurn ? kPaper : kInk;
}

std::vector<double> MapScale::numbers(const Extent& within, double most) const {
  std::vector<double> numbers =
      round_numbers(unit.shown(within.low), unit.shown(within.high), most);
  for (double& number : numbers) number = unit.value(number);
  return numbers;
}

std::vector<double> MapScale::line_values(const Extent& within) const {
  constexpr double kMostLines = 10;
  std::vector<double> values = numbers(within, kMostLines);
  if (unit.measure != Measure::uv_index) return values;
  std::erase_if(values, [](double value) { return value <= 0; });  // nowhere is less than none
  for (const double faint : {1.0, 0.5})
    if (faint >= within.low && faint <= within.high && (values.empty() || faint < values.front()))
      values.insert(values.begin(), faint);
  return values;
}

Extent range_of(const DayStrip& day) {
  Extent lines;
  for (const DayStrip::Line& line : day.lines) lines.add(line.value_c);
  const double clear = lines.empty() ? 0 : 0.04 * lines.width();
  Extent range{lines.low - clear, lines.high + clear};
  range.add(day.bands);
  return range;
}

MapScales scales_of(const ClimatePicture& picture) {
  return {heat_scale_of(picture), uv_scale_of(picture)};
}

}  // namespace warmside::report
