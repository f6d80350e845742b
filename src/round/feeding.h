#pragma once
// When each animal is fed next and by what plan: its interval, the pauses that put a meal off, and
// the rota (diet/room_rota.h) in place of the keeper's habit where that habit surely falls short.

#include <optional>
#include <string>
#include <vector>

#include "diet/room_rota.h"
#include "round/recurrence.h"

namespace warmside::round {

struct Feeding {
  int every_days = 1;     // until the next offer: sooner after a refusal
  int interval_days = 1;  // the profile's
  Due due;
  std::string reason;  // interval, last meal, whose rule
  std::string pause;   // what to mind at the first meal after a regurgitation; else empty
};
/// None where it is not fed: in brumation, in shed by its profile, or without an interval.
std::optional<Feeding> next_feeding(const room::AnimalDay& animal, const room::Day& day);

/// How its mass moved in the last year by believed weighings, and how warm it has it: by the
/// computed day of its enclosure, anywhere between the cool end and the warm end, where the book
/// says enough of it. `climate`: whether to compute that.
diet::KnownElsewhere known_of(const room::AnimalDay& animal, const room::Day& day, bool climate);

/// The days of the next kDaysOfRota on which an animal is fed.
diet::Diner diner_of(const room::AnimalDay& animal, const room::Day& day, const Feeding& feeding);
/// Every animal that is fed, in the order of the day.
std::vector<diet::Diner> diners_of(const room::Day& day);

/// The next meal by a rota for this animal alone, where what it ate in four weeks surely holds too
/// little or too much of something, or six meals and more show no habit. None where the habit may
/// stay, where a meal is unusual (Feeding::pause), or where no rota keeps its needs.
std::optional<diet::Choice> meal_by_rota(const room::AnimalDay& animal, const room::Day& day,
                                         const diet::Pantry& pantry, const Feeding& feeding);

}  // namespace warmside::round
