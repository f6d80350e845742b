// Loss of mass (docs/models/round.md): lost = 1 - latest / highest of the 90 days before the
// latest; a finding when lost exceeds the limit, at once if the loss took no more than 28 days.
// Limits: corn_snake and whites_tree_frog 10 %, dyeing_dart_frog and veiled_chameleon 5 %
// (species_facts.csv); hatchlings (under 90 d) and frogs under 10 g 5 % (care_rules.csv).

#include "health/mass_loss.h"

#include <fmt/format.h>
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
using testing::Not;

constexpr const char* kToday = "2026-11-25";

std::vector<Finding> found(const RoomBuilder& b, const char* day = kToday) {
  const auto built = b.day(day);
  std::vector<Finding> out;
  for (const room::AnimalDay& animal : built.day.animals) {
    if (auto finding = lost_by_rule(animal, built.day)) out.push_back(std::move(*finding));
  }
  return out;
}

/// An animal of a species that went from one mass to another in a number of days up to today.
RoomBuilder went(const char* species, const char* from, const char* to, int days = 20,
                 const std::function<void(room::Animal&)>& change = {}) {
  RoomBuilder b = RoomBuilder().enclosure("tub").animal("a", species, change);
  b.weighed(to_text(date(kToday) - days), "a", from);
  return b.weighed(kToday, "a", to);
}

TEST(MassLoss, ExactlyAtTheLimitIsNoFindingJustOverIs) {
  EXPECT_THAT(found(went("corn_snake", "500g", "450g")), IsEmpty());
  EXPECT_EQ(found(went("corn_snake", "500g", "449.9g")).size(), 1u);
  EXPECT_THAT(found(went("veiled_chameleon", "100g", "95g")), IsEmpty());
  EXPECT_EQ(found(went("veiled_chameleon", "100g", "94.9g")).size(), 1u);
}

// Found by this test: for 1504 of the 5000 whole masses 10 g, 20 g, ... a loss of exactly 10 % was
// a finding, since in binary it is a little more.
TEST(MassLoss, ExactlyAtTheLimitIsNoFindingForAnyMass) {
  for (int n = 5; n <= 200; ++n) {
    const auto grams = [](int g) { return fmt::format("{}g", g); };
    EXPECT_THAT(found(went("corn_snake", grams(10 * n).c_str(), grams(9 * n).c_str())), IsEmpty())
        << 10 * n << " g";
    EXPECT_THAT(found(went("veiled_chameleon", grams(20 * n).c_str(), grams(19 * n).c_str())),
                IsEmpty())
        << 20 * n << " g";
  }
}

TEST(MassLoss, AGainOrOneWeighingIsNone) {
  EXPECT_THAT(found(went("corn_snake", "500g", "600g")), IsEmpty());
  RoomBuilder once = RoomBuilder().enclosure("tub").animal("a", "corn_snake");
  EXPECT_THAT(found(once), IsEmpty());
  once.weighed(kToday, "a", "500g");
  EXPECT_THAT(found(once), IsEmpty());
}

TEST(MassLoss, SmallFrogsAndHatchlingsAtFivePerCent) {
  // A White's tree frog of 9.99 g is under small_frog_mass, one of 10 g is not: limit 10 %.
  EXPECT_EQ(found(went("whites_tree_frog", "10.6g", "9.99g")).size(), 1u);  // 5.8 %
  EXPECT_THAT(found(went("whites_tree_frog", "10.8g", "10g")), IsEmpty());  // 7.4 %
  EXPECT_EQ(found(went("dyeing_dart_frog", "4g", "3.79g")).size(), 1u);     // 5.25 %
  EXPECT_THAT(found(went("dyeing_dart_frog", "4g", "3.8g")), IsEmpty());    // 5 %
  // A snake of 9 g is no frog.
  EXPECT_THAT(found(went("corn_snake", "9.5g", "9g")), IsEmpty());
  const auto born = [](const char* when) { return [=](room::Animal& a) { a.born = date(when); }; };
  // 89 and 90 days before 25 November (3 + 30 + 31 + 25 = 89 from 28 August).
  EXPECT_EQ(found(went("corn_snake", "20g", "18.8g", 20, born("2026-08-28"))).size(), 1u);
  EXPECT_THAT(found(went("corn_snake", "20g", "18.8g", 20, born("2026-08-27"))), IsEmpty());
  EXPECT_THAT(found(went("corn_snake", "20g", "19g", 20, born("2026-08-28"))), IsEmpty());  // 5 %
}

TEST(MassLoss, TheKeepersLimitWins) {
  RoomBuilder strict = went("corn_snake", "500g", "485g");  // 3 %
  EXPECT_THAT(found(strict), IsEmpty());
  strict.override_for("a", "mass_loss_limit", "2%");
  ASSERT_EQ(found(strict).size(), 1u);
  EXPECT_THAT(found(strict)[0].evidence, HasSubstr("limit 2 % (keeper)"));
  RoomBuilder mild = went("dyeing_dart_frog", "4g", "3.5g");  // 12.5 %
  EXPECT_EQ(found(mild).size(), 1u);
  mild.override_for("a", "mass_loss_limit", "15%");
  EXPECT_THAT(found(mild), IsEmpty());
  RoomBuilder hatchling = went("corn_snake", "20g", "18.5g", 20,
                               [](auto& a) { a.born = date("2026-10-01"); });  // 7.5 %
  EXPECT_EQ(found(hatchling).size(), 1u);
  hatchling.override_for("a", "mass_loss_limit", "8%");
  EXPECT_THAT(found(hatchling), IsEmpty());
}

TEST(MassLoss, WithoutAProfileTheGeneralLimitHolds) {
  RoomBuilder b;
  b.add<room::OwnSpecies>("rough_snake", [](auto& s) {
    s.common_name = "Rough snake";
    s.group = Group::snake;
  });
  b.enclosure("tub").animal("a", "rough_snake");
  b.weighed("2026-11-01", "a", "100g").weighed(kToday, "a", "90g");
  EXPECT_THAT(found(b), IsEmpty());
  b.weighed("2026-11-25 13:00", "a", "89g");
  ASSERT_EQ(found(b).size(), 1u);
  EXPECT_THAT(found(b)[0].evidence, HasSubstr("limit 10 % (verified secondary)"));
}

TEST(MassLoss, FastIsForNowSlowForToday) {
  EXPECT_EQ(found(went("corn_snake", "500g", "400g", 1))[0].when, When::now);
  EXPECT_EQ(found(went("corn_snake", "500g", "400g", 28))[0].when, When::now);
  EXPECT_EQ(found(went("corn_snake", "500g", "400g", 29))[0].when, When::today);
}

// Found by this test: from 28 September to 26 October, noon to noon, there are 28 days and, for
// the end of summer time on 25 October 2026, one hour; it was not fast.
TEST(MassLoss, TwentyEightDaysAreThoseOfTheCalendar) {
  RoomBuilder b = RoomBuilder().enclosure("tub").animal("a", "corn_snake");
  b.weighed("2026-09-28", "a", "500g").weighed("2026-10-26", "a", "400g");
  ASSERT_EQ(found(b, "2026-10-26").size(), 1u);
  EXPECT_EQ(found(b, "2026-10-26")[0].when, When::now);
  EXPECT_THAT(found(b, "2026-10-26")[0].headline, HasSubstr("in 28 days"));
  RoomBuilder later = RoomBuilder().enclosure("tub").animal("a", "corn_snake");
  later.weighed("2026-11-01 08:00", "a", "500g").weighed("2026-11-29 20:00", "a", "400g");
  EXPECT_EQ(found(later, "2026-11-29")[0].when, When::now);
}

TEST(MassLoss, TheHighestOfTheNinetyDaysBeforeTheLatestCounts) {
  // 27 August is 90 days before 25 November (4 + 30 + 31 + 25), the 26th is 91.
  EXPECT_EQ(found(went("corn_snake", "500g", "400g", 90)).size(), 1u);
  EXPECT_THAT(found(went("corn_snake", "500g", "400g", 91)), IsEmpty());
  // The highest, not the first or the last, and the later of two equals.
  RoomBuilder b = RoomBuilder().enclosure("tub").animal("a", "corn_snake");
  for (const auto& [day, mass] : {std::pair("2026-08-01", "900g"),
                                  {"2026-09-01", "450g"},
                                  {"2026-10-01", "500g"},
                                  {"2026-11-01", "500g"},
                                  {"2026-11-10", "460g"},
                                  {"2026-11-20", "440g"}}) {
    b.weighed(day, "a", mass);
  }
  const auto finding = found(b);  // 1 - 440/500 = 12 % in 19 days; 900 g is 111 days before
  ASSERT_EQ(finding.size(), 1u);
  EXPECT_EQ(finding[0].headline, "a has lost 12.0 % of its mass in 19 days");
  EXPECT_THAT(finding[0].evidence, HasSubstr("440 g on 2026-11-20, down from 500 g on 2026-11-01"));
  EXPECT_EQ(finding[0].when, When::now);
}

TEST(MassLoss, ALatestWeighingOfMoreThanNinetyDaysAgoSaysNothing) {
  RoomBuilder b = RoomBuilder().enclosure("tub").animal("a", "corn_snake");
  b.weighed("2026-08-20", "a", "500g").weighed("2026-08-27", "a", "400g");
  EXPECT_EQ(found(b, "2026-11-25").size(), 1u);    // 90 days
  EXPECT_THAT(found(b, "2026-11-26"), IsEmpty());  // 91 days
}

TEST(MassLoss, ALatestWeighingThatRoseAgainIsNone) {
  RoomBuilder b = went("corn_snake", "500g", "400g");
  b.weighed("2026-11-25 13:00", "a", "470g");
  EXPECT_THAT(found(b), IsEmpty());
  b.strike_it("2026-11-25 14:00");
  EXPECT_EQ(found(b).size(), 1u);
}

TEST(MassLoss, GroupsAreNotJudged) {
  EXPECT_THAT(found(went("dyeing_dart_frog", "12g", "6g", 20, [](auto& a) { a.count = 3; })),
              IsEmpty());
}

TEST(MassLoss, AnAnimalThatLeftIsNotJudged) {
  RoomBuilder b = went("corn_snake", "500g", "400g", 20, [](auto& a) { a.left = date(kToday); });
  EXPECT_THAT(found(b), IsEmpty());
}

TEST(MassLoss, BrumationIsMentioned) {
  RoomBuilder b = went("hermanns_tortoise", "1500g", "1300g", 60);
  EXPECT_THAT(found(b)[0].evidence, Not(HasSubstr("brumation")));
  b.entry("2026-10-01", EntryKind::brumation_started, "a");
  EXPECT_THAT(found(b)[0].evidence, HasSubstr("It has been in brumation since 2026-10-01."));
  b.entry("2026-11-20", EntryKind::brumation_ended, "a");
  EXPECT_THAT(found(b)[0].evidence, Not(HasSubstr("brumation")));
}

TEST(MassLoss, AFindingIsComplete) {
  RoomBuilder b = went("corn_snake", "500g", "400g", 20, [](auto& a) { a.name = "Juniper"; });
  b.info([](auto& i) { i.units = UnitSystem::us; });
  const Finding finding = found(b).at(0);
  EXPECT_EQ(finding.subject_kind, "animal");
  EXPECT_EQ(finding.subject, "a");
  EXPECT_EQ(finding.module, "health");
  EXPECT_EQ(finding.headline, "Juniper has lost 20.0 % of its mass in 20 days");
  EXPECT_THAT(finding.evidence, HasSubstr("14.1 oz"));  // 400 g / 28.349523125 g
  EXPECT_THAT(finding.evidence, HasSubstr("1.1 lb"));   // 500 g / 453.59237 g
  EXPECT_THAT(finding.evidence, HasSubstr("limit 10 % (verified secondary)"));
  EXPECT_THAT(finding.advice, HasSubstr("veterinarian"));
  EXPECT_FALSE(finding.source.empty());
}

}  // namespace
}  // namespace warmside::health
