#include <algorithm>

#include "core/check.h"
#include "hygiene/arborescence_internal.h"

namespace warmside::hygiene {

Arborescence::Arborescence(int nodes) : nodes_(nodes), capacity_(2 * nodes) {
  WS_CHECK(nodes >= 1);
  const auto size = static_cast<std::size_t>(capacity_) * static_cast<std::size_t>(capacity_);
  weight_.resize(size);
  through_.resize(size);
  into_.resize(static_cast<std::size_t>(capacity_));
}

int Arborescence::cheapest_into(int node) const {
  int best = -1;
  for (const int u : active_) {
    if (u == node) continue;
    if (best < 0 || weight_[at(u, node)] < weight_[at(best, node)]) best = u;
  }
  WS_CHECK(best >= 0 && weight_[at(best, node)] < kNoArc);
  return best;
}

/// Makes one node of the cycle first -> ... -> last -> first, which into_ describes.
void Arborescence::contract(int last, int first) {
  std::vector<int> members;
  for (int v = last; v != first; v = into_[static_cast<std::size_t>(v)]) members.push_back(v);
  members.push_back(first);
  const int node = made_++;
  for (const int v : members) {
    total_ += weight_[at(into_[static_cast<std::size_t>(v)], v)];
    active_.erase(std::find(active_.begin(), active_.end(), v));
  }
  for (const int u : active_) {
    std::int64_t in = kNoArc, out = kNoArc;
    int entered = members.front(), left = members.front();
    for (const int v : members) {
      const std::int64_t arc = weight_[at(u, v)];
      // To enter the cycle at v spares the arc by which v is entered in it.
      const std::int64_t instead =
          arc >= kNoArc ? kNoArc : arc - weight_[at(into_[static_cast<std::size_t>(v)], v)];
      if (instead < in) in = instead, entered = v;
      if (weight_[at(v, u)] < out) out = weight_[at(v, u)], left = v;
    }
    weight_[at(u, node)] = in;
    through_[at(u, node)] = entered;
    weight_[at(node, u)] = out;
    through_[at(node, u)] = left;
    // What was entered from a member is now entered from the cycle, which costs the same.
    int& into = into_[static_cast<std::size_t>(u)];
    if (into >= 0 && std::find(members.begin(), members.end(), into) != members.end()) into = node;
  }
  active_.push_back(node);
  into_[static_cast<std::size_t>(node)] = -1;
  cycles_.push_back(std::move(members));
}

/// Opens the contracted cycles, the youngest first: each at the member where it is entered.
void Arborescence::expand() {
  std::vector<int> before(into_.begin(), into_.begin() + made_);
  for (int node = made_ - 1; node >= nodes_; --node) {
    const int from = before[static_cast<std::size_t>(node)];
    for (int v = 0; v < node; ++v) {
      int& parent = before[static_cast<std::size_t>(v)];
      if (parent == node) parent = through_[at(node, v)];
    }
    // The arcs inside the cycle stand in `before` already.
    before[static_cast<std::size_t>(through_[at(from, node)])] = from;
  }
  parent_.assign(before.begin(), before.begin() + nodes_);
}

std::int64_t Arborescence::solve(const std::vector<std::int64_t>& weight) {
  WS_CHECK(weight.size() == static_cast<std::size_t>(nodes_) * static_cast<std::size_t>(nodes_));
  for (int u = 0; u < nodes_; ++u) {
    std::copy_n(weight.begin() + static_cast<std::ptrdiff_t>(u) * nodes_, nodes_,
                weight_.begin() + static_cast<std::ptrdiff_t>(at(u, 0)));
  }
  made_ = nodes_;
  total_ = 0;
  cycles_.clear();
  active_.resize(static_cast<std::size_t>(nodes_));
  for (int v = 0; v < nodes_; ++v) active_[static_cast<std::size_t>(v)] = v;
  std::fill(into_.begin(), into_.end(), -1);
  // A node is rooted once the arcs found so far lead back from it to the root.
  std::vector<bool> rooted(static_cast<std::size_t>(capacity_), false);
  rooted[0] = true;
  std::vector<int> path;  // each entered from the next
  for (int start = 1; start < nodes_; ++start) {
    // The start may have been drawn into a cycle, whose path is finished then.
    if (rooted[static_cast<std::size_t>(start)]) continue;
    if (into_[static_cast<std::size_t>(start)] >= 0) continue;
    path.assign(1, start);
    while (true) {
      const int node = path.back();
      const int from = cheapest_into(node);
      into_[static_cast<std::size_t>(node)] = from;
      if (rooted[static_cast<std::size_t>(from)]) break;
      const auto seen = std::find(path.begin(), path.end(), from);
      if (seen == path.end()) {
        path.push_back(from);
        continue;
      }
      path.erase(seen, path.end());
      contract(from, node);
      path.push_back(made_ - 1);
    }
    for (const int node : path) rooted[static_cast<std::size_t>(node)] = true;
  }
  for (const int v : active_) {
    if (v != 0) total_ += weight_[at(into_[static_cast<std::size_t>(v)], v)];
  }
  expand();
  return total_;
}

}  // namespace warmside::hygiene
