#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "diet/rota_blocks_internal.h"
#include "diet/rota_model.h"

namespace warmside::diet {
namespace {

constexpr double kCalciumBoundByOxalicAcid = 40.08 / 90.03;  // as in nutrients.cpp
constexpr double kShareOfCarotenoids = 0.5;                  // the middle of none and all
constexpr int kMealsOfAWeeklyEater = 3;

/// An amount of a nutrient in food and in powder.
struct Amount {
  Interval Nutrients::*food;
  Interval Supplement::*powder;  // null: dry matter, or what powders are free of
  double factor;
};

/// good - bad >= rest.
struct RowForm {
  std::vector<Amount> good, bad;
  double rest = 0;
};

const Amount kDryMatter{&Nutrients::dry_matter_g, nullptr, 1};

Amount times(Amount amount, double factor) {
  amount.factor *= factor;
  return amount;
}

/// What counts toward the need of a nutrient and what is taken off.
RowForm counted(Nutrient nutrient) {
  const Amount calcium{&Nutrients::calcium_mg, &Supplement::calcium_g_per_g, 1};
  const Amount bound{&Nutrients::oxalic_acid_mg, nullptr, kCalciumBoundByOxalicAcid};
  const Amount retinol{&Nutrients::retinol_iu, &Supplement::retinol_iu_per_g, 1};
  switch (nutrient) {
    case Nutrient::calcium:
    case Nutrient::calcium_to_phosphorus:
      return {{calcium}, {bound}};
    case Nutrient::phosphorus:
      return {{{&Nutrients::phosphorus_mg, nullptr, 1}}, {}};
    case Nutrient::vitamin_d3:
      return {{{&Nutrients::vitamin_d3_iu, &Supplement::vitamin_d3_iu_per_g, 1}}, {}};
    case Nutrient::vitamin_a:
      return {{retinol,
               {&Nutrients::prey_retinol_iu, nullptr, 1},
               {&Nutrients::carotenoid_iu, &Supplement::carotenoid_iu_per_g, kShareOfCarotenoids}},
              {}};
    case Nutrient::vitamin_e:
      return {{{&Nutrients::vitamin_e_iu, &Supplement::vitamin_e_iu_per_g, 1}}, {}};
  }
  WS_CHECK(false);
}

RowForm need_form(const Target& target) {
  RowForm form = counted(target.nutrient);
  if (target.nutrient == Nutrient::calcium_to_phosphorus) {
    form.bad.push_back({&Nutrients::phosphorus_mg, nullptr, target.wanted.low});
  } else {
    // % of grams in mg; IU/kg in IU/g.
    const double in_dry_matter = target.nutrient == Nutrient::calcium ? 10 : 0.001;
    form.bad.push_back(times(kDryMatter, target.wanted.low * in_dry_matter));
  }
  return form;
}

RowForm limit_form(const Target& target) {
  const double in_dry_matter = target.nutrient == Nutrient::calcium ? 10 : 0.001;
  RowForm form{{times(kDryMatter, *target.limit * in_dry_matter)}, {}};
  form.bad.push_back(counted(target.nutrient).good.front());  // all calcium; retinol alone
  return form;
}

class BlockMaker {
 public:
  explicit BlockMaker(const RotaProblem& problem) : problem_(problem) { set_jars_aside(); }

  Blocks make() {
    for (std::size_t a = 0; a < problem_.animals.size(); ++a) {
      const RotaAnimal& animal = problem_.animals[a];
      name_jars_set_aside(a);
      for (const auto& window : windows_of(problem_, animal)) add_block(a, animal, window);
    }
    return std::move(out_);
  }

 private:
  static bool known(const RotaJar& jar) {
    const Supplement& s = jar.supplement;
    return jar.dust_g_per_g.known() && s.calcium_g_per_g.known() && s.vitamin_d3_iu_per_g.known() &&
           s.retinol_iu_per_g.known();
  }
  void set_jars_aside() {
    for (std::size_t j = 0; j < problem_.jars.size(); ++j) {
      if (!known(problem_.jars[j])) out_.set_aside.push_back(j);
    }
  }
  bool aside(std::size_t jar) const {
    return std::find(out_.set_aside.begin(), out_.set_aside.end(), jar) != out_.set_aside.end();
  }

  void name_unknown(std::size_t a, Nutrient nutrient, bool limit, std::string because) {
    RotaUnknown unknown{a, nutrient, limit, std::move(because)};
    if (std::find(out_.unknown.begin(), out_.unknown.end(), unknown) == out_.unknown.end()) {
      out_.unknown.push_back(std::move(unknown));
    }
  }
  void name_jars_set_aside(std::size_t a) {
    for (const std::size_t j : problem_.animals[a].jars) {
      if (!aside(j)) continue;
      const RotaJar& jar = problem_.jars[j];
      const bool dust = jar.dust_g_per_g.known();
      const auto name = [&](Nutrient nutrient, const Interval& amount) {
        if (!dust || !amount.known()) name_unknown(a, nutrient, true, "jar " + jar.name);
      };
      name(Nutrient::calcium, jar.supplement.calcium_g_per_g);
      name(Nutrient::vitamin_d3, jar.supplement.vitamin_d3_iu_per_g);
      name(Nutrient::vitamin_a, jar.supplement.retinol_iu_per_g);
    }
  }

  void add_block(std::size_t a, const RotaAnimal& animal, std::pair<int, int> window) {
    Block block;
    block.animal = a;
    std::tie(block.first_day, block.days) = window;
    const int end = block.first_day + block.days;
    for (std::size_t i = 0; i < animal.feeding_days.size(); ++i) {
      const int day = animal.feeding_days[i];
      if (day >= block.first_day && day < end) block.meals.push_back(day);
    }
    if (block.meals.empty()) return;
    block.offers = animal.offers;
    for (const std::size_t jar : animal.jars) {
      if (!aside(jar)) block.jars.push_back(jar);
    }
    for (const RotaOffer& offer : block.offers) {
      const RotaFood& food = problem_.foods[offer.food];
      block.last_good_day.push_back(food.last_good_day);
      block.energy_kj.push_back(best_estimate(food.per_piece.energy_kj).value_or(0));
    }
    add_energy(animal, block);
    add_rows(animal, block);
    add_slot_prices(animal, block);
    out_.blocks.push_back(std::move(block));
  }

  void add_energy(const RotaAnimal& animal, Block& block) {
    if (!animal.energy_per_day) return;
    for (const RotaOffer& offer : block.offers) {
      if (!problem_.foods[offer.food].per_piece.energy_kj.known()) return;
    }
    block.energy_low = animal.energy_per_day->low.kilojoules() * block.days;
    block.energy_middle = animal.energy_per_day->middle.kilojoules() * block.days;
    block.energy_high = animal.energy_per_day->high.kilojoules() * block.days;
  }

  void add_slot_prices(const RotaAnimal& animal, Block& block) {
    for (const int day : block.meals) {
      std::vector<double> prices(static_cast<std::size_t>(block.slots()), 0);
      const auto at = std::find(animal.feeding_days.begin(), animal.feeding_days.end(), day) -
                      animal.feeding_days.begin();
      for (std::size_t s = 0; s < prices.size(); ++s) {
        std::optional<std::size_t> jar;
        if (s > 0) jar = block.jars[s - 1];
        if (jar) prices[s] += problem_.prices.dusted_meal;
        if (!animal.usual_jars.empty()) {
          const auto& usual = animal.usual_jars[static_cast<std::size_t>(at)];
          if (usual != jar) prices[s] += problem_.prices.unusual_jar * (usual ? animal.habit : 1);
        }
        if (jar && problem_.jars[*jar].last_good_day.value_or(day) < day) prices[s] = kInfinity;
      }
      block.slot_price.push_back(std::move(prices));
    }
  }

  void add_rows(const RotaAnimal& animal, Block& block) {
    if (animal.whole_prey && animal.jars.empty()) return;
    const auto asked = [&](Nutrient nutrient) {
      return std::find(animal.not_asked.begin(), animal.not_asked.end(), nutrient) ==
             animal.not_asked.end();
    };
    for (const Target& target : targets_for(animal.circumstances)) {
      // No powder brings phosphorus, and leaves hold less than the table wants: told, not held.
      if (target.nutrient == Nutrient::phosphorus) continue;
      if (target.wanted.low > 0 && asked(target.nutrient)) {
        add_row(block, target.nutrient, false, need_form(target));
      }
      if (target.limit && !animal.whole_prey) {
        add_row(block, target.nutrient, true, limit_form(target));
      }
    }
    if (animal.circumstances.amphibian && animal.body) {
      const WeeklyRetinol weekly = amphibian_retinol(*animal.body);
      RowForm need = counted(Nutrient::vitamin_a);
      need.rest = weekly.wanted_iu * block.days / 7;
      if (asked(Nutrient::vitamin_a)) add_row(block, Nutrient::vitamin_a, false, need);
      if (!animal.whole_prey) {
        RowForm limit{{}, {counted(Nutrient::vitamin_a).good.front()}};
        limit.rest = -weekly.limit_iu * block.days / 7;
        add_row(block, Nutrient::vitamin_a, true, limit);
      }
    }
  }

  /// A food's share of one side for a piece; what is unknown is told to `unknown`.
  static double of_food(const std::vector<Amount>& side, const Nutrients& n, bool& unknown) {
    double sum = 0;
    for (const Amount& amount : side) {
      Interval interval = n.*amount.food;
      if (!interval.known()) unknown = true;
      sum += amount.factor * best_estimate(interval).value_or(interval.low);
    }
    return sum;
  }
  /// The same of a gram of powder.
  static double of_powder(const std::vector<Amount>& side, const Supplement& s, bool& unknown) {
    double sum = 0;
    for (const Amount& amount : side) {
      if (amount.powder != nullptr) {
        const Interval interval = s.*amount.powder;
        if (!interval.known()) unknown = true;
        const double to_mg = amount.powder == &Supplement::calcium_g_per_g ? 1000 : 1;
        sum += amount.factor * to_mg * best_estimate(interval).value_or(interval.low);
      } else if (amount.food == &Nutrients::dry_matter_g) {
        sum += amount.factor;
      }
    }
    return sum;
  }

  void add_row(Block& block, Nutrient nutrient, bool limit, const RowForm& form) {
    NeedRow row;
    row.nutrient = nutrient;
    row.limit = limit;
    row.at_least = form.rest;
    double wanted = 0;  // of the usual meals, on average
    for (const RotaOffer& offer : block.offers) {
      const RotaFood& food = problem_.foods[offer.food];
      bool good_unknown = false, bad_unknown = false;
      const double good = of_food(form.good, food.per_piece, good_unknown);
      const double bad = of_food(form.bad, food.per_piece, bad_unknown);
      if (bad_unknown || (limit && good_unknown)) {
        name_unknown(block.animal, nutrient, limit, "food " + food.name);
        // Of a limit, what is known must still not go over it.
        if (!limit || good_unknown) return;
      } else if (good_unknown) {
        doubt(row, "food " + food.name);
      }
      wanted += (limit ? good : bad) * offer.usual / static_cast<double>(block.offers.size());
      auto& coefficients = row.per_piece.emplace_back(1, good - bad);
      for (const std::size_t j : block.jars) {
        const RotaJar& jar = problem_.jars[j];
        bool jar_good = false, jar_bad = false;
        const double a_gram = of_powder(form.good, jar.supplement, jar_good) -
                              of_powder(form.bad, jar.supplement, jar_bad);
        if (jar_good) doubt(row, "jar " + jar.name);
        coefficients.push_back(good - bad +
                               a_gram * *best_estimate(jar.dust_g_per_g) * food.piece.grams());
      }
    }
    wanted =
        form.rest != 0 ? std::abs(form.rest) : wanted * static_cast<double>(block.meals.size());
    if (!(wanted > 0)) wanted = 1;
    row.unit = wanted;
    row.at_least /= wanted;
    for (auto& offer : row.per_piece) {
      for (double& coefficient : offer) coefficient /= wanted;
    }
    block.rows.push_back(std::move(row));
  }
  static void doubt(NeedRow& row, std::string because) {
    row.uncertain = true;
    if (row.because.empty()) row.because = std::move(because);
  }

  const RotaProblem& problem_;
  Blocks out_;
};

}  // namespace

std::vector<std::pair<int, int>> windows_of(const RotaProblem& problem, const RotaAnimal& animal) {
  std::vector<std::pair<int, int>> weeks;
  for (int first = 0; first < problem.days; first += 7) {
    const auto in_week = [&](int day) { return day >= first && day < first + 7; };
    if (std::count_if(animal.feeding_days.begin(), animal.feeding_days.end(), in_week) <
        kMealsOfAWeeklyEater) {
      return {{0, problem.days}};
    }
    weeks.emplace_back(first, 7);
  }
  return weeks;
}

Blocks make_blocks(const RotaProblem& problem) {
  return BlockMaker(problem).make();
}

std::optional<double> best_estimate(Interval amount) {
  if (!amount.known()) return std::nullopt;
  return amount.low > 0 ? std::sqrt(amount.low * amount.high) : amount.high / 2;
}

}  // namespace warmside::diet
