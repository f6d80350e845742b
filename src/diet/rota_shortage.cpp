#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "diet/rota_joint_internal.h"
#include "diet/rota_shortage_internal.h"

namespace warmside::diet {
namespace {

constexpr double kNothing = 1e-6;
constexpr int kNodes = 2000;

struct Change {
  std::string words;
  RotaProblem problem;
};

std::string_view unit_of(Nutrient nutrient) {
  switch (nutrient) {
    case Nutrient::calcium:
    case Nutrient::calcium_to_phosphorus:
      return "mg of calcium";
    case Nutrient::phosphorus:
      return "mg of phosphorus";
    default:
      return "IU";
  }
}

/// Jars that a keeper can buy, as labels of their kind usually read.
struct Bought {
  room::SupplementKind kind;
  const char* words;
};
constexpr Bought kJars[] = {
    {room::SupplementKind::calcium, "a jar of plain calcium"},
    {room::SupplementKind::calcium_d3, "a jar of calcium with D3"},
    {room::SupplementKind::multivitamin_retinol, "a jar of multivitamin with retinol"}};

/// Changes for one animal, from the smallest on. Each makes the next only when asked.
class Changes {
 public:
  Changes(const RotaProblem& problem, std::size_t animal, const Block& block)
      : problem_(problem), animal_(animal), block_(block) {}

  std::vector<Change> list() {
    fresh_foods();
    jars_at_hand();
    for (const Bought& jar : kJars) buy({&jar, 1});
    a_meal_more();
    foods_of_its_like();
    for (const Bought& one : kJars) {
      for (const Bought& other : kJars) {
        if (one.kind < other.kind) {
          const Bought both[] = {one, other};
          buy(both);
        }
      }
    }
    return std::move(changes_);
  }

 private:
  RotaAnimal& add(std::string words) {
    changes_.push_back({std::move(words), problem_});
    return changes_.back().problem.animals[animal_];
  }
  void fresh_foods() {
    for (const RotaOffer& offer : problem_.animals[animal_].offers) {
      const RotaFood& food = problem_.foods[offer.food];
      if (!food.last_good_day || *food.last_good_day >= block_.meals.back()) continue;
      add("fresh " + food.name);
      changes_.back().problem.foods[offer.food].last_good_day.reset();
    }
  }
  void jars_at_hand() {
    const auto& has = problem_.animals[animal_].jars;
    for (std::size_t j = 0; j < problem_.jars.size(); ++j) {
      if (std::find(has.begin(), has.end(), j) == has.end()) {
        add(fmt::format("the jar \"{}\" for it too", problem_.jars[j].name)).jars.push_back(j);
      }
    }
    for (const std::size_t j : has) {
      const auto last = problem_.jars[j].last_good_day;
      if (!last || *last >= block_.meals.back()) continue;
      add(fmt::format("a fresh jar \"{}\"", problem_.jars[j].name));
      changes_.back().problem.jars[j].last_good_day.reset();
    }
  }
  void buy(std::span<const Bought> jars) {
    std::string words;
    for (const Bought& jar : jars) words += (words.empty() ? "" : " and ") + std::string(jar.words);
    add(std::move(words));
    RotaProblem& changed = changes_.back().problem;
    for (const Bought& jar : jars) {
      const Interval dust = problem_.jars.empty() ? dust_at_first_g_per_g(Coat::light)
                                                  : problem_.jars.front().dust_g_per_g;
      changed.animals[animal_].jars.push_back(changed.jars.size());
      changed.jars.push_back({jar.words, usual_supplement(jar.kind), dust, {}});
    }
  }
  void a_meal_more() {
    for (int day = block_.first_day; day < block_.first_day + block_.days; ++day) {
      if (std::find(block_.meals.begin(), block_.meals.end(), day) != block_.meals.end()) continue;
      RotaAnimal& animal =
          add(fmt::format("a meal more, on {}", to_text(problem_.first_day + day)));
      const auto at = std::lower_bound(animal.feeding_days.begin(), animal.feeding_days.end(), day);
      if (!animal.usual_jars.empty()) {
        animal.usual_jars.insert(animal.usual_jars.begin() + (at - animal.feeding_days.begin()),
                                 std::nullopt);
      }
      animal.feeding_days.insert(at, day);
      return;
    }
  }
  /// What other animals of its diet are fed already; never another kind's food.
  void foods_of_its_like() {
    const RotaAnimal& its = problem_.animals[animal_];
    for (const RotaAnimal& other : problem_.animals) {
      if (other.whole_prey != its.whole_prey ||
          other.circumstances.diet != its.circumstances.diet ||
          other.circumstances.amphibian != its.circumstances.amphibian) {
        continue;
      }
      for (const RotaOffer& offer : other.offers) {
        const auto has = [&](const RotaOffer& own) { return own.food == offer.food; };
        if (std::any_of(its.offers.begin(), its.offers.end(), has)) continue;
        add(fmt::format("{} as a food for it too", problem_.foods[offer.food].name))
            .offers.push_back(offer);
      }
    }
  }

  const RotaProblem& problem_;
  std::size_t animal_;
  const Block& block_;
  std::vector<Change> changes_;
};

void find_change(const RotaProblem& problem, std::size_t animal, const Block& block,
                 std::vector<RotaShortage>& shortages) {
  std::vector<std::string> tried;
  for (Change& change : Changes(problem, animal, block).list()) {
    if (check(change.problem).empty() && can_be_fed(change.problem, animal)) {
      for (RotaShortage& shortage : shortages) {
        shortage.smallest_change = change.words;
        shortage.changed = change.problem;
      }
      return;
    }
    tried.push_back(change.words);
  }
  for (RotaShortage& shortage : shortages) {
    shortage.smallest_change =
        fmt::format("none of these helps by itself: {}", fmt::join(tried, "; "));
  }
}

std::vector<RotaShortage> needs_short_of(const RotaProblem& problem, const Block& block) {
  std::vector<RotaShortage> out;
  const auto short_of = [&](std::string need, std::string unit, double shortfall) {
    out.push_back({block.animal,
                   block.first_day,
                   block.days,
                   std::move(need),
                   std::move(unit),
                   shortfall,
                   "",
                   {}});
  };
  int hungry = 0;
  for (const int day : block.meals) {
    bool any = false;
    for (std::size_t o = 0; o < block.offers.size(); ++o) any |= block.good(o, day);
    hungry += any ? 0 : 1;
  }
  if (hungry > 0) {
    short_of("food that is still good", "meals", hungry);
    return out;
  }
  JointProgram joint(problem, {block});
  for (auto& column : joint.program.columns) column.cost = 0;
  std::vector<int> lack;
  for (std::size_t k = 0; k < block.rows.size(); ++k) {
    lack.push_back(joint.program.add(LinearProgram::Column{"lack", 1}));
    joint.program.rows[static_cast<std::size_t>(joint.need_row(0, k))].entries.push_back(
        {lack.back(), 1});
  }
  const LinearAnswer answer = solve_by_cbc(joint.program, {kNodes});
  for (std::size_t k = 0; k < block.rows.size() && answer.feasible; ++k) {
    const double lacking = answer.x[static_cast<std::size_t>(lack[k])];
    if (lacking <= kNothing) continue;
    const NeedRow& row = block.rows[k];
    short_of(fmt::format("{}{}", word(row.nutrient), row.limit ? ", no more than the limit" : ""),
             std::string(unit_of(row.nutrient)), lacking * row.unit);
  }
  if (out.empty()) short_of("all needs at once", "", 0);
  return out;
}

}  // namespace

bool can_be_fed(const RotaProblem& problem, std::size_t animal) {
  RotaProblem alone = problem;
  alone.animals = {problem.animals[animal]};
  for (const Block& block : settled_blocks(alone).blocks) {
    if (!BlockSolver(block, alone.prices).feasible(block.slot_price)) return false;
  }
  return true;
}

std::vector<RotaShortage> shortages_of(const RotaProblem& problem, std::size_t animal,
                                       const std::vector<const Block*>& failing) {
  std::vector<RotaShortage> out;
  for (const Block* block : failing) {
    auto shortages = needs_short_of(problem, *block);
    std::move(shortages.begin(), shortages.end(), std::back_inserter(out));
  }
  find_change(problem, animal, *failing.back(), out);
  return out;
}

std::vector<RotaShortage> stock_shortages(const RotaProblem& problem,
                                          const std::vector<Block>& blocks) {
  JointProgram joint(problem, blocks);
  for (auto& column : joint.program.columns) column.cost = 0;
  std::vector<int> lack(problem.foods.size(), -1);
  for (std::size_t f = 0; f < lack.size(); ++f) {
    if (joint.stock_row(f) < 0) continue;
    lack[f] = joint.program.add(LinearProgram::Column{"lack", 1});
    joint.program.rows[static_cast<std::size_t>(joint.stock_row(f))].entries.push_back(
        {lack[f], -1});
  }
  const LinearAnswer answer = solve_by_cbc(joint.program, {kNodes});
  std::vector<RotaShortage> out;
  RotaProblem changed = problem;
  std::vector<std::string> words;
  for (std::size_t f = 0; f < lack.size(); ++f) {
    if (lack[f] < 0 || !answer.feasible) continue;
    const double lacking = std::ceil(answer.x[static_cast<std::size_t>(lack[f])] - kNothing);
    if (lacking <= 0) continue;
    const RotaFood& food = problem.foods[f];
    out.push_back({{}, 0, problem.days, "food " + food.name, "pieces", lacking, "", {}});
    *changed.foods[f].stock += static_cast<int>(lacking);
    words.push_back(fmt::format("{:.0f} more {}", lacking, food.name));
  }
  for (RotaShortage& shortage : out) {
    shortage.smallest_change = fmt::format("{}", fmt::join(words, " and "));
    shortage.changed = changed;
  }
  if (out.empty()) {
    out.push_back({{},
                   0,
                   problem.days,
                   "food in stock",
                   "",
                   0,
                   "not known: no rota was found, nor proven that there is none",
                   {}});
  }
  return out;
}

}  // namespace warmside::diet
