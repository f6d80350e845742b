#pragma once
// The lamps over an enclosure and when they burn, as the room's records say: what judging timers
// (timers.h) and planning them (timer_plan.h) begin with. Nothing here knows whether a bulb is out.

#include <optional>
#include <vector>

#include "room/day.h"

namespace warmside::light {

/// How long a timer keeps its lamps on in 24 hours; over midnight where it goes off before it comes
/// on. None where a time is missing or both are the same.
std::optional<Duration> burning_time(const room::Timer& timer);

struct TimedLamp {
  const room::Lamp* lamp = nullptr;
  const room::Timer* timer = nullptr;  // with both times
  Duration burns;
};

/// The lamps of an enclosure that are in use, each in one of the lists, in id order. One that only
/// a thermostat controls is in none: nobody knows its hours.
struct Lights {
  std::vector<TimedLamp> timed;
  std::vector<const room::Lamp*> never_off;      // neither timer nor thermostat is named
  std::vector<const room::Lamp*> without_times;  // by a timer whose times are not known

  bool any() const { return !(timed.empty() && never_off.empty() && without_times.empty()); }
  /// How much of 24 hours at least one timed lamp burns. None where no lamp is timed, or where one
  /// of the others may burn at any time.
  std::optional<Duration> lit() const;
  /// The timed lamp that burns longest, the first of equals; null without timed lamps.
  const TimedLamp* longest() const;
};

Lights lights_over(const room::Day& day, const room::EnclosureId& enclosure);

}  // namespace warmside::light
