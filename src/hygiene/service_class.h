#pragma once
// Which class of service an enclosure stands in and why: computed from the notebook and from what
// the other modules watch. Made for order.h and tools.h.
//
// Source of the classes: shelter and zoo medicine, common practice; that quarantine comes after the
// residents with tools of its own: AZA 2007 standards as quoted on a public page (docs/sources.bib,
// aza2007).

#include <optional>
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

/// How an enclosure stands in hygiene on a day.
struct Standing {
  const room::Enclosure* enclosure = nullptr;
  ServiceClass service_class = ServiceClass::resident;
  std::string reason = "nobody lives here";
  std::optional<Date> since;  // of quarantine or illness: of several animals the newest counts
  std::set<Group> groups;     // of its animals
  bool settled = true;        // no animal of it left quarantine in the last kSettling_d days

  bool amphibians() const {
    return groups.contains(Group::frog) || groups.contains(Group::salamander);
  }
};
/// After quarantine an animal is still taken to be more exposed than the others of its class for as
/// long; common practice, no source.
inline constexpr int kSettling_d = 30;

/// Every enclosure in use on the day, in the order of the room's records. `watched`: animals that a
/// module's finding puts under observation. An enclosure stands where the most exposed of its
/// animals puts it; one without animals comes with the residents.
std::vector<Standing> standings(const room::Day& day, const std::set<room::AnimalId>& watched);

/// From the least to the most exposed inside a class, amphibians first, since their skin takes up
/// what hands carry: frogs 0, salamanders, lizards, snakes, chelonians, others; one more where
/// nobody lives. Of several groups the most exposed. Common practice, no source.
int exposure_rank(const Standing& standing);

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
