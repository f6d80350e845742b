#pragma once
// The room as a plan for programs: its racks and enclosures with the worst that was noticed about
// each (RoomPlan in docs/openapi.json).

#include <string>

#include "room/day.h"
#include "round/round.h"

namespace warmside::report {

/// One JSON object and a line break. `round` is that of the day.
std::string room_plan_as_json(const room::Day& day, const round::Round& round);

}  // namespace warmside::report
