#pragma once
// What warns of fire and puts it out: smoke alarms, their batteries and dates, the extinguisher by
// the door. Asked for where heaters or hot lamps are in use. Whether an alarm is heard, only its
// test shows (a task of the round).

#include <optional>

#include "safety/judged.h"

namespace warmside::safety {

/// When an alarm got its battery: by its record, or replaced since; none where nobody has said.
std::optional<Date> battery_since(const room::Day& day, const room::SafetyDevice& device);

Judged judge_fire(const room::Day& day);

}  // namespace warmside::safety
