#pragma once
// The cheapest order of stops that are served in stages: an earlier stage always before a later
// one, whatever it costs; inside a stage, and where one stage follows another, the prices of going
// from stop to stop decide. A shortest path through all stops (asymmetric travelling salesman, open
// at the end), with a lower bound that is proven.
//
// Use it through order.h, which makes stages and prices from a day. Whole numbers throughout, so
// that the same problem has the same answer on every machine.
// Method: docs/models/hygiene.md. Checked by: tests/reference/sequence_test.cpp (every order up to
// eight stops; CBC up to fourteen) and tests/property/sequence_property_test.cpp.

#include <cstdint>
#include <span>
#include <vector>

namespace warmside::hygiene {

struct SequenceProblem {
  std::vector<int> stage;   // of each stop; any whole number, the lower is served first
  std::vector<int> first;   // first[i]: price of stop i as the first of all
  std::vector<int> change;  // change[i * n + j]: price of going from stop i to stop j, n stops
  std::vector<int> rank;    // of each stop inside its stage, or empty: an order that is hardly ever
                            // worth breaking. It changes no prices; where they prove that it need
                            // not be broken, large problems fall into smaller parts
  std::size_t stops() const { return stage.size(); }
};

/// Every price is 0..kMostPrice and there are at most kMostStops stops (WS_CHECK).
inline constexpr int kMostPrice = 1'000'000;
inline constexpr std::size_t kMostStops = 600;

struct SequenceLimits {
  int exact_stage = 13;   // stops of a stage up to which the whole is solved exactly; 0..16. It
                          // takes 2^n n^2 steps and 2^n n numbers for a stage of n
  int rounds = 10;        // of search and bound by turns; 0..: the bound stays true, only weaker
  double enough = 0.005;  // no more of them once cost <= (1 + enough) bound; 0..1
};

struct Sequence {
  std::vector<int> order;  // stops in the order of service
  std::int64_t cost = 0;   // of this order
  std::int64_t bound = 0;  // no order in stages costs less; equal to cost: this one is a best one
  bool proven() const { return cost == bound; }
};

/// Exact where no stage has more than `exact_stage` stops: of all best orders the first one when
/// they are sorted by the indices of their stops. Otherwise local search, with a bound.
Sequence best_sequence(const SequenceProblem& problem, const SequenceLimits& limits = {});

/// The price of an order of all stops.
std::int64_t cost_of(const SequenceProblem& problem, std::span<const int> order);

}  // namespace warmside::hygiene
