#include "light/lights.h"

#include <algorithm>
#include <bitset>

namespace warmside::light {
namespace {

constexpr int kDay_min = 1440;

}  // namespace

std::optional<Duration> burning_time(const room::Timer& timer) {
  if (!timer.on || !timer.off || *timer.on == *timer.off) return std::nullopt;
  return Duration::minutes((timer.off->minutes - timer.on->minutes + kDay_min) % kDay_min);
}

std::optional<Duration> Lights::lit() const {
  if (timed.empty() || !never_off.empty() || !without_times.empty()) return std::nullopt;
  std::bitset<kDay_min> lit_minutes;
  for (const TimedLamp& one : timed) {
    for (int m = one.timer->on->minutes; m != one.timer->off->minutes; m = (m + 1) % kDay_min) {
      lit_minutes.set(static_cast<std::size_t>(m));
    }
  }
  return Duration::minutes(static_cast<double>(lit_minutes.count()));
}

const TimedLamp* Lights::longest() const {
  const auto longest =
      std::max_element(timed.begin(), timed.end(),
                       [](const TimedLamp& a, const TimedLamp& b) { return a.burns < b.burns; });
  return longest == timed.end() ? nullptr : &*longest;
}

Lights lights_over(const room::Day& day, const room::EnclosureId& enclosure) {
  const room::Room& room = *day.room;
  Lights lights;
  for (const room::Lamp& lamp : room.lamps) {
    if (lamp.enclosure != enclosure || !room::in_use(lamp, day.date)) continue;
    if (const room::Timer* timer = room::find(room.timers, lamp.timer)) {
      if (const auto burns = burning_time(*timer)) {
        lights.timed.push_back({&lamp, timer, *burns});
      } else {
        lights.without_times.push_back(&lamp);
      }
      continue;
    }
    const room::Thermostat* thermostat = room::find(room.thermostats, lamp.thermostat);
    if (thermostat == nullptr || !room::in_use(*thermostat, day.date)) {
      lights.never_off.push_back(&lamp);
    }
  }
  return lights;
}

}  // namespace warmside::light
