#pragma once
// Everything that the models of health say of one animal on a day: weight, appetite, sheds,
// droppings, quarantine.

#include <vector>

#include "health/sign.h"
#include "room/day.h"

namespace warmside::health {

/// The worst first; of equals weight, appetite, sheds, droppings, quarantine. For a group that is
/// not told apart only what holds for a group.
std::vector<Sign> signs_of(const room::AnimalDay& animal, const room::Day& day);

}  // namespace warmside::health
