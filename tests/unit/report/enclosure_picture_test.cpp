// Heat and UV of an enclosure of the room on the same planes.

#include "report/enclosure_picture.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "support/room_builder.h"

namespace warmside::report {
namespace {

using test::date;
using test::q;
using test::RoomBuilder;
using testing::HasSubstr;
using testing::Not;

/// A skink under a UVB tube that hangs over its middle, with a heater.
RoomBuilder skink_room() {
  RoomBuilder room;
  room.enclosure("table", [](room::Enclosure& table) {
    table.length = q<Length>("100cm");
    table.width = q<Length>("50cm");
    table.height = q<Length>("50cm");
    table.front = room::parse_construction("glass 4mm").value();
    table.substrate = "bark";
  });
  room.animal("ochre", "blue_tongued_skink");
  room.add<room::Heater>("panel", [](room::Heater& panel) {
    panel.kind = room::HeaterKind::panel;
    panel.enclosure = room::EnclosureId::trusted("table");
    panel.power = q<Power>("40W");
  });
  return room;
}
void tube(RoomBuilder& room, const char* table) {
  room.add<room::Lamp>("tube", [&](room::Lamp& lamp) {
    lamp.kind = room::LampKind::tube_t5;
    lamp.enclosure = room::EnclosureId::trusted("table");
    lamp.uvb = true;
    lamp.length = q<Length>("55cm");
    lamp.distance = q<Length>("30cm");
    lamp.from_left = q<Length>("50cm");
    lamp.from_front = q<Length>("25cm");
    lamp.above_floor = q<Length>("45cm");
    lamp.reflector = room::Answer::no;
    lamp.installed = date("2026-06-25");
    if (*table != '\0') lamp.uv_table = room::UvTable::parse(table).value();
  });
}
ClimatePicture picture_of(const RoomBuilder& room) {
  const auto test = room.day("2026-06-25");
  return enclosure_picture(test.room->enclosures[0], test.day, 14).value();
}

TEST(EnclosurePicture, WithoutALampHasNoUv) {
  const auto picture = picture_of(skink_room());
  EXPECT_FALSE(is_empty(picture.plan));
  EXPECT_TRUE(is_empty(picture.uv_plan));
  EXPECT_THAT(picture.subtitle, Not(HasSubstr("UV")));
}

TEST(EnclosurePicture, OfALampThatNobodyKnowsSaysSo) {
  auto room = skink_room();
  tube(room, "");
  const auto picture = picture_of(room);
  EXPECT_TRUE(is_empty(picture.uv_plan));
  EXPECT_THAT(picture.subtitle, HasSubstr("UV of its lamps is not known"));
}

// The tube's face is 45 cm above the floor, and its data sheet has that distance. The cell nearest
// the middle is up to 1.5 cm off it, which takes less than 1 % there: cos^4 of atan(1.5/45) is
// 0.998.
TEST(EnclosurePicture, CarriesTheDataSheetToTheFloor) {
  auto room = skink_room();
  tube(room, "45cm 1.5UVI");
  const auto picture = picture_of(room);
  ASSERT_FALSE(is_empty(picture.uv_plan));
  const Plane& plan = picture.uv_plan;
  EXPECT_NEAR(plan.x_edges_m.front(), picture.plan.x_edges_m.front(), 1e-9);
  EXPECT_NEAR(plan.x_edges_m.back(), picture.plan.x_edges_m.back(), 1e-9);
  EXPECT_NEAR(plan.y_edges_m.back(), picture.plan.y_edges_m.back(), 1e-9);
  EXPECT_NEAR(*std::max_element(plan.value.begin(), plan.value.end()), 1.5, 0.015);
  ASSERT_EQ(picture.uv_bands.size(), 1u);
  EXPECT_THAT(picture.uv_bands[0].name, HasSubstr("zone"));
  EXPECT_THAT(picture.uv_note, HasSubstr("Never look into a UV lamp"));
  EXPECT_TRUE(as_svg(picture).ok());
}

TEST(EnclosurePicture, WithoutSizesIsRefused) {
  RoomBuilder room;
  room.enclosure("tub").animal("ochre", "blue_tongued_skink");
  const auto test = room.day("2026-06-25");
  EXPECT_EQ(enclosure_picture(test.room->enclosures[0], test.day, 14).problem().code,
            ProblemCode::missing);
}

}  // namespace
}  // namespace warmside::report
