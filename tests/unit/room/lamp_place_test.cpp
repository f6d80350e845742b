// Where a lamp hangs: what was measured goes first, else the words of its place; and what lies
// between it and the animals.

#include "room/lamp_place.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace warmside::room {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

Length cm(double x) {
  return Length::centimetres(x);
}

Enclosure box(const char* top = "mesh 1mm") {
  Enclosure e;
  e.id = EnclosureId::trusted("box");
  e.length = cm(100);
  e.width = cm(50);
  e.height = cm(60);
  if (*top != '\0') e.top = parse_construction(top).value();
  return e;
}

Lamp lamp(LampKind kind, const char* place) {
  Lamp l;
  l.id = LampId::trusted("sun");
  l.kind = kind;
  l.place = place;
  return l;
}

LampPlace placed(const Lamp& l, const Enclosure& e = box()) {
  return lamp_place(l, e, UnitSystem::metric).value();
}

TEST(LampPlace, MeasuredPlacesGoFirst) {
  Lamp l = lamp(LampKind::compact, "above the lid, right, back");
  l.from_left = cm(31);
  l.from_front = cm(12);
  l.above_floor = cm(45);
  l.distance = cm(20);
  const LampPlace at = placed(l);
  EXPECT_EQ(at.from_left, cm(31));
  EXPECT_EQ(at.from_front, cm(12));
  EXPECT_EQ(at.above_floor, cm(45));
  EXPECT_FALSE(at.over_lid);  // 45 cm of 60: inside, whatever the words say
  EXPECT_EQ(at.screen, Screen::nothing);
  EXPECT_THAT(at.guessed, IsEmpty());
}

TEST(LampPlace, TheWordsOfAPlace) {
  const LampPlace bulb = placed(lamp(LampKind::compact, "over the slate"));
  EXPECT_NEAR(bulb.from_left.centimetres(), 20, 1e-9);  // the left fifth
  EXPECT_NEAR(bulb.from_front.centimetres(), 25, 1e-9);
  EXPECT_NEAR(bulb.above_floor.centimetres(), 54, 1e-9);  // nine tenths of 60
  EXPECT_EQ(bulb.span, Length());
  EXPECT_THAT(bulb.guessed, SizeIs(2));
  EXPECT_NEAR(placed(lamp(LampKind::compact, "Right, back")).from_left.centimetres(), 80, 1e-9);
  EXPECT_NEAR(placed(lamp(LampKind::compact, "Right, back")).from_front.centimetres(), 37.5, 1e-9);
  EXPECT_NEAR(placed(lamp(LampKind::compact, "middle front")).from_left.centimetres(), 50, 1e-9);
  // A tube lies along the length, in its middle.
  const LampPlace tube = placed(lamp(LampKind::tube_t5, "left, back"));
  EXPECT_NEAR(tube.from_left.centimetres(), 50, 1e-9);
  EXPECT_NEAR(tube.span.centimetres(), 80, 1e-9);
  Lamp known = lamp(LampKind::tube_t5, "");
  known.length = cm(55);
  EXPECT_NEAR(placed(known).span.centimetres(), 55, 1e-9);
  known.length = cm(150);
  EXPECT_NEAR(placed(known).span.centimetres(), 100, 1e-9);  // no longer than the box
}

TEST(LampPlace, HeightByDistance) {
  Lamp bulb = lamp(LampKind::compact, "over the slate");
  bulb.distance = cm(30);
  EXPECT_EQ(placed(bulb).above_floor, cm(30));  // over the ground
  bulb.distance = cm(75);                       // further than the box is high: above its mesh
  EXPECT_EQ(placed(bulb).above_floor, cm(75));
  EXPECT_EQ(placed(bulb).screen, Screen::mesh);
  EXPECT_NEAR(placed(bulb, box("pvc 10mm")).above_floor.centimetres(), 54, 1e-9);
  Lamp tube = lamp(LampKind::tube_t5, "inside");
  tube.distance = cm(30);
  EXPECT_NEAR(placed(tube).above_floor.centimetres(), 54, 1e-9);
}

TEST(LampPlace, WhatLiesBetween) {
  const Lamp above = lamp(LampKind::tube_t5, "above the lid, back");
  EXPECT_EQ(placed(above).screen, Screen::mesh);
  EXPECT_TRUE(placed(above).over_lid);
  EXPECT_EQ(placed(above).above_floor, cm(60));
  EXPECT_EQ(placed(above, box("glass 4mm")).screen, Screen::closed);
  EXPECT_EQ(placed(above, box("")).screen, Screen::unknown);
  Enclosure covered = box();
  covered.lid_covered = Percentage::percent(90);
  EXPECT_EQ(placed(above, covered).screen, Screen::mesh);
  covered.lid_covered = Percentage::percent(100);
  EXPECT_EQ(placed(above, covered).screen, Screen::closed);
  Lamp measured = lamp(LampKind::tube_t5, "inside");
  measured.above_floor = cm(62);
  EXPECT_EQ(placed(measured, box("glass 4mm")).screen, Screen::closed);
  EXPECT_EQ(placed(lamp(LampKind::tube_t5, "inside"), box("glass 4mm")).screen, Screen::nothing);
}

TEST(LampPlace, WithoutSizesThereIsNone) {
  Enclosure e = box();
  e.height = {};
  EXPECT_FALSE(lamp_place(lamp(LampKind::compact, ""), e, UnitSystem::metric).has_value());
  EXPECT_EQ(screen_of(lamp(LampKind::compact, "on the lid"), e), Screen::mesh);
}

// T5 high output and T8 lengths as in IEC 60081 (from memory).
TEST(UsualTubeLength, ByPower) {
  EXPECT_EQ(usual_tube_length(LampKind::tube_t5, Power::watts(39)), cm(85));
  EXPECT_EQ(usual_tube_length(LampKind::tube_t8, Power::watts(18)), cm(59));
  EXPECT_FALSE(usual_tube_length(LampKind::tube_t5, Power::watts(40)).has_value());
  EXPECT_FALSE(usual_tube_length(LampKind::tube_t5, std::nullopt).has_value());
  EXPECT_FALSE(usual_tube_length(LampKind::compact, Power::watts(24)).has_value());
}

}  // namespace
}  // namespace warmside::room
