#pragma once
// A case: one enclosure as the climate computation sees it. What it is made of, what heats it, what
// controls that, where the probes are, and what surrounds it. Read from a case file (case_file.h,
// docs/case-file.md) or made from a room book (case_from_room.h).
//
// Places: x from the left, y from the front, z from the floor (the top of the substrate), inside.
// Each part lists its fields once, in describe(), as the records of room/records.h do; the case
// file's reader and writer and docs/case-file.md walk that list.

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "core/quantity.h"
#include "core/result.h"
#include "core/time.h"
#include "core/words.h"
#include "room/construction.h"
#include "room/records.h"

namespace warmside::climate {

using room::Need;

enum class CaseHeaterKind { mat_under, mat_inside, cable, panel, emitter, projector, lamp, tube };
/// air: the air alone, as a shielded probe; bare: half air and half the surfaces round about, as a
/// bare probe in still air; surface: the floor cell or wall next to it; stick-on: three parts the
/// wall it sticks to, one part the air; gun: the radiance of that surface, read at the gun's
/// emissivity.
enum class ProbeKind { air, bare, surface, stick_on, gun };
/// rock: solid; hide: a shell over air; branch: a perch in the air.
enum class BodyKind { rock, hide, branch };

/// A stretch along one axis, or one place of it: "10cm..30cm", "45cm".
struct Span {
  Length low, high;
  static Result<Span> parse(std::string_view text);
  std::string text(UnitSystem units) const;
  Length middle() const { return (low + high) / 2; }
  bool operator==(const Span&) const = default;
};

struct CaseSize {
  static constexpr std::string_view kWord = "enclosure";
  std::string name;
  Length length, width, height;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("name", Need::may, r.name, "what to call it");
    v("length", Need::must, r.length, "inside, left to right");
    v("width", Need::must, r.width, "inside, front to back");
    v("height", Need::must, r.height, "inside, from the top of the substrate to the lid");
  }
};

struct CaseFaces {
  static constexpr std::string_view kWord = "faces";
  room::Construction front, back, left, right, top, bottom;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("front", Need::must, r.front, "layers from the inside out, such as \"glass 4mm\"");
    v("back", Need::must, r.back, "the back");
    v("left", Need::must, r.left, "the left side");
    v("right", Need::must, r.right, "the right side");
    v("top", Need::must, r.top, "the lid; \"mesh 1mm\" for a mesh lid");
    v("bottom", Need::must, r.bottom, "the floor under the substrate");
  }
};

struct CaseSubstrate {
  static constexpr std::string_view kWord = "substrate";
  std::string kind;
  Length depth;
  /// Share of its surface that gives off water like open water. None: 0, or 30 % for a kind named
  /// moist (a guess).
  std::optional<Percentage> wetness;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("kind", Need::must, r.kind, "a material, such as \"coco fibre moist\"");
    v("depth", Need::must, r.depth, "how deep");
    v("wetness", Need::may, r.wetness,
      "share of the surface that gives off water like open water; else 30% of a kind named moist, "
      "0% of others");
  }
};

struct CaseOpenings {
  static constexpr std::string_view kWord = "openings";
  Percentage lid_covered = Percentage::percent(0);
  Percentage mesh_open = Percentage::percent(64);
  Area vents_low, vents_high;
  Length vents_apart;
  double leak_changes_per_h = 0.3;
  double lid_flow_factor = 1;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("lid_covered", Need::may, r.lid_covered, "share of a mesh lid that is covered");
    v("mesh_open", Need::may, r.mesh_open, "open share of the mesh itself");
    v("vents_low", Need::may, r.vents_low, "open area low down, door gaps included");
    v("vents_high", Need::may, r.vents_high, "open area high up");
    v("vents_apart", Need::may, r.vents_apart, "height between the two");
    v("leak_changes_per_h", Need::may, r.leak_changes_per_h,
      "air changes an hour through gaps and draught; a guess, 0.3 when left out");
    v("lid_flow_factor", Need::may, r.lid_flow_factor,
      "times the computed flow through a mesh lid; uncertain between 0.5 and 2");
  }
};

struct CaseDish {
  static constexpr std::string_view kWord = "dish";
  Length x, y;
  Area area;
  Length depth = Length::centimetres(4);

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("x", Need::must, r.x, "its middle from the left");
    v("y", Need::must, r.y, "from the front");
    v("area", Need::must, r.area, "of the water");
    v("depth", Need::may, r.depth, "of the water; 4cm when left out");
  }
};

struct CaseBody {
  static constexpr std::string_view kWord = "body";
  std::string name;
  BodyKind kind = BodyKind::rock;
  Span x, y;
  Length height;
  std::string material = "slate";

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("name", Need::must, r.name, "a name");
    v("kind", Need::must, r.kind, "a rock is solid, a hide a shell over air, a branch a perch");
    v("x", Need::must, r.x, "what it covers from the left, such as \"5cm..25cm\"");
    v("y", Need::must, r.y, "what it covers from the front");
    v("height", Need::must, r.height, "its top above the floor");
    v("material", Need::may, r.material, "of a rock or of a hide's shell (1 cm thick)");
  }
};

struct CaseHeater {
  static constexpr std::string_view kWord = "heater";
  std::string name;
  CaseHeaterKind kind = CaseHeaterKind::mat_under;
  Power power;
  Span x, y;
  std::optional<Length> z;
  std::optional<Percentage> radiant_share;
  std::optional<double> beam_deg;
  std::string thermostat;  // empty: none
  std::optional<TimeOfDay> on, off;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("name", Need::must, r.name, "a name");
    v("kind", Need::must, r.kind, "what it is");
    v("power", Need::must, r.power, "as printed on it");
    v("x", Need::must, r.x, "what it covers from the left, \"0cm..30cm\"; of what hangs: \"20cm\"");
    v("y", Need::must, r.y, "the same from the front");
    v("z", Need::may, r.z, "of what hangs: its height; at the height of a mesh lid it lies on it");
    v("radiant_share", Need::may, r.radiant_share,
      "share of the power that leaves as radiation; the rest warms the air");
    v("beam_deg", Need::may, r.beam_deg, "full angle within which half of the radiation goes");
    v("thermostat", Need::may, r.thermostat, "the name of a [[thermostat]]; none: always on");
    v("on", Need::may, r.on, "timer, such as \"08:00\"");
    v("off", Need::may, r.off, "timer");
  }
};

struct CaseThermostat {
  static constexpr std::string_view kWord = "thermostat";
  std::string name;
  room::ThermostatKind control = room::ThermostatKind::on_off;
  std::string probe;
  Temperature day = Temperature::celsius(30);
  std::optional<Temperature> night;
  TimeOfDay day_from{8 * 60}, night_from{20 * 60};
  Duration ramp = Duration::minutes(0);
  TemperatureDelta band = TemperatureDelta::kelvin(1);

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("name", Need::must, r.name, "a name");
    v("kind", Need::may, r.control, "how it controls; on/off when left out");
    v("probe", Need::must, r.probe, "the name of the [[probe]] it goes by");
    v("day", Need::must, r.day, "set point by day");
    v("night", Need::may, r.night, "set point by night; as by day when left out");
    v("day_from", Need::may, r.day_from, "when the day begins; 08:00 when left out");
    v("night_from", Need::may, r.night_from, "when the night begins; 20:00 when left out");
    v("ramp", Need::may, r.ramp, "how long the change takes");
    v("band", Need::may, r.band,
      "between switching on and off, of a proportional one its band; 1K when left out");
  }
};

struct CaseProbe {
  static constexpr std::string_view kWord = "probe";
  std::string name;
  ProbeKind kind = ProbeKind::air;
  Length x, y, z;
  Duration lag = Duration::seconds(0);
  double emissivity = 0.95;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("name", Need::must, r.name, "a name");
    v("kind", Need::may, r.kind, "what it feels; air when left out");
    v("x", Need::must, r.x, "from the left");
    v("y", Need::must, r.y, "from the front");
    v("z", Need::must, r.z, "from the floor");
    v("lag", Need::may, r.lag, "how slow it is: after this time 63 % of a change shows");
    v("emissivity", Need::may, r.emissivity, "set on a temp gun; 0.95 when left out");
  }
};

struct CaseMisting {
  static constexpr std::string_view kWord = "misting";
  TimeOfDay time{8 * 60};
  Volume water;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("time", Need::must, r.time, "each day, such as \"08:00\"");
    v("water", Need::must, r.water, "that stays on the floor and walls, such as \"50mL\"");
  }
};

/// What lies against a face in place of the room's air.
struct CaseNeighbour {
  static constexpr std::string_view kWord = "neighbour";
  std::string face;
  std::optional<Temperature> temperature;
  bool insulated = false;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("face", Need::must, r.face, "front, back, left, right, top or bottom");
    v("temperature", Need::may, r.temperature,
      "of the shelf, wall or enclosure that touches it; the room's air when left out");
    v("insulated", Need::may, r.insulated, "no heat passes, as between two alike in a rack");
  }
};

/// The room around: air of a fixed state, or, with `walls`, a room of its own that the weather
/// reaches.
struct CaseRoom {
  static constexpr std::string_view kWord = "room";
  Temperature temperature = Temperature::celsius(22);
  Percentage humidity = Percentage::percent(45);
  std::optional<TemperatureDelta> night_drop;
  std::string weather;
  std::optional<double> walls_w_per_k;
  std::optional<Volume> volume;
  double air_changes_per_h = 0.5;
  double mass_wh_per_k = 500;
  Power heater;
  Temperature heater_day = Temperature::celsius(22);
  std::optional<Temperature> heater_night;
  Power other_heat;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("temperature", Need::may, r.temperature, "of the air, by day; 22C when left out");
    v("night_drop", Need::may, r.night_drop, "how much cooler it is from 22:00 to 06:00");
    v("humidity", Need::may, r.humidity, "of the air; outdoors too, without weather");
    v("walls_w_per_k", Need::may, r.walls_w_per_k,
      "heat through the room's walls and windows, W for each K against outdoors; with it the "
      "room's "
      "temperature is computed and `temperature` is that of outdoors, unless there is weather");
    v("weather", Need::may, r.weather,
      "file beside this one with air by the hour: outdoors where there are walls, else the room's");
    v("volume", Need::may, r.volume, "of the room's air; 30 m3 is \"30000L\"");
    v("air_changes_per_h", Need::may, r.air_changes_per_h, "of the room's air with outdoors");
    v("mass_wh_per_k", Need::may, r.mass_wh_per_k,
      "heat that walls and furniture take up, Wh for each K");
    v("heater", Need::may, r.heater, "power of the room's heater");
    v("heater_day", Need::may, r.heater_day, "its set point by day");
    v("heater_night", Need::may, r.heater_night, "from 22:00 to 06:00");
    v("other_heat", Need::may, r.other_heat, "of people and devices, all day");
  }
};

/// Outdoor air by the hour.
struct Weather {
  std::vector<double> temperature_k;
  std::vector<double> vapour_kg_per_m3;
};

struct EnclosureCase {
  CaseSize size;
  CaseFaces faces;
  CaseSubstrate substrate;
  CaseOpenings openings;
  CaseRoom room;
  std::optional<CaseDish> dish;
  std::vector<CaseBody> bodies;
  std::vector<CaseHeater> heaters;
  std::vector<CaseThermostat> thermostats;
  std::vector<CaseProbe> probes;
  std::vector<CaseMisting> mistings;
  std::vector<CaseNeighbour> neighbours;
  std::optional<Weather> weather;  // read from room.weather by whoever opens files
};

/// Whether a heater covers a part of the floor or lid, as mats, cables and panels do; the others
/// hang.
bool covers_area(CaseHeaterKind kind);
/// Of what hangs, or of a panel, when the case does not say: common practice, no source, but for
/// the ceramic emitter (gray at 250 degC in still air, physics of a hot body: 0.56 to 0.70).
Percentage usual_radiant_share(CaseHeaterKind kind);
double usual_beam_deg(CaseHeaterKind kind);

/// Everything about a case that cannot be, with Where::field naming the part ("heater mat.power").
/// Sizes of nothing, a probe outside, a heater larger than its face, an unknown material, a
/// thermostat without probe or heater, a mesh anywhere but on top.
Problems check_case(const EnclosureCase& enclosure);

/// The face's construction by its name; null for another word.
const room::Construction* face_of(const CaseFaces& faces, const std::string& face);

}  // namespace warmside::climate

namespace warmside {
template <>
struct Words<climate::CaseHeaterKind> {
  static constexpr std::array<std::string_view, 8> list{
      "mat under",       "mat inside",         "cable", "panel",
      "ceramic emitter", "infrared projector", "lamp",  "tube"};
};
template <>
struct Words<climate::ProbeKind> {
  static constexpr std::array<std::string_view, 5> list{"air", "bare", "surface", "stick-on",
                                                        "temp gun"};
};
template <>
struct Words<climate::BodyKind> {
  static constexpr std::array<std::string_view, 3> list{"rock", "hide", "branch"};
};
}  // namespace warmside
