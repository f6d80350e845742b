#pragma once
// When a recurring task falls due. A recurrence is anchored to the day on which the task was last
// really done, on the room's own calendar; it counts days, not hours, so that a clock change
// neither loses nor doubles it, and it never piles up: however long the keeper was away, the task
// is due once.

#include <optional>

#include "core/time.h"

namespace warmside::round {

struct Recurrence {
  int every_days = 1;  // 1 or more
  std::optional<Date> last_done;
  std::optional<Date> first_due;   // where it was never done; none: the day that asks
  std::optional<Date> not_before;  // a pause ends (shed, regurgitation, brumation)
};

struct Due {
  Date date;          // the day it is or was due
  int late_days = 0;  // 0 when it is due today or later
};

/// When the task is due, seen from `today`.
inline Due next_due(const Recurrence& recurrence, Date today) {
  Due due;
  due.date = recurrence.last_done ? *recurrence.last_done + recurrence.every_days
                                  : recurrence.first_due.value_or(today);
  if (recurrence.not_before && due.date < *recurrence.not_before) {
    due.date = *recurrence.not_before;
  }
  due.late_days = due.date < today ? today - due.date : 0;
  return due;
}

}  // namespace warmside::round
