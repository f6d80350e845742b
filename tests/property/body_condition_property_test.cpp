// The scaled mass index on any sizes: units change nothing, an animal of mean length has its mass
// for an index, all masses times k are all indices times k, and two ways to the slope agree. And
// how often a fall is told of animals that lost nothing, and of animals that did.

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "health/body_condition.h"
#include "support/room_builder.h"

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

// ---- How often a fall is told ------------------------------------------------------------------

/// Of so many geckos in one room, measured and weighed five times with the errors that the limit
/// assumes, the last time after a loss: the share that is watched.
double share_watched(int animals, double lost, unsigned seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> log_length(std::log(80.0), std::log(130.0));
  test::RoomBuilder b;
  b.enclosure("rack");
  const Date today = test::date("2026-11-25");
  for (int i = 0; i < animals; ++i) {
    const std::string id = "g" + std::to_string(i);
    b.animal(id.c_str(), "leopard_gecko");
    const double length_mm = std::exp(log_length(random));
    for (const int ago : {365, 275, 185, 95, 5}) {
      const double mass_g = 5e-5 * std::pow(length_mm, 3) * (ago == 5 ? 1 - lost : 1);
      const std::string on = to_text(today - ago);
      b.entry(on, room::EntryKind::measured, id, [&](room::Entry& e) {
        e.item = "snout-vent";
        e.length = Length::millimetres(length_mm * std::exp(0.02 * normal(random)));
      });
      b.entry(on, room::EntryKind::weighed, id, [&](room::Entry& e) {
        e.mass = Mass::grams(mass_g * std::exp(0.04 * normal(random)));
      });
    }
  }
  const auto day = b.day("2026-11-25");
  BodyConditions conditions(day.day);
  int watched = 0;
  for (const room::AnimalDay& animal : day.day.animals) {
    const auto condition = conditions.of(animal);
    const auto sign = condition ? body_condition_sign(*condition, animal, day.day) : std::nullopt;
    if (sign && sign->response == Response::watch) ++watched;
  }
  return static_cast<double>(watched) / animals;
}

// ln index has the error s = sqrt(0.04^2 + (3 * 0.02)^2) = 0.0721; the median of four earlier ones
// 0.546 s (the variance of the mean of the two middle ones of four normals is 0.298), their
// difference 0.0721 sqrt(1.298) = 0.0822. Steady: P = Phi(ln 0.85 / 0.0822) = Phi(-1.98) = 2.4 %. A
// quarter lost: Phi((ln 0.85 - ln 0.75) / 0.0822) = Phi(1.52) = 93.6 %. Tolerance: four standard
// deviations of a share of 1000 animals, 1.9 and 3.1 %, and half a per cent for the slope, whose
// error the derivation leaves out.
TEST(BodyConditionCalibration, AFallIsToldAsOftenAsDerived) {
  constexpr unsigned kSeed = 20261125;
  EXPECT_NEAR(share_watched(1000, 0, kSeed), 0.024, 0.024) << "seed " << kSeed;
  EXPECT_NEAR(share_watched(1000, 0.25, kSeed + 1), 0.936, 0.036) << "seed " << kSeed + 1;
}

}  // namespace
}  // namespace warmside::health
