// The rota of a room's own animals, and when the round puts it before the keeper's habit.

#include "round/feeding.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <string>

#include "diet/feeding_advice.h"
#include "support/room_builder.h"

namespace warmside::round {
namespace {

using room::Entry;
using room::EntryKind;
using test::RoomBuilder;
using test::TestDay;
using testing::HasSubstr;

constexpr const char* kToday = "2026-11-25";

/// A leopard gecko of 60 g in a tub, with a jar of plain calcium.
RoomBuilder gecko() {
  RoomBuilder b;
  b.enclosure("tub").animal("a", "leopard_gecko");
  b.weighed("2026-11-20", "a", "60g");
  b.add<room::Jar>("plain", [](room::Jar& jar) { jar.contents = room::SupplementKind::calcium; });
  return b;
}

/// The same with a second jar, of vitamins.
RoomBuilder gecko_with_vitamins() {
  RoomBuilder b = gecko();
  b.add<room::Jar>("vitamins", [](room::Jar& jar) {
    jar.contents = room::SupplementKind::multivitamin_retinol;
    jar.calcium = test::q<Percentage>("15%");
    jar.vitamin_d3_iu_per_g = 100;
    jar.retinol_iu_per_g = 1500;
    jar.carotenoid_iu_per_g = 0;
    jar.vitamin_e_iu_per_g = 60;
  });
  return b;
}

void feed(RoomBuilder& b, Date date, const char* item, int count, const char* jar = "") {
  b.entry(to_text(date), EntryKind::fed, "a", [&](Entry& e) {
    e.item = item;
    e.count = count;
    if (*jar != '\0') e.target = room::Subject{room::SubjectKind::jar, jar};
  });
}

/// Meals every third day up to three days ago, every `dusted_every`th of them dusted.
void feed_for_weeks(RoomBuilder& b, const char* item, int count, int dusted_every = 0) {
  for (int meal = 0; meal < 16; ++meal) {
    const bool dusted = dusted_every > 0 && meal % dusted_every == 0;
    feed(b, test::date(kToday) - 3 * (16 - meal), item, count, dusted ? "plain" : "");
  }
}

diet::RoomRota rota_of(const TestDay& test, const diet::Pantry& pantry, bool stock = false) {
  return diet::room_rota(test.day, pantry, diners_of(test.day), stock);
}

TEST(RoomRota, OffersWhatTheKeeperGivesOnTheDaysItIsFed) {
  RoomBuilder b = gecko_with_vitamins();
  feed_for_weeks(b, "house crickets, adult", 6, 2);
  const TestDay test = b.day(kToday);
  const diet::Pantry pantry(*test.room);
  const auto rota = rota_of(test, pantry);
  ASSERT_EQ(rota.animals.size(), 1U);
  ASSERT_TRUE(diet::check(rota.problem).empty());
  const diet::RotaAnimal& animal = rota.problem.animals.front();
  const auto every = next_feeding(test.animal("a"), test.day)->interval_days;
  for (std::size_t i = 1; i < animal.feeding_days.size(); ++i) {
    EXPECT_EQ(animal.feeding_days[i] - animal.feeding_days[i - 1], every);
  }
  ASSERT_EQ(animal.offers.size(), 1U);
  EXPECT_EQ(animal.offers.front().usual, 6);
  EXPECT_EQ(animal.jars.size(), 2U);
  // Plain calcium and none by turns, as the notebook has it.
  ASSERT_EQ(animal.usual_jars.size(), animal.feeding_days.size());
  std::set<std::optional<std::size_t>> seen(animal.usual_jars.begin(), animal.usual_jars.end());
  EXPECT_EQ(seen.size(), 2U);
}

TEST(RoomRota, WhereANeedCannotBeJudgedTheHabitOfPowderStays) {
  RoomBuilder b = gecko();
  b.add<room::Supply>("crickets", [](room::Supply& supply) {
    supply.kind = room::SupplyKind::feeder;
    supply.name = "crickets of the shop";  // nobody knows what they hold
    supply.piece_mass = test::q<Mass>("0.3g");
  });
  feed_for_weeks(b, "crickets", 6, 1);
  const TestDay test = b.day(kToday);
  const diet::Pantry pantry(*test.room);
  const auto rota = rota_of(test, pantry);
  ASSERT_EQ(rota.animals.size(), 1U);
  const auto answer = diet::solve_rota(rota.problem);
  ASSERT_TRUE(answer.plan);
  ASSERT_FALSE(answer.plan->meals.empty());
  for (const diet::RotaMeal& meal : answer.plan->meals) {
    ASSERT_TRUE(meal.jar);
    EXPECT_EQ(rota.jars[*meal.jar].text(), "plain");
  }
}

TEST(RoomRota, AFoodThatTheKeeperNeverDustsGetsNoPowder) {
  RoomBuilder b = gecko_with_vitamins();
  for (int meal = 0; meal < 16; ++meal) {
    const Date date = test::date(kToday) - 3 * (16 - meal);
    if (meal % 2 == 0) {
      feed(b, date, "house crickets, adult", 6, "plain");
    } else {
      feed(b, date, "silkworm", 4);
    }
  }
  const TestDay test = b.day(kToday);
  const diet::Pantry pantry(*test.room);
  const auto rota = rota_of(test, pantry);
  const auto answer = diet::solve_rota(rota.problem);
  ASSERT_TRUE(answer.plan);
  for (const diet::RotaMeal& meal : answer.plan->meals) {
    const bool dusted = meal.jar.has_value();
    EXPECT_FALSE(dusted && rota.problem.foods[meal.food].name == "silkworm");
  }
}

TEST(RoomRota, StoreIsCountedOnlyWhenAsked) {
  RoomBuilder b = gecko();
  b.add<room::Supply>("box", [](room::Supply& supply) {
    supply.kind = room::SupplyKind::feeder;
    supply.name = "box";
    supply.food = room::FoodId::trusted("cricket_house_adult");
    supply.count = 7;
  });
  feed_for_weeks(b, "box", 6, 1);
  const TestDay test = b.day(kToday);
  const diet::Pantry pantry(*test.room);
  EXPECT_FALSE(rota_of(test, pantry).problem.foods.front().stock);
  EXPECT_EQ(rota_of(test, pantry, true).problem.foods.front().stock, 7);
}

TEST(RoomRota, WhoHasNoMealToReckonIsLeftOutAndWhy) {
  RoomBuilder b = gecko();
  const TestDay none = b.day(kToday);
  const diet::Pantry empty(*none.room);
  const auto nothing = rota_of(none, empty);
  ASSERT_EQ(nothing.left_out.size(), 1U);
  EXPECT_THAT(nothing.left_out.front().what, HasSubstr("no meal with a food's name"));
  feed_for_weeks(b, "surprise", 2);
  const TestDay unknown = b.day(kToday);
  const diet::Pantry pantry(*unknown.room);
  ASSERT_EQ(rota_of(unknown, pantry).left_out.size(), 1U);
}

// House crickets by themselves hold about 0.14 times as much calcium as phosphorus (Finke 2002 in
// data/foods.csv).
TEST(MealByRota, DustsWhereTheHabitIsSurelyShortOfCalcium) {
  RoomBuilder b = gecko_with_vitamins();
  feed_for_weeks(b, "house crickets, adult", 6);
  const TestDay test = b.day(kToday);
  const diet::Pantry pantry(*test.room);
  const auto& animal = test.animal("a");
  const auto choice = meal_by_rota(animal, test.day, pantry, *next_feeding(animal, test.day));
  ASSERT_TRUE(choice);
  EXPECT_THAT(choice->why, HasSubstr("too little calcium"));
  ASSERT_EQ(choice->courses.size(), 1U);
  const auto advice = diet::feeding_advice(animal, test.day, pantry, test::date(kToday), choice);
  EXPECT_THAT(advice.preparation, HasSubstr("too little calcium"));
}

// With plain calcium alone no vitamin is met; calcium is still planned for.
TEST(MealByRota, WhatCannotBeMetDoesNotHinderTheRest) {
  RoomBuilder b = gecko();
  feed_for_weeks(b, "house crickets, adult", 6);
  const TestDay test = b.day(kToday);
  const diet::Pantry pantry(*test.room);
  const auto rota = rota_of(test, pantry);
  ASSERT_FALSE(rota.cannot_be_met.empty());
  EXPECT_THAT(rota.cannot_be_met.front().what, HasSubstr("vitamin"));
  const auto answer = diet::solve_rota(rota.problem);
  ASSERT_TRUE(answer.plan);
  const auto& meals = answer.plan->meals;
  EXPECT_TRUE(std::any_of(meals.begin(), meals.end(),
                          [](const diet::RotaMeal& meal) { return meal.jar.has_value(); }));
  for (const diet::Judgement& judged : answer.plan->totals.front().judged) {
    if (judged.target.nutrient != diet::Nutrient::calcium_to_phosphorus) continue;
    EXPECT_NE(judged.verdict, diet::Verdict::surely_too_little);
  }
  const auto& animal = test.animal("a");
  EXPECT_TRUE(meal_by_rota(animal, test.day, pantry, *next_feeding(animal, test.day)));
}

TEST(MealByRota, LeavesASafeHabitAlone) {
  RoomBuilder b;
  b.enclosure("tub").animal("a", "corn_snake").weighed("2026-11-20", "a", "500g");
  for (int meal = 0; meal < 6; ++meal) {
    feed(b, test::date(kToday) - 10 * (6 - meal), "adult mouse", 1);
  }
  const TestDay test = b.day(kToday);
  const diet::Pantry pantry(*test.room);
  const auto& animal = test.animal("a");
  EXPECT_FALSE(meal_by_rota(animal, test.day, pantry, *next_feeding(animal, test.day)));
}

TEST(NextFeeding, NotInBrumation) {
  RoomBuilder b = gecko();
  feed_for_weeks(b, "house crickets, adult", 6);
  b.entry("2026-11-24", EntryKind::brumation_started, "a");
  const TestDay test = b.day(kToday);
  EXPECT_FALSE(next_feeding(test.animal("a"), test.day));
  EXPECT_TRUE(diners_of(test.day).empty());
}

}  // namespace
}  // namespace warmside::round
