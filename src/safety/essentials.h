#pragma once
// What an animal room must not lack: a thermostat on every heater, a thermometer in every
// inhabited enclosure, a smoke alarm on the list. Reminders with the usual caution, no substitute
// for local code or a licensed electrician.

#include <vector>

#include "core/finding.h"
#include "room/day.h"

namespace warmside::safety {

/// One finding for each thing that is missing.
std::vector<Finding> findings(const room::Day& day);

}  // namespace warmside::safety
