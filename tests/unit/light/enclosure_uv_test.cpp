// The UV of an enclosure: on what it rests, several lamps, the places of a map, when a lamp is due.

#include "light/enclosure_uv.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "support/room_builder.h"

namespace warmside::light {
namespace {

using test::date;
using test::q;
using test::RoomBuilder;
using test::TestDay;
using testing::Contains;
using testing::HasSubstr;
using testing::SizeIs;

constexpr const char* kToday = "2026-11-25";

RoomBuilder box(const char* species = "bearded_dragon") {
  RoomBuilder b;
  b.enclosure("box", [](auto& e) {
    e.length = q<Length>("100cm");
    e.width = q<Length>("60cm");
    e.height = q<Length>("60cm");
    e.top = room::parse_construction("mesh 1mm").value();
  });
  return b.animal("ember", species);
}
/// A compact lamp 40 cm above the ground; 4 cm of offset by its table: 10 at 20 cm, 3.6 at 36 cm.
RoomBuilder& bulb(RoomBuilder& b, const char* id, const char* from_left, const char* distance,
                  const char* installed = "2026-11-25") {
  return b.add<room::Lamp>(id, [=](auto& l) {
    l.kind = room::LampKind::compact;
    l.uvb = true;
    l.enclosure = room::EnclosureId::trusted("box");
    l.from_left = q<Length>(from_left);
    l.from_front = q<Length>("30cm");
    l.above_floor = q<Length>("40cm");
    if (*distance != '\0') l.distance = q<Length>(distance);
    l.uv_table = room::UvTable::parse("20cm 10UVI + 36cm 3.6UVI").value();
    l.installed = date(installed);
  });
}
EnclosureUv uv_of(const TestDay& test) {
  return enclosure_uv(test.day, test.room->enclosures.at(0));
}

TEST(EnclosureUv, ByTheDataSheetOfANewLamp) {
  RoomBuilder b = box();
  const TestDay test = bulb(b, "sun", "30cm", "36cm").day(kToday);
  const EnclosureUv uv = uv_of(test);
  ASSERT_THAT(uv.lamps, SizeIs(1));
  ASSERT_TRUE(uv.basking.has_value());
  EXPECT_NEAR(uv.basking->best, 3.6, 1e-4);
  EXPECT_THAT(uv.lamps[0].rests_on, HasSubstr("data sheet"));
  EXPECT_FALSE(uv.lamps[0].by_reading);
  EXPECT_FALSE(uv.incomplete);
  // The same place on the map: 30 cm from the left, 4 cm above the ground.
  EXPECT_NEAR(uv.at({0.3, 0.3, 0.04}).best, 3.6, 1e-4);
  // 10 (0.24/0.44)^2 on the ground.
  EXPECT_NEAR(uv.at({0.3, 0.3, 0}).best, 10 * std::pow(0.24 / 0.44, 2), 1e-4);
  EXPECT_EQ(uv.at({0.3, 0.3, 0.5}).best, 0);  // above the lamp
  ASSERT_THAT(uv.wanted, SizeIs(1));
  EXPECT_EQ(uv.wanted[0].zone, "3");
  EXPECT_EQ(uv.wanted[0].standing, room::Standing::inside);  // 2.9 to 7.4, a tenth is 0.45
}

TEST(EnclosureUv, AnOldLampByItsDataSheetHasFadedAndIsLessSure) {
  RoomBuilder young = box(), old = box();
  const TestDay now = bulb(young, "sun", "30cm", "36cm").day(kToday);
  const TestDay year = bulb(old, "sun", "30cm", "36cm", "2025-11-25").day(kToday);
  const UvBand a = *uv_of(now).basking, z = *uv_of(year).basking;
  EXPECT_LT(z.best, a.best);
  EXPECT_GT(z.high / z.low, a.high / a.low);
  // As slow as 70 % after a year, as fast as tau 260 d.
  EXPECT_NEAR(z.high / a.high, 0.7, 0.001);
  EXPECT_NEAR(z.low / a.low, std::exp(-365.0 / 260), 0.001);
}

TEST(EnclosureUv, TwoLampsAddUp) {
  RoomBuilder b = box();
  bulb(b, "east", "70cm", "36cm");
  const TestDay test = bulb(b, "sun", "30cm", "36cm").day(kToday);
  const EnclosureUv uv = uv_of(test);
  // The other one, 40 cm aside, seen from (0.36 + 0.04) m below: r^2 = 0.32, cos = 0.4/r.
  const double strength = 10 * 0.24 * 0.24, r = std::sqrt(0.32);
  EXPECT_NEAR(uv.basking->best, 3.6 + strength / 0.32 * 0.4 / r, 1e-4);
  EXPECT_NEAR(uv.at({0.3, 0.3, 0.04}).best, uv.basking->best, 1e-9);
}

TEST(EnclosureUv, ReadingsGoBeforeTheDataSheet) {
  RoomBuilder b = box();
  bulb(b, "sun", "30cm", "36cm", "2026-10-01");
  const TestDay test = b.uv(kToday, "sun", 2).day(kToday);
  const EnclosureUv uv = uv_of(test);
  EXPECT_NEAR(uv.basking->best, 2, 1e-9);
  EXPECT_TRUE(uv.lamps[0].by_reading);
  EXPECT_THAT(uv.lamps[0].rests_on, HasSubstr("reading of your meter"));
  EXPECT_EQ(uv.wanted[0].standing, room::Standing::outside);
}

TEST(EnclosureUv, AMeterThatShowsNothing) {
  RoomBuilder b = box();
  bulb(b, "sun", "30cm", "36cm", "2026-10-01");
  const TestDay test = b.uv("2026-11-01", "sun", 3).uv(kToday, "sun", 0).day(kToday);
  const EnclosureUv uv = uv_of(test);
  EXPECT_EQ(uv.basking->best, 0);
  EXPECT_THAT(uv.lamps[0].rests_on, HasSubstr("showed nothing"));
}

TEST(EnclosureUv, WithoutAnyDataItIsNotKnown) {
  RoomBuilder b = box();
  const TestDay test = b.add<room::Lamp>("sun", [](auto& l) {
                          l.kind = room::LampKind::compact;
                          l.uvb = true;
                          l.enclosure = room::EnclosureId::trusted("box");
                        }).day(kToday);
  const EnclosureUv uv = uv_of(test);
  EXPECT_FALSE(uv.basking.has_value());
  EXPECT_TRUE(uv.incomplete);
  EXPECT_FALSE(uv.wanted[0].standing.has_value());
  EXPECT_THAT(uv.lamps[0].rests_on, HasSubstr("not known"));
}

TEST(EnclosureUv, WithoutADistanceTheGroundIsTaken) {
  RoomBuilder b = box();
  const TestDay test = bulb(b, "sun", "30cm", "").day(kToday);
  const EnclosureUv uv = uv_of(test);
  EXPECT_NEAR(uv.basking->best, 10 * std::pow(0.24 / 0.44, 2), 1e-4);
  EXPECT_THAT(uv.lamps[0].notes, Contains(HasSubstr("the ground is taken")));
}

TEST(Maps, PlanAndSectionAreThePointsOfTheField) {
  RoomBuilder b = box();
  const TestDay test = bulb(b, "sun", "30cm", "36cm").day(kToday);
  const EnclosureUv uv = uv_of(test);
  const std::vector<double> x{0, 0.2, 0.4, 1}, y{0, 0.2, 0.6}, z{0, 0.1, 0.5, 0.6};
  const auto plan = uv_plan(uv, x, y, 0.02);
  ASSERT_THAT(plan, SizeIs(6));
  EXPECT_NEAR(plan[1], uv.at({0.3, 0.1, 0.02}).best, 1e-12);
  EXPECT_NEAR(plan[5], uv.at({0.7, 0.4, 0.02}).best, 1e-12);
  const auto section = uv_section(uv, x, z, 0.3);
  ASSERT_THAT(section, SizeIs(9));
  EXPECT_NEAR(section[1], uv.at({0.3, 0.3, 0.05}).best, 1e-12);
  EXPECT_EQ(section[7], 0);  // at 55 cm, above the lamp
}

// Readings 6 exp(-t/400 d): 70 % after 400 ln(1/0.7) = 143 days, 2.9 after 291.
TEST(Replacement, ByTheReadings) {
  RoomBuilder b = box();
  bulb(b, "sun", "30cm", "36cm", "2026-01-01");
  for (int i = 0; i < 6; ++i) {
    b.uv(to_text(date("2026-02-01") + 30 * i), "sun", 6 * std::exp(-30.0 * i / 400));
  }
  const TestDay test = b.day("2026-07-10");
  const Replacement due = uv_of(test).lamps[0].replacement;
  EXPECT_TRUE(due.by_readings);
  EXPECT_NEAR(*due.due - date("2026-02-01"), 143, 15);
  EXPECT_LT(*due.early, *due.due);
  EXPECT_GT(*due.late, *due.due);
  EXPECT_THAT(due.why, HasSubstr("6 readings"));
}

// Compact lamps: 6 months when not measured (lamp_life_compact).
TEST(Replacement, ByItsUsualLifeWhileReadingsAreFew) {
  RoomBuilder b = box();
  bulb(b, "sun", "30cm", "36cm", "2026-10-01");
  const TestDay test = b.uv("2026-10-20", "sun", 4).uv("2026-11-20", "sun", 3.9).day(kToday);
  const Replacement due = uv_of(test).lamps[0].replacement;
  EXPECT_FALSE(due.by_readings);
  EXPECT_EQ(due.due, date("2026-10-01") + 180);
  EXPECT_THAT(due.why, HasSubstr("usual life"));
}

TEST(Replacement, WithoutAnyDayThereIsNone) {
  RoomBuilder b = box();
  const TestDay test = b.add<room::Lamp>("sun", [](auto& l) {
                          l.kind = room::LampKind::tube_t8;
                          l.uvb = true;
                          l.enclosure = room::EnclosureId::trusted("box");
                        }).day(kToday);
  EXPECT_FALSE(uv_of(test).lamps[0].replacement.due.has_value());
}

// Struck readings are left out of the history and so out of the fit.
TEST(LampCourse, AStruckReadingIsNotThere) {
  RoomBuilder b = box();
  bulb(b, "sun", "30cm", "36cm", "2026-01-01");
  b.uv("2026-06-01", "sun", 4).uv("2026-07-01", "sun", 40).strike_it("2026-07-01 13:00");
  const TestDay test = b.uv("2026-08-01", "sun", 3.8).day(kToday);
  const LampCourse course = lamp_course(test.day, test.room->lamps.at(0));
  EXPECT_THAT(course.readings, SizeIs(2));
  EXPECT_EQ(course.ageing->readings(), 2);
}

TEST(LampCourse, AReadingElsewhereDoesNotCount) {
  RoomBuilder b = box();
  bulb(b, "sun", "30cm", "36cm", "2026-01-01");
  const auto at = [&](const char* day, const char* item, double uvi) {
    b.entry(day, room::EntryKind::uv_reading, "sun", [&](room::Entry& e) {
      e.item = item;
      e.uvi = UvIndex::index(uvi);
    });
  };
  at("2026-06-01", "slate", 4);
  at("2026-07-01", "slate", 3.9);
  at("2026-08-01", "cool side", 0.4);
  at("2026-09-01", "30 cm, branch", 4.9);
  const TestDay test = b.day(kToday);
  const LampCourse course = lamp_course(test.day, test.room->lamps.at(0));
  EXPECT_FALSE(course.readings.at(2).counts);
  EXPECT_TRUE(course.readings.at(3).counts);
  EXPECT_EQ(course.readings.at(3).distance, Length::centimetres(30));
  // From 30 to 36 cm by the sheet's offset: (34/40)^2.
  EXPECT_NEAR(course.readings.at(3).there, 4.9 * std::pow(0.34 / 0.40, 2), 1e-4);
}

}  // namespace
}  // namespace warmside::light
