#pragma once
// UVB lamps as the keeper's meter sees them: a lamp gives less UVB long before it gives less light.

#include <vector>

#include "core/finding.h"
#include "room/day.h"

namespace warmside::light {

/// A finding for each UVB lamp whose latest reading is under the rule uv_low_share of the first
/// since it was new. Without readings nothing is found: the reading itself is a task.
std::vector<Finding> findings(const room::Day& day);

}  // namespace warmside::light
