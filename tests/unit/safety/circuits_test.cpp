// Ratings and shares worked out by hand: amperes times volts of the region (NEC; BS 1363; CEE 7/3),
// and 80 % of it (NEC 210.20(A)). The edges on both sides: at the limit nothing, a watt over it the
// finding.

#include "safety/circuits.h"

#include "unit/safety/safe_room.h"

namespace warmside::safety {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::vector<Finding> found(const SafeRoom& room) {
  const auto test = room.build().day(kToday);
  return judge_circuits(test.day, loads_of(test.day)).findings;
}
std::string gaps(const SafeRoom& room) {
  const auto test = room.build().day(kToday);
  return questions_of(judge_circuits(test.day, loads_of(test.day)).gaps);
}

/// A panel of this power straight in the wall socket, beside the mat of 20 W and the lamp of 50 W.
std::function<void(RoomBuilder&)> panel(double watts) {
  return [watts](RoomBuilder& b) {
    b.add<room::Heater>("panel", [&](auto& h) {
      h.kind = room::HeaterKind::panel;
      h.enclosure = id<room::EnclosureId>("tub");
      h.power = Power::watts(watts);
      h.thermostat = id<room::ThermostatId>("mat-stat");
      h.socket = id<room::SocketId>("wall");
    });
  };
}
/// One that a thermostat printed with this load switches too.
SafeRoom loaded(double panel_watts, const char* country, double circuit_watts) {
  return {.info = [country](auto& r) { r.country = country; },
          .circuit = [circuit_watts](auto& c) { c.capacity = Power::watts(circuit_watts); },
          .mat_stat = [](auto& t) { t.capacity = q<Power>("9000W"); },
          .more = panel(panel_watts)};
}

TEST(Circuits, OverTheRatingWithEverythingOnIsForNow) {
  // 16 A x 230 V = 3680 W; 20 + 50 + 3610 = 3680.
  EXPECT_THAT(found(loaded(3610, "NO", 16 * 230)),
              ElementsAre(is(When::good_to_know, "circuit", "ring", "for many hours")));
  EXPECT_THAT(found(loaded(3611, "NO", 16 * 230)),
              ElementsAre(is(When::now, "circuit", "ring", "The circuit ring is overloaded")));
  // 15 A x 120 V = 1800 W; 20 + 50 + 1730 = 1800.
  EXPECT_THAT(found(loaded(1730, "US", 15 * 120)),
              ElementsAre(is(When::today, "circuit", "ring", "for many hours")));
  const auto over = found(loaded(1731, "US", 15 * 120));
  EXPECT_THAT(over, ElementsAre(is(When::now, "circuit", "ring", "overloaded")));
  EXPECT_THAT(over[0].evidence, HasSubstr("1801 W"));
  EXPECT_THAT(over[0].evidence, HasSubstr("panel 1731 W, lamp 50 W, mat 20 W"));
  // 120 V + 5 % = 126 V: 1.05 squared is 1.1025, so 10 % more power and 5 % more current.
  EXPECT_THAT(over[0].evidence, HasSubstr("at 126 V"));
  EXPECT_THAT(over[0].evidence, HasSubstr("10 % more power and 5 % more current"));
  EXPECT_THAT(over[0].advice, HasSubstr("Do not fit a larger breaker"));
}

TEST(Circuits, OverTheShareForHoursIsForTodayWhereThatIsTheRule) {
  // 80 % of 15 A x 120 V = 1800 W is 1440 W; 20 + 50 + 1370 = 1440.
  EXPECT_THAT(found(loaded(1370, "US", 1800)), IsEmpty());
  const auto over = found(loaded(1371, "US", 1800));
  EXPECT_THAT(over, ElementsAre(is(When::today, "circuit", "ring", "carries much for many hours")));
  EXPECT_THAT(over[0].evidence, HasSubstr("the rule of US is 80 %"));
  EXPECT_THAT(over[0].source, HasSubstr("nec2023"));
  // 20 A x 120 V: 2400 W, 1920 W; 20 + 50 + 1850 = 1920.
  EXPECT_THAT(found(loaded(1850, "CA", 2400)), IsEmpty());
  EXPECT_THAT(found(loaded(1851, "CA", 2400)),
              ElementsAre(is(When::today, "circuit", "ring", "for many hours")));
}

TEST(Circuits, ElsewhereTheShareIsARuleOfThumb) {
  // 80 % of 16 A x 230 V = 3680 W is 2944 W; 20 + 50 + 2874 = 2944.
  for (const char* country : {"NO", "GB", "ZZ", ""}) {
    EXPECT_THAT(found(loaded(2874, country, 3680)), IsEmpty()) << country;
    const auto over = found(loaded(2875, country, 3680));
    EXPECT_THAT(over, ElementsAre(is(When::good_to_know, "circuit", "ring", "for many hours")));
    EXPECT_THAT(over[0].evidence, HasSubstr("a rule of thumb is 80 %"));
    EXPECT_EQ(over[0].source, "common practice, no source");
  }
  EXPECT_THAT(gaps(loaded(1, "", 3680)), HasSubstr("the country"));
  EXPECT_EQ(gaps(loaded(1, "NO", 3680)), "");
  // 230 V + 10 % = 253 V: 1.1 squared is 1.21.
  EXPECT_THAT(found(loaded(2875, "NO", 3680))[0].evidence,
              HasSubstr("at 253 V, which NO allows, heaters draw 21 % more power and 10 % more"));
}

TEST(Circuits, AStripIsJudgedByWhatIsPrintedOnIt) {
  // A 13 A plug of BS 1363: 13 A x 230 V = 2990 W. The mat is in the strip, 20 W, the lamp 50 W.
  const auto strip = [](double watts) {
    SafeRoom room = loaded(watts, "GB", 32 * 230);
    room.strip = [](auto& s) { s.capacity = Power::watts(13 * 230); };
    room.more = [watts](RoomBuilder& b) {
      b.add<room::Appliance>("kettle", [&](auto& a) {
        a.power = Power::watts(watts);
        a.socket = id<room::SocketId>("strip");
      });
    };
    return room;
  };
  EXPECT_THAT(found(strip(2322)), IsEmpty());  // 2392 W, 80 %
  EXPECT_THAT(found(strip(2323)),
              ElementsAre(is(When::good_to_know, "socket", "strip", "for many hours")));
  EXPECT_THAT(found(strip(2921)),
              ElementsAre(is(When::now, "socket", "strip", "The strip or lead strip is over")));
  SafeRoom american = strip(2323);
  american.info = [](auto& r) { r.country = "US"; };
  EXPECT_THAT(found(american),
              ElementsAre(is(When::this_week, "socket", "strip", "for many hours")));
}

TEST(Circuits, ATimerOrThermostatOverItsPrintedLoadIsForNow) {
  // The clock switches the lamp of 50 W alone.
  const auto clock = [](const char* printed) {
    return SafeRoom{.timer = [printed](auto& t) { t.capacity = q<Power>(printed); }};
  };
  EXPECT_THAT(found(clock("49W")), ElementsAre(is(When::now, "timer", "clock", "more than it is")));
  EXPECT_THAT(found(clock("50W")),
              ElementsAre(is(When::this_week, "timer", "clock", "Lamps take")));
  EXPECT_THAT(found(clock("99W")),
              ElementsAre(is(When::this_week, "timer", "clock", "Lamps take")));
  EXPECT_THAT(found(clock("100W")), IsEmpty());  // half of it
  const auto stat = [](const char* printed) {
    return SafeRoom{.mat_stat = [printed](auto& t) { t.capacity = q<Power>(printed); }};
  };
  EXPECT_THAT(found(stat("19W")),
              ElementsAre(is(When::now, "thermostat", "mat-stat", "more than")));
  EXPECT_THAT(found(stat("20W")), IsEmpty());  // a mat is no lamp
}

TEST(Circuits, LampsOnAThermostatWithContactsMatterMore) {
  for (const auto& [kind, when] : {std::pair(room::ThermostatKind::on_off, When::this_week),
                                   {room::ThermostatKind::pulse_proportional, When::good_to_know},
                                   {room::ThermostatKind::dimming, When::good_to_know}}) {
    const SafeRoom room{.lamp_stat = [kind = kind](auto& t) {
      t.kind = kind;
      t.capacity = q<Power>("99W");
    }};
    EXPECT_THAT(found(room), ElementsAre(is(when, "thermostat", "lamp-stat", "Lamps take")));
  }
}

TEST(Circuits, StripsInStripsAreForThisWeek) {
  const SafeRoom room{.more = [](RoomBuilder& b) {
    b.add<room::Socket>("third", [](auto& s) {
      s.plugged_into = id<room::SocketId>("strip");
      s.capacity = q<Power>("2300W");
    });
  }};
  const auto all = found(room);
  EXPECT_THAT(all, ElementsAre(is(When::this_week, "socket", "third", "plugged into another one")));
  EXPECT_THAT(all[0].evidence, HasSubstr("third is plugged into strip, and that into wall"));
}

TEST(Circuits, TheRoomHeaterBelongsInAWallSocket) {
  const auto at = [](const char* socket) {
    return SafeRoom{.more = [socket](RoomBuilder& b) {
      b.add<room::Thermostat>("room-stat", [&](auto& t) {
        t.capacity = q<Power>("3500W");
        t.socket = id<room::SocketId>(socket);
      });
      b.add<room::Heater>("stove", [](auto& h) {
        h.kind = room::HeaterKind::room_heater;
        h.power = q<Power>("1500W");
        h.thermostat = id<room::ThermostatId>("room-stat");
      });
    }};
  };
  EXPECT_THAT(found(at("wall")), IsEmpty());
  EXPECT_THAT(found(at("strip")), ElementsAre(is(When::today, "heater", "stove", "strip or lead")));
  // With everything else the circuit carries the stove too.
  SafeRoom small = at("wall");
  small.circuit = [](auto& c) { c.capacity = q<Power>("1569W"); };  // 1500 + 50 + 20 = 1570
  const auto all = found(small);
  EXPECT_THAT(all, ElementsAre(is(When::now, "circuit", "ring", "overloaded")));
  EXPECT_THAT(all[0].evidence, HasSubstr("of which room heating 1500 W"));
}

TEST(Circuits, WhatIsNotKnownIsNamed) {
  EXPECT_THAT(gaps({.mat = [](auto& h) { h.power.reset(); }}), "the power of mat");
  EXPECT_THAT(gaps({.wall = [](auto& s) { s.circuit = {}; }}), "the circuit of wall");
  EXPECT_THAT(gaps({.strip = [](auto& s) { s.capacity.reset(); }}), "the load printed on strip");
  EXPECT_THAT(gaps({.timer = [](auto& t) { t.capacity.reset(); }}), "the load printed on clock");
  EXPECT_THAT(gaps({.lamp_stat = [](auto& t) { t.capacity.reset(); }}),
              "the load printed on lamp-stat");
  EXPECT_THAT(gaps({.circuit = [](auto& c) { c.capacity.reset(); }}),
              "the rating (capacity) of ring");
  EXPECT_THAT(gaps({.mat_stat = [](auto& t) { t.socket = {}; }}),
              "where these are plugged in: mat");
  // A load with something unknown on it is over all the same when the known part is.
  const SafeRoom room{.circuit = [](auto& c) { c.capacity = q<Power>("40W"); },
                      .mat = [](auto& h) { h.power.reset(); }};
  const auto all = found(room);
  EXPECT_THAT(all, ElementsAre(is(When::now, "circuit", "ring", "overloaded")));
  EXPECT_THAT(all[0].evidence, HasSubstr("at least 50 W"));
}

TEST(Circuits, ARoomWithoutDevicesAsksForNothing) {
  const auto test = RoomBuilder().add<room::Circuit>("ring").day(kToday);
  const Judged judged = judge_circuits(test.day, loads_of(test.day));
  EXPECT_THAT(judged.findings, IsEmpty());
  EXPECT_TRUE(judged.gaps.empty());
}

}  // namespace
}  // namespace warmside::safety
