#pragma once
// The weight model put to an animal of the room: what its species, size, meals and notes say before
// it is weighed, the other animals of its group, and the sign that follows.

#include <optional>

#include "health/sign.h"
#include "health/weights.h"
#include "room/day.h"

namespace warmside::health {

/// An animal's weighings in the notebook, judged on a day.
struct AnimalWeight {
  WeightReport report;
  /// Weighings that are not believed, and why.
  struct LeftOut {
    const room::Entry* entry = nullptr;
    std::string why;
  };
  std::vector<LeftOut> left_out;
};

/// Null for a group of animals (their count is not one) and where there is no weighing to believe.
/// The parameters are those of all animals of its group in the room.
std::optional<AnimalWeight> weight_of(const room::AnimalDay& animal, const room::Day& day);

/// What to do about it. `young` and brumation are in the report already.
Sign weight_sign(const AnimalWeight& weight, const room::AnimalDay& animal, const room::Day& day);

}  // namespace warmside::health
