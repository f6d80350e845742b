// Appetite in written scenarios. Feeding intervals (species_facts.csv): royal_python 14 d,
// corn_snake 10 d, crested_gecko 2 d, hermanns_tortoise 1 d; snakes are not fed in shed.
// Rules (care_rules.csv): regurgitation_pause 10 d, twice within 90 d: see a vet, kept meals 3,
// settling_in 14 d, in_shed_believed 21 d. With many regular gaps the scale is the least one, 0.55,
// and a gap of k usual ones has the chance P(T > ln k / 0.55): k = 3 1 in 40, k = 3.5 1 in 70.

#include "health/appetite.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::health {
namespace {

using room::EntryKind;
using test::date;
using test::RoomBuilder;
using testing::AllOf;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr const char* kToday = "2026-11-25";
constexpr MassTrend kSteady{-0.4, -1.2, 0.4};
constexpr MassTrend kFalling{-6, -7.5, -4.5};

std::string ago(int days) {
  return to_text(date(kToday) - days);
}

RoomBuilder room_with(const char* species, const std::function<void(room::Animal&)>& change = {}) {
  return RoomBuilder().enclosure("tub").animal("a", species, change);
}

/// Entries of one kind every so many days, from one number of days ago down to another.
void every(RoomBuilder& b, EntryKind kind, int days, int first_ago, int last_ago,
           const char* item = "") {
  for (int d = first_ago; d >= last_ago; d -= days) {
    b.entry(ago(d), kind, "a", [&](room::Entry& e) { e.item = item; });
  }
}

std::vector<Sign> signs(const RoomBuilder& b, std::optional<MassTrend> mass = {},
                        const char* on = kToday) {
  const test::TestDay day = b.day(on);
  return appetite(day.animal("a"), day.day, mass);
}

/// The one sign there is.
Sign sign(const RoomBuilder& b, std::optional<MassTrend> mass = {}, const char* on = kToday) {
  const auto all = signs(b, mass, on);
  EXPECT_EQ(all.size(), 1u);
  return all.empty() ? Sign{} : all[0];
}

/// Ate a rat every fortnight until 84 days ago and refused one every fortnight since.
RoomBuilder fasting_python(int weighed_ago = 3) {
  RoomBuilder b = room_with("royal_python", [](auto& a) { a.sex = room::Sex::male; });
  b.weighed(ago(weighed_ago), "a", "1400g");
  every(b, EntryKind::fed, 14, 84 + 14 * 19, 84, "adult rat");
  every(b, EntryKind::refused, 14, 70, 14, "adult rat");
  return b;
}

TEST(Appetite, AFastingRoyalPythonWithSteadyMassIsLeftAlone) {
  const Sign s = sign(fasting_python(), kSteady);
  EXPECT_EQ(s.response, Response::change_nothing);
  // Six times the usual gap: 19 gaps of 14 days.
  EXPECT_EQ(s.says,
            "has eaten nothing for 84 days and refused 5 times, longer than any of its 19 gaps "
            "before");
  EXPECT_THAT(
      s.evidence,
      AllOf(HasSubstr("Last meal 2026-09-02: adult rat. Refused on 2026-09-16, 2026-09-30, "
                      "2026-10-14, 2026-10-28 and 2026-11-11."),
            HasSubstr("Its usual gap is 14 days (19 gaps of its own; the profile says every "
                      "14 days, common practice)"),
            HasSubstr("Its mass holds: -0.4 % in 30 days (-1.2 to +0.4).")));
  EXPECT_THAT(s.advice, HasSubstr("Leave it in peace and offer food as usual: a grown snake with a "
                                  "steady mass may fast for weeks, a royal python for months."));
  EXPECT_THAT(s.advice, Not(HasSubstr("veterinarian")));
  EXPECT_EQ(s.for_vet,
            "Last meal 2026-09-02: adult rat. Refused on 2026-09-16, 2026-09-30, 2026-10-14, "
            "2026-10-28 and 2026-11-11. Usual gap 14 days. Mass -0.4 % in 30 days (-1.2 to +0.4).");
  EXPECT_THAT(s.source, HasSubstr("common practice, no source"));
}

TEST(Appetite, TheSameWithFallingMassIsForTheVet) {
  const Sign s = sign(fasting_python(), kFalling);
  EXPECT_EQ(s.response, Response::call_vet);
  EXPECT_THAT(s.evidence, HasSubstr("Its mass falls: -6.0 % in 30 days (-7.5 to -4.5)."));
  EXPECT_EQ(s.advice,
            "Check the temperatures and the hides, and offer food in peace. Call a veterinarian "
            "with reptile or amphibian experience.");
}

TEST(Appetite, TheSameWithUnknownMassIsWeighed) {
  const Sign unknown = sign(fasting_python());
  EXPECT_EQ(unknown.response, Response::weigh_again);
  EXPECT_THAT(unknown.evidence, HasSubstr("Whether it holds its mass is not known."));
  EXPECT_THAT(unknown.advice,
              HasSubstr("Weigh it by 2026-12-02; if it has lost mass, call a veterinarian"));
  // From -6 to +1 %: neither surely held nor surely falling.
  const Sign unclear = sign(fasting_python(), MassTrend{-2.5, -6, 1});
  EXPECT_EQ(unclear.response, Response::weigh_again);
  EXPECT_THAT(unclear.evidence, HasSubstr("Whether it holds its mass is not clear"));
}

// A rate of 30 days is never known to 2 % from weighings every two weeks. What was lost in all is.
TEST(Appetite, WhatAGrownSnakeHasLostInAllCountsWhereTheRateIsUnclear) {
  const auto lost = [](double p_over_5, double p_over_10) {
    return MassTrend{-0.5, -2.6, 1.7, MassTrend::Lost{p_over_5, p_over_10}};
  };
  const Sign held = sign(fasting_python(30), lost(0.1, 0.01));
  EXPECT_EQ(held.response, Response::change_nothing);
  EXPECT_THAT(held.evidence,
              HasSubstr("Its mass holds: -0.5 % in 30 days (-2.6 to +1.7); the chance that more "
                        "than 5 % is lost is 10 %, that more than 10 % is lost 1 %."));
  EXPECT_EQ(sign(fasting_python(31), lost(0.1, 0.01)).response, Response::weigh_again);
  EXPECT_EQ(sign(fasting_python(3), lost(0.6, 0.01)).response, Response::weigh_again);
  EXPECT_EQ(sign(fasting_python(3), lost(0.3, 0.06)).response, Response::weigh_again);
  const Sign slipped = sign(fasting_python(3), lost(0.95, 0.3));
  EXPECT_EQ(slipped.response, Response::weigh_again);
  EXPECT_THAT(slipped.evidence, HasSubstr("It has lost mass: "));
  const Sign fallen = sign(fasting_python(3), lost(1, 0.6));
  EXPECT_EQ(fallen.response, Response::call_vet);
  EXPECT_THAT(fallen.evidence, HasSubstr("Its mass falls: "));
  // A rate that surely falls goes first.
  EXPECT_EQ(sign(fasting_python(3), MassTrend{-4, -5.5, -2.5, MassTrend::Lost{0.1, 0.01}}).response,
            Response::call_vet);
}

TEST(Appetite, APythonThatFastedLastWinterIsLessOfASurprise) {
  // Ate until 12 November 2025, then after 126 days again, and stopped 84 days ago.
  RoomBuilder fasted = room_with("royal_python");
  every(fasted, EntryKind::fed, 14, 446, 378);
  every(fasted, EntryKind::fed, 14, 252, 84);
  every(fasted, EntryKind::refused, 14, 70, 14);
  const Sign s = sign(fasted);
  EXPECT_THAT(s.says, HasSubstr("as long as 1 of its 17 gaps before was"));
  EXPECT_LT(s.response, sign(fasting_python()).response);
}

TEST(Appetite, ACrestedGeckoThatSkipsAWeekIsWeighed) {
  RoomBuilder b = room_with("crested_gecko");
  every(b, EntryKind::fed, 2, 107, 7, "gecko slurry powder");
  every(b, EntryKind::refused, 2, 5, 1, "gecko slurry powder");
  const Sign s = sign(b);
  EXPECT_EQ(s.response, Response::weigh_again);
  EXPECT_EQ(s.says,
            "has eaten nothing for 7 days and refused 3 times, longer than any of its 50 gaps "
            "before");
  EXPECT_THAT(s.evidence, HasSubstr("Its usual gap is 2 days (50 gaps of its own; the profile says "
                                    "every 2 days, common practice); about 1 gap in 7"));
  // A steady mass does not excuse a gecko, and for a fortnight it is for the vet.
  EXPECT_EQ(sign(b, kSteady).response, Response::weigh_again);
  EXPECT_EQ(sign(b, kFalling).response, Response::call_vet);
  EXPECT_EQ(sign(b, {}, "2026-12-02").response, Response::call_vet);
  EXPECT_EQ(sign(b, kSteady, "2026-12-02").response, Response::weigh_again);
}

TEST(Appetite, ASkippedMealIsNothing) {
  RoomBuilder b = room_with("corn_snake");
  every(b, EntryKind::fed, 10, 320, 20);
  b.entry(ago(10), EntryKind::refused, "a");
  const Sign s = sign(b);  // two usual gaps: 1 in 9
  EXPECT_EQ(s.response, Response::change_nothing);
  EXPECT_EQ(s.says,
            "has eaten nothing for 20 days and refused once, longer than any of its 30 gaps "
            "before");
  EXPECT_EQ(s.advice, "");
}

TEST(Appetite, SilenceInTheNotebookIsNoRefusal) {
  RoomBuilder b = room_with("crested_gecko");
  every(b, EntryKind::fed, 2, 120, 20);
  const Sign s = sign(b);
  EXPECT_EQ(s.response, Response::watch);
  EXPECT_EQ(s.says, "has eaten nothing for 20 days, longer than any of its 50 gaps before");
  EXPECT_EQ(s.advice,
            "The notebook has no refusal since. Offer food and write down whether it is taken.");
  EXPECT_EQ(sign(b, kFalling).response, Response::weigh_again);
}

TEST(Appetite, ASnakeInShedIsLeftAlone) {
  RoomBuilder b = room_with("corn_snake");
  every(b, EntryKind::fed, 10, 225, 25, "adult mouse");
  b.entry(ago(15), EntryKind::in_shed, "a");
  const Sign s = sign(b);
  EXPECT_EQ(s.response, Response::change_nothing);
  EXPECT_EQ(s.says, "has been in shed since 2026-11-10: no food until it has shed");
  // Of the 25 days those from the 10th on, today with them, do not count.
  EXPECT_THAT(s.evidence, HasSubstr("16 of the 25 days do not count: in shed."));
  // After the shed the days count again.
  b.entry(ago(3), EntryKind::shed, "a");
  EXPECT_EQ(sign(b).says, "ate 25 days ago");
  EXPECT_THAT(sign(b).evidence, HasSubstr("12 of the 25 days do not count: in shed."));
  // A gecko is fed in shed, so that for it nothing is explained.
  RoomBuilder gecko = room_with("crested_gecko");
  every(gecko, EntryKind::fed, 2, 107, 7);
  every(gecko, EntryKind::refused, 2, 5, 1);
  gecko.entry(ago(6), EntryKind::in_shed, "a");
  EXPECT_EQ(sign(gecko).response, Response::weigh_again);
}

TEST(Appetite, ATortoiseInBrumationIsNotFed) {
  RoomBuilder b = room_with("hermanns_tortoise");
  every(b, EntryKind::fed, 1, 90, 35);
  b.entry(ago(5), EntryKind::brumation_started, "a");
  const Sign s = sign(b);
  EXPECT_EQ(s.response, Response::change_nothing);
  EXPECT_EQ(s.says, "has been in brumation since 2026-11-20 and is not fed");
  EXPECT_EQ(s.evidence, "In brumation no meals are expected.");
  // Before it, its gut was emptied: no refusal is noted, and the advice allows for it.
  const Sign before = sign(b, {}, "2026-11-19");
  EXPECT_EQ(before.response, Response::watch);
  EXPECT_THAT(before.advice, HasSubstr("If you empty its gut for brumation, this is meant."));
  // Awake again, neither the cold months count nor the month before them, in which it was not
  // offered food: of the days since 21 October (10 + 30 + 31 + 31 + 28 + 2 = 132) the last two do.
  b.entry("2027-03-01", EntryKind::brumation_ended, "a");
  const Sign after = sign(b, {}, "2027-03-02");
  EXPECT_EQ(after.response, Response::change_nothing);
  EXPECT_EQ(after.says, "ate 132 days ago");
  EXPECT_THAT(after.evidence,
              HasSubstr("130 of the 132 days do not count: in brumation, fasting before it."));
}

TEST(Appetite, OneRegurgitatedMealIsAPauseAndHalfAMeal) {
  RoomBuilder b = room_with("corn_snake");
  every(b, EntryKind::fed, 10, 203, 3);
  b.entry(ago(1), EntryKind::regurgitated, "a");
  const Sign s = sign(b);
  EXPECT_EQ(s.response, Response::watch);
  EXPECT_EQ(s.says, "regurgitated its meal and rests until 2026-12-04");
  EXPECT_EQ(s.evidence, "Regurgitated on 2026-11-24.");
  EXPECT_EQ(s.advice,
            "No food before 2026-12-04. Then a meal of 50 % of the usual size. Leave it in peace "
            "and check the warm side. A second time is a matter for a veterinarian with reptile or "
            "amphibian experience.");
  // After the pause: the meal that came up does not count, nor do the ten days.
  const auto later = signs(b, {}, "2026-12-05");
  ASSERT_EQ(later.size(), 2u);
  EXPECT_EQ(later[0].says, "regurgitated its meal on 2026-11-24");
  EXPECT_EQ(later[1].says, "ate 23 days ago");
  EXPECT_THAT(later[1].evidence,
              HasSubstr("10 of the 23 days do not count: after a regurgitated meal."));
  // A meal that stays down ends it.
  b.entry("2026-12-06", EntryKind::fed, "a");
  EXPECT_EQ(sign(b, {}, "2026-12-08").says, "ate 2 days ago");
}

TEST(Appetite, TwoRegurgitatedMealsAreForTheVet) {
  RoomBuilder b = room_with("corn_snake");
  every(b, EntryKind::fed, 10, 233, 33);
  b.entry(ago(31), EntryKind::regurgitated, "a");
  b.entry(ago(15), EntryKind::fed, "a");
  b.entry(ago(14), EntryKind::regurgitated, "a");
  const auto all = signs(b);
  ASSERT_EQ(all.size(), 1u);  // no "offer food" beside it
  EXPECT_EQ(all[0].response, Response::call_vet);
  EXPECT_EQ(all[0].says, "has regurgitated twice in 17 days");
  EXPECT_EQ(all[0].evidence, "Regurgitated on 2026-10-25 and 2026-11-11.");
  EXPECT_EQ(all[0].advice,
            "Call a veterinarian with reptile or amphibian experience, whether it seems well or "
            "not. Then a meal of 50 % of the usual size.");
  EXPECT_EQ(all[0].for_vet, "Regurgitated on 2026-10-25 and 2026-11-11. 0 meals kept since.");
  // Cooling it down does not settle the matter.
  RoomBuilder asleep = b;
  asleep.entry(kToday, EntryKind::brumation_started, "a");
  EXPECT_EQ(signs(asleep)[0].response, Response::call_vet);
  // Three meals kept, or the first longer ago than 90 days: no longer.
  every(b, EntryKind::fed, 5, 11, 1);
  EXPECT_THAT(sign(b).response, Response::change_nothing);
  RoomBuilder apart = room_with("corn_snake");
  apart.entry(ago(100), EntryKind::fed, "a").entry(ago(99), EntryKind::regurgitated, "a");
  apart.entry(ago(9), EntryKind::fed, "a").entry(ago(8), EntryKind::regurgitated, "a");
  EXPECT_EQ(signs(apart)[0].response, Response::watch);
}

TEST(Appetite, ANewcomerMaySettleIn) {
  RoomBuilder b = room_with("corn_snake", [](auto& a) { a.arrived = date("2026-11-13"); });
  every(b, EntryKind::refused, 4, 9, 1);
  const Sign s = sign(b);  // the twelfth day of fourteen
  EXPECT_EQ(s.response, Response::change_nothing);
  EXPECT_EQ(s.says, "has been settling in since 2026-11-13 and has eaten nothing yet");
  EXPECT_EQ(s.for_vet,
            "No meal in the notebook; first refusal 2026-11-16. Refused on 2026-11-16, 2026-11-20 "
            "and 2026-11-24. Usual gap 10 days.");
  // Two months later that is no reason any more.
  EXPECT_EQ(sign(b, {}, "2027-01-25").response, Response::weigh_again);
}

TEST(Appetite, AnIllNewcomerIsNotExcused) {
  RoomBuilder b = room_with("crested_gecko", [](auto& a) { a.arrived = date("2026-11-13"); });
  every(b, EntryKind::refused, 2, 11, 1);
  EXPECT_EQ(sign(b).response, Response::change_nothing);
  b.entry(ago(2), EntryKind::ill, "a");
  EXPECT_EQ(sign(b).response, Response::weigh_again);
  EXPECT_EQ(sign(b).says, "has eaten nothing for 11 days and refused 6 times");
}

TEST(Appetite, WithoutARecordNothingIsSaidOfIt) {
  const Sign s = sign(room_with("corn_snake"));
  EXPECT_EQ(s.response, Response::change_nothing);
  EXPECT_EQ(s.says, "has no meal and no refusal in the notebook");
  EXPECT_EQ(s.evidence,
            "Nothing is known of how often it eats; the profile says every 10 days (common "
            "practice).");
  EXPECT_EQ(s.advice, "Write down every meal and every refusal.");
}

TEST(Appetite, AGroupIsJudgedAsOneWithoutItsMass) {
  RoomBuilder b = room_with("dyeing_dart_frog", [](auto& a) { a.count = 4; });
  every(b, EntryKind::fed, 1, 90, 60);
  every(b, EntryKind::refused, 1, 59, 1);
  const Sign s = sign(b, kSteady);
  EXPECT_EQ(s.response, Response::call_vet);
  EXPECT_THAT(s.evidence, HasSubstr("Whether it holds its mass is not known."));
}

// A gecko that ate up at 40 meals leaves some at three in a row: by its habit (0.5 of 45 meals)
// once in 700,000 rows of three.
TEST(Appetite, FoodLeftLyingAgainAndAgainIsTold) {
  RoomBuilder b = room_with("crested_gecko");
  every(b, EntryKind::fed, 2, 85, 1);
  const auto leaves = [&](int days_ago) {
    b.entry(ago(days_ago) + " 20:00", EntryKind::leftovers, "a");
  };
  leaves(1);
  leaves(3);
  EXPECT_EQ(sign(b).response, Response::change_nothing);
  leaves(5);
  const auto said = signs(b, kSteady);
  ASSERT_EQ(said.size(), 2u);
  EXPECT_EQ(said[0].response, Response::watch);
  EXPECT_EQ(said[0].says, "left food lying at 3 meals in a row");
  EXPECT_EQ(said[0].for_vet, "Food left on 2026-11-20, 2026-11-22 and 2026-11-24.");
  const auto falling = signs(b, kFalling);
  EXPECT_EQ(falling[0].response, Response::weigh_again);
  EXPECT_THAT(falling[0].advice, HasSubstr("Weigh it by 2026-12-02"));
}

// One that leaves some at every other meal is known to.
TEST(Appetite, AnAnimalThatAlwaysLeavesSomeIsNotTold) {
  RoomBuilder b = room_with("crested_gecko");
  every(b, EntryKind::fed, 2, 85, 1);
  for (int d = 85; d >= 9; d -= 4) b.entry(ago(d) + " 20:00", EntryKind::leftovers, "a");
  for (const int d : {1, 3, 5}) b.entry(ago(d) + " 20:00", EntryKind::leftovers, "a");
  EXPECT_EQ(sign(b).response, Response::change_nothing);
}

// A meal of which all was left lying is a refusal, whatever was written first.
TEST(Appetite, AMealLeftLyingWholeIsRefused) {
  RoomBuilder b = fasting_python();
  b.entry(ago(7), EntryKind::fed, "a", [](room::Entry& e) { e.count = 1; });
  EXPECT_THAT(sign(b, kSteady).says, HasSubstr("ate 7 days ago"));
  b.entry(ago(6), EntryKind::leftovers, "a", [](room::Entry& e) { e.count = 1; });
  EXPECT_THAT(sign(b, kSteady).says,
              HasSubstr("has eaten nothing for 84 days and refused 6 times"));
}

TEST(Appetite, AnAcceptedMealTodayEndsIt) {
  RoomBuilder b = fasting_python();
  b.entry(kToday, EntryKind::fed, "a");
  EXPECT_EQ(sign(b, kFalling).response, Response::change_nothing);
  EXPECT_EQ(sign(b, kFalling).says, "has eaten today");
}

TEST(Appetite, BigPreyIsTold) {
  // meal_share_adult of the corn snake 7 % to 10 %; told above 1.5 times 10 %.
  const auto fed = [](const char* mass) {
    RoomBuilder b = room_with("corn_snake");
    b.weighed(ago(20), "a", "400g");
    return b.entry(ago(2), EntryKind::fed, "a", [&](auto& e) { e.mass = test::q<Mass>(mass); });
  };
  EXPECT_EQ(signs(fed("60g")).size(), 1u);  // 15 %
  const auto all = signs(fed("84g"));
  ASSERT_EQ(all.size(), 2u);
  EXPECT_EQ(all[0].response, Response::watch);
  EXPECT_EQ(all[0].says, "was fed 21 % of its mass");
  EXPECT_EQ(
      all[0].evidence,
      "84 g on 2026-11-23, against 400 g on 2026-11-05. The profile's meal is 7 – 10 % (common "
      "practice).");
  // Told for a fortnight.
  EXPECT_EQ(signs(fed("84g"), {}, "2026-12-07").size(), 2u);
  EXPECT_EQ(signs(fed("84g"), {}, "2026-12-08").size(), 1u);
}

TEST(Appetite, WithoutAFeedingIntervalNothingIsJudged) {
  RoomBuilder b;
  b.add<room::OwnSpecies>("rough_snake", [](auto& s) {
    s.common_name = "Rough snake";
    s.group = Group::snake;
  });
  b.enclosure("tub").animal("a", "rough_snake");
  every(b, EntryKind::refused, 5, 100, 5);
  EXPECT_THAT(signs(b), IsEmpty());
}

}  // namespace
}  // namespace warmside::health
