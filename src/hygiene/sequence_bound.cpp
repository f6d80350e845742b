#include <algorithm>
#include <cmath>

#include "hygiene/sequence_internal.h"

namespace warmside::hygiene {
namespace {

constexpr Cost kFine = 1024;  // prices on stops are multiples of 1 / kFine

}  // namespace

Bound::Bound(const Staged& staged)
    : nodes_(staged.nodes() + 1),
      arborescence_(static_cast<int>(nodes_)),
      arcs_(nodes_ * nodes_, Arborescence::kNoArc),
      weight_(nodes_ * nodes_),
      price_(nodes_, 0),
      direction_(nodes_, 0) {
  const auto arcs = [&](std::size_t from, std::size_t begin, std::size_t end) {
    for (std::size_t to = begin; to < end; ++to) {
      if (from != to) arcs_[from * nodes_ + to] = staged.change(from, to) * kFine;
    }
  };
  arcs(0, staged.begins[0], staged.begins[1]);
  for (std::size_t node = 1; node + 1 < nodes_; ++node) {
    const std::size_t stage = staged.stage[node];
    const bool last = stage + 1 == staged.stages();
    arcs(node, staged.begins[stage], staged.begins[stage + (last ? 1 : 2)]);
    if (last) arcs_[node * nodes_ + nodes_ - 1] = staged.last[node] * kFine;
  }
}

void Bound::ascend(Cost cost, int steps) {
  constexpr int kPatience = 15;  // steps without a better bound before they grow shorter
  constexpr double kShortest = 1e-4, kMomentum = 0.6;
  std::vector<int> left(nodes_);
  for (int step = 0; step < steps && best_ < cost && length_ > kShortest; ++step) {
    for (std::size_t u = 0; u < nodes_; ++u) {
      for (std::size_t v = 0; v < nodes_; ++v) {
        const Cost own = arcs_[u * nodes_ + v];
        weight_[u * nodes_ + v] = own == Arborescence::kNoArc ? own : own + price_[u];
      }
    }
    Cost value = arborescence_.solve(weight_);
    for (std::size_t u = 0; u + 1 < nodes_; ++u) value -= price_[u];
    if (value > best_fine_) {
      best_fine_ = value;
      best_ = (value + kFine - 1) / kFine;  // every path costs a whole number
      steps_in_vain_ = 0;
    } else if (++steps_in_vain_ >= kPatience) {
      length_ /= 2;
      steps_in_vain_ = 0;
    }
    // How often each is left beyond once.
    std::fill(left.begin(), left.end(), -1);
    left.back() = 0;
    for (const int parent : arborescence_.parent()) {
      if (parent >= 0) ++left[static_cast<std::size_t>(parent)];
    }
    double square = 0;
    for (std::size_t u = 0; u < nodes_; ++u) {
      direction_[u] = left[u] + kMomentum * direction_[u];
      square += direction_[u] * direction_[u];
    }
    if (square == 0) return;  // the arborescence is a path, and so a best one
    const double by = length_ * static_cast<double>(cost * kFine - value) / square;
    for (std::size_t u = 0; u + 1 < nodes_; ++u) {
      price_[u] += static_cast<Cost>(std::llround(by * direction_[u]));
    }
  }
}

}  // namespace warmside::hygiene
