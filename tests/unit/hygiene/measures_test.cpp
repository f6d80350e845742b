// Spoons and cups: the US measures are exact parts of 231 cubic inches; spoons of 5 and 15 mL.

#include "hygiene/measures.h"

#include <gtest/gtest.h>

namespace warmside::hygiene {
namespace {

constexpr double kGallon_ml = 3785.411784;
constexpr double kTablespoon_ml = kGallon_ml / 256;

std::string us(double ml) {
  return in_measures(Volume::millilitres(ml), UnitSystem::us).words;
}
std::string metric(double ml) {
  return in_measures(Volume::millilitres(ml), UnitSystem::metric).words;
}

TEST(Measures, UsSpoonsAndCups) {
  EXPECT_EQ(us(0), "0 teaspoon");
  EXPECT_EQ(us(1), "1/4 teaspoon");  // 1.23 mL
  EXPECT_EQ(us(2 * kGallon_ml / 768), "2 teaspoons");
  EXPECT_EQ(us(kTablespoon_ml), "1 tablespoon");
  EXPECT_EQ(us(1.2 * kTablespoon_ml), "1 1/2 tablespoons");
  EXPECT_EQ(us(5 * kTablespoon_ml), "5 tablespoons (2.5 fl oz)");
  EXPECT_EQ(us(8 * kTablespoon_ml), "1/2 cup (4 fl oz)");
  EXPECT_EQ(us(12.1 * kTablespoon_ml), "3/4 cup + 1 tablespoon (6.5 fl oz)");
  EXPECT_EQ(us(kGallon_ml), "16 cups (128 fl oz)");
}

TEST(Measures, MetricSpoonsAndJugs) {
  EXPECT_EQ(metric(0.3), "0.5 mL");
  EXPECT_EQ(metric(5), "5 mL (about 1 teaspoon)");
  EXPECT_EQ(metric(19.04), "19.5 mL (about 1 1/4 tablespoons)");
  EXPECT_EQ(metric(190.5), "195 mL (about 13 tablespoons)");
  EXPECT_EQ(metric(1001), "1010 mL");
}

// A disinfectant must not come out weaker: never below, and from 5 mL on never over by more than a
// fourth (half a tablespoon on two).
TEST(Measures, NeverBelowAndNotFarAbove) {
  for (const auto units : {UnitSystem::metric, UnitSystem::us}) {
    for (double ml = 0.1; ml < 20'000; ml *= 1.013) {
      const double measured = in_measures(Volume::millilitres(ml), units).volume.millilitres();
      EXPECT_GE(measured, ml * (1 - 1e-9));
      if (ml >= 5) {
        EXPECT_LE(measured, ml * 1.5) << ml;
      }
      if (ml >= 30) {
        EXPECT_LE(measured, ml * 1.25) << ml;
      }
      // What is measured is measured as itself.
      EXPECT_NEAR(in_measures(Volume::millilitres(measured), units).volume.millilitres(), measured,
                  1e-9 * measured);
    }
  }
}

}  // namespace
}  // namespace warmside::hygiene
