#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <coin/ClpSimplex.hpp>
#include <limits>
#include <map>
#include <set>

#include "diet/rota_pricing_internal.h"

namespace warmside::diet {
namespace {

constexpr double kWhole = 1e-6;   // how near to a whole number the linear programme must come
constexpr double kBetter = 1e-9;  // a plan must be cheaper by this to be another
constexpr int kMostNodes = 20'000;

std::size_t at(int i) {
  return static_cast<std::size_t>(i);
}

/// All ways to share k meals among slots, for k up to `meals`, and where one more meal leads.
struct Shares {
  std::vector<std::vector<std::vector<int>>> states;  // [k][state][slot]
  std::vector<std::vector<int>> next;                 // [k][state * slots + slot]

  Shares(int meals, int slots) {
    states.push_back({std::vector<int>(at(slots), 0)});
    for (int k = 0; k < meals; ++k) {
      std::map<std::vector<int>, int> index;
      std::vector<int> leads;
      std::vector<std::vector<int>> after;
      for (const auto& state : states.back()) {
        for (int s = 0; s < slots; ++s) {
          auto more = state;
          ++more[at(s)];
          const auto [entry, fresh] = index.try_emplace(more, static_cast<int>(after.size()));
          if (fresh) after.push_back(more);
          leads.push_back(entry->second);
        }
      }
      next.push_back(std::move(leads));
      states.push_back(std::move(after));
    }
  }
};

/// The cheapest days for every share of one class's meals.
struct CheapestDays {
  std::vector<std::vector<double>> cost;  // [k][state]
  std::vector<std::vector<int>> before, slot;

  CheapestDays(const Shares& shares, const std::vector<const std::vector<double>*>& price,
               int slots) {
    cost.push_back({0});
    before.emplace_back();
    slot.emplace_back();
    for (std::size_t k = 0; k < price.size(); ++k) {
      const auto count = shares.states[k + 1].size();
      cost.emplace_back(count, kInfinity);
      before.emplace_back(count, -1);
      slot.emplace_back(count, -1);
      for (std::size_t i = 0; i < shares.states[k].size(); ++i) {
        if (std::isinf(cost[k][i])) continue;
        for (int s = 0; s < slots; ++s) {
          const auto to = at(shares.next[k][i * at(slots) + at(s)]);
          const double sum = cost[k][i] + (*price[k])[at(s)];
          if (sum < cost[k + 1][to]) {
            cost[k + 1][to] = sum;
            before[k + 1][to] = static_cast<int>(i);
            slot[k + 1][to] = s;
          }
        }
      }
    }
  }
  void read_back(std::size_t state, std::vector<int>& slots_of_meals) const {
    std::vector<int> reversed;
    for (auto k = cost.size() - 1; k > 0; --k) {
      reversed.push_back(slot[k][state]);
      state = at(before[k][state]);
    }
    slots_of_meals.insert(slots_of_meals.end(), reversed.rbegin(), reversed.rend());
  }
};

/// A linear programme kept by Clp, whose bounds and prices change between solutions.
class Simplex {
 public:
  explicit Simplex(const LinearProgram& program) {
    model_.setLogLevel(0);
    std::vector<std::vector<LinearProgram::Entry>> by_column(program.columns.size());
    std::vector<double> row_low, row_high, low, high, cost, value;
    for (std::size_t r = 0; r < program.rows.size(); ++r) {
      row_low.push_back(program.rows[r].low);
      row_high.push_back(program.rows[r].high);
      for (const auto& entry : program.rows[r].entries) {
        by_column[at(entry.column)].push_back({static_cast<int>(r), entry.factor});
      }
    }
    std::vector<CoinBigIndex> start{0};
    std::vector<int> index;
    for (std::size_t c = 0; c < by_column.size(); ++c) {
      for (const auto& entry : by_column[c]) {
        index.push_back(entry.column);
        value.push_back(entry.factor);
      }
      start.push_back(static_cast<CoinBigIndex>(index.size()));
      low.push_back(program.columns[c].low);
      high.push_back(program.columns[c].high);
      cost.push_back(program.columns[c].cost);
    }
    model_.loadProblem(static_cast<int>(low.size()), static_cast<int>(row_low.size()), start.data(),
                       index.data(), value.data(), low.data(), high.data(), cost.data(),
                       row_low.data(), row_high.data());
    model_.scaling(0);
    model_.setPerturbation(100);   // none: small, and the same every time
    model_.setPersistenceFlag(1);  // its arrays stay between solutions
  }
  void row(int r, double low, double high) { model_.setRowBounds(r, low, high); }
  void column(int c, double low, double high) { model_.setColumnBounds(c, low, high); }
  void cost(int c, double price) { model_.setObjectiveCoefficient(c, price); }
  /// False where there is no solution.
  bool solve() {
    model_.dual(0, kKeepFactors);
    if (model_.status() > 1) model_.initialSolve();
    return model_.status() == 0;
  }
  double value() const { return model_.objectiveValue(); }
  const double* x() const { return model_.primalColumnSolution(); }

 private:
  static constexpr int kKeepFactors = 1 | 2;  // leaves the factors of the basis, starts from them
  ClpSimplex model_;
};

/// Foods and pieces for a pattern.
struct FoodChoice {
  double cost = kInfinity;
  std::vector<double> x;
};

/// Depth first over the whole-numbered columns, most divided first; but pieces only once the meals
/// are whole, which takes a third of the nodes.
class FoodSearch {
 public:
  FoodSearch(const FoodProgram& foods, Simplex& simplex)
      : program_(foods.program), meals_(foods.meal_columns), simplex_(simplex) {}

  /// The cheapest below `cutoff`, if there is one; or the first that is found.
  FoodChoice search(double cutoff, bool any = false) {
    best_.cost = cutoff;
    any_ = any;
    nodes_ = 0;
    branch();
    if (best_.x.empty()) best_.cost = kInfinity;
    return best_;
  }
  bool gave_up() const { return nodes_ > kMostNodes; }

 private:
  void branch() {
    if (++nodes_ > kMostNodes || (any_ && !best_.x.empty())) return;
    if (!simplex_.solve() || simplex_.value() >= best_.cost - kBetter) return;
    const double* x = simplex_.x();
    int divided = most_divided(x, 0, meals_);
    if (divided < 0) divided = most_divided(x, meals_, static_cast<int>(program_.columns.size()));
    if (divided < 0) {
      best_.cost = simplex_.value();
      best_.x.assign(x, x + program_.columns.size());
      return;
    }
    const double value = x[divided];
    const auto [low, high] = bounds_of(divided);
    const double down = std::floor(value);
    const bool down_first = value - down < 0.5;
    for (const bool lower : {down_first, !down_first}) {
      if (lower) {
        set(divided, low, down);
      } else {
        set(divided, down + 1, high);
      }
      branch();
    }
    set(divided, low, high);
  }
  int most_divided(const double* x, int from, int to) const {
    int divided = -1;
    double worst = kWhole;
    for (int c = from; c < to; ++c) {
      if (!program_.columns[at(c)].whole) continue;
      const double off = std::abs(x[c] - std::round(x[c]));
      if (off <= worst) continue;
      worst = off;
      divided = c;
    }
    return divided;
  }
  std::pair<double, double> bounds_of(int c) const {
    const auto found = bounds_.find(c);
    if (found != bounds_.end()) return found->second;
    return {program_.columns[at(c)].low, program_.columns[at(c)].high};
  }
  void set(int c, double low, double high) {
    bounds_[c] = {low, high};
    simplex_.column(c, low, high);
  }

  const LinearProgram& program_;
  int meals_;
  Simplex& simplex_;
  FoodChoice best_;
  bool any_ = false;
  std::map<int, std::pair<double, double>> bounds_;
  int nodes_ = 0;
};

std::vector<int> classes_of_meals(const Block& block) {
  std::vector<int> classes;
  std::vector<bool> last;
  for (const int day : block.meals) {
    std::vector<bool> good;
    for (std::size_t o = 0; o < block.offers.size(); ++o) good.push_back(block.good(o, day));
    classes.push_back(classes.empty() ? 0 : classes.back() + (good == last ? 0 : 1));
    last = std::move(good);
  }
  return classes;
}

bool same(const RotaOffer& a, const RotaOffer& b) {
  return a.food == b.food && a.least == b.least && a.usual == b.usual && a.most == b.most &&
         a.price == b.price;
}

}  // namespace

bool alike(const Block& a, const Block& b) {
  if (a.meals.size() != b.meals.size() || a.jars != b.jars || a.rows != b.rows ||
      a.energy_kj != b.energy_kj || a.energy_low != b.energy_low ||
      a.energy_middle != b.energy_middle || a.energy_high != b.energy_high ||
      !std::equal(a.offers.begin(), a.offers.end(), b.offers.begin(), b.offers.end(), same)) {
    return false;
  }
  for (std::size_t m = 0; m < a.meals.size(); ++m) {
    for (std::size_t o = 0; o < a.offers.size(); ++o) {
      if (a.good(o, a.meals[m]) != b.good(o, b.meals[m])) return false;
    }
  }
  return true;
}

FoodProgram food_program(const Block& block, const RotaPrices& prices) {
  FoodProgram out;
  LinearProgram& p = out.program;
  out.class_of_meal = classes_of_meals(block);
  out.classes = out.class_of_meal.back() + 1;
  const auto offers = block.offers.size();
  const auto slots = at(block.slots());
  std::vector<int> meals_of_class(at(out.classes), 0), a_meal(at(out.classes), 0);
  for (std::size_t m = 0; m < block.meals.size(); ++m) {
    ++meals_of_class[at(out.class_of_meal[m])];
    a_meal[at(out.class_of_meal[m])] = block.meals[m];
  }
  for (int c = 0; c < out.classes; ++c) {
    for (std::size_t o = 0; o < offers; ++o) {
      for (std::size_t s = 0; s < slots; ++s) {
        const bool can = block.can(o, s, a_meal[at(c)]);
        const double most = meals_of_class[at(c)];
        out.meals.push_back(can ? p.add(LinearProgram::Column{fmt::format("m{}_{}_{}", c, o, s),
                                                              block.offers[o].price, 0, most, true})
                                : -1);
      }
    }
  }
  const auto meals_column = [&](int c, std::size_t o, std::size_t s) {
    return out.meals[(at(c) * offers + o) * slots + s];
  };
  out.meal_columns = static_cast<int>(p.columns.size());
  for (int c = 0; c < out.classes; ++c) {
    for (std::size_t s = 0; s < slots; ++s) {
      LinearProgram::Row row{fmt::format("n{}_{}", c, s), 0, 0, {}};
      for (std::size_t o = 0; o < offers; ++o) {
        if (meals_column(c, o, s) >= 0) row.entries.push_back({meals_column(c, o, s), 1});
      }
      p.add(std::move(row));
    }
  }
  LinearProgram::Row energy;
  std::vector<LinearProgram::Row> needs(block.rows.size()), most(offers);
  for (std::size_t o = 0; o < offers; ++o) {
    const RotaOffer& offer = block.offers[o];
    for (std::size_t s = 0; s < slots; ++s) {
      LinearProgram::Row meals;  // of this offer and slot
      for (int c = 0; c < out.classes; ++c) {
        if (meals_column(c, o, s) >= 0) meals.entries.push_back({meals_column(c, o, s), 1});
      }
      const auto bring = [&](LinearProgram::Row& row, double factor) {
        if (factor == 0) return;
        if (out.pieces.back() >= 0) {
          row.entries.push_back({out.pieces.back(), factor});
        } else {
          for (const auto& m : meals.entries)
            row.entries.push_back({m.column, factor * offer.usual});
        }
      };
      const auto tie = [&](const char* name, double low, double high, double pieces) {
        LinearProgram::Row row{
            fmt::format("{}{}_{}", name, o, s), low, high, {{out.pieces.back(), 1}}};
        for (const auto& m : meals.entries) row.entries.push_back({m.column, -pieces});
        return row;
      };
      if (offer.least < offer.most && !meals.entries.empty()) {
        const double end = static_cast<double>(block.meals.size()) * offer.most;
        out.pieces.push_back(
            p.add(LinearProgram::Column{fmt::format("x{}_{}", o, s), 0, 0, end, true}));
        p.add(tie("least", 0, kInfinity, offer.least));
        p.add(tie("most", -kInfinity, 0, offer.most));
        const double price = prices.pieces_off / offer.usual;
        LinearProgram::Row off = tie("off", 0, 0, offer.usual);
        off.entries.push_back({p.add(LinearProgram::Column{"more", price}), -1});
        off.entries.push_back({p.add(LinearProgram::Column{"fewer", price}), 1});
        p.add(std::move(off));
      } else {
        out.pieces.push_back(-1);
      }
      bring(energy, block.energy_kj[o]);
      bring(most[o], 1);
      for (std::size_t k = 0; k < needs.size(); ++k) bring(needs[k], block.rows[k].per_piece[o][s]);
    }
  }
  if (block.energy_middle > 0) {
    const double price = prices.energy_off / block.energy_middle;
    LinearProgram::Row at_most = energy;
    energy.low = block.energy_low;
    energy.entries.push_back({p.add(LinearProgram::Column{"lack", price}), 1});
    p.add(std::move(energy));
    at_most.high = block.energy_high;
    at_most.entries.push_back({p.add(LinearProgram::Column{"excess", price}), -1});
    p.add(std::move(at_most));
  }
  for (auto& row : most) out.most_rows.push_back(p.add(std::move(row)));
  out.first_need_row = static_cast<int>(p.rows.size());
  for (std::size_t k = 0; k < needs.size(); ++k) {
    needs[k].low = block.rows[k].at_least;
    p.add(std::move(needs[k]));
  }
  return out;
}

struct BlockSolver::Inside {
  Inside(const Block& b, const RotaPrices& prices)
      : offers(b.offers),
        slots(b.slots()),
        foods(food_program(b, prices)),
        simplex(foods.program),
        meals(b.meals.size()) {
    for (int c = 0; c < foods.classes; ++c) {
      const auto count = std::count(foods.class_of_meal.begin(), foods.class_of_meal.end(), c);
      shares.emplace_back(static_cast<int>(count), slots);
      patterns *= shares.back().states.back().size();
    }
    known.resize(patterns);
    cull(b);
  }

  struct Known {
    double lower = 0;      // of the foods' cost
    bool relaxed = false;  // lower is that of the linear programme or better
    bool exact = false;    // lower is the cost, and choice how
    FoodChoice choice;
  };

  std::size_t state_of(std::size_t pattern, std::size_t c) const {
    for (std::size_t k = 0; k < c; ++k) pattern /= shares[k].states.back().size();
    return pattern % shares[c].states.back().size();
  }
  const std::vector<int>& counts(std::size_t pattern, std::size_t c) const {
    return shares[c].states.back()[state_of(pattern, c)];
  }

  /// First bounds: the cheapest offers; infinite where not even the best pieces keep a need.
  void cull(const Block& block) {
    const auto classes = at(foods.classes);
    std::vector<double> cheapest(classes, kInfinity);
    std::vector<std::vector<std::vector<double>>> most(
        block.rows.size(),
        std::vector<std::vector<double>>(classes, std::vector<double>(at(slots), -kInfinity)));
    for (std::size_t c = 0; c < classes; ++c) {
      for (std::size_t o = 0; o < offers.size(); ++o) {
        for (std::size_t s = 0; s < at(slots); ++s) {
          if (foods.meals[(c * offers.size() + o) * at(slots) + s] < 0) continue;
          cheapest[c] = std::min(cheapest[c], offers[o].price);
          for (std::size_t k = 0; k < most.size(); ++k) {
            const double piece = block.rows[k].per_piece[o][s];
            most[k][c][s] =
                std::max({most[k][c][s], piece * offers[o].least, piece * offers[o].most});
          }
        }
      }
    }
    for (std::size_t n = 0; n < patterns; ++n) {
      double lower = 0;
      std::vector<double> best(most.size(), 0);
      for (std::size_t c = 0; c < classes; ++c) {
        const auto& count = counts(n, c);
        for (std::size_t s = 0; s < at(slots); ++s) {
          if (count[s] == 0) continue;
          lower += count[s] * cheapest[c];
          for (std::size_t k = 0; k < most.size(); ++k) best[k] += count[s] * most[k][c][s];
        }
      }
      for (std::size_t k = 0; k < most.size(); ++k) {
        if (best[k] < block.rows[k].at_least - kWhole) lower = kInfinity;
      }
      known[n].lower = lower;
      known[n].exact = std::isinf(lower);
    }
  }

  void set_terms(const FoodTerms& terms) {
    if (terms.plain() && last_terms_plain) return;
    last_terms_plain = terms.plain();
    const auto& columns = foods.program.columns;
    for (std::size_t o = 0; o < offers.size(); ++o) {
      const double price = terms.price.empty() ? 0 : terms.price[o];
      for (std::size_t s = 0; s < at(slots); ++s) {
        const int pieces = foods.pieces[o * at(slots) + s];
        if (pieces >= 0) simplex.cost(pieces, price);
        for (int c = 0; c < foods.classes; ++c) {
          const int column = foods.meals[(at(c) * offers.size() + o) * at(slots) + s];
          if (column < 0 || pieces >= 0) continue;
          simplex.cost(column, columns[at(column)].cost + price * offers[o].usual);
        }
      }
      simplex.row(foods.most_rows[o], -kInfinity, terms.most.empty() ? kInfinity : terms.most[o]);
    }
  }

  void set_pattern(std::size_t pattern) {
    for (int c = 0; c < foods.classes; ++c) {
      const auto& count = counts(pattern, at(c));
      for (int s = 0; s < slots; ++s) simplex.row(c * slots + s, count[at(s)], count[at(s)]);
    }
  }
  /// The cost of the foods if they could be divided.
  double relax(std::size_t pattern, const FoodTerms& terms) {
    set_terms(terms);
    set_pattern(pattern);
    return simplex.solve() ? simplex.value() - kBetter : kInfinity;
  }
  FoodChoice solve(std::size_t pattern, const FoodTerms& terms, double cutoff) {
    set_terms(terms);
    set_pattern(pattern);
    FoodSearch search(foods, simplex);
    const FoodChoice choice = search.search(cutoff);
    if (!search.gave_up()) return choice;
    return by_cbc(pattern, terms, cutoff);
  }
  /// For the rare block that the plain search does not finish.
  FoodChoice by_cbc(std::size_t pattern, const FoodTerms& terms, double cutoff) {
    LinearProgram program = foods.program;
    for (int c = 0; c < foods.classes; ++c) {
      for (int s = 0; s < slots; ++s) {
        auto& row = program.rows[at(c * slots + s)];
        row.low = row.high = counts(pattern, at(c))[at(s)];
      }
    }
    for (std::size_t o = 0; o < offers.size(); ++o) {
      const double price = terms.price.empty() ? 0 : terms.price[o];
      for (std::size_t s = 0; s < at(slots); ++s) {
        const int pieces = foods.pieces[o * at(slots) + s];
        if (pieces >= 0) program.columns[at(pieces)].cost = price;
        for (int c = 0; c < foods.classes; ++c) {
          const int column = foods.meals[(at(c) * offers.size() + o) * at(slots) + s];
          if (column >= 0 && pieces < 0)
            program.columns[at(column)].cost += price * offers[o].usual;
        }
      }
      if (!terms.most.empty()) program.rows[at(foods.most_rows[o])].high = terms.most[o];
    }
    const LinearAnswer answer = solve_by_cbc(program);
    if (!answer.feasible || answer.cost >= cutoff - kBetter) return {};
    return {answer.cost, answer.x};
  }

  std::vector<CheapestDays> days_of(const std::vector<std::vector<double>>& slot_price) const {
    std::vector<CheapestDays> days;
    std::size_t meal = 0;
    for (std::size_t c = 0; c < at(foods.classes); ++c) {
      std::vector<const std::vector<double>*> price;
      while (meal < meals && foods.class_of_meal[meal] == static_cast<int>(c)) {
        price.push_back(&slot_price[meal++]);
      }
      days.emplace_back(shares[c], price, slots);
    }
    return days;
  }
  double on_days(const std::vector<CheapestDays>& days, std::size_t pattern) const {
    double cost = 0;
    for (std::size_t c = 0; c < days.size(); ++c) cost += days[c].cost.back()[state_of(pattern, c)];
    return cost;
  }

  PricedBlock best(const std::vector<std::vector<double>>& slot_price, const FoodTerms& terms) {
    const auto days = days_of(slot_price);
    std::vector<double> day_cost(patterns, 0), value(patterns, 0);
    for (std::size_t n = 0; n < patterns; ++n) {
      day_cost[n] = on_days(days, n);
      value[n] = day_cost[n] + known[n].lower;
    }
    const bool plain = terms.plain();
    std::map<std::size_t, FoodChoice> with_terms;
    std::set<std::size_t> relaxed_with_terms;
    double bar = kInfinity;
    while (true) {
      const auto n =
          static_cast<std::size_t>(std::min_element(value.begin(), value.end()) - value.begin());
      if (std::isinf(value[n])) return {};
      if (plain ? known[n].exact : with_terms.contains(n)) {
        return read(n, value[n], days, plain ? known[n].choice : with_terms[n]);
      }
      if (plain ? !known[n].relaxed : !relaxed_with_terms.contains(n)) {
        const double lower = std::max(known[n].lower, relax(n, terms));
        if (plain) {
          known[n].lower = lower;
          known[n].relaxed = true;
          known[n].exact = std::isinf(lower);
        } else {
          relaxed_with_terms.insert(n);
        }
        value[n] = day_cost[n] + lower;
        continue;
      }
      FoodChoice choice = solve(n, terms, bar - day_cost[n] + 2 * kBetter);
      if (choice.x.empty()) {
        const double lower = std::isinf(bar) ? kInfinity : bar - day_cost[n];
        if (plain) {
          known[n].lower = std::max(known[n].lower, lower);
          known[n].exact = std::isinf(lower);
        }
        value[n] = kInfinity;
        continue;
      }
      value[n] = day_cost[n] + choice.cost;
      bar = std::min(bar, value[n]);
      if (plain) {
        known[n] = {choice.cost, true, true, std::move(choice)};
      } else {
        with_terms[n] = std::move(choice);
      }
    }
  }

  /// Whether there is any way at all.
  bool feasible(const std::vector<std::vector<double>>& slot_price) {
    const auto days = days_of(slot_price);
    for (std::size_t n = 0; n < patterns; ++n) {
      if (std::isinf(known[n].lower) || std::isinf(on_days(days, n))) continue;
      set_terms({});
      set_pattern(n);
      FoodSearch search(foods, simplex);
      if (!search.search(kInfinity, true).x.empty()) return true;
      if (search.gave_up() && !by_cbc(n, {}, kInfinity).x.empty()) return true;
      known[n] = {kInfinity, true, true, {}};
    }
    return false;
  }

  /// The meals of a pattern: its cheapest days, its foods in turn, pieces spread evenly.
  PricedBlock read(std::size_t pattern, double price, const std::vector<CheapestDays>& days,
                   const FoodChoice& choice) const {
    PricedBlock out{true, price, {}, {}, {}};
    for (std::size_t c = 0; c < days.size(); ++c) {
      days[c].read_back(state_of(pattern, c), out.slot);
    }
    const auto whole = [&](int column) {
      return static_cast<int>(std::lround(choice.x[at(column)]));
    };
    std::vector<int> meals_left, meals_of(offers.size() * at(slots), 0), pieces_left;
    for (std::size_t i = 0; i < foods.meals.size(); ++i) {
      meals_left.push_back(foods.meals[i] < 0 ? 0 : whole(foods.meals[i]));
      meals_of[i % meals_of.size()] += meals_left.back();
    }
    for (std::size_t i = 0; i < meals_of.size(); ++i) {
      const int column = foods.pieces[i];
      pieces_left.push_back(column < 0 ? meals_of[i] * offers[i / at(slots)].usual : whole(column));
    }
    std::size_t turn = 0;
    for (std::size_t m = 0; m < meals; ++m) {
      const auto c = at(foods.class_of_meal[m]), s = at(out.slot[m]);
      std::size_t o = turn;
      while (meals_left[(c * offers.size() + o) * at(slots) + s] == 0) {
        o = (o + 1) % offers.size();
        WS_CHECK(o != turn);
      }
      --meals_left[(c * offers.size() + o) * at(slots) + s];
      int& of = meals_of[o * at(slots) + s];
      int& left = pieces_left[o * at(slots) + s];
      const int pieces = (left + of - 1) / of;
      left -= pieces;
      --of;
      out.offer.push_back(static_cast<int>(o));
      out.pieces.push_back(pieces);
      turn = (o + 1) % offers.size();
    }
    return out;
  }

  std::vector<RotaOffer> offers;
  int slots;
  FoodProgram foods;
  Simplex simplex;
  std::size_t meals;
  std::vector<Shares> shares;  // of each class
  std::size_t patterns = 1;
  std::vector<Known> known;
  bool last_terms_plain = true;
};

BlockSolver::BlockSolver(const Block& block, const RotaPrices& prices)
    : inside_(std::make_unique<Inside>(block, prices)) {}
BlockSolver::~BlockSolver() = default;
BlockSolver::BlockSolver(BlockSolver&&) noexcept = default;

PricedBlock BlockSolver::best(const std::vector<std::vector<double>>& slot_price,
                              const FoodTerms& terms) {
  return inside_->best(slot_price, terms);
}

bool BlockSolver::feasible(const std::vector<std::vector<double>>& slot_price) {
  return inside_->feasible(slot_price);
}

double pattern_count(const Block& block) {
  const auto classes = classes_of_meals(block);
  double patterns = 1;
  for (int c = 0; c <= classes.back(); ++c) {
    const auto meals = std::count(classes.begin(), classes.end(), c);
    // Meals among slots: (meals + slots - 1) over (slots - 1).
    for (int s = 1; s < block.slots(); ++s) patterns *= static_cast<double>(meals + s) / s;
  }
  return patterns;
}

Blocks settled_blocks(const RotaProblem& problem) {
  Blocks out = make_blocks(problem);
  const RotaPrices free;
  const auto can_be = [&](Block block, const std::vector<NeedRow>& rows) {
    block.rows = rows;
    return BlockSolver(block, free).feasible(block.slot_price);
  };
  for (std::size_t first = 0, end = 0; first < out.blocks.size(); first = end) {
    const std::size_t a = out.blocks[first].animal;
    while (end < out.blocks.size() && out.blocks[end].animal == a) ++end;
    std::vector<std::vector<NeedRow>> kept;
    bool any = false;
    for (std::size_t b = first; b < end; ++b) {
      kept.emplace_back();
      for (const NeedRow& row : out.blocks[b].rows) {
        any |= row.uncertain;
        if (!row.uncertain) kept.back().push_back(row);
      }
    }
    if (!any) continue;
    // A row is the same in each window: those of an animal stand in the same order.
    const auto rows = out.blocks[first].rows;
    for (std::size_t k = 0; k < rows.size(); ++k) {
      if (!rows[k].uncertain) continue;
      auto with = kept;
      bool all = true;
      for (std::size_t b = first; b < end && all; ++b) {
        with[b - first].push_back(out.blocks[b].rows[k]);
        const bool seen_before = b > first && alike(out.blocks[b], out.blocks[b - 1]) &&
                                 out.blocks[b].slot_price == out.blocks[b - 1].slot_price;
        all = seen_before || can_be(out.blocks[b], with[b - first]);
      }
      if (all) {
        kept = std::move(with);
      } else {
        out.unknown.push_back({a, rows[k].nutrient, rows[k].limit, rows[k].because});
      }
    }
    for (std::size_t b = first; b < end; ++b) out.blocks[b].rows = kept[b - first];
  }
  return out;
}

}  // namespace warmside::diet
