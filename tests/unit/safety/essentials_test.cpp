// What an animal room must not lack: a thermostat on every heater, a thermometer where an animal
// lives, a smoke or heat alarm where something heats.

#include "safety/essentials.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::safety {
namespace {

using test::date;
using test::RoomBuilder;
using testing::AllOf;
using testing::Field;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr const char* kToday = "2026-11-25";
constexpr const char* kTomorrow = "2026-11-26";

/// A heated, measured, alarmed room with a corn snake. Each test takes something away.
struct Parts {
  std::function<void(room::Heater&)> heater = [](auto&) {};
  std::function<void(room::Thermostat&)> thermostat = [](auto&) {};
  std::function<void(room::Instrument&)> instrument = [](auto&) {};
  std::function<void(room::SafetyDevice&)> alarm = [](auto&) {};
  std::function<void(room::Enclosure&)> enclosure = [](auto&) {};
  std::function<void(room::Animal&)> animal = [](auto&) {};
};

RoomBuilder room_of(const Parts& parts) {
  const auto tub = room::EnclosureId::trusted("tub");
  RoomBuilder b;
  b.enclosure("tub", parts.enclosure).animal("juniper", "corn_snake", parts.animal);
  b.add<room::Thermostat>("stat", [&](auto& t) { parts.thermostat(t); });
  b.add<room::Heater>("mat", [&](auto& h) {
    h.enclosure = tub;
    h.thermostat = room::ThermostatId::trusted("stat");
    parts.heater(h);
  });
  b.add<room::Instrument>("dial", [&](auto& i) {
    i.enclosure = tub;
    parts.instrument(i);
  });
  b.add<room::SafetyDevice>("alarm", [&](auto& d) { parts.alarm(d); });
  return b;
}

std::vector<Finding> found(const RoomBuilder& b) {
  return findings(b.day(kToday).day);
}
std::vector<Finding> found(const Parts& parts) {
  return found(room_of(parts));
}

auto is(When when, const char* kind, const char* subject, const char* headline) {
  return AllOf(Field(&Finding::when, when), Field(&Finding::subject_kind, kind),
               Field(&Finding::subject, subject), Field(&Finding::headline, HasSubstr(headline)),
               Field(&Finding::module, "safety"));
}

TEST(Essentials, AWellFoundRoomHasNoFinding) {
  EXPECT_THAT(found(Parts{}), IsEmpty());
  EXPECT_THAT(found(RoomBuilder()), IsEmpty());
}

TEST(Essentials, AHeaterWithoutAThermostatInUseIsForNow) {
  const auto mat = is(When::now, "heater", "mat", "The heat mat in tub runs without a thermostat");
  EXPECT_THAT(found({.heater = [](auto& h) { h.thermostat = {}; }}), testing::ElementsAre(mat));
  EXPECT_THAT(found({.thermostat = [](auto& t) { t.retired = date(kToday); }}),
              testing::ElementsAre(mat));
  EXPECT_THAT(found({.thermostat = [](auto& t) { t.retired = date(kTomorrow); }}), IsEmpty());
  EXPECT_THAT(found({.heater =
                         [](auto& h) {
                           h.thermostat = {};
                           h.retired = date(kToday);
                         }}),
              IsEmpty());
  EXPECT_EQ(found({.heater =
                       [](auto& h) {
                         h.thermostat = {};
                         h.retired = date(kTomorrow);
                       }})
                .size(),
            1u);
  EXPECT_THAT(
      found({.heater =
                 [](auto& h) {
                   h.thermostat = {};
                   h.kind = room::HeaterKind::ceramic;
                   h.enclosure = {};
                 }}),
      testing::ElementsAre(is(When::now, "heater", "mat", "The ceramic in the room runs without")));
}

TEST(Essentials, AHeatersFindingSaysWhatAndWhoMayMendIt) {
  const Finding finding = found({.heater =
                                     [](auto& h) {
                                       h.thermostat = {};
                                       h.power = Power::watts(25);
                                     },
                                 .enclosure = [](auto& e) { e.name = "The tub"; }})
                              .at(0);
  EXPECT_THAT(finding.headline, HasSubstr("in The tub"));
  EXPECT_THAT(finding.evidence, HasSubstr("25 W"));
  EXPECT_THAT(finding.advice, HasSubstr("Unplug it"));
  EXPECT_THAT(finding.advice, HasSubstr("licensed electrician"));
  EXPECT_EQ(finding.source, "common practice, no source");
}

TEST(Essentials, AnInhabitedEnclosureWantsAThermometer) {
  const auto tub = is(When::today, "enclosure", "tub", "tub has no thermometer");
  const auto without = [](auto& i) { i.enclosure = {}; };
  EXPECT_THAT(found({.instrument = without}), testing::ElementsAre(tub));
  EXPECT_THAT(found({.instrument = [](auto& i) { i.retired = date(kToday); }}),
              testing::ElementsAre(tub));
  EXPECT_THAT(found({.instrument = [](auto& i) { i.retired = date(kTomorrow); }}), IsEmpty());
  using room::InstrumentKind;
  for (const auto& [kind, enough] : {std::pair(InstrumentKind::thermometer, true),
                                     {InstrumentKind::both, true},
                                     {InstrumentKind::hygrometer, false},
                                     {InstrumentKind::temp_gun, false},
                                     {InstrumentKind::uv_meter, false},
                                     {InstrumentKind::scale, false}}) {
    const auto of_kind = [kind = kind](room::Instrument& i) { i.kind = kind; };
    EXPECT_EQ(found({.instrument = of_kind}).empty(), enough) << word(kind);
  }
  EXPECT_THAT(
      found({.instrument = without, .enclosure = [](auto& e) { e.retired = date(kToday); }}),
      IsEmpty());
  EXPECT_THAT(found({.instrument = without, .animal = [](auto& a) { a.left = date(kToday); }}),
              IsEmpty());
}

TEST(Essentials, AHeatedRoomWantsASmokeAlarm) {
  const auto room = is(When::today, "room", "room", "no smoke alarm");
  const auto extinguisher = [](auto& d) { d.kind = room::SafetyDeviceKind::extinguisher; };
  EXPECT_THAT(found({.alarm = extinguisher}), testing::ElementsAre(room));
  EXPECT_THAT(found({.alarm = extinguisher})[0].evidence, HasSubstr("1 heater is in use"));
  EXPECT_THAT(found({.alarm = [](auto& d) { d.kind = room::SafetyDeviceKind::heat_alarm; }}),
              IsEmpty());
  // Nothing heats.
  EXPECT_THAT(found({.heater = [](auto& h) { h.retired = date(kToday); }, .alarm = extinguisher}),
              IsEmpty());
  RoomBuilder two = room_of({.alarm = extinguisher});
  two.add<room::Heater>("cable",
                        [](auto& h) { h.thermostat = room::ThermostatId::trusted("stat"); });
  EXPECT_THAT(found(two).at(0).evidence, HasSubstr("2 heaters are in use"));
}

}  // namespace
}  // namespace warmside::safety
