// When each kind of work is due and why. Intervals and pauses: docs/models/round.md,
// data/care_intervals.csv, data/care_rules.csv and data/species_facts.csv, copied by hand:
//   corn_snake: adult from 300 g, fed every 10 d, young 6 d, no food in shed, quarantine 90 d
//   leopard_gecko: adult from 45 g, fed every 3 d, young 1 d, food in shed, quarantine 60 d
//   hermanns_tortoise: adult from 500 g, fed every day;  crested_gecko: humidity 60..80 %
//   dyeing_dart_frog: humidity 80..98 %;  axolotl: humidity 100 % (water);  all: weighed every 30 d

#include "round/tasks.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::round {
namespace {

using room::EntryKind;
using test::date;
using test::RoomBuilder;
using test::TestDay;
using testing::HasSubstr;
using testing::Not;

constexpr const char* kToday = "2026-11-25";

std::vector<Task> tasks_on(const RoomBuilder& builder, const char* day = kToday,
                           const std::set<room::AnimalId>& watched = {}) {
  return tasks_of(builder.day(day).day, watched);
}

std::vector<Task> of(const std::vector<Task>& tasks, TaskKind kind, std::string_view subject) {
  std::vector<Task> found;
  for (const Task& task : tasks) {
    if (task.kind == kind && task.subject.id == subject) found.push_back(task);
  }
  return found;
}

bool has(const RoomBuilder& builder, TaskKind kind, std::string_view subject,
         const char* day = kToday) {
  return !of(tasks_on(builder, day), kind, subject).empty();
}

/// The one task of a kind about a subject.
Task one(const RoomBuilder& builder, TaskKind kind, std::string_view subject,
         const char* day = kToday, const std::set<room::AnimalId>& watched = {}) {
  const auto found = of(tasks_on(builder, day, watched), kind, subject);
  EXPECT_EQ(found.size(), 1u) << word(kind) << " of " << subject << " on " << day;
  return found.empty() ? Task{} : found.front();
}

/// What a task's day is, in one comparable piece.
std::string when(const Task& task) {
  return fmt::format("every {} d, due {}, {} late", task.every_days, to_text(task.due.date),
                     task.due.late_days);
}

/// A grown corn snake that came years ago, weighed this month, in an enclosure of its own.
RoomBuilder corn_room() {
  return RoomBuilder()
      .enclosure("tub")
      .animal("juniper", "corn_snake")
      .weighed("2026-11-20", "juniper", "500g");
}

// ---- Each kind of work: not done yet, not due, due today, late -------------------------------

/// How a kind of work is set up and jotted, and what its task must say.
struct Work {
  TaskKind kind;
  const char* subject;
  EntryKind done;
  const char* item;  // of the entry
  int every_days;
  const char* title;
  const char* reason_never;
  const char* reason_done;  // {}: the day it was done
  const char* enclosure;
  const char* animal;
};

/// A room in which every kind of work but the jar's is due today since nothing was ever jotted.
RoomBuilder full_room() {
  RoomBuilder b;
  b.enclosure("tub").animal("juniper", "corn_snake", [](room::Animal& a) { a.name = "Juniper"; });
  b.enclosure("pond").animal("moss", "crested_gecko");
  b.enclosure("ward").animal("new", "corn_snake");
  b.add<room::Thermostat>("stat", [](auto& t) { t.enclosure = room::EnclosureId::trusted("tub"); });
  b.add<room::SafetyDevice>("alarm");
  b.add<room::Lamp>("tube", [](auto& l) {
    l.uvb = true;
    l.enclosure = room::EnclosureId::trusted("pond");
  });
  b.add<room::StandingTask>("filter", [](auto& t) {
    t.title = "rinse the filter";
    t.every = Duration::days(9);
    t.enclosure = room::EnclosureId::trusted("pond");
  });
  b.entry("2026-01-01", EntryKind::quarantine_started, "new");
  return b;
}

const Work kWork[] = {
    {TaskKind::smoke_alarm_test, "alarm", EntryKind::tested, "", 30, "test the smoke alarm alarm",
     "every 30 days, not in the notebook yet; from memory", "every 30 days, last {}; from memory",
     "", ""},
    {TaskKind::thermostat_test, "stat", EntryKind::tested, "", 30, "test thermostat stat",
     "every 30 days, not in the notebook yet; common practice",
     "every 30 days, last {}; common practice", "tub", ""},
    {TaskKind::quarantine_mite_check, "new", EntryKind::checked, "mites", 14, "check new for mites",
     "every 14 days, not in the notebook yet; quarantine since 2026-01-01",
     "every 14 days, last {}; quarantine since 2026-01-01", "ward", "new"},
    {TaskKind::quarantine_faecal_test, "new", EntryKind::checked, "faecal sample", 21,
     "faecal sample of new", "every 21 days, not in the notebook yet; quarantine since 2026-01-01",
     "every 21 days, last {}; quarantine since 2026-01-01", "ward", "new"},
    {TaskKind::weighing, "juniper", EntryKind::weighed, "", 30, "weigh Juniper",
     "every 30 days, not in the notebook yet; common practice",
     "every 30 days, last {}; common practice", "tub", "juniper"},
    {TaskKind::water, "tub", EntryKind::watered, "", 1, "fresh water",
     "every day, not in the notebook yet; common practice", "every day, last {}; common practice",
     "tub", ""},
    {TaskKind::feeding, "juniper", EntryKind::fed, "", 10, "feed Juniper",
     "every 10 days, no meal in the notebook; adult, common practice",
     "every 10 days, last fed {}; adult, common practice", "tub", "juniper"},
    {TaskKind::uv_reading, "tube", EntryKind::uv_reading, "", 30, "UV reading under tube",
     "every 30 days, not in the notebook yet; common practice",
     "every 30 days, last {}; common practice", "pond", ""},
    {TaskKind::misting, "pond", EntryKind::misted, "", 1, "mist",
     "every day, not in the notebook yet; humid, common practice",
     "every day, last {}; humid, common practice", "pond", ""},
    {TaskKind::spot_clean, "tub", EntryKind::spot_cleaned, "", 3, "spot clean",
     "every 3 days, not in the notebook yet; common practice",
     "every 3 days, last {}; common practice", "tub", ""},
    {TaskKind::full_clean, "tub", EntryKind::full_cleaned, "", 30, "full clean",
     "every 30 days, not in the notebook yet; common practice",
     "every 30 days, last {}; common practice", "tub", ""},
    {TaskKind::full_clean, "ward", EntryKind::full_cleaned, "", 7, "full clean",
     "every 7 days, not in the notebook yet; quarantine, common practice",
     "every 7 days, last {}; quarantine, common practice", "ward", ""},
    {TaskKind::standing, "filter", EntryKind::done, "", 9, "rinse the filter",
     "every 9 days, not in the notebook yet; your own task", "every 9 days, last {}; your own task",
     "pond", ""},
};

TEST(EachTask, NeverDoneIsDueToday) {
  const auto tasks = tasks_on(full_room());
  for (const Work& work : kWork) {
    const auto found = of(tasks, work.kind, work.subject);
    ASSERT_EQ(found.size(), 1u) << word(work.kind);
    const Task& task = found[0];
    EXPECT_EQ(when(task), fmt::format("every {} d, due 2026-11-25, 0 late", work.every_days))
        << word(work.kind);
    EXPECT_EQ(task.title, work.title);
    EXPECT_EQ(task.reason, work.reason_never) << word(work.kind);
    EXPECT_EQ(task.enclosure.text(), work.enclosure) << word(work.kind);
    EXPECT_EQ(task.animal.text(), work.animal) << word(work.kind);
  }
}

TEST(EachTask, IsDueAnIntervalAfterItWasDoneThenLate) {
  for (const Work& work : kWork) {
    for (const int ago :
         {0, work.every_days - 1, work.every_days, work.every_days + 1, work.every_days + 40}) {
      const std::string last = to_text(date(kToday) - ago);
      RoomBuilder b = full_room();
      b.entry(last, work.done, work.subject, [&](room::Entry& e) {
        e.item = work.item;
        if (work.done == EntryKind::weighed) e.mass = Mass::grams(500);
        if (work.done == EntryKind::uv_reading) e.uvi = UvIndex::index(2);
      });
      const Task task = one(b, work.kind, work.subject);
      EXPECT_EQ(when(task), fmt::format("every {} d, due {}, {} late", work.every_days,
                                        to_text(date(last) + work.every_days),
                                        std::max(0, ago - work.every_days)))
          << word(work.kind) << " done " << ago << " days ago";
      EXPECT_EQ(task.reason, fmt::format(fmt::runtime(work.reason_done), last)) << word(work.kind);
    }
  }
}

TEST(EachTask, WhatIsStruckWasNotDone) {
  RoomBuilder b = corn_room();
  b.entry("2026-11-10", EntryKind::fed, "juniper");
  b.entry("2026-11-24", EntryKind::fed, "juniper").strike_it("2026-11-24");
  EXPECT_EQ(when(one(b, TaskKind::feeding, "juniper")), "every 10 d, due 2026-11-20, 5 late");
}

TEST(EachTask, OtherEntriesDoNotCountAsDone) {
  RoomBuilder b = full_room();
  b.checked("2026-11-24", "new", "shed");
  b.entry("2026-11-24", EntryKind::note, "tub");
  b.entry("2026-11-24", EntryKind::disinfected, "tub");
  for (const Work& work : kWork) {
    EXPECT_EQ(to_text(one(b, work.kind, work.subject).due.date), kToday) << word(work.kind);
  }
}

// ---- Situations --------------------------------------------------------------------------------

TEST(Situations, YoungByMassWhereWeighed) {
  // Adult from 300 g: 299.9 g is young, 300 g is not, at whatever age under three years.
  RoomBuilder young = RoomBuilder().enclosure("tub").animal(
      "a", "corn_snake", [](auto& a) { a.born = date("2024-01-01"); });
  young.weighed("2026-11-20", "a", "299.9g");
  EXPECT_TRUE(young.day(kToday).animal("a").young);
  EXPECT_EQ(one(young, TaskKind::feeding, "a").every_days, 6);
  EXPECT_THAT(one(young, TaskKind::feeding, "a").reason, HasSubstr("young"));
  EXPECT_EQ(one(young, TaskKind::weighing, "a").every_days, 14);

  RoomBuilder grown = RoomBuilder().enclosure("tub").animal(
      "a", "corn_snake", [](auto& a) { a.born = date("2026-06-01"); });
  grown.weighed("2026-11-20", "a", "300g");
  EXPECT_FALSE(grown.day(kToday).animal("a").young);
  EXPECT_EQ(one(grown, TaskKind::feeding, "a").every_days, 10);
  EXPECT_EQ(one(grown, TaskKind::weighing, "a").every_days, 30);
}

TEST(Situations, AThinAnimalOfThreeYearsIsNoYoungster) {  // grown_age 1095 d
  const auto young = [](std::optional<Date> born) {
    RoomBuilder b =
        RoomBuilder().enclosure("tub").animal("a", "corn_snake", [&](auto& a) { a.born = born; });
    return b.weighed("2026-11-20", "a", "200g").day(kToday).animal("a").young;
  };
  EXPECT_TRUE(young(date(kToday) - 1094));
  EXPECT_FALSE(young(date(kToday) - 1095));
  EXPECT_TRUE(young({}));  // nobody knows its age
}

TEST(Situations, YoungByAgeWhereUnweighed) {
  const auto born = [](const char* when, int count = 1) {
    return RoomBuilder().enclosure("tub").animal("a", "corn_snake", [=](auto& a) {
      a.born = date(when);
      a.count = count;
    });
  };
  EXPECT_TRUE(born("2025-11-26").day(kToday).animal("a").young);   // 364 days
  EXPECT_FALSE(born("2025-11-25").day(kToday).animal("a").young);  // a year
  // Nobody said: not young.
  EXPECT_FALSE(
      RoomBuilder().enclosure("t").animal("a", "corn_snake").day(kToday).animal("a").young);
  // A group's mass is not one animal's.
  RoomBuilder group = born("2015-01-01", 12);
  group.weighed("2026-11-20", "a", "100g");
  EXPECT_FALSE(group.day(kToday).animal("a").young);
}

TEST(Situations, YoungByAgeWhereTheSpeciesHasNoAdultMass) {
  RoomBuilder b;
  b.add<room::OwnSpecies>("rough_snake", [](auto& s) {
    s.common_name = "Rough snake";
    s.group = Group::snake;
  });
  b.enclosure("tub").animal("a", "rough_snake", [](auto& a) { a.born = date("2026-06-01"); });
  b.weighed("2026-11-20", "a", "500g");
  EXPECT_TRUE(b.day(kToday).animal("a").young);
  EXPECT_FALSE(has(b, TaskKind::feeding, "a"));  // the profile does not say how often
}

TEST(Situations, HatchlingForItsFirstNinetyDays) {  // rule hatchling_age 90 d
  const auto hatchling = [](const char* born) {
    return RoomBuilder()
        .enclosure("tub")
        .animal("a", "corn_snake", [=](auto& a) { a.born = date(born); })
        .day(kToday)
        .animal("a")
        .hatchling;
  };
  EXPECT_TRUE(hatchling("2026-11-25"));
  EXPECT_TRUE(hatchling("2026-08-28"));   // 89 days: 3 + 30 + 31 + 25
  EXPECT_FALSE(hatchling("2026-08-27"));  // 90 days
}

TEST(Situations, HumidIsMistedButWaterIsNot) {
  const struct {
    const char* species;
    bool misted;
  } kCases[] = {{"crested_gecko", true},      // from 60 %: the edge
                {"dyeing_dart_frog", true},   // from 80 %
                {"royal_python", false},      // from 55 %
                {"whites_tree_frog", false},  // from 50 %
                {"axolotl", false}};          // 100 %: in water
  for (const auto& c : kCases) {
    EXPECT_EQ(has(RoomBuilder().enclosure("box").animal("a", c.species), TaskKind::misting, "box"),
              c.misted)
        << c.species;
  }
}

TEST(Situations, EntriesAboutQuarantineGoBeforeTheArrival) {
  const auto newcomer = [] {
    return RoomBuilder().enclosure("tub").animal("a", "corn_snake",
                                                 [](auto& a) { a.arrived = date("2026-11-01"); });
  };
  RoomBuilder ended = newcomer().entry("2026-11-10", EntryKind::quarantine_ended, "a");
  EXPECT_FALSE(ended.day(kToday).animal("a").quarantine_since);
  RoomBuilder started = newcomer().entry("2026-11-05", EntryKind::quarantine_started, "a");
  EXPECT_EQ(started.day(kToday).animal("a").quarantine_since, date("2026-11-05"));
  // One that was started does not end by itself, and may start again.
  EXPECT_TRUE(started.day("2027-11-25").animal("a").quarantine_since);
  started.entry("2026-11-10", EntryKind::quarantine_ended, "a")
      .entry("2026-11-20", EntryKind::quarantine_started, "a");
  EXPECT_EQ(started.day(kToday).animal("a").quarantine_since, date("2026-11-20"));
}

TEST(Situations, IllnessAndRecovery) {
  RoomBuilder b = corn_room();
  b.entry("2026-11-10", EntryKind::ill, "juniper");
  EXPECT_EQ(b.day(kToday).animal("juniper").ill_since, date("2026-11-10"));
  b.entry("2026-11-12", EntryKind::recovered, "juniper");
  EXPECT_FALSE(b.day(kToday).animal("juniper").ill_since);
}

TEST(Situations, QuarantineAndObservationShortenTheWeighing) {
  RoomBuilder b = corn_room();
  EXPECT_EQ(one(b, TaskKind::weighing, "juniper").every_days, 30);
  const Task watched =
      one(b, TaskKind::weighing, "juniper", kToday, {room::AnimalId::trusted("juniper")});
  EXPECT_EQ(watched.every_days, 7);
  EXPECT_THAT(watched.reason, HasSubstr("observation"));
  b.entry("2026-11-21", EntryKind::quarantine_started, "juniper");
  EXPECT_EQ(when(one(b, TaskKind::weighing, "juniper")), "every 7 d, due 2026-11-27, 0 late");
  EXPECT_EQ(one(b, TaskKind::spot_clean, "tub").every_days, 1);  // not a snake's 3 days
  EXPECT_EQ(one(b, TaskKind::full_clean, "tub").every_days, 7);
}

TEST(Situations, AnEnclosureFollowsTheAnimalThatNeedsItFirst) {
  RoomBuilder b;
  b.enclosure("tub").animal("snake", "corn_snake").animal("gecko", "crested_gecko");
  EXPECT_EQ(one(b, TaskKind::spot_clean, "tub").every_days, 1);  // snake 3 d, any 1 d
  EXPECT_TRUE(has(b, TaskKind::misting, "tub"));                 // for the gecko
  EXPECT_EQ(of(tasks_on(b), TaskKind::water, "tub").size(), 1u);
}

// ---- Feeding -----------------------------------------------------------------------------------

TEST(Feeding, AfterARefusalFoodIsOfferedAfterHalfTheInterval) {
  // refusal_retry_share 50 %, rounded up: 10 d -> 5 d, 3 d -> 2 d, 1 d -> 1 d.
  RoomBuilder b = corn_room();
  b.entry("2026-11-05", EntryKind::fed, "juniper");
  b.entry("2026-11-22", EntryKind::refused, "juniper");
  const Task task = one(b, TaskKind::feeding, "juniper");
  EXPECT_EQ(when(task), "every 5 d, due 2026-11-27, 0 late");
  EXPECT_THAT(task.reason, testing::StartsWith("every 5 days, refused on 2026-11-22"));
  EXPECT_THAT(task.reason, testing::EndsWith("; adult, common practice"));
  // Taken at last: the whole interval again.
  b.entry("2026-11-24", EntryKind::fed, "juniper");
  EXPECT_EQ(when(one(b, TaskKind::feeding, "juniper")), "every 10 d, due 2026-12-04, 0 late");

  RoomBuilder gecko = RoomBuilder().enclosure("box").animal("g", "leopard_gecko");
  gecko.weighed("2026-11-20", "g", "60g").entry("2026-11-24", EntryKind::refused, "g");
  EXPECT_EQ(when(one(gecko, TaskKind::feeding, "g")), "every 2 d, due 2026-11-26, 0 late");

  RoomBuilder frog = RoomBuilder().enclosure("box").animal("f", "dyeing_dart_frog");
  frog.entry("2026-11-25", EntryKind::refused, "f");
  EXPECT_EQ(when(one(frog, TaskKind::feeding, "f")), "every 1 d, due 2026-11-26, 0 late");
}

TEST(Feeding, WaitsTenDaysAfterARegurgitationThenHalfSize) {  // regurgitation_pause 10 d
  RoomBuilder b = corn_room();
  b.entry("2026-11-12", EntryKind::fed, "juniper");
  b.entry("2026-11-20", EntryKind::regurgitated, "juniper");
  const Task task = one(b, TaskKind::feeding, "juniper");
  EXPECT_EQ(when(task), "every 10 d, due 2026-11-30, 0 late");  // not 22 November
  EXPECT_THAT(task.detail, HasSubstr("half-size prey, since it regurgitated on 2026-11-20"));
  EXPECT_THAT(task.detail, HasSubstr("veterinarian"));
  EXPECT_EQ(when(one(b, TaskKind::feeding, "juniper", "2026-12-03")),
            "every 10 d, due 2026-11-30, 3 late");
  // A refusal in between does not end it; a meal does.
  b.entry("2026-11-21", EntryKind::refused, "juniper");
  EXPECT_EQ(to_text(one(b, TaskKind::feeding, "juniper").due.date), "2026-11-30");
  b.entry("2026-12-01", EntryKind::fed, "juniper");
  const Task after = one(b, TaskKind::feeding, "juniper", "2026-12-03");
  EXPECT_EQ(when(after), "every 10 d, due 2026-12-11, 0 late");
  EXPECT_THAT(after.detail, Not(HasSubstr("half-size")));
}

TEST(Feeding, AMealAndItsRegurgitationAtOneMomentIsARegurgitation) {
  RoomBuilder b = corn_room();  // both on a day without a time: both at noon
  b.entry("2026-11-20", EntryKind::regurgitated, "juniper");
  b.entry("2026-11-20", EntryKind::fed, "juniper");
  EXPECT_THAT(one(b, TaskKind::feeding, "juniper").detail, HasSubstr("half-size"));
}

TEST(Feeding, NoFoodInShedWhereTheProfileSaysSo) {
  RoomBuilder b = corn_room();
  b.entry("2026-11-01", EntryKind::fed, "juniper")
      .entry("2026-11-10", EntryKind::in_shed, "juniper");
  EXPECT_FALSE(has(b, TaskKind::feeding, "juniper"));
  b.entry("2026-11-23", EntryKind::shed, "juniper");
  EXPECT_EQ(when(one(b, TaskKind::feeding, "juniper")), "every 10 d, due 2026-11-23, 2 late");

  RoomBuilder gecko = RoomBuilder().enclosure("box").animal("g", "leopard_gecko");
  gecko.weighed("2026-11-20", "g", "60g").entry("2026-11-20", EntryKind::fed, "g");
  gecko.entry("2026-11-22", EntryKind::in_shed, "g");
  EXPECT_EQ(when(one(gecko, TaskKind::feeding, "g")), "every 3 d, due 2026-11-23, 2 late");
}

TEST(Feeding, AShedThatNobodyWroteDownIsBelievedForTwentyOneDays) {  // in_shed_believed 21 d
  RoomBuilder b = corn_room();
  b.entry("2026-11-01", EntryKind::in_shed, "juniper");
  EXPECT_EQ(b.day("2026-11-22").animal("juniper").in_shed_since, date("2026-11-01"));
  EXPECT_FALSE(has(b, TaskKind::feeding, "juniper", "2026-11-22"));
  EXPECT_FALSE(b.day("2026-11-23").animal("juniper").in_shed_since);
  EXPECT_TRUE(has(b, TaskKind::feeding, "juniper", "2026-11-23"));
  EXPECT_FALSE(has(b, TaskKind::shed_check, "juniper", "2026-11-23"));
}

TEST(Feeding, NothingInBrumationAndOnWakingNotAWinterLate) {
  RoomBuilder b = RoomBuilder().enclosure("box").animal("t", "hermanns_tortoise");
  b.entry("2026-09-25", EntryKind::fed, "t").entry("2026-10-01", EntryKind::brumation_started, "t");
  EXPECT_FALSE(has(b, TaskKind::feeding, "t"));
  b.entry("2026-11-24", EntryKind::brumation_ended, "t");
  EXPECT_EQ(when(one(b, TaskKind::feeding, "t")), "every 1 d, due 2026-11-24, 1 late");
}

TEST(Feeding, TheLongestPauseHolds) {
  RoomBuilder b = corn_room();
  b.entry("2026-11-01", EntryKind::fed, "juniper");
  b.entry("2026-11-14", EntryKind::brumation_ended, "juniper");
  b.entry("2026-11-20", EntryKind::shed, "juniper");
  EXPECT_EQ(to_text(one(b, TaskKind::feeding, "juniper").due.date), "2026-11-20");
  b.entry("2026-11-12", EntryKind::regurgitated, "juniper");
  EXPECT_EQ(to_text(one(b, TaskKind::feeding, "juniper").due.date), "2026-11-22");
}

TEST(Feeding, TheAmountFollowsTheLatestMass) {
  // meal_share_adult 7..10 % of 500 g: 35 to 50 g.
  EXPECT_THAT(one(corn_room(), TaskKind::feeding, "juniper").detail,
              testing::StartsWith("about 35 – 50 g (7 – 10 % of 500 g, weighed 2026-11-20; "
                                  "common practice); one or more whole prey"));
  // Unweighed, or a group: the rule alone.
  RoomBuilder unweighed = RoomBuilder().enclosure("tub").animal("a", "corn_snake");
  EXPECT_THAT(one(unweighed, TaskKind::feeding, "a").detail,
              testing::StartsWith("one or more whole prey"));
  RoomBuilder group =
      RoomBuilder().enclosure("tub").animal("a", "dyeing_dart_frog", [](auto& a) { a.count = 3; });
  group.weighed("2026-11-20", "a", "15g");
  EXPECT_EQ(one(group, TaskKind::feeding, "a").detail, "fruit flies");
}

// ---- The keeper's own values -------------------------------------------------------------------

TEST(Overrides, TheKeepersIntervalsHoldInEverySituation) {
  RoomBuilder b = corn_room();
  b.override_for("juniper", "weigh_interval", "60d");
  b.override_for("juniper", "feed_interval_adult", "21d");
  b.entry("2026-11-20", EntryKind::fed, "juniper");
  b.entry("2026-11-21", EntryKind::quarantine_started, "juniper");
  const Task weighing = one(b, TaskKind::weighing, "juniper");
  EXPECT_EQ(when(weighing), "every 60 d, due 2027-01-19, 0 late");
  EXPECT_EQ(weighing.reason, "every 60 days, last 2026-11-20; keeper");
  const Task feeding = one(b, TaskKind::feeding, "juniper");
  EXPECT_EQ(when(feeding), "every 21 d, due 2026-12-11, 0 late");
  EXPECT_EQ(feeding.reason, "every 21 days, last fed 2026-11-20; adult, keeper");
}

TEST(Overrides, FeedingInShedAndOfASpecies) {
  RoomBuilder b = corn_room();
  b.entry("2026-11-22", EntryKind::in_shed, "juniper");
  b.override_for("juniper", "feed_in_shed", "yes");
  EXPECT_TRUE(has(b, TaskKind::feeding, "juniper"));
  RoomBuilder all = corn_room();
  all.add<room::Override>("o", [](room::Override& o) {
    o.species = species::SpeciesId::trusted("corn_snake");
    o.key = "feed_interval_adult";
    o.value = "2wk";
    o.reason = "fat";
  });
  EXPECT_EQ(one(all, TaskKind::feeding, "juniper").every_days, 14);
  all.override_for("juniper", "feed_interval_adult", "12d");  // its own goes first
  EXPECT_EQ(one(all, TaskKind::feeding, "juniper").every_days, 12);
}

TEST(Overrides, APartOfADayIsRoundedAndNeverLessThanOne) {
  RoomBuilder b = corn_room();
  b.override_for("juniper", "feed_interval_adult", "60h");  // 2.5 days
  EXPECT_EQ(one(b, TaskKind::feeding, "juniper").every_days, 3);
  RoomBuilder hours = corn_room();
  hours.override_for("juniper", "feed_interval_adult", "6h");
  EXPECT_EQ(one(hours, TaskKind::feeding, "juniper").every_days, 1);
}

// ---- Weighing ----------------------------------------------------------------------------------

TEST(Weighing, AGroupIsWeighedOnlyWhereTheKeeperSaysSo) {
  RoomBuilder b = RoomBuilder().enclosure("tub").animal("frogs", "dyeing_dart_frog",
                                                        [](auto& a) { a.count = 2; });
  EXPECT_FALSE(has(b, TaskKind::weighing, "frogs"));
  b.entry("2026-11-01", EntryKind::quarantine_started, "frogs");
  EXPECT_FALSE(has(b, TaskKind::weighing, "frogs"));
  b.override_for("frogs", "weigh_interval", "20d");
  EXPECT_EQ(one(b, TaskKind::weighing, "frogs").every_days, 20);
}

TEST(Weighing, ATortoiseInBrumationIsWeighedWeeklyOthersMonthly) {
  for (const auto& [species, days] : {std::pair("hermanns_tortoise", 7), {"corn_snake", 30}}) {
    RoomBuilder b = RoomBuilder().enclosure("box").animal("a", species);
    b.weighed("2026-10-30", "a", "1500g").entry("2026-11-01", EntryKind::brumation_started, "a");
    const Task task = one(b, TaskKind::weighing, "a");
    EXPECT_EQ(task.every_days, days) << species;
    EXPECT_THAT(task.detail, HasSubstr("quickly and gently"));
    EXPECT_THAT(task.detail, HasSubstr("1.5 kg on 2026-10-30"));
  }
}

TEST(Weighing, AnOwnSpeciesFollowsTheGeneralRow) {
  RoomBuilder b;
  b.add<room::OwnSpecies>("newt", [](auto& s) {
    s.common_name = "Newt";
    s.group = Group::salamander;
  });
  b.enclosure("box").animal("n", "newt", [](auto& a) { a.born = date("2020-01-01"); });
  EXPECT_EQ(one(b, TaskKind::weighing, "n").every_days, 30);
  EXPECT_EQ(one(b, TaskKind::full_clean, "box").every_days, 90);
  EXPECT_FALSE(has(b, TaskKind::misting, "box"));
}

// ---- Sheds -------------------------------------------------------------------------------------

TEST(ShedCheck, DailyWhileInShed) {
  RoomBuilder b = corn_room();
  EXPECT_FALSE(has(b, TaskKind::shed_check, "juniper"));
  b.entry("2026-11-20", EntryKind::in_shed, "juniper");
  EXPECT_EQ(when(one(b, TaskKind::shed_check, "juniper")), "every 1 d, due 2026-11-25, 0 late");
  EXPECT_THAT(one(b, TaskKind::shed_check, "juniper").detail,
              HasSubstr("in shed since 2026-11-20"));
  EXPECT_THAT(one(b, TaskKind::shed_check, "juniper").detail, HasSubstr("no food"));
  b.checked("2026-11-23", "juniper", "shed");
  EXPECT_EQ(when(one(b, TaskKind::shed_check, "juniper")), "every 1 d, due 2026-11-24, 1 late");
  b.entry("2026-11-24", EntryKind::shed, "juniper", [](auto& e) { e.item = "complete"; });
  EXPECT_FALSE(has(b, TaskKind::shed_check, "juniper"));
}

TEST(ShedCheck, AStuckShedUntilSomeoneLooked) {
  RoomBuilder b = corn_room();
  b.entry("2026-11-24", EntryKind::shed, "juniper", [](auto& e) { e.item = "stuck on the tail"; });
  const Task task = one(b, TaskKind::shed_check, "juniper");
  EXPECT_EQ(task.due.late_days, 0);
  EXPECT_THAT(task.detail, HasSubstr("stuck on 2026-11-24"));
  EXPECT_THAT(task.detail, HasSubstr("veterinarian"));
  b.checked("2026-11-25", "juniper", "shed");
  EXPECT_FALSE(has(b, TaskKind::shed_check, "juniper"));
}

// Found by this test: a look at the shed before last made the next one's check two months late.
TEST(ShedCheck, ALookAtAnEarlierShedMakesThisOneNotLate) {
  RoomBuilder b = corn_room();
  b.entry("2026-09-01", EntryKind::in_shed, "juniper").checked("2026-09-05", "juniper", "shed");
  b.entry("2026-09-08", EntryKind::shed, "juniper");
  b.entry("2026-11-24", EntryKind::in_shed, "juniper");
  EXPECT_EQ(when(one(b, TaskKind::shed_check, "juniper")), "every 1 d, due 2026-11-25, 0 late");
  b.entry("2026-11-25 08:00", EntryKind::shed, "juniper", [](auto& e) { e.item = "stuck"; });
  EXPECT_EQ(when(one(b, TaskKind::shed_check, "juniper")), "every 1 d, due 2026-11-25, 0 late");
}

// ---- Quarantine --------------------------------------------------------------------------------

TEST(QuarantineChecks, OnlyInQuarantineAndNoMitesOnAmphibians) {
  EXPECT_FALSE(has(corn_room(), TaskKind::quarantine_mite_check, "juniper"));
  EXPECT_FALSE(has(corn_room(), TaskKind::quarantine_faecal_test, "juniper"));
  RoomBuilder frog = RoomBuilder().enclosure("box").animal("f", "dyeing_dart_frog");
  frog.entry("2026-11-20", EntryKind::quarantine_started, "f");
  EXPECT_FALSE(has(frog, TaskKind::quarantine_mite_check, "f"));
  const Task sample = one(frog, TaskKind::quarantine_faecal_test, "f");
  EXPECT_THAT(sample.detail, HasSubstr("number 1 of 3"));  // quarantine_faecal_negatives 3
  EXPECT_THAT(sample.detail, HasSubstr("Bd qPCR swab"));   // quarantine_tests of the species
}

TEST(QuarantineChecks, ThreeSamplesSinceItBeganAreEnough) {
  RoomBuilder b = corn_room();
  b.checked("2026-08-20", "juniper", "faecal sample");  // before
  b.entry("2026-09-01", EntryKind::quarantine_started, "juniper");
  b.checked("2026-09-01", "juniper", "faecal sample");
  b.checked("2026-10-01", "juniper", "faecal sample");
  const Task third = one(b, TaskKind::quarantine_faecal_test, "juniper");
  EXPECT_THAT(third.detail, HasSubstr("number 3 of 3"));
  EXPECT_EQ(when(third), "every 21 d, due 2026-10-22, 34 late");
  b.checked("2026-11-01", "juniper", "faecal sample");
  EXPECT_FALSE(has(b, TaskKind::quarantine_faecal_test, "juniper"));
  EXPECT_TRUE(has(b, TaskKind::quarantine_mite_check, "juniper"));
}

// docs/notebook.md, results: an answer is not another sample, and a check with a result is a check.
TEST(QuarantineChecks, ALaboratorysAnswerIsNoSampleOfItsOwn) {
  RoomBuilder b = corn_room();
  b.entry("2026-10-20", EntryKind::quarantine_started, "juniper");
  b.checked("2026-11-01", "juniper", "faecal sample");
  b.checked("2026-11-08", "juniper", "faecal sample: negative");
  b.checked("2026-11-20", "juniper", "mites: negative");
  const Task second = one(b, TaskKind::quarantine_faecal_test, "juniper");
  EXPECT_THAT(second.detail, HasSubstr("number 2 of 3"));
  EXPECT_EQ(second.due.date, date("2026-11-22"));  // 21 days after the sample, not the answer
  EXPECT_EQ(one(b, TaskKind::quarantine_mite_check, "juniper").due.date, date("2026-12-04"));
}

// Found by this test: a sample of years ago made a new quarantine's first one years late.
TEST(QuarantineChecks, ChecksBeforeItBeganMakeNothingLate) {
  RoomBuilder b = corn_room();
  b.checked("2024-01-01", "juniper", "faecal sample").checked("2024-01-01", "juniper", "mites");
  b.entry("2026-11-24", EntryKind::quarantine_started, "juniper");
  for (const TaskKind kind : {TaskKind::quarantine_faecal_test, TaskKind::quarantine_mite_check}) {
    EXPECT_EQ(to_text(one(b, kind, "juniper").due.date), kToday) << word(kind);
    EXPECT_EQ(one(b, kind, "juniper").due.late_days, 0) << word(kind);
  }
}

// ---- Enclosures --------------------------------------------------------------------------------

TEST(Cleaning, AFullCleanIsASpotCleanToo) {
  RoomBuilder b = corn_room();
  b.entry("2026-11-10", EntryKind::spot_cleaned, "tub");
  b.entry("2026-11-24", EntryKind::full_cleaned, "tub");
  EXPECT_EQ(when(one(b, TaskKind::spot_clean, "tub")), "every 3 d, due 2026-11-27, 0 late");
  // Not the other way round.
  b.entry("2026-11-25", EntryKind::spot_cleaned, "tub");
  EXPECT_EQ(when(one(b, TaskKind::full_clean, "tub")), "every 30 d, due 2026-12-24, 0 late");
  EXPECT_EQ(to_text(one(b, TaskKind::spot_clean, "tub").due.date), "2026-11-28");
}

TEST(Enclosures, NothingIsDoneInOneThatIsEmptyOrRetired) {
  RoomBuilder b;
  b.enclosure("empty");
  b.enclosure("old", [](auto& e) { e.retired = date(kToday); }).animal("a", "corn_snake");
  b.enclosure("soon", [](auto& e) { e.retired = date("2026-11-26"); }).animal("b", "corn_snake");
  b.enclosure("left").animal("c", "corn_snake", [](auto& a) { a.left = date(kToday); });
  const auto tasks = tasks_on(b);
  for (const TaskKind kind : {TaskKind::water, TaskKind::spot_clean, TaskKind::full_clean}) {
    EXPECT_TRUE(of(tasks, kind, "empty").empty());
    EXPECT_TRUE(of(tasks, kind, "old").empty());
    EXPECT_EQ(of(tasks, kind, "soon").size(), 1u);
    EXPECT_TRUE(of(tasks, kind, "left").empty());
  }
  EXPECT_EQ(of(tasks, TaskKind::feeding, "a").size(), 1u);  // it is still fed
  EXPECT_TRUE(of(tasks, TaskKind::feeding, "c").empty());
  EXPECT_TRUE(of(tasks, TaskKind::weighing, "c").empty());
}

TEST(Enclosures, NoDishNoWater) {
  RoomBuilder b = RoomBuilder()
                      .enclosure("box", [](auto& e) { e.water_dish = false; })
                      .animal("a", "corn_snake");
  EXPECT_FALSE(has(b, TaskKind::water, "box"));
  EXPECT_TRUE(has(b, TaskKind::spot_clean, "box"));
}

TEST(Enclosures, TheWorkFollowsAnAnimalThatMoved) {
  RoomBuilder b = RoomBuilder().enclosure("a").enclosure("b").animal("juniper", "corn_snake");
  b.moved("2026-11-20", "juniper", "a");
  EXPECT_TRUE(has(b, TaskKind::water, "a"));
  EXPECT_FALSE(has(b, TaskKind::water, "b"));
  EXPECT_EQ(one(b, TaskKind::feeding, "juniper").enclosure.text(), "a");
  EXPECT_EQ(one(b, TaskKind::feeding, "juniper", "2026-11-19").enclosure.text(), "b");
}

TEST(Enclosures, RoundASleepingAnimalOnlyWaterAndScales) {
  RoomBuilder b;
  b.enclosure("box").animal("gecko", "crested_gecko");
  b.add<room::Lamp>("tube", [](auto& l) {
    l.uvb = true;
    l.enclosure = room::EnclosureId::trusted("box");
  });
  b.entry("2026-11-01", EntryKind::brumation_started, "gecko");
  for (const TaskKind kind : {TaskKind::misting, TaskKind::spot_clean, TaskKind::full_clean}) {
    EXPECT_FALSE(has(b, kind, "box")) << word(kind);
  }
  EXPECT_FALSE(has(b, TaskKind::uv_reading, "tube"));
  EXPECT_FALSE(has(b, TaskKind::feeding, "gecko"));
  EXPECT_TRUE(has(b, TaskKind::water, "box"));
  EXPECT_TRUE(has(b, TaskKind::weighing, "gecko"));
  // Someone else there is awake.
  b.animal("other", "crested_gecko");
  for (const TaskKind kind : {TaskKind::misting, TaskKind::spot_clean, TaskKind::full_clean}) {
    EXPECT_TRUE(has(b, kind, "box")) << word(kind);
  }
  EXPECT_TRUE(has(b, TaskKind::uv_reading, "tube"));
}

// Found by this test: on the day a tortoise woke, its cleaning was a winter late.
TEST(Enclosures, CleaningWaitsForTheEndOfABrumation) {
  RoomBuilder b = RoomBuilder().enclosure("box").animal("t", "hermanns_tortoise");
  b.entry("2026-08-20", EntryKind::spot_cleaned, "box");
  b.entry("2026-08-20", EntryKind::full_cleaned, "box");
  b.entry("2026-08-20", EntryKind::watered, "box");
  b.entry("2026-08-25", EntryKind::brumation_started, "t");
  b.entry("2026-11-24", EntryKind::brumation_ended, "t");
  EXPECT_EQ(when(one(b, TaskKind::spot_clean, "box")), "every 1 d, due 2026-11-24, 1 late");
  EXPECT_EQ(when(one(b, TaskKind::full_clean, "box")), "every 30 d, due 2026-11-24, 1 late");
  EXPECT_EQ(to_text(one(b, TaskKind::water, "box").due.date), "2026-08-21");  // was due all along
  // A clean since then is the anchor again.
  b.entry("2026-11-25", EntryKind::spot_cleaned, "box");
  EXPECT_EQ(when(one(b, TaskKind::spot_clean, "box")), "every 1 d, due 2026-11-26, 0 late");
  // Where somebody was awake there was no pause.
  b.animal("awake", "hermanns_tortoise");
  EXPECT_EQ(when(one(b, TaskKind::full_clean, "box")), "every 30 d, due 2026-09-19, 67 late");
}

// ---- Equipment ---------------------------------------------------------------------------------

TEST(Equipment, AThermostatThatIsNewOrTestedIsNotDue) {
  for (const EntryKind kind : {EntryKind::tested, EntryKind::replaced}) {
    RoomBuilder b = full_room().entry("2026-11-20", kind, "stat");
    EXPECT_EQ(to_text(one(b, TaskKind::thermostat_test, "stat").due.date), "2026-12-20");
  }
  RoomBuilder retired;
  retired.add<room::Thermostat>("stat", [](auto& t) { t.retired = date(kToday); });
  EXPECT_FALSE(has(retired, TaskKind::thermostat_test, "stat"));
}

TEST(Equipment, AlarmsAreTestedExtinguishersAreNot) {
  RoomBuilder b;
  b.add<room::SafetyDevice>("smoke");
  b.add<room::SafetyDevice>("heat", [](auto& d) { d.kind = room::SafetyDeviceKind::heat_alarm; });
  b.add<room::SafetyDevice>("foam", [](auto& d) { d.kind = room::SafetyDeviceKind::extinguisher; });
  EXPECT_EQ(one(b, TaskKind::smoke_alarm_test, "heat").title, "test the heat alarm heat");
  EXPECT_TRUE(has(b, TaskKind::smoke_alarm_test, "smoke"));
  EXPECT_FALSE(has(b, TaskKind::smoke_alarm_test, "foam"));
}

TEST(Equipment, UvIsReadOnlyUnderUvLampsInUseOverSomeoneWhoIsThere) {
  const auto lamp = [](const std::function<void(room::Lamp&)>& change, bool inhabited = true) {
    RoomBuilder b;
    b.enclosure("box");
    if (inhabited) b.animal("dragon", "bearded_dragon");
    b.add<room::Lamp>("tube", [&](room::Lamp& l) {
      l.uvb = true;
      l.enclosure = room::EnclosureId::trusted("box");
      change(l);
    });
    return has(b, TaskKind::uv_reading, "tube");
  };
  EXPECT_TRUE(lamp([](auto&) {}));
  EXPECT_FALSE(lamp([](auto& l) { l.uvb = false; }));
  EXPECT_FALSE(lamp([](auto& l) { l.retired = date(kToday); }));
  EXPECT_FALSE(lamp([](auto& l) { l.enclosure = {}; }));
  EXPECT_FALSE(lamp([](auto&) {}, false));
}

// lamp_life_t5: 365 d. By readings see tests/unit/light/enclosure_uv_test.cpp.
TEST(Equipment, ALampIsReplacedAtTheEndOfItsUsualLifeOverSomeoneWhoIsThere) {
  const auto lamp = [](const std::function<void(room::Lamp&)>& change, bool inhabited = true) {
    RoomBuilder b;
    b.enclosure("box");
    if (inhabited) b.animal("dragon", "bearded_dragon");
    return b.add<room::Lamp>("tube", [&](room::Lamp& l) {
      l.kind = room::LampKind::tube_t5;
      l.uvb = true;
      l.enclosure = room::EnclosureId::trusted("box");
      l.installed = date("2025-12-01");
      change(l);
    });
  };
  RoomBuilder b = lamp([](auto&) {});
  const Task task = one(b, TaskKind::lamp_replacement, "tube");
  EXPECT_EQ(task.due.date, date("2026-12-01"));
  EXPECT_EQ(task.due.late_days, 0);
  EXPECT_EQ(task.enclosure.text(), "box");
  EXPECT_THAT(task.reason, HasSubstr("usual life"));
  EXPECT_THAT(task.detail, HasSubstr("unplugged and cold"));
  EXPECT_EQ(one(b, TaskKind::lamp_replacement, "tube", "2026-12-11").due.late_days, 10);
  b.entry("2026-12-11", EntryKind::replaced, "tube");
  EXPECT_EQ(one(b, TaskKind::lamp_replacement, "tube", "2026-12-12").due.date, date("2027-12-11"));
  const auto none = [](const RoomBuilder& r) {
    return !has(r, TaskKind::lamp_replacement, "tube");
  };
  EXPECT_TRUE(none(lamp([](auto& l) { l.uvb = false; })));
  EXPECT_TRUE(none(lamp([](auto& l) { l.retired = date(kToday); })));
  EXPECT_TRUE(none(lamp([](auto& l) { l.installed = {}; })));
  EXPECT_TRUE(none(lamp([](auto& l) { l.kind = room::LampKind::led; })));  // no rule
  EXPECT_TRUE(none(lamp([](auto&) {}, false)));
}

TEST(Equipment, AJarFallsDueOnceItIsOpened) {  // jar_age 180 d
  const auto jar = [](const std::function<void(room::Jar&)>& change) {
    RoomBuilder b;
    return b.add<room::Jar>("d3", [&](room::Jar& j) {
      j.contents = room::SupplementKind::calcium_d3;
      change(j);
    });
  };
  EXPECT_FALSE(has(jar([](auto&) {}), TaskKind::jar_age, "d3"));
  EXPECT_FALSE(has(jar([](auto& j) {
                     j.opened = date("2026-01-01");
                     j.retired = date("2026-11-01");
                   }),
                   TaskKind::jar_age, "d3"));
  // 180 days from 29 May: 2 + 30 + 31 + 31 + 30 + 31 + 25 = 180.
  RoomBuilder b = jar([](auto& j) { j.opened = date("2026-05-29"); });
  const Task task = one(b, TaskKind::jar_age, "d3");
  EXPECT_EQ(when(task), "every 180 d, due 2026-11-25, 0 late");
  EXPECT_EQ(task.reason, "180 days after opening; common practice");
  EXPECT_THAT(task.detail, HasSubstr("calcium with D3, opened 2026-05-29"));
  // What the notebook says goes before the record.
  b.entry("2026-06-08", EntryKind::opened, "d3");
  EXPECT_EQ(when(one(b, TaskKind::jar_age, "d3")), "every 180 d, due 2026-12-05, 0 late");
  b.entry("2026-11-20", EntryKind::replaced, "d3");
  EXPECT_EQ(to_text(one(b, TaskKind::jar_age, "d3").due.date), "2027-05-19");
}

TEST(Feeding, SaysWhenItsJarIsToBeReplaced) {
  RoomBuilder b = corn_room();
  b.add<room::Jar>("plain", [](room::Jar& jar) {
    jar.contents = room::SupplementKind::calcium;
    jar.opened = date("2026-05-01");
  });
  for (const char* day : {"2026-10-16", "2026-10-26", "2026-11-05", "2026-11-15"}) {
    b.entry(day, EntryKind::fed, "juniper", [](room::Entry& e) {
      e.item = "adult mouse";
      e.count = 1;
      e.target = room::Subject{room::SubjectKind::jar, "plain"};
    });
  }
  EXPECT_THAT(one(b, TaskKind::feeding, "juniper").detail,
              HasSubstr("plain was opened 2026-05-01: replace it first"));
  b.entry("2026-11-20", EntryKind::replaced, "plain");
  EXPECT_THAT(one(b, TaskKind::feeding, "juniper").detail, Not(HasSubstr("replace it first")));
}

// ---- The keeper's own work ---------------------------------------------------------------------

TEST(StandingTask, StartRetiredAndItsAnimal) {
  const auto task = [](const std::function<void(room::StandingTask&)>& change) {
    RoomBuilder b = corn_room();
    b.animal("gone", "corn_snake", [](auto& a) { a.left = date("2026-11-01"); });
    return b.add<room::StandingTask>("soak", [&](room::StandingTask& t) {
      t.title = "soak";
      t.every = Duration::days(5);
      change(t);
    });
  };
  const auto animal = [](const char* id) {
    return [=](room::StandingTask& t) { t.animal = room::AnimalId::trusted(id); };
  };
  RoomBuilder later = task([](auto& t) { t.start = date("2026-12-24"); });
  EXPECT_EQ(when(one(later, TaskKind::standing, "soak")), "every 5 d, due 2026-12-24, 0 late");
  RoomBuilder early = task([](auto& t) { t.start = date("2026-11-20"); });
  EXPECT_EQ(when(one(early, TaskKind::standing, "soak")), "every 5 d, due 2026-11-20, 5 late");
  early.entry("2026-11-23", EntryKind::done, "soak");
  EXPECT_EQ(when(one(early, TaskKind::standing, "soak")), "every 5 d, due 2026-11-28, 0 late");
  EXPECT_FALSE(has(task([](auto& t) { t.retired = date(kToday); }), TaskKind::standing, "soak"));
  EXPECT_TRUE(
      has(task([](auto& t) { t.retired = date("2026-11-26"); }), TaskKind::standing, "soak"));
  EXPECT_FALSE(has(task(animal("gone")), TaskKind::standing, "soak"));
  EXPECT_TRUE(has(task(animal("gone")), TaskKind::standing, "soak", "2026-10-31"));
  const Task with = one(task(animal("juniper")), TaskKind::standing, "soak");
  EXPECT_EQ(with.enclosure.text(), "tub");
  EXPECT_EQ(with.animal.text(), "juniper");
  EXPECT_TRUE(one(task([](auto&) {}), TaskKind::standing, "soak").enclosure.empty());
}

// ---- Days --------------------------------------------------------------------------------------

TEST(Days, AfterFortyDaysAwayEachTaskIsThereOnce) {
  RoomBuilder b = full_room();
  const char* last = "2026-10-16";  // 40 days before 25 November
  for (const Work& work : kWork) {
    b.entry(last, work.done, work.subject, [&](room::Entry& e) {
      e.item = work.item;
      if (work.done == EntryKind::weighed) e.mass = Mass::grams(500);
      if (work.done == EntryKind::uv_reading) e.uvi = UvIndex::index(2);
    });
  }
  const auto tasks = tasks_on(b);
  for (const Work& work : kWork) {
    const auto found = of(tasks, work.kind, work.subject);
    ASSERT_EQ(found.size(), 1u) << word(work.kind);
    EXPECT_EQ(found[0].due.late_days, 40 - work.every_days) << word(work.kind);
  }
}

// Europe/Oslo, 2026: 29 March has 23 hours, 25 October 25 (EU directive 2000/84/EC: last Sundays).
TEST(Days, AClockChangeNeitherLosesNorDoublesADay) {
  for (const char* change : {"2026-03-29", "2026-10-25"}) {
    const Date day = date(change);
    for (const char* hour : {" 00:05", " 12:00", " 23:55"}) {
      RoomBuilder b = corn_room();
      b.entry(to_text(day - 1) + hour, EntryKind::watered, "tub");
      EXPECT_EQ(one(b, TaskKind::water, "tub", change).due.date, day) << change << hour;
      b.entry(change + std::string(hour), EntryKind::watered, "tub");
      const std::string next = to_text(day + 1);
      EXPECT_EQ(one(b, TaskKind::water, "tub", change).due.date, day + 1) << change << hour;
      EXPECT_EQ(one(b, TaskKind::water, "tub", next.c_str()).due.late_days, 0) << change << hour;
      b.entry(to_text(day - 5) + hour, EntryKind::fed, "juniper");  // ten days over the change
      b.weighed(to_text(day - 6), "juniper", "500g");
      EXPECT_EQ(one(b, TaskKind::feeding, "juniper", change).due.date, day + 5) << change << hour;
    }
  }
}

TEST(Days, ADayIsTheRoomsNotGreenwichs) {
  // 23:30 UTC on the 24th is half past midnight of the 25th in Oslo, and the afternoon of the 24th
  // in Los Angeles.
  for (const auto& [zone, due] :
       {std::pair("Europe/Oslo", "2026-11-26"), {"America/Los_Angeles", "2026-11-25"}}) {
    RoomBuilder b = RoomBuilder().zone(zone).enclosure("tub").animal("a", "corn_snake");
    b.entry("2026-11-24T23:30:00Z", EntryKind::watered, "tub");
    EXPECT_EQ(to_text(one(b, TaskKind::water, "tub").due.date), due) << zone;
  }
}

TEST(Days, AnAnimalThatHasNotArrivedHasNoWork) {
  RoomBuilder b = RoomBuilder().enclosure("tub").animal(
      "a", "corn_snake", [](auto& a) { a.arrived = date("2026-11-26"); });
  EXPECT_TRUE(tasks_on(b).empty());
  EXPECT_FALSE(tasks_on(b, "2026-11-26").empty());
}

TEST(DaysWords, OneAndMany) {
  EXPECT_EQ(days_words(1), "1 day");
  EXPECT_EQ(days_words(0), "0 days");
  EXPECT_EQ(days_words(40), "40 days");
}

}  // namespace
}  // namespace warmside::round
