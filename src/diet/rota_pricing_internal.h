#pragma once
// The cheapest way through one block at given prices of each jar on each day and of each food: the
// subproblem of the rota, solved exactly and some thousand times. Inside of the rota.
//
// What a block's meals bring does not depend on the day, only on how many meals get each jar (the
// pattern) and on foods and pieces. So the price falls in two: the cheapest days for a pattern, by
// dynamic programming over the days for all patterns at once; and the cheapest foods for it, a
// small integer programme that no price of a jar changes, so it is solved once, when first needed.

#include <memory>

#include "diet/rota_blocks_internal.h"
#include "diet/rota_model.h"

namespace warmside::diet {

/// What a piece of each offer costs besides, and how many pieces there may be. Empty: 0, no end.
struct FoodTerms {
  std::vector<double> price, most;
  bool plain() const { return price.empty() && most.empty(); }
};

struct PricedBlock {
  bool feasible = false;
  double price = 0;  // all in all
  /// For each meal: slot, offer, pieces.
  std::vector<int> slot, offer, pieces;
};

/// Whether one solver serves both: alike but for their days and the prices of their slots.
bool alike(const Block& a, const Block& b);

class BlockSolver {
 public:
  BlockSolver(const Block& block, const RotaPrices& prices);
  ~BlockSolver();
  BlockSolver(BlockSolver&&) noexcept;

  /// The cheapest meals at a price for each meal's slot, infinite where it cannot be.
  PricedBlock best(const std::vector<std::vector<double>>& slot_price, const FoodTerms& terms = {});
  /// Whether there is any way at all; faster.
  bool feasible(const std::vector<std::vector<double>>& slot_price);

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

/// The block's foods as an integer programme; rows 0 .. classes * slots - 1 say how many meals of
/// each class of days get each slot. For the shortage's own programme too.
struct FoodProgram {
  LinearProgram program;
  std::vector<int> class_of_meal;
  int classes = 0;
  int meal_columns = 0;     // they come first
  std::vector<int> meals;   // [class][offer][slot]: column, or -1
  std::vector<int> pieces;  // [offer][slot]: column, or -1 where it follows from the meals
  int first_need_row = 0;
  std::vector<int> most_rows;  // [offer]
};
FoodProgram food_program(const Block& block, const RotaPrices& prices);

/// How many patterns a block has: a solver takes room and time by it.
double pattern_count(const Block& block);
/// More patterns than this for a block are too many for any machine.
inline constexpr std::size_t kMostPatterns = 500'000;

}  // namespace warmside::diet
