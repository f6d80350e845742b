#include "safety/loads.h"

#include <gmock/gmock.h>

#include "support/room_builder.h"

namespace warmside::safety {
namespace {

using test::date;
using test::q;
using test::RoomBuilder;

constexpr const char* kToday = "2026-11-25";

template <class IdType>
IdType id(const char* text) {
  return IdType::trusted(text);
}

/// A circuit, a wall socket on it, a strip in that, a timer and a thermostat in the strip.
RoomBuilder wired() {
  RoomBuilder b;
  b.add<room::Circuit>("ring");
  b.add<room::Socket>("wall", [](auto& s) { s.circuit = id<room::CircuitId>("ring"); });
  b.add<room::Socket>("strip", [](auto& s) { s.plugged_into = id<room::SocketId>("wall"); });
  b.add<room::Timer>("clock", [](auto& t) {
    t.on = TimeOfDay{8 * 60};
    t.off = TimeOfDay{20 * 60};
    t.socket = id<room::SocketId>("strip");
  });
  b.add<room::Thermostat>("stat", [](auto& t) { t.socket = id<room::SocketId>("strip"); });
  return b;
}

Loads of(const RoomBuilder& b, const char* day = kToday) {
  return loads_of(b.room(), date(day), Duration::hours(3));
}

template <class Loads_, class IdType>
double watts(const Loads_& loads, const IdType& id) {
  return loads.at(id).everything.watts();
}

TEST(Loads, ADeviceIsInEverythingOnItsWay) {
  RoomBuilder b = wired();
  b.add<room::Heater>("mat", [](auto& h) {
    h.power = q<Power>("20W");
    h.thermostat = id<room::ThermostatId>("stat");
  });
  b.add<room::Lamp>("lamp", [](auto& l) {
    l.power = q<Power>("50W");
    l.timer = id<room::TimerId>("clock");
  });
  b.add<room::Appliance>("fridge", [](auto& a) {
    a.power = q<Power>("90W");
    a.socket = id<room::SocketId>("wall");
  });
  const Loads loads = of(b);
  EXPECT_EQ(watts(loads.circuits, id<room::CircuitId>("ring")), 160);  // 20 + 50 + 90
  EXPECT_EQ(watts(loads.sockets, id<room::SocketId>("wall")), 160);
  EXPECT_EQ(watts(loads.sockets, id<room::SocketId>("strip")), 70);
  EXPECT_EQ(watts(loads.timers, id<room::TimerId>("clock")), 50);
  EXPECT_EQ(watts(loads.thermostats, id<room::ThermostatId>("stat")), 20);
  EXPECT_EQ(loads.circuits.at(id<room::CircuitId>("ring")).lamps.watts(), 50);
  EXPECT_EQ(loads.placed.everything.watts(), 160);
  EXPECT_TRUE(loads.not_placed.devices.empty());
}

TEST(Loads, ThePlugIsItsOwnSocketElseTheThermostatsElseTheTimers) {
  RoomBuilder b = wired();
  b.add<room::Socket>("other");
  b.add<room::Thermostat>("loose");
  b.add<room::Lamp>("lamp", [](auto& l) {
    l.power = q<Power>("50W");
    l.timer = id<room::TimerId>("clock");
    l.thermostat = id<room::ThermostatId>("loose");
  });
  EXPECT_EQ(of(b).devices[0].path.front().text(), "strip");  // the timer's
  b = wired();
  b.add<room::Socket>("other");
  b.add<room::Thermostat>("there", [](auto& t) { t.socket = id<room::SocketId>("other"); });
  const auto lamp = [](auto& l) {
    l.timer = id<room::TimerId>("clock");
    l.thermostat = id<room::ThermostatId>("there");
  };
  b.add<room::Lamp>("lamp", lamp);
  EXPECT_EQ(of(b).devices[0].path.front().text(), "other");  // the thermostat's
  EXPECT_TRUE(of(b).devices[0].circuit.empty());             // a socket of no circuit
  b = wired();
  b.add<room::Socket>("other");
  b.add<room::Thermostat>("there", [](auto& t) {
    t.socket = id<room::SocketId>("other");
    t.retired = date(kToday);
  });
  b.add<room::Lamp>("lamp", lamp);
  EXPECT_EQ(of(b).devices[0].path.front().text(), "strip");  // it is out of use: the timer's
  b = wired();
  b.add<room::Heater>("mat", [](auto& h) {
    h.thermostat = id<room::ThermostatId>("stat");
    h.socket = id<room::SocketId>("wall");
  });
  EXPECT_EQ(of(b).devices[0].path.front().text(), "wall");  // its own
  EXPECT_EQ(of(b).thermostats.at(id<room::ThermostatId>("stat")).devices.size(), 1u);
}

TEST(Loads, NothingIsCountedAsZeroSilently) {
  RoomBuilder b = wired();
  b.add<room::Heater>("mat", [](auto& h) { h.socket = id<room::SocketId>("strip"); });
  b.add<room::Lamp>("lamp", [](auto& l) {
    l.power = q<Power>("50W");
    l.socket = id<room::SocketId>("strip");
  });
  b.add<room::Lamp>("nowhere", [](auto& l) { l.power = q<Power>("25W"); });
  const Loads loads = of(b);
  const Load& ring = loads.circuits.at(id<room::CircuitId>("ring"));
  EXPECT_EQ(ring.without_power, 1);
  EXPECT_EQ(words_of(ring, ring.everything), "at least 50 W");
  EXPECT_EQ(devices_of(loads, ring), "lamp 50 W, mat (power not known)");
  EXPECT_EQ(loads.not_placed.devices.size(), 1u);
  EXPECT_EQ(loads.devices[loads.not_placed.devices[0]].id, "nowhere");
}

TEST(Loads, WhatIsOutOfUseCarriesNothing) {
  RoomBuilder b = wired();
  b.add<room::Heater>("mat", [](auto& h) {
    h.power = q<Power>("20W");
    h.socket = id<room::SocketId>("wall");
    h.retired = date(kToday);
  });
  EXPECT_EQ(watts(of(b).circuits, id<room::CircuitId>("ring")), 0);
  EXPECT_EQ(watts(of(b, "2026-11-24").circuits, id<room::CircuitId>("ring")), 20);
}

TEST(Loads, OnlyAKnownShortTimeIsNotForHours) {
  const auto continuous = [](std::optional<int> on_min, std::optional<int> off_min) {
    RoomBuilder b = wired();
    b.add<room::Timer>("own", [&](auto& t) {
      if (on_min) t.on = TimeOfDay{*on_min};
      if (off_min) t.off = TimeOfDay{*off_min};
      t.socket = id<room::SocketId>("wall");
    });
    b.add<room::Lamp>("lamp", [](auto& l) {
      l.power = q<Power>("50W");
      l.timer = id<room::TimerId>("own");
    });
    return of(b).circuits.at(id<room::CircuitId>("ring")).continuous.watts();
  };
  EXPECT_EQ(continuous(8 * 60, 11 * 60), 50);     // 3 h: three hours or more
  EXPECT_EQ(continuous(8 * 60, 11 * 60 - 1), 0);  // a minute less
  EXPECT_EQ(continuous(22 * 60, 60), 50);         // over midnight, 3 h
  EXPECT_EQ(continuous(22 * 60, 59), 0);
  EXPECT_EQ(continuous(8 * 60, 8 * 60), 50);        // all day
  EXPECT_EQ(continuous(8 * 60, std::nullopt), 50);  // nobody knows
}

TEST(Loads, StripsInACircleAreNowhereAndEndless) {
  room::Room room;
  for (const char* name : {"a", "b"}) {
    room::Socket& socket = room.sockets.emplace_back();
    socket.id = id<room::SocketId>(name);
    socket.plugged_into = id<room::SocketId>(name[0] == 'a' ? "b" : "a");
  }
  room::Lamp& lamp = room.lamps.emplace_back();
  lamp.id = id<room::LampId>("lamp");
  lamp.power = q<Power>("50W");
  lamp.socket = id<room::SocketId>("a");
  const Loads loads = loads_of(room, date(kToday), Duration::hours(3));
  EXPECT_EQ(loads.not_placed.devices.size(), 1u);
  EXPECT_EQ(watts(loads.sockets, id<room::SocketId>("a")), 0);
}

TEST(Loads, ASumOfTenthsIsNotOverItsLimit) {
  Power sum;
  for (int i = 0; i < 3; ++i) sum += q<Power>("0.1W");
  EXPECT_GT(sum, q<Power>("0.3W"));  // in binary
  EXPECT_FALSE(is_over(sum, q<Power>("0.3W")));
  EXPECT_TRUE(is_over(q<Power>("0.31W"), q<Power>("0.3W")));
}

}  // namespace
}  // namespace warmside::safety
