#pragma once
// The parts of sequence.cpp: the stops numbered stage by stage, the exact solution of small stages,
// the local search and the bound.

#include <cstdint>
#include <random>
#include <utility>
#include <vector>

#include "hygiene/arborescence_internal.h"

namespace warmside::hygiene {

using Cost = std::int64_t;

/// A problem with its stops as nodes 1 .. n, numbered stage by stage; node 0 is the start, before
/// the first stage. A path is all nodes in such an order, the start first.
struct Staged {
  std::vector<std::size_t> begins;  // stage s holds the nodes begins[s] .. begins[s + 1] - 1, and
                                    // every path has them at these places; begins[0] is 1
  std::vector<std::size_t> stage;   // of each node; of the start 0
  std::vector<Cost> change_prices;  // [i * nodes + j]: from node i to node j
  std::vector<Cost> last;           // of ending with each node

  std::size_t nodes() const { return stage.size(); }
  std::size_t stages() const { return begins.size() - 1; }
  std::size_t stage_size(std::size_t s) const { return begins[s + 1] - begins[s]; }
  Cost change(std::size_t i, std::size_t j) const { return change_prices[i * nodes() + j]; }
  Cost cost_of(const std::vector<std::size_t>& path) const;
};

/// Dynamic programming over the stops of one stage that were visited (Bellman 1962, Held and Karp
/// 1962): exact, in 2^m m^2 steps and 2^m m numbers for m stops.
class ExactStage {
 public:
  /// after[j]: the least price of all that comes later, from the j-th stop of the stage on.
  ExactStage(const Staged& staged, std::size_t stage, const std::vector<Cost>& after);

  /// The least price from a node of another stage on, and the node of this stage that comes next;
  /// of several the first.
  std::pair<Cost, std::size_t> cheapest_from(std::size_t node) const;
  /// Adds the nodes of this stage to a path; of several best ways the first.
  void follow(std::vector<std::size_t>& path) const;

 private:
  std::size_t all() const { return (std::size_t{1} << m_) - 1; }
  std::pair<Cost, std::size_t> cheapest(std::size_t node, std::size_t visited) const;

  const Staged& staged_;
  std::size_t begin_, m_;
  std::vector<Cost> cost_;  // [visited * m + j]: of what is still to come, from the j-th stop on
};

/// A problem without its small stages: what they cost at least is in the prices of going from one
/// large stage to the next, exactly. With no large stage only the start is left, without prices.
class Condensed {
 public:
  /// Stages of at most `small` stops are taken out. `whole` must outlive it.
  Condensed(const Staged& whole, std::size_t small);

  const Staged& large() const { return large_; }
  /// The best path of the whole that goes through the large stages as this one does.
  std::vector<std::size_t> whole_path(const std::vector<std::size_t>& path) const;

 private:
  std::vector<ExactStage> run_of(std::size_t from, std::size_t to, std::size_t next) const;
  Cost price_between(const std::vector<ExactStage>& run, std::size_t from, std::size_t next) const;

  const Staged& whole_;
  Staged large_;
  std::vector<std::size_t> node_;          // of the whole, for each node of large_
  std::vector<std::size_t> large_stages_;  // of the whole
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
    return place + 1 == path_.size() ? staged_.last[node] : staged_.change(node, path_[place + 1]);
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
  /// Steps up towards `cost`, that of a path or another aim; ends early when it is reached.
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
