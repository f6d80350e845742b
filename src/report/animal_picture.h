#pragma once
// The chart of an animal of the room (weight_picture.h), from its notebook and the weight model.

#include "report/weight_picture.h"
#include "room/day.h"

namespace warmside::report {

/// At most the 430 days up to the day's end, and no earlier than the first entry that is shown, but
/// four weeks at least. Of an animal that is not told apart (its count is not one) only what was
/// written. Problem: the animal is not in the room on the day.
Result<WeightPicture> weight_picture(const room::Animal& animal, const room::Day& day);

}  // namespace warmside::report
