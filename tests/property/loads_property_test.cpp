// What circuits carry on random rooms: sums that agree, and nothing that a device could take away.

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <map>

#include "room/look_up.h"
#include "safety/loads.h"
#include "support/room_builder.h"

namespace warmside::safety {
namespace {

constexpr int kCircuits = 2, kSockets = 6, kSwitches = 3;

template <class IdType>
IdType numbered(const char* word, int number) {
  return number < 0 ? IdType() : IdType::trusted(fmt::format("{}-{}", word, number));
}

/// A device as drawn: numbers of its socket, thermostat and timer, -1 for none; whole watts, so
/// that sums are exact; -1 for a power that nobody knows.
struct Drawn {
  int kind = 0, watts = 0, socket = 0, thermostat = 0, timer = 0;
};

Drawn draw_device() {
  const auto up_to = [](int n) { return *rc::gen::inRange(-1, n); };
  return {*rc::gen::inRange(0, 3), *rc::gen::element(-1, 5, 60, 100, 1500), up_to(kSockets),
          up_to(kSwitches), up_to(kSwitches)};
}

void add_device(room::Room& room, const Drawn& drawn, const std::string& name) {
  const auto put = [&](auto& records) -> auto& {
    auto& record = records.emplace_back();
    record.id = decltype(record.id)::trusted(name);
    if (drawn.watts >= 0) record.power = Power::watts(drawn.watts);
    record.socket = numbered<room::SocketId>("socket", drawn.socket);
    return record;
  };
  if (drawn.kind == 0) {
    put(room.heaters).thermostat = numbered<room::ThermostatId>("stat", drawn.thermostat);
  } else if (drawn.kind == 1) {
    room::Lamp& lamp = put(room.lamps);
    lamp.thermostat = numbered<room::ThermostatId>("stat", drawn.thermostat);
    lamp.timer = numbered<room::TimerId>("timer", drawn.timer);
  } else {
    put(room.appliances).timer = numbered<room::TimerId>("timer", drawn.timer);
  }
}

/// Sockets 0 and 1 on the wall, each later one perhaps a strip in an earlier one.
room::Room draw_room(const std::vector<Drawn>& devices) {
  room::Room room;
  for (int i = 0; i < kCircuits; ++i) {
    room.circuits.emplace_back().id = numbered<room::CircuitId>("circuit", i);
  }
  for (int i = 0; i < kSockets; ++i) {
    room::Socket& socket = room.sockets.emplace_back();
    socket.id = numbered<room::SocketId>("socket", i);
    const int before = i < 2 ? -1 : *rc::gen::inRange(-1, i);
    socket.plugged_into = numbered<room::SocketId>("socket", before);
    if (before < 0) {
      socket.circuit = numbered<room::CircuitId>("circuit", *rc::gen::inRange(0, kCircuits));
    }
  }
  for (int i = 0; i < kSwitches; ++i) {
    room::Timer& timer = room.timers.emplace_back();
    timer.id = numbered<room::TimerId>("timer", i);
    timer.socket = numbered<room::SocketId>("socket", *rc::gen::inRange(-1, kSockets));
    timer.on = TimeOfDay{0};
    timer.off = TimeOfDay{60 * *rc::gen::inRange(1, 24)};
    room::Thermostat& thermostat = room.thermostats.emplace_back();
    thermostat.id = numbered<room::ThermostatId>("stat", i);
    thermostat.socket = numbered<room::SocketId>("socket", *rc::gen::inRange(-1, kSockets));
  }
  for (std::size_t i = 0; i < devices.size(); ++i) {
    add_device(room, devices[i], fmt::format("device-{:02}", i));
  }
  room::sort_records(room);
  return room;
}

Loads of(const room::Room& room) {
  return loads_of(room, test::date("2026-11-25"), Duration::hours(3));
}

std::vector<Drawn> draw_devices() {
  std::vector<Drawn> devices(static_cast<std::size_t>(*rc::gen::inRange(0, 12)));
  for (Drawn& device : devices) device = draw_device();
  return devices;
}

/// Every load of a room, by what carries it.
std::map<std::string, Load> all_of(const Loads& loads) {
  std::map<std::string, Load> all;
  const auto put = [&](const auto& of_kind) {
    for (const auto& [id, load] : of_kind) all[id.text()] = load;
  };
  put(loads.circuits);
  put(loads.sockets);
  put(loads.timers);
  put(loads.thermostats);
  all["placed"] = loads.placed;
  all["not placed"] = loads.not_placed;
  return all;
}

bool alike(const Load& a, const Load& b) {
  return a.everything == b.everything && a.continuous == b.continuous && a.lamps == b.lamps &&
         a.devices.size() == b.devices.size() && a.without_power == b.without_power;
}

RC_GTEST_PROP(LoadsProperty, AnotherDeviceNeverLowersALoadAndUnpluggingBringsItBack, ()) {
  room::Room room = draw_room(draw_devices());
  const auto before = all_of(of(room));
  room::Room more = room;
  add_device(more, draw_device(), "another");
  room::sort_records(more);
  for (const auto& [name, load] : all_of(of(more))) {
    const Load& was = before.at(name);
    RC_ASSERT(load.everything >= was.everything);
    RC_ASSERT(load.continuous >= was.continuous);
    RC_ASSERT(load.continuous <= load.everything);
    RC_ASSERT(load.lamps >= was.lamps);
    RC_ASSERT(load.devices.size() >= was.devices.size());
  }
  const auto unplug = [](auto& records) {
    std::erase_if(records, [](const auto& record) { return record.id.text() == "another"; });
  };
  unplug(more.heaters);
  unplug(more.lamps);
  unplug(more.appliances);
  for (const auto& [name, load] : all_of(of(more))) RC_ASSERT(alike(load, before.at(name)));
}

RC_GTEST_PROP(LoadsProperty, CircuitsTogetherCarryWhatIsPlacedAndNothingElse, ()) {
  const std::vector<Drawn> devices = draw_devices();
  const Loads loads = of(draw_room(devices));
  Power circuits, drawn;
  std::size_t count = 0;
  for (const auto& [id, load] : loads.circuits) {
    circuits += load.everything;
    count += load.devices.size();
  }
  for (const Drawn& device : devices) {
    if (device.watts >= 0) drawn += Power::watts(device.watts);
  }
  RC_ASSERT(circuits == loads.placed.everything);
  RC_ASSERT(count == loads.placed.devices.size());
  RC_ASSERT(loads.placed.everything + loads.not_placed.everything == drawn);
  RC_ASSERT(loads.placed.devices.size() + loads.not_placed.devices.size() == devices.size());
}

RC_GTEST_PROP(LoadsProperty, ASocketCarriesItsOwnDevicesAndTheStripsPluggedIntoIt, ()) {
  const room::Room room = draw_room(draw_devices());
  const Loads loads = of(room);
  for (const room::Socket& socket : room.sockets) {
    Power sum;
    for (const Device& device : loads.devices) {
      if (!device.path.empty() && device.path.front() == socket.id && device.power) {
        sum += *device.power;
      }
    }
    for (const room::Socket& strip : room.sockets) {
      if (strip.plugged_into == socket.id) sum += loads.sockets.at(strip.id).everything;
    }
    RC_ASSERT(sum == loads.sockets.at(socket.id).everything);
  }
}

RC_GTEST_PROP(LoadsProperty, TheOrderOfTheRecordsChangesNothing, ()) {
  const std::vector<Drawn> devices = draw_devices();
  const room::Room room = draw_room(devices);
  // The same devices under names that sort the other way round.
  room::Room other = room;
  other.heaters.clear();
  other.lamps.clear();
  other.appliances.clear();
  for (std::size_t i = 0; i < devices.size(); ++i) {
    add_device(other, devices[i], fmt::format("device-{:02}", 99 - i));
  }
  room::sort_records(other);
  const auto before = all_of(of(room));
  for (const auto& [name, load] : all_of(of(other))) RC_ASSERT(alike(load, before.at(name)));
}

}  // namespace
}  // namespace warmside::safety
