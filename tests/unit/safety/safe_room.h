#pragma once
// A room in which safety finds nothing and nothing is missing, in a country without a rule of
// continuous load that we know. Each test takes something away or changes a number:
//
//     EXPECT_THAT(found(SafeRoom().change<room::Circuit>([](auto& c) { c.capacity.reset(); })),
//     ...)
//
// One enclosure with a corn snake; a mat of 20 W under the floor and a halogen lamp of 50 W, each
// on a thermostat; the thermostats and the timer on one strip, on one socket, on one circuit of
// 3680 W (16 A x 230 V) with an RCD; a smoke alarm and an extinguisher by the door.

#include <gmock/gmock.h>

#include <functional>
#include <string>

#include "core/finding.h"
#include "support/room_builder.h"

namespace warmside::safety {

using test::date;
using test::q;
using test::RoomBuilder;

inline constexpr const char* kToday = "2026-11-25";
inline constexpr const char* kTomorrow = "2026-11-26";

template <class IdType>
IdType id(const char* text) {
  return IdType::trusted(text);
}

class SafeRoom {
 public:
  template <class Record>
  using Change = std::function<void(Record&)>;

  Change<room::RoomInfo> info = [](auto&) {};
  Change<room::Circuit> circuit = [](auto&) {};
  Change<room::Socket> wall = [](auto&) {};
  Change<room::Socket> strip = [](auto&) {};
  Change<room::Timer> timer = [](auto&) {};
  Change<room::Thermostat> mat_stat = [](auto&) {};
  Change<room::Thermostat> lamp_stat = [](auto&) {};
  Change<room::Heater> mat = [](auto&) {};
  Change<room::Lamp> lamp = [](auto&) {};
  Change<room::Instrument> meter = [](auto&) {};
  Change<room::SafetyDevice> alarm = [](auto&) {};
  Change<room::SafetyDevice> extinguisher = [](auto&) {};
  Change<room::Enclosure> enclosure = [](auto&) {};
  Change<room::Animal> animal = [](auto&) {};
  std::function<void(RoomBuilder&)> more = [](auto&) {};

  RoomBuilder build() const {
    const auto tub = id<room::EnclosureId>("tub");
    RoomBuilder b;
    b.info([&](auto& r) {
      r.country = "NO";
      info(r);
    });
    b.enclosure("tub", [&](auto& e) {
       e.substrate = "aspen";
       e.substrate_depth = q<Length>("2cm");
       enclosure(e);
     }).animal("juniper", "corn_snake", animal);
    b.add<room::Circuit>("ring", [&](auto& c) {
      c.capacity = q<Power>("3680W");
      c.residual_current_device = room::Answer::yes;
      circuit(c);
    });
    b.add<room::Socket>("wall", [&](auto& s) {
      s.circuit = id<room::CircuitId>("ring");
      s.drip_loops = room::Answer::yes;
      wall(s);
    });
    b.add<room::Socket>("strip", [&](auto& s) {
      s.plugged_into = id<room::SocketId>("wall");
      s.capacity = q<Power>("2300W");
      s.drip_loops = room::Answer::yes;
      strip(s);
    });
    b.add<room::Timer>("clock", [&](auto& t) {
      t.on = TimeOfDay{8 * 60};
      t.off = TimeOfDay{20 * 60};
      t.socket = id<room::SocketId>("strip");
      t.capacity = q<Power>("300W");
      timer(t);
    });
    const auto thermostat = [&](const char* name, const Change<room::Thermostat>& change) {
      b.add<room::Thermostat>(name, [&](auto& t) {
        t.kind = room::ThermostatKind::dimming;
        t.enclosure = tub;
        t.socket = id<room::SocketId>("strip");
        t.capacity = q<Power>("300W");
        change(t);
      });
    };
    thermostat("mat-stat", mat_stat);
    thermostat("lamp-stat", lamp_stat);
    b.add<room::Heater>("mat", [&](auto& h) {
      h.kind = room::HeaterKind::mat;
      h.enclosure = tub;
      h.place = "under the floor";
      h.power = q<Power>("20W");
      h.thermostat = id<room::ThermostatId>("mat-stat");
      h.behind = "tile";
      h.air_gap = q<Length>("1cm");
      mat(h);
    });
    b.add<room::Lamp>("lamp", [&](auto& l) {
      l.kind = room::LampKind::halogen;
      l.enclosure = tub;
      l.power = q<Power>("50W");
      l.timer = id<room::TimerId>("clock");
      l.thermostat = id<room::ThermostatId>("lamp-stat");
      l.nearest = "branch";
      l.clearance = q<Length>("40cm");
      l.within_reach = room::Answer::no;
      lamp(l);
    });
    b.add<room::Instrument>("dial", [&](auto& i) {
      i.enclosure = tub;
      meter(i);
    });
    b.add<room::SafetyDevice>("alarm", [&](auto& d) {
      d.battery = date("2026-06-01");
      alarm(d);
    });
    b.add<room::SafetyDevice>("red", [&](auto& d) {
      d.kind = room::SafetyDeviceKind::extinguisher;
      d.by_the_door = room::Answer::yes;
      extinguisher(d);
    });
    more(b);
    return b;
  }
};

inline auto is(When when, const char* kind, const char* subject, const char* headline) {
  using testing::AllOf;
  using testing::Field;
  return AllOf(Field(&Finding::when, when), Field(&Finding::subject_kind, kind),
               Field(&Finding::subject, subject),
               Field(&Finding::headline, testing::HasSubstr(headline)),
               Field(&Finding::module, "safety"));
}
/// The one finding of what the room file does not say.
inline auto not_known(const char* what) {
  return testing::AllOf(is(When::good_to_know, "room", "room", "does not say enough"),
                        testing::Field(&Finding::evidence, testing::HasSubstr(what)));
}

}  // namespace warmside::safety
