#pragma once
// An animal's weighings with the band of the weight model, and what happened meanwhile, for
// programs that draw them (Weights in docs/openapi.json). The picture is in animal_picture.h.

#include <string>

#include "room/day.h"

namespace warmside::report {

/// One JSON object and a line break. Of an animal that is not in the room on the day, and of a
/// group that is not told apart, the band is empty.
std::string weights_as_json(const room::Animal& animal, const room::Day& day);

}  // namespace warmside::report
