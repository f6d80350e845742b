#pragma once
// Settings of a timer week by week, so that the light over an enclosure follows the length its
// animals want (photoperiod.h): what to set every Monday, for a year if you like. It is a plan for
// a person with a mechanical or a digital timer; nothing is switched from here.
//
// - The length is what is wanted in the middle of the week, rounded to 5 minutes.
// - The middle of the lit day stays where the timer has it now (within half a minute); without
// times
//   it is put at 13:00 of the zone's standard time, since most zones run ahead of the sun.
// - No edge moves by more than the rule light_step from one week to the next, counted in real time,
//   from the present setting onwards: a timer that is far off comes near over weeks.
// - Edges are planned in real time. When the clocks change, animals do not: the week says so, and
//   gives the times that the changed clock shows for the same moments. A timer whose own clock is
//   not changed stays as it is.

#include <functional>
#include <optional>
#include <vector>

#include "light/photoperiod.h"

namespace warmside::light {

struct TimerSetting {
  TimeOfDay on;
  TimeOfDay off;  // before `on`: over midnight
  bool operator==(const TimerSetting&) const = default;
};

struct WeekOfLight {
  Date monday;
  TimerSetting setting;  // on the wall clock of the Monday
  Duration length;
  Duration wanted;          // not rounded
  bool on_the_way = false;  // the length is not there yet
  bool agree = true;        // whether one length can suit all animals (SharedLight::agree)
  /// The clock change of the week, if any: from this day the same moments read so.
  struct ClockChange {
    Date day;
    TimerSetting setting;
    bool operator==(const ClockChange&) const = default;
  };
  std::optional<ClockChange> clock_change;
};

struct WantedOfWeek {
  Duration length;
  bool agree = true;
};

struct PlanRequest {
  Zone zone;
  Date date;                        // a day of the first week
  int weeks = 52;                   // 1..520
  std::optional<TimerSetting> now;  // on the wall clock of `date`
  Duration step;                    // most that an edge moves in a week, 5 min or more
  /// What is wanted on a date, 0..24 h.
  std::function<Result<WantedOfWeek>(Date)> wanted;
};

/// The first week is the one that holds the date. Problem: what `wanted` answered.
Result<std::vector<WeekOfLight>> plan_weeks(const PlanRequest& request);

/// The plan for an enclosure's longest-burning timer.
struct TimerPlan {
  const room::Enclosure* enclosure = nullptr;
  std::string unknown;                          // why there is no plan; else empty
  std::vector<const room::Timer*> timers;       // that burn at the same times, and follow the plan
  std::vector<const room::Timer*> others;       // of this enclosure, with hours of their own
  std::vector<const room::Enclosure*> as_well;  // other enclosures that the planned timers light
  SharedLight light;                            // of the day
  std::vector<WeekOfLight> weeks;
};

/// weeks: 1..520.
TimerPlan timer_plan(const room::Day& day, const room::Enclosure& enclosure, int weeks);

}  // namespace warmside::light
