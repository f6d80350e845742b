#pragma once
// What the notebook of the last weeks shows to have gone from one household to another: a tool
// without a disinfection between, leftovers, an enclosure shared with an animal in quarantine,
// hands that came from it. For findings.h; contacts.h and exposure.h follow whole chains instead.
//
// It sees what Day::history recalls (room/day.h): tools of 30 days, hands of today and yesterday.
// An animal counts as quarantined or ill only as long as it is so on the day.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "hygiene/contacts.h"
#include "hygiene/service_class.h"
#include "room/day.h"

namespace warmside::hygiene {

/// The animals of one enclosure at a moment; or one animal of which nobody says where it lives.
struct Household {
  std::string id;  // of the enclosure or the animal
  std::vector<const room::AnimalDay*> animals;
  ServiceClass service_class = ServiceClass::resident;  // or quarantine, or sick
  const room::AnimalDay* most_exposed = nullptr;        // who makes it so; null: none
};

/// Who lived with whom. `day` must outlive it.
class Households {
 public:
  explicit Households(const room::Day& day);
  /// Of an animal or an enclosure; of nothing else.
  Household of(const room::Subject& subject, Instant at) const;

 private:
  const room::Day& day_;
  std::map<std::string, std::vector<const room::AnimalDay*>> lived_;  // ever, by enclosure
};

/// Something that went from one household to another.
struct Transfer {
  Way way = Way::tool;
  const room::Tool* tool = nullptr;  // null: leftovers, enclosure, hands
  Household from, to;
  room::Subject from_subject, to_subject;  // what was touched
  std::optional<Instant> from_at;          // empty: a tool that belongs there; an animal there
  Instant at;
  std::vector<std::string> passed_over;  // disinfections between that count for nothing, and why

  /// From quarantine or illness to one that is served before it.
  bool is_uphill() const { return from.service_class > to.service_class; }
};

/// By tools, leftovers and shared enclosures in the last 30 days, oldest first; what soiled a tool
/// may be older. Of several whom a tool touched before, the most exposed. A tool of its own carries
/// from its enclosure while somebody lives there, until it is disinfected. A disinfection that
/// covers any group of organisms of the table counts. An enclosure counts as shared where a healthy
/// animal lives with one in quarantine or ill, or came or went since that began; always uphill.
std::vector<Transfer> transfers_of(const room::Day& day);

/// Healthy animals tended after quarantined or sick ones by the same hands, today or yesterday,
/// oldest first: by the times written, with no rest (kHandsRest_ms) between. Entries without a
/// keeper count in a room with at most one.
std::vector<Transfer> hands_of(const room::Day& day);

}  // namespace warmside::hygiene
