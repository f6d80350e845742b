// What must hold of any rota: more never costs more, stricter never costs less.

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "diet/rota.h"
#include "support/rota_rooms.h"
#include "support/rota_sums.h"

namespace warmside::diet {
namespace {

/// All amounts are known: an unknown one can make a need that cannot be kept unknown, which lets a
/// stricter rota cost less.
RotaProblem any_room() {
  RotaProblem problem = invented::Rooms(*rc::gen::inRange(0U, 100000U)).small_room();
  for (RotaFood& food : problem.foods) {
    for (const auto part :
         {&Nutrients::oxalic_acid_mg, &Nutrients::vitamin_d3_iu, &Nutrients::prey_retinol_iu,
          &Nutrients::retinol_iu, &Nutrients::carotenoid_iu, &Nutrients::vitamin_e_iu}) {
      if (!(food.per_piece.*part).known()) food.per_piece.*part = Interval::exactly(0);
    }
    // So that vitamins E and A do not rule out most rooms.
    food.per_piece.vitamin_e_iu = food.per_piece.dry_matter_g * 0.25;
    food.per_piece.retinol_iu = food.per_piece.dry_matter_g * 4;
  }
  return problem;
}

/// No rota costs more than any.
double cost_of(const RotaProblem& problem) {
  const RotaAnswer answer = solve_rota(problem);
  if (!answer.plan) return std::numeric_limits<double>::infinity();
  RC_ASSERT(answer.plan->cost - answer.plan->bound < 1e-5);
  return sums::verified_cost(problem, answer);
}

RC_GTEST_PROP(Rota, more_stock_never_costs_more, ()) {
  RotaProblem problem = any_room();
  const int stock = *rc::gen::inRange(5, 40);
  problem.foods[0].stock = stock;
  const double before = cost_of(problem);
  problem.foods[0].stock = stock + *rc::gen::inRange(1, 20);
  RC_ASSERT(cost_of(problem) <= before + 1e-5);
}

RC_GTEST_PROP(Rota, a_longer_shelf_life_never_costs_more, ()) {
  RotaProblem problem = any_room();
  const int last = *rc::gen::inRange(0, 5);
  problem.foods[0].last_good_day = last;
  const double before = cost_of(problem);
  problem.foods[0].last_good_day = last + 1;
  RC_ASSERT(cost_of(problem) <= before + 1e-5);
}

RC_GTEST_PROP(Rota, fewer_pieces_allowed_never_cost_less, ()) {
  RotaProblem problem = any_room();
  const double before = cost_of(problem);
  for (RotaAnimal& animal : problem.animals) {
    for (RotaOffer& offer : animal.offers) offer.most = offer.usual;
  }
  RC_ASSERT(cost_of(problem) >= before - 1e-5);
}

RC_GTEST_PROP(Rota, asking_for_vitamin_d3_never_costs_less, ()) {
  RotaProblem problem = any_room();
  for (RotaAnimal& animal : problem.animals) animal.circumstances.uvb_in_zone = true;
  const double before = cost_of(problem);
  for (RotaAnimal& animal : problem.animals) animal.circumstances.uvb_in_zone = false;
  RC_ASSERT(cost_of(problem) >= before - 1e-5);
}

RC_GTEST_PROP(Rota, dearer_jars_never_cost_less, ()) {
  RotaProblem problem = any_room();
  const double before = cost_of(problem);
  problem.prices.opened_jar *= 1.5;
  RC_ASSERT(cost_of(problem) >= before - 1e-5);
}

}  // namespace
}  // namespace warmside::diet
