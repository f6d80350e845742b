// What each kind of entry may and must hold. The table is written out again here, from what a
// keeper jots down, so that a slip in entry.cpp's table is seen; every kind is then tried with
// every subject, part and target.

#include "room/entry.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <limits>
#include <string>
#include <vector>

namespace warmside::room {
namespace {

using K = EntryKind;
using S = SubjectKind;
using P = Part;

constexpr int kSubjectKinds = static_cast<int>(S::task) + 1;
constexpr int kEntryKinds = static_cast<int>(K::struck) + 1;

struct Expected {
  K kind;
  std::vector<S> subjects;  // empty: anything
  std::vector<P> must;
  std::vector<P> may;
  std::vector<S> targets;
};

const std::vector<Expected> kTable{
    {K::weighed, {S::animal}, {P::mass}, {}, {}},
    {K::measured, {S::animal}, {P::length}, {P::item}, {}},
    {K::fed, {S::animal}, {}, {P::item, P::count, P::mass, P::target}, {S::jar}},
    {K::refused, {S::animal}, {}, {P::item, P::count, P::mass, P::target}, {S::jar}},
    {K::leftovers, {S::animal}, {}, {P::item, P::count, P::mass, P::target}, {S::animal}},
    {K::regurgitated, {S::animal}, {}, {P::item}, {}},
    {K::in_shed, {S::animal}, {}, {}, {}},
    {K::shed, {S::animal}, {}, {P::item}, {}},
    {K::droppings, {S::animal}, {}, {P::item}, {}},
    {K::watered, {S::enclosure}, {}, {}, {}},
    {K::spot_cleaned, {S::enclosure}, {}, {}, {}},
    {K::full_cleaned, {S::enclosure}, {}, {P::item}, {}},
    {K::misted, {S::enclosure}, {}, {}, {}},
    {K::reading, {S::enclosure}, {}, {P::temperature, P::humidity, P::item}, {}},
    {K::uv_reading, {S::lamp}, {P::uvi}, {P::item, P::length}, {}},
    {K::moved, {S::animal}, {P::target}, {}, {S::enclosure}},
    {K::quarantine_started, {S::animal}, {}, {}, {}},
    {K::quarantine_ended, {S::animal}, {}, {}, {}},
    {K::brumation_started, {S::animal}, {}, {}, {}},
    {K::brumation_ended, {S::animal}, {}, {}, {}},
    {K::ill, {S::animal}, {}, {P::item}, {}},
    {K::recovered, {S::animal}, {}, {}, {}},
    {K::laid_eggs, {S::animal}, {}, {P::count}, {}},
    {K::checked, {S::animal, S::room}, {P::item}, {}, {}},
    {K::tested,
     {S::thermostat, S::safety_device, S::instrument, S::heater, S::room},
     {},
     {P::item},
     {}},
    {K::used, {S::tool}, {P::target}, {}, {S::animal, S::enclosure}},
    {K::disinfected, {S::tool, S::enclosure, S::room}, {}, {P::item, P::count}, {}},
    {K::opened, {S::jar}, {}, {}, {}},
    {K::replaced,
     {S::lamp, S::heater, S::thermostat, S::instrument, S::safety_device, S::jar},
     {},
     {},
     {}},
    {K::done, {S::task}, {}, {}, {}},
    {K::note, {}, {}, {}, {}},
    {K::struck, {}, {P::strikes}, {}, {}},
};

template <class T>
bool has(const std::vector<T>& list, T value) {
  return std::find(list.begin(), list.end(), value) != list.end();
}

void fill(Entry& entry, Part part, const Expected& row) {
  switch (part) {
    case P::mass:
      entry.mass = Mass::grams(812);
      break;
    case P::length:
      entry.length = Length::centimetres(30);
      break;
    case P::temperature:
      entry.temperature = Temperature::celsius(28);
      break;
    case P::humidity:
      entry.humidity = Percentage::percent(55);
      break;
    case P::uvi:
      entry.uvi = UvIndex::index(3);
      break;
    case P::count:
      entry.count = 2;
      break;
    case P::item:
      entry.item = "adult mouse";
      break;
    case P::target:
      entry.target = Subject{row.targets.empty() ? S::jar : row.targets.front(), "x"};
      break;
    case P::strikes:
      entry.strikes = Uuid{};
      break;
  }
}

void clear(Entry& entry, Part part) {
  switch (part) {
    case P::mass:
      entry.mass.reset();
      break;
    case P::length:
      entry.length.reset();
      break;
    case P::temperature:
      entry.temperature.reset();
      break;
    case P::humidity:
      entry.humidity.reset();
      break;
    case P::uvi:
      entry.uvi.reset();
      break;
    case P::count:
      entry.count.reset();
      break;
    case P::item:
      entry.item.clear();
      break;
    case P::target:
      entry.target.reset();
      break;
    case P::strikes:
      entry.strikes.reset();
      break;
  }
}

/// The entry with only what it must have. A reading must have one of two.
Entry smallest(const Expected& row) {
  Entry entry;
  entry.kind = row.kind;
  if (!row.subjects.empty()) entry.subject = {row.subjects.front(), "x"};
  for (const Part part : row.must) fill(entry, part, row);
  if (row.kind == K::reading) fill(entry, P::temperature, row);
  return entry;
}

/// "code:field", for each problem.
std::vector<std::string> found(const Entry& entry) {
  std::vector<std::string> list;
  for (const Problem& p : check_entry(entry)) {
    list.push_back(std::string(name_of(p.code)) + ":" + p.where.field);
  }
  return list;
}

using Found = std::vector<std::string>;

TEST(EntryRules, TheTableNamesEveryKindOnceInOrder) {
  ASSERT_EQ(kTable.size(), static_cast<std::size_t>(kEntryKinds));
  for (int i = 0; i < kEntryKinds; ++i) {
    EXPECT_EQ(kTable[static_cast<std::size_t>(i)].kind, static_cast<K>(i));
    EXPECT_EQ(rule_of(static_cast<K>(i)).kind, static_cast<K>(i));
    EXPECT_FALSE(rule_of(static_cast<K>(i)).words.empty());
  }
}

TEST(EntryRules, AnItemIsExplainedWhereThereIsOne) {
  for (const Expected& row : kTable) {
    EXPECT_EQ(rule_of(row.kind).item.empty(), !has(row.must, P::item) && !has(row.may, P::item))
        << word(row.kind);
  }
}

TEST(EntryRules, WordsLeadBack) {
  for (int i = 0; i < kEntryKinds; ++i) {
    EXPECT_EQ(from_word<K>(word(static_cast<K>(i))), static_cast<K>(i));
  }
  for (int i = 0; i < kSubjectKinds; ++i) {
    EXPECT_EQ(from_word<S>(word(static_cast<S>(i))), static_cast<S>(i));
  }
  EXPECT_EQ(word(K::uv_reading), "uv_reading");
  EXPECT_EQ(word(K::struck), "struck");
  EXPECT_EQ(word(S::safety_device), "safety_device");
}

class EachKind : public testing::TestWithParam<Expected> {};

TEST_P(EachKind, TheSmallestGoodEntryPasses) {
  EXPECT_EQ(found(smallest(GetParam())), Found{});
}

TEST_P(EachKind, TheFullestGoodEntryPasses) {
  Entry entry = smallest(GetParam());
  for (const Part part : GetParam().may) fill(entry, part, GetParam());
  entry.note = "as always";
  entry.by = KeeperId::trusted("ann");
  EXPECT_EQ(found(entry), Found{});
}

TEST_P(EachKind, EveryPartIsMissedOrRefusedAsItShould) {
  const Expected& row = GetParam();
  for (std::size_t i = 0; i < kPartCount; ++i) {
    const Part part = static_cast<Part>(i);
    const std::string name(word(part));
    Entry entry = smallest(row);
    if (has(row.must, part)) {
      clear(entry, part);
      EXPECT_EQ(found(entry), Found{"missing:" + name});
    } else {
      fill(entry, part, row);
      EXPECT_EQ(found(entry), has(row.may, part) ? Found{} : Found{"bad_value:" + name}) << name;
    }
  }
}

TEST(EntryRoom, ThereIsOneRoom) {
  Entry entry;
  entry.kind = K::note;
  entry.subject = {S::room, "attic"};
  EXPECT_EQ(found(entry), Found{"bad_value:room"});
}

TEST_P(EachKind, EverySubjectIsTakenOrRefusedAsItShould) {
  const Expected& row = GetParam();
  for (int i = 0; i < kSubjectKinds; ++i) {
    Entry entry = smallest(row);
    // There is one room, and its id is the word itself.
    entry.subject = {static_cast<S>(i), static_cast<S>(i) == S::room ? "room" : "x"};
    const bool good = row.subjects.empty() || has(row.subjects, entry.subject.kind);
    EXPECT_EQ(found(entry),
              good ? Found{} : Found{"bad_value:" + std::string(word(static_cast<S>(i)))});
  }
}

TEST_P(EachKind, EveryTargetIsTakenOrRefusedAsItShould) {
  const Expected& row = GetParam();
  if (row.targets.empty()) return;  // refused as a part, above
  for (int i = 0; i < kSubjectKinds; ++i) {
    Entry entry = smallest(row);
    entry.target = Subject{static_cast<S>(i), "x"};
    EXPECT_EQ(found(entry),
              has(row.targets, static_cast<S>(i)) ? Found{} : Found{"bad_value:target"});
  }
}

INSTANTIATE_TEST_SUITE_P(All, EachKind, testing::ValuesIn(kTable),
                         [](const auto& row) { return std::string(word(row.param.kind)); });

TEST(CheckEntry, AReadingOfNothing) {
  Entry entry;
  entry.kind = K::reading;
  entry.subject = {S::enclosure, "viv-1"};
  entry.item = "warm side";
  EXPECT_EQ(found(entry), Found{"missing:temperature"});
  entry.humidity = Percentage::percent(0);
  EXPECT_EQ(found(entry), Found{});
}

TEST(CheckEntry, NumbersThatCannotBe) {
  Entry weighed = smallest(kTable[static_cast<std::size_t>(K::weighed)]);
  for (const double grams : {0.0, -1.0, std::numeric_limits<double>::quiet_NaN()}) {
    weighed.mass = Mass::grams(grams);
    EXPECT_EQ(found(weighed), Found{"out_of_range:mass"}) << grams;
  }
  weighed.mass = Mass::grams(0.05);  // a hatchling mourning gecko weighs a few times this
  EXPECT_EQ(found(weighed), Found{});

  Entry measured = smallest(kTable[static_cast<std::size_t>(K::measured)]);
  measured.length = Length::metres(0);
  EXPECT_EQ(found(measured), Found{"out_of_range:length"});

  Entry fed = smallest(kTable[static_cast<std::size_t>(K::fed)]);
  for (const int count :
       {-1, 100'001, std::numeric_limits<int>::min(), std::numeric_limits<int>::max()}) {
    fed.count = count;
    EXPECT_EQ(found(fed), Found{"out_of_range:count"}) << count;
  }
  for (const int count : {0, 1, 100'000}) {
    fed.count = count;
    EXPECT_EQ(found(fed), Found{}) << count;
  }
}

TEST(CheckEntry, TextsThatAreTooLong) {
  Entry entry = smallest(kTable[static_cast<std::size_t>(K::checked)]);
  entry.item = std::string(kLongestItem, 'x');
  entry.note = std::string(kLongestNote, 'x');
  EXPECT_EQ(found(entry), Found{});
  entry.item += 'x';
  entry.note += 'x';
  EXPECT_EQ(found(entry), (Found{"bad_value:item", "bad_value:note"}));
}

TEST(CheckEntry, EveryProblemIsFoundAtOnce) {
  Entry entry;
  entry.kind = K::weighed;
  entry.subject = {S::lamp, "lamp-1"};
  entry.length = Length::metres(-1);
  entry.count = -1;
  EXPECT_EQ(found(entry), (Found{"bad_value:lamp", "missing:mass", "bad_value:length",
                                 "bad_value:count", "out_of_range:length", "out_of_range:count"}));
}

// The first two are the examples of the header.
TEST(DescribeEntry, ForPeople) {
  Entry weighed = smallest(kTable[static_cast<std::size_t>(K::weighed)]);
  EXPECT_EQ(describe_entry(weighed, UnitSystem::metric), "weighed 812 g");
  Entry fed = smallest(kTable[static_cast<std::size_t>(K::fed)]);
  fed.count = 2;
  fed.item = "adult mouse";
  EXPECT_EQ(describe_entry(fed, UnitSystem::metric), "fed 2 x adult mouse");
  fed.target = Subject{S::jar, "calcium-1"};
  EXPECT_EQ(describe_entry(fed, UnitSystem::metric), "fed 2 x adult mouse, dusted from calcium-1");

  Entry reading;
  reading.kind = K::reading;
  reading.item = "warm side";
  reading.temperature = Temperature::celsius(28);
  reading.humidity = Percentage::percent(55);
  EXPECT_EQ(describe_entry(reading, UnitSystem::metric), "reading, warm side 28 °C 55 %");

  Entry moved = smallest(kTable[static_cast<std::size_t>(K::moved)]);
  moved.target = Subject{S::enclosure, "viv-2"};
  moved.note = "quiet at once";
  EXPECT_EQ(describe_entry(moved, UnitSystem::metric), "moved to viv-2: quiet at once");

  Entry disinfected = smallest(kTable[static_cast<std::size_t>(K::disinfected)]);
  disinfected.item = "bleach 1:32";
  disinfected.count = 10;
  EXPECT_EQ(describe_entry(disinfected, UnitSystem::metric), "disinfected bleach 1:32, 10 min");

  Entry struck = smallest(kTable[static_cast<std::size_t>(K::struck)]);
  EXPECT_EQ(describe_entry(struck, UnitSystem::metric),
            "struck out 00000000-0000-0000-0000-000000000000");
}

TEST(DescribeEntry, EveryKindSaysSomethingInBothSystems) {
  for (const Expected& row : kTable) {
    Entry entry = smallest(row);
    for (const Part part : row.may) fill(entry, part, row);
    for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
      EXPECT_TRUE(describe_entry(entry, units).starts_with(rule_of(row.kind).words));
    }
  }
}

}  // namespace
}  // namespace warmside::room
