// What must hold of the order of any stops in stages, also where it is searched for.

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <numeric>

#include "hygiene/sequence.h"
#include "support/sequence_problems.h"

namespace warmside::hygiene {
namespace {

SequenceProblem draw_problem(int most_stops) {
  std::mt19937 random(*rc::gen::arbitrary<unsigned>());
  const int stops = *rc::gen::inRange(0, most_stops + 1), stages = *rc::gen::inRange(1, 6);
  if (*rc::gen::arbitrary<bool>()) {
    return test::any_sequence_problem(random, stops, stages, *rc::gen::element(0, 2, 100'000));
  }
  return test::room_like_problem(random, stops, stages, 40);
}

RC_GTEST_PROP(SequenceProperty, EveryStopOnceInStagesAndNotBelowTheBound, ()) {
  const SequenceProblem problem = draw_problem(40);
  SequenceLimits limits;
  limits.exact_stage = *rc::gen::element(0, 5, 13);
  limits.rounds = *rc::gen::inRange(0, 4);
  const Sequence found = best_sequence(problem, limits);
  std::vector<int> all(problem.stops());
  std::iota(all.begin(), all.end(), 0);
  std::vector<int> sorted = found.order;
  std::sort(sorted.begin(), sorted.end());
  RC_ASSERT(sorted == all);
  RC_ASSERT(std::is_sorted(found.order.begin(), found.order.end(), [&](int a, int b) {
    return problem.stage[static_cast<std::size_t>(a)] < problem.stage[static_cast<std::size_t>(b)];
  }));
  RC_ASSERT(found.cost == cost_of(problem, found.order));
  RC_ASSERT(found.bound >= 0 && found.bound <= found.cost);
  RC_ASSERT(best_sequence(problem, limits).order == found.order);
}

RC_GTEST_PROP(SequenceProperty, TheBoundIsBelowTheExactCost, ()) {
  const SequenceProblem problem = draw_problem(13);
  const Sequence exact = best_sequence(problem);
  RC_ASSERT(exact.proven());
  SequenceLimits limits;
  limits.exact_stage = 0;
  const Sequence searched = best_sequence(problem, limits);
  RC_ASSERT(searched.bound <= exact.cost);
  RC_ASSERT(searched.cost >= exact.cost);
}

RC_GTEST_PROP(SequenceProperty, APriceMoreOnEveryStepChangesNoOrder, ()) {
  SequenceProblem problem = draw_problem(10);
  const Sequence found = best_sequence(problem);
  for (int& price : problem.change) price += 7;
  for (int& price : problem.first) price += 7;
  const Sequence dearer = best_sequence(problem);
  RC_ASSERT(dearer.order == found.order);
  RC_ASSERT(dearer.cost == found.cost + 7 * std::ssize(found.order));
}

}  // namespace
}  // namespace warmside::hygiene
