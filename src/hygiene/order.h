#pragma once
// The order of service: cleanest first, so that hands, water and tools carry nothing from one
// animal to another. And what to do before each stop: hands, gloves, tools.
//
// A plain version: classes are a hard order; inside a class frogs, salamanders, lizards, snakes and
// chelonians stay apart, then racks and shelves follow one another. It weighs no walking distance
// and shares no thawed prey; it never mixes classes.
//
// Source of the classes: shelter and zoo medicine, common practice; that quarantine comes after the
// residents with tools of its own: AZA 2007 standards as quoted on a public page (docs/sources.bib,
// aza2007).

#include <set>
#include <string>
#include <vector>

#include "core/words.h"
#include "room/day.h"

namespace warmside::hygiene {

/// In the order in which they are served.
enum class ServiceClass {
  preparation,
  young_and_clean_amphibians,
  breeding,
  resident,
  observation,
  quarantine,
  sick
};

/// One enclosure's place in the order.
struct Place {
  const room::Enclosure* enclosure = nullptr;  // null: preparation, with no animal
  ServiceClass service_class = ServiceClass::preparation;
  std::string reason;               // why it stands here
  std::vector<std::string> before;  // what to do first: "Hands: ...", "Gloves: ...", "Tools: ..."
};

/// Every enclosure in use in the order of service, preparation first. `watched`: animals that a
/// module's finding puts under observation. The same day always gives the same order.
/// An enclosure stands where the most exposed of its animals puts it; one without animals comes
/// with the residents.
std::vector<Place> order_of_service(const room::Day& day, const std::set<room::AnimalId>& watched);

}  // namespace warmside::hygiene

namespace warmside {
template <>
struct Words<hygiene::ServiceClass> {
  static constexpr std::array<std::string_view, 7> list{
      "preparation", "young and clean amphibians", "breeding",
      "resident",    "under observation",          "quarantine",
      "sick"};
};
}  // namespace warmside
