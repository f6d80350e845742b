#pragma once
// A case: one enclosure as the climate computation sees it. What it is made of, what heats it, what
// controls that, where the probes are, and what surrounds it. Read from a case file (case_file.h,
// docs/case-file.md) or made from a room book.
//
// Places: x from the left, y from the front, z from the floor (the top of the substrate), inside.

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/quantity.h"
#include "core/result.h"
#include "core/time.h"
#include "core/words.h"
#include "room/construction.h"

namespace warmside::climate {

enum class CaseHeaterKind { mat_under, mat_inside, cable, panel, emitter, projector, lamp, tube };
enum class CaseControl { on_off, pulse_proportional, dimming };

struct Place {
  Length x, y, z;
};

/// A rectangle on a face: from..to along the length and the depth.
struct Footprint {
  Length x_low, x_high, y_low, y_high;
};

struct CaseHeater {
  std::string name;
  CaseHeaterKind kind = CaseHeaterKind::mat_under;
  Power power;
  /// Mats, cables and panels: the area they cover.
  std::optional<Footprint> covers;
  /// Lamps, emitters and projectors: where they hang.
  std::optional<Place> at;
  /// Of what hangs: the share of the power that leaves as radiation; the rest warms the air.
  Percentage radiant_share = Percentage::percent(0);
  /// Of what hangs: the full angle within which half of the radiation goes, degrees, 10..180.
  double beam_deg = 120;
  std::string thermostat;  // empty: none
  std::optional<TimeOfDay> on, off;
};

struct CaseThermostat {
  std::string name;
  CaseControl control = CaseControl::on_off;
  std::string probe;  // a probe's name
  Temperature day = Temperature::celsius(30);
  std::optional<Temperature> night;
  TimeOfDay day_from{8 * 60}, night_from{20 * 60};
  Duration ramp = Duration::minutes(0);
  /// Between switching on and off; of a proportional one its band.
  TemperatureDelta band = TemperatureDelta::kelvin(1);
};

/// air: the air alone, as a shielded probe; bare: half air and half the surfaces round about, as a
/// bare probe in still air; surface: the floor cell or wall next to it.
enum class ProbeKind { air, bare, surface };

struct CaseProbe {
  std::string name;
  ProbeKind kind = ProbeKind::air;
  Place at;
  Duration lag = Duration::seconds(0);
};

/// What lies against a face in place of the room's air.
struct Neighbour {
  std::string face;  // "bottom", "left", ...
  std::optional<Temperature> temperature;  // none: the room's
  bool insulated = false;                  // no heat passes, as between two alike in a rack
};

struct EnclosureCase {
  std::string name;
  Length length, width, height;
  room::Construction front, back, left, right, top, bottom;
  std::string substrate = "coco fibre moist";
  Length substrate_depth = Length::centimetres(5);
  /// Of a mesh top: the share that is covered, and the open share of the mesh itself.
  Percentage lid_covered = Percentage::percent(0);
  Percentage mesh_open = Percentage::percent(64);
  Area vents_low, vents_high;
  Length vents_apart;                      // height between them
  double leak_changes_per_h = 0.3;         // common practice, a guess
  /// Times the computed flow through a mesh lid; the literature leaves a factor of two either way.
  double lid_flow_factor = 1;
  Temperature room = Temperature::celsius(22);
  std::vector<Temperature> room_hourly;    // in place of a fixed room
  std::vector<CaseHeater> heaters;
  std::vector<CaseThermostat> thermostats;
  std::vector<CaseProbe> probes;
  std::vector<Neighbour> neighbours;
};

/// Everything about a case that cannot be, with Where::field naming the part ("heater mat.covers").
/// Sizes of nothing, a probe outside, a heater larger than its face, an unknown material, a
/// thermostat without probe or heater, a mesh anywhere but on top.
Problems check_case(const EnclosureCase& enclosure);

/// The face's construction by its name; null for another word.
const room::Construction* face_of(const EnclosureCase& enclosure, const std::string& face);

}  // namespace warmside::climate

namespace warmside {
template <>
struct Words<climate::CaseHeaterKind> {
  static constexpr std::array<std::string_view, 8> list{
      "mat under", "mat inside", "cable", "panel", "ceramic emitter", "infrared projector",
      "lamp",      "tube"};
};
template <>
struct Words<climate::CaseControl> {
  static constexpr std::array<std::string_view, 3> list{"on/off", "pulse proportional", "dimming"};
};
template <>
struct Words<climate::ProbeKind> {
  static constexpr std::array<std::string_view, 3> list{"air", "bare", "surface"};
};
}  // namespace warmside
