#include "hygiene/order.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <map>
#include <tuple>

#include "hygiene/sequence.h"

namespace warmside::hygiene {
namespace {

/// A stop on its way into the order.
struct Candidate {
  Standing standing;
  Visit visit;
  int rank = 0;

  ServiceClass service_class() const { return standing.service_class; }
  /// What no cost may break.
  auto stage() const { return std::tuple(standing.service_class, standing.since.value_or(Date{})); }
  /// Of several best orders the first by this is taken.
  auto key() const {
    const room::Enclosure& e = *standing.enclosure;
    return std::tuple(stage(), rank, !standing.settled, e.rack, e.shelf.value_or(0),
                      e.position.value_or(0), e.id);
  }
};

/// How many shelves or places apart; one that nobody noted counts as the next.
int apart(std::optional<int> a, std::optional<int> b) {
  return a && b ? std::abs(*a - *b) : a || b ? 1 : 0;
}

int walking(const room::Enclosure& a, const room::Enclosure& b, const OrderPrices& prices) {
  const bool same_place = a.place == b.place && !a.place.empty();
  if (a.rack != b.rack || (a.rack.empty() && !same_place)) {
    return same_place ? prices.next_rack : prices.elsewhere;
  }
  return std::min(prices.elsewhere, apart(a.shelf, b.shelf) * prices.shelf +
                                        apart(a.position, b.position) * prices.position);
}

template <class Ids>
int not_in(const Ids& wanted, const Ids& at_hand) {
  return static_cast<int>(std::count_if(wanted.begin(), wanted.end(),
                                        [&](const auto& id) { return !at_hand.contains(id); }));
}

int fetching(const Visit& at_hand, const Visit& next, const OrderPrices& prices) {
  return not_in(next.jars, at_hand.jars) * prices.jar +
         not_in(next.thawed, at_hand.thawed) * prices.thawed;
}

/// Whether hands are washed before this stop whatever came before.
bool always_washed(const Candidate& stop) {
  return stop.standing.amphibians() || stop.service_class() >= ServiceClass::quarantine;
}

/// The price of going from one stop to another.
int change_price(const Candidate& from, const Candidate& to, const OrderPrices& prices) {
  int price = walking(*from.standing.enclosure, *to.standing.enclosure, prices) +
              fetching(from.visit, to.visit, prices);
  if (from.service_class() != to.service_class()) return price;
  if (from.rank != to.rank) {
    price += prices.other_group + std::max(0, from.rank - to.rank) * prices.back_a_group;
    if (!always_washed(to)) price += prices.wash;
    price += prices.change_tools;
  } else if (!from.standing.settled && to.standing.settled) {
    price += prices.to_settled;
  }
  return price;
}

SequenceProblem problem_of(const std::vector<Candidate>& candidates, const OrderPrices& prices) {
  SequenceProblem problem;
  for (const Candidate& candidate : candidates) {
    const bool same =
        !problem.stage.empty() && candidates[problem.stage.size() - 1].stage() == candidate.stage();
    problem.stage.push_back(problem.stage.empty() ? 0 : problem.stage.back() + (same ? 0 : 1));
    problem.rank.push_back(candidate.rank);
    problem.first.push_back(fetching({}, candidate.visit, prices));
  }
  problem.change.reserve(candidates.size() * candidates.size());
  for (const Candidate& from : candidates) {
    for (const Candidate& to : candidates) {
      problem.change.push_back(change_price(from, to, prices));
    }
  }
  return problem;
}

/// candidates: sorted by key().
Sequence sequence_of(const std::vector<Candidate>& candidates, const OrderPrices& prices) {
  if (candidates.size() <= kMostStops) return best_sequence(problem_of(candidates, prices));
  Sequence sorted;
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    sorted.order.push_back(static_cast<int>(i));
    sorted.cost += i == 0 ? fetching({}, candidates[i].visit, prices)
                          : change_price(candidates[i - 1], candidates[i], prices);
  }
  return sorted;
}

std::string tools_for(const room::Day& day, const Candidate& candidate) {
  std::string own;
  for (const room::Tool& tool : day.room->tools) {
    if (tool.enclosure != candidate.standing.enclosure->id) continue;
    if (!own.empty()) own += ", ";
    own += word(tool.kind);
    if (!tool.mark.empty()) own += fmt::format(" ({})", tool.mark);
  }
  const bool apart = candidate.service_class() >= ServiceClass::observation;
  if (!own.empty()) {
    return fmt::format("Tools: its own {}{}", own, apart ? " and nothing shared" : "");
  }
  return apart ? "Tools: it has none of its own; use disposable ones, or disinfect, rinse and dry "
                 "afterwards before anything else is touched"
               : "Tools: shared ones only when disinfected, rinsed and dry";
}

/// "Jar: take calcium (calcium)", of those that are not at hand; empty: none.
std::string jars_for(const room::Day& day, const Candidate* previous, const Candidate& next) {
  std::string taken;
  for (const room::JarId& id : next.visit.jars) {
    if (previous != nullptr && previous->visit.jars.contains(id)) continue;
    const room::Jar* jar = room::find(day.room->jars, id);
    if (!taken.empty()) taken += " and ";
    taken += id.text();
    if (jar != nullptr) taken += fmt::format(" ({})", word(jar->contents));
  }
  return taken.empty() ? "" : "Jar: take " + taken;
}

const char* overgarment_for(const Candidate* previous, ServiceClass to) {
  if (previous == nullptr || previous->service_class() < ServiceClass::quarantine) {
    return "Hands: wash with soap and water; put on an overgarment kept for these stops";
  }
  return previous->service_class() == to
             ? "Hands: wash with soap and water"
             : "Hands: wash with soap and water; change the overgarment for one kept for the sick";
}

/// What to do on the way from the stop before to this one.
std::vector<std::string> before(const room::Day& day, const Candidate* previous,
                                const Candidate& next) {
  const ServiceClass to = next.service_class();
  const bool same =
      previous != nullptr && previous->service_class() == to && previous->rank == next.rank;
  std::vector<std::string> steps;
  if (to >= ServiceClass::quarantine) {
    steps.emplace_back(overgarment_for(previous, to));
  } else if (next.standing.amphibians()) {
    steps.emplace_back("Hands: wash with soap and water and rinse well; no sanitiser residue");
  } else {
    steps.emplace_back(same ? "Hands: sanitise and let dry" : "Hands: wash with soap and water");
  }
  if (next.standing.amphibians()) {
    steps.emplace_back("Gloves: fresh, powder-free, rinsed with dechlorinated water");
  } else if (to >= ServiceClass::observation) {
    steps.emplace_back("Gloves: fresh");
  }
  if (std::string jars = jars_for(day, previous, next); !jars.empty()) {
    steps.push_back(std::move(jars));
  }
  steps.push_back(tools_for(day, next));
  return steps;
}

}  // namespace

std::vector<Visit> every_enclosure(const room::Day& day) {
  std::vector<Visit> visits;
  for (const room::Enclosure& enclosure : day.room->enclosures) {
    if (room::in_use(enclosure, day.date)) visits.push_back({enclosure.id, {}, {}});
  }
  return visits;
}

ServiceOrder order_of_service(const room::Day& day, const std::set<room::AnimalId>& watched,
                              std::span<const Visit> visits, const OrderPrices& prices) {
  std::map<room::EnclosureId, Visit> by_enclosure;
  for (const Visit& visit : visits) {
    Visit& whole = by_enclosure[visit.enclosure];
    whole.jars.insert(visit.jars.begin(), visit.jars.end());
    whole.thawed.insert(visit.thawed.begin(), visit.thawed.end());
  }
  std::vector<Candidate> candidates;
  for (Standing& standing : standings(day, watched)) {
    const auto visit = by_enclosure.find(standing.enclosure->id);
    if (visit == by_enclosure.end()) continue;
    const int rank = exposure_rank(standing);
    candidates.push_back({std::move(standing), std::move(visit->second), rank});
  }
  std::sort(candidates.begin(), candidates.end(),
            [](const Candidate& a, const Candidate& b) { return a.key() < b.key(); });
  const Sequence sequence = sequence_of(candidates, prices);
  ServiceOrder order;
  order.cost_s = sequence.cost;
  order.bound_s = sequence.bound;
  order.places.push_back({nullptr,
                          ServiceClass::preparation,
                          "food and water are made with clean hands",
                          {"Hands: wash with soap and water"}});
  const Candidate* previous = nullptr;
  for (const int stop : sequence.order) {
    const Candidate& next = candidates[static_cast<std::size_t>(stop)];
    order.places.push_back({next.standing.enclosure, next.service_class(), next.standing.reason,
                            before(day, previous, next)});
    previous = &next;
  }
  return order;
}

}  // namespace warmside::hygiene
