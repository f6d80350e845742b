// The cheapest arborescence beside every choice of one arc into each node that leads back to the
// root, on small random graphs.

#include <gtest/gtest.h>

#include <random>

#include "hygiene/arborescence_internal.h"

namespace warmside::hygiene {
namespace {

/// Whether following the arcs back from every node leads to the root.
bool is_rooted(const std::vector<int>& parent) {
  for (std::size_t node = 1; node < parent.size(); ++node) {
    int at = static_cast<int>(node);
    for (std::size_t step = 0; at != 0; ++step) {
      if (step == parent.size()) return false;
      at = parent[static_cast<std::size_t>(at)];
    }
  }
  return true;
}

std::int64_t sum_of(const std::vector<int>& parent, const std::vector<std::int64_t>& weight) {
  std::int64_t sum = 0;
  for (std::size_t node = 1; node < parent.size(); ++node) {
    const std::int64_t arc = weight[static_cast<std::size_t>(parent[node]) * parent.size() + node];
    if (arc == Arborescence::kNoArc) return Arborescence::kNoArc;
    sum += arc;
  }
  return sum;
}

TEST(Arborescence, IsTheCheapestOfAll) {
  std::mt19937 random(7);
  for (int nodes = 1; nodes <= 6; ++nodes) {
    Arborescence solver(nodes);
    for (int graph = 0; graph < 200; ++graph) {
      const auto n = static_cast<std::size_t>(nodes);
      std::vector<std::int64_t> weight(n * n);
      // Many equal weights in one half, negative ones in all, some arcs missing.
      const int spread = graph % 2 == 0 ? 3 : 1000;
      for (std::size_t u = 0; u < n; ++u) {
        for (std::size_t v = 0; v < n; ++v) {
          weight[u * n + v] = static_cast<int>(random() % (2 * spread)) - spread / 2;
          if (u != 0 && random() % 4 == 0) weight[u * n + v] = Arborescence::kNoArc;
        }
      }
      std::int64_t best = Arborescence::kNoArc;
      std::vector<int> parent(n, 0);
      parent[0] = -1;
      while (true) {  // counts through all parents of all nodes
        if (is_rooted(parent)) best = std::min(best, sum_of(parent, weight));
        std::size_t digit = 1;
        while (digit < n && ++parent[digit] == nodes) parent[digit++] = 0;
        if (digit >= n) break;
      }
      const std::int64_t found = solver.solve(weight);
      ASSERT_EQ(found, best) << nodes << " nodes, graph " << graph;
      ASSERT_EQ(solver.parent()[0], -1);
      ASSERT_TRUE(is_rooted(solver.parent()));
      ASSERT_EQ(sum_of(solver.parent(), weight), best);
    }
  }
}

}  // namespace
}  // namespace warmside::hygiene
