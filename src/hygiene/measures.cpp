#include "hygiene/measures.h"

#include <fmt/format.h>

#include <cmath>

namespace warmside::hygiene {
namespace {

/// Steps of `step` that hold at least x; a hair over a step counts as the step.
double steps_up(double x, double step) {
  return std::ceil(x / step - 1e-9);
}

/// "2", "1/2", "3 1/4" of a number of quarters.
std::string quarters_in_words(long quarters) {
  constexpr const char* kParts[] = {"", "1/4", "1/2", "3/4"};
  const long whole = quarters / 4;
  const char* part = kParts[quarters % 4];
  if (quarters % 4 == 0) return fmt::format("{}", whole);
  return whole == 0 ? part : fmt::format("{} {}", whole, part);
}

std::string counted(long quarters, const char* noun) {
  return fmt::format("{} {}{}", quarters_in_words(quarters), noun, quarters > 4 ? "s" : "");
}

Measured in_us_measures(Volume volume) {
  const double tablespoons = volume.us_gallons() * 256;
  const auto measured = [](double rounded, std::string words) {
    const double ounces = rounded / 2;
    if (ounces >= 1) words += fmt::format(" ({:g} fl oz)", ounces);
    return Measured{Volume::us_gallons(rounded / 256), std::move(words)};
  };
  if (tablespoons <= 11.0 / 12) {
    const long quarters = std::lround(steps_up(tablespoons * 3, 0.25));
    return measured(static_cast<double>(quarters) / 12, counted(quarters, "teaspoon"));
  }
  if (tablespoons <= 6) {
    const double rounded = steps_up(tablespoons, 0.5) / 2;
    return measured(rounded, counted(std::lround(rounded * 4), "tablespoon"));
  }
  const long whole = std::lround(steps_up(tablespoons, 1));
  std::string words = counted(whole / 4, "cup");
  if (whole % 4 != 0) words += fmt::format(" + {}", counted(whole % 4 * 4, "tablespoon"));
  return measured(static_cast<double>(whole), std::move(words));
}

Measured in_metric_measures(Volume volume) {
  const double ml = volume.millilitres();
  const double step = ml <= 20 ? 0.5 : ml <= 100 ? 1 : ml <= 1000 ? 5 : 10;
  const double rounded = steps_up(ml, step) * step;
  std::string words = fmt::format("{:g} mL", rounded);
  if (rounded >= 1.25 && rounded <= 250) {
    const bool small = rounded < 15;
    const long quarters = std::lround(rounded / (small ? 5 : 15) * 4);
    words += fmt::format(" (about {})", counted(quarters, small ? "teaspoon" : "tablespoon"));
  }
  return {Volume::millilitres(rounded), std::move(words)};
}

}  // namespace

Measured in_measures(Volume volume, UnitSystem units) {
  return units == UnitSystem::us ? in_us_measures(volume) : in_metric_measures(volume);
}

}  // namespace warmside::hygiene
