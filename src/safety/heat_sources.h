#pragma once
// Heat without control, heat controlled from the wrong place, mats that cannot get rid of their
// heat, hot things too near to what burns or within an animal's reach; and the thermometer that
// every inhabited enclosure wants. What the climate of an enclosure comes to is climate/computed.h.
//
// Distances are common practice (data/care_rules.csv); the maker's label goes first. Ordinary
// practice raises no alarm: tubes and LEDs need no thermostat, nor do mercury vapour and metal
// halide lamps on a timer, which cannot be dimmed.

#include "safety/judged.h"

namespace warmside::safety {

/// Whether a lamp heats so that it can burn: halogen, mercury vapour, metal halide.
bool is_hot(room::LampKind kind);
/// Whether a heater's surface can burn and set alight: ceramic emitters, projectors.
bool is_hot(room::HeaterKind kind);

Judged judge_heat_sources(const room::Day& day);

}  // namespace warmside::safety
