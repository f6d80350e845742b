#include <algorithm>
#include <array>
#include <limits>
#include <numeric>

#include "hygiene/sequence_internal.h"

namespace warmside::hygiene {
namespace {

constexpr std::size_t kNear = 7, kNearNext = 3;  // of its own and of the next stage
constexpr std::size_t kKicked = 30;              // places among which a kick throws pieces about

/// Of each node those of its own and of the next stage that may well follow it: at least cost
/// beyond the cheapest way into them.
std::vector<std::vector<std::size_t>> near_ones(const Staged& staged) {
  const std::size_t n = staged.nodes();
  std::vector<Cost> cheapest(n, std::numeric_limits<Cost>::max());
  for (std::size_t node = 1; node < n; ++node) {
    const std::size_t s = staged.stage[node];
    for (std::size_t i = s == 0 ? 0 : staged.begins[s - 1]; i < staged.begins[s + 1]; ++i) {
      if (i != node) cheapest[node] = std::min(cheapest[node], staged.change(i, node));
    }
  }
  std::vector<std::vector<std::size_t>> near(n);
  const auto add = [&](std::size_t node, std::size_t stage, std::size_t most) {
    std::vector<std::pair<Cost, std::size_t>> found;  // what each costs more, and which
    for (std::size_t next = staged.begins[stage]; next < staged.begins[stage + 1]; ++next) {
      if (next != node) found.emplace_back(staged.change(node, next) - cheapest[next], next);
    }
    std::sort(found.begin(), found.end());
    if (found.size() > most) found.resize(most);
    for (const auto& [more, next] : found) near[node].push_back(next);
  };
  add(0, 0, kNear);
  for (std::size_t node = 1; node < n; ++node) {
    const std::size_t s = staged.stage[node];
    add(node, s, kNear);
    if (s + 1 < staged.stages()) add(node, s + 1, kNearNext);
  }
  return near;
}

}  // namespace

Search::Search(const Staged& staged)
    : staged_(staged),
      path_(staged.nodes()),
      place_(staged.nodes()),
      near_(near_ones(staged)),
      ahead_(staged.nodes(), 0),
      back_(staged.nodes(), 0),
      queued_(staged.nodes(), false) {
  std::vector<std::size_t> nodes(staged.nodes());
  std::iota(nodes.begin(), nodes.end(), std::size_t{0});
  set_path(nodes);
}

void Search::set_path(const std::vector<std::size_t>& path) {
  path_ = path;
  changed(1, path_.size());
}

/// The path differs at the places from..to - 1.
void Search::changed(std::size_t from, std::size_t to) {
  for (std::size_t i = from; i < to; ++i) place_[path_[i]] = i;
  for (std::size_t i = std::max<std::size_t>(from, 2); i < path_.size(); ++i) {
    ahead_[i] = ahead_[i - 1] + staged_.change(path_[i - 1], path_[i]);
    back_[i] = back_[i - 1] + staged_.change(path_[i], path_[i - 1]);
  }
}

void Search::look_at(std::size_t place) {
  if (place >= path_.size() || queued_[path_[place]]) return;
  queued_[path_[place]] = true;
  queue_.push_back(path_[place]);
}

void Search::start_greedily() {
  for (std::size_t s = 0; s < staged_.stages(); ++s) {
    for (std::size_t i = staged_.begins[s]; i < staged_.begins[s + 1]; ++i) {
      std::size_t best = i;
      for (std::size_t k = i + 1; k < staged_.begins[s + 1]; ++k) {
        const std::size_t here = path_[i - 1];
        if (staged_.change(here, path_[k]) < staged_.change(here, path_[best])) best = k;
      }
      std::swap(path_[i], path_[best]);
    }
  }
  changed(1, path_.size());
  for (std::size_t place = 0; place < path_.size(); ++place) look_at(place);
}

void Search::improve() {
  for (std::size_t next = 0; next < queue_.size(); ++next) {
    const std::size_t node = queue_[next];
    queued_[node] = false;
    while (improve_behind(node)) {
    }
  }
  queue_.clear();
}

void Search::improve_thoroughly() {
  constexpr std::size_t kTrials = 100'000;  // about, of one stage
  improve();
  for (bool again = true; again;) {
    again = false;
    for (std::size_t s = 0; s < staged_.stages(); ++s) {
      const std::size_t m = staged_.stage_size(s), end = staged_.begins[s + 1];
      const std::size_t most = std::max<std::size_t>(3, kTrials / (m * m));
      for (std::size_t i = staged_.begins[s]; i < end; ++i) {
        for (std::size_t k = i + 2; k <= end; ++k) {
          for (std::size_t j = i + 1; j < k; ++j) {
            if (j - i > most && k - j > most) j = k - most;
            if (exchange(i, j, k)) again = true;
          }
        }
      }
    }
    improve();
  }
}

/// Tries to bring each near node behind this one; true: that made the path cheaper.
bool Search::improve_behind(std::size_t node) {
  const std::size_t p = place_[node];
  const Cost out = arc_out_of(p, node);
  for (const std::size_t next : near_[node]) {
    const std::size_t q = place_[next], s = staged_.stage[next];
    const std::size_t begin = staged_.begins[s], end = staged_.begins[s + 1];
    if (q == p + 1 || p + 1 < begin) continue;
    const bool gains = staged_.change(node, next) < out;
    if (q > p) {
      // Turned pieces are tried even without a gain at once: what is inside them may gain.
      if (exchange(p + 1, q, q + 1)) return true;
      if (p >= begin && exchange(p, p + 1, q)) return true;
      if (!gains) continue;
      for (std::size_t k = q + 2; k <= end; ++k) {
        if (exchange(p + 1, q, k)) return true;
      }
      for (std::size_t i = begin; i < p; ++i) {
        if (exchange(i, p + 1, q)) return true;
      }
    } else if (gains) {
      for (std::size_t j = q + 1; j <= p; ++j) {
        if (exchange(q, j, p + 1)) return true;
      }
    }
  }
  return false;
}

Cost Search::inside(const Piece& piece) const {
  const std::vector<Cost>& sum = piece.turned ? back_ : ahead_;
  return sum[piece.b] - sum[piece.a];
}

/// Puts the best of the seven other ways to lay the pieces [i, j) and [j, k) of a stage in place,
/// if it is cheaper.
bool Search::exchange(std::size_t i, std::size_t j, std::size_t k) {
  const std::size_t before = path_[i - 1];
  const auto price = [&](const Piece& one, const Piece& two) {
    const auto head = [&](const Piece& piece) { return path_[piece.turned ? piece.b : piece.a]; };
    const auto tail = [&](const Piece& piece) { return path_[piece.turned ? piece.a : piece.b]; };
    return staged_.change(before, head(one)) + inside(one) + staged_.change(tail(one), head(two)) +
           inside(two) + arc_out_of(k - 1, tail(two));
  };
  Cost best = price({i, j - 1, false}, {j, k - 1, false});
  int best_way = 0;
  for (int way = 1; way < 8; ++way) {
    const Piece a{i, j - 1, (way & 1) != 0}, b{j, k - 1, (way & 2) != 0};
    const Cost cost = (way & 4) != 0 ? price(b, a) : price(a, b);
    if (cost < best) best = cost, best_way = way;
  }
  if (best_way == 0) return false;
  const auto at = [&](std::size_t place) {
    return path_.begin() + static_cast<std::ptrdiff_t>(place);
  };
  if ((best_way & 1) != 0) std::reverse(at(i), at(j));
  if ((best_way & 2) != 0) std::reverse(at(j), at(k));
  if ((best_way & 4) != 0) std::rotate(at(i), at(j), at(k));
  changed(i, k);
  const std::size_t joint = (best_way & 4) != 0 ? i + (k - j) : j;
  for (const std::size_t place : {i - 1, i, joint - 1, joint, k - 1, k}) look_at(place);
  return true;
}

void Search::kick(std::minstd_rand& random) {
  const auto draw = [&](std::size_t below) { return std::size_t{random()} % below; };
  // By turns any stage, and one by its size, through a node drawn from all.
  const std::size_t s =
      draw(2) == 0 ? draw(staged_.stages()) : staged_.stage[1 + draw(staged_.nodes() - 1)];
  const std::size_t m = staged_.stage_size(s);
  if (m < 3) return;
  const std::size_t window = std::min(m, kKicked);
  const std::size_t begin = staged_.begins[s] + draw(m - window + 1);
  std::array<std::size_t, 4> cut{};
  for (std::size_t& place : cut) place = begin + draw(window + 1);
  std::sort(cut.begin(), cut.end());
  const auto at = [&](std::size_t place) {
    return path_.begin() + static_cast<std::ptrdiff_t>(place);
  };
  // A B C becomes C B A, by way of B C A.
  const std::size_t behind_c = cut[0] + (cut[3] - cut[1]), behind_b = cut[0] + (cut[2] - cut[1]);
  std::rotate(at(cut[0]), at(cut[1]), at(cut[3]));
  std::rotate(at(cut[0]), at(behind_b), at(behind_c));
  changed(cut[0], cut[3]);
  for (const std::size_t joint : {cut[0], cut[0] + (cut[3] - cut[2]), behind_c, cut[3]}) {
    look_at(joint - 1);
    look_at(joint);
  }
}

}  // namespace warmside::hygiene
