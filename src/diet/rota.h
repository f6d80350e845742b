#pragma once
// Which food, how many pieces and which jar on which feeding day, for all animals together over the
// next 28 days: the cheapest plan that keeps every need and limit which can be judged, opens few
// jars and stays near the keeper's habits; or, where there is none, what is short and the smallest
// change that helps. Whoever holds a room or a file fills a RotaProblem (diet/rota_file.h).
//
// A meal is one food, a number of pieces and at most one jar. A mixed salad is a food of its own:
// its piece holds the sum of its parts. Needs are kept over windows: each week where the animal
// eats three times in every week, else all the days. A plan is made with best estimates
// (best_estimate) and judged afterwards by intervals. What is not known is never taken as zero:
// such a need is left out of the programme and named in RotaAnswer::unknown.
//
// It plans meals; it gives no doses of medicine and says nothing of health. The equations, prices
// and their reasons stand in docs/models/diet.md.
// Checked by: tests/reference/rota_test.cpp (GLPK, sums), tests/property/rota_property_test.cpp.

#include <optional>
#include <string>
#include <vector>

#include "core/time.h"
#include "diet/metabolic_rate.h"
#include "diet/targets.h"

namespace warmside::diet {

struct RotaFood {
  std::string name;
  Nutrients per_piece;  // as it is eaten: gut-load within, powder not
  Mass piece;
  std::optional<int> stock;          // pieces that there are; none: as many as are wanted
  std::optional<int> last_good_day;  // day of the rota, from 0; negative: already past
};

struct RotaJar {
  std::string name;
  Supplement supplement;             // by its label, else usual_supplement()
  Interval dust_g_per_g;             // still on when it is eaten; dust_left_g_per_g()
  std::optional<int> last_good_day;  // as of a food
};

/// A food that an animal may be given. Pieces are those of one meal: 1 <= least <= usual <= most.
struct RotaOffer {
  std::size_t food = 0;  // of RotaProblem::foods
  int least = 1, usual = 1, most = 1;
  double price = 0;    // of a meal of it, 0 for the keeper's usual food; see RotaPrices
  bool powder = true;  // whether a jar may go on it
};

struct RotaAnimal {
  std::string name;
  std::vector<int> feeding_days;  // from 0, in order
  std::vector<RotaOffer> offers;  // at least one when there are feeding days; a food once
  std::vector<std::size_t> jars;  // that it may get, of RotaProblem::jars; a jar once
  /// What the keeper does now: the jar of each feeding day (none: no powder). Empty: no habit.
  std::vector<std::optional<std::size_t>> usual_jars;
  double habit = 1;  // times RotaPrices::unusual_jar in place of a usual jar (not of no powder)
  std::optional<EnergyBand> energy_per_day;  // none: food is not held to a need
  Circumstances circumstances;
  /// It eats vertebrates whole. Then there are no limits by dry matter, and needs are asked of the
  /// food only where jars are given: prey brings its own minerals.
  bool whole_prey = false;
  std::optional<Mass> body;         // of an amphibian, for amphibian_retinol(); else not used
  std::vector<Nutrient> not_asked;  // needs that are left out; limits stay
};

/// What the programme weighs against each other, in jars opened. Ours, common practice, no source.
struct RotaPrices {
  double opened_jar = 1;      // a jar on a day, however many animals share it
  double dusted_meal = 0.05;  // each meal with powder
  double unusual_jar = 0.1;   // a meal whose jar is not usual_jars'
  double pieces_off = 0.5;    // times |pieces - usual| / usual, each meal
  double energy_off = 10;     // times what lies outside the band / the middle, each window
};

struct RotaProblem {
  Date first_day;
  int days = 28;  // 7, 14, 21 or 28
  std::vector<RotaFood> foods;
  std::vector<RotaJar> jars;
  std::vector<RotaAnimal> animals;
  RotaPrices prices;
};

/// Every mistake of a problem that does not hold what the fields above say; empty when it is right.
Problems check(const RotaProblem& problem);

/// The middle that the programme reckons with: sqrt(low high), or half of high where low is 0 and
/// high is known; nothing when it is not.
std::optional<double> best_estimate(Interval amount);

struct RotaMeal {
  int day = 0;
  std::size_t animal = 0, food = 0;
  int pieces = 0;
  std::optional<std::size_t> jar;
  bool operator==(const RotaMeal&) const = default;
};

/// What an animal gets in one window, by intervals.
struct RotaTotal {
  std::size_t animal = 0;
  int first_day = 0, days = 0, meals = 0;
  Nutrients eaten;
  std::vector<Judgement> judged;          // amphibians' vitamin A as IU in the window
  std::optional<EnergyBand> energy_need;  // of the window
};

/// A need or limit that the programme does not hold, since an amount is not known.
struct RotaUnknown {
  std::size_t animal = 0;
  Nutrient nutrient = Nutrient::calcium;
  bool limit = false;   // the limit; else the need
  std::string because;  // "food cricket" or "jar multi": whose amount nobody measured or read
  bool operator==(const RotaUnknown&) const = default;
};

struct RotaPlan {
  std::vector<RotaMeal> meals;  // by day, then animal
  std::vector<RotaTotal> totals;
  double cost = 0;
  double bound = 0;  // no plan costs less; proven
};

/// Why there is no plan. One for each animal and window in which a need cannot be kept, and one for
/// each food of which there is too little.
struct RotaShortage {
  std::optional<std::size_t> animal;  // none: all that eat the food
  int first_day = 0, days = 0;
  std::string need;  // "calcium", "vitamin D3, no more than", "food cricket"
  std::string unit;
  double shortfall = 0;  // in that unit: what the best possible plan still lacks or has too much
  /// The first of the changes below that makes it right; the words when none of them does.
  std::string smallest_change;
  /// The problem with the smallest change made, which has a plan as far as this shortage goes.
  std::optional<RotaProblem> changed;
};

struct RotaAnswer {
  std::optional<RotaPlan> plan;
  std::vector<RotaShortage> shortages;  // empty when there is a plan
  std::vector<RotaUnknown> unknown;
  /// Jars that no animal gets, since they hold an unknown amount of something that has a limit.
  std::vector<std::size_t> set_aside;
};

/// How hard to try. Counts, not seconds, so that the same problem has the same answer.
struct RotaEffort {
  int rounds = 150;            // of prices for jars, for the bound
  int exact_up_to_meals = 60;  // a smaller rota is solved to the proven optimum
  int nodes = 20000;           // of CBC for that
};

/// The needs and limits that the programme of this problem does not hold; RotaAnswer::unknown.
std::vector<RotaUnknown> unknown_of(const RotaProblem& problem);

/// What each animal lacks by itself, whatever jars cost and foods there are in store; empty where
/// all can be fed. Much quicker than solve_rota(), which begins with it.
std::vector<RotaShortage> shortages_of(const RotaProblem& problem);

/// The problem must be right by check(). Same problem and effort, same answer.
RotaAnswer solve_rota(const RotaProblem& problem, const RotaEffort& effort = {});

}  // namespace warmside::diet
