#pragma once
// A meal in words fit for a phone: what, how many, how it is prepared, and from which jar today.
//
// What is fed next is the keeper's own habit, where the notebook shows one: the same course or
// courses again and again at steady gaps, of which the one that is due longest comes next. Where it
// shows none, the last meal is named as the last, and nothing is chosen. A choice made elsewhere
// (the supplement rota) is handed in and goes before the habit.

#include <optional>
#include <string>
#include <vector>

#include "diet/habit.h"
#include "diet/meals.h"

namespace warmside::diet {

/// Frozen prey to take out of the freezer.
struct Thaw {
  const room::Supply* supply = nullptr;
  int count = 0;
};
/// Days from freezer to meal. Rule thaw_temperature: overnight in a refrigerator.
constexpr int kThawDays = 1;

struct Advice {
  std::string what;         // "2 x adult mouse (about 22 g each)"; empty: nobody knows
  std::string amount;       // how that stands to the profile's share, where it surely lies outside
  std::string limits;       // the profile's rule for a meal, where it fits the food
  std::string preparation;  // dust, thaw; may be empty
  std::vector<Thaw> thaw;   // one for each frozen supply of the meal
  /// What is given, in the order of giving, each with the jar it is dusted from today. Empty where
  /// nothing is chosen: what was given the last time is no plan.
  std::vector<Course> courses;
  Interval meal_kj;     // metabolisable energy of the meal
  bool always = false;  // the habit of these days knows no other meal
};
/// For a meal on a day, today or later. `choice`: made elsewhere; without one the habit.
Advice feeding_advice(const room::AnimalDay& animal, const room::Day& day, const Pantry& pantry,
                      Date on, const std::optional<Choice>& choice = {});

}  // namespace warmside::diet
