#pragma once
// A rota checked by adding up what its meals bring, with nothing of the planner's own sums: the
// formulas are written here once more, from docs/models/diet.md.

#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <set>

#include "diet/rota.h"

namespace warmside::diet::sums {

/// Needs are held to a part in a million of what is wanted, as integer solvers do.
inline constexpr double kTolerance = 2e-6;

inline double middle(Interval x) {
  if (!std::isfinite(x.high)) return x.low;  // the known part
  return x.low > 0 ? std::sqrt(x.low * x.high) : x.high / 2;
}

struct Sum {
  double dry_g = 0, calcium_mg = 0, oxalic_mg = 0, phosphorus_mg = 0, d3_iu = 0, retinol_iu = 0,
         prey_iu = 0, carotenoid_iu = 0, e_iu = 0, energy_kj = 0;
};

inline Sum sum_of(const RotaProblem& problem, const std::vector<RotaMeal>& meals) {
  Sum s;
  for (const RotaMeal& meal : meals) {
    const RotaFood& food = problem.foods[meal.food];
    const Nutrients& n = food.per_piece;
    s.dry_g += meal.pieces * middle(n.dry_matter_g);
    s.calcium_mg += meal.pieces * middle(n.calcium_mg);
    s.oxalic_mg += meal.pieces * middle(n.oxalic_acid_mg);
    s.phosphorus_mg += meal.pieces * middle(n.phosphorus_mg);
    s.d3_iu += meal.pieces * middle(n.vitamin_d3_iu);
    s.retinol_iu += meal.pieces * middle(n.retinol_iu);
    s.prey_iu += meal.pieces * middle(n.prey_retinol_iu);
    s.carotenoid_iu += meal.pieces * middle(n.carotenoid_iu);
    s.e_iu += meal.pieces * middle(n.vitamin_e_iu);
    s.energy_kj += meal.pieces * middle(n.energy_kj);
    if (!meal.jar) continue;
    const RotaJar& jar = problem.jars[*meal.jar];
    const double powder_g = meal.pieces * food.piece.grams() * middle(jar.dust_g_per_g);
    s.dry_g += powder_g;
    s.calcium_mg += powder_g * 1000 * middle(jar.supplement.calcium_g_per_g);
    s.d3_iu += powder_g * middle(jar.supplement.vitamin_d3_iu_per_g);
    s.retinol_iu += powder_g * middle(jar.supplement.retinol_iu_per_g);
    s.carotenoid_iu += powder_g * middle(jar.supplement.carotenoid_iu_per_g);
    s.e_iu += powder_g * middle(jar.supplement.vitamin_e_iu_per_g);
  }
  return s;
}

/// Expects every need and limit that the answer does not call unknown to hold, and every rule of
/// the table; gives what the plan costs.
inline double verified_cost(const RotaProblem& problem, const RotaAnswer& answer) {
  const RotaPlan& plan = *answer.plan;
  std::map<std::size_t, double> pieces;
  std::set<std::pair<int, std::size_t>> opened;
  double cost = 0;
  const auto unknown = [&](std::size_t a, Nutrient nutrient, bool limit) {
    for (const RotaUnknown& u : answer.unknown) {
      if (u.animal == a && u.nutrient == nutrient && u.limit == limit) return true;
    }
    return false;
  };
  for (std::size_t a = 0; a < problem.animals.size(); ++a) {
    const RotaAnimal& animal = problem.animals[a];
    std::vector<RotaMeal> own;
    for (const RotaMeal& meal : plan.meals) {
      if (meal.animal == a) own.push_back(meal);
    }
    EXPECT_EQ(own.size(), animal.feeding_days.size());
    for (std::size_t m = 0; m < own.size(); ++m) {
      const RotaMeal& meal = own[m];
      EXPECT_EQ(meal.day, animal.feeding_days[m]);
      const RotaOffer* offer = nullptr;
      for (const RotaOffer& o : animal.offers) {
        if (o.food == meal.food) offer = &o;
      }
      if (offer == nullptr) {
        ADD_FAILURE() << "a food that is not offered";
        continue;
      }
      EXPECT_TRUE(offer->least <= meal.pieces && meal.pieces <= offer->most);
      EXPECT_LE(meal.day, problem.foods[meal.food].last_good_day.value_or(meal.day));
      pieces[meal.food] += meal.pieces;
      cost += offer->price +
              problem.prices.pieces_off * std::abs(meal.pieces - offer->usual) / offer->usual;
      if (!animal.usual_jars.empty() && animal.usual_jars[m] != meal.jar) {
        cost += problem.prices.unusual_jar * (animal.usual_jars[m] ? animal.habit : 1);
      }
      if (!meal.jar) continue;
      EXPECT_TRUE(std::count(animal.jars.begin(), animal.jars.end(), *meal.jar) == 1);
      EXPECT_LE(meal.day, problem.jars[*meal.jar].last_good_day.value_or(meal.day));
      cost += problem.prices.dusted_meal;
      opened.insert({meal.day, *meal.jar});
    }
    // A week where every week has three meals, else all the days.
    bool weekly = true;
    for (int w = 0; w < problem.days / 7; ++w) {
      int meals = 0;
      for (const int day : animal.feeding_days) meals += day / 7 == w ? 1 : 0;
      weekly = weekly && meals >= 3;
    }
    const int length = weekly ? 7 : problem.days;
    for (int first = 0; first < problem.days; first += length) {
      std::vector<RotaMeal> window;
      for (const RotaMeal& meal : own) {
        if (meal.day >= first && meal.day < first + length) window.push_back(meal);
      }
      if (window.empty()) continue;
      const Sum s = sum_of(problem, window);
      if (animal.energy_per_day) {
        const double low = animal.energy_per_day->low.kilojoules() * length;
        const double high = animal.energy_per_day->high.kilojoules() * length;
        cost += problem.prices.energy_off * std::max({0.0, low - s.energy_kj, s.energy_kj - high}) /
                (animal.energy_per_day->middle.kilojoules() * length);
      }
      if (animal.whole_prey && animal.jars.empty()) continue;
      const auto at_least = [&](Nutrient nutrient, double amount, double wanted) {
        if (wanted > 0 && !unknown(a, nutrient, false)) {
          EXPECT_GE(amount, wanted * (1 - kTolerance)) << animal.name << " " << word(nutrient);
        }
      };
      const auto at_most = [&](Nutrient nutrient, double amount, double limit) {
        if (!animal.whole_prey) {
          EXPECT_LE(amount, limit * (1 + kTolerance)) << animal.name << " " << word(nutrient);
        }
      };
      const auto diet = static_cast<std::size_t>(animal.circumstances.diet);
      const double available = s.calcium_mg - 40.08 / 90.03 * s.oxalic_mg;
      const double kg = s.dry_g / 1000;
      constexpr double kCalcium_pct[] = {0.8, 1.0, 1.4}, kA[] = {5000, 15000, 0},
                       kD3[] = {500, 500, 0}, kE[] = {200, 200, 0};
      at_least(Nutrient::calcium, available, kCalcium_pct[diet] / 100 * s.dry_g * 1000);
      at_most(Nutrient::calcium, s.calcium_mg, 2.5 / 100 * s.dry_g * 1000);
      at_least(Nutrient::calcium_to_phosphorus, available, s.phosphorus_mg);
      at_least(Nutrient::vitamin_d3, s.d3_iu,
               animal.circumstances.uvb_in_zone ? 0 : kD3[diet] * kg);
      at_most(Nutrient::vitamin_d3, s.d3_iu, 2000 * kg);
      at_least(Nutrient::vitamin_e, s.e_iu, kE[diet] * kg);
      const double preformed = s.retinol_iu + s.prey_iu + 0.5 * s.carotenoid_iu;
      if (!animal.circumstances.amphibian) {
        at_least(Nutrient::vitamin_a, preformed, kA[diet] * kg);
        at_most(Nutrient::vitamin_a, s.retinol_iu, 30000 * kg);
      } else if (animal.body) {
        const double weekly_iu = animal.body->grams() * 0.4 / 0.3;
        at_least(Nutrient::vitamin_a, preformed, weekly_iu * length / 7);
        at_most(Nutrient::vitamin_a, s.retinol_iu, 10 * weekly_iu * length / 7);
      }
    }
  }
  for (std::size_t f = 0; f < problem.foods.size(); ++f) {
    EXPECT_LE(pieces[f], problem.foods[f].stock.value_or(1'000'000));
  }
  return cost + problem.prices.opened_jar * static_cast<double>(opened.size());
}

}  // namespace warmside::diet::sums
