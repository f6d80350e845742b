// What is reported of the room's diets, and that nothing is where nothing is known.

#include "diet/findings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "support/room_builder.h"

namespace warmside::diet {
namespace {

using room::Entry;
using room::EntryKind;
using test::RoomBuilder;
using testing::HasSubstr;

RoomBuilder with(const char* species) {
  return RoomBuilder().enclosure("box").animal("a", species);
}

RoomBuilder& fed(RoomBuilder& b, const char* date, const char* item, std::optional<int> count = 5,
                 const char* jar = "") {
  return b.entry(date, EntryKind::fed, "a", [&](Entry& e) {
    e.item = item;
    e.count = count;
    if (*jar != '\0') e.target = room::Subject{room::SubjectKind::jar, jar};
  });
}

std::vector<Finding> found(const RoomBuilder& b) {
  return findings(b.day("2026-11-25").day);
}

constexpr const char* kFourDays[] = {"2026-11-01", "2026-11-08", "2026-11-15", "2026-11-22"};

TEST(DietFindings, AnEmptyNotebookIsSilent) {
  EXPECT_TRUE(found(with("leopard_gecko")).empty());
}

TEST(DietFindings, UndustedWormsAreSurelyShortAndTheAdviceIsNoDiagnosis) {
  RoomBuilder b = with("leopard_gecko");
  for (const char* date : kFourDays) fed(b, date, "mealworms");
  const auto list = found(b);
  ASSERT_EQ(list.size(), 1u);
  EXPECT_EQ(list[0].when, When::this_week);
  EXPECT_EQ(list[0].module, "diet");
  EXPECT_THAT(list[0].headline, HasSubstr("too little calcium"));
  EXPECT_THAT(list[0].evidence, HasSubstr("mealworms in 4 courses"));
  EXPECT_THAT(list[0].advice, HasSubstr("for a veterinarian"));
  EXPECT_THAT(list[0].source, HasSubstr("MSD Veterinary Manual"));
}

TEST(DietFindings, SleepersAreNotJudged) {
  RoomBuilder b = with("leopard_gecko");
  for (const char* date : kFourDays) fed(b, date, "mealworms");
  b.entry("2026-11-24", EntryKind::brumation_started, "a");
  EXPECT_TRUE(found(b).empty());
}

// Whole mice hold all that is judged here but vitamins that nobody measured: no alarm.
TEST(DietFindings, WholeMiceAreNoMatterOfConcern) {
  RoomBuilder b = with("corn_snake");
  for (const char* date : kFourDays) fed(b, date, "adult mouse", 1);
  EXPECT_TRUE(found(b).empty());
}

TEST(DietFindings, AFireflyIsForTodayAndLaterForTheWeek) {
  RoomBuilder b = with("bearded_dragon");
  fed(b, "2026-11-24", "firefly", 1);
  auto list = found(b);
  ASSERT_EQ(list.size(), 1u);
  EXPECT_EQ(list[0].when, When::today);
  EXPECT_THAT(list[0].headline, HasSubstr("firefly"));
  EXPECT_THAT(list[0].advice, HasSubstr("call a veterinarian now"));
  EXPECT_EQ(list[0].source, "knight1999");
  RoomBuilder older = with("bearded_dragon");
  fed(older, "2026-11-10", "firefly", 1);
  EXPECT_EQ(found(older).at(0).when, When::this_week);
  RoomBuilder old = with("bearded_dragon");
  fed(old, "2026-10-01", "firefly", 1);
  EXPECT_TRUE(found(old).empty());
}

TEST(DietFindings, SpinachNowAndThenIsNoStaple) {
  RoomBuilder b = with("hermanns_tortoise");
  for (const char* date : kFourDays) fed(b, date, "dandelion");
  fed(b, "2026-11-23", "spinach");  // one in five
  const auto staples = [](const std::vector<Finding>& list) {
    return std::count_if(list.begin(), list.end(), [](const Finding& finding) {
      return finding.headline.find("fed too often with spinach") != std::string::npos;
    });
  };
  EXPECT_EQ(staples(found(b)), 0);
  fed(b, "2026-11-24", "spinach");  // two in six
  EXPECT_EQ(staples(found(b)), 1);
}

// Unknown food, count and label: one thing that is good to know, with a way to tell it.
TEST(DietFindings, WhatIsUnknownIsSaidOnce) {
  RoomBuilder b = with("leopard_gecko");
  b.add<room::Jar>("vitamins",
                   [](room::Jar& jar) { jar.contents = room::SupplementKind::multivitamin; });
  fed(b, "2026-11-01", "house mix");
  fed(b, "2026-11-02", "mouse");
  fed(b, "2026-11-10", "mealworms", std::nullopt);
  fed(b, "2026-11-20", "mealworms", 5, "vitamins");
  const auto list = found(b);
  ASSERT_EQ(list.size(), 1u);
  EXPECT_EQ(list[0].when, When::good_to_know);
  EXPECT_EQ(list[0].subject_kind, "room");
  EXPECT_THAT(list[0].evidence, HasSubstr("house mix"));
  EXPECT_THAT(list[0].evidence,
              HasSubstr("mouse (could be mouse_adult, mouse_fuzzy, mouse_pinky)"));
  EXPECT_THAT(list[0].evidence, HasSubstr("vitamins"));
  EXPECT_THAT(list[0].advice, HasSubstr("warmside foods"));
  EXPECT_THAT(list[0].advice, HasSubstr("vitamin_d3_iu_per_g"));
}

}  // namespace
}  // namespace warmside::diet
