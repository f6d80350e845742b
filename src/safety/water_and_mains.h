#pragma once
// Mains by water: whether a residual-current device (RCD, GFCI) protects what stands in water or
// serves an enclosure with a water dish or spraying, and whether the cords hang in drip loops.
//
// Protected: a socket on the way says yes, or the circuit does. Not protected: the circuit says no
// and nothing on the way says yes. Otherwise it is not known. A device with an RCD can still kill:
// unplug before a hand goes into the water.

#include "safety/judged.h"
#include "safety/loads.h"

namespace warmside::safety {

/// Of a device that is plugged in; unknown where nobody has said.
room::Answer protection_of(const room::Room& room, const Device& device);

Judged judge_water_and_mains(const room::Day& day, const Loads& loads);

}  // namespace warmside::safety
