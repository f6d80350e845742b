#pragma once
// Which foods the table data/foods.csv has, so that a room's records can be checked without
// knowing what foods hold. What they hold: diet/foods.h.

#include <string_view>
#include <vector>

namespace warmside::species {

/// Whether the table has a food of this id.
bool is_food_id(std::string_view id);

/// The ids that have a part of `text` (between '_' and '-') in common with it, for messages:
/// "adult-mouse" gives every mouse and every adult. At most `most`, the likest first.
std::vector<std::string_view> food_ids_like(std::string_view text, std::size_t most);

}  // namespace warmside::species
