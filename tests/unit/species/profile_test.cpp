// The built-in care profiles and the readers of their tables.

#include "species/profile.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <string>

#include "species/built_in_data.h"

namespace warmside::species {
namespace {

const Profile& profile(std::string_view id) {
  const Profile* found = built_in().find(SpeciesId::trusted(std::string(id)));
  EXPECT_NE(found, nullptr) << id;
  static const Profile kNone;
  return found == nullptr ? kNone : *found;
}

template <class T>
T value(const Profile& of, Key key) {
  const T* v = of.value<T>(key);
  EXPECT_NE(v, nullptr) << key_info(key).name;
  return v == nullptr ? T() : *v;
}

constexpr Range<Temperature> celsius(double low, double high) {
  return {Temperature::celsius(low), Temperature::celsius(high)};
}

// ---- Keys ----

TEST(ProfileKeys, EachExampleIsReadInItsKind) {
  for (const KeyInfo& info : all_keys()) {
    const auto read = read_value(info.key, info.example);
    ASSERT_TRUE(read.ok()) << info.name << ": " << to_line(read.problem());
    EXPECT_EQ(read->index(), info.kind) << info.name;
  }
}

TEST(ProfileKeys, NamesLeadBackAndAreAlike) {
  std::set<std::string_view> names, labels;
  Key last = Key::basking_surface;
  for (const KeyInfo& info : all_keys()) {
    EXPECT_EQ(find_key(info.name), info.key);
    EXPECT_EQ(&key_info(info.key), &info);
    EXPECT_LE(last, info.key);
    last = info.key;
    names.insert(info.name);
    labels.insert(info.label);
  }
  EXPECT_EQ(last, Key::notes);
  EXPECT_EQ(names.size(), all_keys().size());
  EXPECT_EQ(labels.size(), all_keys().size());
  EXPECT_FALSE(find_key("").has_value());
  EXPECT_FALSE(find_key("Night").has_value());
  EXPECT_FALSE(find_key("night ").has_value());
}

TEST(ReadValue, WrongTextsAreRefusedWithAnExample) {
  struct Bad {
    Key key;
    const char* text;
  };
  for (const Bad& bad : {Bad{Key::night, ""},
                         Bad{Key::night, "18C"},
                         Bad{Key::night, "18..22"},
                         Bad{Key::night, "22C..18C"},
                         Bad{Key::night, "18%..22%"},
                         Bad{Key::heat_alarm, "36C..38C"},
                         Bad{Key::heat_alarm, "36"},
                         Bad{Key::humidity, "40..60%"},
                         Bad{Key::adult_mass, "300g..-1g"},
                         Bad{Key::feed_interval_adult, "10"},
                         Bad{Key::feed_interval_adult, "-1d"},
                         Bad{Key::longevity_max_years, "old"},
                         Bad{Key::longevity_max_years, ""},
                         Bad{Key::longevity_max_years, "32.3y"},
                         Bad{Key::longevity_max_years, "nan"},
                         Bad{Key::longevity_max_years, "inf"},
                         Bad{Key::longevity_max_years, " 3"},
                         Bad{Key::native_latitude, "90.5"},
                         Bad{Key::native_latitude, "-91"},
                         Bad{Key::native_latitude, "60.4N"},
                         Bad{Key::native_latitude, ""},
                         Bad{Key::feed_in_shed, "maybe"},
                         Bad{Key::feed_in_shed, ""},
                         Bad{Key::feed_in_shed, "Yes"},
                         Bad{Key::brumation, "always"},
                         Bad{Key::notes, ""},
                         Bad{Key::uvi_max, "3..5"},
                         Bad{Key::ferguson_zone, ""}}) {
    const auto read = read_value(bad.key, bad.text);
    ASSERT_FALSE(read.ok()) << key_info(bad.key).name << " " << bad.text;
    EXPECT_FALSE(read.problem().expected.empty());
    EXPECT_FALSE(read.problem().what.empty());
  }
}

TEST(ReadValue, WordsOfKeysThatHaveThem) {
  for (const char* text : {"no", "yes"}) EXPECT_TRUE(read_value(Key::feed_in_shed, text).ok());
  for (const char* text : {"none", "optional", "usual"}) {
    EXPECT_TRUE(read_value(Key::brumation, text).ok());
  }
}

TEST(ReadValue, UnitsOfEitherSystem) {
  // 77 degF is 25 degC and 86 degF 30 degC: (77 - 32) * 5 / 9.
  EXPECT_EQ(*read_value(Key::night, "77F..86F"), Value(celsius(25, 30)));
  EXPECT_EQ(*read_value(Key::feed_interval_adult, "2wk"), Value(Duration::days(14)));
}

// ---- The built-in tables ----

TEST(BuiltIn, FortyFiveSpeciesInOrder) {
  const auto all = built_in().all();
  EXPECT_EQ(all.size(), 45u);
  EXPECT_TRUE(std::is_sorted(all.begin(), all.end(),
                             [](const Profile& a, const Profile& b) { return a.id < b.id; }));
  // The counts in the heading of data/species.csv.
  const auto count = [&](Group group) {
    return std::count_if(all.begin(), all.end(),
                         [&](const Profile& p) { return p.group == group; });
  };
  EXPECT_EQ(count(Group::snake), 9);
  EXPECT_EQ(count(Group::lizard), 17);
  EXPECT_EQ(count(Group::chelonian), 8);
  EXPECT_EQ(count(Group::frog), 8);
  EXPECT_EQ(count(Group::salamander), 3);
  for (const Profile& p : all) {
    EXPECT_EQ(built_in().find(p.id), &p);
    EXPECT_FALSE(p.common_name.empty() || p.scientific_name.empty() || p.activity.empty());
  }
  EXPECT_EQ(built_in().find(SpeciesId()), nullptr);
  EXPECT_EQ(built_in().find(SpeciesId::trusted("zzz")), nullptr);
  EXPECT_EQ(built_in().find(SpeciesId::trusted("corn_snak")), nullptr);
}

TEST(BuiltIn, EveryFactHasASourceAndReadsBackInBothSystems) {
  int facts = 0;
  for (const Profile& p : built_in().all()) {
    EXPECT_TRUE(std::is_sorted(p.facts.begin(), p.facts.end(),
                               [](const Fact& a, const Fact& b) { return a.key < b.key; }));
    for (const Fact& fact : p.facts) {
      ++facts;
      EXPECT_FALSE(fact.source.empty());
      EXPECT_NE(fact.trust, Trust::keeper);
      EXPECT_EQ(fact.value.index(), key_info(fact.key).kind);
      for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
        const std::string text = to_text(fact.value, units);
        const auto back = read_value(fact.key, text);
        ASSERT_TRUE(back.ok()) << p.id.text() << " " << text;
        EXPECT_EQ(*back, fact.value) << p.id.text() << " " << text;
        EXPECT_FALSE(for_people(fact.value, units).empty());
      }
    }
  }
  // Every line of the file but its comments and its column names is a fact.
  const std::string_view csv = data::species_facts_csv();
  int rows = 0;
  for (std::size_t at = 0; at < csv.size(); at = csv.find('\n', at) + 1) rows += csv[at] != '#';
  EXPECT_EQ(facts, rows - 1);
}

// Read from data/species.csv and data/species_facts.csv by eye.
TEST(BuiltIn, SpotValues) {
  const Profile& corn = profile("corn_snake");
  EXPECT_EQ(corn.common_name, "Corn snake");
  EXPECT_EQ(corn.scientific_name, "Pantherophis guttatus");
  EXPECT_EQ(corn.group, Group::snake);
  EXPECT_EQ(corn.activity, "crepuscular");
  EXPECT_EQ(value<Range<Temperature>>(corn, Key::warm_side_air), celsius(26, 30));
  EXPECT_EQ(value<Range<Temperature>>(corn, Key::cool_side), celsius(20, 24));
  EXPECT_EQ(value<Range<Percentage>>(corn, Key::humidity),
            (Range<Percentage>{Percentage::percent(40), Percentage::percent(60)}));
  EXPECT_EQ(value<Temperature>(corn, Key::heat_alarm), Temperature::celsius(36));
  EXPECT_EQ(corn.text(Key::ferguson_zone), "1");
  EXPECT_EQ(value<Range<UvIndex>>(corn, Key::uvi_max),
            (Range<UvIndex>{UvIndex::index(0.6), UvIndex::index(1.4)}));
  EXPECT_EQ(value<Duration>(corn, Key::feed_interval_adult), Duration::days(10));
  EXPECT_EQ(value<Mass>(corn, Key::open_data_max_mass), Mass::grams(543.7));
  EXPECT_EQ(value<double>(corn, Key::longevity_max_years), 32.3);
  EXPECT_EQ(corn.text(Key::feed_in_shed), "no");
  EXPECT_EQ(corn.text(Key::min_enclosure), "120cm x 60cm x 60cm");
  EXPECT_EQ(corn.text(Key::meal_rule),
            "one or more whole prey, each no wider than the widest part of the body");
  EXPECT_EQ(corn.find(Key::field_body_temperature), nullptr);

  const Fact* zone = corn.find(Key::ferguson_zone);
  ASSERT_NE(zone, nullptr);
  EXPECT_EQ(zone->trust, Trust::verified_secondary);
  EXPECT_EQ(zone->source, "baines2016");
  ASSERT_NE(corn.find(Key::night), nullptr);
  EXPECT_EQ(corn.find(Key::night)->trust, Trust::common_practice);
  EXPECT_EQ(corn.find(Key::ct_max)->trust, Trust::proxy);

  const Profile& dragon = profile("bearded_dragon");
  EXPECT_EQ(value<Range<Temperature>>(dragon, Key::basking_surface), celsius(38, 43));
  EXPECT_EQ(dragon.text(Key::ferguson_zone), "3");
  EXPECT_EQ(value<Temperature>(dragon, Key::field_body_temperature), Temperature::celsius(34.6));
  EXPECT_EQ(value<Range<Duration>>(dragon, Key::brumation_length),
            (Range<Duration>{Duration::weeks(6), Duration::weeks(12)}));
  EXPECT_EQ(value<Range<Mass>>(dragon, Key::adult_mass),
            (Range<Mass>{Mass::grams(300), Mass::grams(550)}));
  EXPECT_TRUE(is_amphibian(profile("axolotl").group));
  EXPECT_FALSE(is_amphibian(dragon.group));
}

// ---- Profile ----

Fact night(double low, double high) {
  return {Key::night, celsius(low, high), Trust::keeper, "mine", ""};
}

TEST(Profile, PutKeepsOrderAndReplaces) {
  Profile p;
  EXPECT_EQ(p.find(Key::night), nullptr);
  EXPECT_EQ(p.value<Range<Temperature>>(Key::night), nullptr);
  EXPECT_EQ(p.text(Key::notes), "");
  p.put({Key::notes, std::string("long fasts"), Trust::keeper, "mine", ""});
  p.put(night(18, 22));
  p.put({Key::humidity, Range<Percentage>{}, Trust::proxy, "x", ""});
  p.put({Key::basking_surface, celsius(32, 35), Trust::proxy, "x", ""});
  ASSERT_EQ(p.facts.size(), 4u);
  EXPECT_EQ(p.facts[0].key, Key::basking_surface);
  EXPECT_EQ(p.facts[1].key, Key::night);
  EXPECT_EQ(p.facts[2].key, Key::humidity);
  EXPECT_EQ(p.facts[3].key, Key::notes);
  EXPECT_EQ(p.text(Key::notes), "long fasts");
  p.put(night(19, 23));
  EXPECT_EQ(p.facts.size(), 4u);
  EXPECT_EQ(value<Range<Temperature>>(p, Key::night), celsius(19, 23));
  EXPECT_EQ(p.find(Key::ct_max), nullptr);
}

TEST(ValueText, ForFilesAndForPeople) {
  EXPECT_EQ(to_text(Value(std::string("1-2"))), "1-2");
  EXPECT_EQ(to_text(Value(32.3)), "32.3");
  EXPECT_EQ(to_text(Value(celsius(26, 30))), "26C..30C");
  EXPECT_EQ(for_people(Value(celsius(26, 30)), UnitSystem::metric), "26 – 30 °C");
  EXPECT_EQ(for_people(Value(32.3), UnitSystem::us), "32.3");
  EXPECT_EQ(for_people(Value(Duration::days(10)), UnitSystem::metric), "10 days");
}

// ---- Tables that are wrong ----

constexpr const char* kSpeciesColumns = "id,common_name,scientific_name,group,activity\n";
constexpr const char* kFactColumns = "species,key,value,status,source,note\n";
constexpr const char* kCorn = "corn,Corn snake,P. guttatus,snake,crepuscular\n";
constexpr const char* kNight = "corn,night,18C..22C,proxy,somebody,\n";

TEST(CatalogueRead, TheSmallestGoodTables) {
  const auto read = Catalogue::read(std::string(kSpeciesColumns) + kCorn,
                                    std::string("# heading\n") + kFactColumns + kNight);
  ASSERT_TRUE(read.ok());
  ASSERT_EQ(read->all().size(), 1u);
  const Profile* corn = read->find(SpeciesId::trusted("corn"));
  ASSERT_NE(corn, nullptr);
  ASSERT_EQ(corn->facts.size(), 1u);
  EXPECT_EQ(corn->facts[0], (Fact{Key::night, celsius(18, 22), Trust::proxy, "somebody", ""}));
  EXPECT_TRUE(Catalogue::read(kSpeciesColumns, kFactColumns).ok());
}

struct BadTable {
  const char* name;
  std::string species;
  std::string facts;
  Where where;
};

std::ostream& operator<<(std::ostream& out, const BadTable& table) {
  return out << table.name;
}

class CatalogueRefuses : public testing::TestWithParam<BadTable> {};

TEST_P(CatalogueRefuses, WithFileLineAndField) {
  const BadTable& table = GetParam();
  const auto read = Catalogue::read(table.species, table.facts);
  ASSERT_FALSE(read.ok());
  ASSERT_EQ(read.problem().size(), 1u) << to_line(read.problem()[1]);
  const Where& where = read.problem()[0].where;
  EXPECT_EQ(where.file, table.where.file);
  EXPECT_EQ(where.line, table.where.line);
  EXPECT_EQ(where.field, table.where.field);
  EXPECT_FALSE(read.problem()[0].what.empty());
}

BadTable bad_species(const char* name, const char* row, const char* field, int line = 3) {
  return {
      name, std::string(kSpeciesColumns) + kCorn + row, kFactColumns, {"species.csv", line, field}};
}
BadTable bad_fact(const char* name, const char* row, const char* field, int line = 3) {
  return {name,
          std::string(kSpeciesColumns) + kCorn,
          std::string(kFactColumns) + kNight + row,
          {"species_facts.csv", line, field}};
}

INSTANTIATE_TEST_SUITE_P(
    Species, CatalogueRefuses,
    testing::Values(
        bad_species("id_with_capitals", "Boa,Boa,B. constrictor,snake,nocturnal\n", "id"),
        bad_species("id_empty", ",Boa,B. constrictor,snake,nocturnal\n", "id"),
        bad_species("id_twice", "corn,Corn snake,P. guttatus,snake,crepuscular\n", "id"),
        bad_species("group_unknown", "boa,Boa,B. constrictor,bird,nocturnal\n", "group"),
        bad_species("group_empty", "boa,Boa,B. constrictor,,nocturnal\n", "group"),
        bad_species("too_few", "boa,Boa,B. constrictor,snake\n", ""),
        bad_species("too_many", "boa,Boa,B. constrictor,snake,nocturnal,x\n", ""),
        bad_species("blank_line", "\n", ""),
        bad_species("unclosed_quote", "\"boa,Boa,B. constrictor,snake,nocturnal\n", ""),
        BadTable{"columns_swapped",
                 "common_name,id,scientific_name,group,activity\n",
                 kFactColumns,
                 {"species.csv", 1, ""}},
        BadTable{
            "columns_after_heading", "# a\n# b\nid,name\n", kFactColumns, {"species.csv", 3, ""}}),
    [](const auto& table) { return std::string(table.param.name); });

INSTANTIATE_TEST_SUITE_P(
    Facts, CatalogueRefuses,
    testing::Values(
        bad_fact("species_unknown", "boa,night,18C..22C,proxy,x,\n", "species"),
        bad_fact("key_unknown", "corn,nights,18C..22C,proxy,x,\n", "key"),
        bad_fact("key_twice", "corn,night,18C..23C,verified,x,\n", "key"),
        bad_fact("value_wrong_unit", "corn,cool_side,18g..22g,proxy,x,\n", "value"),
        bad_fact("value_empty", "corn,cool_side,,proxy,x,\n", "value"),
        bad_fact("value_upside_down", "corn,cool_side,22C..18C,proxy,x,\n", "value"),
        bad_fact("status_unknown", "corn,cool_side,18C..22C,certain,x,\n", "status"),
        bad_fact("status_of_the_keeper", "corn,cool_side,18C..22C,keeper,x,\n", "status"),
        bad_fact("source_missing", "corn,cool_side,18C..22C,proxy,,\n", "source"),
        bad_fact("too_few", "corn,cool_side,18C..22C,proxy,x\n", ""),
        bad_fact("too_many", "corn,cool_side,18C..22C,proxy,common practice, no source,\n", ""),
        bad_fact("text_after_quote", "corn,cool_side,\"18C\"..22C,proxy,x,\n", "")),
    [](const auto& table) { return std::string(table.param.name); });

TEST(CatalogueRead, AnEmptyFileIsNotATable) {
  EXPECT_FALSE(Catalogue::read("", kFactColumns).ok());
  EXPECT_FALSE(Catalogue::read(kSpeciesColumns, "# heading alone\n").ok());
}

TEST(CatalogueRead, AllProblemsAreCollected) {
  const auto read =
      Catalogue::read(std::string(kSpeciesColumns) + kCorn + "Boa,B,B,snake,x\nx,x,x,bird,x\n",
                      std::string(kFactColumns) + "corn,nights,1,proxy,x,\n" + kNight +
                          "corn,night,18C..22C,proxy,somebody,\ncorn,cool_side,warm,proxy,x,\n");
  ASSERT_FALSE(read.ok());
  std::string where;
  for (const Problem& p : read.problem()) {
    where += fmt::format("{}:{}:{} ", p.where.file, p.where.line, p.where.field);
  }
  EXPECT_EQ(where,
            "species.csv:3:id species.csv:4:group species_facts.csv:2:key "
            "species_facts.csv:4:key species_facts.csv:5:value ");
}

}  // namespace
}  // namespace warmside::species
