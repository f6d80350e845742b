// What the notebook tells of meals, and the words for gaps.

#include "health/event_record.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::health {
namespace {

using room::EntryKind;
using test::date;
using test::RoomBuilder;
using testing::ElementsAre;
using testing::IsEmpty;

Date november(int day) {
  return date("2026-11-01") + (day - 1);
}
Pause pause(int from, int to, std::string_view why = "in shed") {
  return {november(from), november(to), why};
}

TEST(DaysCounted, WithoutThoseOfPauses) {
  EXPECT_EQ(days_counted(november(5), november(15), {}), 10);
  EXPECT_EQ(days_counted(november(5), november(5), {}), 0);
  EXPECT_EQ(days_counted(november(5), november(4), {}), 0);
  const auto with = [](std::vector<Pause> pauses) {
    return days_counted(november(5), november(15), pauses);
  };
  EXPECT_EQ(with({pause(8, 10)}), 8);   // the 8th and 9th
  EXPECT_EQ(with({pause(1, 6)}), 10);   // the day of the meal itself is not counted anyway
  EXPECT_EQ(with({pause(1, 7)}), 9);    // the 6th
  EXPECT_EQ(with({pause(15, 20)}), 9);  // the last day
  EXPECT_EQ(with({pause(16, 20)}), 10);
  EXPECT_EQ(with({pause(1, 30)}), 0);
  // Overlapping and inside one another, in any order: 7 to 12.
  EXPECT_EQ(with({pause(10, 13), pause(7, 11), pause(8, 9)}), 4);
}

TEST(Reasons, EachOnce) {
  const std::vector<Pause> pauses{pause(1, 6, "in brumation"), pause(7, 8), pause(9, 10),
                                  pause(14, 30, "settling in")};
  EXPECT_EQ(reasons(november(5), november(15), pauses), "in shed, settling in");
}

RoomBuilder snake() {
  return RoomBuilder().enclosure("tub").animal("a", "corn_snake");
}

std::vector<std::string> kept(const RoomBuilder& b) {
  const test::TestDay day = b.day("2026-11-25");
  std::vector<std::string> days;
  for (const Date d : days_of(day.day, room::accepted_meals(day.animal("a"), day.day))) {
    days.push_back(to_text(d));
  }
  return days;
}

TEST(AcceptedMeals, WithoutThoseThatCameUpAgain) {
  RoomBuilder b = snake();
  b.entry("2026-11-01", EntryKind::regurgitated, "a");  // of a meal that nobody noted
  b.entry("2026-11-02", EntryKind::fed, "a").entry("2026-11-12", EntryKind::fed, "a");
  b.entry("2026-11-12 18:00", EntryKind::fed, "a");
  EXPECT_THAT(kept(b), ElementsAre("2026-11-02", "2026-11-12"));
  b.entry("2026-11-14", EntryKind::regurgitated, "a");
  EXPECT_THAT(kept(b), ElementsAre("2026-11-02", "2026-11-12"));  // the meal at noon
  // In two goes it is still one meal.
  b.entry("2026-11-15", EntryKind::regurgitated, "a");
  EXPECT_THAT(kept(b), ElementsAre("2026-11-02", "2026-11-12"));
  b.entry("2026-11-22", EntryKind::fed, "a").entry("2026-11-23", EntryKind::regurgitated, "a");
  EXPECT_THAT(kept(b), ElementsAre("2026-11-02", "2026-11-12"));
  EXPECT_THAT(kept(snake()), IsEmpty());
}

TEST(ShareLeft, ByCountByMassOrHalf) {
  RoomBuilder b = snake();
  const auto fed = [&](const char* at, int count) {
    b.entry(at, EntryKind::fed, "a", [&](room::Entry& e) {
      if (count > 0) e.count = count;
    });
  };
  fed("2026-11-01", 10);
  b.entry("2026-11-02", EntryKind::leftovers, "a", [](room::Entry& e) { e.count = 3; });
  b.entry("2026-11-02 18:00", EntryKind::leftovers, "a", [](room::Entry& e) { e.count = 1; });
  fed("2026-11-05", 10);  // leftovers without a number
  b.entry("2026-11-05 18:00", EntryKind::leftovers, "a");
  fed("2026-11-09", 10);  // none
  fed("2026-11-12", 2);   // those of four days later are not of it
  b.entry("2026-11-16", EntryKind::leftovers, "a", [](room::Entry& e) { e.count = 2; });
  fed("2026-11-20", 2);
  b.entry("2026-11-21", EntryKind::leftovers, "a", [](room::Entry& e) { e.count = 5; });
  const test::TestDay day = b.day("2026-11-25");
  std::vector<double> shares;
  for (const room::Entry& meal :
       day.history->all(room::subject_of(*day.animal("a").animal), EntryKind::fed)) {
    shares.push_back(room::share_left(meal, day.day));
  }
  EXPECT_THAT(shares, ElementsAre(0.4, 0.5, 0, 0, 1));
  EXPECT_THAT(kept(b), ElementsAre("2026-11-01", "2026-11-05", "2026-11-09", "2026-11-12"));
  std::vector<std::string> refused;
  for (const Date d : refusal_days(day.animal("a"), day.day)) refused.push_back(to_text(d));
  EXPECT_THAT(refused, ElementsAre("2026-11-20"));
}

TEST(FeedingPauses, EndWhereTheNotebookSays) {
  RoomBuilder b = snake();
  b.entry("2026-10-01", EntryKind::in_shed, "a").entry("2026-10-09", EntryKind::shed, "a");
  b.entry("2026-11-20", EntryKind::in_shed, "a");
  const test::TestDay day = b.day("2026-11-25");
  const auto pauses = feeding_pauses(day.animal("a"), day.day);
  ASSERT_EQ(pauses.size(), 2u);
  EXPECT_EQ(to_text(pauses[0].to), "2026-10-09");
  EXPECT_EQ(to_text(pauses[1].to), "2026-11-26");
  // A shed that nobody wrote down is believed for 21 days (rule in_shed_believed).
  const test::TestDay later = b.day("2027-01-25");
  EXPECT_EQ(to_text(feeding_pauses(later.animal("a"), later.day)[1].to), "2026-12-12");
}

TEST(FeedingPauses, BeforeBrumationReachBackToTheLastOffer) {
  RoomBuilder b = snake();
  b.entry("2026-10-20", EntryKind::fed, "a").entry("2026-10-30", EntryKind::refused, "a");
  b.entry("2026-11-20", EntryKind::brumation_started, "a");
  const test::TestDay day = b.day("2026-11-25");
  const auto pauses = feeding_pauses(day.animal("a"), day.day);
  ASSERT_EQ(pauses.size(), 2u);
  EXPECT_EQ(to_text(pauses[1].from), "2026-10-31");
  EXPECT_EQ(to_text(pauses[1].to), "2026-11-20");
  // Thirty days at most.
  RoomBuilder early = snake();
  early.entry("2026-09-01", EntryKind::fed, "a");
  early.entry("2026-11-20", EntryKind::brumation_started, "a");
  const test::TestDay then = early.day("2026-11-25");
  EXPECT_EQ(to_text(feeding_pauses(then.animal("a"), then.day)[1].from), "2026-10-21");
}

TEST(JudgeGap, AKnownFastIsNoRarerThanItWas) {
  constexpr GapPrior kPrior{14, 0.5, 2, 6};
  std::vector<PastGap> gaps;
  for (int i = 0; i < 16; ++i) gaps.push_back({november(1), november(1), 14});
  const JudgedGap before = judge_gap(gaps, november(1), 100, kPrior, {365, 0}, 0.55);
  EXPECT_LT(before.chance, 0.01);
  gaps.push_back({november(1), november(1), 126});
  const JudgedGap after = judge_gap(gaps, november(1), 100, kPrior, {365, 0}, 0.55);
  EXPECT_DOUBLE_EQ(after.chance, 1.0 / 19);  // one of 17, beside two of the prior
  EXPECT_LT(judge_gap(gaps, november(1), 127, kPrior, {365, 0}, 0.55).chance, 0.02);
  EXPECT_EQ(judge_gap(gaps, november(1), 0, kPrior, {365, 0}, 0.55).chance, 1);
}

TEST(Words, OfGaps) {
  const std::vector<PastGap> gaps{{{}, {}, 10}, {{}, {}, 20}, {{}, {}, 30}};
  EXPECT_EQ(compared_with(gaps, 31), "longer than any of its 3 gaps before");
  EXPECT_EQ(compared_with(gaps, 30), "as long as 1 of its 3 gaps before was");
  EXPECT_EQ(compared_with(gaps, 15), "as long as 2 of its 3 gaps before were");
  EXPECT_EQ(compared_with(std::span(gaps).first(1), 11), "longer than its one gap before");
  EXPECT_EQ(compared_with({}, 11), "");
  EXPECT_EQ(how_seldom(0.7), "most gaps get this long");
  EXPECT_EQ(how_seldom(0.11), "about 1 gap in 9 gets this long");
  EXPECT_EQ(how_seldom(0.0137), "about 1 gap in 75 gets this long");
  EXPECT_EQ(how_seldom(0.0041), "about 1 gap in 250 gets this long");
  EXPECT_EQ(how_seldom(0.0009), "fewer than 1 gap in 1000 gets this long");
  EXPECT_EQ(times(1), "once");
  EXPECT_EQ(times(2), "twice");
  EXPECT_EQ(times(3), "3 times");
  std::vector<Date> days;
  for (int i = 1; i <= 8; ++i) days.push_back(november(i));
  EXPECT_EQ(listed(std::span(days).first(1)), "2026-11-01");
  EXPECT_EQ(listed(std::span(days).first(2)), "2026-11-01 and 2026-11-02");
  EXPECT_EQ(listed(days),
            "2026-11-03, 2026-11-04, 2026-11-05, 2026-11-06, 2026-11-07 and 2026-11-08 (and twice "
            "before)");
}

}  // namespace
}  // namespace warmside::health
