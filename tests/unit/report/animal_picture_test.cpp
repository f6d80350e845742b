// What of an animal's notebook stands in its chart, and where.

#include "report/animal_picture.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "health/quarantine.h"
#include "support/room_builder.h"

namespace warmside::report {
namespace {

using room::EntryKind;
using test::date;
using test::RoomBuilder;
using test::TestDay;
using testing::HasSubstr;

WeightPicture picture_of(const TestDay& test, std::string_view id = "moss") {
  return weight_picture(*test.animal(id).animal, test.day).value();
}

const WeightPicture::Lane* lane(const WeightPicture& picture, std::string_view name) {
  for (const auto& lane : picture.lanes)
    if (lane.name == name) return &lane;
  return nullptr;
}

RoomBuilder one_gecko() {
  RoomBuilder room;
  room.enclosure("tub").animal("moss", "crested_gecko", [](room::Animal& moss) {
    moss.name = "Moss";
    moss.arrived = date("2020-01-01");
  });
  return room;
}

/// Which day of the chart a moment is on.
double day_of(const WeightPicture& picture, std::string_view on) {
  return date(on) - picture.first;
}

TEST(AnimalPicture, OfAnAnimalWithoutAnEntryHasNothingToDraw) {
  const auto test = one_gecko().day("2026-11-25");
  const WeightPicture picture = picture_of(test);
  EXPECT_EQ(picture.title, "Moss, Crested gecko");
  EXPECT_EQ(picture.subtitle, "It has not been weighed.");
  EXPECT_TRUE(picture.lanes.empty());
  EXPECT_EQ(as_png(picture).problem().code, ProblemCode::missing);
}

TEST(AnimalPicture, OfOneThatHasLeftIsRefused) {
  auto room = one_gecko();
  room.animal("fern", "crested_gecko", [](room::Animal& fern) { fern.left = date("2026-01-01"); });
  const auto test = room.day("2026-11-25");
  for (const room::Animal& animal : test.room->animals) {
    EXPECT_EQ(weight_picture(animal, test.day).ok(), animal.id.text() == "moss");
  }
}

TEST(AnimalPicture, OfOneWeighingSaysThatItIsTooFew) {
  const auto test = one_gecko().weighed("2026-11-20", "moss", "45g").day("2026-11-25");
  const WeightPicture picture = picture_of(test);
  EXPECT_THAT(picture.subtitle, HasSubstr("too few weighings"));
  ASSERT_EQ(picture.weighings.size(), 1u);
  EXPECT_EQ(picture.days, 28);  // four weeks at least
  EXPECT_EQ(picture.first + picture.days, date("2026-11-26"));
  EXPECT_DOUBLE_EQ(picture.weighings[0].day, day_of(picture, "2026-11-20") + 0.5);
  EXPECT_FALSE(picture.reference);
  ASSERT_GE(picture.course.size(), 6u);  // its own day and those to the end
  EXPECT_DOUBLE_EQ(picture.course.front().day, picture.weighings[0].day);
  EXPECT_NEAR(picture.course.back().day, picture.days, 1e-6);  // its last moment
  EXPECT_TRUE(as_png(picture).ok());
}

TEST(AnimalPicture, SwellsBetweenWeighings) {
  const auto test = one_gecko()
                        .weighed("2026-01-10", "moss", "45g")
                        .weighed("2026-02-10", "moss", "45g")
                        .weighed("2026-08-10", "moss", "45g")
                        .weighed("2026-09-10", "moss", "45g")
                        .day("2026-09-10");
  const WeightPicture picture = picture_of(test);
  const auto width_on = [&](std::string_view on) {
    const double noon = day_of(picture, on) + 0.5;
    for (const auto& moment : picture.course)
      if (moment.day >= noon - 0.05) return moment.high.grams() / moment.low.grams();
    return 0.0;
  };
  EXPECT_GT(width_on("2026-05-10"), width_on("2026-02-10") + 0.01);
  EXPECT_GT(width_on("2026-05-10"), width_on("2026-08-10") + 0.01);
  EXPECT_EQ(picture.first, date("2026-01-10"));  // from the first entry
}

TEST(AnimalPicture, GoesBack430DaysAtMost) {
  auto room = one_gecko();
  for (const char* on : {"2024-01-10", "2025-09-21", "2025-09-22", "2026-11-20"})
    room.weighed(on, "moss", "45g");
  const auto test = room.day("2026-11-25");
  const WeightPicture picture = picture_of(test);
  EXPECT_EQ(picture.days, 430);
  EXPECT_EQ(picture.first, date("2025-09-22"));
  EXPECT_EQ(picture.weighings.size(), 2u);
  EXPECT_EQ(picture.course.front().day, 0);  // the model knows the earlier ones
}

TEST(AnimalPicture, TellsWhichWeighingsAreNotBelieved) {
  const auto test = one_gecko()
                        .weighed("2026-06-10", "moss", "45g")
                        .weighed("2026-07-10", "moss", "45.2g")
                        .weighed("2026-08-10", "moss", "4.52g")
                        .weighed("2026-09-10", "moss", "45.1g")
                        .day("2026-09-10");
  const WeightPicture picture = picture_of(test);
  ASSERT_EQ(picture.weighings.size(), 4u);
  for (const auto& weighing : picture.weighings)
    EXPECT_EQ(weighing.believed, weighing.mass > Mass::grams(10));
  const auto none = one_gecko()
                        .weighed("2026-09-10 08:00", "moss", "45g")
                        .weighed("2026-09-10 08:00", "moss", "4.5g")
                        .day("2026-09-10");
  EXPECT_EQ(picture_of(none).subtitle, "None of its weighings can be believed.");
  for (const auto& weighing : picture_of(none).weighings) EXPECT_FALSE(weighing.believed);
}

TEST(AnimalPicture, OfALossHasTheReferenceAndTheVerdict) {
  RoomBuilder room = one_gecko();
  const char* days[] = {"2026-02-01", "2026-03-01", "2026-04-01", "2026-05-01", "2026-06-01",
                        "2026-07-01", "2026-08-01", "2026-09-01", "2026-10-01", "2026-11-01"};
  const char* masses[] = {"46g", "46.1g", "46g", "46g", "46.2g", "44g", "42g", "40g", "38g", "36g"};
  for (int i = 0; i < 10; ++i) room.weighed(days[i], "moss", masses[i]);
  const auto test = room.day("2026-11-02");
  const WeightPicture picture = picture_of(test);
  EXPECT_THAT(picture.subtitle, HasSubstr("It has lost "));
  EXPECT_THAT(picture.subtitle, HasSubstr(": call the vet."));
  ASSERT_TRUE(picture.reference);
  EXPECT_NEAR(picture.reference->grams(), 46, 1.5);  // its highest, within the noise of 3 %
  EXPECT_THAT(picture.reference_words, HasSubstr("g, had nothing been lost since 2026-0"));
}

TEST(AnimalPicture, OfAGroupHasItsWeighingsAndNoTrend) {
  auto room = one_gecko();
  room.animal("frogs", "dyeing_dart_frog", [](room::Animal& frogs) { frogs.count = 4; })
      .weighed("2026-11-20", "frogs", "5g");
  const WeightPicture picture = picture_of(room.day("2026-11-25"), "frogs");
  EXPECT_EQ(picture.subtitle, "A group of 4, not told apart: no trend.");
  EXPECT_EQ(picture.weighings.size(), 1u);
  EXPECT_TRUE(picture.weighings[0].believed);
  EXPECT_TRUE(picture.course.empty());
}

TEST(AnimalPicture, HasOnlyLanesThatHoldSomething) {
  auto room = one_gecko();
  room.entry("2026-11-01", EntryKind::fed, "moss", [](room::Entry& e) { e.item = "slurry"; })
      .entry("2026-11-02", EntryKind::laid_eggs, "moss");
  room.enclosure("box").moved("2026-11-03", "moss", "box");
  const WeightPicture picture = picture_of(room.day("2026-11-25"));
  ASSERT_EQ(picture.lanes.size(), 3u);
  EXPECT_THAT(lane(picture, "meals")->events,
              testing::ElementsAre(day_of(picture, "2026-11-01") + 0.5));
  EXPECT_NE(lane(picture, "eggs"), nullptr);
  EXPECT_NE(lane(picture, "moves"), nullptr);
}

TEST(AnimalPicture, DrawsStatesFromTheirBeginningToTheirEnd) {
  const auto test = one_gecko()
                        .weighed("2026-01-01", "moss", "45g")
                        .entry("2026-02-01", EntryKind::ill, "moss")
                        .entry("2026-02-11", EntryKind::recovered, "moss")
                        .entry("2026-03-01", EntryKind::in_shed, "moss")
                        .entry("2026-03-05", EntryKind::shed, "moss")
                        .entry("2026-06-01", EntryKind::in_shed, "moss")
                        .entry("2026-11-15", EntryKind::brumation_started, "moss")
                        .day("2026-11-25");
  const WeightPicture picture = picture_of(test);
  ASSERT_EQ(lane(picture, "ill")->bars.size(), 1u);
  EXPECT_DOUBLE_EQ(lane(picture, "ill")->bars[0].from, day_of(picture, "2026-02-01") + 0.5);
  EXPECT_DOUBLE_EQ(lane(picture, "ill")->bars[0].to, day_of(picture, "2026-02-11") + 0.5);
  ASSERT_EQ(lane(picture, "in shed")->bars.size(), 2u);
  const auto& forgotten = lane(picture, "in shed")->bars[1];
  EXPECT_DOUBLE_EQ(forgotten.to - forgotten.from, 21);  // in_shed_believed of data/care_rules.csv
  EXPECT_DOUBLE_EQ(lane(picture, "brumation")->bars[0].to, picture.days);
  EXPECT_EQ(lane(picture, "quarantine"), nullptr);
}

TEST(AnimalPicture, DrawsAQuarantineFromTheArrival) {
  const auto newcomer = [](const char* arrived) {
    RoomBuilder room;
    room.enclosure("tub").animal("moss", "crested_gecko",
                                 [&](room::Animal& moss) { moss.arrived = date(arrived); });
    return room;
  };
  // Nobody has said anything: the profile's days run.
  auto room = newcomer("2026-11-15");
  auto test = room.day("2026-11-25");
  health::presume_quarantines(test.day);
  const WeightPicture fresh = picture_of(test);
  ASSERT_NE(lane(fresh, "quarantine"), nullptr);
  EXPECT_DOUBLE_EQ(lane(fresh, "quarantine")->bars[0].from, day_of(fresh, "2026-11-15"));
  EXPECT_DOUBLE_EQ(lane(fresh, "quarantine")->bars[0].to, fresh.days);
  // Ended, though no entry began it.
  room = newcomer("2026-08-15").weighed("2026-08-10", "moss", "45g");
  room.entry("2026-10-30", EntryKind::quarantine_ended, "moss");
  const WeightPicture ended = picture_of(room.day("2026-11-25"));
  EXPECT_DOUBLE_EQ(lane(ended, "quarantine")->bars[0].from, day_of(ended, "2026-08-15"));
  EXPECT_NEAR(lane(ended, "quarantine")->bars[0].to, day_of(ended, "2026-10-30") + 0.5,
              1.5 / 24);  // the clocks went back on 2026-10-25
}

TEST(AnimalPicture, SaysFromWhereALaneWasLookedUp) {
  const auto test = one_gecko()
                        .weighed("2025-01-01", "moss", "45g")
                        .weighed("2025-12-01", "moss", "45g")
                        .entry("2026-11-01", EntryKind::ill, "moss")
                        .entry("2026-11-01", EntryKind::shed, "moss")
                        .day("2026-11-25");
  const WeightPicture picture = picture_of(test);
  // recalled_for_a_day: illness of 366 days, sheds of 800.
  EXPECT_NEAR(lane(picture, "ill")->known_from, picture.days - 366, 1.5 / 24);
  EXPECT_EQ(lane(picture, "sheds")->known_from, 0);
}

}  // namespace
}  // namespace warmside::report
