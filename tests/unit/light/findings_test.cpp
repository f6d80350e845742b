// What is said of UVB lamps. Zones (Ferguson et al. 2010, Baines et al. 2016;
// data/species_facts.csv): leopard gecko zone 1, 0.6 to 1.4 at the basking place; bearded dragon
// zone 3, 2.9 to 7.4; uromastyx zone 4, 4.5 to 9.5. uv_low_share is 70 %.

#include "light/findings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::light {
namespace {

using room::EntryKind;
using test::date;
using test::q;
using test::RoomBuilder;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::SizeIs;

constexpr const char* kToday = "2026-11-25";
using Change = std::function<void(room::Lamp&)>;

RoomBuilder lamp(const Change& change = {}, const char* species = "bearded_dragon") {
  RoomBuilder b;
  return b.enclosure("box").animal("ember", species).add<room::Lamp>("tube", [&](auto& l) {
    l.kind = room::LampKind::tube_t5;
    l.uvb = true;
    l.length = q<Length>("55cm");
    l.distance = q<Length>("30cm");
    l.enclosure = room::EnclosureId::trusted("box");
    if (change) change(l);
  });
}

/// A lamp read at these values, ten days apart, up to today.
RoomBuilder read(std::vector<double> values, const Change& change = {},
                 const char* species = "bearded_dragon") {
  RoomBuilder b = lamp(change, species);
  for (std::size_t i = 0; i < values.size(); ++i) {
    b.uv(to_text(date(kToday) - 10 * static_cast<int>(values.size() - 1 - i)), "tube", values[i]);
  }
  return b;
}

std::vector<Finding> found(const RoomBuilder& b) {
  return findings(b.day(kToday).day);
}
/// Only those about the lamp itself.
std::vector<Finding> of_lamp(const RoomBuilder& b) {
  std::vector<Finding> made;
  for (Finding& f : found(b)) {
    if (f.subject_kind == "lamp") made.push_back(std::move(f));
  }
  return made;
}
std::vector<std::string> headlines(const std::vector<Finding>& list) {
  std::vector<std::string> made;
  for (const Finding& f : list) made.push_back(f.headline);
  return made;
}
void with_table(room::Lamp& l, const char* table) {
  l.uv_table = room::UvTable::parse(table).value();
}

TEST(FadedLamp, UnderSeventyPerCentOfTheFirst) {
  EXPECT_THAT(found(read({5, 3.5})), IsEmpty());  // exactly
  EXPECT_THAT(found(read({5, 3.49})), SizeIs(1));
  EXPECT_THAT(of_lamp(read({8.3, 5.81})), IsEmpty());  // exactly, though not in binary
  EXPECT_THAT(of_lamp(read({4, 5})), IsEmpty());
  EXPECT_THAT(of_lamp(read({4, 0})), SizeIs(1));
}

TEST(FadedLamp, OneReadingOrNoneIsNoFinding) {
  EXPECT_THAT(of_lamp(read({0.1})), IsEmpty());
  EXPECT_THAT(of_lamp(read({0, 0})), IsEmpty());
}

TEST(FadedLamp, TheFirstAndTheLatestCountNotThoseBetween) {
  EXPECT_THAT(of_lamp(read({4, 9, 1, 3})), IsEmpty());
  EXPECT_THAT(of_lamp(read({4, 9, 3, 2})), SizeIs(1));
}

TEST(FadedLamp, AReplacedLampBeginsAnewOnceItIsBurntIn) {
  RoomBuilder b = read({6, 2});
  ASSERT_THAT(of_lamp(b), SizeIs(1));
  b.entry("2026-11-16", EntryKind::replaced, "tube");
  EXPECT_THAT(of_lamp(b), IsEmpty());  // one reading of the new one
  // 100 h at 12 h a day: from the ninth day. A reading before it is stronger than what lasts.
  RoomBuilder early = lamp();
  early.entry("2026-10-01", EntryKind::replaced, "tube");
  early.uv("2026-10-05", "tube", 9).uv("2026-10-15", "tube", 5).uv("2026-11-25", "tube", 4);
  EXPECT_THAT(of_lamp(early), IsEmpty());
  early.uv("2026-11-25 13:00", "tube", 2.5);
  ASSERT_THAT(of_lamp(early), SizeIs(1));
  EXPECT_THAT(of_lamp(early)[0].headline, HasSubstr("50 %"));
}

TEST(FadedLamp, ATimerTellsHowSoonItIsBurntIn) {
  // 4 h a day: 100 h are 25 days.
  RoomBuilder b = lamp([](auto& l) {
    l.installed = date("2026-10-01");
    l.timer = room::TimerId::trusted("clock");
  });
  b.add<room::Timer>("clock", [](auto& t) {
    t.on = TimeOfDay{600};
    t.off = TimeOfDay{840};
  });
  b.uv("2026-10-15", "tube", 9).uv("2026-10-26", "tube", 5).uv(kToday, "tube", 4);
  EXPECT_THAT(of_lamp(b), IsEmpty());
}

TEST(FadedLamp, OnlyUvbLampsInUse) {
  EXPECT_THAT(of_lamp(read({6, 2}, [](auto& l) { l.uvb = false; })), IsEmpty());
  EXPECT_THAT(of_lamp(read({6, 2}, [](auto& l) { l.retired = date(kToday); })), IsEmpty());
  EXPECT_THAT(of_lamp(read({6, 2}, [](auto& l) { l.retired = date("2026-11-26"); })), SizeIs(1));
  EXPECT_THAT(of_lamp(read({6, 2}, [](auto& l) { l.enclosure = {}; })), SizeIs(1));
}

// A point with the usual offset of 3 cm: 4 at 30 cm are 4 (33/63)^2 = 1.1 at 60 cm.
TEST(FadedLamp, ReadingsAtAnotherDistanceAreBroughtToTheSame) {
  const auto other = [](double uvi) {
    RoomBuilder b = lamp([](auto& l) { l.kind = room::LampKind::compact; });
    b.uv("2026-10-01", "tube", 4);
    b.entry(kToday, EntryKind::uv_reading, "tube", [&](room::Entry& e) {
      e.uvi = UvIndex::index(uvi);
      e.item = "60cm, the ground";
    });
    return b;
  };
  EXPECT_THAT(of_lamp(other(1.1)), IsEmpty());
  EXPECT_THAT(of_lamp(other(0.7)), SizeIs(1));
  EXPECT_THAT(of_lamp(other(0.7)).at(0).evidence, HasSubstr("at 60 cm"));
}

TEST(FadedLamp, AFindingIsComplete) {
  RoomBuilder b = read({4, 2}, [](auto& l) { l.installed = date("2026-11-01"); });
  const Finding finding = of_lamp(b).at(0);
  EXPECT_EQ(finding.when, When::this_week);
  EXPECT_EQ(finding.subject, "tube");
  EXPECT_EQ(finding.module, "light");
  EXPECT_THAT(finding.headline, HasSubstr("50 %"));
  EXPECT_THAT(finding.evidence, HasSubstr("on 2026-11-25"));
  EXPECT_THAT(finding.evidence, HasSubstr("on 2026-11-15"));
  EXPECT_THAT(finding.evidence, HasSubstr("Installed 2026-11-01."));
  EXPECT_THAT(finding.advice, HasSubstr("Never look into a UV lamp"));
  EXPECT_EQ(finding.source, "common practice, no source");
  // The record's day is that of an earlier tube once it was replaced.
  RoomBuilder replaced = lamp([](auto& l) { l.installed = date("2024-01-01"); });
  replaced.entry("2026-10-01", EntryKind::replaced, "tube");
  replaced.uv("2026-10-20", "tube", 4).uv("2026-11-20", "tube", 2);
  EXPECT_THAT(of_lamp(replaced).at(0).evidence, Not(HasSubstr("Installed")));
}

TEST(FadedLamp, ALatestReadingOffTheOthersIsToBeReadAgain) {
  const Finding odd = of_lamp(read({4, 4, 3.9, 3.95, 3.9, 3.85, 1})).at(0);
  EXPECT_THAT(odd.advice, HasSubstr("lies off the line of the others"));
  EXPECT_THAT(odd.evidence, HasSubstr("All 7 readings together"));
}

TEST(TooMuch, OverTheZone) {
  const auto list = found(read({4.8}, {}, "leopard_gecko"));
  ASSERT_THAT(list, SizeIs(1));
  EXPECT_EQ(list[0].when, When::today);
  EXPECT_EQ(list[0].subject, "box");
  EXPECT_THAT(list[0].evidence, HasSubstr("zone 1) 0.6 to 1.4"));
  EXPECT_THAT(list[0].evidence, HasSubstr("30 cm under tube"));
  EXPECT_THAT(list[0].advice, HasSubstr("never look into the lamp"));
  EXPECT_THAT(list[0].advice, HasSubstr("veterinarian"));
  EXPECT_THAT(list[0].source, HasSubstr("ferguson2010"));
  // A little over, less than the meter may be wrong.
  EXPECT_EQ(found(read({1.45}, {}, "leopard_gecko")).at(0).when, When::this_week);
  EXPECT_THAT(found(read({1.3}, {}, "leopard_gecko")), IsEmpty());
}

TEST(TooMuch, OverEightForAny) {
  EXPECT_THAT(headlines(found(read({7.9}, {}, "uromastyx"))), IsEmpty());
  const auto list = found(read({8.2}, {}, "uromastyx"));
  ASSERT_THAT(list, SizeIs(1));
  EXPECT_EQ(list[0].when, When::today);
  EXPECT_THAT(list[0].headline, HasSubstr("stronger than any animal should have"));
}

TEST(TooLittle, OnlyWhereItIsSure) {
  EXPECT_THAT(found(read({2.85})), IsEmpty());  // 2.9, less than the band
  const auto list = found(read({1.2}));
  ASSERT_THAT(list, SizeIs(1));
  EXPECT_EQ(list[0].when, When::this_week);
  EXPECT_THAT(list[0].headline, HasSubstr("weaker than wanted"));
  EXPECT_THAT(list[0].evidence, HasSubstr("zone 3 in one list and zone 4 in another"));
  // By a data sheet alone it is good to know.
  const auto by_sheet = found(lamp([](auto& l) { with_table(l, "30cm 0.8UVI"); }));
  ASSERT_THAT(by_sheet, SizeIs(1));
  EXPECT_EQ(by_sheet[0].when, When::good_to_know);
  // The keeper's own value goes before the zone.
  EXPECT_THAT(found(read({1.2}).override_for("ember", "uvi_max", "1UVI..3UVI")), IsEmpty());
}

TEST(TooLittle, IsNotSaidBesideAFadedLamp) {
  EXPECT_THAT(headlines(found(read({3, 1.2}))), ElementsAre(HasSubstr("of what it gave at first")));
}

TEST(TooLittle, IsNotSaidWhileAnotherLampIsUnknown) {
  RoomBuilder b = read({1.2});
  b.add<room::Instrument>("meter", [](auto& i) { i.kind = room::InstrumentKind::uv_meter; });
  b.add<room::Lamp>("second", [](auto& l) {
    l.kind = room::LampKind::compact;
    l.uvb = true;
    l.enclosure = room::EnclosureId::trusted("box");
  });
  EXPECT_THAT(found(b), IsEmpty());
}

TEST(ClosedLid, NothingPasses) {
  const auto under = [](const char* top, const Change& change = {}) {
    RoomBuilder b;
    b.enclosure("box", [&](auto& e) { e.top = room::parse_construction(top).value(); });
    b.animal("ember", "bearded_dragon").add<room::Lamp>("tube", [&](auto& l) {
      l.kind = room::LampKind::tube_t5;
      l.uvb = true;
      l.place = "on the lid";
      l.distance = q<Length>("30cm");
      l.enclosure = room::EnclosureId::trusted("box");
      with_table(l, "20cm 9UVI + 30cm 5.5UVI");
      if (change) change(l);
    });
    return b;
  };
  EXPECT_THAT(headlines(found(under("glass 4mm"))),
              ElementsAre(HasSubstr("shines on a closed lid")));
  EXPECT_THAT(found(under("mesh 1mm")), IsEmpty());
  EXPECT_THAT(found(under("glass 4mm", [](auto& l) { l.place = "inside"; })), IsEmpty());
  // A meter below the lid knows better.
  RoomBuilder read = under("acrylic 4mm");
  EXPECT_THAT(found(read.uv(kToday, "tube", 4)), IsEmpty());
}

TEST(TooNear, NearerThanTheDataSheetSpeaksOf) {
  const auto at = [](const char* distance) {
    return lamp([=](auto& l) {
      l.distance = q<Length>(distance);
      with_table(l, "30cm 3.5UVI + 45cm 1.9UVI");
    });
  };
  EXPECT_THAT(of_lamp(at("30cm")), IsEmpty());
  EXPECT_THAT(headlines(of_lamp(at("29cm"))),
              ElementsAre(HasSubstr("nearer than its data sheet speaks of")));
}

TEST(NothingKnown, GoodToKnowUnlessTheRoomHasAMeter) {
  const auto list = found(lamp());
  ASSERT_THAT(list, SizeIs(1));
  EXPECT_EQ(list[0].when, When::good_to_know);
  EXPECT_THAT(list[0].headline, HasSubstr("Nobody knows what the UVB lamp tube gives"));
  RoomBuilder metered = lamp();
  metered.add<room::Instrument>("meter", [](auto& i) { i.kind = room::InstrumentKind::uv_meter; });
  EXPECT_THAT(found(metered), IsEmpty());
  EXPECT_THAT(found(lamp([](auto& l) { with_table(l, "30cm 4.7UVI"); })), IsEmpty());
}

// T5: 12 months when not measured (lamp_life_t5).
TEST(UsualLife, PastItWithoutReadings) {
  const auto since = [](const char* day) {
    return lamp([=](auto& l) {
      l.installed = date(day);
      with_table(l, "30cm 6UVI + 45cm 3.2UVI");
    });
  };
  EXPECT_THAT(of_lamp(since("2025-11-25")), IsEmpty());  // the day itself
  EXPECT_THAT(headlines(of_lamp(since("2025-11-24"))),
              ElementsAre(HasSubstr("past its usual life")));
}

TEST(NoLamp, OnlyWhereTheZoneIsNeverWithoutUv) {
  const auto without = [](const char* species) {
    return found(RoomBuilder().enclosure("box").animal("ember", species));
  };
  EXPECT_THAT(without("leopard_gecko"), IsEmpty());  // zone 1
  EXPECT_THAT(without("royal_python"), IsEmpty());   // 1 or 2
  const auto list = without("bearded_dragon");
  ASSERT_THAT(list, SizeIs(1));
  EXPECT_EQ(list[0].when, When::good_to_know);
  EXPECT_THAT(list[0].headline, HasSubstr("has no UVB lamp"));
  EXPECT_THAT(list[0].evidence, HasSubstr("zone 3 in one list and zone 4 in another"));
  EXPECT_THAT(without("giant_day_gecko").at(0).advice, Not(HasSubstr("shade method")));
  EXPECT_THAT(without("whites_tree_frog").at(0).advice, HasSubstr("shade method"));  // nocturnal
}

TEST(NoOneAwake, NothingIsWanted) {
  RoomBuilder b = read({4.8}, {}, "leopard_gecko");
  b.entry("2026-11-01", EntryKind::brumation_started, "ember");
  EXPECT_THAT(found(b), IsEmpty());
  EXPECT_THAT(
      found(RoomBuilder().enclosure("box").add<room::Lamp>("tube",
                                                           [](auto& l) {
                                                             l.uvb = true;
                                                             l.enclosure =
                                                                 room::EnclosureId::trusted("box");
                                                           })),
      IsEmpty());
}

}  // namespace
}  // namespace warmside::light
