#pragma once
// The needs of one animal over one window as linear rows of best estimates: the parts into which a
// rota falls when jars and stock are left aside. Inside of the rota.

#include <utility>
#include <vector>

#include "diet/rota.h"

namespace warmside::diet {

/// sum over meals of pieces * per_piece[offer][slot] >= at_least. Divided by what is wanted of the
/// usual meals, so that 0.01 short is one hundredth of the need.
struct NeedRow {
  Nutrient nutrient = Nutrient::calcium;
  bool limit = false;
  std::vector<std::vector<double>> per_piece;
  double at_least = 0;
  double unit = 1;         // times this: mg or IU
  bool uncertain = false;  // an unknown amount counts as its known part
  std::string because;     // whose
  bool operator==(const NeedRow&) const = default;
};

/// One animal's meals in one window. A slot is a jar of `jars` + 1; slot 0 is no powder.
struct Block {
  std::size_t animal = 0;
  int first_day = 0, days = 0;
  std::vector<int> meals;  // their days
  std::vector<RotaOffer> offers;
  std::vector<std::size_t> jars;
  std::vector<std::optional<int>> last_good_day;  // of each offer
  std::vector<NeedRow> rows;
  std::vector<double> energy_kj;                              // a piece of each offer
  double energy_low = 0, energy_middle = 0, energy_high = 0;  // kJ in the window; 0: no need
  std::vector<std::vector<double>> slot_price;  // [meal][slot], infinite where it cannot be

  int slots() const { return static_cast<int>(jars.size()) + 1; }
  bool good(std::size_t offer, int day) const {
    return !last_good_day[offer] || day <= *last_good_day[offer];
  }
  bool can(std::size_t offer, std::size_t slot, int day) const {
    return good(offer, day) && (slot == 0 || offers[offer].powder);
  }
};

struct Blocks {
  std::vector<Block> blocks;  // by animal, then window
  std::vector<RotaUnknown> unknown;
  std::vector<std::size_t> set_aside;
};

/// The blocks of all animals with every row that can be reckoned.
Blocks make_blocks(const RotaProblem& problem);

/// The same without the `uncertain` rows that known parts alone cannot keep: those are named
/// unknown. One after the other, so that as many as can be kept together stay.
Blocks settled_blocks(const RotaProblem& problem);

/// The animal's windows: (first day, days) of each.
std::vector<std::pair<int, int>> windows_of(const RotaProblem& problem, const RotaAnimal& animal);

}  // namespace warmside::diet
