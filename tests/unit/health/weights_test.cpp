// The course of the weight model between weighings. How often its intervals hold and what it makes
// of slips stand in tests/reference/weights_test.cpp.

#include "health/weights.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace warmside::health {
namespace {

/// A youngster that is weighed at irregular times, loses a fifth at once and has laid eggs.
Weights irregular(const KindOfAnimal& kind) {
  const std::vector<Weighed> weighed{{0, 100, 0.02, 1e-4}, {9, 104, 0, 0},       {31, 112, 0, 0},
                                     {120, 140, 0, 0},     {127, 112, 0, 0},     {134, 113, 0, 0},
                                     {141, 114, 0, 0},     {300, 150, 0.1, 1e-3}};
  const std::vector<KnownStep> steps{{200, -0.1, 0.01}};
  return weights_of(weighed, steps, kind);
}

KindOfAnimal young() {
  KindOfAnimal kind;
  kind.growth_per_day = 0.003;
  kind.adult_g = 400;
  return kind;
}

TEST(WeightCourse, PassesThroughWhatTheReportSays) {
  const KindOfAnimal kind = young();
  const Weights weights = irregular(kind);
  std::vector<double> days;
  for (double day = 0; day <= 320; day += 0.5) days.push_back(day);
  const auto course = course_of(weights, kind, kind.usual, days);
  ASSERT_EQ(course.size(), days.size());
  const WeightReport report = report_of(weights, kind, kind.usual, 320).value();
  // Moments without a weighing tell the smoother nothing: with and without them it is the same
  // Gaussian process. Its weights of odd weighings settle to 1e-3.
  for (std::size_t i = 0; i < weights.weighings.size(); ++i) {
    const auto& at = course[static_cast<std::size_t>(2 * weights.weighings[i].day)];
    EXPECT_NEAR(std::log(at.mass_g), report.level[i], 1e-9) << i;
    EXPECT_NEAR(std::log(at.high_g / at.low_g), 2 * 1.6448536269514722 * report.level_sd[i], 1e-9)
        << i;
  }
  EXPECT_NEAR(course.back().mass_g, report.mass_g, 1e-7);
  EXPECT_NEAR(course.back().low_g, report.low_g, 1e-7);
  EXPECT_NEAR(course.back().high_g, report.high_g, 1e-7);
}

TEST(WeightCourse, LeavesOutDaysBeforeTheFirstWeighing) {
  const KindOfAnimal kind = young();
  const std::vector<double> days{-10, -0.1, 0, 5};
  const auto course = course_of(irregular(kind), kind, kind.usual, days);
  ASSERT_EQ(course.size(), 2u);
  EXPECT_EQ(course[0].day, 0);
  EXPECT_EQ(course[1].day, 5);
  EXPECT_TRUE(course_of({}, kind, kind.usual, days).empty());
  EXPECT_TRUE(course_of(irregular(kind), kind, kind.usual, {}).empty());
}

TEST(WeightCourse, IsWidestBetweenWeighings) {
  const KindOfAnimal kind;
  const std::vector<Weighed> weighed{{0, 100, 0, 0}, {200, 100, 0, 0}};
  const std::vector<double> days{0, 50, 100, 150, 200};
  const auto course = course_of(weights_of(weighed, {}, kind), kind, kind.usual, days);
  const auto width = [&](std::size_t i) { return course[i].high_g / course[i].low_g; };
  EXPECT_GT(width(1), width(0));
  EXPECT_GT(width(2), width(1));
  EXPECT_GT(width(2), width(3));
  EXPECT_GT(width(3), width(4));
}

}  // namespace
}  // namespace warmside::health
