#pragma once
// The heat and UV maps of an enclosure of the room book and its temperatures through a day, as
// numbers for programs that draw them (Maps in docs/openapi.json): enclosure_picture.h before it is
// drawn.

#include <string>

#include "room/day.h"

namespace warmside::report {

/// One JSON object and a line break. Where the book does not say enough to compute, it says why.
/// Takes about a second.
std::string enclosure_maps_as_json(const room::Day& day, const room::Enclosure& enclosure);

}  // namespace warmside::report
