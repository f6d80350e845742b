// Every rule at its edge on both sides. Distances and depths: common practice
// (data/care_rules.csv).

#include "safety/heat_sources.h"

#include "unit/safety/safe_room.h"

namespace warmside::safety {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::vector<Finding> found(const SafeRoom& room) {
  return judge_heat_sources(room.build().day(kToday).day).findings;
}
std::string gaps(const SafeRoom& room) {
  return questions_of(judge_heat_sources(room.build().day(kToday).day).gaps);
}

TEST(HeatSources, AHeaterWithoutAThermostatInUseIsForNow) {
  const auto mat = is(When::now, "heater", "mat", "The heat mat in tub runs without a thermostat");
  const auto all = found({.mat = [](auto& h) { h.thermostat = {}; },
                          .enclosure = [](auto& e) { e.name = "The tub"; }});
  EXPECT_THAT(all, ElementsAre(is(When::now, "heater", "mat", "The heat mat in The tub runs")));
  EXPECT_THAT(all[0].evidence, HasSubstr("20 W"));
  EXPECT_THAT(all[0].advice, HasSubstr("Unplug it"));
  EXPECT_THAT(found({.mat_stat = [](auto& t) { t.retired = date(kToday); }}), ElementsAre(mat));
  EXPECT_THAT(found({.mat_stat = [](auto& t) { t.retired = date(kTomorrow); }}), IsEmpty());
  EXPECT_THAT(found({.mat =
                         [](auto& h) {
                           h.thermostat = {};
                           h.retired = date(kToday);
                         }}),
              IsEmpty());
  EXPECT_THAT(found({.mat =
                         [](auto& h) {
                           h.thermostat = {};
                           h.kind = room::HeaterKind::panel;
                           h.enclosure = {};
                         }}),
              ElementsAre(is(When::now, "heater", "mat", "The panel in the room runs without")));
}

TEST(HeatSources, AHotLampWantsAThermostatOrATimer) {
  const auto lamp = [](room::LampKind kind, bool timer, bool thermostat) {
    return found({.lamp = [=](auto& l) {
      l.kind = kind;
      if (!timer) l.timer = {};
      if (!thermostat) l.thermostat = {};
    }});
  };
  using enum room::LampKind;
  for (const auto kind : {halogen, mercury_vapour, metal_halide}) {
    EXPECT_THAT(lamp(kind, true, true), IsEmpty());
    EXPECT_THAT(lamp(kind, false, true), IsEmpty());
    EXPECT_THAT(lamp(kind, false, false),
                ElementsAre(is(When::today, "lamp", "lamp", "neither thermostat nor timer")));
  }
  // On a timer alone: common, and those that cannot be dimmed raise nothing at all.
  EXPECT_THAT(lamp(halogen, true, false),
              ElementsAre(is(When::good_to_know, "lamp", "lamp", "on a timer, without a")));
  EXPECT_THAT(lamp(mercury_vapour, true, false), IsEmpty());
  EXPECT_THAT(lamp(metal_halide, true, false), IsEmpty());
  for (const auto kind : {tube_t5, tube_t8, compact, led}) {
    EXPECT_THAT(lamp(kind, false, false), IsEmpty()) << word(kind);
  }
  // Nobody lives under it.
  EXPECT_THAT(found({.lamp =
                         [](auto& l) {
                           l.timer = {};
                           l.thermostat = {};
                         },
                     .animal = [](auto& a) { a.left = date(kToday); }}),
              IsEmpty());
}

TEST(HeatSources, OneThermostatForTwoPlacesIsForThisWeek) {
  const auto second = [](const char* enclosure, room::HeaterKind kind) {
    return [enclosure, kind](RoomBuilder& b) {
      b.enclosure("second");
      b.add<room::Heater>("second-panel", [&](auto& h) {
        h.kind = kind;
        h.enclosure = id<room::EnclosureId>(enclosure);
        h.thermostat = id<room::ThermostatId>("mat-stat");
        h.nearest = "nothing";
      });
    };
  };
  EXPECT_THAT(found({.more = second("tub", room::HeaterKind::panel)}), IsEmpty());
  const auto both = found({.more = second("second", room::HeaterKind::panel)});
  EXPECT_THAT(both, ElementsAre(is(When::this_week, "thermostat", "mat-stat", "of 2 places")));
  EXPECT_THAT(both[0].evidence, HasSubstr("mat in tub, second-panel in second"));
  EXPECT_THAT(found({.more = second("", room::HeaterKind::room_heater)}),
              ElementsAre(is(When::this_week, "thermostat", "mat-stat", "of 2 places")));
}

TEST(HeatSources, AProbeElsewhereIsForToday) {
  const auto more = [](RoomBuilder& b) { b.enclosure("second"); };
  EXPECT_THAT(found({.mat_stat = [](auto& t) { t.enclosure = id<room::EnclosureId>("second"); },
                     .more = more}),
              ElementsAre(is(When::today, "thermostat", "mat-stat", "is not where its heat is")));
  EXPECT_THAT(found({.mat_stat = [](auto& t) { t.enclosure = {}; }}),
              ElementsAre(is(When::this_week, "thermostat", "mat-stat", "Nobody has written")));
  for (const char* place :
       {"outside", "Outside the tank, at the back", "hangs out of the enclosure"}) {
    EXPECT_THAT(found({.mat_stat = [&](auto& t) { t.probe_place = place; }}),
                ElementsAre(is(When::today, "thermostat", "mat-stat", "is outside the enclosure")))
        << place;
  }
  EXPECT_THAT(found({.mat_stat = [](auto& t) { t.probe_place = "outside the warm hide"; }}),
              IsEmpty());
  // The room's own thermostat and heater.
  EXPECT_THAT(found({.more =
                         [](RoomBuilder& b) {
                           b.add<room::Thermostat>("room-stat");
                           b.add<room::Heater>("stove", [](auto& h) {
                             h.kind = room::HeaterKind::room_heater;
                             h.thermostat = id<room::ThermostatId>("room-stat");
                             h.nearest = "none";
                           });
                         }}),
              IsEmpty());
}

TEST(HeatSources, DeepSubstrateOverAMatIsForThisWeek) {
  const auto depth = [](const char* deep, const char* place) {
    return SafeRoom{.mat = [place](auto& h) { h.place = place; },
                    .enclosure = [deep](auto& e) { e.substrate_depth = q<Length>(deep); }};
  };
  EXPECT_THAT(found(depth("3cm", "under the floor")), IsEmpty());
  const auto deep = found(depth("3.1cm", "under the floor"));
  EXPECT_THAT(deep, ElementsAre(is(When::this_week, "heater", "mat", "Deep substrate lies over")));
  EXPECT_THAT(deep[0].evidence, HasSubstr("3.1 cm of aspen over it, more than 3 cm"));
  EXPECT_THAT(found(depth("8cm", "on the back wall")), IsEmpty());
  EXPECT_EQ(gaps({.enclosure = [](auto& e) { e.substrate_depth.reset(); }}),
            "the depth of the substrate in tub");
  EXPECT_EQ(gaps({.mat = [](auto& h) { h.place.clear(); }}), "the place of mat");
}

TEST(HeatSources, AMatAgainstWoodWantsAir) {
  const auto behind = [](const char* what, std::optional<const char*> gap) {
    return found({.mat = [=](auto& h) {
      h.behind = what;
      h.air_gap.reset();
      if (gap) h.air_gap = q<Length>(*gap);
    }});
  };
  EXPECT_THAT(behind("a plywood shelf", "0cm"),
              ElementsAre(is(When::today, "heater", "mat", "has no air between it")));
  EXPECT_THAT(behind("a plywood shelf", std::nullopt),
              ElementsAre(is(When::this_week, "heater", "mat", "has no air between it")));
  EXPECT_THAT(behind("a plywood shelf", "1mm"), IsEmpty());
  for (const char* what :
       {"carpet", "XPS foam", "Chipboard", "cardboard", "felt on a wooden desk"}) {
    EXPECT_EQ(behind(what, "0cm").size(), 1u) << what;
  }
  for (const char* what :
       {"tile", "slate", "glass", "steel rack", "plasterboard", "cement board"}) {
    EXPECT_THAT(behind(what, "0cm"), IsEmpty()) << what;
  }
  EXPECT_EQ(gaps({.mat = [](auto& h) { h.behind.clear(); }}), "what lies behind mat");
  const auto floor = [](const char* layers) {
    return SafeRoom{
        .enclosure = [layers](auto& e) { e.bottom = room::parse_construction(layers).value(); }};
  };
  EXPECT_THAT(found(floor("plywood 12mm")),
              ElementsAre(is(When::this_week, "heater", "mat", "against wood or the like")));
  EXPECT_THAT(found(floor("glass 4mm + plywood 12mm")).size(), 1u);  // the outer side
  EXPECT_THAT(found(floor("glass 6mm")), IsEmpty());
}

TEST(HeatSources, HotThingsWantDistanceToWhatBurns) {
  const auto lamp = [](const char* far, room::LampKind kind = room::LampKind::halogen) {
    return found({.lamp = [=](auto& l) {
      l.kind = kind;
      l.nearest = "dry moss";
      l.clearance = q<Length>(far);
    }});
  };
  EXPECT_THAT(lamp("14.9cm"), ElementsAre(is(When::today, "lamp", "lamp", "can burn or melt")));
  EXPECT_THAT(lamp("15cm"),
              ElementsAre(is(When::good_to_know, "lamp", "lamp", "can burn or melt")));
  EXPECT_THAT(lamp("29.9cm").size(), 1u);
  EXPECT_THAT(lamp("30cm"), IsEmpty());
  EXPECT_THAT(lamp("2cm", room::LampKind::led), IsEmpty());
  EXPECT_THAT(lamp("5cm")[0].evidence, HasSubstr("dry moss at 5 cm; usual is 15 cm to 30 cm"));
  EXPECT_THAT(lamp("5cm")[0].advice, HasSubstr("the maker's label"));
  EXPECT_EQ(gaps({.lamp = [](auto& l) { l.nearest.clear(); }}),
            "what near these can burn or melt: lamp");
  EXPECT_EQ(gaps({.lamp = [](auto& l) { l.clearance.reset(); }}),
            "how far from what is near these are: lamp");
  EXPECT_EQ(gaps({.lamp =
                      [](auto& l) {
                        l.nearest = "Nothing";
                        l.clearance.reset();
                      }}),
            "");
  const auto stove = [](const char* far) {
    return found({.more = [far](RoomBuilder& b) {
      b.add<room::Thermostat>("room-stat");
      b.add<room::Heater>("stove", [far](auto& h) {
        h.kind = room::HeaterKind::room_heater;
        h.thermostat = id<room::ThermostatId>("room-stat");
        h.nearest = "curtain";
        h.clearance = q<Length>(far);
      });
    }});
  };
  EXPECT_THAT(stove("100cm"), IsEmpty());
  EXPECT_THAT(stove("99cm"), ElementsAre(is(When::this_week, "heater", "stove", "burn or melt")));
  EXPECT_THAT(stove("10cm"), ElementsAre(is(When::today, "heater", "stove", "burn or melt")));
}

TEST(HeatSources, WhatAnAnimalCanTouchMustNotBurnIt) {
  const auto touched = [](auto& l) { l.within_reach = room::Answer::yes; };
  const auto all = found({.lamp = touched});
  EXPECT_THAT(all, ElementsAre(is(When::today, "lamp", "lamp", "An animal can touch the halogen")));
  EXPECT_THAT(all[0].advice, HasSubstr("veterinarian"));
  EXPECT_THAT(found({.lamp = touched, .animal = [](auto& a) { a.left = date(kToday); }}),
              IsEmpty());
  EXPECT_THAT(found({.mat = [](auto& h) { h.within_reach = room::Answer::yes; }}), IsEmpty());
  const auto ceramic = [](room::Answer reach) {
    return SafeRoom{.mat = [reach](auto& h) {
      h.kind = room::HeaterKind::ceramic;
      h.nearest = "nothing";
      h.within_reach = reach;
    }};
  };
  EXPECT_THAT(found(ceramic(room::Answer::yes)),
              ElementsAre(is(When::today, "heater", "mat", "can touch the ceramic in tub")));
  EXPECT_THAT(found(ceramic(room::Answer::no)), IsEmpty());
  EXPECT_EQ(gaps(ceramic(room::Answer::unknown)), "whether an animal can touch mat");
}

TEST(HeatSources, AnInhabitedEnclosureWantsAThermometer) {
  const auto tub = is(When::today, "enclosure", "tub", "tub has no thermometer");
  const auto without = [](auto& i) { i.enclosure = {}; };
  EXPECT_THAT(found({.meter = without}), ElementsAre(tub));
  EXPECT_THAT(found({.meter = [](auto& i) { i.retired = date(kToday); }}), ElementsAre(tub));
  EXPECT_THAT(found({.meter = [](auto& i) { i.retired = date(kTomorrow); }}), IsEmpty());
  using room::InstrumentKind;
  for (const auto& [kind, enough] : {std::pair(InstrumentKind::thermometer, true),
                                     {InstrumentKind::both, true},
                                     {InstrumentKind::hygrometer, false},
                                     {InstrumentKind::temp_gun, false},
                                     {InstrumentKind::uv_meter, false},
                                     {InstrumentKind::scale, false}}) {
    const auto of_kind = [kind = kind](room::Instrument& i) { i.kind = kind; };
    EXPECT_EQ(found({.meter = of_kind}).empty(), enough) << word(kind);
  }
  EXPECT_THAT(found({.meter = without, .enclosure = [](auto& e) { e.retired = date(kToday); }}),
              IsEmpty());
  EXPECT_THAT(found({.meter = without, .animal = [](auto& a) { a.left = date(kToday); }}),
              IsEmpty());
}

}  // namespace
}  // namespace warmside::safety
