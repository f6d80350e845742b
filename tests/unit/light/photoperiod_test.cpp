// The length of light that animals want: whose word goes first, the season of the room, what
// several animals have in common.
//
// Day lengths at 26 degrees: 10.51 h at the winter and 13.77 h at the summer solstice, by the CBM
// formula (Forsythe et al. 1995), to which tests/reference/sun_test.cpp holds the sun within
// minutes; so 0.05 h. The profile's hours are those of data/species_facts.csv.

#include "light/photoperiod.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "light/sun.h"
#include "support/room_builder.h"

namespace warmside::light {
namespace {

using room::EntryKind;
using species::Key;
using species::Profile;
using test::date;
using test::RoomBuilder;
using testing::HasSubstr;

constexpr double kBergen_deg = 60.39;
constexpr double kHobart_deg = -42.9;
constexpr const char* kWinterHere = "2026-12-21";
constexpr const char* kSummerHere = "2026-06-21";

Profile built_in(const char* id) {
  return *species::built_in().find(species::SpeciesId::trusted(id));
}
void put(Profile& profile, Key key, const char* value) {
  profile.put({key, *species::read_value(key, value), Trust::keeper, "the keeper: mine", ""});
}

TEST(WantedLight, TheHomesDayFirstThenTheTable) {
  const auto light = wanted_light(built_in("blue_tongued_skink"), kBergen_deg, date(kSummerHere));
  ASSERT_EQ(light.opinions.size(), 2u);
  EXPECT_NEAR(light.wanted().hours(), 13.77, 0.05);
  EXPECT_NEAR(light.opinions[1].length.hours(), 13, 0.01);
  EXPECT_THAT(light.opinions[0].words, HasSubstr("26 degrees from the equator"));
  EXPECT_THAT(light.opinions[0].words, HasSubstr("from memory"));
  EXPECT_THAT(light.opinions[1].words, HasSubstr("11 h in winter to 13 h in summer"));
  EXPECT_THAT(light.opinions[1].words, HasSubstr("common practice"));
  EXPECT_NEAR(light.band().low.hours(), 13, 0.01);
  EXPECT_NEAR(light.band().high.hours(), 13.77, 0.05);
}

/// The skink is from 26 south. Its summer is the room's.
TEST(WantedLight, TheSeasonIsTheRooms) {
  const Profile skink = built_in("blue_tongued_skink");
  EXPECT_NEAR(wanted_light(skink, kBergen_deg, date(kWinterHere)).wanted().hours(), 10.51, 0.05);
  EXPECT_NEAR(wanted_light(skink, kHobart_deg, date(kWinterHere)).wanted().hours(), 13.77, 0.05);
  const Profile corn = built_in("corn_snake");  // from the north
  EXPECT_GT(wanted_light(corn, kHobart_deg, date(kWinterHere)).wanted(), Duration::hours(13));
  EXPECT_GT(wanted_light(corn, 0, date(kSummerHere)).wanted(), Duration::hours(13));
}

TEST(WantedLight, HoursOfTheKeeperStandAlone) {
  Profile skink = built_in("blue_tongued_skink");
  put(skink, Key::photoperiod_winter, "9h");
  const auto light = wanted_light(skink, kBergen_deg, date(kWinterHere));
  ASSERT_EQ(light.opinions.size(), 1u);
  EXPECT_NEAR(light.wanted().hours(), 9, 0.01);
  EXPECT_THAT(light.opinions[0].words, HasSubstr("(keeper)"));
}

TEST(WantedLight, ALatitudeOfTheKeeperStandsAlone) {
  Profile skink = built_in("blue_tongued_skink");
  put(skink, Key::native_latitude, "-42.9");
  const auto light = wanted_light(skink, kBergen_deg, date(kSummerHere));
  ASSERT_EQ(light.opinions.size(), 1u);
  EXPECT_EQ(light.wanted(), *day_length(42.9, date(kSummerHere)));
  put(skink, Key::photoperiod_summer, "14h");  // hours go before a latitude
  const auto hours = wanted_light(skink, kBergen_deg, date(kSummerHere));
  ASSERT_EQ(hours.opinions.size(), 1u);
  EXPECT_NEAR(hours.wanted().hours(), 14, 0.01);
}

TEST(WantedLight, UnknownStaysUnknown) {
  Profile own;
  const auto nothing = wanted_light(own, kBergen_deg, date(kSummerHere));
  EXPECT_FALSE(nothing.known());
  EXPECT_THAT(nothing.unknown, HasSubstr("neither"));
  put(own, Key::photoperiod_summer, "14h");
  const auto half = wanted_light(own, kBergen_deg, date(kSummerHere));
  EXPECT_FALSE(half.known());
  EXPECT_THAT(half.unknown, HasSubstr("only one"));
  const auto far = wanted_light(built_in("corn_snake"), kBergen_deg, date("2150-01-01"));
  EXPECT_FALSE(far.known());
  EXPECT_THAT(far.unknown, HasSubstr("1900 to 2100"));
}

RoomBuilder room_at(double latitude_deg) {
  RoomBuilder b;
  b.info([&](room::RoomInfo& info) { info.latitude_deg = latitude_deg; }).enclosure("box");
  return b;
}
SharedLight shared_on(const RoomBuilder& b, const char* day) {
  const auto made = b.day(day);
  SharedLight shared = shared_light(made.day, room::EnclosureId::trusted("box"), date(day));
  for (auto& wish : shared.wishes) wish.animal = nullptr;  // `made` ends here
  return shared;
}

TEST(SharedLight, OneAnimalWantsItsOwn) {
  const auto shared =
      shared_on(room_at(kBergen_deg).animal("basil", "blue_tongued_skink"), kSummerHere);
  ASSERT_EQ(shared.wishes.size(), 1u);
  EXPECT_TRUE(shared.agree);
  EXPECT_EQ(shared.wanted, shared.wishes[0].light.wanted());
  EXPECT_EQ(shared.band, shared.wishes[0].light.band());
  // light_tolerance is an hour.
  EXPECT_EQ(shared.accepted.low, shared.band.low - Duration::hours(1));
  EXPECT_EQ(shared.accepted.high, shared.band.high + Duration::hours(1));
}

TEST(SharedLight, WhatSeveralHaveInCommon) {
  // Fixed hours, so that the bands are points: 12 h and 13 h, then 12 h and 15 h.
  const auto two = [](const char* hours) {
    return room_at(kBergen_deg)
        .animal("a", "corn_snake")
        .animal("b", "corn_snake")
        .override_for("a", "photoperiod_summer", "12h")
        .override_for("a", "photoperiod_winter", "12h")
        .override_for("b", "photoperiod_summer", hours)
        .override_for("b", "photoperiod_winter", hours);
  };
  const auto near = shared_on(two("13h"), kSummerHere);
  EXPECT_TRUE(near.agree);
  EXPECT_NEAR(near.wanted.hours(), 12.5, 1e-9);
  EXPECT_NEAR(near.accepted.low.hours(), 12, 1e-9);       // an hour under the 13
  EXPECT_NEAR(near.accepted.high.hours(), 13, 1e-9);      // an hour over the 12
  EXPECT_TRUE(shared_on(two("14h"), kSummerHere).agree);  // 13 h suits both, just
  EXPECT_FALSE(shared_on(two("15h"), kSummerHere).agree);
}

TEST(SharedLight, BrumationIsLeftOut) {
  auto b = room_at(kBergen_deg).animal("tess", "hermanns_tortoise");
  b.entry("2026-11-20", EntryKind::brumation_started, "tess");
  const auto asleep = shared_on(b, kWinterHere);
  EXPECT_TRUE(asleep.wishes.empty());
  EXPECT_THAT(asleep.unknown, HasSubstr("brumation"));
}

TEST(SharedLight, WithoutALatitudeNothingIsKnown) {
  RoomBuilder b;
  b.enclosure("box").animal("basil", "blue_tongued_skink");
  const auto shared = shared_on(b, kSummerHere);
  EXPECT_TRUE(shared.wishes.empty());
  EXPECT_THAT(shared.unknown, HasSubstr("latitude"));
  EXPECT_THAT(shared_on(room_at(kBergen_deg), kSummerHere).unknown, HasSubstr("no animal"));
}

TEST(LightWords, FiveMinutes) {
  EXPECT_EQ(light_words(Duration::minutes(672)), "11 h 10 min");
  EXPECT_EQ(light_words(Duration::minutes(673)), "11 h 15 min");
  EXPECT_EQ(light_words({Duration::hours(11), Duration::minutes(661)}), "11 h");
  EXPECT_EQ(light_words({Duration::hours(11), Duration::hours(12)}), "11 h to 12 h");
}

}  // namespace
}  // namespace warmside::light
