// Readings (docs/models/round.md): one not older than 7 days is compared with the range of its
// place; between 19:00 and 08:00 a temperature anywhere in the hull of night and day ranges
// passes; at or beyond the alarm levels the finding is for now.
// corn_snake (species_facts.csv): warm side 26..30, cool side 20..24, basking surface 30..34, night
// 18..24, brumation 10..15 C, humidity 40..60 %, alarms 36 and, asleep, 10 C; awake the cold alarm
// lies 4 K under the low end of the night range (its note there): 14 C.

#include "climate/readings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::climate {
namespace {

using room::EntryKind;
using species::Key;
using test::date;
using test::q;
using test::RoomBuilder;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr const char* kToday = "2026-11-25";
constexpr const char* kNoon = "2026-11-25 12:00";

RoomBuilder corn() {
  return RoomBuilder().enclosure("tub").animal("juniper", "corn_snake");
}

std::vector<Finding> found(const RoomBuilder& b, const char* day = kToday) {
  return findings(b.day(day).day);
}

std::vector<Finding> read(const char* at, const char* place, const char* value) {
  return found(corn().temperature(at, "tub", place, value));
}

TEST(KeyForPlace, OnlyTheThreePlacesOfProfilesInSmallOrCapitalLetters) {
  EXPECT_EQ(key_for_place("Warm Side"), Key::warm_side_air);
  EXPECT_EQ(key_for_place("warm side"), Key::warm_side_air);
  EXPECT_EQ(key_for_place("cool side"), Key::cool_side);
  EXPECT_EQ(key_for_place("basking surface"), Key::basking_surface);
  for (const char* other : {"", " warm side", "warm_side", "hide", "night"}) {
    EXPECT_FALSE(key_for_place(other)) << other;
  }
}

TEST(Readings, TheEndsOfARangeAreInside) {
  const struct {
    const char *place, *low, *under, *high, *over;
  } kCases[] = {{"warm side", "26C", "25.9C", "30C", "30.1C"},
                {"cool side", "20C", "19.9C", "24C", "24.1C"},
                {"basking surface", "30C", "29.9C", "34C", "34.1C"}};
  for (const auto& c : kCases) {
    EXPECT_THAT(read(kNoon, c.place, c.low), IsEmpty()) << c.place;
    EXPECT_THAT(read(kNoon, c.place, c.high), IsEmpty()) << c.place;
    for (const char* t : {c.under, c.over}) {
      const auto finding = read(kNoon, c.place, t);
      ASSERT_EQ(finding.size(), 1u) << c.place << t;
      EXPECT_EQ(finding[0].when, When::today);
    }
  }
  EXPECT_THAT(read(kNoon, "warm side", "86F"), IsEmpty());  // 30 C
  EXPECT_EQ(read(kNoon, "warm side", "86.1F").size(), 1u);
}

TEST(Readings, OtherPlacesAreNotJudged) {
  EXPECT_THAT(read(kNoon, "hide", "60C"), IsEmpty());
  EXPECT_THAT(read(kNoon, "", "60C"), IsEmpty());
}

TEST(Readings, AtNightTheHullOfNightAndDayPasses) {
  // The warm side by night: 18..30 C.
  for (const char* hour : {" 19:00", " 23:59", " 00:00", " 07:59"}) {
    const std::string at = kToday + std::string(hour);
    EXPECT_THAT(read(at.c_str(), "warm side", "18C"), IsEmpty()) << hour;
    EXPECT_THAT(read(at.c_str(), "warm side", "25C"), IsEmpty()) << hour;  // between the two
    EXPECT_THAT(read(at.c_str(), "warm side", "30C"), IsEmpty()) << hour;
    EXPECT_EQ(read(at.c_str(), "warm side", "17.9C").size(), 1u) << hour;
    EXPECT_EQ(read(at.c_str(), "warm side", "30.1C").size(), 1u) << hour;
  }
  for (const char* hour : {" 08:00", " 18:59"}) {
    const std::string at = kToday + std::string(hour);
    EXPECT_EQ(read(at.c_str(), "warm side", "25C").size(), 1u) << hour;
  }
}

TEST(Readings, NightIsThatOfTheRoomsClock) {
  // 03:00 in Oslo is the evening of the day before, 18:00, in Los Angeles: day.
  const char* at = "2026-11-25T02:00:00Z";
  EXPECT_THAT(read(at, "warm side", "20C"), IsEmpty());
  RoomBuilder west =
      RoomBuilder().zone("America/Los_Angeles").enclosure("tub").animal("juniper", "corn_snake");
  EXPECT_EQ(found(west.temperature(at, "tub", "warm side", "20C")).size(), 1u);
}

TEST(Readings, ASpeciesWithoutANightRangeHasNoAllowance) {
  RoomBuilder b;
  b.add<room::OwnSpecies>("mine", [](auto& s) { s.common_name = "Mine"; });
  b.enclosure("tub").animal("a", "mine").override_for("a", "warm_side_air", "26C..30C");
  b.temperature("2026-11-25 02:00", "tub", "warm side", "25C");
  EXPECT_EQ(found(b).size(), 1u);
}

TEST(Readings, AtTheAlarmLevelsItIsForNow) {
  EXPECT_EQ(read(kNoon, "warm side", "35.9C")[0].when, When::today);
  EXPECT_EQ(read(kNoon, "warm side", "36C")[0].when, When::now);
  EXPECT_EQ(read(kNoon, "cool side", "37C")[0].when, When::now);
  EXPECT_EQ(read(kNoon, "warm side", "14.1C")[0].when, When::today);
  EXPECT_EQ(read(kNoon, "cool side", "14C")[0].when, When::now);
  EXPECT_EQ(read("2026-11-25 02:00", "cool side", "9C")[0].when, When::now);
  // 36 C lie outside 30..34 C, yet a hot stone is not hot air.
  EXPECT_EQ(read(kNoon, "basking surface", "50C")[0].when, When::today);
}

TEST(Readings, ASpeciesThatDoesNotBrumateHasItsProfilesColdAlarm) {
  // crested_gecko: brumation none, cool side 20..23 C, night 18..22 C, cold alarm 13 C.
  for (const auto& [value, when] : {std::pair("13.1C", When::today), {"13C", When::now}}) {
    RoomBuilder b = RoomBuilder().enclosure("box").animal("moss", "crested_gecko");
    EXPECT_EQ(found(b.temperature(kNoon, "box", "cool side", value)).at(0).when, when) << value;
  }
}

TEST(Readings, AnAlarmOfTheKeepersOwn) {
  RoomBuilder b = corn().override_for("juniper", "heat_alarm", "31C");
  b.temperature(kNoon, "tub", "warm side", "31C");
  EXPECT_EQ(found(b)[0].when, When::now);
}

TEST(Readings, OneOfMoreThanSevenDaysAgoSaysNothing) {  // reading_believed 7 d
  RoomBuilder b = corn().temperature("2026-11-18T12:00:00Z", "tub", "warm side", "35C");
  const auto seen_from = [&](const char* until) {
    return findings(b.day(kToday, parse_instant(until).value()).day).size();
  };
  EXPECT_EQ(seen_from("2026-11-18T12:00:01Z"), 1u);
  EXPECT_EQ(seen_from("2026-11-25T12:00:00Z"), 1u);
  EXPECT_EQ(seen_from("2026-11-25T12:00:00.001Z"), 0u);
}

TEST(Readings, TheLatestOfEachPlaceCounts) {
  RoomBuilder b = corn();
  b.temperature("2026-11-24 12:00", "tub", "warm side", "33C");
  b.temperature("2026-11-24 13:00", "tub", "cool side", "27C");
  b.temperature("2026-11-25 12:00", "tub", "warm side", "28C");
  const auto finding = found(b);
  ASSERT_EQ(finding.size(), 1u);
  EXPECT_THAT(finding[0].headline, HasSubstr("cool side 27 °C is outside 20 – 24 °C"));
  // A later reading of humidity alone says nothing of the temperature there.
  b.humidity("2026-11-25 13:00", "tub", "cool side", "50%");
  EXPECT_EQ(found(b).size(), 1u);
  // One that was struck does not count.
  b.temperature("2026-11-25 14:00", "tub", "cool side", "22C");
  EXPECT_THAT(found(b), IsEmpty());
  b.strike_it("2026-11-25 15:00");
  EXPECT_EQ(found(b).size(), 1u);
}

// Found by this test: a place written once with a capital letter kept its old reading for ever.
TEST(Readings, APlaceIsOneInSmallAndCapitalLetters) {
  RoomBuilder b = corn().temperature("2026-11-24 12:00", "tub", "Warm side", "33C");
  EXPECT_EQ(found(b).size(), 1u);
  b.temperature("2026-11-25 12:00", "tub", "warm side", "28C");
  EXPECT_THAT(found(b), IsEmpty());
  b.temperature("2026-11-25 13:00", "tub", "WARM SIDE", "34C");
  ASSERT_EQ(found(b).size(), 1u);
  EXPECT_THAT(found(b)[0].evidence, HasSubstr("of 3 readings since 2026-11-24"));
}

TEST(Readings, EachPlaceHasItsFindingWithWhatWasReadThere) {
  RoomBuilder b = corn();
  b.temperature("2026-11-24 12:00", "tub", "warm side", "24C");
  b.temperature("2026-11-25 12:00", "tub", "warm side", "33C");
  b.temperature("2026-11-25 12:00", "tub", "cool side", "27C");
  const auto finding = found(b);
  ASSERT_EQ(finding.size(), 2u);
  EXPECT_THAT(finding[0].evidence, Not(HasSubstr("Lowest")));  // the cool side, once
  EXPECT_THAT(finding[1].evidence,
              HasSubstr("Lowest 24 °C, highest 33 °C of 2 readings since 2026-11-24."));
  EXPECT_THAT(finding[1].evidence, HasSubstr("Read 33 °C on 2026-11-25 12:00; Corn snake wants "
                                             "26 – 30 °C (common practice)."));
  for (const Finding& f : finding) {
    EXPECT_EQ(f.subject_kind, "enclosure");
    EXPECT_EQ(f.subject, "tub");
    EXPECT_EQ(f.module, "climate");
    EXPECT_EQ(f.source, "common practice, no source");
    EXPECT_THAT(f.advice, HasSubstr("licensed electrician"));
  }
}

TEST(Readings, HumidityCountsEverywhereAndForThisWeek) {
  for (const char* place : {"", "warm side", "hide"}) {
    EXPECT_THAT(found(corn().humidity(kNoon, "tub", place, "40%")), IsEmpty());
    EXPECT_THAT(found(corn().humidity(kNoon, "tub", place, "60%")), IsEmpty());
    for (const char* value : {"39%", "61%"}) {
      const auto finding = found(corn().humidity(kNoon, "tub", place, value));
      ASSERT_EQ(finding.size(), 1u) << place << value;
      EXPECT_EQ(finding[0].when, When::this_week);
    }
  }
  EXPECT_THAT(found(corn().humidity(kNoon, "tub", "hide", "70%"))[0].headline,
              HasSubstr("humidity at the hide 70 % is outside 40 – 60 %"));
  // Nor is there a night for it.
  EXPECT_EQ(found(corn().humidity("2026-11-25 02:00", "tub", "", "70%")).size(), 1u);
}

TEST(Readings, InBrumationItsRangeHolds) {
  const auto asleep = [](const char* at, const char* t) {
    RoomBuilder b = corn().entry("2026-11-01", EntryKind::brumation_started, "juniper");
    return found(b.temperature(at, "tub", "warm side", t));
  };
  EXPECT_THAT(asleep(kNoon, "10C"), IsEmpty());
  EXPECT_THAT(asleep(kNoon, "15C"), IsEmpty());
  EXPECT_EQ(asleep(kNoon, "15.1C").at(0).when, When::today);
  EXPECT_EQ(asleep(kNoon, "28C").at(0).when, When::today);  // what it wants when awake
  EXPECT_EQ(asleep(kNoon, "9.9C").at(0).when, When::now);   // under the cold alarm
  EXPECT_EQ(asleep("2026-11-25 02:00", "20C").size(), 1u);  // no night allowance
  RoomBuilder b = corn().entry("2026-11-01", EntryKind::brumation_started, "juniper");
  EXPECT_THAT(found(b.humidity(kNoon, "tub", "", "90%")), IsEmpty());
}

TEST(Readings, ABrumationWithoutARangeIsNotJudged) {
  RoomBuilder b = RoomBuilder().enclosure("box").animal("frog", "dyeing_dart_frog");
  b.entry("2026-11-01", EntryKind::brumation_started, "frog");
  EXPECT_THAT(found(b.temperature(kNoon, "box", "warm side", "5C")), IsEmpty());
}

TEST(Readings, EmptyAndRetiredEnclosuresAreNotJudged) {
  RoomBuilder empty = RoomBuilder().enclosure("tub");
  EXPECT_THAT(found(empty.temperature(kNoon, "tub", "warm side", "60C")), IsEmpty());
  const auto retired = [](const char* when) {
    RoomBuilder b;
    b.enclosure("tub", [=](auto& e) { e.retired = date(when); }).animal("a", "corn_snake");
    return found(b.temperature(kNoon, "tub", "warm side", "60C")).size();
  };
  EXPECT_EQ(retired(kToday), 0u);
  EXPECT_EQ(retired("2026-11-26"), 1u);
}

// Found by this test: the first animal's finding hid that another's alarm was reached.
TEST(Readings, OfSeveralAnimalsTheMostUrgentIsTold) {
  // 31.5 C is outside both warm sides; crested_gecko: 24..27 C, heat alarm 29 C; corn_snake: alarm
  // 36 C, so that by its own it would be for today.
  for (const bool gecko_first : {true, false}) {
    RoomBuilder b = RoomBuilder().enclosure("tub");
    b.animal(gecko_first ? "z" : "a", "corn_snake")
        .animal(gecko_first ? "a" : "z", "crested_gecko");
    b.temperature(kNoon, "tub", "warm side", "31.5C");
    const auto finding = found(b);
    ASSERT_EQ(finding.size(), 1u);  // one for a place
    EXPECT_EQ(finding[0].when, When::now);
    EXPECT_THAT(finding[0].evidence, HasSubstr("Crested gecko wants 24 – 27 °C"));
  }
  // One that is content hides nothing.
  RoomBuilder b = RoomBuilder().enclosure("tub");
  b.animal("a", "corn_snake").animal("b", "crested_gecko");
  EXPECT_EQ(found(b.temperature(kNoon, "tub", "warm side", "28C")).size(), 1u);
}

TEST(Readings, InTheRoomsUnits) {
  RoomBuilder b = corn().info([](auto& i) { i.units = UnitSystem::us; });
  b.temperature(kNoon, "tub", "warm side", "33C");  // 91.4 F; 26..30 C are 78.8..86 F
  EXPECT_THAT(found(b)[0].headline, HasSubstr("warm side 91.4 °F is outside 78.8 – 86 °F"));
}

}  // namespace
}  // namespace warmside::climate
