#pragma once
// One UVB lamp of the book in time: when it was new, what the keeper's meter said since, how it
// fades and when it is to be replaced. For the round's tasks, the findings and the page.

#include <optional>
#include <string>
#include <vector>

#include "light/ageing.h"
#include "room/day.h"

namespace warmside::light {

/// A reading since the lamp was new.
struct LampReading {
  Date on;
  double uvi = 0;
  /// From the lamp's face: the entry's length, else the distance its item begins with ("30cm,
  /// slate"), else the lamp's own distance.
  std::optional<Length> distance;
  /// Brought to LampCourse::distance.
  double there = 0;
  /// Whether it tells the lamp's strength: burnt in (rule lamp_burn_in), at the usual place.
  bool counts = false;
};

struct LampCourse {
  /// The latest of `installed` and the entries "replaced"; null: nobody has said.
  std::optional<Date> new_since;
  /// Where readings count from; null where the lamp's is not known and no reading gives one.
  std::optional<Length> distance;
  std::vector<LampReading> readings;  // since then, in order of time
  std::optional<Ageing> ageing;       // of those that count and are over nothing

  const LampReading* first() const;   // of those that count, or null
  const LampReading* latest() const;  // the same
  /// Whether the latest reading lies so far off the others that it is to be read again.
  bool latest_is_odd() const;
};

LampCourse lamp_course(const room::Day& day, const room::Lamp& lamp);

/// What stands for the optics of a lamp of the book, without any row.
KnownLamp known_lamp(const room::Lamp& lamp);

/// The day of ageing's time scale.
inline double ageing_day(Date date) {
  return date.days_from_epoch();
}

/// When a lamp is to be replaced.
struct Replacement {
  std::optional<Date> due;
  std::optional<Date> early;  // it may be as soon
  std::optional<Date> late;   // or as late; null with a due date: no end in sight
  bool by_readings = false;   // else by its usual life
  std::string why;            // a few words; empty: nothing is known
};

/// By its readings where they say enough (Ageing::informed): the day on which it falls under the
/// rule uv_low_share of the first of them, or under `least_uvi` at the place of the readings,
/// whichever comes first. Else the end of its usual life (rules lamp_life_...).
Replacement replacement_of(const room::Lamp& lamp, const LampCourse& course, double least_uvi);

}  // namespace warmside::light
