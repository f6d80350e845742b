#pragma once
// Contacts between animals, enclosures, tools and hands, as the notebook tells them: who lived
// where, what a tool touched, who ate another's leftovers, who was handled by the same hands one
// after the other; and what a disinfection took away. Made for trace.h.
//
// It sees only what was written down. A disinfection whose means, strength or time nobody wrote is
// unknown: it cuts nothing and is listed.

#include <array>
#include <map>
#include <span>
#include <string>
#include <vector>

#include "core/words.h"
#include "hygiene/disinfectants.h"
#include "hygiene/trace.h"
#include "room/entry.h"

namespace warmside::hygiene {

/// How something can pass from one to another.
enum class Way { enclosure, tub, water, tool, leftovers, hands, air };

/// How strongly, for the order in which to look; common practice, no source. Living together goes
/// before a shared tub or bowl, that before leftovers, tongs and the like, hands, and last the air
/// of one rack. Each step of a chain counts.
double weight_of(Way way);

/// How a tool carries.
Way way_of(room::ToolKind kind);

/// Whether hands touch what an entry of this kind is about.
bool is_handling(room::EntryKind kind);
/// Hands that rested longer are taken to be washed; common practice, no source.
inline constexpr std::int64_t kHandsRest_ms = 30 * 60'000;

/// One carrier: what it is and its id. Hands: those of a keeper, until they rest (kHandsRest_ms).
struct CarrierName {
  enum class Kind { animal, enclosure, tool, hands };
  Kind kind = Kind::animal;
  std::string id;
  auto operator<=>(const CarrierName&) const = default;
};

/// Something that could not be used, and why.
struct UnknownContact {
  Instant at;
  std::string what;
};

/// The contacts of a notebook.
struct Contacts {
  std::vector<CarrierName> carriers;  // by Carrier
  std::vector<ContactEvent> events;   // in order; entry: of `ways`
  std::vector<Way> ways;              // by ContactEvent::entry
  std::vector<UnknownContact> unknown;

  std::optional<Carrier> find(const CarrierName& name) const;
};

/// What may be known beside the entries.
struct ContactRoom {
  std::map<std::string, std::string> first_home;  // enclosure of each animal before its first move
  std::map<std::string, Instant> left;            // when an animal left the room
  std::map<std::string, Way> tools;               // by id; a tool that is not here is a tool
  std::map<std::string, std::string> rack;        // of each enclosure, whose air is shared
};
ContactRoom contact_room(const room::Room& room, const Zone& zone);

/// entries: in any order, struck ones left out. A disinfection cuts the organisms that it covers.
Contacts contacts_of(std::span<const room::Entry> entries, const ContactRoom& room,
                     const Zone& zone);
/// The bit of a group of organisms in ContactEvent::cuts.
constexpr std::uint32_t bit_of(Organism organism) {
  return 1U << static_cast<unsigned>(organism);
}

}  // namespace warmside::hygiene

namespace warmside {
template <>
struct Words<hygiene::Way> {
  static constexpr std::array<std::string_view, 7> list{
      "shared enclosure", "shared tub", "shared water",   "shared tool",
      "leftovers",        "hands",      "air of one rack"};
};
}  // namespace warmside
