#pragma once
// The room's electricity: circuits with their sockets, strips and devices against what they can
// carry, timers and thermostats, what is not known, and the cost of a month. For people and as JSON
// (docs/schema/power.schema.json).

#include <string>

#include "report/sheet.h"
#include "room/day.h"

namespace warmside::report {

std::string power_as_text(const room::Day& day, const SheetStyle& style);
std::string power_as_json(const room::Day& day);

}  // namespace warmside::report
