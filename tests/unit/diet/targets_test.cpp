// Whether food holds enough, of invented meals whose answer follows from the table of targets.

#include "diet/targets.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace warmside::diet {
namespace {

const Judgement& of(const std::vector<Judgement>& judgements, Nutrient nutrient) {
  const auto at = std::find_if(judgements.begin(), judgements.end(),
                               [&](const Judgement& j) { return j.target.nutrient == nutrient; });
  EXPECT_NE(at, judgements.end());
  return *at;
}

/// A kilogram of dry matter with what a carnivore wants.
Nutrients good_meals() {
  Nutrients n;
  n.eaten_g = Interval::exactly(3000);
  n.dry_matter_g = Interval::exactly(1000);
  n.calcium_mg = Interval::exactly(10000);
  n.phosphorus_mg = Interval::exactly(6000);
  n.vitamin_d3_iu = Interval::exactly(800);
  n.retinol_iu = Interval::exactly(7000);
  n.vitamin_e_iu = Interval::exactly(250);
  return n;
}

Verdict verdict(const Nutrients& n, Nutrient nutrient, Circumstances circumstances = {}) {
  return of(judge(n, circumstances), nutrient).verdict;
}

TEST(Targets, GoodMealsAreSurelyEnough) {
  for (const Judgement& j : judge(good_meals(), {})) {
    EXPECT_EQ(j.verdict, Verdict::surely_enough) << word(j.target.nutrient);
  }
  EXPECT_NEAR(of(judge(good_meals(), {}), Nutrient::calcium).amount.low, 1.0, 1e-12);
}

// MSD Veterinary Manual, as in the header.
TEST(Targets, TableOfTheManual) {
  const auto wanted = [](DietClass diet, Nutrient nutrient) {
    for (const Target& t : targets_for({diet, false, false})) {
      if (t.nutrient == nutrient) return t.wanted;
    }
    return Interval::unknown();
  };
  EXPECT_EQ(wanted(DietClass::carnivore, Nutrient::calcium), (Interval{0.8, 1.1}));
  EXPECT_EQ(wanted(DietClass::omnivore, Nutrient::calcium), (Interval{1.0, 1.5}));
  EXPECT_EQ(wanted(DietClass::herbivore, Nutrient::calcium), (Interval{1.4, 2.0}));
  EXPECT_EQ(wanted(DietClass::carnivore, Nutrient::phosphorus), (Interval{0.5, 0.9}));
  EXPECT_EQ(wanted(DietClass::omnivore, Nutrient::phosphorus), (Interval{0.6, 0.9}));
  EXPECT_EQ(wanted(DietClass::carnivore, Nutrient::vitamin_a), (Interval{5000, 10000}));
  EXPECT_EQ(wanted(DietClass::herbivore, Nutrient::phosphorus), (Interval{0.8, 1.0}));
  EXPECT_EQ(wanted(DietClass::omnivore, Nutrient::vitamin_a), Interval::exactly(15000));
  EXPECT_EQ(wanted(DietClass::carnivore, Nutrient::vitamin_d3), (Interval{500, 1000}));
  EXPECT_EQ(wanted(DietClass::carnivore, Nutrient::vitamin_e), Interval::exactly(200));
  EXPECT_EQ(wanted(DietClass::herbivore, Nutrient::vitamin_e), Interval::exactly(0));
}

TEST(Targets, EveryVerdict) {
  Nutrients n = good_meals();
  n.calcium_mg = Interval{2000, 3000};
  EXPECT_EQ(verdict(n, Nutrient::calcium), Verdict::surely_too_little);
  EXPECT_EQ(verdict(n, Nutrient::calcium_to_phosphorus), Verdict::surely_too_little);
  n.calcium_mg = Interval{5000, 12000};
  EXPECT_EQ(verdict(n, Nutrient::calcium), Verdict::unsure);
  n.calcium_mg = Interval{9000, 30000};  // enough, perhaps over the limit of 25000
  EXPECT_EQ(verdict(n, Nutrient::calcium), Verdict::unsure);
  n.calcium_mg = Interval{26000, 30000};
  EXPECT_EQ(verdict(n, Nutrient::calcium), Verdict::surely_too_much);
  n.calcium_mg = Interval::unknown();
  EXPECT_EQ(verdict(n, Nutrient::calcium), Verdict::unknown);
  n.calcium_mg.low = 9000;  // enough is there, too much may be
  EXPECT_EQ(verdict(n, Nutrient::calcium), Verdict::unknown);
  EXPECT_EQ(verdict(n, Nutrient::calcium_to_phosphorus), Verdict::surely_enough);
  n.calcium_mg.low = 26000;  // too much already, however much more
  EXPECT_EQ(verdict(n, Nutrient::calcium), Verdict::surely_too_much);
}

TEST(Targets, NothingEatenIsUnknown) {
  EXPECT_EQ(verdict({}, Nutrient::phosphorus), Verdict::unknown);
}

TEST(Targets, UvbTakesTheAskForD3AndLeavesItsLimit) {
  Nutrients n = good_meals();
  n.vitamin_d3_iu = Interval::exactly(0);
  EXPECT_EQ(verdict(n, Nutrient::vitamin_d3), Verdict::surely_too_little);
  EXPECT_EQ(verdict(n, Nutrient::vitamin_d3, {DietClass::carnivore, false, true}),
            Verdict::surely_enough);
  n.vitamin_d3_iu = Interval::exactly(2100);
  EXPECT_EQ(verdict(n, Nutrient::vitamin_d3, {DietClass::carnivore, false, true}),
            Verdict::surely_too_much);
}

// A diet of adult mice holds 202,000 IU/kg as fed (from memory), over the cap of 30,000 IU/kg of
// dry matter: not too much. The same from a powder is.
TEST(Targets, RetinolCapLeavesWholePreyAlone) {
  const Nutrients mice =
      nutrients_of({find_food("mouse_adult"), Mass::grams(300), std::nullopt, std::nullopt});
  EXPECT_EQ(verdict(mice, Nutrient::vitamin_a), Verdict::surely_enough);
  Nutrients powder = good_meals();
  powder.retinol_iu = Interval::exactly(31000);
  EXPECT_EQ(verdict(powder, Nutrient::vitamin_a), Verdict::surely_too_much);
}

TEST(Targets, CarotenoidsMayOrMayNotBeVitaminA) {
  Nutrients n = good_meals();
  n.retinol_iu = Interval::exactly(0);
  n.carotenoid_iu = Interval::exactly(100000);
  EXPECT_EQ(verdict(n, Nutrient::vitamin_a), Verdict::unsure);
  n.carotenoid_iu = Interval::exactly(0);
  EXPECT_EQ(verdict(n, Nutrient::vitamin_a), Verdict::surely_too_little);
}

TEST(Targets, OxalateCountsAgainstNeedAndNotForTheLimit) {
  Nutrients n = good_meals();
  n.calcium_mg = Interval::exactly(30000);
  n.oxalic_acid_mg = Interval::exactly(100000);  // binds 44.5 g
  EXPECT_EQ(verdict(n, Nutrient::calcium), Verdict::surely_too_much);
  n.calcium_mg = Interval::exactly(20000);
  EXPECT_EQ(verdict(n, Nutrient::calcium), Verdict::surely_too_little);
}

// A week of bare house crickets, of well dusted ones, and of adult mice. Cricket: Ca:P 0.14; dust
// of 0.026 and more brings Ca:P over 3 and calcium over 2.5 % of dry matter (worked table).
TEST(Targets, CricketsBareAndDusted) {
  const Food& cricket = *find_food("cricket_house_adult");
  const Nutrients bare = nutrients_of({&cricket, Mass::grams(20), std::nullopt, std::nullopt});
  EXPECT_EQ(verdict(bare, Nutrient::calcium), Verdict::surely_too_little);
  EXPECT_EQ(verdict(bare, Nutrient::calcium_to_phosphorus), Verdict::surely_too_little);
  EXPECT_EQ(verdict(bare, Nutrient::vitamin_e), Verdict::unknown);
  const Nutrients dusted =
      nutrients_of({&cricket, Mass::grams(20),
                    Dusting{usual_supplement(room::SupplementKind::calcium),
                            dust_at_first_g_per_g(Coat::well), Duration::hours(0)},
                    std::nullopt});
  EXPECT_EQ(verdict(dusted, Nutrient::calcium_to_phosphorus), Verdict::surely_enough);
  EXPECT_NE(verdict(dusted, Nutrient::calcium), Verdict::surely_enough);
  EXPECT_GT(of(judge(dusted, {}), Nutrient::calcium).amount.high, 2.5);
  const Nutrients mice =
      nutrients_of({find_food("mouse_adult"), Mass::grams(27), std::nullopt, std::nullopt});
  EXPECT_NE(verdict(mice, Nutrient::calcium), Verdict::surely_too_little);
}

// Coslik, Ward & McClements 2009: 0.4 ug a week for each g of body. 30 g: 12 ug, 40 IU.
TEST(Targets, AmphibiansWeeklyRetinol) {
  const WeeklyRetinol retinol = amphibian_retinol(Mass::grams(30));
  EXPECT_NEAR(retinol.wanted_iu, 40, 1e-9);
  EXPECT_NEAR(retinol.limit_iu, 400, 1e-9);
  const auto targets = targets_for({DietClass::carnivore, true, false});
  EXPECT_TRUE(std::none_of(targets.begin(), targets.end(),
                           [](const Target& t) { return t.nutrient == Nutrient::vitamin_a; }));
}

TEST(Targets, EveryDietOfAProfileHasAClass) {
  for (const species::Profile& profile : species::built_in().all()) {
    EXPECT_TRUE(diet_class_of(profile.text(species::Key::diet_class))) << profile.id.text();
  }
  EXPECT_EQ(diet_class_of("whole_prey"), DietClass::carnivore);
  EXPECT_EQ(diet_class_of("cake"), std::nullopt);
}

}  // namespace
}  // namespace warmside::diet
