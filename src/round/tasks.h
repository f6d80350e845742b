#pragma once
// The work that recurs in a room, and when each piece of it is due: feeding (and the day before it
// what is to be thawed), water, cleaning,
// misting, weighing, checks of shed and quarantine, UV readings, old lamps, jars, tests, cords,
// batteries of alarms, and the keeper's own standing tasks. Intervals come from the species'
// profile (or the keeper's override) and from data/care_intervals.csv.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "core/words.h"
#include "diet/habit.h"
#include "room/day.h"
#include "round/recurrence.h"

namespace warmside::round {

/// In the order in which they are done at a stop: look first, weigh before feeding, clean last.
enum class TaskKind {
  smoke_alarm_test,
  alarm_battery,
  cord_check,
  jar_age,
  thaw,
  thermostat_test,
  shed_check,
  quarantine_mite_check,
  quarantine_faecal_test,
  weighing,
  water,
  feeding,
  uv_reading,
  lamp_replacement,
  misting,
  spot_clean,
  full_clean,
  standing
};

struct Task {
  TaskKind kind = TaskKind::standing;
  std::string title;            // "feed Juniper"
  room::Subject subject;        // what the entry that says "done" is about
  room::EnclosureId enclosure;  // at whose stop; empty: preparation
  room::AnimalId animal;        // empty when it is about the enclosure
  std::string detail;           // how, how much
  std::string reason;           // why today: interval, when last done, whose rule
  int every_days = 1;
  Due due;
  std::vector<diet::Course> courses;   // of a feeding: what is given; empty: nothing is chosen
  std::optional<Mass> last_mass;       // of a weighing
  std::vector<room::SupplyId> thawed;  // of a feeding: the frozen prey
};

/// The jars that a task takes, each once.
std::set<room::JarId> jars_of(const Task& task);

/// "1 day", "3 days".
inline std::string days_words(int days) {
  return days == 1 ? "1 day" : fmt::format("{} days", days);
}

/// An interval in days, at least one.
inline int whole_days(Duration every) {
  return std::max(1, static_cast<int>(std::lround(every.days())));
}

/// "every day", "every 3 days".
inline std::string every_words(int days) {
  return days == 1 ? "every day" : fmt::format("every {} days", days);
}

/// Every task of the room with the day on which it is due next, whether past or to come.
/// `watched`: animals under observation, which are weighed more often.
std::vector<Task> tasks_of(const room::Day& day, const std::set<room::AnimalId>& watched);

}  // namespace warmside::round

namespace warmside {
template <>
struct Words<round::TaskKind> {
  static constexpr std::array<std::string_view, 18> list{"smoke_alarm_test",
                                                         "alarm_battery",
                                                         "cord_check",
                                                         "jar_age",
                                                         "thaw",
                                                         "thermostat_test",
                                                         "shed_check",
                                                         "quarantine_mite_check",
                                                         "quarantine_faecal_test",
                                                         "weighing",
                                                         "water",
                                                         "feeding",
                                                         "uv_reading",
                                                         "lamp_replacement",
                                                         "misting",
                                                         "spot_clean",
                                                         "full_clean",
                                                         "standing"};
};
}  // namespace warmside
