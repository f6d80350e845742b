#include "hygiene/sequence.h"

#include <algorithm>
#include <limits>
#include <numeric>
#include <set>

#include "core/check.h"
#include "hygiene/sequence_internal.h"

namespace warmside::hygiene {
namespace {

std::size_t at(int stop) {
  return static_cast<std::size_t>(stop);
}

/// A problem and the stop of each of its nodes but the start.
struct Numbered {
  std::vector<int> stops;
  Staged staged;

  Sequence answer(const std::vector<std::size_t>& path, Cost bound) const {
    Sequence sequence;
    for (std::size_t i = 1; i < path.size(); ++i) sequence.order.push_back(stops[path[i] - 1]);
    sequence.cost = staged.cost_of(path);
    sequence.bound = bound;
    return sequence;
  }
};

/// Stages are told by key(stop); inside them stops keep their order.
template <class Key>
Numbered numbered(const SequenceProblem& problem, Key key) {
  const std::size_t n = problem.stops(), nodes = n + 1;
  Numbered made;
  made.stops.resize(n);
  std::iota(made.stops.begin(), made.stops.end(), 0);
  std::stable_sort(made.stops.begin(), made.stops.end(),
                   [&](int a, int b) { return key(a) < key(b); });
  Staged& staged = made.staged;
  staged.stage.push_back(0);
  for (std::size_t i = 0; i < n; ++i) {
    if (i == 0 || key(made.stops[i - 1]) < key(made.stops[i])) staged.begins.push_back(i + 1);
    staged.stage.push_back(staged.begins.size() - 1);
  }
  staged.begins.push_back(nodes);
  staged.last.assign(nodes, 0);
  staged.change_prices.assign(nodes * nodes, 0);
  for (std::size_t j = 1; j < nodes; ++j) {
    staged.change_prices[j] = problem.first[at(made.stops[j - 1])];
    for (std::size_t i = 1; i < nodes; ++i) {
      staged.change_prices[i * nodes + j] =
          problem.change[at(made.stops[i - 1]) * n + at(made.stops[j - 1])];
    }
  }
  return made;
}

/// A path and a bound, found by turns, since the bound climbs better below a good path, and a good
/// bound ends the search.
std::pair<std::vector<std::size_t>, Cost> searched(const Staged& staged,
                                                   const SequenceLimits& limits) {
  constexpr int kKicksOfARound = 200, kAscentsOfARound = 80;
  std::minstd_rand random;  // its default seed: always the same walk
  Search search(staged);
  std::vector<std::size_t> best = search.path();
  Cost cost = search.cost();
  Bound bound(staged);
  const auto keep_better = [&] {
    const Cost found = search.cost();
    if (found <= cost) {
      cost = found;
      best = search.path();
    } else {
      search.set_path(best);
    }
  };
  const auto near_enough = [&] {
    return static_cast<double>(cost) <= (1 + limits.enough) * static_cast<double>(bound.best());
  };
  search.start_greedily();
  search.improve_thoroughly();
  keep_better();
  for (int round = 0; round < limits.rounds && !near_enough(); ++round) {
    for (int kick = 0; kick < kKicksOfARound; ++kick) {
      search.kick(random);
      search.improve();
      keep_better();
    }
    search.improve_thoroughly();
    keep_better();
    bound.ascend(cost, kAscentsOfARound);
  }
  return {best, bound.best()};
}

/// Small stages exactly, the others by search.
Sequence solved(const Numbered& problem, const SequenceLimits& limits) {
  constexpr int kSmallBesideLarge = 10;  // many times solved, for each way to go on
  const Staged& staged = problem.staged;
  const auto small = at(limits.exact_stage);
  bool all_small = true;
  for (std::size_t s = 0; s < staged.stages(); ++s) {
    all_small = all_small && staged.stage_size(s) <= small;
  }
  const Condensed condensed(staged, all_small ? small : std::min(small, at(kSmallBesideLarge)));
  if (all_small) {
    const auto path = condensed.whole_path({0});
    return problem.answer(path, staged.cost_of(path));
  }
  const auto [path, bound] = searched(condensed.large(), limits);
  return problem.answer(condensed.whole_path(path), bound);
}

/// The least and the greatest of some prices.
struct Spread {
  Cost least = std::numeric_limits<Cost>::max(), most = 0;
  void add(Cost price) {
    least = std::min(least, price);
    most = std::max(most, price);
  }
  Cost width() const { return std::max<Cost>(0, most - least); }
};

/// Whether some best order of a stage never goes back in rank, however the stages beside it are
/// ordered. An order with b >= 1 steps back visits its r ranks r + e times. Put together rank by
/// rank, those visits need r - 1 steps forward and e inside a rank in place of r - 1 + e - b
/// forward and b back, and perhaps another way in and out. That is never dearer if
///     most inside <= least forward   and
///     (r - 1) (most forward - least forward) + widths of in and out <= least back - least forward.
bool keeps_ranks(const SequenceProblem& problem, const Numbered& whole, std::size_t stage) {
  const Staged& staged = whole.staged;
  const std::size_t begin = staged.begins[stage], end = staged.begins[stage + 1];
  const auto rank = [&](std::size_t node) { return problem.rank[at(whole.stops[node - 1])]; };
  Spread inside, forward, back, in, out;
  std::set<int> ranks;
  for (std::size_t i = begin; i < end; ++i) {
    ranks.insert(rank(i));
    for (std::size_t j = begin; j < end; ++j) {
      if (i == j) continue;
      (rank(i) == rank(j) ? inside : rank(i) < rank(j) ? forward : back).add(staged.change(i, j));
    }
    const std::size_t before = stage == 0 ? 0 : staged.begins[stage - 1];
    for (std::size_t j = before; j < begin; ++j) in.add(staged.change(j, i));
    const std::size_t after = stage + 1 == staged.stages() ? end : staged.begins[stage + 2];
    for (std::size_t j = end; j < after; ++j) out.add(staged.change(i, j));
  }
  if (ranks.size() == 1) return true;
  const Cost rearranged =
      static_cast<Cost>(ranks.size() - 1) * forward.width() + in.width() + out.width();
  return inside.most <= forward.least && rearranged <= back.least - forward.least;
}

void check(const SequenceProblem& problem, const SequenceLimits& limits) {
  constexpr int kMostExact = 16;
  const std::size_t n = problem.stops();
  WS_CHECK(limits.exact_stage >= 0 && limits.exact_stage <= kMostExact);
  WS_CHECK(n <= kMostStops && problem.first.size() == n && problem.change.size() == n * n);
  WS_CHECK(problem.rank.empty() || problem.rank.size() == n);
  const auto sound = [](int price) { return price >= 0 && price <= kMostPrice; };
  WS_CHECK(std::all_of(problem.first.begin(), problem.first.end(), sound));
  WS_CHECK(std::all_of(problem.change.begin(), problem.change.end(), sound));
}

}  // namespace

std::int64_t cost_of(const SequenceProblem& problem, std::span<const int> order) {
  std::int64_t cost = 0;
  for (std::size_t i = 0; i < order.size(); ++i) {
    cost += i == 0 ? problem.first[at(order[i])]
                   : problem.change[at(order[i - 1]) * problem.stops() + at(order[i])];
  }
  return cost;
}

Sequence best_sequence(const SequenceProblem& problem, const SequenceLimits& limits) {
  check(problem, limits);
  if (problem.stops() == 0) return {};
  const auto by_stage = [&](int stop) { return problem.stage[at(stop)]; };
  const Numbered whole = numbered(problem, by_stage);
  std::size_t largest = 0;
  for (std::size_t s = 0; s < whole.staged.stages(); ++s) {
    largest = std::max(largest, whole.staged.stage_size(s));
  }
  if (problem.rank.empty() || largest <= at(limits.exact_stage)) return solved(whole, limits);

  for (std::size_t s = 0; s < whole.staged.stages(); ++s) {
    if (!keeps_ranks(problem, whole, s)) return solved(whole, limits);
  }
  const Numbered ranked = numbered(problem, [&](int stop) {
    return std::pair(problem.stage[at(stop)], problem.rank[at(stop)]);
  });
  return solved(ranked, limits);
}

}  // namespace warmside::hygiene
