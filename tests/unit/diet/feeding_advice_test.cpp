// What is fed next, by the keeper's own habit or by a choice made elsewhere, in words.

#include "diet/feeding_advice.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "support/room_builder.h"

namespace warmside::diet {
namespace {

using room::Entry;
using room::EntryKind;
using test::RoomBuilder;
using test::TestDay;
using testing::HasSubstr;

void add_jar(RoomBuilder& b, const char* id, room::SupplementKind contents) {
  b.add<room::Jar>(id, [&](room::Jar& jar) { jar.contents = contents; });
}

void feed(RoomBuilder& b, Date date, const char* item, int count, const char* jar = "",
          EntryKind kind = EntryKind::fed) {
  b.entry(to_text(date), kind, "a", [&](Entry& e) {
    e.item = item;
    e.count = count;
    if (*jar != '\0') e.target = room::Subject{room::SubjectKind::jar, jar};
  });
}

RoomBuilder frog() {
  RoomBuilder b;
  b.enclosure("tank").animal("a", "whites_tree_frog");
  add_jar(b, "plain", room::SupplementKind::calcium);
  add_jar(b, "d3", room::SupplementKind::calcium_d3);
  add_jar(b, "vitamins", room::SupplementKind::multivitamin_retinol);
  return b;
}

std::string next(const RoomBuilder& b, std::string_view on) {
  const TestDay test = b.day("2026-11-25");
  const auto choice = Habits(test.animal("a"), test.day, test::date(on)).due(test::date(on));
  if (!choice) return "none";
  std::string text;
  for (const Course& course : choice->courses) {
    text += course_text(course, UnitSystem::metric) + "/" + course.jar.text() + " ";
  }
  return text;
}

// A menu of four at every fifth day, as it is written down in the demo room: the habit brings the
// same order again, round and round.
TEST(HabitOf, BringsTheKeepersOwnRotationAgain) {
  const std::vector<std::pair<const char*, const char*>> menu{{"banded cricket", "plain"},
                                                              {"dubia roach", "d3"},
                                                              {"banded cricket", "plain"},
                                                              {"banded cricket", "vitamins"}};
  RoomBuilder b = frog();
  for (int meal = 0; meal < 16; ++meal) {
    const auto& [item, jar] = menu[static_cast<std::size_t>(meal) % 4];
    const Date on = test::date("2026-09-01") + 5 * meal;
    if (meal >= 13) {  // three of each by then
      EXPECT_EQ(next(b, to_text(on)), "4 x " + std::string(item) + "/" + jar + " ") << meal;
    }
    feed(b, on, item, 4, jar);
  }
}

TEST(HabitOf, NeedsThreeTimesAndSteadyGaps) {
  RoomBuilder b = frog();
  feed(b, test::date("2026-11-05"), "banded cricket", 4, "plain");
  feed(b, test::date("2026-11-10"), "banded cricket", 4, "plain");
  EXPECT_EQ(next(b, "2026-11-25"), "none");
  feed(b, test::date("2026-11-15"), "banded crickets", 6, "plain");  // the same in other words
  EXPECT_EQ(next(b, "2026-11-25"), "6 x banded crickets/plain ");
  RoomBuilder unsteady = frog();
  for (const char* date : {"2026-09-01", "2026-09-03", "2026-10-10", "2026-10-11", "2026-11-20"}) {
    feed(unsteady, test::date(date), "banded cricket", 4, "plain");
  }
  EXPECT_EQ(next(unsteady, "2026-11-25"), "none");
}

TEST(HabitOf, RefusedFoodWasAChoiceAndTwoCoursesOfADayAreOneMeal) {
  RoomBuilder b = frog();
  for (const int ago : {20, 15, 10, 5}) {
    const Date date = test::date("2026-11-25") - ago;
    feed(b, date, "banded cricket", 4, "plain", ago == 5 ? EntryKind::refused : EntryKind::fed);
    feed(b, date, "dubia roach", 1);
  }
  EXPECT_THAT(next(b, "2026-11-25"), HasSubstr("4 x banded cricket/plain"));
  EXPECT_THAT(next(b, "2026-11-25"), HasSubstr("1 x dubia roach/"));
}

RoomBuilder snake() {
  RoomBuilder b;
  b.enclosure("tub").animal("a", "corn_snake").weighed("2026-11-01", "a", "500g");
  b.add<room::Supply>("mice", [](room::Supply& s) {
    s.kind = room::SupplyKind::frozen_prey;
    s.name = "adult mouse";
    s.food = room::FoodId::trusted("mouse_adult");
    s.piece_mass = Mass::grams(22);
  });
  return b;
}

Advice advice_of(const RoomBuilder& b, const std::optional<Choice>& choice = {}) {
  const TestDay test = b.day("2026-11-25");
  Advice advice =
      feeding_advice(test.animal("a"), test.day, Pantry(*test.room), test.day.date, choice);
  for (Thaw& thaw : advice.thaw) thaw.supply = nullptr;  // dies with the day
  return advice;
}

TEST(FeedingAdvice, FrozenPreyIsThawedTheDayBefore) {
  RoomBuilder b = snake();
  feed(b, test::date("2026-11-15"), "adult mice", 2);
  const Advice advice = advice_of(b);
  EXPECT_EQ(advice.what, "last time 2 x adult mice (about 22 g each)");
  EXPECT_THAT(advice.preparation, HasSubstr("never refreeze"));
  ASSERT_EQ(advice.thaw.size(), 1u);
  EXPECT_EQ(advice.thaw[0].count, 2);
  EXPECT_EQ(advice.amount, "");  // 44 g, within 35 to 50 g
  EXPECT_THAT(advice.limits, HasSubstr("one or more whole prey"));
}

TEST(FeedingAdvice, SaysWhereTheCountLiesOutsideTheShare) {
  RoomBuilder b = snake();
  feed(b, test::date("2026-11-15"), "adult mouse", 4);  // 88 g of 35 to 50 g
  EXPECT_EQ(advice_of(b).amount, "more than the profile's share, which is 2 of these");
  feed(b, test::date("2026-11-20"), "adult rat", 1);  // 150 g and more
  EXPECT_THAT(advice_of(b).amount, HasSubstr("smaller prey, such as "));
  EXPECT_THAT(advice_of(b).amount, HasSubstr("mouse, adult"));
}

TEST(FeedingAdvice, NothingIsSaidWhereNothingWasFed) {
  const Advice advice = advice_of(snake());
  EXPECT_EQ(advice.what, "");
  EXPECT_EQ(advice.preparation, "");
  EXPECT_TRUE(advice.thaw.empty());
  EXPECT_THAT(advice.limits, HasSubstr("one or more whole prey"));
}

TEST(FeedingAdvice, WhatShouldNotBeFedIsNotAdvisedAgain) {
  RoomBuilder b = frog();
  for (const char* date : {"2026-11-05", "2026-11-10", "2026-11-15"}) {
    feed(b, test::date(date), "fireflies", 2);
  }
  EXPECT_EQ(advice_of(b).what, "");
}

TEST(FeedingAdvice, AChoiceMadeElsewhereGoesBeforeTheHabit) {
  RoomBuilder b = frog();
  for (const int ago : {15, 10, 5}) {
    feed(b, test::date("2026-11-25") - ago, "banded cricket", 4, "plain");
  }
  Course course;
  course.item = "dubia roach";
  course.count = 2;
  course.jar = room::JarId::trusted("vitamins");
  const Advice advice = advice_of(b, Choice{{course}, "by the rota"});
  EXPECT_EQ(advice.what, "2 x dubia roach (0.5 – 2 g each)");
  EXPECT_EQ(advice.preparation,
            "dust the dubia roach from vitamins (multivitamin with retinol), by the rota");
  EXPECT_THAT(advice_of(b).preparation,
              HasSubstr("from plain (calcium), as you do about every 5 days"));
}

TEST(FeedingAdvice, NoDustFromAJarPastItsDate) {
  RoomBuilder b;
  b.enclosure("tank").animal("a", "whites_tree_frog");
  b.add<room::Jar>("old", [](room::Jar& jar) {
    jar.contents = room::SupplementKind::calcium;
    jar.expires = test::date("2026-11-01");
  });
  for (const int ago : {15, 10, 5}) {
    feed(b, test::date("2026-11-25") - ago, "banded cricket", 4, "old");
  }
  EXPECT_EQ(advice_of(b).preparation, "not from old, which is past its date or thrown away");
}

// The limits of insect eaters say nothing of greens or mice.
TEST(FeedingAdvice, TheRuleOfInsectsIsNoneForGreens) {
  RoomBuilder b;
  b.enclosure("t").animal("a", "blue_tongued_skink");
  feed(b, test::date("2026-11-20"), "dandelion", 1);
  EXPECT_EQ(advice_of(b).limits, "");
  feed(b, test::date("2026-11-21"), "dubia roach", 1);
  EXPECT_THAT(advice_of(b).limits, HasSubstr("each insect"));
}

}  // namespace
}  // namespace warmside::diet
