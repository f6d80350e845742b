#pragma once
// Timers against the light that animals want (photoperiod.h): light that is too long or too short,
// lamps that never go off as far as the book says, timers without times, lamps of one enclosure
// that keep different hours, animals that want different days.
//
// Only enclosures with an animal that is awake are looked at: nobody judges the light of a
// brumation. An animal whose wants are unknown leads to no finding; a room whose latitude is
// unknown leads to one for the room, and its light's length is not judged.

#include <vector>

#include "core/finding.h"
#include "room/day.h"

namespace warmside::light {

std::vector<Finding> timer_findings(const room::Day& day);

}  // namespace warmside::light
