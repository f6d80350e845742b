#include "diet/rota_model.h"

#include <coin/Cbc_C_Interface.h>
#include <fmt/format.h>

#include <cmath>
#include <map>
#include <memory>

#include "diet/rota_blocks_internal.h"

namespace warmside::diet {
namespace {

std::string number(double x) {
  return fmt::format("{:.17g}", x);
}

std::string terms(const LinearProgram& program, const std::vector<LinearProgram::Entry>& entries) {
  std::string text;
  int on_line = 0;
  for (const auto& entry : entries) {
    text += fmt::format(" {} {} {}", entry.factor < 0 ? '-' : '+', number(std::abs(entry.factor)),
                        program.columns[static_cast<std::size_t>(entry.column)].name);
    if (++on_line % 6 == 0) text += '\n';  // some readers take lines of at most 255 characters
  }
  return text;
}

/// Writes the rota meal by meal.
class WholeRota {
 public:
  explicit WholeRota(const RotaProblem& problem)
      : problem_(problem), stock_(problem.foods.size()) {}

  LinearProgram write() {
    for (const Block& block : settled_blocks(problem_).blocks) add(block);
    for (std::size_t f = 0; f < stock_.size(); ++f) {
      if (!problem_.foods[f].stock || stock_[f].empty()) continue;
      out_.add(LinearProgram::Row{fmt::format("stock_f{}", f), -kInfinity,
                                  static_cast<double>(*problem_.foods[f].stock), stock_[f]});
    }
    return std::move(out_);
  }

 private:
  using Entry = LinearProgram::Entry;

  int open_jar(int day, std::size_t jar) {
    const auto key = std::pair(day, jar);
    const auto at = open_.find(key);
    if (at != open_.end()) return at->second;
    return open_[key] = out_.add(LinearProgram::Column{fmt::format("open_d{}_j{}", day, jar),
                                                       problem_.prices.opened_jar, 0, 1, true});
  }

  void add(const Block& block) {
    LinearProgram::Row energy;
    std::vector<LinearProgram::Row> needs(block.rows.size());
    for (std::size_t m = 0; m < block.meals.size(); ++m) add_meal(block, m, energy, needs);
    const auto name = fmt::format("a{}_d{}", block.animal, block.first_day);
    for (std::size_t k = 0; k < needs.size(); ++k) {
      needs[k].name = fmt::format("need_{}_{}", name, k);
      needs[k].low = block.rows[k].at_least;
      out_.add(std::move(needs[k]));
    }
    if (block.energy_middle <= 0) return;
    const double price = problem_.prices.energy_off / block.energy_middle;
    LinearProgram::Row at_most = energy;
    energy.name = "energy_low_" + name;
    energy.low = block.energy_low;
    energy.entries.push_back(
        {out_.add(LinearProgram::Column{"lack_" + name, price, 0, kInfinity, false}), 1});
    out_.add(std::move(energy));
    at_most.name = "energy_high_" + name;
    at_most.high = block.energy_high;
    at_most.entries.push_back(
        {out_.add(LinearProgram::Column{"excess_" + name, price, 0, kInfinity, false}), -1});
    out_.add(std::move(at_most));
  }

  void add_meal(const Block& block, std::size_t m, LinearProgram::Row& energy,
                std::vector<LinearProgram::Row>& needs) {
    const int day = block.meals[m];
    const auto name = fmt::format("a{}_d{}", block.animal, day);
    LinearProgram::Row one{"one_" + name, 1, 1, {}};
    std::vector<LinearProgram::Row> opened(static_cast<std::size_t>(block.slots()));
    for (std::size_t o = 0; o < block.offers.size(); ++o) {
      if (!block.good(o, day)) continue;
      const RotaOffer& offer = block.offers[o];
      LinearProgram::Row off{fmt::format("off_{}_o{}", name, o), 0, 0, {}};
      for (std::size_t s = 0; s < opened.size(); ++s) {
        if (std::isinf(block.slot_price[m][s]) || !block.can(o, s, day)) continue;
        const auto id = fmt::format("{}_o{}_s{}", name, o, s);
        const int meal = out_.add(
            LinearProgram::Column{"meal_" + id, block.slot_price[m][s] + offer.price, 0, 1, true});
        const int pieces = out_.add(
            LinearProgram::Column{"pieces_" + id, 0, 0, static_cast<double>(offer.most), true});
        out_.add(LinearProgram::Row{
            "least_" + id, 0, kInfinity, {{pieces, 1}, {meal, -1.0 * offer.least}}});
        out_.add(LinearProgram::Row{
            "most_" + id, -kInfinity, 0, {{pieces, 1}, {meal, -1.0 * offer.most}}});
        one.entries.push_back({meal, 1});
        opened[s].entries.push_back({meal, 1});
        off.entries.push_back({pieces, 1});
        off.entries.push_back({meal, -1.0 * offer.usual});
        energy.entries.push_back({pieces, block.energy_kj[o]});
        stock_[offer.food].push_back({pieces, 1});
        for (std::size_t k = 0; k < needs.size(); ++k) {
          const double factor = block.rows[k].per_piece[o][s];
          if (factor != 0) needs[k].entries.push_back({pieces, factor});
        }
      }
      const double price = problem_.prices.pieces_off / offer.usual;
      off.entries.push_back(
          {out_.add(LinearProgram::Column{"more_" + off.name, price, 0, kInfinity, false}), -1});
      off.entries.push_back(
          {out_.add(LinearProgram::Column{"fewer_" + off.name, price, 0, kInfinity, false}), 1});
      out_.add(std::move(off));
    }
    for (std::size_t s = 1; s < opened.size(); ++s) {
      if (opened[s].entries.empty()) continue;
      opened[s].name = fmt::format("open_{}_s{}", name, s);
      opened[s].high = 0;
      opened[s].entries.push_back({open_jar(day, block.jars[s - 1]), -1});
      out_.add(std::move(opened[s]));
    }
    out_.add(std::move(one));
  }

  const RotaProblem& problem_;
  LinearProgram out_;
  std::map<std::pair<int, std::size_t>, int> open_;
  std::vector<std::vector<Entry>> stock_;
};

struct DeleteCbc {
  void operator()(Cbc_Model* model) const { Cbc_deleteModel(model); }
};

}  // namespace

int LinearProgram::add(Column column) {
  columns.push_back(std::move(column));
  return static_cast<int>(columns.size()) - 1;
}
int LinearProgram::add(Row row) {
  rows.push_back(std::move(row));
  return static_cast<int>(rows.size()) - 1;
}

std::string as_lp_text(const LinearProgram& program) {
  std::vector<LinearProgram::Entry> costs;
  for (std::size_t c = 0; c < program.columns.size(); ++c) {
    if (program.columns[c].cost != 0) {
      costs.push_back({static_cast<int>(c), program.columns[c].cost});
    }
  }
  std::string text = "Minimize\n cost:" + terms(program, costs) + "\nSubject To\n";
  for (const auto& row : program.rows) {
    const auto line = [&](const char* suffix, const char* sign, double value) {
      text += fmt::format(" {}{}:{} {} {}\n", row.name, suffix, terms(program, row.entries), sign,
                          number(value));
    };
    if (row.entries.empty()) {
      // Such a row holds or not by itself; one that does not is written so that nothing keeps it.
      if (row.low > 0 || row.high < 0) {
        text += fmt::format(" {}: 0 {} >= 1\n", row.name, program.columns.front().name);
      }
    } else if (row.low == row.high) {
      line("", "=", row.low);
    } else {
      if (row.low > -kInfinity) line("_low", ">=", row.low);
      if (row.high < kInfinity) line("_high", "<=", row.high);
    }
  }
  text += "Bounds\n";
  for (const auto& column : program.columns) {
    if (column.high < kInfinity) {
      text +=
          fmt::format(" {} <= {} <= {}\n", number(column.low), column.name, number(column.high));
    }
  }
  text += "General\n";
  for (const auto& column : program.columns) {
    if (column.whole) text += fmt::format(" {}\n", column.name);
  }
  return text + "End\n";
}

LinearAnswer solve_by_cbc(const LinearProgram& program, const LinearLimits& limits) {
  const std::unique_ptr<Cbc_Model, DeleteCbc> owner(Cbc_newModel());
  Cbc_Model* model = owner.get();
  const auto columns = program.columns.size(), rows = program.rows.size();
  std::vector<std::vector<LinearProgram::Entry>> by_column(columns);
  std::vector<double> row_low, row_high;
  for (std::size_t r = 0; r < rows; ++r) {
    row_low.push_back(program.rows[r].low);
    row_high.push_back(program.rows[r].high);
    for (const auto& entry : program.rows[r].entries) {
      by_column[static_cast<std::size_t>(entry.column)].push_back(
          {static_cast<int>(r), entry.factor});
    }
  }
  std::vector<CoinBigIndex> start{0};
  std::vector<int> index;
  std::vector<double> value, low, high, cost;
  for (std::size_t c = 0; c < columns; ++c) {
    for (const auto& entry : by_column[c]) {
      index.push_back(entry.column);
      value.push_back(entry.factor);
    }
    start.push_back(static_cast<CoinBigIndex>(index.size()));
    low.push_back(program.columns[c].low);
    high.push_back(program.columns[c].high);
    cost.push_back(program.columns[c].cost);
  }
  Cbc_loadProblem(model, static_cast<int>(columns), static_cast<int>(rows), start.data(),
                  index.data(), value.data(), low.data(), high.data(), cost.data(), row_low.data(),
                  row_high.data());
  for (std::size_t c = 0; c < columns; ++c) {
    if (program.columns[c].whole) Cbc_setInteger(model, static_cast<int>(c));
  }
  Cbc_setLogLevel(model, 0);
  Cbc_setParameter(model, "log", "0");
  Cbc_setParameter(model, "slog", "0");
  Cbc_setParameter(model, "threads", "0");
  Cbc_setAllowableGap(model, 1e-9);
  Cbc_setAllowableFractionGap(model, 0);
  Cbc_setMaximumNodes(model, limits.nodes);
  if (limits.seconds < 1e9) Cbc_setMaximumSeconds(model, limits.seconds);
  Cbc_solve(model);

  LinearAnswer answer;
  answer.proven = Cbc_isProvenOptimal(model) != 0 || Cbc_isProvenInfeasible(model) != 0;
  if (Cbc_isProvenInfeasible(model) != 0) return answer;
  if (const double* x = Cbc_bestSolution(model)) {
    answer.feasible = true;
    answer.x.assign(x, x + columns);
    for (std::size_t c = 0; c < columns; ++c) {
      if (program.columns[c].whole) answer.x[c] = std::round(answer.x[c]);
    }
    answer.cost = Cbc_getObjValue(model);
  }
  answer.bound =
      answer.proven && answer.feasible ? answer.cost : Cbc_getBestPossibleObjValue(model);
  return answer;
}

LinearProgram whole_rota(const RotaProblem& problem) {
  return WholeRota(problem).write();
}

}  // namespace warmside::diet
