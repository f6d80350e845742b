#pragma once
// The cheapest arborescence of a dense graph: the set of arcs by which every node but the root is
// entered once and can be reached from the root. One step of the lower bound of sequence.cpp.
//
// Method: Chu and Liu 1965, Edmonds 1967, grown path by path (Gabow et al. 1986), O(n^2) for a
// dense graph. Checked by: tests/unit/hygiene/arborescence_test.cpp (every arborescence of small
// graphs).

#include <cstdint>
#include <limits>
#include <vector>

namespace warmside::hygiene {

/// Holds its memory, so that many graphs of one size are solved without asking for more.
class Arborescence {
 public:
  /// No arc. Weights stay far below it, so that sums of them fit.
  static constexpr std::int64_t kNoArc = std::numeric_limits<std::int64_t>::max() / 4;

  /// nodes: 1.., node 0 the root.
  explicit Arborescence(int nodes);

  /// weight[u * nodes + v]: of the arc from u to v, or kNoArc; arcs into the root and from a node
  /// to itself are not looked at. Every node must be reachable from the root (WS_CHECK).
  /// Returns the sum of the weights; parent() is then the node before each node, -1 of the root.
  std::int64_t solve(const std::vector<std::int64_t>& weight);
  const std::vector<int>& parent() const { return parent_; }

 private:
  void contract(int last, int first);
  void expand();
  int cheapest_into(int node) const;
  std::size_t at(int u, int v) const {
    return static_cast<std::size_t>(u) * static_cast<std::size_t>(capacity_) +
           static_cast<std::size_t>(v);
  }

  int nodes_ = 0, capacity_ = 0, made_ = 0;  // made_: nodes so far, contracted cycles among them
  std::int64_t total_ = 0;
  std::vector<std::int64_t> weight_;  // capacity x capacity, of active nodes
  // through_[at(u, v)]: where the younger of u and v is a contracted cycle, the node of that cycle
  // at which the arc from u to v begins or ends.
  std::vector<int> through_;
  std::vector<int> active_;               // nodes that are in no contracted cycle
  std::vector<int> into_;                 // the node from which each is entered, -1: not yet known
  std::vector<std::vector<int>> cycles_;  // members of node nodes_ + i
  std::vector<int> parent_;
};

}  // namespace warmside::hygiene
