#include "diet/rota.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <thread>
#include <tuple>

#include "diet/rota_joint_internal.h"
#include "diet/rota_pricing_internal.h"
#include "diet/rota_shortage_internal.h"

namespace warmside::diet {
namespace {

constexpr double kEqual = 1e-6;
constexpr std::size_t kWorthAThread = 24;  // blocks
constexpr double kNear = 0.5;              // in opened jars
constexpr int kPasses = 4;                 // over all jars and days, at the end
constexpr std::size_t kTiny = 20;          // meals, that CBC proves sooner than prices do
constexpr int kRoundsOfTiny = 10;

using SlotPrices = std::vector<std::vector<double>>;

/// One way to feed a block, and what it costs besides opened jars.
struct Fed {
  PricedBlock meals;
  double cost = 0;
};

struct Feeding {
  bool complete = false;
  std::vector<Fed> of_block;
  double cost = kInfinity;
};

/// The rota by parts: each block by itself at prices for jars and foods, and the prices so that the
/// parts agree (Lagrange). The prices give the bound; feeding the blocks one after another gives
/// plans.
class Coordinator {
 public:
  Coordinator(const RotaProblem& problem, const std::vector<Block>& blocks)
      : problem_(problem), blocks_(blocks), food_price_(problem.foods.size(), 0) {
    find_solvers();
    find_keys();
  }

  /// Blocks that cannot be fed whatever jars cost.
  std::vector<std::size_t> failing() {
    std::vector<std::size_t> failing;
    for (std::size_t b = 0; b < blocks_.size(); ++b) {
      if (!solver(b).feasible(blocks_[b].slot_price)) failing.push_back(b);
    }
    return failing;
  }

  void improve(int rounds);

  const Feeding& best() const { return best_; }
  double bound() const { return bound_; }
  bool proven() const { return best_.complete && best_.cost - bound_ <= kEqual; }

  /// A feeding found elsewhere.
  void offer(Feeding feeding) {
    feeding.cost = total(feeding);
    keep(std::move(feeding));
  }
  void raise_bound(double bound) { bound_ = std::max(bound_, bound); }
  double cost_of(std::size_t b, const PricedBlock& meals) const;

 private:
  BlockSolver& solver(std::size_t b) { return solvers_[solver_of_[b]]; }

  void find_solvers() {
    std::vector<std::size_t> first;
    for (std::size_t b = 0; b < blocks_.size(); ++b) {
      const auto same = std::find_if(first.begin(), first.end(), [&](std::size_t other) {
        return alike(blocks_[other], blocks_[b]);
      });
      solver_of_.push_back(static_cast<std::size_t>(same - first.begin()));
      if (same != first.end()) continue;
      first.push_back(b);
      solvers_.emplace_back(blocks_[b], problem_.prices);
    }
  }

  /// A key is a jar on a day. key_[b][m][s]: its index, or -1 for no powder.
  void find_keys() {
    std::map<std::pair<int, std::size_t>, int> index;
    for (const Block& block : blocks_) {
      auto& of_meals = key_.emplace_back();
      for (std::size_t m = 0; m < block.meals.size(); ++m) {
        auto& of_slots = of_meals.emplace_back(1, -1);
        for (std::size_t s = 1; s < static_cast<std::size_t>(block.slots()); ++s) {
          if (std::isinf(block.slot_price[m][s])) {
            of_slots.push_back(-1);
            continue;
          }
          const auto [at, fresh] = index.try_emplace({block.meals[m], block.jars[s - 1]},
                                                     static_cast<int>(users_.size()));
          if (fresh) users_.emplace_back();
          users_[static_cast<std::size_t>(at->second)].push_back({key_.size() - 1, m, s});
          of_slots.push_back(at->second);
        }
      }
    }
  }

  /// The block's own prices and what `extra(key, block, meal, slot)` adds for a jar.
  template <class Extra>
  SlotPrices prices(std::size_t b, Extra&& extra) const {
    SlotPrices out = blocks_[b].slot_price;
    for (std::size_t m = 0; m < out.size(); ++m) {
      for (std::size_t s = 1; s < out[m].size(); ++s) {
        if (key_[b][m][s] >= 0) out[m][s] += extra(static_cast<std::size_t>(key_[b][m][s]), m, s);
      }
    }
    return out;
  }

  std::vector<double> pieces_of_foods(std::size_t b, const PricedBlock& meals) const {
    std::vector<double> out(problem_.foods.size(), 0);
    for (std::size_t m = 0; m < meals.offer.size(); ++m) {
      const auto& offer = blocks_[b].offers[static_cast<std::size_t>(meals.offer[m])];
      out[offer.food] += meals.pieces[m];
    }
    return out;
  }

  FoodTerms food_prices(std::size_t b) const {
    FoodTerms terms;
    bool any = false;
    for (const RotaOffer& offer : blocks_[b].offers) {
      terms.price.push_back(food_price_[offer.food]);
      any |= terms.price.back() > 0;
    }
    return any ? terms : FoodTerms{};
  }

  std::vector<PricedBlock> price_all(const std::vector<SlotPrices>& share);

  struct Shelf;  // what is open and in stock while blocks are fed one after another
  bool feed(std::size_t b, Shelf& shelf, Feeding& feeding, const std::vector<double>& key_price);
  void take_back(std::size_t b, Shelf& shelf, const Feeding& feeding, int sign) const;
  Feeding feed_all(const std::vector<double>& key_price, std::size_t first);
  void polish(Feeding& feeding, int passes);
  void close_and_open(Feeding& feeding);
  double total(const Feeding& feeding) const;
  void keep(Feeding feeding) {
    if (feeding.complete && feeding.cost < best_.cost - 1e-12) best_ = std::move(feeding);
  }

  struct User {
    std::size_t block, meal, slot;
  };
  const RotaProblem& problem_;
  const std::vector<Block>& blocks_;
  std::vector<BlockSolver> solvers_;
  std::vector<std::size_t> solver_of_;
  std::vector<std::vector<std::vector<int>>> key_;
  std::vector<std::vector<User>> users_;  // of each key
  std::vector<double> food_price_;
  Feeding best_;
  double bound_ = -kInfinity;
};

struct Coordinator::Shelf {
  std::vector<int> open;     // how many blocks use each key
  std::vector<double> left;  // pieces of each food
  Shelf(std::size_t keys, const std::vector<RotaFood>& foods) : open(keys, 0) {
    for (const RotaFood& food : foods) left.push_back(food.stock ? *food.stock : kInfinity);
  }
};

double Coordinator::cost_of(std::size_t b, const PricedBlock& meals) const {
  const Block& block = blocks_[b];
  double cost = 0, energy = 0;
  for (std::size_t m = 0; m < meals.slot.size(); ++m) {
    const auto o = static_cast<std::size_t>(meals.offer[m]);
    const RotaOffer& offer = block.offers[o];
    cost += block.slot_price[m][static_cast<std::size_t>(meals.slot[m])] + offer.price +
            problem_.prices.pieces_off * std::abs(meals.pieces[m] - offer.usual) / offer.usual;
    energy += meals.pieces[m] * block.energy_kj[o];
  }
  if (block.energy_middle > 0) {
    const double outside = std::max({0.0, block.energy_low - energy, energy - block.energy_high});
    cost += problem_.prices.energy_off * outside / block.energy_middle;
  }
  return cost;
}

void Coordinator::take_back(std::size_t b, Shelf& shelf, const Feeding& feeding, int sign) const {
  const PricedBlock& meals = feeding.of_block[b].meals;
  for (std::size_t m = 0; m < meals.slot.size(); ++m) {
    const int key = key_[b][m][static_cast<std::size_t>(meals.slot[m])];
    if (key >= 0) shelf.open[static_cast<std::size_t>(key)] -= sign;
  }
  const auto pieces = pieces_of_foods(b, meals);
  for (std::size_t f = 0; f < pieces.size(); ++f) shelf.left[f] += sign * pieces[f];
}

bool Coordinator::feed(std::size_t b, Shelf& shelf, Feeding& feeding,
                       const std::vector<double>& key_price) {
  const auto slot_prices = prices(b, [&](std::size_t key, std::size_t, std::size_t) {
    return shelf.open[key] > 0 ? 0 : key_price[key];
  });
  FoodTerms terms = food_prices(b);
  PricedBlock meals = solver(b).best(slot_prices, terms);
  const auto pieces = pieces_of_foods(b, meals);
  bool in_stock = meals.feasible;
  for (std::size_t f = 0; f < pieces.size(); ++f) in_stock &= pieces[f] <= shelf.left[f];
  if (!in_stock) {
    for (const RotaOffer& offer : blocks_[b].offers) terms.most.push_back(shelf.left[offer.food]);
    meals = solver(b).best(slot_prices, terms);
    if (!meals.feasible) return false;
  }
  const double cost = cost_of(b, meals);
  feeding.of_block[b] = {std::move(meals), cost};
  take_back(b, shelf, feeding, -1);
  return true;
}

double Coordinator::total(const Feeding& feeding) const {
  std::vector<bool> open(users_.size(), false);
  double cost = 0;
  for (std::size_t b = 0; b < blocks_.size(); ++b) {
    cost += feeding.of_block[b].cost;
    const PricedBlock& meals = feeding.of_block[b].meals;
    for (std::size_t m = 0; m < meals.slot.size(); ++m) {
      const int key = key_[b][m][static_cast<std::size_t>(meals.slot[m])];
      if (key >= 0) open[static_cast<std::size_t>(key)] = true;
    }
  }
  return cost + problem_.prices.opened_jar *
                    static_cast<double>(std::count(open.begin(), open.end(), true));
}

/// The blocks one after another, from a `first` one on; those with the least choice before others.
Feeding Coordinator::feed_all(const std::vector<double>& key_price, std::size_t first) {
  Feeding feeding;
  feeding.of_block.resize(blocks_.size());
  Shelf shelf(users_.size(), problem_.foods);
  std::vector<std::size_t> order(blocks_.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::rotate(order.begin(), order.begin() + static_cast<std::ptrdiff_t>(first % order.size()),
              order.end());
  std::stable_sort(order.begin(), order.end(), [&](std::size_t x, std::size_t y) {
    return blocks_[x].offers.size() < blocks_[y].offers.size();
  });
  for (const std::size_t b : order) {
    if (!feed(b, shelf, feeding, key_price)) return feeding;
  }
  feeding.complete = true;
  polish(feeding, 2);
  return feeding;
}

/// Feeds each block anew beside all others while that saves something.
void Coordinator::polish(Feeding& feeding, int passes) {
  const std::vector<double> full(users_.size(), problem_.prices.opened_jar);
  Shelf shelf(users_.size(), problem_.foods);
  for (std::size_t b = 0; b < blocks_.size(); ++b) take_back(b, shelf, feeding, -1);
  feeding.cost = total(feeding);
  for (int pass = 0; pass < passes; ++pass) {
    const double before = feeding.cost;
    for (std::size_t b = 0; b < blocks_.size(); ++b) {
      take_back(b, shelf, feeding, +1);
      if (!feed(b, shelf, feeding, full)) take_back(b, shelf, feeding, -1);
    }
    feeding.cost = total(feeding);
    if (feeding.cost >= before - kEqual) return;
  }
}

/// Tries to do without each jar of a day that is open, and to open each that is not: whoever could
/// use it is fed anew, then everyone where that promises something.
void Coordinator::close_and_open(Feeding& feeding) {
  const double opened = problem_.prices.opened_jar;
  const double never = 1e3 * opened + 1;
  for (std::size_t key = 0; key < users_.size(); ++key) {
    std::vector<std::size_t> again;
    bool open = false;
    for (const User& user : users_[key]) {
      open |= feeding.of_block[user.block].meals.slot[user.meal] == static_cast<int>(user.slot);
    }
    for (const User& user : users_[key]) {
      const int slot = feeding.of_block[user.block].meals.slot[user.meal];
      if (!open || slot == static_cast<int>(user.slot)) again.push_back(user.block);
    }
    Feeding trial = feeding;
    Shelf shelf(users_.size(), problem_.foods);
    for (std::size_t b = 0; b < blocks_.size(); ++b) take_back(b, shelf, trial, -1);
    std::vector<double> price(users_.size(), opened);
    price[key] = open ? never : 0;
    bool all = true;
    for (const std::size_t b : again) {
      const Fed before = trial.of_block[b];
      take_back(b, shelf, trial, +1);
      if (feed(b, shelf, trial, price)) continue;
      trial.of_block[b] = before;
      take_back(b, shelf, trial, -1);
      all = false;
    }
    if (!all && open) continue;
    trial.cost = total(trial);
    if (trial.cost > feeding.cost + opened) continue;
    polish(trial, 1);
    if (trial.cost < feeding.cost - kEqual) feeding = std::move(trial);
  }
}

/// Every block at its share of the jars' prices, on two threads. A solver learns from each call, so
/// one solver's blocks stay on one thread and in order: the answer does not depend on the threads.
std::vector<PricedBlock> Coordinator::price_all(const std::vector<SlotPrices>& share) {
  std::vector<PricedBlock> meals(blocks_.size());
  const auto half = [&](std::size_t parity) {
    for (std::size_t b = 0; b < blocks_.size(); ++b) {
      if (solver_of_[b] % 2 != parity) continue;
      const auto at_price =
          prices(b, [&](std::size_t, std::size_t m, std::size_t s) { return share[b][m][s]; });
      meals[b] = solver(b).best(at_price, food_prices(b));
    }
  };
  if (blocks_.size() < kWorthAThread) {
    half(0);
    half(1);
    return meals;
  }
  std::thread other(half, std::size_t{1});
  half(0);
  other.join();
  return meals;
}

/// The point of the simplex {x >= 0, sum = total} nearest to x.
void onto_simplex(std::vector<double*>& x, double total) {
  std::vector<double> sorted;
  for (const double* value : x) sorted.push_back(*value);
  std::sort(sorted.rbegin(), sorted.rend());
  double sum = 0, shift = 0;
  for (std::size_t i = 0; i < sorted.size(); ++i) {
    sum += sorted[i];
    const double candidate = (sum - total) / static_cast<double>(i + 1);
    if (sorted[i] - candidate > 0) shift = candidate;
  }
  for (double* value : x) *value = std::max(0.0, *value - shift);
}

/// Subgradient ascent with averaged directions (as in Barahona & Anbil's volume algorithm). The
/// price of opening a jar is shared among the blocks that may use it; blocks that do pay more.
void Coordinator::improve(int rounds) {
  const double opened = problem_.prices.opened_jar;
  std::vector<SlotPrices> share, used;  // [b][m][s]; used: averaged, 0..1
  for (std::size_t b = 0; b < blocks_.size(); ++b) {
    share.push_back(prices(b, [&](std::size_t key, std::size_t, std::size_t) {
      return opened / static_cast<double>(users_[key].size());
    }));
    for (std::size_t m = 0; m < share[b].size(); ++m) {
      for (std::size_t s = 0; s < share[b][m].size(); ++s) {
        if (key_[b][m][s] >= 0) share[b][m][s] -= blocks_[b].slot_price[m][s];
      }
    }
    used.push_back(blocks_[b].slot_price);
    for (auto& row : used.back()) std::fill(row.begin(), row.end(), 0);
  }
  auto best_share = share;
  auto best_food_price = food_price_;
  std::vector<double> bought(food_price_.size(), 0);
  double step = 1;
  int stuck = 0;
  keep(feed_all(std::vector<double>(users_.size(), opened), 0));
  for (int round = 0; round < rounds && !proven(); ++round) {
    double bound = 0;
    const std::vector<PricedBlock> meals = price_all(share);
    std::vector<double> pieces(food_price_.size(), 0);
    for (std::size_t b = 0; b < blocks_.size(); ++b) {
      bound += meals[b].price;
      const auto eaten = pieces_of_foods(b, meals[b]);
      for (std::size_t f = 0; f < eaten.size(); ++f) pieces[f] += eaten[f];
    }
    for (std::size_t f = 0; f < pieces.size(); ++f) {
      if (problem_.foods[f].stock) bound -= food_price_[f] * *problem_.foods[f].stock;
    }
    const double mix = round == 0 ? 1 : 0.25;
    for (std::size_t b = 0; b < blocks_.size(); ++b) {
      for (std::size_t m = 0; m < used[b].size(); ++m) {
        for (std::size_t s = 1; s < used[b][m].size(); ++s) {
          const double now = meals[b].slot[m] == static_cast<int>(s) ? 1 : 0;
          used[b][m][s] += mix * (now - used[b][m][s]);
        }
      }
    }
    for (std::size_t f = 0; f < pieces.size(); ++f) bought[f] += mix * (pieces[f] - bought[f]);

    if (bound > bound_ + 1e-9) {
      if (bound > bound_ + 1e-3 * std::abs(bound_)) stuck = 0;
      bound_ = bound;
      best_share = share;
      best_food_price = food_price_;
    } else if (++stuck >= 6) {
      stuck = 0;
      step /= 2;
      share = best_share;
      food_price_ = best_food_price;
    }
    if (round % 5 == 4 || round + 1 == rounds) {
      std::vector<double> price(users_.size());
      for (std::size_t key = 0; key < users_.size(); ++key) {
        double most = 0;
        for (const User& user : users_[key]) {
          most = std::max(most, used[user.block][user.meal][user.slot]);
        }
        price[key] = opened * (1.001 - most);
      }
      Feeding fed = feed_all(price, static_cast<std::size_t>(7 * round));
      // Near the best so far: worth trying each jar.
      if (fed.complete && round > 30 && fed.cost < best_.cost + kNear * opened) close_and_open(fed);
      keep(std::move(fed));
    }

    // The direction: what each block uses beyond the mean of those who share the jar.
    double length = 0;
    std::vector<double> mean(users_.size(), 0);
    for (std::size_t key = 0; key < users_.size(); ++key) {
      for (const User& u : users_[key]) mean[key] += used[u.block][u.meal][u.slot];
      mean[key] /= static_cast<double>(users_[key].size());
      for (const User& u : users_[key]) {
        const double d = used[u.block][u.meal][u.slot] - mean[key];
        length += d * d;
      }
    }
    std::vector<double> over(food_price_.size(), 0);
    for (std::size_t f = 0; f < over.size(); ++f) {
      if (!problem_.foods[f].stock) continue;
      over[f] = bought[f] - *problem_.foods[f].stock;
      if (over[f] < 0 && food_price_[f] <= 0) over[f] = 0;
      length += over[f] * over[f];
    }
    if (length < 1e-12) break;
    const double target = best_.complete ? best_.cost : bound_ + 0.1 * std::abs(bound_) + opened;
    const double go = step * std::max(target - bound, 1e-3) / length;
    for (std::size_t key = 0; key < users_.size(); ++key) {
      if (users_[key].size() < 2) continue;
      std::vector<double*> shares;
      for (const User& u : users_[key]) {
        double& value = share[u.block][u.meal][u.slot];
        value += go * (used[u.block][u.meal][u.slot] - mean[key]);
        shares.push_back(&value);
      }
      onto_simplex(shares, opened);
    }
    for (std::size_t f = 0; f < over.size(); ++f) {
      food_price_[f] = std::max(0.0, food_price_[f] + go * over[f]);
    }
  }
  if (!best_.complete || proven()) return;
  for (int pass = 0; pass < kPasses; ++pass) {
    Feeding better = best_;
    close_and_open(better);
    polish(better, 2);
    if (better.cost >= best_.cost - kEqual) return;
    keep(std::move(better));
  }
}

// --- small rotas, to the proven optimum ---

/// CBC on the joint programme.
void solve_jointly(const RotaProblem& problem, const std::vector<Block>& blocks, int nodes,
                   Coordinator& coordinator) {
  const JointProgram joint(problem, blocks);
  const LinearAnswer answer = solve_by_cbc(joint.program, {nodes});
  if (!answer.feasible) return;
  coordinator.raise_bound(answer.bound);
  // Its slots and pieces as they are; each block reads them back by its own solver.
  Feeding feeding;
  const auto slots = joint.slots(answer.x);
  for (std::size_t b = 0; b < blocks.size(); ++b) {
    SlotPrices only = blocks[b].slot_price;
    for (std::size_t m = 0; m < only.size(); ++m) {
      for (std::size_t s = 0; s < only[m].size(); ++s) {
        if (static_cast<int>(s) != slots[b][m]) only[m][s] = kInfinity;
      }
    }
    FoodTerms terms;
    terms.most = joint.pieces(b, answer.x);
    PricedBlock meals = BlockSolver(blocks[b], problem.prices).best(only, terms);
    if (!meals.feasible) return;
    const double cost = coordinator.cost_of(b, meals);
    feeding.of_block.push_back({std::move(meals), cost});
  }
  feeding.complete = true;
  coordinator.offer(std::move(feeding));
}

// --- the answer ---

std::vector<RotaMeal> meals_of(const std::vector<Block>& blocks, const Feeding& feeding) {
  std::vector<RotaMeal> meals;
  for (std::size_t b = 0; b < blocks.size(); ++b) {
    const Block& block = blocks[b];
    const PricedBlock& fed = feeding.of_block[b].meals;
    for (std::size_t m = 0; m < block.meals.size(); ++m) {
      RotaMeal meal{block.meals[m],
                    block.animal,
                    block.offers[static_cast<std::size_t>(fed.offer[m])].food,
                    fed.pieces[m],
                    {}};
      if (fed.slot[m] > 0) meal.jar = block.jars[static_cast<std::size_t>(fed.slot[m] - 1)];
      meals.push_back(meal);
    }
  }
  return meals;
}

Nutrients brought(const RotaProblem& problem, const RotaMeal& meal) {
  const RotaFood& food = problem.foods[meal.food];
  const Nutrients eaten = food.per_piece * meal.pieces;
  if (!meal.jar) return eaten;
  const RotaJar& jar = problem.jars[*meal.jar];
  const Interval powder = jar.dust_g_per_g * (food.piece.grams() * meal.pieces);
  return eaten + nutrients_of_powder(jar.supplement, powder);
}

EnergyBand times(const EnergyBand& band, double days) {
  const auto scaled = [&](Energy e) { return Energy::kilojoules(e.kilojoules() * days); };
  return {scaled(band.low), scaled(band.middle), scaled(band.high)};
}

std::vector<RotaTotal> totals_of(const RotaProblem& problem, const std::vector<RotaMeal>& meals) {
  std::vector<RotaTotal> totals;
  for (std::size_t a = 0; a < problem.animals.size(); ++a) {
    const RotaAnimal& animal = problem.animals[a];
    for (const auto& [first_day, days] : windows_of(problem, animal)) {
      RotaTotal total{a, first_day, days, 0, {}, {}, {}};
      for (const RotaMeal& meal : meals) {
        if (meal.animal != a || meal.day < first_day || meal.day >= first_day + days) continue;
        total.eaten = total.eaten + brought(problem, meal);
        ++total.meals;
      }
      if (total.meals == 0) continue;
      total.judged = judge(total.eaten, animal.circumstances);
      if (animal.circumstances.amphibian && animal.body) {
        const WeeklyRetinol weekly = amphibian_retinol(*animal.body);
        const double weeks = days / 7.0;
        Target target{Nutrient::vitamin_a,
                      "IU",
                      Interval::exactly(weekly.wanted_iu * weeks),
                      weekly.limit_iu * weeks,
                      Trust::verified,
                      "Coslik, Ward & McClements 2009"};
        const Interval made{0, total.eaten.carotenoid_iu.high};
        const Interval amount = total.eaten.retinol_iu + total.eaten.prey_retinol_iu + made;
        total.judged.push_back({target, amount, judge(amount, total.eaten.retinol_iu, target)});
      }
      if (animal.energy_per_day) total.energy_need = times(*animal.energy_per_day, days);
      totals.push_back(std::move(total));
    }
  }
  return totals;
}

/// Blocks that share no jar on any day and no food of which there is only so much have nothing to
/// do with each other, such as the weeks of animals that all eat often.
std::vector<std::vector<Block>> parts_of(const RotaProblem& problem,
                                         const std::vector<Block>& blocks) {
  std::vector<std::size_t> leader(blocks.size());
  std::iota(leader.begin(), leader.end(), std::size_t{0});
  const auto lead = [&](std::size_t b) {
    while (leader[b] != b) b = leader[b] = leader[leader[b]];
    return b;
  };
  std::map<std::tuple<bool, int, std::size_t>, std::size_t> first;
  for (std::size_t b = 0; b < blocks.size(); ++b) {
    const auto join = [&](bool food, int day, std::size_t what) {
      const auto other = first.try_emplace({food, day, what}, b).first->second;
      const auto x = lead(b), y = lead(other);
      leader[std::max(x, y)] = std::min(x, y);
    };
    for (const int day : blocks[b].meals) {
      for (const std::size_t jar : blocks[b].jars) join(false, day, jar);
    }
    for (const RotaOffer& offer : blocks[b].offers) {
      if (problem.foods[offer.food].stock) join(true, 0, offer.food);
    }
  }
  std::map<std::size_t, std::vector<Block>> parts;
  for (std::size_t b = 0; b < blocks.size(); ++b) parts[lead(b)].push_back(blocks[b]);
  std::vector<std::vector<Block>> out;
  for (auto& part : parts) out.push_back(std::move(part.second));
  return out;
}

/// Plans a part; false when no way was found.
bool add_part(const RotaProblem& problem, const std::vector<Block>& blocks,
              const RotaEffort& effort, RotaPlan& plan) {
  Coordinator coordinator(problem, blocks);
  std::size_t meals = 0;
  for (const Block& block : blocks) meals += block.meals.size();
  coordinator.improve(meals <= kTiny ? kRoundsOfTiny : effort.rounds);
  const bool small = meals <= static_cast<std::size_t>(effort.exact_up_to_meals);
  if (!coordinator.proven() && (small || !coordinator.best().complete)) {
    solve_jointly(problem, blocks, effort.nodes, coordinator);
  }
  if (!coordinator.best().complete) return false;
  const auto fed = meals_of(blocks, coordinator.best());
  plan.meals.insert(plan.meals.end(), fed.begin(), fed.end());
  plan.cost += coordinator.best().cost;
  plan.bound += std::min(coordinator.bound(), coordinator.best().cost);
  return true;
}

}  // namespace

std::vector<RotaUnknown> unknown_of(const RotaProblem& problem) {
  return settled_blocks(problem).unknown;
}

std::vector<RotaShortage> shortages_of(const RotaProblem& problem) {
  const Blocks made = settled_blocks(problem);
  std::vector<RotaShortage> shortages;
  const auto failing = Coordinator(problem, made.blocks).failing();
  for (std::size_t i = 0; i < failing.size();) {
    const std::size_t a = made.blocks[failing[i]].animal;
    std::vector<const Block*> of_animal;
    for (; i < failing.size() && made.blocks[failing[i]].animal == a; ++i) {
      of_animal.push_back(&made.blocks[failing[i]]);
    }
    for (auto& shortage : shortages_of(problem, a, of_animal)) {
      shortages.push_back(std::move(shortage));
    }
  }
  return shortages;
}

RotaAnswer solve_rota(const RotaProblem& problem, const RotaEffort& effort) {
  WS_CHECK(check(problem).empty());
  const Blocks made = settled_blocks(problem);
  RotaAnswer answer;
  answer.unknown = made.unknown;
  answer.set_aside = made.set_aside;
  answer.shortages = shortages_of(problem);
  if (!answer.shortages.empty()) return answer;

  RotaPlan plan;
  for (const std::vector<Block>& part : parts_of(problem, made.blocks)) {
    if (add_part(problem, part, effort, plan)) continue;
    answer.shortages = stock_shortages(problem, part);
    return answer;
  }
  std::stable_sort(plan.meals.begin(), plan.meals.end(), [](const RotaMeal& a, const RotaMeal& b) {
    return std::pair(a.day, a.animal) < std::pair(b.day, b.animal);
  });
  plan.totals = totals_of(problem, plan.meals);
  answer.plan = std::move(plan);
  return answer;
}

}  // namespace warmside::diet
