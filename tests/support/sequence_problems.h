#pragma once
// Sequence problems drawn at random, for tests and the benchmark: all prices alike, or as of a room
// (racks, shelves, jars, groups of animals), in stages.

#include <cstdlib>
#include <random>

#include "hygiene/sequence.h"

namespace warmside::test {

/// 0 .. below - 1, the same on every machine.
inline int draw(std::mt19937& random, int below) {
  return static_cast<int>(random() % static_cast<unsigned>(below));
}

/// Every price drawn from 0 .. most; ranks that the prices know nothing of.
inline hygiene::SequenceProblem any_sequence_problem(std::mt19937& random, int stops, int stages,
                                                     int most) {
  hygiene::SequenceProblem problem;
  for (int i = 0; i < stops; ++i) {
    problem.stage.push_back(draw(random, stages));
    problem.rank.push_back(draw(random, 3));
    problem.first.push_back(draw(random, most + 1));
  }
  for (int i = 0; i < stops * stops; ++i) problem.change.push_back(draw(random, most + 1));
  return problem;
}

/// As of a room: five racks of six shelves, some stops dusted from one of three jars or fed from
/// one of three batches, groups of animals for ranks. share_of_last: of the stops, per cent, that
/// stand in the last of the stages; the others are drawn from all.
inline hygiene::SequenceProblem room_like_problem(std::mt19937& random, int stops, int stages,
                                                  int share_of_last = 0, int groups = 3) {
  struct Stop {
    int rack, shelf, position, group, jar, batch;
  };
  hygiene::SequenceProblem problem;
  std::vector<Stop> all;
  for (int i = 0; i < stops; ++i) {
    const bool last = draw(random, 100) < share_of_last;
    problem.stage.push_back(last ? stages - 1 : draw(random, stages));
    all.push_back({draw(random, 5), draw(random, 6), draw(random, 4), draw(random, groups),
                   draw(random, 4), std::max(0, draw(random, 6) - 2)});
    problem.rank.push_back(all.back().group);
    problem.first.push_back(5 * (all.back().jar > 0) + 10 * (all.back().batch > 0));
  }
  for (int i = 0; i < stops; ++i) {
    for (int j = 0; j < stops; ++j) {
      const auto at = [](int k) { return static_cast<std::size_t>(k); };
      const Stop &a = all[at(i)], &b = all[at(j)];
      int price =
          a.rack != b.rack
              ? 5 + 5 * (a.rack % 2 != b.rack % 2)
              : std::min(10, 2 * std::abs(a.shelf - b.shelf) + std::abs(a.position - b.position));
      if (b.jar > 0 && a.jar != b.jar) price += 5;
      if (b.batch > 0 && a.batch != b.batch) price += 10;
      if (a.group != b.group && problem.stage[at(i)] == problem.stage[at(j)]) {
        price += 170 + 900 * std::max(0, a.group - b.group);
      }
      problem.change.push_back(price);
    }
  }
  return problem;
}

/// Three ranks that are just worth keeping, or just not: prices near the edge of what best_sequence
/// takes for a proof.
inline hygiene::SequenceProblem ranked_problem(std::mt19937& random, int stops, int stages) {
  constexpr int kForward = 10;
  const int width = draw(random, 4), border = draw(random, 12);
  // Low ones, or all about as dear as a step forward or dearer.
  const bool low = draw(random, 2) == 0;
  const int inside = kForward + (low ? 0 : draw(random, 8)), spread = low ? inside + 1 : 2;
  hygiene::SequenceProblem problem = any_sequence_problem(random, stops, stages, border);
  const int back = kForward + draw(random, 2 * width + 2 * border + 2);
  for (int i = 0; i < stops; ++i) {
    for (int j = 0; j < stops; ++j) {
      const auto at = [](int k) { return static_cast<std::size_t>(k); };
      if (problem.stage[at(i)] != problem.stage[at(j)]) continue;
      const int step = problem.rank[at(j)] - problem.rank[at(i)];
      problem.change[at(i * stops + j)] = step == 0  ? inside - draw(random, spread)
                                          : step > 0 ? kForward + draw(random, width + 1)
                                                     : back;
    }
  }
  return problem;
}

}  // namespace warmside::test
