#include "light/timer_plan.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "light/lights.h"

namespace warmside::light {
namespace {

constexpr int kDay_min = 1440;
constexpr int kRounding_min = 5;
constexpr int kDaysOfWeek = 7;
constexpr TimeOfDay kNoon{12 * 60};

/// Minutes of a day on a clock that never changes: the one that hung on the wall at the beginning.
/// `off` is after `on`, perhaps past midnight.
struct Edges {
  int on_min, off_min;
};

int in_day(int minutes) {
  return (minutes % kDay_min + kDay_min) % kDay_min;
}

/// Round a middle that may be half a minute, so that the length is kept to the minute.
Edges edges_round(double middle_min, int length_min) {
  const int on_min = static_cast<int>(std::floor(middle_min - length_min / 2.0 + 0.5));
  return {on_min, on_min + length_min};
}

TimerSetting on_the_wall(const Edges& edges, int ahead_min) {
  return {{in_day(edges.on_min + ahead_min)}, {in_day(edges.off_min + ahead_min)}};
}

Date monday_of(Date day) {
  constexpr int kFirstMonday = 4;  // 1970-01-05, in days from 1970-01-01
  const int since = (day.days_from_epoch() - kFirstMonday) % kDaysOfWeek;
  return day - (since < 0 ? since + kDaysOfWeek : since);
}

int rounded_length(Duration wanted) {
  const int steps = static_cast<int>(std::round(wanted.minutes() / kRounding_min));
  return std::clamp(steps * kRounding_min, kRounding_min, kDay_min - kRounding_min);
}

/// The length nearest `target_min`, a multiple of 5 minutes, to which neither edge moves by more
/// than the step.
int within_step(double middle_min, const Edges& before, int target_min, double step_min) {
  const int length_min = before.off_min - before.on_min;
  int next = target_min;
  const auto reachable = [&] {
    const Edges edges = edges_round(middle_min, next);
    return std::abs(edges.on_min - before.on_min) <= step_min &&
           std::abs(edges.off_min - before.off_min) <= step_min;
  };
  // Ends at the latest at the multiple nearest to the present length, 3 minutes off at an edge.
  while (!reachable() && std::abs(next - length_min) > kRounding_min) {
    next += next < length_min ? kRounding_min : -kRounding_min;
  }
  return next;
}

/// What the wall clock is ahead of UTC in the middle of a day, in minutes.
int ahead_of_utc_min(const Zone& zone, Date day) {
  return static_cast<int>(std::round(zone.offset_at(zone.at(day, kNoon)).minutes()));
}

/// The same without the summer's hour: the lesser of midwinter and midsummer, on either hemisphere.
int standard_min(const Zone& zone, Date day) {
  return std::min(ahead_of_utc_min(zone, *Date::of(day.year(), 1, 15)),
                  ahead_of_utc_min(zone, *Date::of(day.year(), 7, 15)));
}

}  // namespace

Result<std::vector<WeekOfLight>> plan_weeks(const PlanRequest& request) {
  constexpr int kMostWeeks = 520;
  WS_CHECK(request.weeks >= 1 && request.weeks <= kMostWeeks);
  const double step_min = request.step.minutes();
  WS_CHECK(step_min >= kRounding_min);
  const int at_first_min = ahead_of_utc_min(request.zone, request.date);

  std::optional<Edges> before;
  double middle_min = 13 * 60 + at_first_min - standard_min(request.zone, request.date);
  if (request.now) {
    const int on_min = request.now->on.minutes;
    before = Edges{on_min, on_min + in_day(request.now->off.minutes - on_min)};
    middle_min = (before->on_min + before->off_min) / 2.0;
  }
  std::vector<WeekOfLight> weeks;
  for (int i = 0; i < request.weeks; ++i) {
    WeekOfLight week;
    week.monday = monday_of(request.date) + i * kDaysOfWeek;
    const auto wanted = request.wanted(week.monday + kDaysOfWeek / 2);
    if (!wanted) return wanted.problem();
    week.wanted = wanted->length;
    week.agree = wanted->agree;
    const int target_min = rounded_length(week.wanted);
    const int length_min =
        before ? within_step(middle_min, *before, target_min, step_min) : target_min;
    before = edges_round(middle_min, length_min);
    week.length = Duration::minutes(length_min);
    week.on_the_way = length_min != target_min;
    int ahead_min = ahead_of_utc_min(request.zone, week.monday);
    week.setting = on_the_wall(*before, ahead_min - at_first_min);
    for (int d = 1; d < kDaysOfWeek; ++d) {
      const int then_min = ahead_of_utc_min(request.zone, week.monday + d);
      if (then_min == ahead_min) continue;
      ahead_min = then_min;
      week.clock_change = {week.monday + d, on_the_wall(*before, then_min - at_first_min)};
    }
    weeks.push_back(week);
  }
  return weeks;
}

TimerPlan timer_plan(const room::Day& day, const room::Enclosure& enclosure, int weeks) {
  TimerPlan plan;
  plan.enclosure = &enclosure;
  const Lights lights = lights_over(day, enclosure.id);
  if (!lights.any()) {
    plan.unknown = "no lamp in use is named for it, or only a thermostat controls it";
    return plan;
  }
  plan.light = shared_light(day, enclosure.id, day.date);
  if (plan.light.wishes.empty()) {
    plan.unknown = plan.light.unknown;
    return plan;
  }
  PlanRequest request;
  request.zone = day.zone;
  request.date = day.date;
  request.weeks = weeks;
  request.step = species::care_rules().value<Duration>("light_step");
  if (const TimedLamp* longest = lights.longest()) {
    request.now = TimerSetting{*longest->timer->on, *longest->timer->off};
  }
  request.wanted = [&](Date date) -> Result<WantedOfWeek> {
    const SharedLight then = shared_light(day, enclosure.id, date);
    if (then.wishes.empty()) {
      return Problem{ProblemCode::out_of_range, then.unknown, {}, "", to_text(date)};
    }
    return WantedOfWeek{then.wanted, then.agree};
  };
  auto planned = plan_weeks(request);
  if (!planned) {
    plan.unknown = to_line(planned.problem());
    return plan;
  }
  plan.weeks = std::move(planned).value();

  std::set<const room::Timer*> seen;
  for (const TimedLamp& one : lights.timed) {
    if (!seen.insert(one.timer).second) continue;
    const bool the_same = TimerSetting{*one.timer->on, *one.timer->off} == *request.now;
    (the_same ? plan.timers : plan.others).push_back(one.timer);
  }
  std::set<room::EnclosureId> lit_as_well;
  for (const room::Lamp& lamp : day.room->lamps) {
    const bool planned_for =
        std::any_of(plan.timers.begin(), plan.timers.end(),
                    [&](const room::Timer* timer) { return timer->id == lamp.timer; });
    if (planned_for && room::in_use(lamp, day.date) && lamp.enclosure != enclosure.id) {
      lit_as_well.insert(lamp.enclosure);
    }
  }
  for (const room::EnclosureId& id : lit_as_well) {
    if (const room::Enclosure* other = room::find(day.room->enclosures, id)) {
      plan.as_well.push_back(other);
    }
  }
  return plan;
}

}  // namespace warmside::light
