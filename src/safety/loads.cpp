#include "safety/loads.h"

#include <fmt/format.h>

#include <algorithm>

#include "safety/mains.h"

namespace warmside::safety {
namespace {

constexpr std::size_t kMostNamed = 6;
constexpr double kRounding = 1e-9;
constexpr int kMinutesOfDay = 24 * 60;

class Adder {
 public:
  Adder(const room::Room& room, Date date, Duration continuous)
      : room_(room), date_(date), continuous_(continuous) {}

  Loads add() {
    for (const room::Circuit& circuit : room_.circuits) out_.circuits[circuit.id];
    for (const room::Socket& socket : room_.sockets) out_.sockets[socket.id];
    for (const room::Timer& timer : room_.timers) out_.timers[timer.id];
    for (const room::Thermostat& thermostat : room_.thermostats) {
      if (room::in_use(thermostat, date_)) out_.thermostats[thermostat.id];
    }
    for (const room::Heater& heater : room_.heaters) add_heater(heater);
    for (const room::Lamp& lamp : room_.lamps) add_lamp(lamp);
    for (const room::Appliance& appliance : room_.appliances) add_appliance(appliance);
    return std::move(out_);
  }

 private:
  template <class Record>
  static Device device(const Record& record) {
    Device made;
    made.kind = Record::kWord;
    made.id = record.id.text();
    made.power = record.power;
    made.enclosure = record.enclosure;
    return made;
  }

  void add_heater(const room::Heater& heater) {
    if (!room::in_use(heater, date_)) return;
    Device made = device(heater);
    made.room_heater = heater.kind == room::HeaterKind::room_heater;
    controlled_by(heater.thermostat, made);
    place(heater.socket, std::move(made));
  }

  void add_lamp(const room::Lamp& lamp) {
    if (!room::in_use(lamp, date_)) return;
    Device made = device(lamp);
    made.lamp = true;
    controlled_by(lamp.thermostat, made);
    timed_by(lamp.timer, made);
    place(lamp.socket, std::move(made));
  }

  void add_appliance(const room::Appliance& appliance) {
    if (!room::in_use(appliance, date_)) return;
    Device made = device(appliance);
    timed_by(appliance.timer, made);
    place(appliance.socket, std::move(made));
  }

  void controlled_by(const room::ThermostatId& id, Device& device) {
    const room::Thermostat* thermostat = room::find(room_.thermostats, id);
    if (thermostat != nullptr && room::in_use(*thermostat, date_)) device.thermostat = id;
  }
  void timed_by(const room::TimerId& id, Device& device) {
    const room::Timer* timer = room::find(room_.timers, id);
    if (timer == nullptr) return;
    device.timer = id;
    const auto on = hours_on(*timer);
    device.continuous = !on || *on >= continuous_;
  }

  /// Finds the way to the wall and adds the device to all that carries it.
  void place(room::SocketId plug, Device device) {
    if (plug.empty() && !device.thermostat.empty()) {
      plug = room::find(room_.thermostats, device.thermostat)->socket;
    }
    if (plug.empty() && !device.timer.empty()) {
      plug = room::find(room_.timers, device.timer)->socket;
    }
    for (const room::Socket* at = room::find(room_.sockets, plug); at != nullptr;
         at = room::find(room_.sockets, at->plugged_into)) {
      device.path.push_back(at->id);
      if (at->plugged_into.empty()) {
        if (room::find(room_.circuits, at->circuit) != nullptr) device.circuit = at->circuit;
        break;
      }
      if (device.path.size() > room_.sockets.size()) {  // strips that lead in a circle
        device.path.clear();
        break;
      }
    }
    const std::size_t number = out_.devices.size();
    out_.devices.push_back(device);
    count(number, device.path.empty() ? out_.not_placed : out_.placed);
    for (const room::SocketId& socket : device.path) count(number, out_.sockets[socket]);
    if (!device.circuit.empty()) count(number, out_.circuits[device.circuit]);
    if (!device.timer.empty()) count(number, out_.timers[device.timer]);
    if (!device.thermostat.empty()) count(number, out_.thermostats[device.thermostat]);
  }

  void count(std::size_t number, Load& load) {
    const Device& device = out_.devices[number];
    load.devices.push_back(number);
    if (!device.power) {
      ++load.without_power;
      return;
    }
    load.everything += *device.power;
    if (device.continuous) load.continuous += *device.power;
    if (device.lamp) load.lamps += *device.power;
    if (device.room_heater) load.room_heater += *device.power;
  }

  const room::Room& room_;
  Date date_;
  Duration continuous_;
  Loads out_;
};

}  // namespace

Loads loads_of(const room::Room& room, Date date, Duration continuous) {
  return Adder(room, date, continuous).add();
}

Loads loads_of(const room::Day& day) {
  return loads_of(*day.room, day.date, continuous_rule(mains_of(day.room->info.country)).time);
}

bool is_over(Power load, Power limit) {
  return load > limit * (1 + kRounding);
}

std::optional<Duration> hours_on(const room::Timer& timer) {
  if (!timer.on || !timer.off) return std::nullopt;
  const int minutes = (timer.off->minutes - timer.on->minutes + kMinutesOfDay) % kMinutesOfDay;
  return Duration::minutes(minutes == 0 ? kMinutesOfDay : minutes);
}

std::string watts(Power power) {
  return fmt::format("{:.6g} W", power.watts());
}

std::string words_of(const Load& load, Power power) {
  return (load.without_power > 0 ? "at least " : "") + watts(power);
}

std::string devices_of(const Loads& loads, const Load& load) {
  std::vector<const Device*> devices;
  for (const std::size_t number : load.devices) devices.push_back(&loads.devices[number]);
  std::stable_sort(devices.begin(), devices.end(), [](const Device* a, const Device* b) {
    return a->power.value_or(Power()) > b->power.value_or(Power());
  });
  std::string text;
  for (std::size_t i = 0; i < std::min(devices.size(), kMostNamed); ++i) {
    text += fmt::format("{}{} {}", i == 0 ? "" : ", ", devices[i]->id,
                        devices[i]->power ? watts(*devices[i]->power) : "(power not known)");
  }
  if (devices.size() > kMostNamed) {
    text += fmt::format("; and {} more", devices.size() - kMostNamed);
  }
  return text;
}

}  // namespace warmside::safety
