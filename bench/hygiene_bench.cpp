// The order of stops: how fast and how near its bound; and tracing through two million contacts.
// The figures stand in docs/performance.md and docs/models/hygiene.md.
//
//   cmake --preset bench && cmake --build --preset bench
//   build/bench/bench/hygiene_bench            (some seconds)
//
// Rooms: through order_of_service, invented: racks of five shelves with four tubs each, six kinds
// of animals each with racks of its own or mixed in all racks, two thirds fed, most of those dusted
// from one of four jars or fed from one of three batches of frozen prey; one in ten under
// observation, one in fifteen in quarantine, one in thirty sick. The rest: sequence problems of
// tests/support/sequence_problems.h, a room's prices in one class and prices drawn from 0..999.
// Tracing: five years of sixty animals, each touched eighteen times a day by its own tongs, by one
// of six shared tubs or by the keeper's hands; one contact in thirty disinfects a tool.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <random>

#include "hygiene/order.h"
#include "hygiene/trace.h"
#include "support/room_builder.h"
#include "support/sequence_problems.h"

namespace {

using namespace warmside;
using test::draw;

struct Outcome {
  double ms = 0, gap_pct = 0;
};

template <class Solve>
Outcome timed(Solve solve) {
  const auto start = std::chrono::steady_clock::now();
  const auto [cost, bound] = solve();
  const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
  return {took.count(),
          bound == 0 ? 0 : 100 * static_cast<double>(cost - bound) / static_cast<double>(bound)};
}

void print(const char* name, std::vector<Outcome> outcomes) {
  const auto of = [&](double Outcome::*field, double share) {
    std::sort(outcomes.begin(), outcomes.end(),
              [&](const Outcome& a, const Outcome& b) { return a.*field < b.*field; });
    return outcomes[static_cast<std::size_t>(share * static_cast<double>(outcomes.size() - 1))].*
           field;
  };
  const auto proven = std::count_if(outcomes.begin(), outcomes.end(),
                                    [](const Outcome& one) { return one.gap_pct == 0; });
  fmt::print("{:48} {:6.1f} {:6.1f} ms   gap {:5.2f} {:5.2f} %   proven {} of {}\n", name,
             of(&Outcome::ms, 0.5), of(&Outcome::ms, 1), of(&Outcome::gap_pct, 0.5),
             of(&Outcome::gap_pct, 1), proven, outcomes.size());
}

/// An invented room of so many enclosures, its stops, and who is watched.
struct Scene {
  test::TestDay test;
  std::vector<hygiene::Visit> visits;
  std::set<room::AnimalId> watched;
};

Scene invented(std::mt19937& random, int enclosures, bool mixed) {
  static constexpr const char* kSpecies[] = {"corn_snake", "leopard_gecko",     "royal_python",
                                             "corn_snake", "hermanns_tortoise", "whites_tree_frog"};
  test::RoomBuilder b;
  Scene scene;
  for (int i = 0; i < enclosures; ++i) {
    const std::string id = fmt::format("e{:03}", i), animal = "a" + id;
    const int rack = i / 20;
    b.enclosure(id.c_str(), [&](room::Enclosure& e) {
      e.rack = fmt::format("rack-{}", rack);
      e.place = rack % 2 == 0 ? "east wall" : "west wall";
      e.shelf = i % 20 / 4 + 1;
      e.position = i % 4 + 1;
    });
    const char* species = kSpecies[mixed ? draw(random, 6) : i / 10 % 6];
    b.animal(animal.c_str(), species, [&](room::Animal& a) {
      a.breeding = draw(random, 4) == 0;
      if (draw(random, 15) == 0) a.arrived = test::date("2026-11-10");
    });
    if (draw(random, 30) == 0) b.entry("2026-11-20", room::EntryKind::ill, animal);
    if (draw(random, 15) == 0) {
      b.entry("2026-11-10", room::EntryKind::quarantine_started, animal);
    }
    if (draw(random, 10) == 0) scene.watched.insert(room::AnimalId::trusted(animal));
    hygiene::Visit& visit = scene.visits.emplace_back();
    visit.enclosure = room::EnclosureId::trusted(id);
    const int fed = draw(random, 9);
    if (fed < 4) visit.jars.insert(room::JarId::trusted(fmt::format("jar-{}", draw(random, 4))));
    if (fed == 4 || fed == 5) {
      visit.thawed.insert(room::SupplyId::trusted(fmt::format("prey-{}", draw(random, 3))));
    }
  }
  scene.test = b.day("2026-11-25");
  return scene;
}

std::vector<Outcome> rooms(int enclosures, bool mixed, int count) {
  std::mt19937 random(1);
  std::vector<Outcome> outcomes;
  for (int i = 0; i < count; ++i) {
    const Scene scene = invented(random, enclosures, mixed);
    outcomes.push_back(timed([&] {
      const auto order = hygiene::order_of_service(scene.test.day, scene.watched, scene.visits);
      return std::pair(order.cost_s, order.bound_s);
    }));
  }
  return outcomes;
}

template <class Draw>
std::vector<Outcome> problems(Draw problem, int count) {
  std::mt19937 random(1);
  std::vector<Outcome> outcomes;
  for (int i = 0; i < count; ++i) {
    const hygiene::SequenceProblem drawn = problem(random);
    outcomes.push_back(timed([&] {
      const auto found = hygiene::best_sequence(drawn);
      return std::pair(found.cost, found.bound);
    }));
  }
  return outcomes;
}

void trace_five_years() {
  constexpr std::uint32_t kAnimals = 60, kTubs = 6, kHands = 2 * kAnimals + kTubs;
  constexpr std::int64_t kDay_ms = 86'400'000;
  std::mt19937 random(1);
  std::vector<hygiene::ContactEvent> events;
  for (int day = 0; day < 1826; ++day) {
    for (int n = 0; n < 18 * static_cast<int>(kAnimals); ++n) {
      hygiene::ContactEvent event;
      event.at_ms = day * kDay_ms + n * 30'000;
      event.b = static_cast<hygiene::Carrier>(draw(random, kAnimals));
      switch (draw(random, 3)) {
        case 0:
          event.a = kAnimals + event.b;
          event.weight = 0.5F;
          break;
        case 1:
          event.a = 2 * kAnimals + static_cast<hygiene::Carrier>(draw(random, kTubs));
          event.weight = 0.7F;
          break;
        default:
          event.a = kHands;
          event.weight = 0.2F;
      }
      if (draw(random, 30) == 0) {
        event.kind = hygiene::ContactEvent::Kind::cut;
        event.cuts = 1;
      }
      event.entry = static_cast<std::uint32_t>(events.size());
      events.push_back(event);
    }
  }
  const auto took = [](auto trace) {
    std::vector<double> ms;
    std::size_t reached = 0;
    for (int i = 0; i < 5; ++i) {
      const auto start = std::chrono::steady_clock::now();
      reached = trace().size();
      ms.push_back(
          std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start)
              .count());
    }
    std::sort(ms.begin(), ms.end());
    return std::tuple(ms[2], ms[4], reached);
  };
  const std::int64_t end = 1826 * kDay_ms;
  const auto [ahead, ahead_worst, exposed] =
      took([&] { return hygiene::trace_ahead(events, kHands + 1, 0, 0, 1); });
  const auto [back, back_worst, sources] =
      took([&] { return hygiene::trace_back(events, kHands + 1, 0, end, 1); });
  fmt::print("tracing {} contacts, ahead {:39.1f} {:6.1f} ms   {} reached\n", events.size(), ahead,
             ahead_worst, exposed);
  fmt::print("tracing {} contacts, back  {:39.1f} {:6.1f} ms   {} reached\n", events.size(), back,
             back_worst, sources);
}

}  // namespace

int main() {
  fmt::print("{:48} median and worst\n", "");
  print("room of 60, kinds in racks of their own", rooms(60, false, 50));
  print("room of 60, kinds mixed in all racks", rooms(60, true, 50));
  print("room of 20, mixed", rooms(20, true, 50));
  print("room of 300, mixed", rooms(300, true, 10));
  print("room of 600, mixed", rooms(600, true, 2));
  print("60 stops of one class, a room's prices",
        problems([](auto& random) { return test::room_like_problem(random, 60, 1); }, 50));
  print("60 stops of one class and group, a room's prices",
        problems([](auto& random) { return test::room_like_problem(random, 60, 1, 0, 1); }, 50));
  print("60 stops of five classes, a room's prices",
        problems([](auto& random) { return test::room_like_problem(random, 60, 5, 50); }, 50));
  print("60 stops of one class, prices at random",
        problems([](auto& random) { return test::any_sequence_problem(random, 60, 1, 999); }, 50));
  trace_five_years();
}
