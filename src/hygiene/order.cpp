#include "hygiene/order.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

namespace warmside::hygiene {
namespace {

using room::AnimalDay;

/// An animal's class and why.
std::pair<ServiceClass, std::string> class_of(const AnimalDay& animal,
                                              const std::set<room::AnimalId>& watched) {
  if (animal.ill_since) {
    return {ServiceClass::sick,
            fmt::format("{} is noted as ill since {}", room::called(*animal.animal),
                        to_text(*animal.ill_since))};
  }
  if (animal.quarantine_since) {
    return {ServiceClass::quarantine,
            fmt::format("{} is in quarantine since {}", room::called(*animal.animal),
                        to_text(*animal.quarantine_since))};
  }
  if (watched.contains(animal.animal->id)) {
    return {ServiceClass::observation,
            fmt::format("{} is under observation: see the findings", room::called(*animal.animal))};
  }
  if (animal.hatchling) {
    return {ServiceClass::young_and_clean_amphibians,
            fmt::format("{} is newly hatched", room::called(*animal.animal))};
  }
  if (is_amphibian(animal.profile.group)) {
    return {ServiceClass::young_and_clean_amphibians,
            "amphibians out of quarantine come first: their skin takes up what hands carry"};
  }
  if (animal.animal->breeding) {
    return {ServiceClass::breeding,
            fmt::format("{} is a healthy breeder", room::called(*animal.animal))};
  }
  return {ServiceClass::resident, "healthy residents"};
}

int rank(Group group) {
  switch (group) {
    case Group::frog:
      return 0;
    case Group::salamander:
      return 1;
    case Group::lizard:
      return 2;
    case Group::snake:
      return 3;
    case Group::chelonian:
      return 4;
    case Group::other:
      return 5;
  }
  return 5;
}

/// An enclosure on its way into the order.
struct Candidate {
  Place place;
  int group_rank = 6;
  bool amphibians = false;
  std::optional<Date> since;  // of quarantine or illness: the oldest goes first

  auto key() const {
    const room::Enclosure& e = *place.enclosure;
    return std::tuple(place.service_class, since.value_or(Date{}), group_rank, e.rack,
                      e.shelf.value_or(0), e.position.value_or(0), e.id);
  }
};

Candidate candidate_for(const room::Day& day, const room::Enclosure& enclosure,
                        const std::set<room::AnimalId>& watched) {
  Candidate candidate;
  candidate.place.enclosure = &enclosure;
  candidate.place.service_class = ServiceClass::resident;
  candidate.place.reason = "nobody lives here";
  bool first = true;
  for (const AnimalDay* animal : day.animals_in(enclosure.id)) {
    auto [service_class, reason] = class_of(*animal, watched);
    const auto since = service_class == ServiceClass::sick         ? animal->ill_since
                       : service_class == ServiceClass::quarantine ? animal->quarantine_since
                                                                   : std::nullopt;
    // Of several of one class the newest counts: a quarantine starts again with each arrival.
    if (first ||
        std::tie(service_class, since) > std::tie(candidate.place.service_class, candidate.since)) {
      candidate.place.service_class = service_class;
      candidate.place.reason = std::move(reason);
      candidate.since = since;
    }
    candidate.group_rank = first ? rank(animal->profile.group)
                                 : std::max(candidate.group_rank, rank(animal->profile.group));
    candidate.amphibians = candidate.amphibians || is_amphibian(animal->profile.group);
    first = false;
  }
  return candidate;
}

std::string tools_for(const room::Day& day, const Candidate& candidate) {
  std::string own;
  for (const room::Tool& tool : day.room->tools) {
    if (tool.enclosure != candidate.place.enclosure->id) continue;
    if (!own.empty()) own += ", ";
    own += word(tool.kind);
    if (!tool.mark.empty()) own += fmt::format(" ({})", tool.mark);
  }
  const bool apart = candidate.place.service_class >= ServiceClass::observation;
  if (!own.empty()) {
    return fmt::format("Tools: its own {}{}", own, apart ? " and nothing shared" : "");
  }
  return apart ? "Tools: it has none of its own; use disposable ones, or disinfect, rinse and dry "
                 "afterwards before anything else is touched"
               : "Tools: shared ones only when disinfected, rinsed and dry";
}

/// What to do on the way from the stop before to this one.
std::vector<std::string> before(const room::Day& day, const Candidate* previous,
                                const Candidate& next) {
  const ServiceClass to = next.place.service_class;
  const bool new_class = previous == nullptr || previous->place.service_class != to;
  const bool new_group = previous == nullptr || previous->group_rank != next.group_rank;
  std::vector<std::string> steps;
  if (to >= ServiceClass::quarantine) {
    steps.emplace_back(new_class ? "Hands: wash with soap and water; put on an overgarment kept "
                                   "for these stops"
                                 : "Hands: wash with soap and water");
    steps.emplace_back(next.amphibians
                           ? "Gloves: fresh, powder-free, rinsed with dechlorinated water"
                           : "Gloves: fresh");
  } else if (next.amphibians) {
    steps.emplace_back("Hands: wash with soap and water and rinse well; no sanitiser residue");
    steps.emplace_back("Gloves: fresh, powder-free, rinsed with dechlorinated water");
  } else if (new_class || new_group) {
    steps.emplace_back("Hands: wash with soap and water");
    if (to == ServiceClass::observation) steps.emplace_back("Gloves: fresh");
  } else {
    steps.emplace_back("Hands: sanitise and let dry");
    if (to == ServiceClass::observation) steps.emplace_back("Gloves: fresh");
  }
  steps.push_back(tools_for(day, next));
  return steps;
}

}  // namespace

std::vector<Place> order_of_service(const room::Day& day, const std::set<room::AnimalId>& watched) {
  std::vector<Candidate> candidates;
  for (const room::Enclosure& enclosure : day.room->enclosures) {
    if (!room::in_use(enclosure, day.date)) continue;
    candidates.push_back(candidate_for(day, enclosure, watched));
  }
  std::sort(candidates.begin(), candidates.end(),
            [](const Candidate& a, const Candidate& b) { return a.key() < b.key(); });
  std::vector<Place> order;
  order.push_back({nullptr,
                   ServiceClass::preparation,
                   "food and water are made with clean hands",
                   {"Hands: wash with soap and water"}});
  const Candidate* previous = nullptr;
  for (Candidate& candidate : candidates) {
    candidate.place.before = before(day, previous, candidate);
    order.push_back(candidate.place);
    previous = &candidate;
  }
  return order;
}

}  // namespace warmside::hygiene
