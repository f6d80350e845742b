#include "hygiene/service_class.h"

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

bool is_settled(const room::Day& day, const AnimalDay& animal) {
  const room::Entry* ended =
      day.history->latest(room::subject_of(*animal.animal), room::EntryKind::quarantine_ended);
  return ended == nullptr || day.date - day.date_of(*ended) >= kSettling_d;
}

Standing standing_of(const room::Day& day, const room::Enclosure& enclosure,
                     const std::set<room::AnimalId>& watched) {
  Standing standing;
  standing.enclosure = &enclosure;
  for (const AnimalDay* animal : day.animals_in(enclosure.id)) {
    auto [service_class, reason] = class_of(*animal, watched);
    const auto since = service_class == ServiceClass::sick         ? animal->ill_since
                       : service_class == ServiceClass::quarantine ? animal->quarantine_since
                                                                   : std::nullopt;
    // Of several of one class the newest counts: a quarantine starts again with each arrival.
    if (standing.groups.empty() ||
        std::tie(service_class, since) > std::tie(standing.service_class, standing.since)) {
      standing.service_class = service_class;
      standing.reason = std::move(reason);
      standing.since = since;
    }
    standing.groups.insert(animal->profile.group);
    standing.settled = standing.settled && is_settled(day, *animal);
  }
  return standing;
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

}  // namespace

int exposure_rank(const Standing& standing) {
  int most = standing.groups.empty() ? 6 : 0;
  for (const Group group : standing.groups) most = std::max(most, rank(group));
  return most;
}

std::vector<Standing> standings(const room::Day& day, const std::set<room::AnimalId>& watched) {
  std::vector<Standing> found;
  for (const room::Enclosure& enclosure : day.room->enclosures) {
    if (room::in_use(enclosure, day.date)) found.push_back(standing_of(day, enclosure, watched));
  }
  return found;
}

}  // namespace warmside::hygiene
