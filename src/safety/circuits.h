#pragma once
// Circuits, strips, timers and thermostats against what they are made to carry (loads.h), strips in
// strips, and the room heater, which belongs in a wall socket.
//
// Limits: the rating with everything on at once; the country's share of it, or 80 % as a rule of
// thumb, for what runs for hours (mains.h); half of the load printed on a timer or thermostat for
// lamps, which draw many times their current for an instant when switched on. Fuses in plugs,
// wiring and the age of cords are not judged.

#include "safety/judged.h"
#include "safety/loads.h"

namespace warmside::safety {

Judged judge_circuits(const room::Day& day, const Loads& loads);

}  // namespace warmside::safety
