#pragma once
// The room book's records as plain structs: what stands in the room, who lives where, what heats
// and lights it. Everything a model may know of a room, apart from the notebook (entry.h).
//
// Every record lists its fields once, in describe(). The room file's reader and writer, the
// database, the tests' generators and docs/room-file.md all walk that one list, so a field is
// added here and nowhere else (and in a migration). A Visitor takes
//     visitor(name, need, field, words)
// for each field in order: its name in the room file, whether it must be there, the field itself
// and what it means. The record's own id is not among the fields.
//
// An empty reference, text or optional means "not known" or "does not apply".

#include <optional>
#include <string>
#include <vector>

#include "core/id.h"
#include "core/quantity.h"
#include "core/time.h"
#include "core/words.h"
#include "room/construction.h"
#include "room/uv_table.h"
#include "species/profile.h"

namespace warmside::room {

struct Animal;
struct Appliance;
struct Circuit;
struct Enclosure;
struct Heater;
struct Instrument;
struct Jar;
struct Keeper;
struct Lamp;
struct OwnFood;
struct OwnSpecies;
struct SafetyDevice;
struct Socket;
struct Supply;
struct StandingTask;
struct Thermostat;
struct Timer;
struct Tool;
struct Override;

using AnimalId = Id<Animal>;
using ApplianceId = Id<Appliance>;
using CircuitId = Id<Circuit>;
using EnclosureId = Id<Enclosure>;
using FoodId = Id<OwnFood>;  // of data/foods.csv or of a [[food]]
using HeaterId = Id<Heater>;
using InstrumentId = Id<Instrument>;
using JarId = Id<Jar>;
using KeeperId = Id<Keeper>;
using LampId = Id<Lamp>;
using SafetyDeviceId = Id<SafetyDevice>;
using SocketId = Id<Socket>;
using SupplyId = Id<Supply>;
using StandingTaskId = Id<StandingTask>;
using ThermostatId = Id<Thermostat>;
using TimerId = Id<Timer>;
using ToolId = Id<Tool>;
using OverrideId = Id<Override>;

enum class Need { must, may };

enum class Answer { unknown, no, yes };
enum class KeeperRole { keeper, helper, sitter, veterinarian };
enum class Sex { unknown, female, male };
enum class HeaterKind { mat, cable, panel, ceramic, projector, room_heater, water_heater };
enum class LampKind { tube_t5, tube_t8, compact, mercury_vapour, metal_halide, halogen, led };
enum class ThermostatKind { on_off, pulse_proportional, dimming };
enum class InstrumentKind { thermometer, hygrometer, both, temp_gun, uv_meter, scale };
enum class ApplianceKind {
  pump,
  fogger,
  fan,
  humidifier,
  dehumidifier,
  refrigerator,
  freezer,
  other
};
enum class ToolKind { tongs, tub, scoop, bin, hook, bowl, spray_bottle };
enum class SupplementKind { calcium, calcium_d3, multivitamin, multivitamin_retinol, other };
enum class SupplyKind { feeder, frozen_prey, plant_food, substrate, disinfectant, consumable };
/// vertebrate: eaten whole.
enum class FoodKind { invertebrate, vertebrate, plant };
enum class SafetyDeviceKind { smoke_alarm, heat_alarm, extinguisher };

/// The room itself; one to a book.
struct RoomInfo {
  static constexpr std::string_view kWord = "room";
  std::string name;
  std::string place;
  std::optional<double> latitude_deg;
  std::optional<double> longitude_deg;
  std::string country;
  std::string zone = "UTC";
  UnitSystem units = UnitSystem::metric;
  Answer vulnerable_person = Answer::unknown;
  std::optional<double> electricity_price;
  bool operator==(const RoomInfo&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("name", Need::must, r.name, "what the room is called");
    v("place", Need::may, r.place, "town or part of the house");
    v("latitude", Need::may, r.latitude_deg, "degrees, north positive");
    v("longitude", Need::may, r.longitude_deg, "degrees, east positive");
    v("country", Need::may, r.country,
      "two letters as in ISO 3166, such as NO; for its rules of mains and continuous load");
    v("zone", Need::must, r.zone, "IANA time zone, such as Europe/Oslo");
    v("units", Need::may, r.units, "how people here type and read");
    v("vulnerable_person", Need::may, r.vulnerable_person,
      "whether a child under 5, someone over 65 or someone with weak immunity lives in the home");
    v("electricity_price", Need::may, r.electricity_price, "of a kilowatt-hour, in your currency");
  }
};

struct Keeper {
  static constexpr std::string_view kWord = "keeper";
  KeeperId id;
  KeeperRole role = KeeperRole::keeper;
  bool operator==(const Keeper&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("role", Need::may, r.role, "what this person does in the room");
  }
};

/// A species that the built-in tables lack. Its values are given by overrides.
struct OwnSpecies {
  static constexpr std::string_view kWord = "species";
  species::SpeciesId id;
  std::string common_name;
  std::string scientific_name;
  Group group = Group::other;
  std::string activity;
  bool operator==(const OwnSpecies&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("common_name", Need::must, r.common_name, "the name you use");
    v("scientific_name", Need::may, r.scientific_name, "genus and species");
    v("group", Need::must, r.group, "which rules of care and hygiene hold");
    v("activity", Need::may, r.activity, "when it is awake: diurnal, nocturnal, crepuscular");
  }
};

struct Circuit {
  static constexpr std::string_view kWord = "circuit";
  CircuitId id;
  std::string name;
  std::optional<Power> capacity;
  Answer residual_current_device = Answer::unknown;
  bool operator==(const Circuit&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("name", Need::may, r.name, "what stands on the fuse board");
    v("capacity", Need::may, r.capacity, "volts times the breaker's amperes, such as 2300W");
    v("residual_current_device", Need::may, r.residual_current_device,
      "whether an RCD (GFCI) protects it");
  }
};

struct Socket {
  static constexpr std::string_view kWord = "socket";
  SocketId id;
  CircuitId circuit;
  std::string place;
  SocketId plugged_into;
  std::optional<Power> capacity;
  Answer residual_current_device = Answer::unknown;
  Answer drip_loops = Answer::unknown;
  bool operator==(const Socket&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("circuit", Need::may, r.circuit, "the circuit that feeds it");
    v("place", Need::may, r.place, "where it is");
    v("plugged_into", Need::may, r.plugged_into,
      "of a strip or an extension lead: the socket it is plugged into; then no circuit");
    v("capacity", Need::may, r.capacity,
      "of a strip: the load printed on it, or volts times amperes");
    v("residual_current_device", Need::may, r.residual_current_device,
      "whether it has an RCD (GFCI) of its own");
    v("drip_loops", Need::may, r.drip_loops,
      "whether every cord hangs lower than the socket before it goes up into it");
  }
};

struct Timer {
  static constexpr std::string_view kWord = "timer";
  TimerId id;
  std::optional<TimeOfDay> on;
  std::optional<TimeOfDay> off;
  SocketId socket;
  std::optional<Power> capacity;
  bool operator==(const Timer&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("on", Need::may, r.on, "switches on at, such as 07:30");
    v("off", Need::may, r.off, "switches off at");
    v("socket", Need::may, r.socket, "where it is plugged in");
    v("capacity", Need::may, r.capacity, "the load printed on it");
  }
};

struct Enclosure {
  static constexpr std::string_view kWord = "enclosure";
  EnclosureId id;
  std::string name;
  std::string place;
  std::string rack;
  std::optional<int> shelf;
  std::optional<int> position;
  std::optional<Length> length;
  std::optional<Length> width;
  std::optional<Length> height;
  std::optional<Construction> front;
  std::optional<Construction> back;
  std::optional<Construction> left;
  std::optional<Construction> right;
  std::optional<Construction> top;
  std::optional<Construction> bottom;
  std::optional<Percentage> lid_covered;
  std::optional<Percentage> mesh_open;
  std::optional<Area> vents_low;
  std::optional<Area> vents_high;
  std::optional<Length> door_gap;
  std::string substrate;
  std::optional<Length> substrate_depth;
  std::string furnishings;
  bool water_dish = true;
  std::optional<Date> retired;
  bool operator==(const Enclosure&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("name", Need::may, r.name, "what you call it");
    v("place", Need::may, r.place, "where it stands");
    v("rack", Need::may, r.rack, "the rack it is in");
    v("shelf", Need::may, r.shelf, "the shelf of the rack, 1 at the bottom");
    v("position", Need::may, r.position, "place on the shelf, 1 at the left");
    v("length", Need::may, r.length, "inside, left to right");
    v("width", Need::may, r.width, "inside, front to back");
    v("height", Need::may, r.height, "inside, bottom to top");
    v("front", Need::may, r.front, "what the front is made of, inside first");
    v("back", Need::may, r.back, "the back");
    v("left", Need::may, r.left, "the left side");
    v("right", Need::may, r.right, "the right side");
    v("top", Need::may, r.top, "the top or lid");
    v("bottom", Need::may, r.bottom, "the floor");
    v("lid_covered", Need::may, r.lid_covered, "share of a mesh lid that is covered");
    v("mesh_open", Need::may, r.mesh_open,
      "open share of the mesh itself: for wire d in squares p apart, (1 - d/p) twice multiplied");
    v("vents_low", Need::may, r.vents_low, "open area of the low vents");
    v("vents_high", Need::may, r.vents_high, "open area of the high vents");
    v("door_gap", Need::may, r.door_gap, "width of the gap round the doors");
    v("substrate", Need::may, r.substrate, "what covers the floor");
    v("substrate_depth", Need::may, r.substrate_depth, "how deep");
    v("furnishings", Need::may, r.furnishings, "hides, branches, plants");
    v("water_dish", Need::may, r.water_dish, "whether water is offered in a dish");
    v("retired", Need::may, r.retired, "no longer in use since");
  }
};

struct Thermostat {
  static constexpr std::string_view kWord = "thermostat";
  ThermostatId id;
  ThermostatKind kind = ThermostatKind::on_off;
  EnclosureId enclosure;
  std::string probe_place;
  std::optional<Temperature> day;
  std::optional<Temperature> night;
  std::optional<TemperatureDelta> hysteresis;
  SocketId socket;
  std::optional<Power> capacity;
  std::optional<Date> retired;
  bool operator==(const Thermostat&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("kind", Need::must, r.kind, "how it controls");
    v("enclosure", Need::may, r.enclosure, "where its probe is; none for the room's own");
    v("probe_place", Need::may, r.probe_place, "where in the enclosure");
    v("day", Need::may, r.day, "set point by day");
    v("night", Need::may, r.night, "set point by night");
    v("hysteresis", Need::may, r.hysteresis, "between switching on and off");
    v("socket", Need::may, r.socket, "where it is plugged in");
    v("capacity", Need::may, r.capacity, "the load printed on it");
    v("retired", Need::may, r.retired, "no longer in use since");
  }
};

struct Heater {
  static constexpr std::string_view kWord = "heater";
  HeaterId id;
  HeaterKind kind = HeaterKind::mat;
  EnclosureId enclosure;
  std::string place;
  std::optional<Power> power;
  std::optional<Length> length;
  std::optional<Length> width;
  ThermostatId thermostat;
  SocketId socket;
  std::string behind;
  std::optional<Length> air_gap;
  std::string nearest;
  std::optional<Length> clearance;
  Answer within_reach = Answer::unknown;
  std::optional<Date> retired;
  bool operator==(const Heater&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("kind", Need::must, r.kind, "what it is");
    v("enclosure", Need::may, r.enclosure, "what it heats; none for the room heater");
    v("place", Need::may, r.place, "under the floor, on the wall, ...");
    v("power", Need::may, r.power, "as printed on it");
    v("length", Need::may, r.length, "its longer side");
    v("width", Need::may, r.width, "its shorter side");
    v("thermostat", Need::may, r.thermostat, "what controls it");
    v("socket", Need::may, r.socket, "where it is plugged in, if not in its thermostat");
    v("behind", Need::may, r.behind,
      "of a mat: what is on its other side, away from the animals: a plywood shelf, tile, ...");
    v("air_gap", Need::may, r.air_gap,
      "of a mat: air between it and that; 0cm where it lies on it");
    v("nearest", Need::may, r.nearest,
      "what is next to it that can burn or melt: dry plants, a plastic pot, a curtain, ...");
    v("clearance", Need::may, r.clearance, "how far that is from it");
    v("within_reach", Need::may, r.within_reach,
      "whether an animal can touch it, its guard, or the mesh that it heats");
    v("retired", Need::may, r.retired, "no longer in use since");
  }
};

struct Lamp {
  static constexpr std::string_view kWord = "lamp";
  LampId id;
  LampKind kind = LampKind::led;
  EnclosureId enclosure;
  std::string place;
  std::optional<Power> power;
  bool uvb = false;
  std::optional<Length> length;
  std::optional<double> beam_deg;
  Answer reflector = Answer::unknown;
  std::optional<UvTable> uv_table;
  std::optional<Length> distance;
  std::optional<Length> from_left;
  std::optional<Length> from_front;
  std::optional<Length> above_floor;
  TimerId timer;
  ThermostatId thermostat;
  SocketId socket;
  std::string nearest;
  std::optional<Length> clearance;
  Answer within_reach = Answer::unknown;
  std::optional<Date> installed;
  std::optional<Date> retired;
  bool operator==(const Lamp&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("kind", Need::must, r.kind, "what it is");
    v("enclosure", Need::may, r.enclosure, "what it lights");
    v("place", Need::may, r.place, "where it hangs");
    v("power", Need::may, r.power, "as printed on it");
    v("uvb", Need::may, r.uvb, "whether it is there for UVB");
    v("length", Need::may, r.length, "of a tube: the part that shines");
    v("beam_deg", Need::may, r.beam_deg,
      "of a flood or spot: the full angle within which it is at least half as strong, degrees");
    v("reflector", Need::may, r.reflector, "of a tube: whether it hangs in a reflector");
    v("uv_table", Need::may, r.uv_table,
      "the UV index at distances straight under it when new, without mesh, as its data sheet says");
    v("distance", Need::may, r.distance, "from the lamp to the basking place");
    v("from_left", Need::may, r.from_left, "its middle from the left wall, inside");
    v("from_front", Need::may, r.from_front, "its middle from the front, inside");
    v("above_floor", Need::may, r.above_floor, "its face above the top of the substrate");
    v("timer", Need::may, r.timer, "what switches it");
    v("thermostat", Need::may, r.thermostat, "what controls it, if anything");
    v("socket", Need::may, r.socket, "where it is plugged in, if not in its timer");
    v("nearest", Need::may, r.nearest,
      "what is next to it that can burn or melt: dry plants, a plastic pot, a curtain, ...");
    v("clearance", Need::may, r.clearance, "how far that is from it");
    v("within_reach", Need::may, r.within_reach,
      "whether an animal can touch it, its guard, or the mesh that it heats");
    v("installed", Need::may, r.installed, "when this bulb or tube was new");
    v("retired", Need::may, r.retired, "no longer in use since");
  }
};

/// What else is plugged in: a pump, a fogger, the refrigerator of the feeders.
struct Appliance {
  static constexpr std::string_view kWord = "appliance";
  ApplianceId id;
  ApplianceKind kind = ApplianceKind::other;
  std::string name;
  EnclosureId enclosure;
  std::string place;
  std::optional<Power> power;
  std::optional<Percentage> running;
  bool in_water = false;
  TimerId timer;
  SocketId socket;
  std::optional<Date> retired;
  bool operator==(const Appliance&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("kind", Need::must, r.kind, "what it is");
    v("name", Need::may, r.name, "what you call it");
    v("enclosure", Need::may, r.enclosure, "whose it is; none when it is the room's");
    v("place", Need::may, r.place, "where it stands");
    v("power", Need::may, r.power, "as printed on it");
    v("running", Need::may, r.running,
      "share of the time in which it draws that; all of it when left out, or its timer's hours");
    v("in_water", Need::may, r.in_water, "whether it hangs or stands in water");
    v("timer", Need::may, r.timer, "what switches it");
    v("socket", Need::may, r.socket, "where it is plugged in, if not in its timer");
    v("retired", Need::may, r.retired, "no longer in use since");
  }
};

/// A thermometer, hygrometer, temp gun, UV meter or scale.
struct Instrument {
  static constexpr std::string_view kWord = "instrument";
  InstrumentId id;
  InstrumentKind kind = InstrumentKind::thermometer;
  EnclosureId enclosure;
  std::string place;
  std::optional<Mass> resolution;
  std::optional<Date> retired;
  bool operator==(const Instrument&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("kind", Need::must, r.kind, "what it measures; both: temperature and humidity");
    v("enclosure", Need::may, r.enclosure, "where it stays; none when it is carried");
    v("place", Need::may, r.place, "where in the enclosure");
    v("resolution", Need::may, r.resolution, "of a scale: its smallest step");
    v("retired", Need::may, r.retired, "no longer in use since");
  }
};

struct Tool {
  static constexpr std::string_view kWord = "tool";
  ToolId id;
  ToolKind kind = ToolKind::tongs;
  EnclosureId enclosure;
  std::string mark;
  bool operator==(const Tool&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("kind", Need::must, r.kind, "what it is");
    v("enclosure", Need::may, r.enclosure, "whose it is; none when the room shares it");
    v("mark", Need::may, r.mark, "how to tell it from the others");
  }
};

/// What the keeper knows of a food: one that the table data/foods.csv lacks, or values in place of
/// the table's. What is not given here is the table's, or else unknown, never zero. Values that
/// belong together are taken together: water and energy; calcium and phosphorus; the vitamins.
struct OwnFood {
  static constexpr std::string_view kWord = "food";
  FoodId id;
  std::string name;
  FoodKind kind = FoodKind::invertebrate;
  std::optional<Mass> piece_mass;
  std::optional<Percentage> water;
  std::optional<double> energy_kcal_per_100g;
  std::optional<double> calcium_mg_per_kg;
  std::optional<double> phosphorus_mg_per_kg;
  std::optional<double> retinol_iu_per_kg;
  std::optional<double> carotenoid_iu_per_kg;
  std::optional<double> vitamin_d3_iu_per_kg;
  std::optional<double> vitamin_e_iu_per_kg;
  std::optional<double> oxalic_acid_g_per_100g;
  std::string source;
  bool operator==(const OwnFood&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("name", Need::must, r.name, "what you call it");
    v("kind", Need::must, r.kind, "what it is; a vertebrate is eaten whole");
    v("piece_mass", Need::may, r.piece_mass, "what one weighs");
    v("water", Need::may, r.water, "share of water, as fed like all that follows");
    v("energy_kcal_per_100g", Need::may, r.energy_kcal_per_100g, "metabolisable, kcal in 100 g");
    v("calcium_mg_per_kg", Need::may, r.calcium_mg_per_kg, "mg in a kilogram");
    v("phosphorus_mg_per_kg", Need::may, r.phosphorus_mg_per_kg, "mg in a kilogram");
    v("retinol_iu_per_kg", Need::may, r.retinol_iu_per_kg, "preformed vitamin A, IU in a kilogram");
    v("carotenoid_iu_per_kg", Need::may, r.carotenoid_iu_per_kg,
      "vitamin A as carotenoids, IU in a kilogram");
    v("vitamin_d3_iu_per_kg", Need::may, r.vitamin_d3_iu_per_kg, "IU in a kilogram");
    v("vitamin_e_iu_per_kg", Need::may, r.vitamin_e_iu_per_kg, "IU in a kilogram");
    v("oxalic_acid_g_per_100g", Need::may, r.oxalic_acid_g_per_100g, "g in 100 g");
    v("source", Need::may, r.source, "where the values come from, such as the packet");
  }
};

/// One kind of supplement in its own shaker.
struct Jar {
  static constexpr std::string_view kWord = "jar";
  JarId id;
  SupplementKind contents = SupplementKind::other;
  std::string label;
  std::optional<Date> opened;
  std::optional<Date> expires;
  std::optional<Date> retired;
  std::optional<Percentage> calcium;
  std::optional<double> vitamin_d3_iu_per_g;
  std::optional<double> retinol_iu_per_g;
  std::optional<double> carotenoid_iu_per_g;
  std::optional<double> vitamin_e_iu_per_g;
  bool operator==(const Jar&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("contents", Need::must, r.contents, "what is in it");
    v("label", Need::may, r.label, "what you wrote on it");
    v("opened", Need::may, r.opened, "when it was opened");
    v("expires", Need::may, r.expires, "the date printed on it");
    v("retired", Need::may, r.retired, "thrown away on");
    v("calcium", Need::may, r.calcium, "share of calcium, as the label says");
    v("vitamin_d3_iu_per_g", Need::may, r.vitamin_d3_iu_per_g,
      "IU in a gram, as the label says; a label in IU per kilogram: divide by 1000");
    v("retinol_iu_per_g", Need::may, r.retinol_iu_per_g, "preformed vitamin A, IU in a gram");
    v("carotenoid_iu_per_g", Need::may, r.carotenoid_iu_per_g,
      "vitamin A as carotenoids, IU in a gram");
    v("vitamin_e_iu_per_g", Need::may, r.vitamin_e_iu_per_g, "IU in a gram");
  }
};

struct Supply {
  static constexpr std::string_view kWord = "supply";
  SupplyId id;
  SupplyKind kind = SupplyKind::consumable;
  std::string name;
  std::optional<int> count;
  std::optional<Mass> mass;
  std::optional<Volume> volume;
  std::optional<Date> expires;
  std::string place;
  FoodId food;
  std::optional<Mass> piece_mass;
  bool operator==(const Supply&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("kind", Need::must, r.kind, "what it is");
    v("name", Need::must, r.name, "what you call it");
    v("count", Need::may, r.count, "how many there are");
    v("mass", Need::may, r.mass, "how much there is");
    v("volume", Need::may, r.volume, "how much there is");
    v("expires", Need::may, r.expires, "use before");
    v("place", Need::may, r.place, "where it is kept");
    v("food", Need::may, r.food,
      "what it is as food: an id from `warmside foods`, or of your own [[food]]");
    v("piece_mass", Need::may, r.piece_mass, "what one weighs, where you have weighed some");
  }
};

struct SafetyDevice {
  static constexpr std::string_view kWord = "safety_device";
  SafetyDeviceId id;
  SafetyDeviceKind kind = SafetyDeviceKind::smoke_alarm;
  std::string place;
  std::optional<Date> battery;
  std::optional<Date> expires;
  Answer by_the_door = Answer::unknown;
  bool operator==(const SafetyDevice&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("kind", Need::must, r.kind, "what it is");
    v("place", Need::may, r.place, "where it is");
    v("battery", Need::may, r.battery, "when the battery was new");
    v("expires", Need::may, r.expires,
      "the date printed on it: replace or have it serviced by then");
    v("by_the_door", Need::may, r.by_the_door,
      "of an extinguisher: whether it hangs by the door, on the way out");
  }
};

/// One animal, or a group kept together that is not told apart (count above 1).
struct Animal {
  static constexpr std::string_view kWord = "animal";
  AnimalId id;
  std::string name;
  species::SpeciesId species;
  Sex sex = Sex::unknown;
  int count = 1;
  std::optional<Date> born;
  std::optional<Date> arrived;
  std::optional<Date> left;
  EnclosureId enclosure;
  bool breeding = false;
  std::string marks;
  bool operator==(const Animal&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("name", Need::may, r.name, "what you call it");
    v("species", Need::must, r.species,
      "an id from `warmside species`, or of your own [[species]]");
    v("sex", Need::may, r.sex, "if known");
    v("count", Need::may, r.count, "more than 1 for a group that you do not tell apart");
    v("born", Need::may, r.born, "or hatched");
    v("arrived", Need::may, r.arrived, "when it came to the room");
    v("left", Need::may, r.left, "when it left the room or died");
    v("enclosure", Need::may, r.enclosure,
      "where it lived when the notebook began; later moves are jotted");
    v("breeding", Need::may, r.breeding, "whether it is used for breeding");
    v("marks", Need::may, r.marks, "how to know it");
  }
};

/// The keeper's own value in place of the profile's, for one animal or for a whole species.
struct Override {
  static constexpr std::string_view kWord = "override";
  OverrideId id;
  AnimalId animal;
  species::SpeciesId species;
  std::string key;
  std::string value;
  std::string reason;
  bool operator==(const Override&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("animal", Need::may, r.animal, "whose value it is; or give species");
    v("species", Need::may, r.species, "every animal of this species; or give animal");
    v("key", Need::must, r.key, "which value, as in `warmside species`");
    v("value", Need::must, r.value, "the value with its unit, such as 20C..24C");
    v("reason", Need::must, r.reason, "why");
  }
};

/// The keeper's own recurring task.
struct StandingTask {
  static constexpr std::string_view kWord = "task";
  StandingTaskId id;
  std::string title;
  Duration every = Duration::days(7);
  std::optional<Date> start;
  EnclosureId enclosure;
  AnimalId animal;
  std::string detail;
  std::optional<Date> retired;
  bool operator==(const StandingTask&) const = default;

  template <class Self, class Visitor>
  static void describe(Self& r, Visitor&& v) {
    v("title", Need::must, r.title, "what to do, in a few words");
    v("every", Need::must, r.every, "whole days, such as 7d");
    v("start", Need::may, r.start, "first due on");
    v("enclosure", Need::may, r.enclosure, "at whose stop");
    v("animal", Need::may, r.animal, "for whom");
    v("detail", Need::may, r.detail, "how");
    v("retired", Need::may, r.retired, "no longer done since");
  }
};

/// The whole room.
struct Room {
  RoomInfo info;
  std::vector<Keeper> keepers;
  std::vector<OwnSpecies> own_species;
  std::vector<OwnFood> own_foods;
  std::vector<Circuit> circuits;
  std::vector<Socket> sockets;
  std::vector<Timer> timers;
  std::vector<Enclosure> enclosures;
  std::vector<Thermostat> thermostats;
  std::vector<Heater> heaters;
  std::vector<Lamp> lamps;
  std::vector<Appliance> appliances;
  std::vector<Instrument> instruments;
  std::vector<Tool> tools;
  std::vector<Jar> jars;
  std::vector<Supply> supplies;
  std::vector<SafetyDevice> safety_devices;
  std::vector<Animal> animals;
  std::vector<Override> overrides;
  std::vector<StandingTask> tasks;
  bool operator==(const Room&) const = default;

  /// Calls visit(records) for each kind of record, those that are referred to first.
  template <class Self, class Visit>
  static void for_each_kind(Self& room, Visit&& visit) {
    visit(room.keepers);
    visit(room.own_species);
    visit(room.own_foods);
    visit(room.circuits);
    visit(room.sockets);
    visit(room.timers);
    visit(room.enclosures);
    visit(room.thermostats);
    visit(room.heaters);
    visit(room.lamps);
    visit(room.appliances);
    visit(room.instruments);
    visit(room.tools);
    visit(room.jars);
    visit(room.supplies);
    visit(room.safety_devices);
    visit(room.animals);
    visit(room.overrides);
    visit(room.tasks);
  }
};

}  // namespace warmside::room

namespace warmside {

template <>
struct Words<room::Answer> {
  static constexpr std::array<std::string_view, 3> list{"unknown", "no", "yes"};
};
template <>
struct Words<room::KeeperRole> {
  static constexpr std::array<std::string_view, 4> list{"keeper", "helper", "sitter",
                                                        "veterinarian"};
};
template <>
struct Words<room::Sex> {
  static constexpr std::array<std::string_view, 3> list{"unknown", "female", "male"};
};
template <>
struct Words<room::HeaterKind> {
  static constexpr std::array<std::string_view, 7> list{
      "mat", "cable", "panel", "ceramic", "projector", "room heater", "water heater"};
};
template <>
struct Words<room::LampKind> {
  static constexpr std::array<std::string_view, 7> list{
      "T5 tube", "T8 tube", "compact", "mercury vapour", "metal halide", "halogen", "LED"};
};
template <>
struct Words<room::ThermostatKind> {
  static constexpr std::array<std::string_view, 3> list{"on/off", "pulse proportional", "dimming"};
};
template <>
struct Words<room::InstrumentKind> {
  static constexpr std::array<std::string_view, 6> list{"thermometer", "hygrometer", "both",
                                                        "temp gun",    "UV meter",   "scale"};
};
template <>
struct Words<room::ApplianceKind> {
  static constexpr std::array<std::string_view, 8> list{
      "pump", "fogger", "fan", "humidifier", "dehumidifier", "refrigerator", "freezer", "other"};
};
template <>
struct Words<room::ToolKind> {
  static constexpr std::array<std::string_view, 7> list{"tongs", "tub",  "scoop",       "bin",
                                                        "hook",  "bowl", "spray bottle"};
};
template <>
struct Words<room::SupplementKind> {
  static constexpr std::array<std::string_view, 5> list{
      "calcium", "calcium with D3", "multivitamin", "multivitamin with retinol", "other"};
};
template <>
struct Words<room::SupplyKind> {
  static constexpr std::array<std::string_view, 6> list{"feeder",    "frozen prey",  "plant food",
                                                        "substrate", "disinfectant", "consumable"};
};
template <>
struct Words<room::FoodKind> {
  static constexpr std::array<std::string_view, 3> list{"invertebrate", "vertebrate", "plant"};
};
template <>
struct Words<room::SafetyDeviceKind> {
  static constexpr std::array<std::string_view, 3> list{"smoke alarm", "heat alarm",
                                                        "extinguisher"};
};

}  // namespace warmside
