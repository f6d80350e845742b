// Dechlorination and un-ionised ammonia against sums made outside the program.

#include "hygiene/water.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace warmside::hygiene {
namespace {

TapWater tap(double litres, double chlorine, double chloramine = 0) {
  return {Volume::litres(litres), chlorine, chloramine, {}, {}};
}

// Atomic weights (IUPAC, abridged to five figures; from memory): Na 22.990, S 32.06, O 15.999,
// H 1.0080, Cl 35.453, N 14.007.
constexpr double kNa = 22.990, kS = 32.06, kO = 15.999, kH = 1.0080, kCl = 35.453, kN = 14.007;

// Sulfur's weight varies in nature from 32.059 to 32.076, two atoms of it by 0.02 about the middle.
TEST(Water, MolarMassesAreThoseOfTheirAtoms) {
  EXPECT_NEAR(kThiosulfateAnhydrous_g_per_mol, 2 * kNa + 2 * kS + 3 * kO, 0.02);
  EXPECT_NEAR(kThiosulfatePentahydrate_g_per_mol, 2 * kNa + 2 * kS + 3 * kO + 5 * (2 * kH + kO),
              0.02);
  EXPECT_NEAR(kChlorine_g_per_mol, 2 * kCl, 0.001);
  EXPECT_NEAR(kAmmonia_g_per_mol, kN + 3 * kH, 0.001);
  EXPECT_NEAR(kNitrogen_g_per_mol, kN, 0.001);
}

// 2 S2O3(2-) + Cl2 -> S4O6(2-) + 2 Cl(-), the equation seen on a public page. The masses derived
// with 248.18, 158.11 and 70.91 g/mol: 7.00, 4.46, 3.50 and 0.88 mg to a mg of chlorine, printed to
// two decimals, so within 0.005.
TEST(Water, MassesToAMilligramOfChlorine) {
  const auto found = dechlorinate(tap(1, 1));
  ASSERT_TRUE(found.ok());
  EXPECT_NEAR(found->chlorine.milligrams(), 1, 1e-12);
  EXPECT_NEAR(found->pentahydrate.milligrams(), 7.00, 0.005);
  EXPECT_NEAR(found->anhydrous.milligrams(), 4.46, 0.005);
  EXPECT_NEAR(found->pentahydrate_to_sulfur.milligrams(), 3.50, 0.005);
  EXPECT_NEAR(found->pentahydrate_to_sulfate.milligrams(), 0.88, 0.005);
}

// Electrons: Cl2 takes two. Thiosulfate gives one on the way to tetrathionate (two
// atoms of sulfur from 2 to 2.5), two to sulfate and sulfur (2 to 6 and to 0), eight to sulfate.
TEST(Water, ElectronsBalance) {
  const auto mole = dechlorinate(tap(1000, kChlorine_g_per_mol / 100));  // a hundredth of one
  ASSERT_TRUE(mole.ok());
  const double electrons = 2 * mole->chlorine.grams() / kChlorine_g_per_mol;
  const auto moles = [](Mass m) { return m.grams() / kThiosulfatePentahydrate_g_per_mol; };
  EXPECT_NEAR(moles(mole->pentahydrate) * 1, electrons, 1e-9);
  EXPECT_NEAR(moles(mole->pentahydrate_to_sulfur) * 2, electrons, 1e-9);
  EXPECT_NEAR(moles(mole->pentahydrate_to_sulfate) * 8, electrons, 1e-9);
}

// The worked example of the same page: 40 L at 1 mg/L need 280 mg. It counts 7.00; we 6.9999.
TEST(Water, FortyLitres) {
  const auto found = dechlorinate(tap(40, 1));
  ASSERT_TRUE(found.ok());
  EXPECT_NEAR(found->pentahydrate.milligrams(), 280, 0.05);
}

// Chloramine, given as Cl2, asks for as much thiosulfate as chlorine and leaves 0.24 mg NH3 or
// 0.198 mg N to a mg; to a mg of NH2Cl itself 17/51.5 = 0.33 (the ratio seen, the rest derived).
TEST(Water, ChloramineLeavesAmmonia) {
  const auto both = dechlorinate(tap(40, 0.4, 0.6));
  const auto chlorine = dechlorinate(tap(40, 1));
  ASSERT_TRUE(both.ok() && chlorine.ok());
  EXPECT_NEAR(both->pentahydrate.milligrams(), chlorine->pentahydrate.milligrams(), 1e-9);
  EXPECT_EQ(chlorine->ammonia_mg_per_l, 0);
  const auto found = dechlorinate(tap(40, 0, 1));
  ASSERT_TRUE(found.ok());
  EXPECT_NEAR(found->ammonia_mg_per_l, 0.24, 0.0005);
  EXPECT_NEAR(found->nitrogen_mg_per_l, 0.198, 0.0005);
  const double nh2cl_to_cl2 = (kN + 2 * kH + kCl) / (2 * kCl);
  EXPECT_NEAR(found->ammonia_mg_per_l / nh2cl_to_cl2, 17 / 51.5, 0.001);
}

// Derived with pKa = 0.09018 + 2729.92 / T: at pH 7.5 and 18 degC pKa 9.47 and 1.07 %.
TEST(Water, UnionisedShareOfTheWorkedExample) {
  TapWater water = tap(40, 0, 2);
  water.ph = 7.5;
  water.temperature = Temperature::celsius(18);
  const auto found = dechlorinate(water);
  ASSERT_TRUE(found.ok());
  ASSERT_TRUE(found->unionised.has_value());
  EXPECT_NEAR(found->unionised->pka, 9.47, 0.005);
  EXPECT_NEAR(found->unionised->share, 0.0107, 0.00005);
  // 2 x 0.2402 x 0.0107 = 0.0051 mg/L.
  EXPECT_NEAR(found->unionised->mg_per_l, 0.0051, 0.00005);
  EXPECT_FALSE(found->unionised->above_amphibian_limit);
}

// The widely reprinted table of Emerson et al. 1975, from memory: percent un-ionised at pH 8.0, and
// at pH 7.0 and 20 degC. The paper takes 0 degC as 273.2 K, we 273.15, which makes up to 0.4 %.
TEST(Water, UnionisedShareOfTheReprintedTable) {
  const struct {
    double ph, celsius, percent;
  } kRows[] = {{8.0, 5, 1.23},  {8.0, 10, 1.83}, {8.0, 15, 2.66},
               {8.0, 20, 3.82}, {8.0, 25, 5.38}, {7.0, 20, 0.396}};
  for (const auto& row : kRows) {
    const double percent = 100 * unionised_share(row.ph, Temperature::celsius(row.celsius));
    EXPECT_NEAR(percent, row.percent, 0.005 * row.percent) << row.ph << " " << row.celsius;
  }
}

TEST(Water, MoreAlkalineOrWarmerIsMorePoisonous) {
  double last = 0;
  for (double ph = 4; ph <= 11; ph += 0.25) {
    const double share = unionised_share(ph, Temperature::celsius(20));
    EXPECT_GT(share, last);
    EXPECT_GT(unionised_share(ph, Temperature::celsius(21)), share);
    EXPECT_LT(share, 1);
    last = share;
  }
  // At the pKa half of it.
  const double pka = 0.09018 + 2729.92 / 293.15;
  EXPECT_NEAR(unionised_share(pka, Temperature::celsius(20)), 0.5, 1e-12);
}

// The limit of 0.02 mg/L for amphibians is from memory.
TEST(Water, BothSidesOfTheLimit) {
  TapWater water = tap(10, 0, 4);  // the most that US waterworks may add
  water.temperature = Temperature::celsius(20);
  // 4 x 0.2402 = 0.961 mg/L of ammonia; 0.02 of it is 2.08 %, which is pH 7.729 at pKa 9.4026.
  water.ph = 7.72;
  EXPECT_FALSE(dechlorinate(water)->unionised->above_amphibian_limit);
  water.ph = 7.74;
  EXPECT_TRUE(dechlorinate(water)->unionised->above_amphibian_limit);
}

TEST(Water, NothingInTheWaterNeedsNothing) {
  const auto found = dechlorinate(tap(40, 0));
  ASSERT_TRUE(found.ok());
  EXPECT_EQ(found->pentahydrate.grams(), 0);
  EXPECT_FALSE(found->unionised.has_value());
}

TEST(Water, WhatCannotBeIsRefusedWithItsField) {
  const double kNan = std::numeric_limits<double>::quiet_NaN();
  const auto field_of = [](const TapWater& water) {
    const auto found = dechlorinate(water);
    return found.ok() ? std::string("accepted") : found.problem().where.field;
  };
  for (const double litres : {0.0, -1.0, kNan, 100001.0}) {
    EXPECT_EQ(field_of(tap(litres, 1)), "volume") << litres;
  }
  for (const double mg : {-0.1, 20.1, kNan}) {
    EXPECT_EQ(field_of(tap(1, mg)), "chlorine") << mg;
    EXPECT_EQ(field_of(tap(1, 0, mg)), "chloramine") << mg;
  }
  TapWater water = tap(1, 1);
  water.ph = 7;
  EXPECT_EQ(field_of(water), "temp");
  water.temperature = Temperature::celsius(20);
  EXPECT_EQ(field_of(water), "accepted");
  for (const double ph : {3.9, 11.1, kNan}) {
    water.ph = ph;
    EXPECT_EQ(field_of(water), "ph") << ph;
  }
  water.ph.reset();
  EXPECT_EQ(field_of(water), "ph");
  water.ph = 7;
  for (const double celsius : {-0.1, 50.1}) {
    water.temperature = Temperature::celsius(celsius);
    EXPECT_EQ(field_of(water), "temp") << celsius;
  }
}

}  // namespace
}  // namespace warmside::hygiene
