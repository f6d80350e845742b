#pragma once
// Readings against ranges: what the keeper's thermometers and hygrometers said last, inside,
// edging or outside what the animals in the enclosure want.

#include <string_view>
#include <vector>

#include "core/finding.h"
#include "room/day.h"

namespace warmside::climate {

/// Which value of a profile a reading's place speaks of ("warm side" -> warm_side_air); nothing
/// for other places. Night readings are not told apart yet: a reading taken at night is judged
/// against the night range as well, and one range that holds it is enough.
std::optional<species::Key> key_for_place(std::string_view place);

/// One finding for each place and quantity of an enclosure whose latest reading, not older than
/// the rule reading_believed, is outside the range of an animal that lives there. Beyond the
/// species' alarm levels it is one for now.
std::vector<Finding> findings(const room::Day& day);

}  // namespace warmside::climate
