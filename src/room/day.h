#pragma once
// One day in the room: the records, the notebook's history up to that day, and what follows from
// both for each animal (where it lives, whether it is in quarantine, in shed, in brumation, ...).
// Every module judges a Day; none looks at a clock or a database.

#include <optional>
#include <vector>

#include "room/history.h"
#include "room/look_up.h"
#include "room/records.h"
#include "species/care_rules.h"

namespace warmside::room {

/// What holds for one animal on the day.
struct AnimalDay {
  const Animal* animal = nullptr;
  species::Profile profile;
  EnclosureId home;  // empty: nobody has said
  std::optional<Date> in_shed_since;
  std::optional<Date> brumating_since;
  std::optional<Date> quarantine_since;  // jotted, or presumed (health/quarantine.h)
  std::optional<Date> ill_since;
  const Entry* weighing = nullptr;  // the latest, or null
  bool young = false;               // below the adult mass, or under a year where unweighed
  bool hatchling = false;           // in its first weeks (rule hatchling_age)

  /// The situations of species::CareRules that hold, without `observation`.
  std::vector<species::Situation> situations() const;
};

struct Day {
  const Room* room = nullptr;
  const History* history = nullptr;
  Zone zone;
  Date date;
  std::vector<AnimalDay> animals;  // those that are in the room, in id order

  /// Those that live in an enclosure.
  std::vector<const AnimalDay*> animals_in(const EnclosureId& enclosure) const;
  /// The day of an entry on the room's calendar.
  Date date_of(const Entry& entry) const { return zone.date_of(entry.at); }
};

/// What the notebook must recall for a Day (Book::history).
std::span<const Recall> recalled_for_a_day();

/// Where an animal lived at a moment: its latest recalled move up to then, or else its record.
/// Empty when nobody has said.
EnclosureId home_at(const Day& day, const Animal& animal, Instant at);

/// `room` and `history` must outlive the Day.
Day make_day(const Room& room, const History& history, Date date);

}  // namespace warmside::room
