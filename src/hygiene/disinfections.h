#pragma once
// What the disinfections of the last week are worth: those that count for nothing, and those with a
// mixture older than it keeps. Part of findings.h.
//
// That something was mixed stands in a note about the supply whose words begin with "mixed", such
// as "mixed bleach 0.1%"; the ingredient is named there or in the supply's name.

#include <vector>

#include "core/finding.h"
#include "room/day.h"

namespace warmside::hygiene {

/// One for all disinfections that count for nothing; one for each supply that was used too old.
std::vector<Finding> disinfection_findings(const room::Day& day);

}  // namespace warmside::hygiene
