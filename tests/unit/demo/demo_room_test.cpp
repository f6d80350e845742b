// The demo room keeps its promises: it is the same everywhere, its records and entries are sound,
// each planted fault of docs/demo-room.md is in the data, and nothing else is wrong. Intervals and
// ranges are those of data/ and of the keeper's overrides, looked up here, not in the maker.

#include "demo/demo_room.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>

#include "room/look_up.h"

namespace warmside::demo {
namespace {

using namespace room;
using species::Key;

Zone oslo() {
  return Zone::named("Europe/Oslo").value();
}

/// The default demo room, made once.
const DemoBook& book() {
  static const DemoBook made = make_demo_room();
  return made;
}

std::set<Uuid> struck_ids(const std::vector<Entry>& entries) {
  std::set<Uuid> ids;
  for (const Entry& entry : entries) {
    if (entry.strikes) ids.insert(*entry.strikes);
  }
  return ids;
}

/// Entries of a kind about a subject that hold, oldest first.
std::vector<Entry> entries_of(const DemoBook& demo, EntryKind kind, const Subject& subject) {
  const std::set<Uuid> struck = struck_ids(demo.entries);
  std::vector<Entry> found;
  for (const Entry& entry : demo.entries) {
    if (entry.kind == kind && entry.subject == subject && !struck.contains(entry.id)) {
      found.push_back(entry);
    }
  }
  return found;
}

Subject animal(const std::string& id) {
  return {SubjectKind::animal, id};
}
Subject enclosure(const std::string& id) {
  return {SubjectKind::enclosure, id};
}

/// Days from the latest of these kinds of entry about the subject to the last day; 9999: none.
int days_since(const Subject& subject, std::initializer_list<EntryKind> kinds,
               const std::string& item = "") {
  int days = 9999;
  for (const EntryKind kind : kinds) {
    for (const Entry& entry : entries_of(book(), kind, subject)) {
      if (!item.empty() && entry.item != item) continue;
      days = std::min(days, kDemoLastDay - oslo().date_of(entry.at));
    }
  }
  return days;
}

bool exists(const Room& room, const Subject& subject) {
  switch (subject.kind) {
    case SubjectKind::room:
      return subject.id == "room";
    case SubjectKind::animal:
      return find(room.animals, AnimalId::trusted(subject.id));
    case SubjectKind::enclosure:
      return find(room.enclosures, EnclosureId::trusted(subject.id));
    case SubjectKind::thermostat:
      return find(room.thermostats, ThermostatId::trusted(subject.id));
    case SubjectKind::heater:
      return find(room.heaters, HeaterId::trusted(subject.id));
    case SubjectKind::lamp:
      return find(room.lamps, LampId::trusted(subject.id));
    case SubjectKind::instrument:
      return find(room.instruments, InstrumentId::trusted(subject.id));
    case SubjectKind::tool:
      return find(room.tools, ToolId::trusted(subject.id));
    case SubjectKind::jar:
      return find(room.jars, JarId::trusted(subject.id));
    case SubjectKind::supply:
      return find(room.supplies, SupplyId::trusted(subject.id));
    case SubjectKind::safety_device:
      return find(room.safety_devices, SafetyDeviceId::trusted(subject.id));
    case SubjectKind::task:
      return find(room.tasks, StandingTaskId::trusted(subject.id));
  }
  return false;
}

// ---- Sound on every day ------------------------------------------------------------------------

class DemoRoomOn : public testing::TestWithParam<const char*> {
 protected:
  Date last_day_ = parse_date(GetParam()).value();
  DemoBook demo_ = make_demo_room(last_day_);
};

TEST_P(DemoRoomOn, RecordsFitTogether) {
  for (const RecordProblem& p : check_room(demo_.room)) {
    ADD_FAILURE() << p.kind << " " << p.id << " " << p.field << ": " << to_line(p.problem);
  }
  Room sorted = demo_.room;
  sort_records(sorted);
  EXPECT_EQ(sorted, demo_.room);
}

TEST_P(DemoRoomOn, EntriesKeepTheirRulesAndNameThingsThatExist) {
  std::set<Uuid> known;
  for (const Entry& entry : demo_.entries) {
    for (const Problem& problem : check_entry(entry)) {
      ADD_FAILURE() << to_text(entry.at) << " " << word(entry.kind) << ": " << to_line(problem);
    }
    EXPECT_TRUE(exists(demo_.room, entry.subject)) << entry.subject.id;
    EXPECT_TRUE(find(demo_.room.keepers, entry.by)) << entry.by.text();
    if (entry.target) {
      EXPECT_TRUE(exists(demo_.room, *entry.target)) << entry.target->id;
    }
    if (entry.strikes) {
      EXPECT_TRUE(known.contains(*entry.strikes));
    }
    EXPECT_TRUE(known.insert(entry.id).second) << "the same id twice";
  }
}

TEST_P(DemoRoomOn, EntriesRunThroughEighteenMonthsInDaylightHours) {
  const Zone zone = oslo();
  for (std::size_t i = 1; i < demo_.entries.size(); ++i) {
    ASSERT_LT(demo_.entries[i - 1].at, demo_.entries[i].at);
    ASSERT_LT(demo_.entries[i - 1].id, demo_.entries[i].id);
  }
  EXPECT_EQ(zone.date_of(demo_.entries.front().at), last_day_ - kDemoDays);
  EXPECT_EQ(zone.date_of(demo_.entries.back().at), last_day_ - 1);
  for (const Entry& entry : demo_.entries) {  // on the wall clock, before and after its changes
    const std::string time = zone.wall_text(entry.at).substr(11);
    ASSERT_TRUE((time >= "08:40" && time < "12:00") || (time >= "17:50" && time < "19:30")) << time;
  }
}

TEST_P(DemoRoomOn, NobodyIsCaredForBeforeArrivingOrAfterLeaving) {
  const Zone zone = oslo();
  for (const Entry& entry : demo_.entries) {
    if (entry.subject.kind != SubjectKind::animal) continue;
    const Animal& who = *find(demo_.room.animals, AnimalId::trusted(entry.subject.id));
    const Date day = zone.date_of(entry.at);
    EXPECT_GE(day, *who.arrived) << who.name;
    if (who.left) {
      EXPECT_LE(day, *who.left) << who.name;
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Days, DemoRoomOn,
                         testing::Values("2026-11-25", "2026-07-20", "2027-01-15", "2024-02-29",
                                         "2027-03-01", "2026-03-29", "2000-01-01", "2100-12-31"));

TEST(DemoRoom, IsTheSameEachTimeAndDiffersBySeed) {
  const DemoBook again = make_demo_room();
  EXPECT_EQ(again.room, book().room);
  EXPECT_EQ(again.entries, book().entries);
  EXPECT_NE(make_demo_room(kDemoLastDay, 1).entries, book().entries);
  EXPECT_EQ(make_demo_room(kDemoLastDay, 1).room, book().room);
}

TEST(DemoRoom, HasTheSizeThatTheDesignPageGives) {
  EXPECT_EQ(to_text(kDemoLastDay), "2026-11-25");
  EXPECT_EQ(book().room.enclosures.size(), 10u);
  EXPECT_EQ(book().room.animals.size(), 14u);
  EXPECT_EQ(book().room.circuits.size(), 2u);
  int heads = 0;
  for (const Animal& a : book().room.animals) heads += is_here(a, kDemoLastDay) ? a.count : 0;
  EXPECT_EQ(heads, 16);  // thirteen records, of which one is a group of four
  EXPECT_GT(book().entries.size(), 9'000u);
  EXPECT_LT(book().entries.size(), 13'000u);
}

TEST(DemoRoom, TellsItsStory) {
  std::map<EntryKind, int> count;
  std::set<std::string> written_by;
  for (const Entry& entry : book().entries) {
    ++count[entry.kind];
    written_by.insert(entry.by.text());
  }
  for (const EntryKind kind :
       {EntryKind::refused, EntryKind::regurgitated, EntryKind::shed, EntryKind::moved,
        EntryKind::quarantine_ended, EntryKind::brumation_ended, EntryKind::laid_eggs,
        EntryKind::recovered, EntryKind::struck, EntryKind::note}) {
    EXPECT_GT(count[kind], 0) << word(kind);
  }
  EXPECT_EQ(written_by, (std::set<std::string>{"keeper", "sitter"}));
  // Two winters begin, one has ended: the tortoise sleeps on the last day.
  EXPECT_EQ(count[EntryKind::brumation_started], 2);
  EXPECT_EQ(count[EntryKind::brumation_ended], 1);
}

TEST(DemoRoom, PythonFastsForMonthsAtASteadyMass) {
  const Zone zone = oslo();
  const auto ate = entries_of(book(), EntryKind::fed, animal("basalt"));
  int longest = 0;
  for (std::size_t i = 1; i < ate.size(); ++i) {
    longest = std::max(longest, zone.date_of(ate[i].at) - zone.date_of(ate[i - 1].at));
  }
  EXPECT_GT(longest, 120);
  const auto [low, high] = [] {
    const auto weighed = entries_of(book(), EntryKind::weighed, animal("basalt"));
    return std::pair(*std::min_element(weighed.begin(), weighed.end(),
                                       [](auto& a, auto& b) { return *a.mass < *b.mass; })
                          ->mass,
                     *std::max_element(weighed.begin(), weighed.end(), [](auto& a, auto& b) {
                        return *a.mass < *b.mass;
                      })->mass);
  }();
  EXPECT_LT(1 - low / high, 0.08);
}

// ---- Planted faults, in the order of docs/demo-room.md -----------------------------------------

/// The share lost from the highest weighing of the 90 days before the latest.
double lost_share(const std::string& id) {
  const auto weighed = entries_of(book(), EntryKind::weighed, animal(id));
  if (weighed.empty()) return 0;
  const Entry& latest = weighed.back();
  Mass highest = *latest.mass;
  for (const Entry& entry : weighed) {
    if (entry.at >= latest.at - Duration::days(90)) highest = std::max(highest, *entry.mass);
  }
  return 1 - *latest.mass / highest;
}

TEST(DemoRoomFault, OneMossLosesWeightAndNobodyElseDoes) {
  EXPECT_GT(lost_share("moss"), 0.10);
  EXPECT_LT(lost_share("moss"), 0.20);
  for (const Animal& who : book().room.animals) {
    if (who.id.text() == "moss") continue;
    const double limit =
        profile_of(book().room, who).value<Percentage>(Key::mass_loss_limit)->share();
    EXPECT_LT(lost_share(who.id.text()), limit / 2) << who.name;
  }
}

TEST(DemoRoomFault, TwoThermostatDriftsAndAllOtherReadingsAreInside) {
  const Zone zone = oslo();
  const Room& room = book().room;
  std::map<std::string, std::string> home;
  for (const Animal& who : room.animals) home[who.id.text()] = who.enclosure.text();
  std::set<std::string> asleep;
  int above = 0, readings = 0;
  for (const Entry& entry : book().entries) {
    if (entry.kind == EntryKind::moved) home[entry.subject.id] = entry.target->id;
    if (entry.kind == EntryKind::brumation_started) asleep.insert(entry.subject.id);
    if (entry.kind == EntryKind::brumation_ended) asleep.erase(entry.subject.id);
    if (entry.kind != EntryKind::reading) continue;
    ++readings;
    const Date day = zone.date_of(entry.at);
    const int ago = kDemoLastDay - day;
    int residents = 0;
    for (const Animal& who : room.animals) {
      if (home[who.id.text()] != entry.subject.id || !is_here(who, day)) continue;
      ++residents;
      const auto profile = profile_of(room, who);
      const bool sleeps = asleep.contains(who.id.text());
      const Key place = entry.item == "warm side"   ? Key::warm_side_air
                        : entry.item == "cool side" ? Key::cool_side
                                                    : Key::basking_surface;
      const auto* range =
          profile.value<Range<Temperature>>(sleeps ? Key::brumation_temperature : place);
      const bool drift = entry.subject.id == "rack-a-3" && place == Key::warm_side_air && ago < 80;
      if (entry.temperature && drift) {
        above += *entry.temperature > range->high;
        if (ago <= 12) {
          EXPECT_GT(*entry.temperature, range->high) << ago;
        }
      } else if (entry.temperature) {
        EXPECT_TRUE(range->contains(*entry.temperature))
            << who.name << " " << entry.item << " " << entry.temperature->celsius();
      }
      if (entry.humidity) {
        EXPECT_TRUE(profile.value<Range<Percentage>>(Key::humidity)->contains(*entry.humidity))
            << who.name << " " << entry.humidity->percent();
      }
    }
    EXPECT_GT(residents, 0) << "a reading in an empty enclosure: " << entry.subject.id;
  }
  EXPECT_GE(above, 6);
  EXPECT_GT(readings, 1'000);
}

TEST(DemoRoomFault, ThreeSkinksTubeIsPastItsLifeAndTheOthersAreNot) {
  for (const Lamp& lamp : book().room.lamps) {
    if (!lamp.uvb) continue;
    const Subject subject{SubjectKind::lamp, lamp.id.text()};
    const auto replaced = entries_of(book(), EntryKind::replaced, subject);
    auto read = entries_of(book(), EntryKind::uv_reading, subject);
    if (!replaced.empty()) {
      EXPECT_EQ(oslo().date_of(replaced.back().at), *lamp.installed) << lamp.id.text();
      std::erase_if(read, [&](const Entry& entry) { return entry.at < replaced.back().at; });
    }
    ASSERT_GE(read.size(), 2u) << lamp.id.text();
    const bool old = lamp.id.text() == "lamp-uvb-skink";
    EXPECT_EQ(*read.back().uvi < *read.front().uvi * 0.70, old) << lamp.id.text();
    EXPECT_EQ(kDemoLastDay - *lamp.installed > 365, old) << lamp.id.text();
  }
}

TEST(DemoRoomFault, FourTubGoesFromQuarantineToJuniperWithoutDisinfection) {
  int crossings = 0;
  std::map<std::string, std::string> dirty_from;  // tool -> the animal that was last in it
  for (const Entry& entry : book().entries) {
    if (entry.kind == EntryKind::disinfected) dirty_from.erase(entry.subject.id);
    if (entry.kind != EntryKind::used) continue;
    std::string& before = dirty_from[entry.subject.id];
    if (!before.empty() && before != entry.target->id) {
      ++crossings;
      EXPECT_EQ(entry.subject.id, "tub-shared");
      EXPECT_EQ(before, "garnet");
      EXPECT_EQ(entry.target->id, "juniper");
      EXPECT_EQ(kDemoLastDay - oslo().date_of(entry.at), 8);
    }
    before = entry.target->id;
  }
  EXPECT_EQ(crossings, 1);
  const Tool* tub = find(book().room.tools, ToolId::trusted("tub-shared"));
  ASSERT_TRUE(tub);
  EXPECT_TRUE(tub->enclosure.empty());
}

TEST(DemoRoomFault, FiveOnlyTheQuarantineMatLacksAThermostat) {
  for (const Heater& heater : book().room.heaters) {
    EXPECT_EQ(heater.thermostat.empty(), heater.id.text() == "mat-quarantine-1")
        << heater.id.text();
  }
}

TEST(DemoRoomFault, SixOnlyTheDartFrogsLackAThermometer) {
  for (const Enclosure& e : book().room.enclosures) {
    const auto& all = book().room.instruments;
    const bool has = std::any_of(all.begin(), all.end(), [&](const Instrument& i) {
      return i.enclosure == e.id &&
             (i.kind == InstrumentKind::thermometer || i.kind == InstrumentKind::both);
    });
    EXPECT_EQ(has, e.id.text() != "rack-b-3") << e.id.text();
  }
}

TEST(DemoRoomFault, SevenOnlyTheRetinolJarIsOld) {
  for (const Jar& jar : book().room.jars) {
    const auto opened = entries_of(book(), EntryKind::opened, {SubjectKind::jar, jar.id.text()});
    ASSERT_FALSE(opened.empty()) << jar.id.text();
    EXPECT_EQ(oslo().date_of(opened.back().at), *jar.opened);
    EXPECT_EQ(kDemoLastDay - *jar.opened > 180, jar.id.text() == "jar-retinol") << jar.id.text();
    EXPECT_GT(*jar.expires, kDemoLastDay);
  }
}

// ---- Everything else is up to date -------------------------------------------------------------

TEST(DemoRoom, EnclosuresAreTendedInTime) {
  const std::map<std::string, std::pair<int, int>> spot_and_full{
      {"rack-a-1", {3, 30}},    {"rack-a-2", {3, 30}},    {"rack-a-3", {3, 30}},
      {"rack-b-1", {1, 30}},    {"rack-b-2", {1, 90}},    {"rack-b-3", {1, 90}},
      {"skink-table", {1, 30}}, {"quarantine-1", {1, 7}},
  };
  for (const auto& [name, days] : spot_and_full) {
    EXPECT_EQ(days_since(enclosure(name), {EntryKind::watered}), 1) << name;
    EXPECT_LE(days_since(enclosure(name), {EntryKind::spot_cleaned, EntryKind::full_cleaned}),
              days.first)
        << name;
    EXPECT_LE(days_since(enclosure(name), {EntryKind::full_cleaned}), days.second) << name;
    EXPECT_LE(days_since(enclosure(name), {EntryKind::reading}), 3) << name;
  }
  EXPECT_EQ(days_since(enclosure("rack-b-1"), {EntryKind::misted}), 1);
  EXPECT_EQ(days_since(enclosure("rack-b-3"), {EntryKind::misted}), 1);
  EXPECT_EQ(days_since(enclosure("cold-box"), {EntryKind::reading}), 1);
  EXPECT_LE(days_since(enclosure("cold-box"), {EntryKind::full_cleaned}), 30);
}

TEST(DemoRoom, AnimalsAreFedAndWeighedInTime) {
  for (const Animal& who : book().room.animals) {
    if (!is_here(who, kDemoLastDay)) continue;
    const std::string id = who.id.text();
    const auto profile = profile_of(book().room, who);
    const Mass adult = profile.value<Range<Mass>>(Key::adult_mass)->low;
    const auto weighed = entries_of(book(), EntryKind::weighed, animal(id));
    ASSERT_FALSE(weighed.empty()) << id;
    const bool young = *weighed.back().mass < adult;
    EXPECT_EQ(young, id == "rowan" || id == "garnet") << id;
    const int weigh_days = id == "garnet" || id == "thistle" || id == "moss" ? 7 : young ? 14 : 30;
    EXPECT_LE(days_since(animal(id), {EntryKind::weighed}), weigh_days) << id;
    if (id == "thistle") continue;  // in brumation
    const Key key = young ? Key::feed_interval_juvenile : Key::feed_interval_adult;
    const int feed_days = static_cast<int>(profile.value<Duration>(key)->days());
    if (id == "basalt") {  // fasts; offered again after half the interval
      EXPECT_LE(days_since(animal(id), {EntryKind::refused}), feed_days / 2);
    } else {
      EXPECT_LE(days_since(animal(id), {EntryKind::fed}), feed_days) << id;
    }
  }
  EXPECT_LE(days_since(animal("garnet"), {EntryKind::checked}, "mites: negative"), 14);
  EXPECT_LE(days_since(animal("garnet"), {EntryKind::checked}, "faecal sample: negative"), 21);
  EXPECT_EQ(days_since(animal("rowan"), {EntryKind::in_shed}), 4);
  EXPECT_EQ(days_since(animal("rowan"), {EntryKind::checked}, "shed"), 1);
}

TEST(DemoRoom, EquipmentIsTestedAndStandingWorkDoneInTime) {
  for (const Thermostat& t : book().room.thermostats) {
    EXPECT_LE(days_since({SubjectKind::thermostat, t.id.text()}, {EntryKind::tested}), 30);
  }
  for (const SafetyDevice& d : book().room.safety_devices) {
    EXPECT_LE(days_since({SubjectKind::safety_device, d.id.text()}, {EntryKind::tested}), 30);
  }
  for (const Lamp& lamp : book().room.lamps) {
    if (!lamp.uvb) continue;
    EXPECT_LE(days_since({SubjectKind::lamp, lamp.id.text()}, {EntryKind::uv_reading}), 30)
        << lamp.id.text();
  }
  for (const StandingTask& task : book().room.tasks) {
    EXPECT_LE(days_since({SubjectKind::task, task.id.text()}, {EntryKind::done}),
              static_cast<int>(task.every.days()))
        << task.id.text();
  }
}

}  // namespace
}  // namespace warmside::demo
