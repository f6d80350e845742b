#pragma once
// Everything that the models of health say of one animal on a day: weight, body condition,
// appetite, sheds, droppings, quarantine.

#include <vector>

#include "core/finding.h"
#include "health/animal_weight.h"
#include "health/body_condition.h"
#include "health/sign.h"
#include "room/day.h"

namespace warmside::health {

/// All that is known of one animal.
struct AnimalHealth {
  std::optional<AnimalWeight> weight;
  std::optional<BodyCondition> condition;
  /// The worst first; of equals weight, condition, appetite, sheds, droppings, quarantine. Of
  /// animals that are not told apart only what holds for all of them.
  std::vector<Sign> signs;
};

/// The health of the animals of a day. What is learnt from all animals of a kind is learnt once.
class HealthOfDay {
 public:
  /// `day` must outlive it.
  explicit HealthOfDay(const room::Day& day) : day_(&day), weights_(day), conditions_(day) {}
  AnimalHealth of(const room::AnimalDay& animal);

 private:
  const room::Day* day_;
  WeightsOfDay weights_;
  BodyConditions conditions_;
};

/// One finding for each animal of which a sign asks for something or offers a step: the worst, with
/// the others that do. A loss by the rule of thumb (mass_loss.h) goes first.
std::vector<Finding> findings(const room::Day& day);

}  // namespace warmside::health
