#pragma once
// The rota of a room's own animals (diet/rota.h): what they are used to and what else is in store,
// the jars in use, the keeper's habits and the animals' needs, made into a RotaProblem; and its
// meals read back as choices for the round (diet/feeding_advice.h).
//
// A menu of several courses (greens and crickets) stays together as one food of a single piece.
// Store is counted only where `hold_to_stock` says so: who buys crickets each week is not short of
// the fourth week's today.

#include <optional>
#include <string>
#include <vector>

#include "diet/habit.h"
#include "diet/meals.h"
#include "diet/rota.h"

namespace warmside::diet {

/// An animal that eats, the days of the rota on which it does, and what other models know of it.
struct Diner {
  const room::AnimalDay* animal = nullptr;
  std::vector<Date> feeding_days;  // in order, from the day on
  KnownElsewhere elsewhere;
};

/// Something about an animal of the room.
struct AboutAnimal {
  room::AnimalId animal;
  std::string what;
};

struct RoomRota {
  RotaProblem problem;
  std::vector<const room::AnimalDay*> animals;  // by RotaMeal::animal
  std::vector<std::vector<Course>> menus;       // by RotaMeal::food: one piece of it
  std::vector<std::size_t> dusted;              // by RotaMeal::food: the course that gets powder
  std::vector<room::JarId> jars;                // by RotaMeal::jar
  std::vector<AboutAnimal> left_out;            // on no rota, and why
  /// Needs that nothing in the room meets, with the smallest change; they are not asked for.
  std::vector<AboutAnimal> cannot_be_met;

  /// A meal as courses; its jar goes on the course that is dusted. `why` as in Choice.
  Choice choice_of(const RotaMeal& meal, std::string why) const;
};

constexpr int kDaysOfRota = 28;

/// The problem from the day on. Animals of which no menu can be reckoned are left out. Of each
/// animal by itself, whatever the others eat, needs that cannot be met are left out one after the
/// other, the one that lacks most first.
RoomRota room_rota(const room::Day& day, const Pantry& pantry, const std::vector<Diner>& diners,
                   bool hold_to_stock = false);

}  // namespace warmside::diet
