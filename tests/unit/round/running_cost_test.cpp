// Energy worked out by hand: kWh = W x hours a day x 30.4 days / 1000.

#include "round/running_cost.h"

#include <gmock/gmock.h>

#include "climate/computed.h"
#include "support/room_builder.h"

namespace warmside::round {
namespace {

using test::q;
using test::RoomBuilder;

constexpr const char* kToday = "2026-11-25";

template <class IdType>
IdType id(const char* text) {
  return IdType::trusted(text);
}

const DeviceUse& use_of(const RunningCost& cost, std::string_view name) {
  for (const DeviceUse& use : cost.devices) {
    if (use.id == name) return use;
  }
  check_failed("a device of the room", __FILE__, __LINE__);
}

RoomBuilder timed() {
  RoomBuilder b;
  b.info([](auto& r) { r.electricity_price = 2; });
  b.add<room::Timer>("clock", [](auto& t) {
    t.on = TimeOfDay{8 * 60};
    t.off = TimeOfDay{20 * 60};
  });
  b.add<room::Timer>("mute");
  return b;
}

TEST(RunningCost, ALampTakesItsTimersHours) {
  RoomBuilder b = timed();
  b.add<room::Lamp>("led", [](auto& l) {
    l.power = q<Power>("25W");
    l.timer = id<room::TimerId>("clock");
  });
  const RunningCost cost = running_cost(b.day(kToday).day);
  const DeviceUse& use = use_of(cost, "led");
  EXPECT_EQ(use.basis, UseBasis::timer);
  // 25 W x 12 h x 30.4 / 1000 = 9.12 kWh.
  EXPECT_NEAR(use.kwh_low, 9.12, 1e-9);
  EXPECT_NEAR(use.kwh_high, 9.12, 1e-9);
  EXPECT_EQ(cost.price, 2);
}

TEST(RunningCost, WhatNobodyKnowsIsABand) {
  RoomBuilder b = timed();
  b.add<room::Thermostat>("stat");
  b.add<room::Lamp>("switched", [](auto& l) { l.power = q<Power>("25W"); });
  b.add<room::Lamp>("mute-lamp", [](auto& l) {
    l.power = q<Power>("25W");
    l.timer = id<room::TimerId>("mute");
  });
  b.add<room::Lamp>("dimmed", [](auto& l) {
    l.power = q<Power>("100W");
    l.timer = id<room::TimerId>("clock");
    l.thermostat = id<room::ThermostatId>("stat");
  });
  b.add<room::Heater>("mat", [](auto& h) { h.power = q<Power>("20W"); });
  b.add<room::Heater>("bare");
  const RunningCost cost = running_cost(b.day(kToday).day);
  // 25 W x 24 h x 30.4 / 1000 = 18.24; 100 W x 12 h x 30.4 / 1000 = 36.48; 20 W x 24 h x 30.4 /
  // 1000 = 14.592.
  for (const auto& [name, high] :
       {std::pair("switched", 18.24), {"mute-lamp", 18.24}, {"dimmed", 36.48}, {"mat", 14.592}}) {
    EXPECT_EQ(use_of(cost, name).basis, UseBasis::not_known) << name;
    EXPECT_EQ(use_of(cost, name).kwh_low, 0) << name;
    EXPECT_NEAR(use_of(cost, name).kwh_high, high, 1e-9) << name;
  }
  EXPECT_EQ(use_of(cost, "bare").basis, UseBasis::unknown);
  EXPECT_EQ(cost.unknown, 1);
  EXPECT_EQ(cost.kwh_low, 0);
  EXPECT_NEAR(cost.kwh_high, 18.24 + 18.24 + 36.48 + 14.592, 1e-9);
}

TEST(RunningCost, AnApplianceTakesItsShareElseItsTimerElseAllDay) {
  RoomBuilder b = timed();
  const auto appliance = [&](const char* name, std::optional<double> running, const char* timer) {
    b.add<room::Appliance>(name, [&](auto& a) {
      a.power = q<Power>("100W");
      if (running) a.running = Percentage::percent(*running);
      a.timer = id<room::TimerId>(timer);
    });
  };
  appliance("shared", 30, "clock");
  appliance("timed", std::nullopt, "clock");
  appliance("always", std::nullopt, "");
  appliance("muted", std::nullopt, "mute");
  const RunningCost cost = running_cost(b.day(kToday).day);
  // 100 W x 24 h x 30.4 / 1000 = 72.96 kWh.
  EXPECT_EQ(use_of(cost, "shared").basis, UseBasis::running_share);
  EXPECT_NEAR(use_of(cost, "shared").kwh_low, 0.3 * 72.96, 1e-9);
  EXPECT_EQ(use_of(cost, "timed").basis, UseBasis::timer);
  EXPECT_NEAR(use_of(cost, "timed").kwh_high, 72.96 / 2, 1e-9);
  EXPECT_EQ(use_of(cost, "always").basis, UseBasis::always);
  EXPECT_NEAR(use_of(cost, "always").kwh_low, 72.96, 1e-9);
  EXPECT_EQ(use_of(cost, "muted").basis, UseBasis::not_known);
  EXPECT_NEAR(use_of(cost, "muted").kwh_high, 72.96, 1e-9);
}

TEST(RunningCost, AgreesWithTheEnclosuresClimate) {
  RoomBuilder b = timed();
  b.enclosure("tank", [](auto& e) {
    e.length = q<Length>("90cm");
    e.width = q<Length>("45cm");
    e.height = q<Length>("45cm");
    for (auto* face : {&e.front, &e.back, &e.left, &e.right, &e.top, &e.bottom}) {
      *face = room::parse_construction("glass 5mm").value();
    }
  });
  b.add<room::Thermostat>("stat", [](auto& t) {
    t.enclosure = id<room::EnclosureId>("tank");
    t.day = q<Temperature>("28C");
  });
  // A heater elsewhere with the lamp's id keeps out of it.
  b.enclosure("elsewhere");
  b.add<room::Heater>("sun", [](auto& h) {
    h.enclosure = id<room::EnclosureId>("elsewhere");
    h.power = q<Power>("20W");
  });
  b.add<room::Heater>("panel", [](auto& h) {
    h.kind = room::HeaterKind::panel;
    h.enclosure = id<room::EnclosureId>("tank");
    h.place = "ceiling";
    h.power = q<Power>("60W");
    h.thermostat = id<room::ThermostatId>("stat");
  });
  b.add<room::Lamp>("sun", [](auto& l) {
    l.kind = room::LampKind::halogen;
    l.enclosure = id<room::EnclosureId>("tank");
    l.power = q<Power>("30W");
    l.timer = id<room::TimerId>("clock");
  });
  const auto test = b.day(kToday);
  const auto outlook = climate::enclosure_outlook(test.day, test.room->enclosures[1]);
  ASSERT_TRUE(outlook.ok()) << to_line(outlook.problem());
  const RunningCost cost = running_cost(test.day);
  ASSERT_EQ(cost.devices.size(), 3u);  // panel, sun (a heater), sun (a lamp)
  ASSERT_EQ(outlook->heaters.size(), 2u);
  EXPECT_EQ(cost.devices[0].basis, UseBasis::computed);
  EXPECT_EQ(cost.devices[0].kwh_low, outlook->heaters[0].kwh_per_month);
  EXPECT_EQ(cost.devices[1].basis, UseBasis::not_known);
  EXPECT_EQ(cost.devices[2].basis, UseBasis::computed);
  EXPECT_EQ(cost.devices[2].kwh_high, outlook->heaters[1].kwh_per_month);
  EXPECT_NEAR(cost.kwh_low, outlook->kwh_per_month, 1e-9);
  // The lamp burns 12 h: 30 W x 12 h x 30.4 / 1000 = 10.944 kWh; a step of the model is a minute.
  EXPECT_NEAR(cost.devices[2].kwh_low, 10.944, 0.02);
}

}  // namespace
}  // namespace warmside::round
