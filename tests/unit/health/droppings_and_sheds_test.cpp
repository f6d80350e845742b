// Sheds and droppings in written scenarios. Rules (care_rules.csv): stuck_shed_referral 7 d,
// in_shed_length_snake 9 d and _lizard 4 d, shed_interval_snake 45 d and _lizard 30 d,
// meals_without_droppings_snake 4, meals_without_droppings 8.

#include "health/droppings_and_sheds.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::health {
namespace {

using room::EntryKind;
using test::date;
using test::RoomBuilder;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr const char* kToday = "2026-11-25";

std::string ago(int days) {
  return to_text(date(kToday) - days);
}

RoomBuilder room_with(const char* species, const std::function<void(room::Animal&)>& change = {}) {
  return RoomBuilder().enclosure("tub").animal("a", species, change);
}

void jot(RoomBuilder& b, EntryKind kind, int days_ago, const char* item = "") {
  b.entry(ago(days_ago), kind, "a", [&](room::Entry& e) { e.item = item; });
}
void every(RoomBuilder& b, EntryKind kind, int days, int first_ago, int last_ago,
           const char* item = "") {
  for (int d = first_ago; d >= last_ago; d -= days) jot(b, kind, d, item);
}

std::vector<Sign> shed_signs(const RoomBuilder& b, const char* on = kToday) {
  const test::TestDay day = b.day(on);
  return sheds(day.animal("a"), day.day);
}
std::vector<Sign> droppings_signs(const RoomBuilder& b, const char* on = kToday) {
  const test::TestDay day = b.day(on);
  return droppings(day.animal("a"), day.day);
}
/// The one sign there is.
Sign only(const std::vector<Sign>& signs) {
  EXPECT_EQ(signs.size(), 1u);
  return signs.empty() ? Sign{} : signs[0];
}

TEST(Sheds, AStuckShedIsWatchedAndThenForTheVet) {
  RoomBuilder b = room_with("corn_snake");
  jot(b, EntryKind::shed, 3, "stuck on the tail tip");
  const Sign s = only(shed_signs(b));
  EXPECT_EQ(s.response, Response::watch);
  EXPECT_EQ(s.says, "has had a stuck shed since 2026-11-22");
  EXPECT_EQ(s.evidence,
            "Noted on 2026-11-22: stuck on the tail tip. 3 days ago, and no check of the shed "
            "since.");
  EXPECT_EQ(s.advice,
            "Look at eyes, toes and tail tip and write down the check. Offer a humid hide and "
            "check the humidity. Do not pull: what is still on 7 days after the shed, or on eyes "
            "or toes, is for a veterinarian with reptile or amphibian experience.");
  EXPECT_EQ(only(shed_signs(b, "2026-11-28")).response, Response::watch);
  const Sign later = only(shed_signs(b, "2026-11-29"));
  EXPECT_EQ(later.response, Response::call_vet);
  EXPECT_THAT(later.advice, HasSubstr("If any of it is still on, call a veterinarian with reptile "
                                      "or amphibian experience. Do not pull."));
  EXPECT_EQ(later.for_vet,
            "Shed on 2026-11-22, noted as stuck on the tail tip. No later check in the notebook.");
}

TEST(Sheds, ACheckOrAWholeShedEndsIt) {
  RoomBuilder checked = room_with("corn_snake");
  jot(checked, EntryKind::shed, 9, "stuck");
  checked.checked(ago(8), "a", "mites");
  EXPECT_EQ(shed_signs(checked).size(), 1u);
  checked.checked(ago(8), "a", "shed");
  EXPECT_THAT(shed_signs(checked), IsEmpty());
  RoomBuilder whole = room_with("corn_snake");
  jot(whole, EntryKind::shed, 9, "stuck");
  jot(whole, EntryKind::shed, 1, "complete");
  EXPECT_THAT(shed_signs(whole), IsEmpty());
}

TEST(Sheds, StuckAgainAndAgainIsTold) {
  RoomBuilder b = room_with("corn_snake");
  jot(b, EntryKind::shed, 120, "stuck");
  jot(b, EntryKind::shed, 70, "complete");
  jot(b, EntryKind::shed, 20, "stuck");
  b.checked(ago(19), "a", "shed");
  const Sign s = only(shed_signs(b));
  EXPECT_EQ(s.response, Response::watch);
  EXPECT_EQ(s.says, "had 2 of its last 3 sheds stuck");
  EXPECT_EQ(s.evidence, "Stuck on 2026-07-28 and 2026-11-05.");
}

TEST(Sheds, InShedForLong) {
  RoomBuilder b = room_with("corn_snake");
  for (int shed = 300; shed >= 50; shed -= 50) {
    jot(b, EntryKind::in_shed, shed + 8);
    jot(b, EntryKind::shed, shed, "complete");
  }
  jot(b, EntryKind::in_shed, 18);
  jot(b, EntryKind::in_shed, 12);                       // looked at once more
  EXPECT_THAT(shed_signs(b, "2026-11-17"), IsEmpty());  // 10 days
  const Sign s = only(shed_signs(b));
  EXPECT_EQ(s.response, Response::watch);
  EXPECT_EQ(s.says, "has been in shed for 18 days, longer than any of its 6 sheds before");
  EXPECT_THAT(s.evidence, HasSubstr("In shed since 2026-11-07, no shed written down. It usually "
                                    "takes 8 days, from 6 sheds of its own and 9 d for snakes"));
  EXPECT_THAT(s.advice, HasSubstr("If it has shed, write it down."));
  // Sixty days after the dull skin was first noted it is forgotten; that no shed is written down
  // is not.
  EXPECT_THAT(only(shed_signs(b, "2027-01-05")).says, HasSubstr("has been in shed for 59 days"));
  EXPECT_THAT(only(shed_signs(b, "2027-01-20")).says,
              HasSubstr("has no shed written down for 106 days"));
}

TEST(Sheds, OverdueByItsOwnRecordOnly) {
  RoomBuilder b = room_with("corn_snake");
  every(b, EntryKind::shed, 50, 450, 150, "complete");
  const Sign s = only(shed_signs(b));
  EXPECT_EQ(s.response, Response::watch);
  EXPECT_EQ(s.says, "has no shed written down for 150 days, longer than any of its 6 gaps before");
  EXPECT_THAT(s.evidence,
              HasSubstr("Last shed on 2026-06-28. Its usual gap is 49 days, from 6 gaps "
                        "of its own; "));
  // Two gaps are no record, and 60 days are nothing after gaps of 50.
  RoomBuilder few = room_with("corn_snake");
  every(few, EntryKind::shed, 50, 250, 150, "complete");
  EXPECT_THAT(shed_signs(few), IsEmpty());
  RoomBuilder soon = room_with("corn_snake");
  every(soon, EntryKind::shed, 50, 410, 60, "complete");
  EXPECT_THAT(shed_signs(soon), IsEmpty());
}

TEST(Sheds, NothingOfFrogsTortoisesGroupsOrTheUnknown) {
  for (const char* species : {"whites_tree_frog", "hermanns_tortoise"}) {
    RoomBuilder b = room_with(species);
    jot(b, EntryKind::shed, 9, "stuck");
    EXPECT_THAT(shed_signs(b), IsEmpty()) << species;
  }
  RoomBuilder group = room_with("mourning_gecko", [](auto& a) { a.count = 3; });
  jot(group, EntryKind::shed, 9, "stuck");
  EXPECT_THAT(shed_signs(group), IsEmpty());
  EXPECT_THAT(shed_signs(room_with("corn_snake")), IsEmpty());
}

/// A corn snake that eats every ten days and passes droppings three days after each meal, until
/// some number of meals ago.
RoomBuilder no_droppings_for(int meals) {
  RoomBuilder b = room_with("corn_snake");
  every(b, EntryKind::fed, 10, 305, 5);
  every(b, EntryKind::droppings, 10, 302, 5 + 10 * meals - 3, "normal");
  return b;
}

TEST(Droppings, NoneAfterManyMealsIsWatched) {
  EXPECT_THAT(droppings_signs(no_droppings_for(1)), IsEmpty());
  EXPECT_THAT(droppings_signs(no_droppings_for(3)), IsEmpty());
  const Sign s = only(droppings_signs(no_droppings_for(5)));
  EXPECT_EQ(s.response, Response::watch);
  // The last on day 52, three days after the meal of day 55; meals on days 45 to 5 since.
  EXPECT_EQ(s.says, "has no droppings written down for 5 meals and 52 days");
  EXPECT_THAT(s.evidence, HasSubstr("Last droppings on 2026-10-04, 5 meals since. Its usual gap is "
                                    "1 meal, from 25 gaps of its own; "));
  EXPECT_EQ(s.advice,
            "Look for droppings in the whole enclosure and write them down. Check the warm side "
            "and the water. If it strains, swells or stops eating, call a veterinarian with "
            "reptile or amphibian experience.");
}

TEST(Droppings, WithRefusalsItIsForTheVet) {
  RoomBuilder b = no_droppings_for(9);
  EXPECT_EQ(only(droppings_signs(b)).response, Response::watch);
  jot(b, EntryKind::refused, 1);
  const Sign s = only(droppings_signs(b));
  EXPECT_EQ(s.response, Response::call_vet);
  EXPECT_EQ(s.says, "has no droppings written down for 9 meals and 92 days, and now refuses food");
  EXPECT_EQ(s.for_vet,
            "Last droppings 2026-08-25; 9 meals since, the last on 2026-11-20. Refused on "
            "2026-11-24.");
}

TEST(Droppings, WithoutARecordNothingIsSaid) {
  RoomBuilder b = room_with("corn_snake");
  every(b, EntryKind::fed, 10, 305, 5);
  EXPECT_THAT(droppings_signs(b), IsEmpty());
  jot(b, EntryKind::droppings, 200);
  jot(b, EntryKind::droppings, 190);
  EXPECT_THAT(droppings_signs(b), IsEmpty());
}

TEST(Droppings, AFastIsNoLackOfThem) {
  RoomBuilder b = room_with("corn_snake");
  every(b, EntryKind::fed, 10, 305, 105);
  every(b, EntryKind::droppings, 10, 302, 102);
  every(b, EntryKind::refused, 10, 95, 5);
  EXPECT_THAT(droppings_signs(b), IsEmpty());
}

TEST(Droppings, NothingOfGroupsAndSleepers) {
  RoomBuilder group = room_with("dyeing_dart_frog", [](auto& a) { a.count = 4; });
  every(group, EntryKind::fed, 1, 90, 1);
  every(group, EntryKind::droppings, 1, 90, 60);
  EXPECT_THAT(droppings_signs(group), IsEmpty());
  RoomBuilder asleep = no_droppings_for(9);
  EXPECT_EQ(droppings_signs(asleep).size(), 1u);
  jot(asleep, EntryKind::brumation_started, 2);
  EXPECT_THAT(droppings_signs(asleep), IsEmpty());
}

}  // namespace
}  // namespace warmside::health
