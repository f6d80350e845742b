#include "hygiene/sequence.h"

#include <algorithm>
#include <limits>
#include <numeric>

#include "core/check.h"
#include "hygiene/sequence_internal.h"

namespace warmside::hygiene {

Staged::Staged(const SequenceProblem& problem) : nodes_(problem.stops() + 1) {
  const std::size_t n = problem.stops();
  WS_CHECK(n <= kMostStops);
  WS_CHECK(problem.first.size() == n && problem.change.size() == n * n);
  for (const int price : problem.first) WS_CHECK(price >= 0 && price <= kMostPrice);
  for (const int price : problem.change) WS_CHECK(price >= 0 && price <= kMostPrice);
  const auto at = [](int stop) { return static_cast<std::size_t>(stop); };
  stop_.resize(n);
  std::iota(stop_.begin(), stop_.end(), 0);
  std::stable_sort(stop_.begin(), stop_.end(),
                   [&](int a, int b) { return problem.stage[at(a)] < problem.stage[at(b)]; });
  stage_.resize(nodes_);
  for (std::size_t i = 0; i < n; ++i) {
    if (i == 0 || problem.stage[at(stop_[i])] != problem.stage[at(stop_[i - 1])]) {
      begins_.push_back(i + 1);
    }
    stage_[i + 1] = begins_.size() - 1;
  }
  begins_.push_back(nodes_);
  change_.assign(nodes_ * nodes_, 0);
  for (std::size_t j = 1; j < nodes_; ++j) {
    change_[j] = problem.first[at(stop_[j - 1])];
    for (std::size_t i = 1; i < nodes_; ++i) {
      change_[i * nodes_ + j] = problem.change[at(stop_[i - 1]) * n + at(stop_[j - 1])];
    }
  }
}

Cost Staged::cost_of(const std::vector<std::size_t>& path) const {
  Cost sum = 0;
  for (std::size_t i = 1; i < path.size(); ++i) sum += change(path[i - 1], path[i]);
  return sum;
}

Sequence Staged::answer(const std::vector<std::size_t>& path, Cost bound) const {
  Sequence sequence;
  for (std::size_t i = 1; i < path.size(); ++i) sequence.order.push_back(stop_[path[i] - 1]);
  sequence.cost = cost_of(path);
  sequence.bound = bound;
  return sequence;
}

namespace {

/// Dynamic programming over the stops of one stage that were visited (Bellman 1962, Held and Karp
/// 1962). cost_[set * m + j]: the least price of what is still to come, from the j-th stop of a
/// stage of m on, when those of `set`, j among them, were visited.
class ExactStage {
 public:
  /// after[j]: the least price of all later stages from the j-th stop of this one on.
  ExactStage(const Staged& staged, std::size_t stage, const std::vector<Cost>& after)
      : staged_(staged), begin_(staged.begin(stage)), m_(staged.stage_size(stage)) {
    cost_.resize((std::size_t{1} << m_) * m_);
    for (std::size_t set = all(); set > 0; --set) {
      for (std::size_t j = 0; j < m_; ++j) {
        if ((set >> j & 1U) == 0) continue;
        cost_[set * m_ + j] = set == all() ? after[j] : cheapest(begin_ + j, set).first;
      }
    }
  }

  /// The least price from a node of another stage on, and the node of this stage that comes next;
  /// of several the first.
  std::pair<Cost, std::size_t> cheapest_from(std::size_t node) const {
    const auto [cost, j] = cheapest(node, 0);
    return {cost, begin_ + j};
  }

  /// Adds the nodes of this stage to a path; of several best ways the first.
  void follow(std::vector<std::size_t>& path) const {
    for (std::size_t set = 0; set != all();) {
      const std::size_t j = cheapest(path.back(), set).second;
      set |= std::size_t{1} << j;
      path.push_back(begin_ + j);
    }
  }

 private:
  std::size_t all() const { return (std::size_t{1} << m_) - 1; }
  /// The least price from a node on and the next to visit, when those of `set` were.
  std::pair<Cost, std::size_t> cheapest(std::size_t node, std::size_t set) const {
    std::pair<Cost, std::size_t> best{std::numeric_limits<Cost>::max(), 0};
    for (std::size_t k = 0; k < m_; ++k) {
      if ((set >> k & 1U) != 0) continue;
      const Cost cost =
          staged_.change(node, begin_ + k) + cost_[(set | std::size_t{1} << k) * m_ + k];
      if (cost < best.first) best = {cost, k};
    }
    return best;
  }

  const Staged& staged_;
  std::size_t begin_, m_;
  std::vector<Cost> cost_;
};

Sequence solved_exactly(const Staged& staged) {
  std::vector<ExactStage> stages;  // the last one first
  for (std::size_t s = staged.stages(); s-- > 0;) {
    std::vector<Cost> after(staged.stage_size(s), 0);
    for (std::size_t j = 0; j < after.size() && !stages.empty(); ++j) {
      after[j] = stages.back().cheapest_from(staged.begin(s) + j).first;
    }
    stages.emplace_back(staged, s, after);
  }
  std::vector<std::size_t> path{0};
  for (std::size_t s = stages.size(); s-- > 0;) stages[s].follow(path);
  return staged.answer(path, staged.cost_of(path));
}

Sequence searched(const Staged& staged, const SequenceLimits& limits) {
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
  // By turns, since the bound climbs better below a good path, and a good bound ends the search.
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
  return staged.answer(best, bound.best());
}

}  // namespace

std::int64_t cost_of(const SequenceProblem& problem, std::span<const int> order) {
  std::int64_t cost = 0;
  for (std::size_t i = 0; i < order.size(); ++i) {
    const auto here = static_cast<std::size_t>(order[i]);
    cost += i == 0
                ? problem.first[here]
                : problem.change[static_cast<std::size_t>(order[i - 1]) * problem.stops() + here];
  }
  return cost;
}

Sequence best_sequence(const SequenceProblem& problem, const SequenceLimits& limits) {
  constexpr int kMostExact = 16;
  WS_CHECK(limits.exact_stage >= 0 && limits.exact_stage <= kMostExact);
  if (problem.stops() == 0) return {};
  const Staged staged(problem);
  std::size_t largest = 0;
  for (std::size_t s = 0; s < staged.stages(); ++s) {
    largest = std::max(largest, staged.stage_size(s));
  }
  if (largest <= static_cast<std::size_t>(limits.exact_stage)) return solved_exactly(staged);
  return searched(staged, limits);
}

}  // namespace warmside::hygiene
