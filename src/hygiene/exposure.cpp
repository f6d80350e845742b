#include "hygiene/exposure.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace warmside::hygiene {

Result<Traced> trace(std::span<const room::Entry> entries, const ContactRoom& room,
                     const Zone& zone, const TraceQuestion& question) {
  std::vector<Organism> organisms;
  for (std::size_t i = 0; i < kOrganisms; ++i) {
    const auto organism = static_cast<Organism>(i);
    if (!question.organism || *question.organism == organism) organisms.push_back(organism);
  }
  const Contacts contacts = contacts_of(entries, room, zone);
  Traced traced{{}, contacts.unknown};
  const auto asked = contacts.find({CarrierName::Kind::animal, question.animal});
  if (!asked) {
    const bool noted = std::any_of(entries.begin(), entries.end(), [&](const room::Entry& e) {
      return e.subject.kind == room::SubjectKind::animal && e.subject.id == question.animal;
    });
    if (noted) return traced;  // it met nobody
    return Problem{ProblemCode::unknown_name,
                   "no animal of this id in the notebook",
                   {"", 0, "--from"},
                   "the id of an animal",
                   question.animal};
  }
  const auto trace_it = question.direction == Direction::back ? trace_back : trace_ahead;
  std::map<std::string, Exposure> by_animal;
  // Groups that the same disinfections cut have the same chains.
  std::set<std::uint32_t> cuts;
  for (const ContactEvent& event : contacts.events) cuts.insert(event.cuts);
  std::map<std::vector<bool>, std::vector<Chain>> known;
  for (const Organism organism : organisms) {
    std::vector<bool> cut_by;
    for (const std::uint32_t cut : cuts) cut_by.push_back((cut & bit_of(organism)) != 0);
    const auto [found, fresh] = known.try_emplace(std::move(cut_by));
    if (fresh) {
      found->second = trace_it(contacts.events, contacts.carriers.size(), *asked,
                               question.at.unix_ms(), bit_of(organism));
    }
    for (const Chain& chain : found->second) {
      const CarrierName& reached = contacts.carriers[chain.carrier];
      if (reached.kind != CarrierName::Kind::animal) continue;
      Exposure& exposure = by_animal[reached.id];
      exposure.organisms.push_back(organism);
      if (chain.weight <= exposure.weight) continue;
      exposure.animal = reached.id;
      exposure.at = Instant::unix_ms(chain.at_ms);
      exposure.weight = chain.weight;
      exposure.chain.clear();
      for (const TraceStep& step : chain.steps) {
        exposure.chain.push_back({Instant::unix_ms(step.at_ms), contacts.ways[step.entry],
                                  contacts.carriers[step.from], contacts.carriers[step.to]});
      }
    }
  }
  for (auto& [animal, exposure] : by_animal) traced.exposed.push_back(std::move(exposure));
  std::stable_sort(traced.exposed.begin(), traced.exposed.end(),
                   [](const Exposure& a, const Exposure& b) {
                     return std::tuple(-a.weight, a.at) < std::tuple(-b.weight, b.at);
                   });
  return traced;
}

}  // namespace warmside::hygiene
