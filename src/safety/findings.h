#pragma once
// What is unsafe about a room's electricity and heat: overloaded circuits and strips (circuits.h),
// heat without control or too near to what burns or lives (heat_sources.h), mains by water
// (water_and_mains.h), what warns of fire and puts it out (fire.h). Reminders with the usual
// caution, made from what the room file says; no substitute for the maker's label, local code or a
// licensed electrician. Nothing here has seen the room.

#include <vector>

#include "core/finding.h"
#include "room/day.h"

namespace warmside::safety {

/// The findings of all themes, and one for all that the room file does not say.
std::vector<Finding> findings(const room::Day& day);

}  // namespace warmside::safety
