#pragma once
// What the notebook says an animal ate in the last four weeks, and whether that surely holds too
// little or too much. Use it before planning what it eats next. Only what was written down counts;
// a thing that nobody knows (an unclear name, a jar without a label) makes its sums open upwards,
// so that nothing is called sure that is not.

#include <string>
#include <vector>

#include "diet/pantry.h"
#include "diet/targets.h"
#include "room/day.h"

namespace warmside::diet {

/// A course of a meal that was eaten and stayed down.
struct Eaten {
  const room::Entry* entry = nullptr;
  Match match;
  const room::Jar* jar = nullptr;  // null: not dusted
  double share = 1;                // of it, without the leftovers
  /// Mass that was eaten, g; wide where only a count is known, unknown where nothing is.
  Interval grams;
};

/// Everything eaten from `from` up to the day, oldest first.
std::vector<Eaten> eaten_since(const room::AnimalDay& animal, const room::Day& day,
                               const Pantry& pantry, Date from);

/// What a jar's powder holds: its label, and where that is silent what such powders usually hold.
Supplement supplement_of(const room::Jar& jar);
/// Whether the label says what the powder's kind leaves wide open.
bool has_label(const room::Jar& jar);

/// Powder on food as keepers put it on, g/g, when it is eaten: between a light coat two hours old
/// and a thick fresh one. How thick and how soon eaten is not in the notebook; two hours: common
/// practice, no source.
Interval dust_when_eaten_g_per_g(FoodKind kind);

/// The nutrients of all courses together, for masses that are within `grams` of each. Each food
/// whose piece has a range is taken at both ends: a ratio of sums (calcium to dry matter) is
/// greatest and least at corners of the ranges. The first kMostCorners foods only; the rest at
/// their low and high ends together.
std::vector<Nutrients> corners_of(const std::vector<Eaten>& eaten);
constexpr int kMostCorners = 8;

constexpr int kDaysOfPast = 28;
/// Fewer meals or a younger record are no diet to judge: common practice, no source.
constexpr int kLeastMeals = 3, kLeastDays = 14;

struct PastDiet {
  std::vector<Eaten> eaten;
  /// Empty when there is too little to judge, or the profile has no diet class. Amphibians have
  /// vitamin A by the week ("IU a week") in place of that by dry matter.
  std::vector<Judgement> judgements;
  Interval energy_kj = Interval::exactly(0);
};
PastDiet past_diet(const room::AnimalDay& animal, const room::Day& day, const Pantry& pantry);

/// By which targets an animal's food is judged; none where the profile has no diet class.
std::optional<Circumstances> circumstances_of(const room::AnimalDay& animal, const room::Day& day);

/// Whether a UVB lamp in use hangs over the animal's home. Whether it still gives enough is not
/// asked here (light/findings.h).
bool has_uvb(const room::AnimalDay& animal, const room::Day& day);

}  // namespace warmside::diet
