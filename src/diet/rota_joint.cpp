#include <cmath>

#include "diet/rota_joint_internal.h"

namespace warmside::diet {
namespace {

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

}  // namespace

JointProgram::JointProgram(const RotaProblem& problem, const std::vector<Block>& blocks)
    : stock_row_(problem.foods.size(), -1), stock_(problem.foods.size()) {
  for (const Block& block : blocks) add(block, problem);
  for (std::size_t f = 0; f < stock_.size(); ++f) {
    if (!problem.foods[f].stock || stock_[f].empty()) continue;
    stock_row_[f] = program.add(LinearProgram::Row{
        "stock", -kInfinity, static_cast<double>(*problem.foods[f].stock), stock_[f]});
  }
}

void JointProgram::add(const Block& block, const RotaProblem& problem) {
  const FoodProgram foods = food_program(block, problem.prices);
  const int first_column = static_cast<int>(program.columns.size());
  const int first_row = static_cast<int>(program.rows.size());
  for (const auto& column : foods.program.columns) program.add(column);
  for (auto row : foods.program.rows) {
    for (auto& entry : row.entries) entry.column += first_column;
    program.add(std::move(row));
  }
  first_need_row_.push_back(first_row + foods.first_need_row);
  auto& on = on_.emplace_back();
  for (std::size_t m = 0; m < block.meals.size(); ++m) {
    LinearProgram::Row one{"one", 1, 1, {}};
    auto& of_meal = on.emplace_back();
    for (int s = 0; s < block.slots(); ++s) {
      const double price = block.slot_price[m][at(s)];
      if (std::isinf(price)) {
        of_meal.push_back(-1);
        continue;
      }
      const int column = program.add(LinearProgram::Column{"on", price, 0, 1, true});
      of_meal.push_back(column);
      one.entries.push_back({column, 1});
      const int row = first_row + foods.class_of_meal[m] * block.slots() + s;
      program.rows[at(row)].entries.push_back({column, -1});
      if (s == 0) continue;
      const auto [open, fresh] = open_.try_emplace({block.meals[m], block.jars[at(s - 1)]}, 0);
      if (fresh) {
        open->second =
            program.add(LinearProgram::Column{"open", problem.prices.opened_jar, 0, 1, true});
      }
      program.add(LinearProgram::Row{"opened", -kInfinity, 0, {{column, 1}, {open->second, -1}}});
    }
    program.add(std::move(one));
  }
  auto& eaten = eaten_.emplace_back();
  for (std::size_t o = 0; o < block.offers.size(); ++o) {
    auto entries = foods.program.rows[at(foods.most_rows[o])].entries;
    for (auto& entry : entries) {
      entry.column += first_column;
      stock_[block.offers[o].food].push_back(entry);
    }
    eaten.push_back(std::move(entries));
  }
}

std::vector<std::vector<int>> JointProgram::slots(const std::vector<double>& x) const {
  std::vector<std::vector<int>> out;
  for (const auto& of_block : on_) {
    auto& meals = out.emplace_back();
    for (const auto& of_meal : of_block) {
      int slot = 0;
      for (std::size_t s = 0; s < of_meal.size(); ++s) {
        if (of_meal[s] >= 0 && x[at(of_meal[s])] > 0.5) slot = static_cast<int>(s);
      }
      meals.push_back(slot);
    }
  }
  return out;
}

std::vector<double> JointProgram::pieces(std::size_t block, const std::vector<double>& x) const {
  std::vector<double> out;
  for (const auto& entries : eaten_[block]) {
    double sum = 0;
    for (const auto& entry : entries) sum += entry.factor * x[at(entry.column)];
    out.push_back(std::round(sum));
  }
  return out;
}

}  // namespace warmside::diet
