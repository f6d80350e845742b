#pragma once
// Supplement jars: once opened, vitamins lose their strength, and a printed date is a date.

#include <optional>
#include <vector>

#include "core/finding.h"
#include "room/day.h"

namespace warmside::stores {

/// When a jar was last opened new: the latest of its `opened` and `replaced` entries and its
/// record.
std::optional<Date> opened_on(const room::Day& day, const room::Jar& jar);

/// A finding for each jar in use that is past the date printed on it.
std::vector<Finding> findings(const room::Day& day);

}  // namespace warmside::stores
