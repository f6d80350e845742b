#pragma once
// Which food is meant: from the words of a keeper ("adult mouse", "black field crickets") or from a
// supply of the room to a food of the table (diet/foods.h) or of the keeper's own. What is not
// clear stays unknown, with the foods that it could have been; nothing is guessed.
//
// A word counts in any order, in the singular or plural, and in small or capital letters; words of
// state (frozen, thawed, live, fresh) do not. In this order:
//   1. the id or name of a supply in the room, and then what that supply says it is;
//   2. the id of a food;
//   3. the whole name of one food, alone or with words of its stage;
//   4. two words or more that all belong to one single food (its name, stage, scientific name or
//      id), among them the noun of its name: "adult mouse" is the "mouse, adult", but "cricket",
//      "adult" or "larva" is none.

#include <functional>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "diet/foods.h"
#include "room/records.h"

namespace warmside::diet {

/// What a keeper's words mean.
struct Match {
  const Food* food = nullptr;            // null: not known
  const room::Supply* supply = nullptr;  // null: none of the room's supplies
  std::vector<const Food*> could_be;     // where several fit; empty when none does

  /// What one weighs, g: by the supply, else by the table; unknown where neither says.
  Interval piece_g() const;
};

/// The words by which foods are compared: small letters, singular, without words of state.
std::set<std::string> food_words(std::string_view text);

/// The foods that are known in a room: the table's, with the keeper's own laid over them. Not for
/// use from several threads at once: answers are kept.
class Pantry {
 public:
  /// `room` must outlive the pantry.
  explicit Pantry(const room::Room& room);
  Pantry(const Pantry&) = delete;
  Pantry& operator=(const Pantry&) = delete;

  /// Null when there is none of this id.
  const Food* find(std::string_view id) const;
  Match match(std::string_view words) const;
  /// What a supply is: by its `food`, else by its name.
  Match match(const room::Supply& supply) const;

 private:
  struct Known {
    Food food;
    std::set<std::string> name, stage, all;
    std::vector<std::string> nouns;
    std::set<std::string> alone;  // nouns that are a whole name: "isopod"
  };
  static Known known(Food food);
  Match match_words(std::string_view words) const;
  Match match_anew(std::string_view words) const;

  const room::Room& room_;
  std::vector<Known> foods_;
  mutable std::map<std::string, Match, std::less<>>
      asked_;  // a notebook says the same again and again
};

/// A food as the keeper gives it. `base`: the table's of the same id, or null.
Food own_food(const room::OwnFood& own, const Food* base);

}  // namespace warmside::diet
