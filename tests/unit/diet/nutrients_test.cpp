// Meals: the worked dusting table, fall-off, gut-load, oxalate, and the honesty of unknowns.

#include "diet/nutrients.h"

#include <gtest/gtest.h>

#include <cmath>

namespace warmside::diet {
namespace {

/// A food whose numbers are to be taken exactly as they are.
Food exact_food(double water_pct, double calcium_mg_per_kg, double phosphorus_mg_per_kg) {
  Food food;
  food.id = "exact";
  food.kind = FoodKind::invertebrate;
  food.water_pct = Interval::exactly(water_pct);
  food.calcium_mg_per_kg = Interval::exactly(calcium_mg_per_kg);
  food.phosphorus_mg_per_kg = Interval::exactly(phosphorus_mg_per_kg);
  food.oxalic_acid_g_per_100g = Interval::exactly(0);
  food.composition = food.minerals = Provenance{Trust::keeper, "own analysis"};
  return food;
}

/// Calcium carbonate of 40 % calcium and nothing else.
Supplement chalk() {
  const Interval none = Interval::exactly(0);
  return {Interval::exactly(0.40), none, none, none, none};
}

Dusting fresh(double g_per_g) {
  return {chalk(), Interval::exactly(g_per_g), Duration::hours(0)};
}

// An adult cricket of 1 g: calcium 407 and phosphorus 2950 mg/kg (Finke 2002, as reprinted), dry
// matter 30.8 %, with powder of 40 % calcium. Worked by hand: calcium (0.407 + 400 d) mg to
// 2.950 mg of phosphorus and to (0.308 + d) g of dry matter. Half of the last printed digit.
TEST(Nutrients, WorkedDustingTable) {
  constexpr double kRows[][3] = {{0, 0.14, 0.13},     {0.0025, 0.48, 0.45}, {0.005, 0.82, 0.77},
                                 {0.010, 1.49, 1.39}, {0.020, 2.85, 2.56},  {0.050, 6.92, 5.70}};
  const Food cricket = exact_food(69.2, 407, 2950);
  for (const auto& [dust, ratio_wanted, percent_wanted] : kRows) {
    const Nutrients n = nutrients_of({&cricket, Mass::grams(1), fresh(dust), std::nullopt});
    const Interval found = n.calcium_to_phosphorus();
    EXPECT_NEAR(found.low, ratio_wanted, 0.005) << dust;
    EXPECT_NEAR(found.high, ratio_wanted, 0.005) << dust;
    const Interval calcium_pct = ratio(n.calcium_mg, n.dry_matter_g) * 0.1;
    EXPECT_NEAR(calcium_pct.low, percent_wanted, 0.005) << dust;
    EXPECT_NEAR(calcium_pct.high, percent_wanted, 0.005) << dust;
  }
}

// (2950 r - 407) mg/kg over 0.4 g/g: 0.00636, 0.010045 and 0.01373 g of powder to a g of cricket.
TEST(Nutrients, PowderForARatio) {
  const Food cricket = exact_food(69.2, 407, 2950);
  constexpr double kRows[][2] = {{1, 0.00636}, {1.5, 0.010045}, {2, 0.01373}};
  for (const auto& [wanted, grams] : kRows) {
    const Interval needed = dust_needed_g_per_g(cricket, chalk(), wanted);
    EXPECT_NEAR(needed.low, grams, 0.000005) << wanted;
    EXPECT_NEAR(needed.high, grams, 0.000005) << wanted;
    // And it does what it says.
    const Nutrients n = nutrients_of({&cricket, Mass::grams(1), fresh(needed.low), std::nullopt});
    EXPECT_NEAR(n.calcium_to_phosphorus().low, wanted, 1e-12);
  }
  // A food that has the ratio needs none; of unknown minerals nothing is known.
  EXPECT_EQ(dust_needed_g_per_g(exact_food(60, 9340, 3560), chalk(), 2), Interval::exactly(0));
  EXPECT_FALSE(dust_needed_g_per_g(*find_food("springtail"), chalk(), 2).known());
  EXPECT_FALSE(
      dust_needed_g_per_g(cricket, usual_supplement(room::SupplementKind::other), 2).known());
}

// Schlegel, Renjifo & Valdes 2005 (abstract, verified): dusting raised calcium and Ca:P "more than
// 27 times"; the coat of 0.026 to 0.030 g/g is what that means for a cricket of 407 mg/kg.
TEST(Nutrients, WellDustedIsTwentySevenTimes) {
  const Food cricket = exact_food(69.2, 407, 2950);
  const Nutrients bare = nutrients_of({&cricket, Mass::grams(1), std::nullopt, std::nullopt});
  const Nutrients dusted = nutrients_of(
      {&cricket, Mass::grams(1),
       Dusting{chalk(), dust_at_first_g_per_g(Coat::well), Duration::hours(0)}, std::nullopt});
  const Interval times = ratio(dusted.calcium_mg, bare.calcium_mg);
  EXPECT_LT(times.low, 27);
  EXPECT_GT(times.high, 27);
  EXPECT_LT(dust_at_first_g_per_g(Coat::light).high, dust_at_first_g_per_g(Coat::well).low);
}

// Half-life 1 to 4 h, 2.7 h in the middle: 0.027 g/g falls to 0.0064 in 5.5 h by the middle one.
TEST(Nutrients, DustFallsOff) {
  EXPECT_NEAR(0.027 * std::exp2(-5.5 / kDustHalfLife_h), 0.0064, 0.0002);
  EXPECT_EQ(dust_left_g_per_g({0.02, 0.03}, Duration::hours(0)), (Interval{0.02, 0.03}));
  const Interval later = dust_left_g_per_g(Interval::exactly(0.024), Duration::hours(4));
  EXPECT_NEAR(later.low, 0.0015, 1e-12);  // four half-lives of an hour
  EXPECT_NEAR(later.high, 0.012, 1e-12);  // one of four hours
  EXPECT_FALSE(dust_left_g_per_g(Interval::unknown(), Duration::hours(4)).known());
}

// Bah-Nelson et al. 2021 (verified): Ca:P 0.17 to about 0.4 in 24 h, no more by 48 h, all lost
// within 24 h. Schlegel et al. 2005: 3 to 7 times in 48 h.
TEST(Nutrients, GutLoadRisesAndIsLost) {
  const auto factor = [](double fed_h, double since_h) {
    return gut_load_factor({Duration::hours(fed_h), Duration::hours(since_h)});
  };
  const Food cricket = exact_food(69.2, 170, 1000);
  const Nutrients loaded = nutrients_of(
      {&cricket, Mass::grams(1), std::nullopt, GutLoad{Duration::hours(24), Duration::hours(0)}});
  EXPECT_NEAR(loaded.calcium_to_phosphorus().low, 0.4, 1e-9);
  EXPECT_EQ(factor(24, 0), factor(48, 0));
  EXPECT_TRUE(factor(48, 0).contains(3));
  EXPECT_EQ(factor(48, 0).high, 7);
  EXPECT_EQ(factor(48, 24), Interval::exactly(1));
  EXPECT_EQ(factor(48, 100), Interval::exactly(1));
  EXPECT_EQ(factor(0, 0), Interval::exactly(1));
  EXPECT_NEAR(factor(48, 12).high, 4, 1e-12);  // half of the six times more
}

// Spinach, 0.99 g of calcium and 9.7 g of oxalic acid in a kg (USDA SR28; Handbook 8-11): the acid
// could bind 4.3 g, so nothing is left. A gram binds 0.445 g.
TEST(Nutrients, SpinachHasNoAvailableCalcium) {
  const Food& spinach = *find_food("spinach");
  const Nutrients n = nutrients_of({&spinach, Mass::grams(100), std::nullopt, std::nullopt});
  EXPECT_TRUE(n.calcium_mg.contains(99));
  EXPECT_TRUE(n.oxalic_acid_mg.contains(970));
  EXPECT_EQ(n.available_calcium_mg(), Interval::exactly(0));
  EXPECT_EQ(n.calcium_to_phosphorus(), Interval::exactly(0));
  Food greens = exact_food(90, 2000, 500);
  greens.oxalic_acid_g_per_100g = Interval::exactly(0.1);
  greens.oxalate = Provenance{Trust::keeper, "own analysis"};
  const Nutrients part = nutrients_of({&greens, Mass::grams(100), std::nullopt, std::nullopt});
  EXPECT_NEAR(part.available_calcium_mg().low, 200 - 44.5, 0.05);
  // The acid of one food binds the calcium of another in the same meal.
  EXPECT_NEAR((n + part).available_calcium_mg().low, 0, 1e-9);
}

// Small Animal Clinical Nutrition table 71-5: an adult mouse of 27 g at 1.70 kcal/g is 192 kJ.
TEST(Nutrients, EnergyOfAMouse) {
  const Nutrients n =
      nutrients_of({find_food("mouse_adult"), Mass::grams(27), std::nullopt, std::nullopt});
  EXPECT_TRUE(n.energy_kj.contains(27 * 1.70 * 4.184));
  EXPECT_NEAR(std::sqrt(n.energy_kj.low * n.energy_kj.high), 192, 0.5);
  EXPECT_EQ(n.retinol_iu, Interval::exactly(0));
  EXPECT_TRUE(n.prey_retinol_iu.contains(202000 * 0.027));
  EXPECT_FALSE(n.vitamin_d3_iu.known());
}

TEST(Nutrients, SumsKeepWhatIsUnknown) {
  const Nutrients nothing;
  EXPECT_EQ((nothing + nothing).calcium_mg, Interval::exactly(0));
  const Nutrients cricket =
      nutrients_of({find_food("cricket_house_adult"), Mass::grams(2), std::nullopt, std::nullopt});
  const Nutrients fly =
      nutrients_of({find_food("springtail"), Mass::grams(1), std::nullopt, std::nullopt});
  EXPECT_EQ((nothing + cricket).calcium_mg, cricket.calcium_mg);
  const Nutrients both = cricket + fly;
  EXPECT_FALSE(both.calcium_mg.known());
  EXPECT_EQ(both.calcium_mg.low, cricket.calcium_mg.low);
  EXPECT_LE(both.dry_matter_g.high, 3);  // whatever the water of the unknown one
  EXPECT_EQ(both.eaten_g, Interval::exactly(3));
}

TEST(Nutrients, TrustWidens) {
  const Nutrients n =
      nutrients_of({find_food("mealworm"), Mass::grams(1000), std::nullopt, std::nullopt});
  // remembered minerals by 2: 169..414 becomes 84.5..828; reprinted energy by 1.2
  EXPECT_NEAR(n.calcium_mg.low, 84.5, 1e-9);
  EXPECT_NEAR(n.calcium_mg.high, 828, 1e-9);
  EXPECT_NEAR(n.energy_kj.high, 2050 * 4.184 * 1.2, 1e-6);
  EXPECT_EQ(n.vitamin_d3_iu, (Interval{0, 256}));  // a limit of detection
}

// Romaine at 17 kcal/100 g for humans: 0.711 kJ/g, which no tortoise is; 1.5 up and down.
TEST(Nutrients, PlantEnergyOfHumansIsWide) {
  const Nutrients n =
      nutrients_of({find_food("lettuce_romaine"), Mass::grams(100), std::nullopt, std::nullopt});
  EXPECT_NEAR(n.energy_kj.low, 71.128 / 1.5, 1e-3);
  EXPECT_NEAR(n.energy_kj.high, 71.128 * 1.5, 1e-3);
}

TEST(Nutrients, PlainCalciumHasNoVitamins) {
  const Supplement calcium = usual_supplement(room::SupplementKind::calcium);
  EXPECT_EQ(calcium.vitamin_d3_iu_per_g, Interval::exactly(0));
  // CaCO3: 40.078 / 100.087, the most that any powder of it can hold
  EXPECT_NEAR(calcium.calcium_g_per_g.high, 40.078 / 100.087, 5e-5);
  EXPECT_FALSE(usual_supplement(room::SupplementKind::other).vitamin_d3_iu_per_g.known());
  EXPECT_EQ(usual_supplement(room::SupplementKind::multivitamin).retinol_iu_per_g,
            Interval::exactly(0));
}

}  // namespace
}  // namespace warmside::diet
