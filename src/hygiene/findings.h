#pragma once
// What hygiene has to say on a day: quarantine broken, tools and leftovers that went from one
// enclosure to another, hands that went from quarantine to the healthy, disinfections that count
// for nothing. Reminders from what was written down; whether anything passed, only a test can tell.
//
// Made from transfers.h. Not here: the order itself (order.h), chains of contacts (exposure.h).

#include <vector>

#include "core/finding.h"
#include "room/day.h"

namespace warmside::hygiene {

/// How long a finding about quarantine is for today, and others are shown at all; then one about
/// quarantine is for this week as long as the history reaches (30 days). Common practice, no
/// source.
inline constexpr int kNewsDays = 7;

/// One finding for each animal or enclosure that something reached from quarantine or illness, or
/// one for all where more than five were reached from one animal (about that one, so that a whole
/// room is not put under observation); one for each tool shared otherwise; one for each pair of
/// leftovers; one for the hands of a day; one for all disinfections that count for nothing.
std::vector<Finding> findings(const room::Day& day);

}  // namespace warmside::hygiene
