// Mixing by C1 V1 = C2 V2 (docs/models/round.md): V_stock = V * target / stock.

#include "hygiene/dilution.h"

#include <gtest/gtest.h>

#include <string>

#include "support/room_builder.h"

namespace warmside::hygiene {
namespace {

using test::q;

TEST(Dilution, WorkedValues) {
  const struct {
    const char *stock, *target, *volume;
    double stock_ml, water_ml;
  } kCases[] = {
      // 10 L of 0.5 % from bleach of 5 %: a tenth.
      {"5%", "0.5%", "10L", 1000, 9000},
      // 1 gal = 3785.411784 mL; 0.5 / 5.25 = 2/21 of it = 360.515408 mL, the rest 3424.896376 mL.
      {"5.25%", "0.5%", "1gal", 360.515408, 3424.896376},
      // 1 L from 12 % to 8 %: two thirds.
      {"12%", "8%", "1L", 2000.0 / 3, 1000.0 / 3},
      // 1 : 250 of a neat concentrate.
      {"100%", "0.4%", "500mL", 2, 498},
  };
  for (const auto& c : kCases) {
    const auto mix = dilute(q<Percentage>(c.stock), q<Percentage>(c.target), q<Volume>(c.volume));
    ASSERT_TRUE(mix.ok()) << c.stock;
    // One multiplication and one division of doubles: an error of some 1e-16 of the volume.
    const double tolerance = 1e-12 * (c.stock_ml + c.water_ml);
    EXPECT_NEAR(mix->stock.millilitres(), c.stock_ml, tolerance) << c.stock;
    EXPECT_NEAR(mix->water.millilitres(), c.water_ml, tolerance) << c.stock;
  }
}

TEST(Dilution, TheStockItselfNeedsNoWater) {
  const auto mix = dilute(Percentage::percent(5), Percentage::percent(5), Volume::litres(2));
  ASSERT_TRUE(mix.ok());
  EXPECT_EQ(mix->stock, Volume::litres(2));
  EXPECT_EQ(mix->water, Volume::litres(0));
}

TEST(Dilution, PartsMakeTheWhole) {
  for (double target = 0.1; target <= 5.25; target += 0.05) {
    const auto mix =
        dilute(Percentage::percent(5.25), Percentage::percent(target), Volume::litres(3));
    ASSERT_TRUE(mix.ok());
    EXPECT_NEAR((mix->stock + mix->water).litres(), 3, 1e-12);
    EXPECT_NEAR(mix->stock.litres() * 5.25, 3 * target, 1e-11);  // the active ingredient
  }
}

TEST(Dilution, WhatCannotBeMixedIsRefusedWithItsField) {
  const double kNan = std::numeric_limits<double>::quiet_NaN();
  const struct {
    double stock, target, litres;
    const char* field;
  } kCases[] = {
      {0, 0.5, 1, "stock"},    {-5, 0.5, 1, "stock"},    {100.001, 0.5, 1, "stock"},
      {kNan, 0.5, 1, "stock"}, {5, 0, 1, "target"},      {5, -1, 1, "target"},
      {5, kNan, 1, "target"},  {5, 5.001, 1, "target"},  {5, 0.5, 0, "volume"},
      {5, 0.5, -1, "volume"},  {5, 0.5, kNan, "volume"},
  };
  for (const auto& c : kCases) {
    const auto mix = dilute(Percentage::percent(c.stock), Percentage::percent(c.target),
                            Volume::litres(c.litres));
    ASSERT_FALSE(mix.ok()) << c.stock << " to " << c.target << ", " << c.litres;
    EXPECT_EQ(mix.problem().code, ProblemCode::out_of_range);
    EXPECT_EQ(mix.problem().where.field, c.field) << c.stock << " to " << c.target;
    EXPECT_FALSE(mix.problem().expected.empty());
  }
}

}  // namespace
}  // namespace warmside::hygiene
