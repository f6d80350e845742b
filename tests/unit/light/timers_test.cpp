// What is said about timers: each rule by an animal for which it just holds and just does not.
//
// Hours of animals are fixed by overrides, so that the band is one length and the tolerance (rule
// light_tolerance, 1 h) its only width.

#include "light/timers.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::light {
namespace {

using room::EntryKind;
using test::RoomBuilder;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr const char* kToday = "2026-11-25";

class LitRoom : public RoomBuilder {
 public:
  LitRoom() {
    info([](room::RoomInfo& info) { info.latitude_deg = 60.39; });
    enclosure("table", [](room::Enclosure& e) { e.name = "Skink table"; });
  }
  LitRoom& wants(const char* animal_id, const char* hours) {
    animal(animal_id, "blue_tongued_skink");
    override_for(animal_id, "photoperiod_summer", hours);
    override_for(animal_id, "photoperiod_winter", hours);
    return *this;
  }
  LitRoom& lamp(const char* id, const std::function<void(room::Lamp&)>& change = {}) {
    add<room::Lamp>(id, [&](room::Lamp& l) {
      l.kind = room::LampKind::led;
      l.enclosure = room::EnclosureId::trusted("table");
      if (change) change(l);
    });
    return *this;
  }
  /// A lamp with a timer of its own; a null time is not known.
  LitRoom& timed(const char* id, const char* on, const char* off) {
    add<room::Timer>(id, [&](room::Timer& t) {
      if (on != nullptr) t.on = parse_time_of_day(on).value();
      if (off != nullptr) t.off = parse_time_of_day(off).value();
    });
    return lamp(id, [&](room::Lamp& l) { l.timer = room::TimerId::trusted(id); });
  }
};

std::vector<Finding> found(const LitRoom& b) {
  return timer_findings(b.day(kToday).day);
}

TEST(Timers, MoreThanAnHourOffIsMentioned) {
  EXPECT_THAT(found(LitRoom().wants("basil", "12h").timed("led", "07:00", "18:00")), IsEmpty());
  EXPECT_THAT(found(LitRoom().wants("basil", "12h").timed("led", "07:00", "20:00")), IsEmpty());
  EXPECT_EQ(found(LitRoom().wants("basil", "12h").timed("led", "07:00", "20:01")).size(), 1u);
  const auto off = found(LitRoom().wants("basil", "12h").timed("led", "07:00", "17:59"));
  ASSERT_EQ(off.size(), 1u);
  EXPECT_EQ(off[0].when, When::this_week);
  EXPECT_EQ(off[0].subject, "led");
  EXPECT_EQ(off[0].subject_kind, "lamp");
  EXPECT_EQ(off[0].module, "light");
  EXPECT_THAT(off[0].headline, HasSubstr("The light over Skink table burns 11 h"));
  EXPECT_THAT(off[0].headline, HasSubstr("12 h (Blue-tongued skink)"));
  EXPECT_THAT(off[0].evidence, HasSubstr("07:00 to 17:59"));
  EXPECT_THAT(off[0].advice, HasSubstr("light plan table"));
}

TEST(Timers, OverMidnightCountsThrough) {
  EXPECT_THAT(found(LitRoom().wants("basil", "12h").timed("led", "18:00", "06:00")), IsEmpty());
}

TEST(Timers, TheLampsOfAnEnclosureCountTogether) {
  // 7 to 13 and 13 to 19 make 12 h.
  EXPECT_THAT(found(LitRoom()
                        .wants("basil", "12h")
                        .timed("led-1", "07:00", "13:00")
                        .timed("led-2", "13:00", "19:00")),
              IsEmpty());
}

TEST(Timers, DifferentHoursAreGoodToKnow) {
  const auto room = [](const char* uvb_off) {
    return LitRoom()
        .wants("basil", "12h")
        .timed("led", "07:00", "19:00")
        .timed("tube", "08:00", uvb_off);
  };
  EXPECT_THAT(found(room("19:00")), IsEmpty());  // 11 h: an hour less, just
  const auto different = found(room("18:59"));
  ASSERT_EQ(different.size(), 1u);
  EXPECT_EQ(different[0].when, When::good_to_know);
  EXPECT_EQ(different[0].subject, "table");
  EXPECT_THAT(different[0].headline, HasSubstr("different hours"));
}

TEST(Timers, ALampThatNeverGoesOff) {
  const auto burning = found(LitRoom().wants("basil", "12h").lamp("spot"));
  ASSERT_EQ(burning.size(), 1u);
  EXPECT_EQ(burning[0].when, When::this_week);
  EXPECT_THAT(burning[0].headline, HasSubstr("burns day and night as far as the book says"));
  EXPECT_THAT(burning[0].advice, HasSubstr("licensed electrician"));
  // A thermostat may switch it; retired, it does not.
  const auto by = [](bool retired) {
    LitRoom b;
    b.wants("basil", "12h");
    b.add<room::Thermostat>("dimmer", [&](auto& t) {
      if (retired) t.retired = test::date("2026-01-01");
    });
    return b.lamp("spot",
                  [](room::Lamp& l) { l.thermostat = room::ThermostatId::trusted("dimmer"); });
  };
  EXPECT_THAT(found(by(false)), IsEmpty());
  EXPECT_EQ(found(by(true)).size(), 1u);
}

TEST(Timers, ATimerWithoutTimes) {
  for (const char* off : {static_cast<const char*>(nullptr), "07:00"}) {
    const auto timeless = found(LitRoom().wants("basil", "12h").timed("led", "07:00", off));
    ASSERT_EQ(timeless.size(), 1u);
    EXPECT_EQ(timeless[0].when, When::good_to_know);
    EXPECT_THAT(timeless[0].headline,
                HasSubstr(off == nullptr ? "are not known" : "at the same time"));
  }
  // With it nobody knows how long the light is: no judgement of the other lamp.
  EXPECT_EQ(found(LitRoom()
                      .wants("basil", "12h")
                      .timed("led", nullptr, nullptr)
                      .timed("tube", "10:00", "14:00"))
                .size(),
            1u);
}

TEST(Timers, AnimalsThatDisagree) {
  const auto apart =
      found(LitRoom().wants("basil", "12h").wants("mint", "15h").timed("led", "07:00", "20:00"));
  ASSERT_EQ(apart.size(), 1u);
  EXPECT_EQ(apart[0].when, When::good_to_know);
  EXPECT_THAT(apart[0].headline, HasSubstr("want days of different length"));
  EXPECT_THAT(
      found(LitRoom().wants("basil", "12h").wants("mint", "14h").timed("led", "07:00", "20:00")),
      IsEmpty());  // 13 h suits both, just
}

TEST(Timers, BrumationAndEmptyHomesAreLeftAlone) {
  LitRoom asleep;
  asleep.wants("basil", "12h").timed("led", "07:00", "09:00").lamp("spot");
  asleep.entry("2026-11-20", EntryKind::brumation_started, "basil");
  EXPECT_THAT(found(asleep), IsEmpty());
  EXPECT_THAT(found(LitRoom().timed("led", "07:00", "09:00").lamp("spot")), IsEmpty());
}

TEST(Timers, WithoutALatitudeItIsSaidOnce) {
  LitRoom b;
  b.info([](room::RoomInfo& info) { info.latitude_deg.reset(); });
  b.wants("basil", "12h").timed("led", "07:00", "09:00");
  const auto nowhere = found(b);
  ASSERT_EQ(nowhere.size(), 1u);
  EXPECT_EQ(nowhere[0].subject_kind, "room");
  EXPECT_EQ(nowhere[0].when, When::good_to_know);
  // A room without timed lamps has no use for it.
  LitRoom dark;
  dark.info([](room::RoomInfo& info) { info.latitude_deg.reset(); });
  EXPECT_THAT(found(dark.wants("basil", "12h")), IsEmpty());
}

TEST(Timers, UnknownWantsLeadToNothing) {
  LitRoom b;
  b.add<room::OwnSpecies>("tegu_of_mine", [](auto& s) {
    s.common_name = "Own tegu";
    s.group = Group::lizard;
  });
  b.animal("rex", "tegu_of_mine");
  EXPECT_THAT(found(b.timed("led", "07:00", "09:00")), IsEmpty());
}

}  // namespace
}  // namespace warmside::light
