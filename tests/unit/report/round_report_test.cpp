// Today's round as a sheet and as JSON. The fields of the JSON are those that
// docs/schema/today.schema.json requires, copied by hand.

#include "report/round_report.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "support/room_builder.h"

namespace warmside::report {
namespace {

using nlohmann::json;
using room::EntryKind;
using test::date;
using test::RoomBuilder;
using test::TestDay;
using testing::HasSubstr;
using testing::Not;

constexpr const char* kToday = "2026-11-25";  // a Wednesday

/// A small round with a finding, a preparation, a late task and something ahead.
round::Round small_round() {
  RoomBuilder b;
  b.info([](auto& i) {
    i.name = "Attic \"west\"";
    i.vulnerable_person = room::Answer::no;
  });
  b.enclosure("tub", [](auto& e) {
    e.name = "The tub";
    e.place = "east wall";
  });
  b.animal("juniper", "corn_snake", [](auto& a) { a.name = "Juniper é"; });
  b.add<room::Jar>("d3", [](auto& j) { j.expires = date("2026-11-01"); });
  b.add<room::SafetyDevice>("alarm", [](auto& d) { d.battery = date("2026-06-01"); });
  b.add<room::Instrument>("dial", [](auto& i) { i.enclosure = room::EnclosureId::trusted("tub"); });
  b.weighed("2026-11-01", "juniper", "500g");        // due 1 December: ahead
  b.entry("2026-11-12", EntryKind::fed, "juniper");  // due 22 November: 3 days late
  b.entry(kToday, EntryKind::watered, "tub").entry(kToday, EntryKind::full_cleaned, "tub");
  const TestDay test = b.day(kToday);
  return round::lay_out(test.day);
}

round::Round empty_round() {
  const TestDay test = RoomBuilder().day(kToday);
  return round::lay_out(test.day);
}

std::set<std::string> keys(const json& object) {
  std::set<std::string> keys;
  for (const auto& [key, value] : object.items()) keys.insert(key);
  return keys;
}

TEST(RoundAsJson, IsValidAndComplete) {
  const std::string text = round_as_json(small_round());
  EXPECT_EQ(text.back(), '\n');
  const json got = json::parse(text);
  using Keys = std::set<std::string>;
  EXPECT_EQ(keys(got),
            (Keys{"date", "room", "cautions", "findings", "round", "order", "after", "ahead"}));
  EXPECT_EQ(got["date"], kToday);
  EXPECT_EQ(got["room"], "Attic \"west\"");
  EXPECT_EQ(got["cautions"].size(), 2u);

  ASSERT_EQ(got["findings"].size(), 1u);
  const json& finding = got["findings"][0];
  EXPECT_EQ(keys(finding), (Keys{"when", "subject", "subject_kind", "headline", "evidence",
                                 "advice", "source", "module"}));
  EXPECT_EQ(finding["when"], "today");
  EXPECT_EQ(finding["subject_kind"], "jar");
  EXPECT_EQ(finding["subject"], "d3");
  EXPECT_EQ(finding["module"], "stores");

  ASSERT_EQ(got["round"].size(), 2u);
  const Keys stop_keys{"enclosure", "title",        "where",  "class", "reason",
                       "animals",   "animal_names", "before", "tasks"};
  for (const json& stop : got["round"]) EXPECT_EQ(keys(stop), stop_keys);
  const json &preparation = got["round"][0], &stop = got["round"][1];
  EXPECT_TRUE(preparation["enclosure"].is_null());
  EXPECT_EQ(preparation["class"], "preparation");
  EXPECT_EQ(preparation["tasks"][0]["task"], "smoke_alarm_test");
  EXPECT_TRUE(preparation["tasks"][0]["animal"].is_null());
  EXPECT_TRUE(preparation["tasks"][0]["enclosure"].is_null());
  EXPECT_EQ(preparation["tasks"][0]["subject_kind"], "safety_device");
  EXPECT_EQ(stop["enclosure"], "tub");
  EXPECT_EQ(stop["title"], "The tub");
  EXPECT_EQ(stop["where"], "east wall");
  EXPECT_EQ(stop["class"], "resident");
  EXPECT_EQ(stop["animals"], json::array({"juniper"}));
  EXPECT_EQ(stop["animal_names"], json::array({"Juniper é"}));
  EXPECT_EQ(stop["before"][0], "Hands: wash with soap and water");
  ASSERT_EQ(stop["tasks"].size(), 1u);
  const json& task = stop["tasks"][0];
  EXPECT_EQ(keys(task), (Keys{"task", "title", "animal", "enclosure", "subject_kind", "subject",
                              "detail", "reason", "due", "late_days", "every_days", "courses"}));
  EXPECT_EQ(task["task"], "feeding");
  EXPECT_EQ(task["title"], "feed Juniper é");
  EXPECT_EQ(task["animal"], "juniper");
  EXPECT_EQ(task["due"], "2026-11-22");
  EXPECT_EQ(task["late_days"], 3);
  EXPECT_TRUE(task["courses"].empty()) << "one meal is no habit, and nothing is chosen";

  EXPECT_FALSE(got["after"].empty());
  std::vector<std::string> ahead;
  for (const json& t : got["ahead"]) ahead.push_back(t["task"]);
  // Water is due tomorrow, the spot clean in 3 days, the weighing on 1 December.
  EXPECT_THAT(ahead, testing::ElementsAre("water", "spot_clean", "weighing"));
  EXPECT_EQ(got["ahead"].back()["last_mass_g"], 500);
  EXPECT_EQ(got["ahead"].back()["every_days"], 30);
}

TEST(RoundAsJson, AHabitualMealIsThereAsData) {
  RoomBuilder b;
  b.enclosure("tub").animal("moss", "leopard_gecko");
  b.add<room::Jar>("d3", [](auto& j) { j.contents = room::SupplementKind::calcium_d3; });
  b.add<room::Jar>("old", [](auto& j) { j.expires = date("2026-11-01"); });
  for (const char* day : {"2026-11-13", "2026-11-17", "2026-11-21"}) {
    for (const auto& [item, count, jar] :
         {std::tuple{"banded cricket", 3, "d3"}, std::tuple{"mealworm", 2, "old"}}) {
      b.entry(day, EntryKind::fed, "moss", [&, item = item, count = count, jar = jar](auto& e) {
        e.item = item;
        e.count = count;
        e.target = {room::SubjectKind::jar, jar};
      });
    }
  }
  const TestDay test = b.day(kToday);
  const json got = json::parse(round_as_json(round::lay_out(test.day)));
  std::vector<json> meals;
  for (const json& stop : got["round"]) {
    for (const json& task : stop["tasks"]) {
      if (task["task"] == "feeding") meals.push_back(task["courses"]);
    }
  }
  // The jar that is past its date is not to be used, so nothing says that it was.
  const json wanted = json::parse(R"([
    {"food": "banded cricket", "count": 3, "mass_g": null, "jar": "d3"},
    {"food": "mealworm", "count": 2, "mass_g": null, "jar": null}])");
  EXPECT_THAT(meals, testing::ElementsAre(wanted));
}

TEST(RoundAsJson, AnEmptyRoundHasItsListsAllTheSame) {
  const json got = json::parse(round_as_json(empty_round()));
  for (const char* list : {"findings", "round", "after", "ahead"}) {
    EXPECT_TRUE(got[list].is_array() && got[list].empty()) << list;
  }
  EXPECT_EQ(got["cautions"].size(), 3u);
}

TEST(RoundAsText, SaysEverythingInOrder) {
  const std::string text = round_as_text(small_round(), {});
  std::size_t last = 0;
  for (const char* words : {"Attic \"west\": the round of Wednesday 2026-11-25",
                            "Salmonella",
                            "What was noticed",
                            "[today]",
                            "* The jar d3 is past its date",
                            "Do: Do not use it.",
                            "Source: the date printed",
                            "The round, cleanest first",
                            "1. Preparation",
                            "[ ] test the smoke alarm alarm",
                            "2. The tub: Juniper é",
                            "east wall",
                            "Here because: healthy residents",
                            "Hands: wash with soap and water",
                            "Tools:",
                            "[ ] feed Juniper é (due 2026-11-22, 3 days",
                            "Why: every 10 days",
                            "When all is done",
                            "The next 7 days",
                            "2026-11-28 Sat: spot clean",
                            "2026-12-01 Tue: weigh Juniper é"}) {
    const auto at = text.find(words, last);
    ASSERT_NE(at, std::string::npos) << words << " in\n" << text;
    last = at;
  }
  EXPECT_THAT(text, Not(HasSubstr("fresh water (tub)")));  // comes again every day
}

TEST(RoundAsText, AnEmptyRoundSaysSo) {
  const std::string text = round_as_text(empty_round(), {});
  EXPECT_THAT(text, HasSubstr("Nothing. All readings and weighings are in order."));
  EXPECT_THAT(text, HasSubstr("Nothing is due today."));
  EXPECT_THAT(text, HasSubstr("Nothing more."));
  EXPECT_THAT(text, Not(HasSubstr("When all is done")));
}

TEST(RoundAsText, TheBoundOfTheOrderOnlyWhereItIsNotProvenBest) {
  round::Round round = small_round();
  EXPECT_THAT(round_as_text(round, {}), Not(HasSubstr("Order of stops")));
  EXPECT_EQ(json::parse(round_as_json(round))["order"]["proven"], true);
  round.order_cost_s = round.order_bound_s + 5;
  EXPECT_THAT(round_as_text(round, {}),
              HasSubstr("Order of stops: costs 5 s, and none can cost less "
                        "than 0 s"));
  const json order = json::parse(round_as_json(round))["order"];
  EXPECT_EQ(order["cost_s"], 5);
  EXPECT_EQ(order["bound_s"], 0);
  EXPECT_EQ(order["proven"], false);
}

TEST(RoundAsText, NoEscapeCodesInPlainText) {
  round::Round round = small_round();
  round.stops.at(1).animal_names[0] = "\033[2JJuniper";
  EXPECT_THAT(round_as_text(round, {}), Not(HasSubstr("\033")));
  EXPECT_THAT(round_as_text(round, {true, 80}), HasSubstr("\033[1m"));
  EXPECT_THAT(round_as_text(round, {true, 80}), Not(HasSubstr("\033[2J")));
}

TEST(RoundAsText, KeepsToItsWidth) {
  for (const int width : {40, 60, 80, 120}) {
    const std::string text = round_as_text(small_round(), {false, width});
    for (std::size_t at = 0; at < text.size();) {
      const auto end = text.find('\n', at);
      EXPECT_LE(columns_of(std::string_view(text).substr(at, end - at)), width);
      at = end + 1;
    }
  }
}

TEST(RoundAsText, TheDayOfTheWeek) {
  // 1970-01-01 was a Thursday, 2000-01-01 a Saturday, 1969-12-31 a Wednesday.
  for (const auto& [day, name] : {std::pair("1970-01-01", "Thursday"),
                                  {"2000-01-01", "Saturday"},
                                  {"1969-12-31", "Wednesday"},
                                  {"2026-11-29", "Sunday"}}) {
    round::Round round;
    round.date = date(day);
    EXPECT_THAT(round_as_text(round, {}), HasSubstr(std::string("of ") + name + " " + day));
  }
}

}  // namespace
}  // namespace warmside::report
