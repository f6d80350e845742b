#pragma once
// The parts of sequence.cpp: the stops numbered stage by stage, the local search and the bound.

#include <cstdint>
#include <random>
#include <span>
#include <vector>

#include "hygiene/arborescence_internal.h"
#include "hygiene/sequence.h"

namespace warmside::hygiene {

using Cost = std::int64_t;

/// A problem with its stops as nodes 1 .. n, numbered stage by stage and inside a stage as they
/// came; node 0 is the start, before the first stage.
class Staged {
 public:
  /// The problem must outlive it.
  explicit Staged(const SequenceProblem& problem);

  std::size_t nodes() const { return nodes_; }
  std::size_t stages() const { return begins_.size() - 1; }
  /// Stage s holds the nodes begin(s) .. begin(s + 1) - 1, and every path has them at these places.
  std::size_t begin(std::size_t stage) const { return begins_[stage]; }
  std::size_t stage_size(std::size_t stage) const { return begins_[stage + 1] - begins_[stage]; }
  /// Of a node, not the start.
  std::size_t stage_of(std::size_t node) const { return stage_[node]; }
  /// The price of going from node i to node j, not the start.
  Cost change(std::size_t i, std::size_t j) const { return change_[i * nodes_ + j]; }

  /// path: all nodes in order, the start first.
  Cost cost_of(const std::vector<std::size_t>& path) const;
  Sequence answer(const std::vector<std::size_t>& path, Cost bound) const;

 private:
  std::vector<int> stop_;  // of node i at i - 1
  std::size_t nodes_ = 0;
  std::vector<std::size_t> begins_, stage_;
  std::vector<int> change_;
};

/// A path that is made cheaper by exchanging two neighbouring pieces of a stage, either of them
/// turned or not (after Or 1976 and Lin 1965).
class Search {
 public:
  /// Begins with the nodes as they are numbered.
  explicit Search(const Staged& staged);

  const std::vector<std::size_t>& path() const { return path_; }
  void set_path(const std::vector<std::size_t>& path);
  Cost cost() const { return staged_.cost_of(path_); }

  /// Each stage anew, always on to the cheapest next.
  void start_greedily();
  /// Until no exchange that brings a near node behind another helps any more; nodes are left alone
  /// until something changes beside them.
  void improve();
  /// Until none helps at all; in large stages none of which one piece is short.
  void improve_thoroughly();
  /// Throws three neighbouring pieces of one stage about; `random` chooses which. Such a change of
  /// four arcs is none that one exchange undoes.
  void kick(std::minstd_rand& random);

 private:
  /// The path from place a to b, as it stands or turned.
  struct Piece {
    std::size_t a, b;
    bool turned;
  };
  bool improve_behind(std::size_t node);
  bool exchange(std::size_t i, std::size_t j, std::size_t k);
  Cost inside(const Piece& piece) const;
  void changed(std::size_t from, std::size_t to);
  void look_at(std::size_t place);
  Cost arc_out_of(std::size_t place, std::size_t node) const {
    return place + 1 == path_.size() ? 0 : staged_.change(node, path_[place + 1]);
  }

  const Staged& staged_;
  std::vector<std::size_t> path_, place_;       // node at each place, place of each node
  std::vector<std::vector<std::size_t>> near_;  // of each node those that may well follow it
  std::vector<Cost> ahead_, back_;  // prices from place 1 to i, walked forward and backward
  std::vector<std::size_t> queue_;  // nodes to be looked at
  std::vector<bool> queued_;
};

/// The bound of Held and Karp (1970) for a path: every stop is entered once and all hang together
/// (the cheapest arborescence), while prices on the stops make each of them left once as far as
/// prices can.
class Bound {
 public:
  explicit Bound(const Staged& staged);

  /// No path costs less.
  Cost best() const { return best_; }
  /// Steps up towards `cost`, that of a path; ends early when it is reached.
  void ascend(Cost cost, int steps);

 private:
  std::size_t nodes_;  // those of Staged and the end, which is entered from the last stage
  Arborescence arborescence_;
  std::vector<Cost> arcs_, weight_, price_;
  std::vector<double> direction_;
  double length_ = 1;  // of a step, in shares of the gap
  int steps_in_vain_ = 0;
  Cost best_ = 0, best_fine_ = 0;
};

}  // namespace warmside::hygiene
