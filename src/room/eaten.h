#pragma once
// Which of the meals in the notebook were eaten, and how much of each: a meal that was left lying
// or came up again is not food. It judges nothing.

#include <span>
#include <vector>

#include "room/day.h"

namespace warmside::room {

/// How much of a meal was left lying, as a share of it: by the counts or masses of the leftovers
/// that were noted before the next meal and within three days; half where they give neither; 0
/// where there are none.
double share_left(const Entry& meal, const Day& day);
/// The same among an animal's `fed` and `leftovers` entries, for many meals of one animal.
double share_left(const Entry& meal, std::span<const Entry> meals, std::span<const Entry> leftovers,
                  const Day& day);
/// From this share on a meal was not eaten.
constexpr double kNotEaten = 0.9;

/// The meals that were eaten and stayed down, oldest first: those fed, without those left lying and
/// the last one before each regurgitation (two with no meal between them are of one meal).
std::vector<const Entry*> accepted_meals(const AnimalDay& animal, const Day& day);

}  // namespace warmside::room
