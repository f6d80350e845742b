#pragma once
// Whose tools are whose, what may be shared after which disinfection, and the fewest tools with
// which a room stays separated. Advice for a keeper who cannot buy one of each.
//
// Enclosures share a set of tools, disinfected after each, where they are of one class of service
// and hold the same groups of animals; in quarantine only those of one arrival and group; the sick
// and those under observation share nothing. To share is an equivalence, so the sets are its
// classes, and fewer are impossible: one enclosure out of each set, no two of them may share.
//
// Source: own tools in quarantine, or disinfected before reuse: aza2007 in docs/sources.bib; the
// rest common practice, no source. Which tool is for what, and colours: the same.

#include <optional>
#include <set>
#include <span>
#include <string>
#include <vector>

#include "hygiene/disinfectants.h"
#include "hygiene/service_class.h"

namespace warmside::hygiene {

/// Enclosures that share one set of tools.
struct ToolSet {
  std::vector<room::EnclosureId> enclosures;  // in the order of their ids
  ServiceClass service_class = ServiceClass::resident;
  std::set<Group> groups;
  std::optional<Date> since;  // of quarantine
  std::string mark;           // that its tools have, or a colour of the plan's; no other set's
  bool marked = false;        // one of its tools has the mark already
};

/// One kind of tool in the room.
struct ToolNeed {
  room::ToolKind kind = room::ToolKind::tongs;
  std::vector<const room::Tool*> there;  // all of the kind, in the room's order
  std::vector<std::size_t> wanted_by;    // sets of the plan that need one
  std::vector<std::size_t> without;      // those in which no enclosure has its own
  int shared = 0;                        // of those there: belong to no enclosure that is in a set
  int missing() const;                   // to get, when each shared one is given to a set
};

struct ToolPlan {
  std::vector<ToolSet> sets;    // in the order of service
  std::vector<ToolNeed> kinds;  // tongs, tubs, scoops, bins; others where the room has any
  /// The set of an enclosure; null: nobody lives there.
  const ToolSet* set_of(const room::EnclosureId& enclosure) const;
};

/// The plan of a day. `watched`: as in standings(). The room must outlive it.
/// Hooks are for snakes, spray bottles for enclosures that are misted. Bowls are left out: each
/// stays in its enclosure.
ToolPlan tool_plan(const room::Day& day, const std::set<room::AnimalId>& watched);

/// What a disinfection between two enclosures of one set must reach, cleaned first. Reptiles:
/// bacteria and viruses; frogs: bacteria, ranavirus, Bd; salamanders Bsal besides. From memory.
std::vector<Organism> everyday_organisms(const std::set<Group>& groups);

/// One ingredient, as weak and as short as it may be to reach all that was asked for.
struct Disinfection {
  std::string ingredient;
  std::optional<Percentage> strength;  // of the active ingredient in the mixture, or
  std::optional<Temperature> heat;
  int minutes = 0;
  Trust trust = Trust::common_practice;  // of the least sure row
};
/// Those of data/disinfectants.csv, alone, that reach every one; in the table's order.
std::vector<Disinfection> disinfections_against(std::span<const Organism> organisms);

}  // namespace warmside::hygiene
