// Contact tracing against two programs that share nothing with it: a search along every
// time-respecting path, one after the other, on 500 small rooms, and Dijkstra's algorithm of
// Boost.Graph on the time-expanded graph of larger ones (every carrier once for each moment between
// two events).

#include "hygiene/trace.h"

#include <gtest/gtest.h>

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <cmath>
#include <functional>
#include <map>
#include <random>

namespace warmside::hygiene {
namespace {

using Kind = ContactEvent::Kind;
using Random = std::mt19937_64;

/// The group of organisms that is traced; cuts of the other one alone do nothing.
constexpr std::uint32_t kGroup = 1;

struct Room {
  std::size_t carriers = 0;
  std::vector<ContactEvent> events;
  std::int64_t last_ms = 0;
};

/// Carriers at random: the first ones live with others for a time, any touch, give and are cleaned.
/// Often several events at one moment.
Room random_room(Random& random, std::size_t carriers, int count) {
  const auto upto = [&](std::size_t n) {
    return static_cast<Carrier>(std::uniform_int_distribution<std::size_t>(0, n - 1)(random));
  };
  Room room{carriers, {}, 0};
  std::map<std::pair<Carrier, Carrier>, ContactEvent> living;
  constexpr float kWeights[] = {0.125F, 0.25F, 0.5F, 1.0F};
  for (int i = 0; i < count; ++i) {
    room.last_ms += static_cast<std::int64_t>(upto(3));
    const Carrier a = upto(carriers);
    Carrier b = upto(carriers - 1);
    if (b >= a) ++b;
    ContactEvent event{
        room.last_ms, a, b, Kind::touch, kWeights[upto(4)], static_cast<std::uint32_t>(i), 0};
    switch (upto(5)) {
      case 0:
        event.kind = Kind::give;
        break;
      case 1: {
        event.kind = Kind::together;
        const auto [pair, fresh] = living.emplace(std::minmax(a, b), event);
        if (fresh) break;
        event = pair->second;
        event.at_ms = room.last_ms;
        event.kind = Kind::apart;
        living.erase(pair);
        break;
      }
      case 2:
        event.kind = Kind::cut;
        event.cuts = static_cast<std::uint32_t>(upto(4));  // of two groups: none, one or both
        break;
      default:
        break;
    }
    room.events.push_back(event);
  }
  return room;
}

/// What is together after each event: for the moments 0 (before all) to n.
using Company = std::map<std::pair<Carrier, Carrier>, float>;
std::vector<Company> company_of(const Room& room) {
  std::vector<Company> all(1);
  for (const ContactEvent& event : room.events) {
    Company next = all.back();
    if (event.kind == Kind::together) next[std::minmax(event.a, event.b)] = event.weight;
    if (event.kind == Kind::apart) next.erase(std::minmax(event.a, event.b));
    all.push_back(std::move(next));
  }
  return all;
}

/// A way from a carrier at a moment to a carrier at a moment. Moment k lies before event k.
struct Edge {
  std::size_t from, to;  // moment * carriers + carrier
  double weight;
};
/// The time-expanded graph. While together it passes at every moment; at the event that joins or
/// parts two they are still, or already, together.
std::vector<Edge> expanded(const Room& room) {
  const auto company = company_of(room);
  const std::size_t n = room.carriers;
  std::vector<Edge> edges;
  for (std::size_t k = 0; k < company.size(); ++k) {
    for (const auto& [pair, weight] : company[k]) {
      edges.push_back({k * n + pair.first, k * n + pair.second, weight});
      edges.push_back({k * n + pair.second, k * n + pair.first, weight});
    }
    if (k + 1 == company.size()) break;
    const ContactEvent& event = room.events[k];
    for (Carrier c = 0; c < n; ++c) {
      if (event.kind == Kind::cut && event.a == c && (event.cuts & kGroup) != 0) continue;
      edges.push_back({k * n + c, (k + 1) * n + c, 1});
    }
    if (event.kind == Kind::touch || event.kind == Kind::give) {
      edges.push_back({k * n + event.a, (k + 1) * n + event.b, event.weight});
      if (event.kind == Kind::touch) {
        edges.push_back({k * n + event.b, (k + 1) * n + event.a, event.weight});
      }
    }
  }
  return edges;
}

/// The greatest product of weights from a node to every other, along each path in turn.
std::vector<double> by_every_path(const std::vector<Edge>& edges, std::size_t nodes,
                                  std::size_t from) {
  std::vector<std::vector<const Edge*>> out(nodes);
  for (const Edge& edge : edges) out[edge.from].push_back(&edge);
  std::vector<double> best(nodes, 0);
  std::vector<char> on_path(nodes, 0);
  std::function<void(std::size_t, double)> walk = [&](std::size_t node, double weight) {
    best[node] = std::max(best[node], weight);
    on_path[node] = 1;
    for (const Edge* edge : out[node]) {
      if (on_path[edge->to] == 0) walk(edge->to, weight * edge->weight);
    }
    on_path[node] = 0;
  };
  walk(from, 1);
  return best;
}

std::vector<double> by_boost(const std::vector<Edge>& edges, std::size_t nodes, std::size_t from) {
  using Graph =
      boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, boost::no_property,
                            boost::property<boost::edge_weight_t, double>>;
  Graph graph(nodes);
  for (const Edge& edge : edges) boost::add_edge(edge.from, edge.to, -std::log(edge.weight), graph);
  std::vector<double> length(nodes);
  boost::dijkstra_shortest_paths(graph, from,
                                 boost::distance_map(boost::make_iterator_property_map(
                                     length.begin(), boost::get(boost::vertex_index, graph))));
  for (double& l : length) l = std::exp(-l);
  return length;
}

using Search =
    std::function<std::vector<double>(const std::vector<Edge>&, std::size_t, std::size_t)>;

/// The first and the last moment at a time: before its first event, after its last.
std::size_t first_moment(const Room& room, std::int64_t at) {
  std::size_t k = 0;
  while (k < room.events.size() && room.events[k].at_ms < at) ++k;
  return k;
}
std::size_t last_moment(const Room& room, std::int64_t at) {
  return first_moment(room, at + 1);
}

/// Each chain must be possible, and as strong as the strongest that the search finds.
void expect_as_searched(const Room& room, Carrier asked, std::int64_t at, bool back,
                        const Search& search) {
  const std::size_t n = room.carriers, moments = room.events.size() + 1;
  std::vector<Edge> edges = expanded(room);
  if (back) {
    for (Edge& edge : edges) std::swap(edge.from, edge.to);
  }
  const std::size_t moment = back ? last_moment(room, at) : first_moment(room, at);
  const auto strength = search(edges, n * moments, moment * n + asked);
  std::vector<double> wanted(n, 0);
  for (std::size_t node = 0; node < strength.size(); ++node) {
    wanted[node % n] = std::max(wanted[node % n], strength[node]);
  }
  const auto chains = back ? trace_back(room.events, n, asked, at, kGroup)
                           : trace_ahead(room.events, n, asked, at, kGroup);
  std::vector<double> found(n, 0);
  double last = 1;
  for (const Chain& chain : chains) {
    EXPECT_LE(chain.weight, last);  // strongest first
    last = chain.weight;
    found[chain.carrier] = chain.weight;
    ASSERT_FALSE(chain.steps.empty());
    EXPECT_EQ(chain.steps.front().from, back ? chain.carrier : asked);
    EXPECT_EQ(chain.steps.back().to, back ? asked : chain.carrier);
    double weight = 1;
    for (std::size_t i = 0; i < chain.steps.size(); ++i) {
      const TraceStep& step = chain.steps[i];
      weight *= static_cast<double>(room.events[step.entry].weight);
      if (i > 0) {
        EXPECT_EQ(step.from, chain.steps[i - 1].to);
        EXPECT_GE(step.at_ms, chain.steps[i - 1].at_ms);
      }
      EXPECT_TRUE(back ? step.at_ms <= at : step.at_ms >= at);
    }
    EXPECT_NEAR(weight, chain.weight, 1e-12);
  }
  for (Carrier c = 0; c < n; ++c) {
    if (c != asked) {
      EXPECT_NEAR(found[c], wanted[c], 1e-9) << "carrier " << c;
    }
  }
}

TEST(Trace, OnSmallRoomsAsByEveryPath) {
  Random random(20261128);
  int reached = 0;
  for (int i = 0; i < 500; ++i) {
    SCOPED_TRACE(i);
    const Room room = random_room(random, 4, 7);
    const auto at = std::uniform_int_distribution<std::int64_t>(0, room.last_ms)(random);
    for (const bool back : {false, true}) {
      expect_as_searched(room, static_cast<Carrier>(i % 4), at, back, by_every_path);
    }
    reached += static_cast<int>(
        trace_ahead(room.events, 4, static_cast<Carrier>(i % 4), at, kGroup).size());
  }
  EXPECT_GT(reached, 500);  // of at most 1500
}

TEST(Trace, OnLargerRoomsAsByAGraphLibrary) {
  Random random(20261128);
  for (int i = 0; i < 20; ++i) {
    SCOPED_TRACE(i);
    const Room room = random_room(random, 30, 400);
    for (const bool back : {false, true}) {
      expect_as_searched(room, static_cast<Carrier>(i), room.last_ms / 2, back, by_boost);
    }
  }
}

// --- by hand ---

TEST(Trace, GoesForwardInTimeOnly) {
  // 0 touches 1, later 1 touches 2; the tub 3 touched 2 before.
  const std::vector<ContactEvent> events{{10, 3, 2, Kind::touch, 0.5F, 0, 0},
                                         {20, 0, 1, Kind::touch, 0.5F, 1, 0},
                                         {30, 1, 2, Kind::touch, 0.5F, 2, 0}};
  const auto ahead = trace_ahead(events, 4, 0, 0, kGroup);
  ASSERT_EQ(ahead.size(), 2u);
  EXPECT_EQ(ahead[0].carrier, 1u);
  EXPECT_EQ(ahead[1].carrier, 2u);
  EXPECT_EQ(ahead[1].weight, 0.25);
  EXPECT_EQ(ahead[1].at_ms, 30);
  ASSERT_EQ(ahead[1].steps.size(), 2u);
  EXPECT_EQ(ahead[1].steps[0].entry, 1u);
  const auto back = trace_back(events, 4, 2, 40, kGroup);
  ASSERT_EQ(back.size(), 3u);  // 1 and 3 by one step, 0 by two
  EXPECT_EQ(back[2].carrier, 0u);
  EXPECT_TRUE(trace_back(events, 4, 0, 15, kGroup).empty());
}

TEST(Trace, WhatIsCutPassesNothingOn) {
  std::vector<ContactEvent> events{{10, 0, 3, Kind::touch, 1, 0, 0},
                                   {20, 3, 3, Kind::cut, 1, 1, kGroup},
                                   {30, 3, 1, Kind::touch, 1, 2, 0}};
  EXPECT_EQ(trace_ahead(events, 4, 0, 0, kGroup).size(), 1u);  // the tool, not the animal
  EXPECT_TRUE(trace_back(events, 4, 1, 40, kGroup).size() == 1u);
  // Cleaned while a carrier still lives in it, it is soiled again at once.
  events.insert(events.begin(), {5, 0, 3, Kind::together, 0.5F, 3, 0});
  EXPECT_EQ(trace_ahead(events, 4, 0, 0, kGroup).size(), 2u);
}

}  // namespace
}  // namespace warmside::hygiene
