#include <algorithm>
#include <limits>

#include "hygiene/sequence_internal.h"

namespace warmside::hygiene {

Cost Staged::cost_of(const std::vector<std::size_t>& path) const {
  Cost sum = last[path.back()];
  for (std::size_t i = 1; i < path.size(); ++i) sum += change(path[i - 1], path[i]);
  return sum;
}

ExactStage::ExactStage(const Staged& staged, std::size_t stage, const std::vector<Cost>& after)
    : staged_(staged), begin_(staged.begins[stage]), m_(staged.stage_size(stage)) {
  cost_.resize((std::size_t{1} << m_) * m_);
  for (std::size_t visited = all(); visited > 0; --visited) {
    for (std::size_t j = 0; j < m_; ++j) {
      if ((visited >> j & 1U) == 0) continue;
      cost_[visited * m_ + j] = visited == all() ? after[j] : cheapest(begin_ + j, visited).first;
    }
  }
}

std::pair<Cost, std::size_t> ExactStage::cheapest(std::size_t node, std::size_t visited) const {
  std::pair<Cost, std::size_t> best{std::numeric_limits<Cost>::max(), 0};
  for (std::size_t k = 0; k < m_; ++k) {
    if ((visited >> k & 1U) != 0) continue;
    const Cost cost =
        staged_.change(node, begin_ + k) + cost_[(visited | std::size_t{1} << k) * m_ + k];
    if (cost < best.first) best = {cost, k};
  }
  return best;
}

std::pair<Cost, std::size_t> ExactStage::cheapest_from(std::size_t node) const {
  const auto [cost, j] = cheapest(node, 0);
  return {cost, begin_ + j};
}

void ExactStage::follow(std::vector<std::size_t>& path) const {
  for (std::size_t visited = 0; visited != all();) {
    const std::size_t j = cheapest(path.back(), visited).second;
    visited |= std::size_t{1} << j;
    path.push_back(begin_ + j);
  }
}

/// The small stages from..to - 1, the last one first, when `next` comes after them; 0: nothing.
std::vector<ExactStage> Condensed::run_of(std::size_t from, std::size_t to,
                                          std::size_t next) const {
  std::vector<ExactStage> run;
  for (std::size_t s = to; s-- > from;) {
    std::vector<Cost> after;
    for (std::size_t node = whole_.begins[s]; node < whole_.begins[s + 1]; ++node) {
      after.push_back(price_between(run, node, next));
    }
    run.emplace_back(whole_, s, after);
  }
  return run;
}

Cost Condensed::price_between(const std::vector<ExactStage>& run, std::size_t from,
                              std::size_t next) const {
  if (!run.empty()) return run.back().cheapest_from(from).first;
  return next == 0 ? whole_.last[from] : whole_.change(from, next);
}

Condensed::Condensed(const Staged& whole, std::size_t small) : whole_(whole), node_{0} {
  large_.stage.push_back(0);
  for (std::size_t s = 0; s < whole.stages(); ++s) {
    if (whole.stage_size(s) <= small) continue;
    large_.begins.push_back(node_.size());
    for (std::size_t node = whole.begins[s]; node < whole.begins[s + 1]; ++node) {
      node_.push_back(node);
      large_.stage.push_back(large_stages_.size());
    }
    large_stages_.push_back(s);
  }
  large_.begins.push_back(node_.size());
  const std::size_t n = node_.size();
  large_.change_prices.assign(n * n, 0);
  large_.last.assign(n, 0);
  for (std::size_t s = 0; s < large_stages_.size(); ++s) {
    for (std::size_t i = large_.begins[s]; i < large_.begins[s + 1]; ++i) {
      for (std::size_t j = large_.begins[s]; j < large_.begins[s + 1]; ++j) {
        large_.change_prices[i * n + j] = whole.change(node_[i], node_[j]);
      }
    }
  }
  if (large_stages_.empty()) return;
  // Between the start, the large stages and the end; the start is the node before the first.
  for (std::size_t s = 0; s <= large_stages_.size(); ++s) {
    const bool first = s == 0, at_end = s == large_stages_.size();
    const std::size_t from = first ? 0 : large_stages_[s - 1] + 1;
    const std::size_t to = at_end ? whole.stages() : large_stages_[s];
    const std::size_t begin = first ? 0 : large_.begins[s - 1], end = large_.begins[s];
    const auto fill = [&](std::size_t next, auto price_of) {
      const auto run = run_of(from, to, next);
      for (std::size_t i = begin; i < (first ? 1 : end); ++i) {
        price_of(i) = price_between(run, node_[i], next);
      }
    };
    if (at_end) {
      fill(0, [&](std::size_t i) -> Cost& { return large_.last[i]; });
      continue;
    }
    for (std::size_t j = large_.begins[s]; j < large_.begins[s + 1]; ++j) {
      fill(node_[j], [&](std::size_t i) -> Cost& { return large_.change_prices[i * n + j]; });
    }
  }
}

std::vector<std::size_t> Condensed::whole_path(const std::vector<std::size_t>& path) const {
  std::vector<std::size_t> whole{0};
  for (std::size_t s = 0; s <= large_stages_.size(); ++s) {
    const bool at_end = s == large_stages_.size();
    const std::size_t from = s == 0 ? 0 : large_stages_[s - 1] + 1;
    const std::size_t next = at_end ? 0 : node_[path[large_.begins[s]]];
    const auto run = run_of(from, at_end ? whole_.stages() : large_stages_[s], next);
    for (std::size_t i = run.size(); i-- > 0;) run[i].follow(whole);
    if (at_end) continue;
    for (std::size_t i = large_.begins[s]; i < large_.begins[s + 1]; ++i) {
      whole.push_back(node_[path[i]]);
    }
  }
  return whole;
}

}  // namespace warmside::hygiene
