#pragma once
// What the diet of the room's animals shows: a diet that is surely short or surely too much of
// something, a food that should not be fed, and once what the keeper could tell to know more.
//
// Energy is not judged here: whether an animal eats enough its weight says (health/), and no
// equation knows better. Phosphorus is not either: by the table of targets nearly every green is
// short of it, and nobody feeds for it; its excess shows as Ca:P.

#include <vector>

#include "core/finding.h"
#include "room/day.h"

namespace warmside::diet {

std::vector<Finding> findings(const room::Day& day);

}  // namespace warmside::diet
