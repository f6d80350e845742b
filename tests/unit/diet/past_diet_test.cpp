// What the notebook says was eaten, added up: masses from counts, labels, leftovers, corners of
// ranges, and verdicts that are sure only where they are.

#include "diet/past_diet.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "support/room_builder.h"

namespace warmside::diet {
namespace {

using room::Entry;
using room::EntryKind;
using test::RoomBuilder;
using test::TestDay;

/// "2026-11-05"
std::string november(int day) {
  return (day < 10 ? "2026-11-0" : "2026-11-") + std::to_string(day);
}

RoomBuilder gecko() {
  return RoomBuilder()
      .enclosure("box")
      .animal("g", "leopard_gecko")
      .add<room::Jar>("white", [](room::Jar& jar) {
        jar.contents = room::SupplementKind::calcium;
        jar.calcium = Percentage::percent(40);
      });
}

RoomBuilder& fed(RoomBuilder& b, int day, const char* item, std::optional<int> count,
                 const char* jar = "") {
  return b.entry(november(day), EntryKind::fed, "g", [&](Entry& e) {
    e.item = item;
    e.count = count;
    if (*jar != '\0') e.target = room::Subject{room::SubjectKind::jar, jar};
  });
}

PastDiet past_of(const RoomBuilder& b, const char* date = "2026-11-25") {
  const TestDay test = b.day(date);
  const Pantry pantry(*test.room);
  PastDiet past = past_diet(test.animal("g"), test.day, pantry);
  for (Eaten& eaten : past.eaten) eaten.entry = nullptr, eaten.match = {}, eaten.jar = nullptr;
  return past;
}

Verdict verdict(const PastDiet& past, Nutrient nutrient) {
  for (const Judgement& judgement : past.judgements) {
    if (judgement.target.nutrient == nutrient) return judgement.verdict;
  }
  return Verdict::unknown;
}

TEST(PastDiet, MassesComeFromTheEntryThenFromPieces) {
  RoomBuilder b = gecko();
  fed(b, 20, "mealworms", 10);  // 0.08 to 0.16 g each (data/foods.csv)
  b.entry(november(21), EntryKind::fed, "g", [](Entry& e) {
    e.item = "mealworm";
    e.mass = Mass::grams(2);
  });
  b.entry("2026-11-21 18:00", EntryKind::leftovers, "g",
          [](Entry& e) { e.mass = Mass::grams(0.5); });
  fed(b, 22, "mealworm", std::nullopt);
  fed(b, 23, "mystery", 3);
  const PastDiet past = past_of(b);
  ASSERT_EQ(past.eaten.size(), 4u);
  EXPECT_NEAR(past.eaten[0].grams.low, 0.8, 1e-12);
  EXPECT_NEAR(past.eaten[0].grams.high, 1.6, 1e-12);
  EXPECT_NEAR(past.eaten[1].grams.low, 1.5, 1e-12);  // a quarter was left
  EXPECT_NEAR(past.eaten[1].grams.high, 1.5, 1e-12);
  EXPECT_FALSE(past.eaten[2].grams.known());
  EXPECT_FALSE(past.eaten[3].grams.known());
}

TEST(PastDiet, OnlyFourWeeksAndOnlyWhatStayedDown) {
  RoomBuilder b = gecko();
  b.entry("2026-10-27", EntryKind::fed, "g", [](Entry& e) { e.item = "mealworm"; });
  b.entry("2026-10-28", EntryKind::fed, "g", [](Entry& e) { e.item = "mealworm"; });
  fed(b, 10, "mealworm", 5);
  b.entry(november(11), EntryKind::regurgitated, "g");
  EXPECT_EQ(past_of(b).eaten.size(), 1u);
}

TEST(PastDiet, TooFewMealsOrTooYoungARecordAreNotJudged) {
  RoomBuilder two = gecko();
  fed(two, 1, "mealworm", 5);
  fed(two, 20, "mealworm", 5);
  EXPECT_TRUE(past_of(two).judgements.empty());
  fed(two, 21, "mealworm", 5);
  EXPECT_FALSE(past_of(two).judgements.empty());
  RoomBuilder young = gecko();
  for (const int day : {12, 15, 20}) fed(young, day, "mealworm", 5);
  EXPECT_TRUE(past_of(young).judgements.empty());  // 13 days
}

// Mealworms alone: by data/foods.csv at most 414 mg/kg of calcium, 38.1 % dry matter; widened by
// 2 and 1.2 (diet/nutrients.h): 828 mg in 317 g = 0.26 %, under the 0.8 % of the table of targets.
TEST(PastDiet, UndustedMealwormsSurelyLackCalcium) {
  RoomBuilder b = gecko();
  for (const int day : {3, 8, 13, 18, 23}) fed(b, day, "mealworms", 8);
  const PastDiet past = past_of(b);
  EXPECT_EQ(verdict(past, Nutrient::calcium), Verdict::surely_too_little);
  EXPECT_EQ(verdict(past, Nutrient::calcium_to_phosphorus), Verdict::surely_too_little);
}

// The same dusted: how thick the powder lay is not known, so nothing is sure.
TEST(PastDiet, DustedMealwormsAreNotSurelyShort) {
  RoomBuilder b = gecko();
  for (const int day : {3, 8, 13, 18, 23}) fed(b, day, "mealworms", 8, "white");
  EXPECT_NE(verdict(past_of(b), Nutrient::calcium), Verdict::surely_too_little);
}

// One meal whose food nobody knows could hold any amount of calcium.
TEST(PastDiet, OneUnknownMealTakesEverySurenessAway) {
  RoomBuilder b = gecko();
  for (const int day : {3, 8, 13, 18, 23}) fed(b, day, "mealworms", 8);
  fed(b, 24, "mystery", 1);
  for (const Judgement& judgement : past_of(b).judgements) {
    EXPECT_NE(judgement.verdict, Verdict::surely_too_little);
    EXPECT_NE(judgement.verdict, Verdict::surely_too_much);
    EXPECT_NE(judgement.verdict, Verdict::surely_enough);
  }
}

// A powder of 400 IU/g: even at the thinnest dust_when_eaten_g_per_g() it is 0.00125 g/g times 400
// = 0.5 IU per gram of worm, which is at most 0.317 g of dry matter widened to 0.457: 1,094 IU/kg.
// At 4,000 IU/g ten times that, over the limit of 2,000 IU/kg whatever the coat.
TEST(PastDiet, AStrongPowderAtEveryMealIsSurelyTooMuchD3) {
  for (const auto& [strength, expected] :
       {std::pair(400.0, Verdict::unsure), std::pair(4000.0, Verdict::surely_too_much)}) {
    RoomBuilder b = gecko();
    b.add<room::Jar>("yellow", [&, s = strength](room::Jar& jar) {
      jar.contents = room::SupplementKind::calcium_d3;
      jar.vitamin_d3_iu_per_g = s;
    });
    for (const int day : {3, 8, 13, 18, 23}) fed(b, day, "mealworms", 8, "yellow");
    const Verdict found = verdict(past_of(b), Nutrient::vitamin_d3);
    EXPECT_EQ(found == Verdict::surely_too_much, expected == Verdict::surely_too_much) << strength;
  }
}

// Coslik 2009 by hand: 0.4 ug/g a week for 60 g is 24 ug = 80 IU a week.
TEST(PastDiet, AmphibiansHaveVitaminAByTheWeek) {
  RoomBuilder b;
  b.enclosure("tank").animal("g", "whites_tree_frog").weighed("2026-11-01", "g", "60g");
  for (const int day : {2, 7, 12, 17, 22}) fed(b, day, "house cricket adult", 4);
  const PastDiet past = past_of(b);
  ASSERT_FALSE(past.judgements.empty());
  const Judgement& last = past.judgements.back();
  EXPECT_EQ(last.target.nutrient, Nutrient::vitamin_a);
  EXPECT_NEAR(last.target.wanted.low, 80, 1e-9);
  // Crickets: below 1000 IU/kg of retinol, remembered; that begins at nothing and is not widened.
  // 20 of at most 0.6 g: 12 IU in four weeks, 3 a week, but their carotenoids are not known.
  EXPECT_EQ(last.verdict, Verdict::unknown);
  EXPECT_NEAR(last.amount.low, 0, 1e-9);
}

TEST(SupplementOf, TheLabelGoesBeforeWhatIsUsual) {
  room::Jar jar;
  jar.contents = room::SupplementKind::multivitamin_retinol;
  EXPECT_FALSE(has_label(jar));
  jar.retinol_iu_per_g = 100;
  jar.calcium = Percentage::percent(10);
  const Supplement supplement = supplement_of(jar);
  EXPECT_EQ(supplement.retinol_iu_per_g, Interval::exactly(100));
  EXPECT_EQ(supplement.calcium_g_per_g, Interval::exactly(0.1));
  EXPECT_EQ(supplement.vitamin_d3_iu_per_g, usual_supplement(jar.contents).vitamin_d3_iu_per_g);
  EXPECT_FALSE(has_label(jar));
  jar.vitamin_d3_iu_per_g = 0;
  EXPECT_TRUE(has_label(jar));
}

// Thinnest: a light coat of 0.005 g/g that lost half each hour for two hours, 0.00125; thickest:
// 0.030 fresh.
TEST(Dust, LiesBetweenAnOldLightCoatAndAThickFreshOne) {
  EXPECT_NEAR(dust_when_eaten_g_per_g(FoodKind::invertebrate).low, 0.00125, 1e-12);
  EXPECT_EQ(dust_when_eaten_g_per_g(FoodKind::invertebrate).high, 0.030);
  EXPECT_EQ(dust_when_eaten_g_per_g(FoodKind::plant).low, 0.005);
}

// Two foods with ranges have four corners; any mix inside the ranges has a Ca:P between theirs.
TEST(Corners, HoldEveryRatioInside) {
  RoomBuilder b = gecko();
  fed(b, 20, "mealworms", 10);
  fed(b, 21, "superworms", 4);
  const TestDay test = b.day("2026-11-25");
  const Pantry pantry(*test.room);
  auto eaten = eaten_since(test.animal("g"), test.day, pantry, test::date("2026-11-01"));
  const auto corners = corners_of(eaten);
  ASSERT_EQ(corners.size(), 4u);
  Interval hull = corners[0].calcium_to_phosphorus();
  for (const Nutrients& corner : corners) {
    const Interval ratio = corner.calcium_to_phosphorus();
    hull = {std::min(hull.low, ratio.low), std::max(hull.high, ratio.high)};
  }
  for (int i = 0; i <= 10; ++i) {
    for (int k = 0; k <= 10; ++k) {
      auto inside = eaten;
      inside[0].grams = Interval::exactly(0.8 + 0.08 * i);
      inside[1].grams = Interval::exactly(2.0 + 0.12 * k);
      const Interval ratio = corners_of(inside).front().calcium_to_phosphorus();
      EXPECT_GE(ratio.low, hull.low - 1e-12);
      EXPECT_LE(ratio.high, hull.high + 1e-12);
    }
  }
}

}  // namespace
}  // namespace warmside::diet
