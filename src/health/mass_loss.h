#pragma once
// The rule of thumb that any scale allows: an animal that has lost more than its profile's limit
// against its highest mass of the last ninety days. It knows nothing of meals, growth or noise;
// the interval of weighings and a full gut can hide a loss or feign one, and it says so.

#include <optional>

#include "core/finding.h"
#include "room/day.h"

namespace warmside::health {

/// The finding, when the animal's latest weighing lies below the limit.
/// The limit: mass_loss_limit of the profile; for hatchlings and frogs under small_frog_mass the
/// rule fast_loss_limit_small, unless the keeper has set one. Groups are not judged by this rule.
std::optional<Finding> lost_by_rule(const room::AnimalDay& animal, const room::Day& day);

}  // namespace warmside::health
