// The scaled mass index on any sizes: units change nothing, an animal of mean length has its mass
// for an index, all masses times k are all indices times k, and two ways to the slope agree.

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <vector>

#include "health/body_condition.h"

namespace warmside::health {
namespace {

/// Three to thirty animals of 10 to 1000 mm whose masses rise with length, with a spread of a
/// factor of e^0.3 each way: r is above 0 but for lengths that happen to be alike, which are drawn
/// anew.
std::vector<Size> any_sizes() {
  const auto n = *rc::gen::inRange<std::size_t>(3, 31);
  std::vector<Size> sizes;
  for (std::size_t i = 0; i < n; ++i) {
    const double length_mm = *rc::gen::inRange(100, 10'000) / 10.0;
    const double off = *rc::gen::inRange(-300, 301) / 1000.0;
    sizes.push_back({Length::millimetres(length_mm),
                     Mass::grams(1e-4 * std::pow(length_mm, 2.9) * std::exp(off))});
  }
  RC_PRE(static_cast<bool>(allometry(sizes)));
  return sizes;
}

/// Logarithms of sums of up to thirty terms.
constexpr double kRounding = 1e-9;

/// All lengths and masses times a factor, as when inches or ounces are read as another unit.
std::vector<Size> scaled(std::vector<Size> sizes, double length_factor, double mass_factor) {
  for (Size& one : sizes) {
    one.length = one.length * length_factor;
    one.mass = one.mass * mass_factor;
  }
  return sizes;
}

RC_GTEST_PROP(ScaledMassIndexProperty, UnitsChangeNothing, ()) {
  const auto sizes = any_sizes();
  const double length_factor = *rc::gen::element(1e-3, 1 / 25.4, 10.0, 39.37);
  const double mass_factor = *rc::gen::element(1e-3, 1 / 28.35, 7.0, 453.6);
  const auto other = scaled(sizes, length_factor, mass_factor);
  const auto a = allometry(sizes), b = allometry(other);
  RC_ASSERT(a && b);
  RC_ASSERT(std::fabs(a->exponent / b->exponent - 1) < kRounding);
  RC_ASSERT(std::fabs(a->correlation - b->correlation) < kRounding);
  RC_ASSERT(std::fabs(b->mean_length / a->mean_length / length_factor - 1) < kRounding);
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    const Mass in_a = scaled_mass(sizes[i], a->exponent, a->mean_length);
    const Mass in_b = scaled_mass(other[i], b->exponent, b->mean_length);
    RC_ASSERT(std::fabs(in_b / in_a / mass_factor - 1) < kRounding);
  }
}

RC_GTEST_PROP(ScaledMassIndexProperty, AtTheMeanLengthItIsTheMass, ()) {
  const auto sizes = any_sizes();
  const auto found = allometry(sizes);
  const Mass mass = Mass::grams(*rc::gen::inRange(1, 100'000) / 10.0);
  RC_ASSERT(scaled_mass({found->mean_length, mass}, found->exponent, found->mean_length) == mass);
}

// Of two that lie on a line of the exponent found the index is the same: length is taken out.
RC_GTEST_PROP(ScaledMassIndexProperty, OnTheLineAllAreEqual, ()) {
  const auto found = allometry(any_sizes());
  const double longer = *rc::gen::inRange(101, 300) / 100.0;
  const Size one{Length::millimetres(100), Mass::grams(30)};
  const Size two{one.length * longer, one.mass * std::pow(longer, found->exponent)};
  const Mass a = scaled_mass(one, found->exponent, found->mean_length);
  const Mass b = scaled_mass(two, found->exponent, found->mean_length);
  RC_ASSERT(std::fabs(a / b - 1) < kRounding);
}

// b_OLS / r is the ratio of the standard deviations of ln M and ln L, here summed another way.
RC_GTEST_PROP(ScaledMassIndexProperty, TheExponentIsTheRatioOfSpreads, ()) {
  const auto sizes = any_sizes();
  double xx = 0, yy = 0;
  for (const Size& a : sizes) {
    for (const Size& b : sizes) {
      xx += std::pow(std::log(a.length / b.length), 2);
      yy += std::pow(std::log(a.mass / b.mass), 2);
    }
  }
  RC_ASSERT(std::fabs(allometry(sizes)->exponent / std::sqrt(yy / xx) - 1) < 1e-7);
}

}  // namespace
}  // namespace warmside::health
