// Enclosures of the room book: the case that is made of them, what is assumed, and what is found.
// corn_snake (species_facts.csv): warm side 26..30, cool side 20..24, night 18..24 C, 40..60 %.

#include "climate/computed.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "climate/case_file.h"
#include "support/room_builder.h"

namespace warmside::climate {
namespace {

using test::q;
using test::RoomBuilder;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

constexpr const char* kToday = "2026-11-25";

void cage(room::Enclosure& e) {
  e.length = q<Length>("90cm");
  e.width = q<Length>("45cm");
  e.height = q<Length>("45cm");
  e.front = room::parse_construction("glass 4mm").value();
  e.back = e.left = e.right = e.top = e.bottom = room::parse_construction("pvc 1cm").value();
  e.substrate = "aspen";
  e.substrate_depth = q<Length>("2cm");
}

RoomBuilder corn(const RoomBuilder::Change<room::Enclosure>& change = {}) {
  return RoomBuilder()
      .enclosure("tub",
                 [&](room::Enclosure& e) {
                   cage(e);
                   if (change) change(e);
                 })
      .animal("juniper", "corn_snake");
}

RoomBuilder with_panel(const char* watts, const char* set = "26C") {
  return corn()
      .add<room::Thermostat>("t",
                             [&](room::Thermostat& t) {
                               t.kind = room::ThermostatKind::pulse_proportional;
                               t.enclosure = room::EnclosureId::trusted("tub");
                               t.probe_place = "warm side";
                               t.day = q<Temperature>(set);
                               t.night = q<Temperature>("22C");
                             })
      .add<room::Heater>("panel", [&](room::Heater& h) {
        h.kind = room::HeaterKind::panel;
        h.enclosure = room::EnclosureId::trusted("tub");
        h.place = "ceiling, left half";
        h.power = q<Power>(watts);
        h.length = q<Length>("40cm");
        h.width = q<Length>("30cm");
        h.thermostat = room::ThermostatId::trusted("t");
      });
}

Result<CaseFromRoom> made_of(const RoomBuilder& b) {
  const auto test = b.day(kToday);
  return case_from_room(test.day, test.room->enclosures.front());
}

TEST(CaseFromRoom, SaysWhatTheBookSaysAndWhatItAssumes) {
  const auto made = made_of(with_panel("60W"));
  ASSERT_TRUE(made) << made.problem().what;
  const EnclosureCase& c = made->enclosure;
  EXPECT_EQ(c.size.name, "tub");
  EXPECT_EQ(c.substrate.kind, "aspen shavings");
  EXPECT_EQ(room::to_text(c.faces.front),
            room::to_text(room::parse_construction("glass 4mm").value()));
  ASSERT_THAT(c.heaters, SizeIs(1));
  EXPECT_EQ(c.heaters[0].kind, CaseHeaterKind::panel);
  EXPECT_EQ(c.heaters[0].thermostat, "t");
  EXPECT_LT(c.heaters[0].x.high, q<Length>("45cm"));  // the left half
  ASSERT_THAT(c.thermostats, SizeIs(1));
  EXPECT_EQ(c.thermostats[0].probe, "warm side");
  EXPECT_THAT(made->assumed, Contains(HasSubstr("The room is taken to be at")));
  EXPECT_THAT(made->assumed, Contains(HasSubstr("probe \"warm side\"")));
  // What it makes is a case file that reads back.
  const auto again = read_case_file(write_case_file(c), "again.toml");
  ASSERT_TRUE(again) << to_line(again.problem().front());
  EXPECT_EQ(write_case_file(*again), write_case_file(c));
}

TEST(CaseFromRoom, TooLittleInTheBookIsSaid) {
  const auto no_size = made_of(corn([](room::Enclosure& e) { e.height.reset(); }));
  ASSERT_FALSE(no_size);
  EXPECT_THAT(no_size.problem().where.field, HasSubstr("height"));
  const auto no_face = made_of(corn([](room::Enclosure& e) {
    e.front = e.back = e.left = e.right = e.top = e.bottom = std::nullopt;
  }));
  ASSERT_FALSE(no_face);
  const auto one_face = made_of(corn(
      [](room::Enclosure& e) { e.back = e.left = e.right = e.top = e.bottom = std::nullopt; }));
  ASSERT_TRUE(one_face);
  EXPECT_THAT(one_face->assumed, Contains(HasSubstr("back, left, right, bottom, top")));
  const auto strange = made_of(corn([](room::Enclosure& e) {
    e.front = room::parse_construction("unobtanium 4mm").value();
    e.substrate = "moon dust";
  }));
  ASSERT_TRUE(strange);
  EXPECT_THAT(strange->assumed, Contains(HasSubstr("unobtanium")));
  EXPECT_THAT(strange->assumed, Contains(HasSubstr("moon dust")));
}

TEST(CaseFromRoom, RackMatesKeepEachOtherWarm) {
  const auto racked = [](int shelf) {
    return [shelf](room::Enclosure& e) {
      cage(e);
      e.rack = "rack";
      e.shelf = shelf;
      e.position = 1;
    };
  };
  const auto test =
      RoomBuilder().enclosure("low", racked(1)).enclosure("high", racked(2)).day(kToday);
  const auto low = case_from_room(test.day, **room::find_enclosure(*test.room, "low"));
  ASSERT_TRUE(low);
  ASSERT_THAT(low->enclosure.neighbours, SizeIs(1));
  EXPECT_EQ(low->enclosure.neighbours[0].face, "top");
  EXPECT_TRUE(low->enclosure.neighbours[0].insulated);
}

TEST(Computed, AFittingHeaterIsNoFinding) {
  const auto test = with_panel("60W").day(kToday);
  EXPECT_THAT(computed_findings(test.day), IsEmpty());
  const auto outlook = enclosure_outlook(test.day, test.room->enclosures.front());
  ASSERT_TRUE(outlook) << outlook.problem().what;
  EXPECT_LT(outlook->heat_balance_error, 1e-6);
  ASSERT_THAT(outlook->heaters, SizeIs(1));
  EXPECT_GT(outlook->heaters[0].duty, 0.1);
  EXPECT_FALSE(outlook->heaters[0].flat_out);
  EXPECT_NEAR(outlook->kwh_per_month, outlook->heaters[0].mean_w * 24 * 30.4 / 1000, 1e-6);
  EXPECT_EQ(outlook->cost_per_month, std::nullopt);
  EXPECT_THAT(outlook->quality, SizeIs(24));
  for (const Outlook& place : outlook->places) EXPECT_FALSE(place.surely) << place.place;
}

TEST(Computed, AHeaterThatIsTooSmallIsSaid) {
  const auto test = with_panel("8W", "28C").day(kToday);
  const auto found = computed_findings(test.day);
  ASSERT_THAT(found, SizeIs(1));
  EXPECT_EQ(found[0].when, When::good_to_know);
  EXPECT_EQ(found[0].subject, "tub");
  EXPECT_THAT(found[0].headline, HasSubstr("warm side, air computed at"));
  EXPECT_THAT(found[0].evidence, HasSubstr("panel runs at full power all afternoon"));
  EXPECT_THAT(found[0].advice, HasSubstr("not measured"));
  EXPECT_THAT(found[0].advice, HasSubstr("licensed electrician"));
}

TEST(Computed, TooHotIsSaid) {
  const auto found = computed_findings(with_panel("200W", "38C").day(kToday).day);
  ASSERT_THAT(found, SizeIs(1));
  EXPECT_THAT(found[0].evidence, HasSubstr("wants 26"));
}

TEST(Computed, CostFollowsThePriceOfTheRoom) {
  auto builder = with_panel("60W");
  builder.info([](room::RoomInfo& info) { info.electricity_price = 0.5; });
  const auto test = builder.day(kToday);
  const auto outlook = enclosure_outlook(test.day, test.room->enclosures.front());
  ASSERT_TRUE(outlook);
  ASSERT_TRUE(outlook->cost_per_month);
  EXPECT_NEAR(*outlook->cost_per_month, 0.5 * outlook->kwh_per_month, 1e-9);
}

TEST(Computed, NothingHeatedAndNobodyHomeAreNoFindings) {
  EXPECT_THAT(computed_findings(corn().day(kToday).day), IsEmpty());
  const auto nobody = RoomBuilder().enclosure("tub", cage).day(kToday);
  EXPECT_THAT(computed_findings(nobody.day), IsEmpty());
  const auto outlook = enclosure_outlook(nobody.day, nobody.room->enclosures.front());
  ASSERT_FALSE(outlook);
  EXPECT_THAT(outlook.problem().what, HasSubstr("nothing in the book heats"));
}

}  // namespace
}  // namespace warmside::climate
