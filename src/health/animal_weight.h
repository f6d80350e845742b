#pragma once
// The weight model put to an animal of the room: what its species, size, meals and notes say before
// it is weighed, the other animals of its group, and the sign that follows.

#include <map>
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

/// A weighing that is believed, and the mass of the empty body by it: less what the meals before it
/// are expected to have left in the gut.
struct BelievedWeighing {
  const room::Entry* entry = nullptr;
  Mass empty;
};
/// Of an animal's weighings those that are believed, oldest first. For animals that are told apart.
std::vector<BelievedWeighing> believed_weighings(const room::AnimalDay& animal,
                                                 const room::Day& day);

/// The weighings of the animals of a day. The parameters are those of all animals of a group in the
/// room, sought once for each group.
class WeightsOfDay {
 public:
  /// `day` must outlive it.
  explicit WeightsOfDay(const room::Day& day) : day_(&day) {}
  /// Null for animals that are not told apart (their count is not one) and where there is no
  /// weighing to believe.
  std::optional<AnimalWeight> of(const room::AnimalDay& animal);

  /// Its mass through time, as all weighings together tell it: on every day, at each weighing and
  /// at the day's end, oldest first, not before `from`. MassAt::day counts from 1970-01-01 UTC.
  /// Empty where `of` is null.
  std::vector<MassAt> course(const room::AnimalDay& animal, Instant from);

 private:
  const Motion& motion_of(const room::AnimalDay& animal);
  const room::Day* day_;
  std::map<Group, Motion> motions_;
};

/// What to do about it.
Sign weight_sign(const AnimalWeight& weight, const room::AnimalDay& animal, const room::Day& day);

}  // namespace warmside::health
