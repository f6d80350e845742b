#pragma once
// Whether an animal eats as it should: how long it has eaten nothing, against its species' feeding
// interval and its own record; meals that came up again; prey too big for it.
//
// Use it once a day for each animal that is told apart. Fasting is normal for some and an alarm
// for others, so the same number of days is judged by the animal's own gaps (intervals.h) and, in
// grown snakes, by whether the mass holds. Pauses that are meant (in shed, brumation, after a
// regurgitated meal, settling in) explain themselves and do not count.
//
// It sees only what was written down: a silence in the notebook is not a refusal; without a noted
// refusal days without a meal are never a matter for the vet. It knows no cause and gives no
// diagnosis.

#include <optional>
#include <vector>

#include "health/sign.h"
#include "room/day.h"

namespace warmside::health {

/// How the mass changes, in % of the present mass in 30 days, as the caller's model has it.
struct MassTrend {
  double rate_pct_per_30d = 0;  // negative: falling
  double low_pct_per_30d = 0;   // the ends of its 90 % interval: low <= rate <= high
  double high_pct_per_30d = 0;
  /// Chances that it has lost more than 5 and 10 % against its highest of the year before.
  struct Lost {
    double p_over_5 = 0, p_over_10 = 0;
  };
  std::optional<Lost> lost = std::nullopt;  // none: not known
};

/// The signs of one animal, at most one each of: meals regurgitated, the last meal's size, food
/// left lying, the time without a meal. A group (count above 1) is judged as one animal, without
/// its mass. None where the profile gives no feeding interval. mass: none: not known whether it
/// holds its mass.
std::vector<Sign> appetite(const room::AnimalDay& animal, const room::Day& day,
                           std::optional<MassTrend> mass = {});

}  // namespace warmside::health
