// docs/models/round.md: due = last + every; due = max(due, end of a pause); late = max(0, today -
// due).

#include "round/recurrence.h"

#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::round {
namespace {

using test::date;

constexpr const char* kToday = "2026-11-25";

Due due(const Recurrence& recurrence) {
  return next_due(recurrence, date(kToday));
}

TEST(NextDue, CountsFromTheDayItWasDone) {
  const struct {
    int every;
    const char* last;
    const char* due;
    int late;
  } kCases[] = {
      {1, "2026-11-25", "2026-11-26", 0},    {1, "2026-11-24", "2026-11-25", 0},
      {1, "2026-11-23", "2026-11-24", 1},    {10, "2026-11-16", "2026-11-26", 0},
      {10, "2026-11-15", "2026-11-25", 0},   {10, "2026-11-14", "2026-11-24", 1},
      {30, "2026-10-25", "2026-11-24", 1},    // over the end of a month and a clock change
      {7, "2026-02-25", "2026-03-04", 266},   // 4 March to 25 November: 27+30+31+30+31+31+30+31+25
      {1, "2026-12-31", "2027-01-01", 0},     // an entry from the future does not make it late
      {3660, "2026-11-25", "2036-12-02", 0},  // ten years with 2028, 2032, 2036: 3653 days, and 7
  };
  for (const auto& c : kCases) {
    const Due got = due({c.every, date(c.last), {}, {}});
    EXPECT_EQ(to_text(got.date), c.due) << c.last << " + " << c.every;
    EXPECT_EQ(got.late_days, c.late) << c.last << " + " << c.every;
  }
}

TEST(NextDue, NeverDoneIsDueOnTheDayThatAsksOrOnItsStart) {
  EXPECT_EQ(to_text(due({30, {}, {}, {}}).date), kToday);
  EXPECT_EQ(due({30, {}, {}, {}}).late_days, 0);
  EXPECT_EQ(to_text(due({30, {}, date("2026-12-01"), {}}).date), "2026-12-01");
  EXPECT_EQ(due({30, {}, date("2026-12-01"), {}}).late_days, 0);
  EXPECT_EQ(to_text(due({30, {}, date("2026-11-01"), {}}).date), "2026-11-01");
  EXPECT_EQ(due({30, {}, date("2026-11-01"), {}}).late_days, 24);
}

TEST(NextDue, TheStartSaysNothingOnceItWasDone) {
  EXPECT_EQ(to_text(due({7, date("2026-11-20"), date("2026-12-24"), {}}).date), "2026-11-27");
}

TEST(NextDue, APauseMovesItLaterAndNeverEarlier) {
  const Date last = date("2026-11-10");  // due on 2026-11-20
  EXPECT_EQ(to_text(due({10, last, {}, date("2026-11-28")}).date), "2026-11-28");
  EXPECT_EQ(due({10, last, {}, date("2026-11-28")}).late_days, 0);
  EXPECT_EQ(to_text(due({10, last, {}, date("2026-11-22")}).date), "2026-11-22");
  EXPECT_EQ(due({10, last, {}, date("2026-11-22")}).late_days, 3);
  EXPECT_EQ(to_text(due({10, last, {}, date("2026-11-20")}).date), "2026-11-20");
  EXPECT_EQ(to_text(due({10, last, {}, date("2026-11-01")}).date), "2026-11-20");
  EXPECT_EQ(to_text(due({10, {}, {}, date("2026-11-28")}).date), "2026-11-28");
}

TEST(NextDue, AfterAnyTimeAwayItIsDueOnce) {
  for (const int away : {1, 2, 40, 400}) {
    const Due got = due({1, date(kToday) - away, {}, {}});
    EXPECT_EQ(date(kToday) - got.date, away - 1);
    EXPECT_EQ(got.late_days, away - 1);
  }
}

}  // namespace
}  // namespace warmside::round
