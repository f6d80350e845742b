// The laid-out day: what goes to which stop, what is overdue, what lies ahead, the cautions.

#include "round/round.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::round {
namespace {

using room::EntryKind;
using test::date;
using test::RoomBuilder;
using test::TestDay;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr const char* kToday = "2026-11-25";

Round round_of(const RoomBuilder& b, std::span<const Finder> finders = {}) {
  const TestDay test = b.day(kToday);
  return lay_out(test.day, finders);
}

std::vector<std::string> titles(const std::vector<Task>& tasks) {
  std::vector<std::string> titles;
  for (const Task& task : tasks) titles.push_back(task.title);
  return titles;
}

std::vector<std::string> stops(const Round& round) {
  std::vector<std::string> ids;
  for (const Stop& stop : round.stops) ids.push_back(stop.enclosure.text());
  return ids;
}

/// Everything of a corn snake was done today.
RoomBuilder& done_today(RoomBuilder& b, const char* enclosure, const char* animal) {
  b.entry(kToday, EntryKind::fed, animal).weighed(kToday, animal, "500g");
  b.entry(kToday, EntryKind::watered, enclosure);
  return b.entry(kToday, EntryKind::full_cleaned, enclosure);
}

TEST(LayOut, AStopHasItsPlaceItsAnimalsAndItsTasksInTheOrderOfDoing) {
  RoomBuilder b;
  b.enclosure("tub", [](auto& e) {
    e.name = "The tub";
    e.rack = "rack-a";
    e.shelf = 2;
    e.position = 1;
    e.place = "east wall";
  });
  b.animal("b", "corn_snake", [](auto& a) { a.name = "Juniper"; }).animal("a", "corn_snake");
  const Round round = round_of(b);
  ASSERT_EQ(round.stops.size(), 1u);
  const Stop& stop = round.stops[0];
  EXPECT_EQ(stop.title, "The tub");
  EXPECT_EQ(stop.where, "rack-a, shelf 2, place 1; east wall");
  EXPECT_THAT(stop.animal_names, ElementsAre("a", "Juniper"));
  // Look first, weigh before feeding, clean last.
  EXPECT_THAT(titles(stop.tasks), ElementsAre("weigh a", "weigh Juniper", "fresh water", "feed a",
                                              "feed Juniper", "spot clean", "full clean"));
  EXPECT_EQ(round.date, date(kToday));
  EXPECT_EQ(round.room_name, "Test room");
  EXPECT_FALSE(round.after.empty());
}

TEST(LayOut, OnlyStopsWithWorkToday) {
  RoomBuilder b;
  b.enclosure("done").animal("a", "corn_snake");
  b.enclosure("due").animal("b", "corn_snake");
  done_today(b, "done", "a");
  EXPECT_THAT(stops(round_of(b)), ElementsAre("due"));
  done_today(b, "due", "b");
  const Round round = round_of(b);
  EXPECT_THAT(round.stops, IsEmpty());
  EXPECT_THAT(round.after, IsEmpty());
}

TEST(LayOut, WorkWithoutAnEnclosureInUseComesWithThePreparation) {
  RoomBuilder b;
  b.add<room::SafetyDevice>("alarm");
  b.enclosure("old", [](auto& e) { e.retired = date("2026-11-01"); }).animal("a", "corn_snake");
  b.add<room::Animal>("b", [](auto& a) { a.species = species::SpeciesId::trusted("corn_snake"); });
  const Round round = round_of(b);
  ASSERT_THAT(stops(round), ElementsAre(""));
  EXPECT_EQ(round.stops[0].title, "Preparation");
  EXPECT_EQ(round.stops[0].service_class, hygiene::ServiceClass::preparation);
  EXPECT_THAT(titles(round.stops[0].tasks),
              ElementsAre("test the smoke alarm alarm", "weigh a", "weigh b", "feed a", "feed b"));
}

TEST(LayOut, TheNextSevenDaysSoonestFirst) {
  RoomBuilder b;
  const auto task = [&](const char* id, const char* start) {
    b.add<room::StandingTask>(id, [=](auto& t) {
      t.title = id;
      t.start = date(start);
    });
  };
  task("today", "2026-11-25");
  task("last", "2026-12-02");  // seven days on
  task("soon", "2026-11-26");
  task("beyond", "2026-12-03");
  const Round round = round_of(b);
  EXPECT_THAT(titles(round.ahead), ElementsAre("soon", "last"));
  EXPECT_THAT(titles(round.stops.at(0).tasks), ElementsAre("today"));
}

TEST(LayOut, AFindingAboutAnAnimalPutsItUnderObservation) {
  RoomBuilder b;
  b.enclosure("a").animal("x", "corn_snake");
  b.enclosure("b").animal("y", "corn_snake");
  const auto about = [](const char* kind, const char* id, When when) {
    return std::vector<Finder>{[=](const room::Day&) {
      Finding finding;
      finding.when = when;
      finding.subject_kind = kind;
      finding.subject = id;
      return std::vector<Finding>{finding};
    }};
  };
  EXPECT_THAT(stops(round_of(b)), ElementsAre("a", "b"));
  for (const When when : {When::now, When::today, When::this_week}) {
    const Round round = round_of(b, about("animal", "x", when));
    EXPECT_THAT(stops(round), ElementsAre("b", "a"));
    EXPECT_EQ(round.stops[1].service_class, hygiene::ServiceClass::observation);
    EXPECT_EQ(round.stops[1].tasks[0].every_days, 7);  // weighing, observation
    EXPECT_EQ(round.findings.size(), 1u);
  }
  EXPECT_THAT(stops(round_of(b, about("animal", "x", When::good_to_know))), ElementsAre("a", "b"));
  EXPECT_THAT(stops(round_of(b, about("enclosure", "x", When::now))), ElementsAre("a", "b"));
}

TEST(LayOut, TheModulesFindingsAreThereMostUrgentFirst) {
  // One of each module that has findings.
  RoomBuilder b;
  b.enclosure("tub").animal("juniper", "corn_snake");
  b.weighed("2026-11-10", "juniper", "500g").weighed(kToday, "juniper", "400g");
  b.temperature(kToday, "tub", "warm side", "33C");
  b.add<room::Lamp>("tube", [](auto& l) { l.uvb = true; });
  b.uv("2026-10-01", "tube", 4).uv(kToday, "tube", 1);
  b.add<room::Jar>("d3", [](auto& j) { j.expires = date("2026-11-01"); });
  const TestDay test = b.day(kToday);
  const Round round = lay_out(test.day);
  std::vector<std::string> modules;
  When last = When::now;
  for (const Finding& finding : round.findings) {
    EXPECT_GE(finding.when, last);
    last = finding.when;
    modules.push_back(finding.module);
  }
  // Of safety the missing thermometer, and at the end what the room file does not say.
  EXPECT_THAT(modules, ElementsAre("health", "climate", "safety", "stores", "light", "safety"));
}

// ---- Overdue work: late by more than half its interval
// -------------------------------------------

/// A standing task of this interval that is late by so many days.
RoomBuilder& late(RoomBuilder& b, const char* id, int every, int days) {
  return b.add<room::StandingTask>(id, [=](auto& t) {
    t.title = id;
    t.every = Duration::days(every);
    t.start = date(kToday) - days;
  });
}

TEST(Overdue, ByMoreThanHalfTheInterval) {
  const struct {
    int every, late;
    bool overdue;
    When when;
  } kCases[] = {{1, 0, false, When::today},     {1, 1, true, When::today},
                {10, 5, false, When::today},    {10, 6, true, When::this_week},
                {10, 9, true, When::this_week}, {10, 10, true, When::today},
                {7, 3, false, When::today},     {7, 4, true, When::this_week},
                {30, 15, false, When::today},   {30, 16, true, When::this_week}};
  for (const auto& c : kCases) {
    RoomBuilder b;
    const auto found = round_of(late(b, "soak", c.every, c.late)).findings;
    ASSERT_EQ(found.size(), c.overdue ? 1u : 0u) << c.late << " of " << c.every;
    if (!c.overdue) continue;
    EXPECT_EQ(found[0].when, c.when) << c.late << " of " << c.every;
  }
}

TEST(Overdue, OneIsNamedSeveralAreCounted) {
  RoomBuilder b;
  late(b, "soak", 2, 3);
  Finding one = round_of(b).findings.at(0);
  EXPECT_EQ(one.headline, "Overdue by 3 days: soak");
  EXPECT_EQ(one.subject_kind, "task");
  EXPECT_EQ(one.subject, "soak");
  EXPECT_EQ(one.module, "round");
  EXPECT_THAT(one.evidence, HasSubstr("ue 2026-11-22, 3 days late"));
  late(b, "rinse", 30, 20);
  const auto found = round_of(b).findings;
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].headline, "Work of your own is overdue 2 times, the longest by 20 days");
  EXPECT_EQ(found[0].subject, "room");
  EXPECT_EQ(found[0].when, When::today);  // the soak is by a whole interval, the rinse is not
  EXPECT_THAT(found[0].evidence, testing::MatchesRegex(".*rinse: .*20 days.*; soak: .*3 days.*"));
}

TEST(Overdue, AtMostEightAreNamed) {
  RoomBuilder b;
  for (const char* id : {"a", "b", "c", "d", "e", "f", "g", "h"}) late(b, id, 1, 1);
  EXPECT_THAT(round_of(b).findings.at(0).evidence, Not(HasSubstr("more")));
  late(b, "i", 1, 1);
  late(b, "j", 1, 1);
  EXPECT_THAT(round_of(b).findings.at(0).evidence, HasSubstr("; and 2 more."));
}

TEST(Overdue, AKindAFindingNotATaskAFinding) {
  RoomBuilder b;
  b.enclosure("a").animal("x", "corn_snake");
  b.enclosure("b").animal("y", "corn_snake");
  for (const char* id : {"a", "b"}) {
    b.entry("2026-10-16", EntryKind::watered, id).entry("2026-10-16", EntryKind::spot_cleaned, id);
  }
  const auto found = round_of(b).findings;
  ASSERT_EQ(found.size(), 2u);
  EXPECT_EQ(found[0].headline, "Fresh water is overdue 2 times, the longest by 39 days");
  EXPECT_EQ(found[1].headline, "Spot cleaning is overdue 2 times, the longest by 37 days");
  EXPECT_THAT(found[0].evidence, testing::MatchesRegex(".*a[:,].*39 days.*; b[:,].*39 days.*"));
}

// ---- Cautions ----------------------------------------------------------------------------------

TEST(Cautions, SalmonellaAlwaysAndWhoLivesThere) {
  const auto cautions = [](room::Answer answer) {
    return round_of(RoomBuilder().info([=](auto& i) { i.vulnerable_person = answer; })).cautions;
  };
  EXPECT_THAT(cautions(room::Answer::no),
              ElementsAre(HasSubstr("Salmonella"), HasSubstr("kitchen sink")));
  EXPECT_THAT(cautions(room::Answer::yes),
              ElementsAre(HasSubstr("Salmonella"), HasSubstr("kitchen sink"),
                          HasSubstr("no contact with the animals")));
  EXPECT_THAT(cautions(room::Answer::unknown),
              ElementsAre(HasSubstr("Salmonella"), HasSubstr("kitchen sink"),
                          HasSubstr("vulnerable_person")));
}

}  // namespace
}  // namespace warmside::round
