#include "safety/water_and_mains.h"

#include "unit/safety/safe_room.h"

namespace warmside::safety {
namespace {

using room::Answer;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Judged judged(const SafeRoom& room) {
  const auto test = room.build().day(kToday);
  return judge_water_and_mains(test.day, loads_of(test.day));
}

/// The circuit's answer, the wall socket's and the strip's.
SafeRoom protected_by(Answer circuit, Answer wall, Answer strip) {
  return {.circuit = [=](auto& c) { c.residual_current_device = circuit; },
          .wall = [=](auto& s) { s.residual_current_device = wall; },
          .strip = [=](auto& s) { s.residual_current_device = strip; }};
}

TEST(WaterAndMains, AYesAnywhereOnTheWayProtects) {
  using enum Answer;
  for (const Answer a : {unknown, no, yes}) {
    for (const Answer b : {unknown, no, yes}) {
      for (const Answer c : {unknown, no, yes}) {
        const Judged all = judged(protected_by(a, b, c));
        const bool any = a == yes || b == yes || c == yes;
        EXPECT_EQ(all.findings.size(), !any && a == no ? 1u : 0u);
        EXPECT_EQ(all.gaps.empty(), any || a == no);
      }
    }
  }
}

TEST(WaterAndMains, WithoutAnRcdByWaterIsForTodayInOneFinding) {
  const SafeRoom room = protected_by(Answer::no, Answer::unknown, Answer::unknown);
  const auto all = judged(room).findings;
  EXPECT_THAT(all, ElementsAre(is(When::today, "circuit", "ring", "No RCD (GFCI) protects")));
  EXPECT_THAT(all[0].evidence, HasSubstr("mat and lamp"));
  EXPECT_THAT(all[0].advice, HasSubstr("Unplug before a hand goes into water"));
  EXPECT_THAT(all[0].advice, HasSubstr("30 mA is usual in NO (from memory)"));
  // No water, no spraying: a corn snake without a dish.
  SafeRoom dry = room;
  dry.enclosure = [](auto& e) { e.water_dish = false; };
  EXPECT_THAT(judged(dry).findings, IsEmpty());
  SafeRoom empty = room;
  empty.animal = [](auto& a) { a.left = date(kToday); };
  EXPECT_THAT(judged(empty).findings, IsEmpty());
}

/// A pump straight in the wall socket; of its circuit's RCD nobody knows.
SafeRoom with_pump(room::ApplianceKind kind, bool in_water, Answer rcd, Answer loops) {
  SafeRoom room;
  room.circuit = [rcd](auto& c) { c.residual_current_device = rcd; };
  room.wall = [loops](auto& s) { s.drip_loops = loops; };
  room.enclosure = [](auto& e) { e.water_dish = false; };
  room.more = [=](RoomBuilder& b) {
    b.add<room::Appliance>("pump", [=](auto& a) {
      a.kind = kind;
      a.in_water = in_water;
      a.power = q<Power>("8W");
      a.socket = id<room::SocketId>("wall");
    });
  };
  return room;
}

TEST(WaterAndMains, UnknownIsForThisWeekOfWhatIsInWater) {
  using enum room::ApplianceKind;
  const auto unknown = is(When::this_week, "room", "room", "Nobody has written whether an RCD");
  for (const auto kind : {pump, fogger, humidifier}) {
    EXPECT_THAT(judged(with_pump(kind, false, Answer::unknown, Answer::yes)).findings,
                ElementsAre(unknown));
  }
  EXPECT_THAT(judged(with_pump(other, true, Answer::unknown, Answer::yes)).findings,
              ElementsAre(unknown));
  EXPECT_THAT(judged(with_pump(other, false, Answer::unknown, Answer::yes)).findings, IsEmpty());
  EXPECT_THAT(judged(with_pump(pump, true, Answer::yes, Answer::yes)).findings, IsEmpty());
  EXPECT_THAT(judged(with_pump(pump, true, Answer::no, Answer::yes)).findings,
              ElementsAre(is(When::today, "circuit", "ring", "No RCD")));
  // By a dish it is only named among what is not known.
  const Judged beside = judged(protected_by(Answer::unknown, Answer::unknown, Answer::unknown));
  EXPECT_THAT(beside.findings, IsEmpty());
  EXPECT_EQ(questions_of(beside.gaps), "whether an RCD (GFCI) protects, by water, mat and lamp");
}

TEST(WaterAndMains, AWaterHeaterIsInWater) {
  const SafeRoom room{.circuit = [](auto& c) { c.residual_current_device = Answer::unknown; },
                      .mat = [](auto& h) { h.kind = room::HeaterKind::water_heater; }};
  EXPECT_THAT(judged(room).findings,
              ElementsAre(is(When::this_week, "room", "room", "Nobody has written")));
}

TEST(WaterAndMains, CordsWantDripLoops) {
  EXPECT_THAT(judged({.strip = [](auto& s) { s.drip_loops = Answer::no; }}).findings,
              ElementsAre(is(When::this_week, "socket", "strip", "without a drip loop")));
  // Unknown matters where water is, in one line.
  EXPECT_THAT(judged({.strip = [](auto& s) { s.drip_loops = Answer::unknown; }}).gaps, IsEmpty());
  const Judged pump =
      judged(with_pump(room::ApplianceKind::pump, true, Answer::yes, Answer::unknown));
  EXPECT_THAT(pump.findings, IsEmpty());
  EXPECT_EQ(questions_of(pump.gaps), "whether the cords hang in drip loops at wall");
  const auto both = judged({.wall = [](auto& s) { s.drip_loops = Answer::no; },
                            .strip = [](auto& s) { s.drip_loops = Answer::no; }});
  EXPECT_THAT(both.findings, ElementsAre(is(When::this_week, "room", "room", "drip loop")));
  EXPECT_THAT(both.findings[0].evidence, HasSubstr("strip and wall"));
}

}  // namespace
}  // namespace warmside::safety
