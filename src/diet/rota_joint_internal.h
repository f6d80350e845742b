#pragma once
// The blocks of a rota in one integer programme: jars by day, foods by how often and how many, so
// that days which differ in nothing do not multiply its branches. Inside of the rota.

#include <map>
#include <utility>
#include <vector>

#include "diet/rota_pricing_internal.h"

namespace warmside::diet {

class JointProgram {
 public:
  JointProgram(const RotaProblem& problem, const std::vector<Block>& blocks);

  /// The slots of each block's meals.
  std::vector<std::vector<int>> slots(const std::vector<double>& x) const;
  /// Pieces of each offer of a block.
  std::vector<double> pieces(std::size_t block, const std::vector<double>& x) const;

  int need_row(std::size_t block, std::size_t need) const {
    return first_need_row_[block] + static_cast<int>(need);
  }
  /// -1 where the food is not limited.
  int stock_row(std::size_t food) const { return stock_row_[food]; }

  LinearProgram program;

 private:
  void add(const Block& block, const RotaProblem& problem);

  std::map<std::pair<int, std::size_t>, int> open_;
  std::vector<int> first_need_row_, stock_row_;
  std::vector<std::vector<LinearProgram::Entry>> stock_;
  std::vector<std::vector<std::vector<int>>> on_;  // [block][meal][slot]: column, or -1
  std::vector<std::vector<std::vector<LinearProgram::Entry>>> eaten_;
};

}  // namespace warmside::diet
