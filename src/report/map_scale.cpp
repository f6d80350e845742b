#include "report/map_scale.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace warmside::report {
namespace {

// The helix: lightness from low to high while the colour goes round a circle in (a, b), from blue
// by way of red to yellow. All of it lies inside sRGB (a test looks).
constexpr double kDarkest = 0.34, kLightest = 0.92;
constexpr double kMiddle_a = 0.01, kMiddle_b = -0.05, kRadius = 0.16;
constexpr double kFrom_deg = -95, kTo_deg = 105;

double srgb_encoded(double linear) {  // IEC 61966-2-1:1999, 5.2
  const double x = std::clamp(linear, 0.0, 1.0);
  return x <= 0.0031308 ? 12.92 * x : 1.055 * std::pow(x, 1 / 2.4) - 0.055;
}

double heat_lightness(double share) {
  return kDarkest + (kLightest - kDarkest) * std::clamp(share, 0.0, 1.0);
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

}  // namespace

// ---- Colour -------------------------------------------------------------------------------------

Colour heat_colour(double share) {
  const double along = std::isnan(share) ? 0 : std::clamp(share, 0.0, 1.0);
  const double angle = (kFrom_deg + (kTo_deg - kFrom_deg) * along) * std::numbers::pi / 180;
  const double L = heat_lightness(along);
  const double a = kMiddle_a + kRadius * std::cos(angle);
  const double b = kMiddle_b + kRadius * std::sin(angle);
  // OKLab to linear sRGB: Ottosson 2020, the function oklab_to_linear_srgb.
  const double l = std::pow(L + 0.3963377774 * a + 0.2158037573 * b, 3);
  const double m = std::pow(L - 0.1055613458 * a - 0.0638541728 * b, 3);
  const double s = std::pow(L - 0.0894841775 * a - 1.2914855480 * b, 3);
  return {srgb_encoded(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
          srgb_encoded(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
          srgb_encoded(-0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s)};
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
  return system == UnitSystem::us ? Temperature::celsius(value).fahrenheit() : value;
}

double Unit::celsius(double shown) const {
  return system == UnitSystem::us ? Temperature::fahrenheit(shown).celsius() : shown;
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

std::string Unit::exact_range_text(double low, double high) const {
  return number_text(shown(low), 1) + " to " + number_text(shown(high), 1) + " " + name();
}

Extent Unit::rounded(Extent range, double most) const {
  const double middle = (range.low + range.high) / 2;
  if (range.width() < 4) range = {middle - 2, middle + 2};
  const double low = shown(range.low), high = shown(range.high);
  const double step = static_cast<double>(round_step(high - low, most, 10)) / 10;
  return {celsius(std::floor(low / step + kSlack) * step),
          celsius(std::ceil(high / step - kSlack) * step)};
}

std::string with_range(const std::string& name, const Band& band, const Unit& unit) {
  const std::string range = unit.range_text(band.low, band.high);
  return name.empty() ? range : name + " " + range;
}

// ---- Scale --------------------------------------------------------------------------------------

Colour MapScale::line_on(double value) const {
  constexpr double kTurn = 0.6;  // in OKLab lightness
  return heat_lightness(share(value)) < kTurn ? kPaper : kInk;
}

std::vector<double> MapScale::numbers(const Extent& within, double most) const {
  std::vector<double> numbers =
      round_numbers(unit.shown(within.low), unit.shown(within.high), most);
  for (double& number : numbers) number = unit.celsius(number);
  return numbers;
}

Extent range_of(const DayStrip& day) {
  Extent lines;
  for (const DayStrip::Line& line : day.lines) lines.add(line.value_c);
  const double clear = lines.empty() ? 0 : 0.04 * lines.width();
  Extent range{lines.low - clear, lines.high + clear};
  range.add(day.bands);
  return range;
}

MapScale scale_of(const ClimatePicture& picture) {
  Extent range;
  range.add(picture.plan.value);
  range.add(picture.section.value);
  if (!is_empty(picture.plan) || !is_empty(picture.section)) range.add(picture.bands);
  if (range.empty()) range = range_of(picture.day);
  if (range.empty()) range = {20, 30};  // nothing is known; no colour will be seen
  const bool cut = picture.hottest_colour_c && *picture.hottest_colour_c > range.low &&
                   *picture.hottest_colour_c < range.high;
  if (cut) range.high = *picture.hottest_colour_c;
  const Unit unit{picture.units};
  return {unit.rounded(range, 12), unit, cut};
}

}  // namespace warmside::report
