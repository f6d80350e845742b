#pragma once
// Forty enclosures, no two alike, that share one room: for the measurement of a whole year.

#include <optional>
#include <string>
#include <vector>

#include "climate/enclosure_case.h"
#include "climate/network.h"

namespace warmside::bench {

/// The case files of tests/data/cases, in size, power, set points, dampness and misting each varied
/// from one enclosure to the next. The room's heat and damp come from all of them.
struct ManyEnclosures {
  std::vector<climate::Network> enclosures;
  climate::Network room;
};
ManyEnclosures many_enclosures(int count, const std::optional<climate::Weather>& weather);

/// A case of tests/data/cases by its name.
climate::EnclosureCase case_named(const std::string& name);

}  // namespace warmside::bench
