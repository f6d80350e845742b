#pragma once
// Questions about a room's records that more than one module asks: find a record, the profile that
// holds for an animal, where an animal lives now, and whether the records fit together.

#include <algorithm>
#include <string>
#include <vector>

#include "room/history.h"
#include "room/records.h"

namespace warmside::room {

/// The record with this id, or null. `records` are in id order, as the book gives them.
template <class Record>
const Record* find(const std::vector<Record>& records, const decltype(Record::id)& id) {
  const auto at = std::lower_bound(records.begin(), records.end(), id,
                                   [](const Record& r, const auto& i) { return r.id < i; });
  return at != records.end() && at->id == id ? &*at : nullptr;
}

/// What people call a record: its name, or its id where it has none.
template <class Record>
const std::string& called(const Record& record) {
  return record.name.empty() ? record.id.text() : record.name;
}

/// Whether a thing that can be retired is in use on a day.
template <class Record>
bool in_use(const Record& record, Date day) {
  return !record.retired || *record.retired > day;
}

/// Puts every list of the room in id order.
void sort_records(Room& room);

/// The animal with this id, or else the only one with this name (small and capital letters alike).
/// A name that fits none or several is a Problem that lists what there is.
Result<const Animal*> find_animal(const Room& room, std::string_view id_or_name);
Result<const Enclosure*> find_enclosure(const Room& room, std::string_view id_or_name);

Subject subject_of(const Animal& animal);
Subject subject_of(const Enclosure& enclosure);

/// The profile of a species, built in or the room's own, or null.
const species::Profile* find_species(const Room& room, const species::SpeciesId& id,
                                     species::Profile& own_storage);

/// What holds for this animal: its species' profile with the keeper's overrides laid over it,
/// those for the species first. Overrides that cannot be read are passed over (check_room tells).
species::Profile profile_of(const Room& room, const Animal& animal);

/// Where the animal lives at the moment of the history: its latest move, or else its record.
/// Empty when nobody has said.
EnclosureId home_of(const Animal& animal, const History& history);

/// The room's zone, or UTC where its record names none that is known.
Zone zone_of(const Room& room);

/// Whether the animal is in the room on a day.
bool is_here(const Animal& animal, Date day);

/// A Problem and the record and field it stands in.
struct RecordProblem {
  std::string kind;  // "animal"
  std::string id;    // empty for the room itself
  std::string field;
  Problem problem;
};

/// Everything that does not fit: unknown references, species, keys, zones; values that cannot be;
/// the same id twice. The room's lists must be in id order.
std::vector<RecordProblem> check_room(const Room& room);

}  // namespace warmside::room
