#include "hygiene/tools.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <tuple>
#include <utility>

namespace warmside::hygiene {
namespace {

using room::ToolKind;

/// What two enclosures have in common that may share tools: equal keys, and only those. In the
/// order of service.
auto sharing_key(const Standing& standing) {
  const bool alone = standing.service_class == ServiceClass::observation ||
                     standing.service_class == ServiceClass::sick;
  return std::tuple(standing.service_class, standing.since.value_or(Date{}),
                    exposure_rank(standing), standing.groups,
                    alone ? standing.enclosure->id : room::EnclosureId{});
}

/// Which enclosures need one of a kind.
bool is_for(ToolKind kind, const room::Day& day, const room::EnclosureId& enclosure) {
  const auto animals = day.animals_in(enclosure);
  return std::any_of(animals.begin(), animals.end(), [&](const room::AnimalDay* animal) {
    if (kind == ToolKind::hook) return animal->profile.group == Group::snake;
    if (kind != ToolKind::spray_bottle) return true;
    const auto holding = animal->situations();
    return std::find(holding.begin(), holding.end(), species::Situation::humid) != holding.end();
  });
}

/// Colours that are told apart, with bands when they are used up.
std::string colour(std::size_t number) {
  static constexpr std::array kColours{"white", "blue",  "green",  "yellow",
                                       "brown", "black", "orange", "red"};
  const std::size_t bands = number / kColours.size();
  const char* name = kColours[number % kColours.size()];
  return bands == 0 ? name : fmt::format("{} with {} band{}", name, bands, bands == 1 ? "" : "s");
}

/// A mark that tools of the set have and no others, else the next colour that no tool has.
void mark_sets(const room::Day& day, ToolPlan& plan) {
  std::set<std::string> taken;
  for (const room::Tool& tool : day.room->tools) {
    if (tool.mark.empty() || !taken.insert(tool.mark).second) continue;
    const auto mine = [&](const ToolSet& set) {
      return std::all_of(day.room->tools.begin(), day.room->tools.end(), [&](const auto& other) {
        return other.mark != tool.mark || plan.set_of(other.enclosure) == &set;
      });
    };
    const auto set = std::find_if(plan.sets.begin(), plan.sets.end(), mine);
    if (set == plan.sets.end() || set->marked) continue;
    set->mark = tool.mark;
    set->marked = true;
  }
  std::size_t number = 0;
  for (ToolSet& set : plan.sets) {
    while (set.mark.empty()) {
      const std::string next = colour(number++);
      if (!taken.contains(next)) set.mark = next;
    }
  }
}

ToolNeed need_of(ToolKind kind, const room::Day& day, const ToolPlan& plan) {
  ToolNeed need;
  need.kind = kind;
  std::set<const ToolSet*> provided;
  for (const room::Tool& tool : day.room->tools) {
    if (tool.kind != kind) continue;
    need.there.push_back(&tool);
    const ToolSet* set = plan.set_of(tool.enclosure);
    if (set == nullptr) ++need.shared;
    provided.insert(set);
  }
  for (std::size_t i = 0; i < plan.sets.size(); ++i) {
    const ToolSet& set = plan.sets[i];
    if (std::none_of(set.enclosures.begin(), set.enclosures.end(),
                     [&](const auto& id) { return is_for(kind, day, id); })) {
      continue;
    }
    need.wanted_by.push_back(i);
    if (!provided.contains(&set)) need.without.push_back(i);
  }
  return need;
}

/// The row of a table for one ingredient that reaches an organism with the least strength, and of
/// several such in the least time; null: none does.
const DisinfectantFact* mildest(const std::string& ingredient, Organism organism) {
  const DisinfectantFact* best = nullptr;
  const auto strength = [](const DisinfectantFact& fact) {
    return std::tuple(fact.heat ? fact.heat->kelvin() : fact.strength->share(), fact.minutes);
  };
  for (const DisinfectantFact& fact : disinfectants()) {
    if (fact.ingredient != ingredient) continue;
    const auto& works = fact.works_on;
    if (std::find(works.begin(), works.end(), organism) == works.end()) continue;
    if (best == nullptr || strength(fact) < strength(*best)) best = &fact;
  }
  return best;
}

}  // namespace

int ToolNeed::missing() const {
  return std::max(0, static_cast<int>(without.size()) - shared);
}

const ToolSet* ToolPlan::set_of(const room::EnclosureId& enclosure) const {
  for (const ToolSet& set : sets) {
    if (std::find(set.enclosures.begin(), set.enclosures.end(), enclosure) !=
        set.enclosures.end()) {
      return &set;
    }
  }
  return nullptr;
}

ToolPlan tool_plan(const room::Day& day, const std::set<room::AnimalId>& watched) {
  ToolPlan plan;
  using Key = decltype(sharing_key(std::declval<const Standing&>()));
  std::map<Key, ToolSet> sets;
  for (const Standing& standing : standings(day, watched)) {
    if (standing.groups.empty()) continue;
    ToolSet& set = sets[sharing_key(standing)];
    set.enclosures.push_back(standing.enclosure->id);
    set.service_class = standing.service_class;
    set.groups = standing.groups;
    set.since = standing.since;
  }
  for (auto& [key, set] : sets) {
    std::sort(set.enclosures.begin(), set.enclosures.end());
    plan.sets.push_back(std::move(set));
  }
  mark_sets(day, plan);
  for (const ToolKind kind : {ToolKind::tongs, ToolKind::tub, ToolKind::scoop, ToolKind::bin}) {
    plan.kinds.push_back(need_of(kind, day, plan));
  }
  for (const ToolKind kind : {ToolKind::hook, ToolKind::spray_bottle}) {
    ToolNeed need = need_of(kind, day, plan);
    if (!need.there.empty()) plan.kinds.push_back(std::move(need));
  }
  return plan;
}

std::vector<Organism> everyday_organisms(const std::set<Group>& groups) {
  std::set<Organism> found;
  for (const Group group : groups) {
    found.insert(Organism::bacteria);
    if (is_amphibian(group)) {
      found.insert({Organism::ranavirus, Organism::bd});
      if (group == Group::salamander) found.insert(Organism::bsal);
    } else {
      found.insert({Organism::enveloped_viruses, Organism::other_viruses});
    }
  }
  return {found.begin(), found.end()};
}

std::vector<Disinfection> disinfections_against(std::span<const Organism> organisms) {
  std::vector<Disinfection> found;
  std::set<std::string> seen;
  for (const DisinfectantFact& named : disinfectants()) {
    if (!seen.insert(named.ingredient).second) continue;
    Disinfection with{named.ingredient, {}, {}, 0, Trust::keeper};
    const bool all = std::all_of(organisms.begin(), organisms.end(), [&](Organism organism) {
      const DisinfectantFact* fact = mildest(named.ingredient, organism);
      if (fact == nullptr) return false;
      // More strength and more time count as well.
      with.strength = std::max(with.strength, fact->strength);
      with.heat = std::max(with.heat, fact->heat);
      with.minutes = std::max(with.minutes, fact->minutes);
      with.trust = std::max(with.trust, fact->trust);
      return true;
    });
    if (all && !organisms.empty()) found.push_back(std::move(with));
  }
  return found;
}

}  // namespace warmside::hygiene
