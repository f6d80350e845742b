// UVB lamps: a finding when the latest reading is under 70 % (uv_low_share) of the first since the
// lamp was new.

#include "light/lamp_readings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::light {
namespace {

using room::EntryKind;
using test::date;
using test::RoomBuilder;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr const char* kToday = "2026-11-25";

RoomBuilder lamp(const std::function<void(room::Lamp&)>& change = {}) {
  RoomBuilder b;
  return b.enclosure("box")
      .animal("dragon", "bearded_dragon")
      .add<room::Lamp>("tube", [&](auto& l) {
        l.uvb = true;
        l.enclosure = room::EnclosureId::trusted("box");
        if (change) change(l);
      });
}

/// A lamp read at these values, ten days apart, up to today.
RoomBuilder read(std::vector<double> values, const std::function<void(room::Lamp&)>& change = {}) {
  RoomBuilder b = lamp(change);
  for (std::size_t i = 0; i < values.size(); ++i) {
    b.uv(to_text(date(kToday) - 10 * static_cast<int>(values.size() - 1 - i)), "tube", values[i]);
  }
  return b;
}

std::vector<Finding> found(const RoomBuilder& b) {
  return findings(b.day(kToday).day);
}

TEST(LampReadings, UnderSeventyPerCentOfTheFirst) {
  EXPECT_THAT(found(read({4, 2.8})), IsEmpty());  // exactly
  EXPECT_EQ(found(read({4, 2.79})).size(), 1u);
  EXPECT_THAT(found(read({8.3, 5.81})), IsEmpty());  // exactly, though not in binary
  EXPECT_THAT(found(read({4, 5})), IsEmpty());
  EXPECT_EQ(found(read({4, 0})).size(), 1u);
}

TEST(LampReadings, OneReadingOrNoneIsNoFinding) {
  EXPECT_THAT(found(lamp()), IsEmpty());
  EXPECT_THAT(found(read({0.1})), IsEmpty());
  EXPECT_THAT(found(read({0, 0})), IsEmpty());
}

TEST(LampReadings, TheFirstAndTheLatestCountNotThoseBetween) {
  EXPECT_THAT(found(read({4, 9, 1, 3})), IsEmpty());
  EXPECT_EQ(found(read({4, 9, 3, 2})).size(), 1u);
}

TEST(LampReadings, AReplacedLampBeginsAnew) {
  RoomBuilder b = read({6, 2});
  ASSERT_EQ(found(b).size(), 1u);
  b.entry("2026-11-20", EntryKind::replaced, "tube");
  EXPECT_THAT(found(b), IsEmpty());  // one reading of the new one
  b.uv("2026-11-25 13:00", "tube", 1);
  ASSERT_EQ(found(b).size(), 1u);
  EXPECT_THAT(found(b)[0].headline, HasSubstr("50 %"));
}

TEST(LampReadings, OnlyUvbLampsInUse) {
  EXPECT_THAT(found(read({6, 2}, [](auto& l) { l.uvb = false; })), IsEmpty());
  EXPECT_THAT(found(read({6, 2}, [](auto& l) { l.retired = date(kToday); })), IsEmpty());
  EXPECT_EQ(found(read({6, 2}, [](auto& l) { l.retired = date("2026-11-26"); })).size(), 1u);
}

TEST(LampReadings, AFindingIsComplete) {
  RoomBuilder b = read({4, 2}, [](auto& l) { l.installed = date("2026-11-01"); });
  const Finding finding = found(b).at(0);
  EXPECT_EQ(finding.when, When::this_week);
  EXPECT_EQ(finding.subject_kind, "lamp");
  EXPECT_EQ(finding.subject, "tube");
  EXPECT_EQ(finding.module, "light");
  EXPECT_THAT(finding.headline, HasSubstr("50 %"));
  EXPECT_THAT(finding.evidence, HasSubstr("on 2026-11-25"));
  EXPECT_THAT(finding.evidence, HasSubstr("on 2026-11-15"));
  EXPECT_THAT(finding.evidence, HasSubstr("Installed 2026-11-01."));
  EXPECT_THAT(finding.advice, HasSubstr("Never look into a UV lamp"));
  EXPECT_EQ(finding.source, "common practice, no source");
  // The record's day is that of an earlier tube once it was replaced.
  RoomBuilder replaced = lamp([](auto& l) { l.installed = date("2024-01-01"); });
  replaced.entry("2026-11-01", EntryKind::replaced, "tube");
  replaced.uv("2026-11-02", "tube", 4).uv("2026-11-20", "tube", 2);
  EXPECT_THAT(found(replaced).at(0).evidence, Not(HasSubstr("Installed")));
}

}  // namespace
}  // namespace warmside::light
