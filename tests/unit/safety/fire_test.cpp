#include "safety/fire.h"

#include "unit/safety/safe_room.h"

namespace warmside::safety {
namespace {

using room::SafetyDeviceKind;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Judged judged(const SafeRoom& room) {
  return judge_fire(room.build().day(kToday).day);
}
std::vector<Finding> found(const SafeRoom& room) {
  return judged(room).findings;
}

TEST(Fire, AHeatedRoomWantsASmokeAlarm) {
  const auto other = [](SafetyDeviceKind kind) {
    return [kind](auto& d) {
      d.kind = kind;
      d.by_the_door = room::Answer::yes;
    };
  };
  const auto none = found({.alarm = other(SafetyDeviceKind::extinguisher)});
  EXPECT_THAT(none, ElementsAre(is(When::today, "room", "room", "There is no smoke alarm")));
  EXPECT_THAT(none[0].evidence, HasSubstr("1 heater and 1 hot lamp are in use, and no smoke"));
  EXPECT_THAT(found({.alarm = [](auto& d) { d.kind = SafetyDeviceKind::heat_alarm; }}),
              ElementsAre(is(When::this_week, "room", "room", "a heat alarm, but no smoke alarm")));
  // A hot lamp alone asks for one; an LED does not.
  SafeRoom lamp{.mat = [](auto& h) { h.retired = date(kToday); },
                .alarm = other(SafetyDeviceKind::extinguisher)};
  EXPECT_THAT(found(lamp)[0].evidence, HasSubstr("1 hot lamp is in use"));
  lamp.lamp = [](auto& l) { l.kind = room::LampKind::led; };
  EXPECT_THAT(found(lamp), IsEmpty());
  SafeRoom heater{.lamp = [](auto& l) { l.retired = date(kToday); },
                  .alarm = other(SafetyDeviceKind::extinguisher)};
  EXPECT_THAT(found(heater)[0].evidence, HasSubstr("1 heater is in use"));
  heater.more = [](RoomBuilder& b) { b.add<room::Heater>("cable"); };
  EXPECT_THAT(found(heater)[0].evidence, HasSubstr("2 heaters are in use"));
}

TEST(Fire, AnExtinguisherHangsByTheDoor) {
  EXPECT_THAT(found({.extinguisher =
                         [](auto& d) {
                           d.kind = SafetyDeviceKind::smoke_alarm;
                           d.battery = date("2026-06-01");
                         }}),
              ElementsAre(is(When::this_week, "room", "room", "no fire extinguisher")));
  EXPECT_THAT(found({.extinguisher = [](auto& d) { d.by_the_door = room::Answer::no; }}),
              ElementsAre(is(When::good_to_know, "safety_device", "red", "hangs by the door")));
  const Judged unknown =
      judged({.extinguisher = [](auto& d) { d.by_the_door = room::Answer::unknown; }});
  EXPECT_THAT(unknown.findings, IsEmpty());
  EXPECT_EQ(questions_of(unknown.gaps), "whether it hangs by the door: red");
  // One by the door is enough.
  EXPECT_THAT(found({.extinguisher = [](auto& d) { d.by_the_door = room::Answer::no; },
                     .more =
                         [](RoomBuilder& b) {
                           b.add<room::SafetyDevice>("red-2", [](auto& d) {
                             d.kind = SafetyDeviceKind::extinguisher;
                             d.by_the_door = room::Answer::yes;
                           });
                         }}),
              IsEmpty());
}

TEST(Fire, AnAlarmsBatteryLastsAYear) {
  const auto since = [](const char* day) {
    return SafeRoom{.alarm = [day](auto& d) { d.battery = date(day); }};
  };
  EXPECT_THAT(found(since("2025-11-25")), IsEmpty());  // 365 days
  const auto old = found(since("2025-11-24"));
  EXPECT_THAT(old, ElementsAre(is(When::this_week, "safety_device", "alarm", "more than a year")));
  EXPECT_THAT(old[0].evidence, HasSubstr("366 days ago"));
  SafeRoom replaced = since("2025-01-01");
  replaced.more = [](RoomBuilder& b) { b.entry("2026-10-01", room::EntryKind::replaced, "alarm"); };
  EXPECT_THAT(found(replaced), IsEmpty());
  const Judged unknown = judged({.alarm = [](auto& d) { d.battery.reset(); }});
  EXPECT_THAT(unknown.findings, IsEmpty());
  EXPECT_EQ(questions_of(unknown.gaps), "when the battery was new in alarm");
  // A sealed alarm has only the date printed on it.
  const Judged sealed = judged({.alarm = [](auto& d) {
    d.battery.reset();
    d.expires = date("2030-01-01");
  }});
  EXPECT_THAT(sealed.findings, IsEmpty());
  EXPECT_THAT(sealed.gaps, IsEmpty());
}

TEST(Fire, WhatIsPastItsDateIsReplaced) {
  EXPECT_THAT(found({.alarm = [](auto& d) { d.expires = date(kTomorrow); }}), IsEmpty());
  EXPECT_THAT(found({.alarm = [](auto& d) { d.expires = date(kToday); }}),
              ElementsAre(is(When::this_week, "safety_device", "alarm", "is past its date")));
  EXPECT_THAT(found({.extinguisher = [](auto& d) { d.expires = date(kToday); }}),
              ElementsAre(is(When::this_week, "safety_device", "red", "The extinguisher red")));
}

}  // namespace
}  // namespace warmside::safety
