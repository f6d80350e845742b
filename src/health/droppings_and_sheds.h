#pragma once
// Whether an animal sheds and passes droppings as it should: a stuck shed, dull skin for unusually
// long, a shed that is overdue by the animal's own record, meals in a row without droppings.
//
// Use it once a day for each animal that is told apart. Gaps are judged by the animal's own record
// (intervals.h). Many keepers write down few droppings and few sheds, so nothing is said before the
// notebook has some of the animal's own, and a silence in the notebook is named as a possible
// reason. It knows no cause, does not read what droppings looked like, and gives no diagnosis.

#include <vector>

#include "health/sign.h"
#include "room/day.h"

namespace warmside::health {

/// At most one each of: a stuck shed; stuck sheds again and again; in shed for long, or else a shed
/// overdue. Snakes and lizards only: frogs and salamanders eat what they shed, chelonians shed in
/// flakes. None for groups (count above 1). A stuck shed is a `shed` whose item has the word
/// "stuck"; a later `checked shed` or a complete shed ends it.
std::vector<Sign> sheds(const room::AnimalDay& animal, const room::Day& day);

/// At most one: meals in a row without droppings. None for groups, in brumation, and for animals
/// with fewer than three droppings in the days recalled.
std::vector<Sign> droppings(const room::AnimalDay& animal, const room::Day& day);

}  // namespace warmside::health
