// Timers week by week: no edge jumps, lengths are near what is wanted, and the clocks of the zone
// do not move the animals' day. Zone rules: IANA time zone database, 2025 (Europe: last Sundays of
// March and October; United States: second Sunday of March, first of November).

#include "light/timer_plan.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "light/sun.h"
#include "support/room_builder.h"

namespace warmside::light {
namespace {

using test::date;
using test::RoomBuilder;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr double kStep_min = 20;

TimerSetting setting(const char* on, const char* off) {
  return {parse_time_of_day(on).value(), parse_time_of_day(off).value()};
}

/// Wants the days of a latitude.
PlanRequest request_for(const char* zone, const char* day, double latitude_deg) {
  PlanRequest request;
  request.zone = Zone::named(zone).value();
  request.date = date(day);
  request.step = Duration::minutes(kStep_min);
  request.wanted = [latitude_deg](Date d) -> Result<WantedOfWeek> {
    const auto length = day_length(latitude_deg, d);
    if (!length) return length.problem();
    return WantedOfWeek{*length, true};
  };
  return request;
}
/// Wants the same always.
PlanRequest request_of_hours(double hours, std::optional<TimerSetting> now) {
  PlanRequest request = request_for("Europe/Oslo", "2026-06-03", 0);
  request.now = now;
  request.wanted = [hours](Date) -> Result<WantedOfWeek> {
    return WantedOfWeek{Duration::hours(hours), true};
  };
  return request;
}

int length_min(const TimerSetting& s) {
  return (s.off.minutes - s.on.minutes + 1440) % 1440;
}

/// The shortest way between two times of day in real time, minutes: what the wall says less what
/// the wall is ahead.
double moved_min(const Zone& zone, Date day_a, TimeOfDay a, Date day_b, TimeOfDay b) {
  const TimeOfDay noon{720};
  const double ahead_a = zone.offset_at(zone.at(day_a, noon)).minutes();
  const double ahead_b = zone.offset_at(zone.at(day_b, noon)).minutes();
  return std::remainder((b.minutes - ahead_b) - (a.minutes - ahead_a), 1440);
}

/// What must hold for every plan.
void check_plan(const PlanRequest& request) {
  const auto weeks = plan_weeks(request).value();
  ASSERT_EQ(weeks.size(), static_cast<std::size_t>(request.weeks));
  std::optional<TimerSetting> before = request.now;
  Date day_before = request.date;
  EXPECT_LE(weeks.front().monday, request.date);
  EXPECT_LT(request.date - weeks.front().monday, 7);
  for (const WeekOfLight& week : weeks) {
    // 1970-01-05 was a Monday.
    EXPECT_EQ((week.monday.days_from_epoch() - 4) % 7, 0);
    EXPECT_EQ(length_min(week.setting), week.length.minutes());
    EXPECT_EQ(std::fmod(week.length.minutes(), 5), 0);
    if (before) {
      EXPECT_LE(
          std::abs(moved_min(request.zone, day_before, before->on, week.monday, week.setting.on)),
          kStep_min)
          << to_text(week.monday);
      EXPECT_LE(
          std::abs(moved_min(request.zone, day_before, before->off, week.monday, week.setting.off)),
          kStep_min)
          << to_text(week.monday);
    }
    if (request.now) {  // the middle stays, to half a minute
      const double on_moved =
          moved_min(request.zone, request.date, request.now->on, week.monday, week.setting.on);
      const double grown = week.length.minutes() - length_min(*request.now);
      EXPECT_LE(std::abs(std::remainder(on_moved + grown / 2, 1440)), 0.5);
    }
    if (!week.on_the_way) {
      EXPECT_LE(std::abs((week.length - week.wanted).minutes()), 2.5 + 1e-9);
    }
    if (const auto& change = week.clock_change) {
      EXPECT_GT(change->day, week.monday);
      EXPECT_LT(change->day - week.monday, 7);
      EXPECT_EQ(
          moved_min(request.zone, week.monday, week.setting.on, change->day, change->setting.on),
          0);
      EXPECT_EQ(
          moved_min(request.zone, week.monday, week.setting.off, change->day, change->setting.off),
          0);
    }
    before = week.setting;
    day_before = week.monday;
  }
}

TEST(PlanWeeks, KeepsItsPromises) {
  for (const char* zone : {"Europe/Oslo", "America/New_York", "Asia/Tokyo", "Australia/Lord_Howe",
                           "UTC", "Africa/Casablanca"}) {
    for (const double latitude_deg : {-60.0, -26.0, 0.0, 42.0, 60.0}) {
      PlanRequest request = request_for(zone, "2025-01-01", latitude_deg);
      check_plan(request);
      request.now = setting("07:30", "18:13");
      check_plan(request);
      request.now = setting("20:00", "06:00");  // over midnight
      check_plan(request);
    }
  }
}

RC_GTEST_PROP(PlanWeeks, KeepsItsPromisesFromAnySetting, ()) {
  PlanRequest request = request_for("Europe/Oslo", "2025-01-01", *rc::gen::inRange(-64, 65));
  request.date = request.date + *rc::gen::inRange(0, 365);
  const int on = *rc::gen::inRange(0, 1440), length = *rc::gen::inRange(1, 1440);
  request.now = TimerSetting{{on}, {(on + length) % 1440}};
  check_plan(request);
}

/// 9 h to 12 h, each edge 20 min a week: 40 min a week, 9:40, 10:20, 11:00, 11:40, 12:00. The
/// middle stays at 12:30.
TEST(PlanWeeks, ComesNearOverWeeks) {
  const auto weeks = plan_weeks(request_of_hours(12, setting("08:00", "17:00"))).value();
  const char* expected[][2] = {{"07:40", "17:20"},
                               {"07:20", "17:40"},
                               {"07:00", "18:00"},
                               {"06:40", "18:20"},
                               {"06:30", "18:30"}};
  for (std::size_t i = 0; i < 5; ++i) {
    EXPECT_EQ(to_text(weeks[i].setting.on), expected[i][0]) << i;
    EXPECT_EQ(to_text(weeks[i].setting.off), expected[i][1]) << i;
    EXPECT_EQ(weeks[i].on_the_way, i < 4) << i;
  }
}

TEST(PlanWeeks, WantedIsTheThursdays) {
  const auto weeks = plan_weeks(request_for("Europe/Oslo", "2025-03-12", 52)).value();
  EXPECT_EQ(weeks[0].monday, date("2025-03-10"));
  EXPECT_EQ(weeks[0].wanted, *day_length(52, date("2025-03-13")));
  EXPECT_EQ(weeks[1].wanted, *day_length(52, date("2025-03-20")));
}

/// Summer time runs on 2026-06-03 in Oslo: 13:00 standard is 14:00 on the wall.
TEST(PlanWeeks, WithoutTimesTheMiddleIsThirteenStandardTime) {
  const auto weeks = plan_weeks(request_of_hours(12, {})).value();
  EXPECT_EQ(weeks.front().setting, setting("08:00", "20:00"));
  EXPECT_FALSE(weeks.front().on_the_way);
}

TEST(PlanWeeks, TheWeekOfTheClocks) {
  PlanRequest oslo = request_of_hours(12, setting("07:00", "19:00"));
  oslo.date = date("2025-03-25");
  const auto spring = plan_weeks(oslo).value();
  EXPECT_EQ(spring[0].setting, setting("07:00", "19:00"));
  ASSERT_TRUE(spring[0].clock_change);
  EXPECT_EQ(spring[0].clock_change->day, date("2025-03-30"));
  EXPECT_EQ(spring[0].clock_change->setting, setting("08:00", "20:00"));
  EXPECT_EQ(spring[1].setting, setting("08:00", "20:00"));
  EXPECT_FALSE(spring[1].clock_change);

  PlanRequest york = oslo;
  york.zone = Zone::named("America/New_York").value();
  york.date = date("2025-10-27");
  const auto autumn = plan_weeks(york).value();
  ASSERT_TRUE(autumn[0].clock_change);
  EXPECT_EQ(autumn[0].clock_change->day, date("2025-11-02"));
  EXPECT_EQ(autumn[0].clock_change->setting, setting("06:00", "18:00"));

  PlanRequest tokyo = oslo;
  tokyo.zone = Zone::named("Asia/Tokyo").value();
  const auto still = plan_weeks(tokyo).value();
  for (const WeekOfLight& week : still) {
    EXPECT_FALSE(week.clock_change);
    EXPECT_EQ(week.setting, setting("07:00", "19:00"));
  }
}

/// Day by day through a year, in moments: within a week the lamps come on every 24 hours, from
/// Sunday to Monday at most 20 minutes off that, whatever the wall clock does.
TEST(PlanWeeks, EveryDayOfAYearInRealTime) {
  for (const char* zone : {"Europe/Oslo", "America/New_York", "Asia/Tokyo"}) {
    const PlanRequest request = request_for(zone, "2025-01-06", 52);
    const auto weeks = plan_weeks(request).value();
    std::optional<Instant> on_before, off_before;
    int changes = 0;
    for (const WeekOfLight& week : weeks) {
      changes += week.clock_change ? 1 : 0;
      for (int d = 0; d < 7; ++d) {
        const Date day = week.monday + d;
        const bool changed = week.clock_change && day >= week.clock_change->day;
        const TimerSetting& now = changed ? week.clock_change->setting : week.setting;
        const Instant on = request.zone.at(day, now.on), off = request.zone.at(day, now.off);
        if (on_before) {
          const double most_min = d == 0 ? kStep_min : 0;
          EXPECT_LE(std::abs((on - *on_before).minutes() - 1440), most_min) << to_text(day);
          EXPECT_LE(std::abs((off - *off_before).minutes() - 1440), most_min) << to_text(day);
        }
        on_before = on;
        off_before = off;
      }
    }
    EXPECT_EQ(changes, std::string_view(zone) == "Asia/Tokyo" ? 0 : 2) << zone;
  }
}

TEST(PlanWeeks, WhatIsNotKnownIsSaid) {
  PlanRequest request = request_for("UTC", "2100-06-01", 30);
  const auto weeks = plan_weeks(request);
  ASSERT_FALSE(weeks.ok());
  EXPECT_EQ(weeks.problem().code, ProblemCode::out_of_range);
}

// ---- Of a room ----------------------------------------------------------------------------------

RoomBuilder skink_room() {
  RoomBuilder b;
  b.info([](room::RoomInfo& info) { info.latitude_deg = 60.39; })
      .add<room::Timer>("main",
                        [](auto& t) {
                          t.on = parse_time_of_day("07:30").value();
                          t.off = parse_time_of_day("18:30").value();
                        })
      .add<room::Timer>("noon",
                        [](auto& t) {
                          t.on = parse_time_of_day("10:00").value();
                          t.off = parse_time_of_day("16:00").value();
                        })
      .enclosure("other")
      .enclosure("table")
      .animal("basil", "blue_tongued_skink");
  const auto lamp = [&](const char* id, const char* over, const char* timer) {
    b.add<room::Lamp>(id, [&](auto& l) {
      l.enclosure = room::EnclosureId::trusted(over);
      l.timer = room::TimerId::trusted(timer);
    });
  };
  lamp("led", "table", "main");
  lamp("tube", "table", "noon");
  lamp("led-other", "other", "main");
  return b;
}

TEST(TimerPlan, TheLongestTimerIsPlanned) {
  const auto made = skink_room().day("2026-11-25");
  const auto plan = timer_plan(made.day, made.day.room->enclosures[1], 10);
  EXPECT_THAT(plan.unknown, IsEmpty());
  EXPECT_EQ(plan.weeks.size(), 10u);
  ASSERT_EQ(plan.timers.size(), 1u);
  EXPECT_EQ(plan.timers[0]->id.text(), "main");
  ASSERT_EQ(plan.others.size(), 1u);
  EXPECT_EQ(plan.others[0]->id.text(), "noon");
  ASSERT_EQ(plan.as_well.size(), 1u);
  EXPECT_EQ(plan.as_well[0]->id.text(), "other");
  // 26 degrees from the equator at the winter solstice: 10.51 h (CBM formula, Forsythe et al.
  // 1995), less than the 11 h it burns now. Rounded to 5 min.
  EXPECT_NEAR(plan.weeks[4].length.hours(), 10.51, 0.05 + 2.5 / 60);
}

TEST(TimerPlan, NoPlanSaysWhy) {
  const auto made = skink_room().enclosure("dark").animal("kaa", "corn_snake").day("2026-11-25");
  const auto& homes = made.day.room->enclosures;
  const auto why = [&](const char* id) {
    return timer_plan(made.day, *room::find(homes, room::EnclosureId::trusted(id)), 4).unknown;
  };
  EXPECT_THAT(why("dark"), HasSubstr("no lamp"));
  EXPECT_THAT(why("other"), HasSubstr("no animal"));
  const auto nowhere =
      skink_room().info([](room::RoomInfo& info) { info.latitude_deg.reset(); }).day("2026-11-25");
  EXPECT_THAT(timer_plan(nowhere.day, nowhere.day.room->enclosures[1], 4).unknown,
              HasSubstr("latitude"));
}

}  // namespace
}  // namespace warmside::light
