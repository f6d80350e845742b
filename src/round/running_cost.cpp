#include "round/running_cost.h"

#include <map>
#include <string>
#include <utility>

#include "safety/loads.h"

namespace warmside::round {
namespace {

constexpr std::string_view kHeater = room::Heater::kWord, kLamp = room::Lamp::kWord;

/// kWh a month by the climate model. A case names its heaters and lamps by their ids and takes no
/// name twice; a heater of another enclosure may have a lamp's.
class Computed {
 public:
  explicit Computed(const room::Day& day) {
    for (const room::Enclosure& enclosure : day.room->enclosures) {
      if (!room::in_use(enclosure, day.date)) continue;
      const auto outlook = climate::enclosure_outlook(day, enclosure, false);
      if (!outlook) continue;  // the book says too little of it; its page says what is missing
      for (const climate::HeaterOutlook& heater : outlook->heaters) {
        const auto* record = room::find(day.room->heaters, room::HeaterId::trusted(heater.name));
        const bool is_heater = record != nullptr && record->enclosure == enclosure.id;
        kwh_[{is_heater ? kHeater : kLamp, heater.name}] = heater.kwh_per_month;
      }
    }
  }
  std::optional<double> of(std::string_view kind, const std::string& id) const {
    const auto at = kwh_.find(std::pair(kind, id));
    return at == kwh_.end() ? std::nullopt : std::optional(at->second);
  }

 private:
  std::map<std::pair<std::string_view, std::string>, double> kwh_;
};

double kwh(Power power, double share) {
  return power.kilowatts() * share * kHoursPerMonth;
}

std::optional<double> timed_share(const room::Room& room, const room::TimerId& id) {
  const room::Timer* timer = room::find(room.timers, id);
  const auto on = timer == nullptr ? std::nullopt : safety::hours_on(*timer);
  return on ? std::optional(on->hours() / 24) : std::nullopt;
}

template <class Record>
DeviceUse use_of(const Record& record) {
  DeviceUse use;
  use.kind = Record::kWord;
  use.id = record.id.text();
  use.enclosure = record.enclosure;
  use.power = record.power;
  return use;
}

void set(DeviceUse& use, UseBasis basis, double low, double high) {
  use.basis = basis;
  use.kwh_low = low;
  use.kwh_high = high;
}

DeviceUse use_of_heater(const room::Heater& heater, const Computed& computed) {
  DeviceUse use = use_of(heater);
  if (!heater.power) return use;
  if (const auto month = computed.of(use.kind, use.id)) {
    set(use, UseBasis::computed, *month, *month);
  } else {
    set(use, UseBasis::not_known, 0, kwh(*heater.power, 1));
  }
  return use;
}

DeviceUse use_of_lamp(const room::Day& day, const room::Lamp& lamp, const Computed& computed) {
  DeviceUse use = use_of(lamp);
  if (!lamp.power) return use;
  const auto timed = timed_share(*day.room, lamp.timer);
  const room::Thermostat* thermostat = room::find(day.room->thermostats, lamp.thermostat);
  if (const auto month = computed.of(use.kind, use.id)) {
    set(use, UseBasis::computed, *month, *month);
  } else if (timed && (thermostat == nullptr || !room::in_use(*thermostat, day.date))) {
    set(use, UseBasis::timer, kwh(*lamp.power, *timed), kwh(*lamp.power, *timed));
  } else {  // a thermostat may keep it off; without a timer nobody knows
    set(use, UseBasis::not_known, 0, kwh(*lamp.power, timed.value_or(1)));
  }
  return use;
}

DeviceUse use_of_appliance(const room::Room& room, const room::Appliance& appliance) {
  DeviceUse use = use_of(appliance);
  if (!appliance.power) return use;
  const auto timed = timed_share(room, appliance.timer);
  const double share = appliance.running ? appliance.running->share() : timed.value_or(1);
  const double month = kwh(*appliance.power, share);
  if (appliance.running) {
    set(use, UseBasis::running_share, month, month);
  } else if (timed) {
    set(use, UseBasis::timer, month, month);
  } else if (!appliance.timer.empty()) {  // a timer whose hours nobody has written
    set(use, UseBasis::not_known, 0, month);
  } else {
    set(use, UseBasis::always, month, month);
  }
  return use;
}

}  // namespace

RunningCost running_cost(const room::Day& day) {
  const room::Room& room = *day.room;
  const Computed computed(day);
  RunningCost cost;
  cost.price = room.info.electricity_price;
  for (const room::Heater& heater : room.heaters) {
    if (room::in_use(heater, day.date)) cost.devices.push_back(use_of_heater(heater, computed));
  }
  for (const room::Lamp& lamp : room.lamps) {
    if (room::in_use(lamp, day.date)) cost.devices.push_back(use_of_lamp(day, lamp, computed));
  }
  for (const room::Appliance& appliance : room.appliances) {
    if (room::in_use(appliance, day.date)) {
      cost.devices.push_back(use_of_appliance(room, appliance));
    }
  }
  for (const DeviceUse& use : cost.devices) {
    cost.kwh_low += use.kwh_low;
    cost.kwh_high += use.kwh_high;
    cost.unknown += use.basis == UseBasis::unknown;
  }
  return cost;
}

}  // namespace warmside::round
