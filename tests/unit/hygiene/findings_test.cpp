// What hygiene notices on a day, case by case; whole days are in
// tests/end-to-end/scenarios/hygiene_*.

#include "hygiene/findings.h"

#include <fmt/format.h>
#include <gmock/gmock.h>

#include "hygiene/transfers.h"
#include "support/room_builder.h"

namespace warmside::hygiene {
namespace {

using room::EntryKind;
using test::RoomBuilder;
using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr const char* kToday = "2026-03-10";

/// juniper in home and basalt in other, healthy; garnet in corner, in quarantine since 20 February.
/// The room's tub and tongs that are the corner's.
RoomBuilder room_with_quarantine() {
  RoomBuilder b;
  b.enclosure("home").animal("juniper", "corn_snake");
  b.enclosure("other").animal("basalt", "royal_python");
  b.enclosure("corner").animal("garnet", "corn_snake");
  b.enclosure("empty");
  b.add<room::Tool>("tub", [](room::Tool& t) { t.kind = room::ToolKind::tub; });
  b.add<room::Tool>("tongs", [](room::Tool& t) {
    t.kind = room::ToolKind::tongs;
    t.enclosure = room::EnclosureId::trusted("corner");
  });
  b.entry("2026-02-20", EntryKind::quarantine_started, "garnet");
  return b;
}

RoomBuilder& used(RoomBuilder& b, std::string_view at, const char* tool, const char* with,
                  room::SubjectKind kind = room::SubjectKind::animal) {
  return b.entry(at, EntryKind::used, tool, [&](room::Entry& e) {
    e.target = room::Subject{kind, with};
  });
}
RoomBuilder& washed(RoomBuilder& b, std::string_view at, const char* tool, const char* with,
                    std::optional<int> minutes) {
  return b.entry(at, EntryKind::disinfected, tool, [&](room::Entry& e) {
    e.item = with;
    e.count = minutes;
  });
}

std::vector<Finding> found_in(const RoomBuilder& b, const char* on = kToday) {
  return findings(b.day(on).day);
}
std::vector<std::string> headlines(const RoomBuilder& b, const char* on = kToday) {
  std::vector<std::string> lines;
  for (const Finding& finding : found_in(b, on)) lines.push_back(finding.headline);
  return lines;
}

TEST(HygieneFindings, NoneWhereNothingIsWritten) {
  EXPECT_THAT(headlines(RoomBuilder()), IsEmpty());
  EXPECT_THAT(headlines(room_with_quarantine()), IsEmpty());
}

TEST(HygieneFindings, ATubFromQuarantineSaysAllThatAFindingMust) {
  RoomBuilder b = room_with_quarantine();
  used(b, "2026-03-08 18:00", "tub", "garnet");
  used(b, "2026-03-09 18:00", "tub", "juniper");
  const auto found = found_in(b);
  ASSERT_EQ(found.size(), 1u);
  const Finding& f = found[0];
  EXPECT_EQ(f.when, When::today);
  EXPECT_EQ(f.subject_kind, "animal");
  EXPECT_EQ(f.subject, "juniper");
  EXPECT_EQ(f.headline, "juniper had the tub tub after garnet, who is in quarantine");
  EXPECT_EQ(f.evidence,
            "The tub tub: garnet 2026-03-08 18:00, juniper 2026-03-09 18:00, no disinfection "
            "between.");
  EXPECT_THAT(f.advice, AllOf(HasSubstr("under observation"), HasSubstr("jot quarantine garnet"),
                              HasSubstr("veterinarian"), HasSubstr("rinse")));
  EXPECT_THAT(f.source, AllOf(HasSubstr("aza2007"), HasSubstr("common practice, no source")));
  EXPECT_EQ(f.module, "hygiene");
}

TEST(HygieneFindings, TodayForAWeekThenThisWeekForAMonth) {
  RoomBuilder b = room_with_quarantine();
  used(b, "2026-03-01 18:00", "tub", "garnet");
  used(b, "2026-03-02 18:00", "tub", "juniper");
  EXPECT_EQ(found_in(b, "2026-03-09")[0].when, When::today);
  EXPECT_EQ(found_in(b, "2026-03-10")[0].when, When::this_week);
  EXPECT_EQ(found_in(b, "2026-03-31").size(), 1u);
  EXPECT_THAT(headlines(b, "2026-04-02"), IsEmpty());
}

TEST(HygieneFindings, StillSaidOnceTheDaysHaveBegunAgain) {
  RoomBuilder b = room_with_quarantine();
  used(b, "2026-03-08 18:00", "tub", "garnet");
  used(b, "2026-03-08 18:20", "tub", "juniper");
  b.entry("2026-03-09", EntryKind::quarantine_started, "garnet");
  const auto found = found_in(b);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_THAT(found[0].advice, Not(HasSubstr("jot quarantine")));
  // Signed off: no longer.
  b.entry("2026-03-10", EntryKind::quarantine_ended, "garnet");
  for (const Finding& f : found_in(b)) EXPECT_EQ(f.subject_kind, "tool");
}

TEST(HygieneFindings, TheOtherWayRoundIsSharedOnly) {
  RoomBuilder b = room_with_quarantine();
  used(b, "2026-03-08 18:00", "tub", "juniper");
  used(b, "2026-03-08 18:20", "tub", "garnet");
  const auto found = found_in(b);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].subject_kind, "tool");
  EXPECT_EQ(found[0].when, When::today);
}

TEST(HygieneFindings, WhatItCarriesOnIsNotForgotten) {
  // From garnet to juniper to basalt: basalt had it after garnet too.
  RoomBuilder b = room_with_quarantine();
  used(b, "2026-03-07 18:00", "tub", "garnet");
  used(b, "2026-03-08 18:00", "tub", "juniper");
  used(b, "2026-03-09 18:00", "tub", "basalt");
  EXPECT_THAT(headlines(b), ElementsAre(HasSubstr("basalt had the tub tub after garnet"),
                                        HasSubstr("juniper had the tub tub after garnet")));
}

TEST(HygieneFindings, OfManyThePageSaysOneThing) {
  for (const int count : {5, 6}) {
    RoomBuilder b = room_with_quarantine();
    used(b, "2026-03-09 10:00", "tub", "garnet");
    for (int i = 1; i <= count; ++i) {
      const std::string name = fmt::format("n{}", i);
      b.enclosure(("e" + name).c_str()).animal(name.c_str(), "corn_snake");
      used(b, fmt::format("2026-03-09 {}:00", 10 + i), "tub", name.c_str());
    }
    const auto found = found_in(b);
    if (count == 5) {
      EXPECT_EQ(found.size(), 5u);
      continue;
    }
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].subject, "garnet");
    EXPECT_EQ(found[0].headline,
              "n6 and 5 more had the tub tub after garnet, who is in quarantine");
    EXPECT_THAT(found[0].evidence, HasSubstr("and 3 more"));
  }
}

TEST(HygieneFindings, OnlyWhatIsKnownOfADisinfectionCuts) {
  const struct {
    const char* with;
    std::optional<int> minutes;
    const char* why;  // empty: it cuts
  } kCases[] = {
      {"bleach 0.1%", 10, ""},
      {"potassium peroxymonosulfate 1 %", 10, ""},
      {"bleach 0.1%", std::nullopt, "no contact time"},
      {"bleach", 10, "no strength"},
      {"", 10, "nobody wrote with what"},
      {"bleach 0.01%", 10, "too weak or too short"},
      {"bleach 0.1% and ammonia 5%", 10, "two disinfectants"},
  };
  for (const auto& c : kCases) {
    RoomBuilder b = room_with_quarantine();
    used(b, "2026-03-08 18:00", "tub", "garnet");
    washed(b, "2026-03-08 19:00", "tub", c.with, c.minutes);
    used(b, "2026-03-09 18:00", "tub", "juniper");
    const auto found = found_in(b);
    if (*c.why == '\0') {
      EXPECT_THAT(headlines(b), IsEmpty()) << c.with;
      continue;
    }
    ASSERT_EQ(found.size(), 2u) << c.with;
    EXPECT_THAT(found[0].evidence, HasSubstr(c.why)) << c.with;
    const bool mixed = std::string_view(c.with).find("ammonia") != std::string_view::npos;
    EXPECT_EQ(found[1].when, mixed ? When::today : When::good_to_know);
    EXPECT_THAT(found[1].evidence, HasSubstr(c.why)) << c.with;
    EXPECT_THAT(found[1].advice, HasSubstr("--minutes 10"));
  }
}

// CDC: bleach is mixed fresh every 24 h. The label alone knows of the others.
TEST(HygieneFindings, AMixtureThatIsTooOld) {
  const auto said = [](const char* supply, const char* mixed, const char* with, const char* at) {
    RoomBuilder b = room_with_quarantine();
    b.add<room::Supply>("bottle", [&](room::Supply& s) {
      s.kind = room::SupplyKind::disinfectant;
      s.name = supply;
    });
    b.entry("2026-03-08 18:00", EntryKind::note, "bottle", [&](room::Entry& e) { e.note = mixed; });
    washed(b, at, "tub", with, 10);
    return headlines(b);
  };
  const auto old = ElementsAre(HasSubstr("was used when its mixture was too old"));
  EXPECT_THAT(said("household bleach", "mixed", "bleach 0.1%", "2026-03-09 18:01"), old);
  EXPECT_THAT(said("household bleach", "mixed", "bleach 0.1%", "2026-03-09 18:00"), IsEmpty());
  EXPECT_THAT(said("spray", "Mixed bleach 0.1%", "bleach 0.1%", "2026-03-10 10:00"), old);
  EXPECT_THAT(said("spray", "smells", "bleach 0.1%", "2026-03-10 10:00"), IsEmpty());
  EXPECT_THAT(said("spray", "mixed ethanol 70%", "ethanol 70%", "2026-03-10 10:00"), IsEmpty());
  EXPECT_THAT(said("household bleach", "mixed", "ethanol 70%", "2026-03-10 10:00"), IsEmpty());
}

TEST(HygieneFindings, AStruckUseNeverWas) {
  RoomBuilder b = room_with_quarantine();
  used(b, "2026-03-08 18:00", "tub", "garnet");
  used(b, "2026-03-09 18:00", "tub", "juniper").strike_it("2026-03-09 18:05");
  EXPECT_THAT(headlines(b), IsEmpty());
}

TEST(HygieneFindings, OneHouseholdMayShare) {
  RoomBuilder b = room_with_quarantine();
  b.enclosure("pair").animal("one", "leopard_gecko").animal("two", "leopard_gecko");
  used(b, "2026-03-08 18:00", "tub", "one");
  used(b, "2026-03-09 18:00", "tub", "two");
  used(b, "2026-03-09 18:10", "tub", "pair", room::SubjectKind::enclosure);
  EXPECT_THAT(headlines(b), IsEmpty());
}

TEST(HygieneFindings, AnEnclosureNobodyLivesInIsReachedItself) {
  RoomBuilder b = room_with_quarantine();
  used(b, "2026-03-08 18:00", "tub", "corner", room::SubjectKind::enclosure);
  used(b, "2026-03-09 18:00", "tub", "empty", room::SubjectKind::enclosure);
  const auto found = found_in(b);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].subject_kind, "enclosure");
  EXPECT_EQ(found[0].subject, "empty");
}

TEST(HygieneFindings, OwnTongsAreSoiledByTheirEnclosure) {
  RoomBuilder b = room_with_quarantine();
  used(b, "2026-03-09 18:00", "tongs", "juniper");
  EXPECT_THAT(headlines(b), ElementsAre(HasSubstr("juniper had the tongs tongs after garnet")));
  // Once garnet has moved out nobody soils them.
  RoomBuilder moved = room_with_quarantine();
  moved.moved("2026-02-25", "garnet", "empty");
  used(moved, "2026-03-09 18:00", "tongs", "juniper");
  EXPECT_THAT(headlines(moved), IsEmpty());
}

TEST(HygieneFindings, LeftoversAmongTheHealthyAreSaidOnTheEnclosure) {
  RoomBuilder b = room_with_quarantine();
  b.entry("2026-03-09", EntryKind::leftovers, "basalt", [](room::Entry& e) {
    e.target = room::Subject{room::SubjectKind::animal, "juniper"};
  });
  const auto found = found_in(b);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].subject_kind, "enclosure");  // so that nobody becomes a patient
  EXPECT_EQ(found[0].headline, "juniper was given the leftovers of basalt");
}

TEST(HygieneFindings, HandsRestHalfAnHour) {
  for (const auto& [later, wanted] :
       {std::pair("2026-03-10 08:30", 1u), {"2026-03-10 08:31", 0u}}) {
    RoomBuilder b = room_with_quarantine();
    b.entry("2026-03-10 08:00", EntryKind::watered, "corner");
    b.entry(later, EntryKind::watered, "home");
    EXPECT_EQ(headlines(b).size(), wanted) << later;
  }
}

TEST(HygieneFindings, HandsOfADayAreOneFinding) {
  RoomBuilder b = room_with_quarantine();
  for (const char* day : {"2026-03-08", "2026-03-09", "2026-03-10"}) {
    const auto at = [&](const char* time) { return std::string(day) + time; };
    b.entry(at(" 08:00"), EntryKind::watered, "corner");
    b.entry(at(" 08:10"), EntryKind::spot_cleaned, "home");
    b.entry(at(" 08:20"), EntryKind::watered, "other");
  }
  EXPECT_THAT(
      headlines(b),
      ElementsAre("home and 1 more came after garnet, who is in quarantine, by the same hands",
                  "home and 1 more came after garnet, who is in quarantine, by the same hands"));
}

TEST(HygieneFindings, HandsMatterMoreWhereSomebodyIsVulnerable) {
  for (const auto answer : {room::Answer::yes, room::Answer::no}) {
    RoomBuilder b = room_with_quarantine();
    b.info([&](auto& info) { info.vulnerable_person = answer; });
    b.entry("2026-03-10 08:00", EntryKind::watered, "corner");
    b.entry("2026-03-10 08:10", EntryKind::watered, "home");
    const auto found = found_in(b);
    ASSERT_EQ(found.size(), 1u);
    EXPECT_EQ(found[0].advice.find("weak immunity") != std::string::npos,
              answer == room::Answer::yes);
  }
}

TEST(HygieneFindings, TheSickAreAboveQuarantine) {
  RoomBuilder b = room_with_quarantine();
  b.entry("2026-03-05", EntryKind::ill, "basalt");
  used(b, "2026-03-09 18:00", "tub", "basalt");
  used(b, "2026-03-09 18:10", "tub", "garnet");
  EXPECT_THAT(headlines(b),
              ElementsAre(HasSubstr("garnet had the tub tub after basalt, who is noted as ill")));
}

TEST(HygieneFindings, WhoHasLeftIsNobodysHousehold) {
  RoomBuilder b;
  b.enclosure("home").animal("juniper", "corn_snake");
  b.enclosure("other").animal("gone", "corn_snake",
                              [](room::Animal& a) { a.left = test::date("2026-03-09"); });
  b.add<room::Tool>("tub", [](room::Tool& t) { t.kind = room::ToolKind::tub; });
  used(b, "2026-03-08 18:00", "tub", "gone");
  used(b, "2026-03-09 18:00", "tub", "juniper");
  EXPECT_THAT(headlines(b), ElementsAre("The tub tub went from gone to juniper without a "
                                        "disinfection"));
}

TEST(HygieneFindings, ADisinfectionThatCountedEndsWhatWasPassedOver) {
  RoomBuilder b = room_with_quarantine();
  washed(b, "2026-03-07 10:00", "tub", "bleach", 10);
  washed(b, "2026-03-07 11:00", "tub", "bleach 0.1%", 10);
  used(b, "2026-03-08 18:00", "tub", "garnet");
  used(b, "2026-03-09 18:00", "tub", "juniper");
  EXPECT_THAT(found_in(b)[0].evidence, Not(HasSubstr("counts for nothing")));
}

TEST(HygieneFindings, EntriesOfOneMomentHaveNoOrder) {
  RoomBuilder b = room_with_quarantine();
  b.entry("2026-03-10 08:00", EntryKind::watered, "corner");
  b.entry("2026-03-10 08:00", EntryKind::watered, "home");
  EXPECT_THAT(headlines(b), IsEmpty());
}

TEST(HygieneFindings, LeftoversInOneHouseholdStayThere) {
  RoomBuilder b = room_with_quarantine();
  b.enclosure("pair").animal("one", "leopard_gecko").animal("two", "leopard_gecko");
  b.entry("2026-03-09", EntryKind::leftovers, "one", [](room::Entry& e) {
    e.target = room::Subject{room::SubjectKind::animal, "two"};
  });
  EXPECT_THAT(headlines(b), IsEmpty());
}

TEST(HygieneFindings, OfSeveralKeepersAnEntryWithoutANameIsNobodys) {
  for (const int keepers : {1, 2}) {
    RoomBuilder b = room_with_quarantine();
    for (int i = 0; i < keepers; ++i) b.add<room::Keeper>(i == 0 ? "kim" : "sitter");
    b.entry("2026-03-10 08:00", EntryKind::watered, "corner");
    b.entry("2026-03-10 08:10", EntryKind::watered, "home");
    EXPECT_EQ(headlines(b).size(), keepers == 1 ? 1u : 0u) << keepers;
  }
}

TEST(HygieneFindings, IllFromTheDayOnThatSaysSo) {
  RoomBuilder b = room_with_quarantine();
  used(b, "2026-03-08 10:00", "tub", "basalt");
  washed(b, "2026-03-08 11:00", "tub", "bleach 0.1%", 10);
  b.entry("2026-03-09 12:00", EntryKind::ill, "basalt");
  used(b, "2026-03-09 18:00", "tub", "basalt");
  used(b, "2026-03-09 18:10", "tub", "juniper");
  EXPECT_THAT(headlines(b),
              ElementsAre("juniper had the tub tub after basalt, who is noted as ill"));
}

TEST(HygieneFindings, AnEarlierQuarantineThatEndedIsOver) {
  RoomBuilder b = room_with_quarantine();
  b.entry("2026-02-25", EntryKind::quarantine_ended, "garnet");
  used(b, "2026-02-26 18:00", "tub", "garnet");
  used(b, "2026-02-27 18:00", "tub", "juniper");
  b.entry("2026-03-09", EntryKind::quarantine_started, "garnet");
  EXPECT_THAT(headlines(b), IsEmpty());
}

TEST(HygieneFindings, QuarantineBeginsWithTheArrivalWhoeverJotsItLater) {
  RoomBuilder b = room_with_quarantine();
  b.enclosure("new").animal("topaz", "corn_snake",
                            [](room::Animal& a) { a.arrived = test::date("2026-03-05"); });
  used(b, "2026-03-06 18:00", "tub", "topaz");
  used(b, "2026-03-07 18:00", "tub", "juniper");
  b.entry("2026-03-09", EntryKind::quarantine_started, "topaz");
  EXPECT_THAT(headlines(b),
              ElementsAre("juniper had the tub tub after topaz, who is in quarantine"));
}

TEST(HygieneFindings, HandsCarryTheWorstTheyTouched) {
  RoomBuilder b = room_with_quarantine();
  b.entry("2026-03-05", EntryKind::ill, "basalt");
  b.entry("2026-03-10 08:00", EntryKind::watered, "corner");
  b.entry("2026-03-10 08:10", EntryKind::watered, "other");
  b.entry("2026-03-10 08:20", EntryKind::watered, "home");
  EXPECT_THAT(headlines(b),
              ElementsAre("home came after basalt, who is noted as ill, by the same hands"));
}

TEST(HygieneFindings, AMixtureMadeLaterDoesNotMakeAnOldOneGood) {
  RoomBuilder b = room_with_quarantine();
  b.add<room::Supply>("bottle", [](room::Supply& s) {
    s.kind = room::SupplyKind::disinfectant;
    s.name = "household bleach";
  });
  const auto mixed = [](room::Entry& e) { e.note = "mixed"; };
  b.entry("2026-03-07 18:00", EntryKind::note, "bottle", mixed);
  washed(b, "2026-03-09 18:00", "tub", "bleach 0.1%", 10);
  b.entry("2026-03-09 18:30", EntryKind::note, "bottle", mixed);
  const auto found = found_in(b);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].subject, "bottle");
  EXPECT_THAT(found[0].evidence, HasSubstr("2 days after it was mixed"));
}

TEST(HygieneFindings, UnknownDisinfectionsAreNoNewsAfterAWeek) {
  RoomBuilder b = room_with_quarantine();
  washed(b, "2026-03-03 00:00", "tub", "bleach", 10);
  EXPECT_EQ(headlines(b).size(), 1u);
  EXPECT_THAT(headlines(b, "2026-03-11"), IsEmpty());
}

}  // namespace
}  // namespace warmside::hygiene
