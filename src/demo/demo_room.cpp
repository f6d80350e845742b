#include "demo/demo_room.h"

#include <algorithm>
#include <cstdlib>
#include <random>
#include <span>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>

#include "core/check.h"
#include "core/uuid.h"
#include "room/look_up.h"

namespace warmside::demo {
namespace {

using namespace room;

// ---- The planted faults (docs/demo-room.md). "Ago" is in days before the last day. -------------

constexpr std::string_view kLosingGecko = "moss";  // 1: slow loss of weight
constexpr int kLossBegins_ago = 88;
constexpr std::string_view kDriftingHome = "rack-a-3";  // 2: thermostat-rack-a-3 drifts
constexpr int kDriftBegins_ago = 80;
constexpr std::string_view kOldTube = "lamp-uvb-skink";  // 3: a UVB tube past its life
constexpr int kOldTubeInstalled_ago = 640;
constexpr std::string_view kSharedTub = "tub-shared";  // 4: quarantine's animal in it,
constexpr int kTubInQuarantine_ago = 9;                //    the next day another
constexpr int kTubWithOther_ago = 8;                   //    (a day on which juniper is weighed)
constexpr int kTubDisinfected_ago = 5;
constexpr std::string_view kMatWithoutThermostat = "mat-quarantine-1";  // 5
constexpr std::string_view kHomeWithoutThermometer = "rack-b-3";        // 6
constexpr int kOldJarOpened_ago = 290;                                  // 7: jar-retinol

// ---- The story's other days --------------------------------------------------------------------

constexpr int kNewcomerArrived_ago = 35;
constexpr int kRowanArrived_ago = 400;
constexpr int kRowanCleared_ago = 305;
constexpr int kTopazLeft_ago = 285;
constexpr int kRowanMoved_ago = 270;

bool in_brumation(Date day) {
  return (day.month() == 11 && day.day() >= 20) || day.month() == 12 || day.month() <= 2;
}
/// Days since the latest day of this month and day.
int days_since(Date day, int month, int day_of_month) {
  for (int year = day.year();; --year) {
    const Date then = Date::of(year, month, day_of_month).value();
    if (then <= day) return day - then;
  }
}
bool empties_gut_for_brumation(Date day) {
  return days_since(day, 10, 23) < days_since(day, 11, 20) && !in_brumation(day);
}
bool python_fasts(Date day) {
  return days_since(day, 10, 20) < days_since(day, 3, 16);
}

// ---- Whole numbers to quantities ---------------------------------------------------------------

Temperature tenths_c(int tenths) {
  return Temperature::celsius(tenths / 10.0);
}
Percentage percent(int whole) {
  return Percentage::percent(whole);
}
Mass tenths_g(int tenths) {
  return Mass::grams(tenths / 10.0);
}
UvIndex hundredths_uvi(int hundredths) {
  return UvIndex::index(hundredths / 100.0);
}

/// What a value is at some days ago, between corner points given oldest first.
struct Corner {
  int ago;
  int value;
};
int between_corners(std::span<const Corner> corners, int ago) {
  if (ago >= corners.front().ago) return corners.front().value;
  for (std::size_t i = 1; i < corners.size(); ++i) {
    const Corner &a = corners[i - 1], &b = corners[i];
    if (ago >= b.ago) return b.value + (a.value - b.value) * (ago - b.ago) / (a.ago - b.ago);
  }
  return corners.back().value;
}

/// Chance in whole numbers from the seed.
class Chance {
 public:
  explicit Chance(std::uint64_t seed) : random_(seed) {}
  /// 0 to n - 1, evenly (to one part in 2^32 / n).
  int below(int n) {
    return static_cast<int>(((random_() >> 32) * static_cast<std::uint64_t>(n)) >> 32);
  }
  int from_to(int low, int high) { return low + below(high - low + 1); }
  bool percent(int share) { return below(100) < share; }
  /// Near `middle`, never further than `spread`, most often close.
  int around(int middle, int spread) {
    const int once = from_to(-spread, spread);
    return middle + (once + from_to(-spread, spread)) / 2;
  }
  Uuid uuid(Instant at) { return make_uuid_v7(at, random_); }

 private:
  std::mt19937_64 random_;
};

// ---- The room's records ------------------------------------------------------------------------

template <class Id>
Id id(std::string_view text) {
  WS_CHECK(text.empty() || is_id_text(text));
  return Id::trusted(std::string(text));
}
template <class Quantity>
Quantity q(std::string_view text) {
  return parse<Quantity>(text).value();
}
template <class Record>
Record& add(std::vector<Record>& records, std::string_view name) {
  Record& record = records.emplace_back();
  record.id = id<decltype(Record::id)>(name);
  return record;
}

/// Builds the records as they are on the last day.
class RoomMaker {
 public:
  explicit RoomMaker(Date last_day) : last_day_(last_day) {}

  Room make() {
    make_info();
    make_electricity();
    make_enclosures();
    make_heat();
    make_light();
    make_instruments_and_tools();
    make_stores();
    make_animals();
    make_tasks();
    make_mains();
    sort_records(room_);
    return std::move(room_);
  }

 private:
  Date day(int ago) const { return last_day_ - ago; }

  void make_info() {
    room_.info.name = "The attic";
    room_.info.place = "Bergen, Norway";
    room_.info.latitude_deg = 60.39;
    room_.info.longitude_deg = 5.32;
    room_.info.zone = "Europe/Oslo";
    room_.info.units = UnitSystem::metric;
    room_.info.vulnerable_person = Answer::no;
    room_.info.electricity_price = 1.2;
    add(room_.keepers, "keeper").role = KeeperRole::keeper;
    add(room_.keepers, "sitter").role = KeeperRole::sitter;
  }

  void make_electricity() {
    const auto circuit = [&](const char* name, const char* board, const char* capacity,
                             Answer device) {
      Circuit& c = add(room_.circuits, name);
      c.name = board;
      c.capacity = q<Power>(capacity);
      c.residual_current_device = device;
    };
    circuit("circuit-1", "attic west, 10 A", "2300W", Answer::yes);
    circuit("circuit-2", "attic east, 16 A", "3680W", Answer::unknown);
    const auto socket = [&](const char* name, const char* on, const char* place) {
      Socket& s = add(room_.sockets, name);
      s.circuit = id<CircuitId>(on);
      s.place = place;
    };
    socket("socket-rack-a", "circuit-1", "west wall, behind rack A");
    socket("socket-rack-b", "circuit-1", "west wall, behind rack B");
    socket("socket-skink", "circuit-2", "east wall, left of the window");
    socket("socket-tortoise", "circuit-2", "east wall, under the window");
    socket("socket-heater", "circuit-2", "beside the stairs");
    socket("socket-quarantine", "circuit-2", "far corner, under the slope");
  }

  struct Size {
    const char *length, *width, *height;
  };
  struct Faces {
    const char *front, *back, *sides, *top, *bottom;
  };

  Enclosure& enclosure(const char* name, const char* called, const char* place, Size size,
                       Faces faces) {
    Enclosure& e = add(room_.enclosures, name);
    e.name = called;
    e.place = place;
    e.length = q<Length>(size.length);
    e.width = q<Length>(size.width);
    e.height = q<Length>(size.height);
    e.front = parse_construction(faces.front).value();
    e.back = parse_construction(faces.back).value();
    e.left = e.right = parse_construction(faces.sides).value();
    e.top = parse_construction(faces.top).value();
    e.bottom = parse_construction(faces.bottom).value();
    return e;
  }
  static void floor(Enclosure& e, const char* substrate, const char* depth,
                    const char* furnishings) {
    e.substrate = substrate;
    e.substrate_depth = q<Length>(depth);
    e.furnishings = furnishings;
  }
  static void air(Enclosure& e, const char* low, const char* high, const char* gap) {
    e.vents_low = q<Area>(low);
    e.vents_high = q<Area>(high);
    e.door_gap = q<Length>(gap);
  }
  static void in_rack(Enclosure& e, const char* rack, int shelf, int position) {
    e.rack = rack;
    e.shelf = shelf;
    e.position = position;
  }

  void make_enclosures() {
    const Faces pvc{"glass 4mm", "pvc 10mm", "pvc 10mm", "pvc 10mm", "pvc 10mm"};
    const Faces glass{"glass 4mm", "cork 20mm + glass 5mm", "glass 5mm", "mesh 1mm", "glass 6mm"};
    const Faces wood{"glass 4mm", "plywood 12mm", "plywood 12mm", "plywood 12mm", "plywood 12mm"};
    const Size snake{"120cm", "60cm", "60cm"};
    const char *rack_a = "rack-a", *rack_b = "rack-b", *west = "west wall", *east = "east wall";

    Enclosure* e = &enclosure("rack-a-1", "Rack A bottom", west, snake, pvc);
    in_rack(*e, rack_a, 1, 1);
    air(*e, "60cm2", "60cm2", "2mm");
    floor(*e, "aspen chips", "6cm", "cork half-round, warm hide, cool hide, climbing branch");
    e = &enclosure("rack-a-2", "Rack A middle", west, snake, pvc);
    in_rack(*e, rack_a, 2, 1);
    air(*e, "60cm2", "60cm2", "2mm");
    floor(*e, "aspen chips", "5cm", "two small hides, cork pieces, leaf litter");
    e = &enclosure("rack-a-3", "Rack A top", west, snake, pvc);
    in_rack(*e, rack_a, 3, 1);
    air(*e, "40cm2", "40cm2", "2mm");
    floor(*e, "cypress mulch", "6cm", "two tight hides, one with damp moss");
    e = &enclosure("rack-b-1", "Gecko glass", west, {"90cm", "45cm", "90cm"}, glass);
    in_rack(*e, rack_b, 1, 1);
    air(*e, "120cm2", "0cm2", "3mm");
    e->lid_covered = percent(40);
    floor(*e, "coir and leaf litter", "6cm", "cork tubes, bamboo, pothos, three feeding ledges");
    e = &enclosure("rack-b-2", "Tree frog glass", west, {"90cm", "45cm", "90cm"}, glass);
    in_rack(*e, rack_b, 1, 2);
    air(*e, "120cm2", "0cm2", "3mm");
    e->lid_covered = percent(50);
    e->mesh_open = percent(64);
    floor(*e, "coir", "5cm", "broad-leaved plants, cork bark, wide water bowl");
    e = &enclosure("rack-b-3", "Dart frog glass", west, {"90cm", "60cm", "60cm"}, glass);
    in_rack(*e, rack_b, 2, 1);
    air(*e, "60cm2", "0cm2", "2mm");
    e->lid_covered = percent(90);
    e->mesh_open = percent(64);
    floor(*e, "tree fern, bark and leaf litter", "8cm", "bromeliads, coconut huts, film cans");
    e = &enclosure("skink-table", "Skink table", east, {"150cm", "60cm", "50cm"}, wood);
    air(*e, "200cm2", "200cm2", "3mm");
    floor(*e, "bark chips", "8cm", "flat basking slate, cork hide, digging corner");
    e = &enclosure("tortoise-table", "Tortoise table", east, {"200cm", "100cm", "40cm"},
                   {"plywood 18mm", "plywood 18mm", "plywood 18mm", "mesh 1mm", "plywood 18mm"});
    e->lid_covered = percent(0);
    floor(*e, "loam and sand", "12cm", "slate under the lamp, half-buried hide, tile to eat from");
    e = &enclosure("cold-box", "Cold box", "store under the stairs", {"50cm", "45cm", "40cm"},
                   {"steel 1mm", "steel 1mm", "steel 1mm", "steel 1mm", "steel 1mm"});
    floor(*e, "loam and leaves", "15cm",
          "wooden crate inside a small refrigerator, set to 5 C; only used for brumation");
    e->water_dish = false;
    e = &enclosure("quarantine-1", "Quarantine", "far corner, under the slope", snake, pvc);
    air(*e, "60cm2", "60cm2", "2mm");
    floor(*e, "paper", "2mm", "two cardboard hides, water bowl");
  }

  void thermostat(const char* name, ThermostatKind kind, const char* in, const char* probe,
                  const char* day_c, const char* night_c, const char* socket) {
    Thermostat& t = add(room_.thermostats, name);
    t.kind = kind;
    t.enclosure = id<EnclosureId>(in);
    t.probe_place = probe;
    t.day = q<Temperature>(day_c);
    t.night = q<Temperature>(night_c);
    if (kind == ThermostatKind::on_off) t.hysteresis = TemperatureDelta::kelvin(1);
    t.socket = id<SocketId>(socket);
  }
  Heater& heater(std::string_view name, HeaterKind kind, const char* in, const char* place,
                 const char* power, const char* by) {
    Heater& h = add(room_.heaters, name);
    h.kind = kind;
    h.enclosure = id<EnclosureId>(in);
    h.place = place;
    h.power = q<Power>(power);
    h.thermostat = id<ThermostatId>(by);
    return h;
  }
  static void sides(Heater& h, const char* length, const char* width) {
    h.length = q<Length>(length);
    h.width = q<Length>(width);
  }

  void make_heat() {
    using enum ThermostatKind;
    const char* warm = "warm side";
    thermostat("thermostat-rack-a-1", pulse_proportional, "rack-a-1", warm, "27C", "22C",
               "socket-rack-a");
    thermostat("thermostat-rack-a-2", pulse_proportional, "rack-a-2", warm, "27C", "22C",
               "socket-rack-a");
    thermostat("thermostat-rack-a-3", pulse_proportional, "rack-a-3", warm, "30C", "25C",
               "socket-rack-a");
    thermostat("thermostat-rack-b-1", pulse_proportional, "rack-b-1", warm, "25.5C", "20C",
               "socket-rack-b");
    thermostat("thermostat-rack-b-2", pulse_proportional, "rack-b-2", warm, "26C", "20C",
               "socket-rack-b");
    thermostat("thermostat-skink", dimming, "skink-table", warm, "30C", "20C", "socket-skink");
    thermostat("thermostat-tortoise", dimming, "tortoise-table", warm, "29C", "16C",
               "socket-tortoise");
    thermostat("thermostat-room", on_off, "", "middle of the room, 1.5 m up", "23C", "20C",
               "socket-heater");

    sides(heater("panel-rack-a-1", HeaterKind::panel, "rack-a-1", "ceiling, left half", "80W",
                 "thermostat-rack-a-1"),
          "60cm", "30cm");
    sides(heater("panel-rack-a-2", HeaterKind::panel, "rack-a-2", "ceiling, left half", "80W",
                 "thermostat-rack-a-2"),
          "60cm", "30cm");
    sides(heater("panel-rack-a-3", HeaterKind::panel, "rack-a-3", "ceiling, left half", "120W",
                 "thermostat-rack-a-3"),
          "60cm", "40cm");
    heater("projector-rack-b-1", HeaterKind::projector, "rack-b-1", "on the lid, left", "100W",
           "thermostat-rack-b-1");
    heater("projector-rack-b-2", HeaterKind::projector, "rack-b-2", "on the lid, left", "100W",
           "thermostat-rack-b-2");
    Heater& mat = heater(kMatWithoutThermostat, HeaterKind::mat, "quarantine-1",
                         "under the floor, left half", "40W", "");
    sides(mat, "58cm", "40cm");
    mat.socket = id<SocketId>("socket-quarantine");
    heater("heater-room", HeaterKind::room_heater, "", "beside the stairs", "1500W",
           "thermostat-room");
  }

  /// Lights on at 07:30 for a day between the profile's winter and summer lengths.
  void timer(const char* name, const char* socket, int winter_h, int summer_h) {
    Timer& t = add(room_.timers, name);
    const int from_solstice =
        std::min(days_since(last_day_, 12, 21), std::abs(365 - days_since(last_day_, 12, 21)));
    const int minutes = winter_h * 60 + (summer_h - winter_h) * 60 * from_solstice / 183;
    t.on = TimeOfDay{450};
    t.off = TimeOfDay{450 + minutes / 15 * 15};
    t.socket = id<SocketId>(socket);
  }
  Lamp& lamp(std::string_view name, LampKind kind, const char* in, const char* place,
             const char* power, const char* timed_by, int installed_ago) {
    Lamp& l = add(room_.lamps, name);
    l.kind = kind;
    l.enclosure = id<EnclosureId>(in);
    l.place = place;
    l.power = q<Power>(power);
    l.timer = id<TimerId>(timed_by);
    l.installed = day(installed_ago);
    return l;
  }
  static void for_uvb(Lamp& l, const char* distance, const char* shines_along, const char* sheet) {
    l.uvb = true;
    l.distance = q<Length>(distance);
    l.length = q<Length>(shines_along);
    l.reflector = Answer::yes;
    l.uv_table = UvTable::parse(sheet).value();
  }

  void make_light() {
    timer("timer-rack-b-1", "socket-rack-b", 11, 13);
    timer("timer-rack-b-2", "socket-rack-b", 11, 12);
    timer("timer-rack-b-3", "socket-rack-b", 12, 12);
    timer("timer-skink", "socket-skink", 11, 13);
    timer("timer-tortoise", "socket-tortoise", 9, 14);

    lamp("led-rack-b-1", LampKind::led, "rack-b-1", "above the lid", "24W", "timer-rack-b-1", 700);
    lamp("led-rack-b-2", LampKind::led, "rack-b-2", "above the lid", "24W", "timer-rack-b-2", 700);
    lamp("led-rack-b-3", LampKind::led, "rack-b-3", "above the lid", "36W", "timer-rack-b-3", 510);
    for_uvb(lamp("lamp-uvb-rack-b-2", LampKind::tube_t5, "rack-b-2", "above the lid, back", "24W",
                 "timer-rack-b-2", 160),
            "35cm", "55cm", "30cm 4.8UVI + 45cm 2.6UVI");
    for_uvb(lamp("lamp-uvb-rack-b-3", LampKind::tube_t5, "rack-b-3", "above the lid, back", "24W",
                 "timer-rack-b-3", 230),
            "40cm", "55cm", "30cm 2.9UVI + 45cm 1.6UVI");
    for_uvb(lamp(kOldTube, LampKind::tube_t5, "skink-table", "inside, ceiling, back", "39W",
                 "timer-skink", kOldTubeInstalled_ago),
            "32cm", "85cm", "30cm 5.1UVI + 45cm 3UVI");
    for_uvb(lamp("lamp-uvb-tortoise", LampKind::tube_t5, "tortoise-table", "hung from the slope",
                 "54W", "timer-tortoise", 200),
            "35cm", "115cm", "30cm 6.4UVI + 45cm 4UVI");
    Lamp& skink = lamp("halogen-skink", LampKind::halogen, "skink-table", "over the slate, left",
                       "75W", "timer-skink", 118);
    skink.thermostat = id<ThermostatId>("thermostat-skink");
    skink.distance = q<Length>("30cm");
    Lamp& tortoise = lamp("halogen-tortoise", LampKind::halogen, "tortoise-table",
                          "over the slate, left", "100W", "timer-tortoise", 200);
    tortoise.thermostat = id<ThermostatId>("thermostat-tortoise");
    tortoise.distance = q<Length>("35cm");
  }

  void make_instruments_and_tools() {
    for (const Enclosure& e : room_.enclosures) {
      const std::string home = e.id.text();
      Instrument& i = add(room_.instruments, "meter-" + home);
      i.kind = home == kHomeWithoutThermometer ? InstrumentKind::hygrometer
               : home == "cold-box"            ? InstrumentKind::thermometer
                                               : InstrumentKind::both;
      i.enclosure = e.id;
      i.place = home == "cold-box" ? "in the crate" : "warm side";
    }
    const auto carried = [&](const char* name, InstrumentKind kind, const char* place) {
      Instrument& i = add(room_.instruments, name);
      i.kind = kind;
      i.place = place;
      return &i;
    };
    carried("temp-gun", InstrumentKind::temp_gun, "hook by the door");
    carried("uv-meter", InstrumentKind::uv_meter, "drawer");
    carried("scale", InstrumentKind::scale, "bench")->resolution = Mass::grams(1);
    carried("scale-fine", InstrumentKind::scale, "bench")->resolution = Mass::grams(0.1);

    const auto tool = [&](const std::string& name, ToolKind kind, const std::string& home,
                          const std::string& mark) {
      Tool& t = add(room_.tools, name);
      t.kind = kind;
      t.enclosure = id<EnclosureId>(home);
      t.mark = mark;
    };
    for (const Enclosure& e : room_.enclosures) {
      const std::string home = e.id.text();
      if (home == "cold-box") continue;
      tool("scoop-" + home, ToolKind::scoop, home, "tape with the name of the enclosure");
      if (home != "tortoise-table" && home != "rack-b-3") {
        tool("tongs-" + home, ToolKind::tongs, home, "tape with the name of the enclosure");
      }
    }
    tool("tub-rack-b-1", ToolKind::tub, "rack-b-1", "green lid");
    tool("tub-rack-b-2", ToolKind::tub, "rack-b-2", "white lid");
    tool("tub-rack-b-3", ToolKind::tub, "rack-b-3", "small, blue lid");
    tool("tub-quarantine", ToolKind::tub, "quarantine-1", "red lid");
    tool("spray-rack-b-1", ToolKind::spray_bottle, "rack-b-1", "green ring");
    tool("spray-rack-b-2", ToolKind::spray_bottle, "rack-b-2", "white ring");
    tool("spray-rack-b-3", ToolKind::spray_bottle, "rack-b-3", "blue ring");
    tool("hook-quarantine", ToolKind::hook, "quarantine-1", "red tape");
    tool(std::string(kSharedTub), ToolKind::tub, "", "grey, for weighing and for snakes' cleaning");
  }

  /// What a jar's label says. Invented, within what such powders commonly hold.
  struct Label {
    int calcium_pct, vitamin_d3_iu_per_g, retinol_iu_per_g, carotenoid_iu_per_g, vitamin_e_iu_per_g;
  };

  void make_stores() {
    using enum SupplementKind;
    const auto jar = [&](const char* name, SupplementKind contents, const char* label,
                         int opened_ago, Label label_says) {
      Jar& j = add(room_.jars, name);
      j.contents = contents;
      j.label = label;
      j.opened = day(opened_ago);
      j.expires = day(-300);
      j.calcium = percent(label_says.calcium_pct);
      j.vitamin_d3_iu_per_g = label_says.vitamin_d3_iu_per_g;
      j.retinol_iu_per_g = label_says.retinol_iu_per_g;
      j.carotenoid_iu_per_g = label_says.carotenoid_iu_per_g;
      j.vitamin_e_iu_per_g = label_says.vitamin_e_iu_per_g;
    };
    jar("jar-calcium", calcium, "white lid: plain calcium", 40, {39, 0, 0, 0, 0});
    jar("jar-calcium-d3", calcium_d3, "yellow lid: calcium with D3", 75, {36, 40, 0, 0, 0});
    jar("jar-multivitamin", multivitamin, "green lid: vitamins", 120, {12, 15, 0, 120, 3});
    jar("jar-retinol", multivitamin_retinol, "orange lid: vitamins with A", kOldJarOpened_ago,
        {10, 15, 150, 0, 3});

    // Invented: no such powder exists.
    OwnFood& powder = add(room_.own_foods, "gecko-slurry");
    powder.name = "gecko slurry powder";
    powder.kind = FoodKind::plant;
    powder.water = percent(8);
    powder.energy_kcal_per_100g = 330;
    powder.calcium_mg_per_kg = 12'000;
    powder.phosphorus_mg_per_kg = 6'500;
    powder.retinol_iu_per_kg = 9'000;
    powder.carotenoid_iu_per_kg = 6'000;
    powder.vitamin_d3_iu_per_kg = 1'400;
    powder.vitamin_e_iu_per_kg = 250;
    powder.oxalic_acid_g_per_100g = 0;
    powder.source = "the packet";

    const auto supply = [&](const char* name, SupplyKind kind, const char* called,
                            const char* place) -> Supply& {
      Supply& s = add(room_.supplies, name);
      s.kind = kind;
      s.name = called;
      s.place = place;
      return s;
    };
    const char *freezer = "freezer under the stairs", *shelf = "feeder shelf", *store = "store";
    const auto frozen = [&](const char* name, const char* called, int count, const char* food,
                            int piece_g) {
      Supply& s = supply(name, SupplyKind::frozen_prey, called, freezer);
      s.count = count;
      s.food = id<FoodId>(food);
      s.piece_mass = Mass::grams(piece_g);
      s.expires = day(-120);  // bought about two months ago; good for six
    };
    frozen("frozen-adult-mouse", "adult mouse", 48, "mouse_adult", 22);
    frozen("frozen-fuzzy-mouse", "fuzzy mouse", 10, "mouse_fuzzy", 5);
    frozen("frozen-weanling-rat", "weanling rat", 16, "rat_weanling", 45);
    const auto feeder = [&](const char* name, const char* called, int count, const char* food) {
      Supply& s = supply(name, SupplyKind::feeder, called, shelf);
      s.count = count;
      s.food = id<FoodId>(food);
    };
    feeder("feeder-cricket", "banded cricket", 600, "cricket_banded");
    feeder("feeder-roach", "dubia roach", 250, "roach_dubia");
    feeder("feeder-fruit-fly", "fruit fly (large)", 6000, "fruitfly_hydei");
    Supply& slurry = supply("feeder-slurry", SupplyKind::plant_food, "gecko slurry powder", shelf);
    slurry.mass = Mass::grams(450);
    slurry.food = powder.id;
    slurry.expires = day(-260);
    Supply& greens =
        supply("greens-dandelion", SupplyKind::plant_food, "dandelion greens", freezer);
    greens.mass = Mass::kilograms(2.5);
    greens.food = id<FoodId>("dandelion");
    greens.expires = day(-150);
    Supply& oxidiser = supply("disinfectant-peroxymonosulfate", SupplyKind::disinfectant,
                              "potassium peroxymonosulfate powder", store);
    oxidiser.mass = Mass::grams(400);
    oxidiser.expires = day(-400);
    Supply& alcohol =
        supply("disinfectant-ethanol", SupplyKind::disinfectant, "ethanol 70 %", store);
    alcohol.volume = Volume::litres(1.5);
    alcohol.expires = day(-500);
    supply("substrate-aspen", SupplyKind::substrate, "aspen chips", store).volume =
        Volume::litres(120);
    supply("substrate-coir", SupplyKind::substrate, "coir", store).volume = Volume::litres(60);
    supply("gloves", SupplyKind::consumable, "nitrile gloves", store).count = 180;
    supply("paper-towel", SupplyKind::consumable, "paper towel", store).count = 14;

    const auto device = [&](const char* name, SafetyDeviceKind kind, const char* place) {
      SafetyDevice& d = add(room_.safety_devices, name);
      d.kind = kind;
      d.place = place;
      if (kind == SafetyDeviceKind::smoke_alarm) d.battery = day(190);
    };
    device("smoke-alarm-attic", SafetyDeviceKind::smoke_alarm, "ceiling, between the racks");
    device("smoke-alarm-stairs", SafetyDeviceKind::smoke_alarm, "landing below the attic");
    device("extinguisher", SafetyDeviceKind::extinguisher, "beside the door");
  }

  Animal& animal(std::string_view name, const char* called, const char* species, Sex sex,
                 int born_ago, int arrived_ago, const char* home, const char* marks) {
    Animal& a = add(room_.animals, name);
    a.name = called;
    a.species = id<species::SpeciesId>(species);
    a.sex = sex;
    if (born_ago > 0) a.born = day(born_ago);
    a.arrived = day(arrived_ago);
    a.enclosure = id<EnclosureId>(home);
    a.marks = marks;
    return a;
  }

  void make_animals() {
    using enum Sex;
    animal("juniper", "Juniper", "corn_snake", female, 2700, 2500, "rack-a-1",
           "orange with dark-edged red saddles; nick in the third belly scale");
    animal("rowan", "Rowan", "corn_snake", male, 490, kRowanArrived_ago, "quarantine-1",
           "grey, no red at all; thin");
    animal("garnet", "Garnet", "corn_snake", unknown, 780, kNewcomerArrived_ago, "quarantine-1",
           "deep red, broken stripe on the tail");
    animal("topaz", "Topaz", "milksnake", female, 1900, 1500, "rack-a-2", "wide red bands").left =
        day(kTopazLeft_ago);
    animal("basalt", "Basalt", "royal_python", male, 2900, 1800, "rack-a-3",
           "dark, a pale comma on the neck");
    animal(kLosingGecko, "Moss", "crested_gecko", female, 1500, 1350, "rack-b-1",
           "olive, full tail");
    animal("fern", "Fern", "crested_gecko", female, 1500, 1350, "rack-b-1",
           "cream back, full tail");
    animal("clover", "Clover", "crested_gecko", female, 1300, 1200, "rack-b-1", "brown, no tail");
    animal("agate", "Agate", "whites_tree_frog", female, 1900, 1700, "rack-b-2",
           "blue-green, two white dots behind the left eye");
    animal("flint", "Flint", "whites_tree_frog", male, 1900, 1700, "rack-b-2",
           "brownish, calls; short first finger on the right");
    animal("slate", "Slate", "whites_tree_frog", unknown, 1200, 1100, "rack-b-2",
           "plain green, smallest");
    animal("azurite", "Azurite", "dyeing_dart_frog", unknown, 900, 800, "rack-b-3",
           "a group of four, not told apart")
        .count = 4;
    animal("ochre", "Ochre", "blue_tongued_skink", male, 2200, 2000, "skink-table",
           "broad dark mask");
    animal("thistle", "Thistle", "hermanns_tortoise", female, 0, 2900,
           in_brumation(day(kDemoDays)) ? "cold-box" : "tortoise-table",
           "old chip on the rear edge of the shell; adult when it came");

    Override& skink = add(room_.overrides, "override-ochre-feeding");
    skink.animal = id<AnimalId>("ochre");
    skink.key = "feed_interval_adult";
    skink.value = "5d";
    skink.reason = "grew heavy when fed every four days";
    Override& frogs = add(room_.overrides, "override-tree-frog-feeding");
    frogs.species = id<species::SpeciesId>("whites_tree_frog");
    frogs.key = "feed_interval_adult";
    frogs.value = "5d";
    frogs.reason = "all three were fat two years ago; five days keeps them steady";
  }

  void make_tasks();

  /// What hangs between the wall and the devices, what is printed on it, and what is near.
  void make_mains() {
    room_.info.country = "NO";
    for (Socket& socket : room_.sockets) socket.drip_loops = Answer::yes;
    for (const char* rack : {"rack-a", "rack-b"}) {
      const std::string wall = "socket-" + std::string(rack), name = "strip-" + std::string(rack);
      Socket& strip = add(room_.sockets, name);
      strip.plugged_into = id<SocketId>(wall);
      strip.place = "screwed to the wall behind the rack";
      strip.capacity = q<Power>("3500W");
      strip.drip_loops = Answer::yes;
      const auto move = [&](auto& records) {
        for (auto& record : records) {
          if (record.socket.text() == wall) record.socket = strip.id;
        }
      };
      move(room_.thermostats);
      move(room_.timers);
    }
    for (Timer& timer : room_.timers) timer.capacity = q<Power>("1800W");
    for (Thermostat& thermostat : room_.thermostats) {
      thermostat.capacity = q<Power>(thermostat.enclosure.empty() ? "3500W" : "300W");
    }
    const auto near = [](auto& hot, const char* what, const char* how_far) {
      hot.nearest = what;
      hot.clearance = q<Length>(how_far);
    };
    for (Heater& heater : room_.heaters) {
      if (heater.kind == HeaterKind::projector) {
        near(heater, "leaves below the lid", "35cm");
        heater.within_reach = Answer::no;
      } else if (heater.kind == HeaterKind::room_heater) {
        near(heater, "a shelf of books", "120cm");
      } else if (heater.kind == HeaterKind::mat) {
        heater.behind = "ceramic tile";
        heater.air_gap = q<Length>("1cm");
      }
    }
    for (Lamp& lamp : room_.lamps) {
      if (lamp.kind != LampKind::halogen) continue;
      near(lamp, "the plywood wall", "30cm");
      lamp.within_reach = Answer::no;
    }
    for (SafetyDevice& device : room_.safety_devices) {
      if (device.kind == SafetyDeviceKind::extinguisher) device.by_the_door = Answer::yes;
    }
    const auto appliance = [&](const char* name, ApplianceKind kind, const char* called,
                               const char* power, int running) {
      Appliance& a = add(room_.appliances, name);
      a.kind = kind;
      a.name = called;
      a.power = q<Power>(power);
      a.running = percent(running);
      a.socket = id<SocketId>("socket-heater");
      return &a;
    };
    appliance("refrigerator", ApplianceKind::refrigerator, "refrigerator of the cold box", "80W",
              30)
        ->enclosure = id<EnclosureId>("cold-box");
    appliance("dehumidifier", ApplianceKind::dehumidifier, "dehumidifier, at night", "250W", 35);
  }

  Room room_;
  Date last_day_;
};

// ---- What is done how often --------------------------------------------------------------------

/// Falls on every `every`-th day, the latest `phase` days ago; phase 1 to every, so that it is
/// next due on the last day or after it.
struct Rhythm {
  int every = 0;  // 0: never
  int phase = 0;
  constexpr bool on(int ago) const { return every > 0 && (ago - phase) % every == 0; }
};

struct StandingWork {
  const char *name, *title, *detail;
  Rhythm rhythm;
};
constexpr StandingWork kStandingWork[] = {
    {"task-heater-dust",
     "Dust the room heater and its filter",
     "Switched off and cold; look at the plug and lead for brown spots.",
     {30, 17}},
    {"task-dehumidifier", "Drain the dehumidifier", "Empty and rinse the tank.", {3, 3}},
    {"task-order-feeders", "Order feeders", "Count crickets and roaches first.", {14, 6}},
    {"task-leads",
     "Look over plugs and leads",
     "No damp, no lead under a leg, drip loops hang.",
     {90, 44}},
};

/// A reading lies around the middle, never further off than the spread. Tenths of a degC, or %.
struct Level {
  int middle = 0;
  int spread = 0;
};
struct Home {
  std::string_view name;
  Rhythm spot, full, mist, readings;
  Level warm, cool, basking, humidity;
};
// Every level lies inside the ranges of the animals that live there (data/species_facts.csv).
// In the order of service, quarantine last.
constexpr Home kHomes[] = {
    {"rack-b-3", {1, 1}, {90, 41}, {1, 1}, {3, 2}, {}, {}, {}, {88, 5}},
    {"rack-b-2", {1, 1}, {90, 72}, {2, 1}, {3, 1}, {260, 10}, {216, 8}, {288, 8}, {60, 6}},
    {"rack-b-1", {1, 1}, {30, 19}, {1, 1}, {3, 3}, {255, 8}, {216, 8}, {}, {70, 6}},
    {"rack-a-1", {3, 1}, {30, 30}, {}, {3, 1}, {282, 8}, {222, 8}, {318, 10}, {50, 5}},
    {"rack-a-2", {3, 2}, {30, 11}, {}, {3, 2}, {277, 7}, {222, 8}, {310, 8}, {50, 5}},
    {"rack-a-3", {3, 3}, {30, 23}, {}, {2, 1}, {302, 6}, {255, 8}, {}, {64, 5}},
    {"skink-table", {1, 1}, {30, 14}, {}, {3, 1}, {300, 9}, {240, 9}, {393, 12}, {43, 4}},
    {"tortoise-table", {1, 1}, {30, 26}, {}, {3, 2}, {292, 12}, {203, 8}, {355, 12}, {57, 6}},
    {"cold-box", {1, 1}, {}, {}, {1, 1}, {46, 6}, {}, {}, {}},
    {"quarantine-1", {1, 1}, {7, 4}, {}, {2, 1}, {280, 8}, {221, 8}, {}, {48, 5}},
};

struct Course {
  const char* food;
  int count;          // 0: by mass
  int mass_tenths_g;  // 0: by count
  const char* jar;    // empty: not dusted
};
constexpr Course kAdultMice[] = {{"adult mouse", 2, 0, ""}};
constexpr Course kAdultMouse[] = {{"adult mouse", 1, 0, ""}};
constexpr Course kFuzzyMice[] = {{"fuzzy mouse", 2, 0, ""}};
constexpr Course kPinkyMouse[] = {{"pinky mouse", 1, 0, ""}};
constexpr Course kRats[] = {{"weanling rat", 2, 0, ""}};
constexpr Course kGeckoMenu[] = {{"gecko slurry powder", 0, 13, ""},
                                 {"gecko slurry powder", 0, 13, ""},
                                 {"banded cricket", 3, 0, "jar-calcium-d3"}};
constexpr Course kTreeFrogMenu[] = {{"banded cricket", 5, 0, "jar-calcium"},
                                    {"dubia roach", 2, 0, "jar-calcium-d3"},
                                    {"banded cricket", 5, 0, "jar-calcium"},
                                    {"banded cricket", 5, 0, "jar-retinol"}};
constexpr Course kDartFrogMenu[] = {{"fruit fly (large)", 40, 0, "jar-calcium-d3"},
                                    {"fruit fly (large)", 40, 0, "jar-calcium"},
                                    {"fruit fly (large)", 40, 0, ""},
                                    {"fruit fly (large)", 40, 0, "jar-calcium-d3"},
                                    {"fruit fly (large)", 40, 0, "jar-calcium"},
                                    {"fruit fly (large)", 40, 0, ""},
                                    {"fruit fly (large)", 40, 0, "jar-retinol"}};
constexpr Course kSkinkMenu[] = {{"dandelion greens", 0, 180, "jar-calcium"},
                                 {"dubia roach", 8, 0, "jar-calcium-d3"},
                                 {"dandelion greens", 0, 180, "jar-multivitamin"}};
constexpr Course kTortoiseMenu[] = {{"dandelion greens", 0, 400, "jar-calcium"},
                                    {"chicory greens", 0, 400, ""},
                                    {"dandelion greens", 0, 400, ""}};

// Masses in tenths of a gram, oldest first.
constexpr Corner kJuniperMass[] = {{549, 5050}, {300, 5200}, {191, 5650},
                                   {189, 4850}, {100, 5200}, {0, 5330}};
constexpr Corner kRowanMass[] = {{400, 240}, {300, 620}, {130, 1360}, {0, 1900}};
constexpr Corner kGarnetMass[] = {{35, 2050}, {0, 2190}};
constexpr Corner kTopazMass[] = {{549, 4100}, {285, 4150}};
constexpr Corner kBasaltMass[] = {
    {549, 16100}, {400, 16600}, {255, 16250}, {37, 16800}, {0, 16700}};
constexpr Corner kMossMass[] = {{549, 448}, {150, 466}, {kLossBegins_ago, 470}, {0, 406}};
constexpr Corner kFernMass[] = {{549, 431}, {0, 446}};
constexpr Corner kCloverMass[] = {{549, 386}, {0, 402}};
constexpr Corner kAgateMass[] = {{549, 742}, {0, 715}};
constexpr Corner kFlintMass[] = {{549, 590}, {0, 583}};
constexpr Corner kSlateMass[] = {{549, 478}, {0, 521}};
constexpr Corner kAzuriteMass[] = {{549, 48}, {300, 51}, {0, 51}};
constexpr Corner kOchreMass[] = {{549, 5350}, {300, 5120}, {0, 5060}};
constexpr Corner kThistleMass[] = {{549, 14500}, {0, 15000}};

/// One animal (or group) and its rhythm of care. In the order of service.
struct Ward {
  std::string_view name;
  bool by_day;  // fed in the morning
  Rhythm feeding;
  std::span<const Course> menu;
  int refusals_percent;
  Rhythm weighing;
  std::span<const Corner> mass;
  int noise_permille;  // of one weighing, at most
  Rhythm shedding;
  int in_shed_d;  // from dull skin to shed
  int droppings_percent;
};
constexpr Ward kWards[] = {
    {"azurite", true, {1, 1}, kDartFrogMenu, 0, {30, 13}, kAzuriteMass, 6, {}, 0, 0},
    {"agate", false, {5, 3}, kTreeFrogMenu, 3, {30, 16}, kAgateMass, 15, {}, 0, 7},
    {"flint", false, {5, 3}, kTreeFrogMenu, 3, {30, 16}, kFlintMass, 15, {}, 0, 7},
    {"slate", false, {5, 3}, kTreeFrogMenu, 3, {30, 16}, kSlateMass, 15, {}, 0, 7},
    {kLosingGecko, false, {2, 2}, kGeckoMenu, 5, {30, 4}, kMossMass, 5, {33, 21}, 0, 7},
    {"fern", false, {2, 2}, kGeckoMenu, 4, {30, 24}, kFernMass, 10, {31, 12}, 0, 7},
    {"clover", false, {2, 2}, kGeckoMenu, 4, {30, 24}, kCloverMass, 10, {35, 28}, 0, 7},
    {"juniper", false, {10, 10}, kAdultMice, 4, {30, 8}, kJuniperMass, 8, {55, 26}, 8, 5},
    {"topaz", false, {10, 6}, kAdultMouse, 4, {30, 25}, kTopazMass, 8, {58, 33}, 8, 5},
    {"rowan", false, {6, 6}, kAdultMouse, 4, {14, 12}, kRowanMass, 8, {38, -4}, 8, 6},
    {"basalt", false, {14, 14}, kRats, 6, {30, 30}, kBasaltMass, 5, {60, 47}, 9, 3},
    {"ochre", true, {5, 5}, kSkinkMenu, 3, {30, 21}, kOchreMass, 10, {72, 38}, 5, 15},
    {"thistle", true, {1, 1}, kTortoiseMenu, 1, {30, 18}, kThistleMass, 5, {}, 0, 20},
    {"garnet", false, {6, 3}, kAdultMouse, 3, {7, 2}, kGarnetMass, 6, {90, 18}, 8, 10},
};

/// A UVB tube: hundredths of UV index at the basking place, oldest first.
constexpr Corner kOldTubeUvi[] = {{546, 440}, {0, 284}};
constexpr Corner kTortoiseUvi[] = {{549, 520}, {201, 410}, {200, 540}, {0, 465}};
constexpr Corner kTreeFrogUvi[] = {{549, 240}, {161, 190}, {160, 248}, {0, 215}};
constexpr Corner kDartFrogUvi[] = {{549, 122}, {231, 96}, {230, 122}, {0, 102}};
struct Tube {
  std::string_view name;
  int distance_cm;
  int replaced_ago;  // 0: never within the notebook
  Rhythm readings;
  std::span<const Corner> uvi;
  int noise;
};
constexpr Tube kTubes[] = {
    {"lamp-uvb-rack-b-3", 40, 230, {30, 15}, kDartFrogUvi, 2},
    {"lamp-uvb-rack-b-2", 35, 160, {30, 30}, kTreeFrogUvi, 4},
    {kOldTube, 32, 0, {30, 6}, kOldTubeUvi, 4},
    {"lamp-uvb-tortoise", 35, 200, {30, 7}, kTortoiseUvi, 6},
};

struct Test {
  SubjectKind kind;
  const char* name;
  Rhythm rhythm;
};
constexpr Test kTests[] = {
    {SubjectKind::thermostat, "thermostat-rack-a-1", {30, 9}},
    {SubjectKind::thermostat, "thermostat-rack-a-2", {30, 9}},
    {SubjectKind::thermostat, "thermostat-rack-a-3", {30, 24}},
    {SubjectKind::thermostat, "thermostat-rack-b-1", {30, 20}},
    {SubjectKind::thermostat, "thermostat-rack-b-2", {30, 20}},
    {SubjectKind::thermostat, "thermostat-skink", {30, 30}},
    {SubjectKind::thermostat, "thermostat-tortoise", {30, 27}},
    {SubjectKind::thermostat, "thermostat-room", {30, 13}},
    {SubjectKind::safety_device, "smoke-alarm-attic", {30, 22}},
    {SubjectKind::safety_device, "smoke-alarm-stairs", {30, 22}},
    {SubjectKind::safety_device, "extinguisher", {30, 22}},
};

struct JarChange {
  const char* jar;
  int ago;
};
constexpr JarChange kJarChanges[] = {
    {"jar-calcium", 500},      {"jar-calcium", 345},      {"jar-calcium", 192},
    {"jar-calcium", 40},       {"jar-calcium-d3", 400},   {"jar-calcium-d3", 236},
    {"jar-calcium-d3", 75},    {"jar-multivitamin", 460}, {"jar-multivitamin", 291},
    {"jar-multivitamin", 120}, {"jar-retinol", 455},      {"jar-retinol", kOldJarOpened_ago},
};

struct Jotting {
  int ago;
  SubjectKind kind;
  const char *subject, *text;
};
constexpr Jotting kJottings[] = {
    {520, SubjectKind::enclosure, "rack-b-3", "new springtail culture tipped in"},
    {kRowanArrived_ago, SubjectKind::animal, "rowan",
     "came from a breeder two valleys away; lively"},
    {352, SubjectKind::room, "room", "storm; power out for twenty minutes, all set points kept"},
    {kRowanCleared_ago, SubjectKind::animal, "rowan",
     "ninety-five days, clean faecal samples, no mites, eating and growing"},
    {kTopazLeft_ago, SubjectKind::animal, "topaz", "went to live with a friend of the house"},
    {210, SubjectKind::animal, "juniper", "gravid: heavy in the rear half, lies on the mat"},
    {200, SubjectKind::lamp, "lamp-uvb-tortoise", "new tube; the bracket is 35 cm up as before"},
    {178, SubjectKind::room, "room", "skylight screen mended"},
    {141, SubjectKind::animal, "flint", "calls every evening after rain"},
    {96, SubjectKind::enclosure, "rack-b-2", "trimmed the big leaves; bowl moved to the left"},
    {66, SubjectKind::animal, kLosingGecko.data(), "a little slow on the branch"},
    {52, SubjectKind::room, "room", "new seal on the skylight; dehumidifier runs at night"},
    {kNewcomerArrived_ago, SubjectKind::animal, "garnet",
     "came from a rescue; papers say eating well; set up in the far corner"},
    {kTubInQuarantine_ago, SubjectKind::animal, "garnet",
     "own tub was still wet, took the grey one"},
    {3, SubjectKind::animal, "basalt", "out and about at dusk"},
};

void RoomMaker::make_tasks() {
  for (const StandingWork& work : kStandingWork) {
    StandingTask& task = add(room_.tasks, work.name);
    task.title = work.title;
    task.detail = work.detail;
    task.every = Duration::days(work.rhythm.every);
    const int first_ago =
        work.rhythm.phase + (kDemoDays - work.rhythm.phase) / work.rhythm.every * work.rhythm.every;
    task.start = day(first_ago);
  }
}

// ---- The notebook ------------------------------------------------------------------------------

/// Lives through the days and writes down what a keeper would.
class Diary {
 public:
  Diary(Date last_day, std::uint64_t seed, Zone zone)
      : last_day_(last_day), zone_(std::move(zone)), chance_(seed) {}

  std::vector<Entry> write() {
    for (ago_ = kDemoDays; ago_ >= 1; --ago_) {
      today_ = last_day_ - ago_;
      away_ = sitter_keeps(today_);
      if (away_ && today_.day() == kDayWithoutAVisit) continue;
      begin_session(TimeOfDay{8 * 60 + 40});
      write_changes();
      for (const Home& home : kHomes) {
        if (home.name != "quarantine-1") tend(home);
      }
      look_after_the_room();
      tend(kHomes[std::size(kHomes) - 1]);
      begin_session(TimeOfDay{17 * 60 + 50});
      for (const bool in_quarantine : {false, true}) {
        for (const Ward& ward : kWards) {
          if (quarantined(ward.name) == in_quarantine) attend_in_the_evening(ward);
        }
      }
      for (const Jotting& jotting : kJottings) {
        if (jotting.ago == ago_) note({jotting.kind, jotting.subject}, jotting.text);
      }
    }
    return std::move(entries_);
  }

 private:
  // -- Time and writing --

  /// The keeper is away for a week of July, at least two months before the last day.
  bool sitter_keeps(Date day) const {
    return day.month() == 7 && day.day() >= 11 && day.day() <= 17 && last_day_ - day > 60;
  }
  static constexpr int kDayWithoutAVisit = 14;

  void begin_session(TimeOfDay time) {
    now_ = Instant::unix_ms(zone_.at(today_, time).unix_ms() + chance_.below(20 * 60'000));
  }

  Entry& jot(EntryKind kind, Subject subject) {
    now_ = Instant::unix_ms(now_.unix_ms() + chance_.from_to(15'000, 80'000));
    Entry& entry = entries_.emplace_back();
    entry.id = chance_.uuid(now_);
    entry.at = now_;
    entry.kind = kind;
    entry.subject = std::move(subject);
    entry.by = KeeperId::trusted(away_ ? "sitter" : "keeper");
    return entry;
  }
  static Subject animal(std::string_view name) { return {SubjectKind::animal, std::string(name)}; }
  static Subject home(std::string_view name) { return {SubjectKind::enclosure, std::string(name)}; }
  static Subject tool(std::string_view name) { return {SubjectKind::tool, std::string(name)}; }
  void note(Subject subject, std::string_view text) {
    jot(EntryKind::note, std::move(subject)).note = text;
  }
  void check(std::string_view name, const char* what, const char* found) {
    Entry& entry = jot(EntryKind::checked, animal(name));
    entry.item = what;
    entry.note = found;
  }

  /// Whether daily work is written down: always of late, earlier only when somebody thought of it.
  bool is_jotted(int percent) {
    const bool thought_of_it = chance_.percent(away_ ? percent / 2 : percent);
    return ago_ <= 21 || thought_of_it;
  }

  // -- Who is where --

  std::string_view home_of(std::string_view name) const {
    if (name == "rowan") {
      return ago_ > kRowanArrived_ago ? "" : ago_ > kRowanMoved_ago ? "quarantine-1" : "rack-a-2";
    }
    if (name == "garnet") return ago_ > kNewcomerArrived_ago ? "" : "quarantine-1";
    if (name == "topaz") return ago_ > kTopazLeft_ago ? "rack-a-2" : "";
    if (name == "thistle") return in_brumation(today_) ? "cold-box" : "tortoise-table";
    if (name == "juniper") return "rack-a-1";
    if (name == "basalt") return "rack-a-3";
    if (name == kLosingGecko || name == "fern" || name == "clover") return "rack-b-1";
    if (name == "azurite") return "rack-b-3";
    if (name == "ochre") return "skink-table";
    return "rack-b-2";
  }
  bool quarantined(std::string_view name) const {
    return (name == "garnet" && ago_ <= kNewcomerArrived_ago) ||
           (name == "rowan" && ago_ <= kRowanArrived_ago && ago_ > kRowanCleared_ago);
  }
  bool lived_in(std::string_view name) const {
    return std::any_of(std::begin(kWards), std::end(kWards),
                       [&](const Ward& ward) { return home_of(ward.name) == name; });
  }
  /// Days until it sheds while its skin is dull, else -1.
  int days_to_shed(const Ward& ward) const {
    for (int days = 0; days <= ward.in_shed_d; ++days) {
      if (ward.shedding.on(ago_ - days)) return days;
    }
    return -1;
  }

  // -- Things that happen once --

  void write_changes() {
    const bool sleeps = in_brumation(today_);
    const bool slept = ago_ == kDemoDays ? false : in_brumation(today_ - 1);
    if (sleeps && !slept) {
      weigh("thistle", thistle_mass());
      jot(EntryKind::full_cleaned, home("cold-box")).item = "hot water";
      jot(EntryKind::brumation_started, animal("thistle")).note =
          "four weeks without food, bathed daily";
      jot(EntryKind::moved, animal("thistle")).target = home("cold-box");
    } else if (slept && !sleeps) {
      jot(EntryKind::brumation_ended, animal("thistle")).note = "eyes clear, drank at once";
      jot(EntryKind::moved, animal("thistle")).target = home("tortoise-table");
      weigh("thistle", thistle_mass());
    }
    if (empties_gut_for_brumation(today_) && !empties_gut_for_brumation(today_ - 1)) {
      note(animal("thistle"), "no food from today, warm baths until the cold box");
    }

    if (ago_ == kRowanArrived_ago) jot(EntryKind::quarantine_started, animal("rowan"));
    if (ago_ == kRowanCleared_ago) jot(EntryKind::quarantine_ended, animal("rowan"));
    if (ago_ == kRowanMoved_ago) {
      jot(EntryKind::moved, animal("rowan")).target = home("rack-a-2");
      disinfect(home("quarantine-1"), 10);
    }
    if (ago_ == kTopazLeft_ago - 1) disinfect(home("rack-a-2"), 10);
    if (ago_ == kNewcomerArrived_ago) jot(EntryKind::quarantine_started, animal("garnet"));
    for (const auto& [name, arrived, cleared] :
         {std::tuple("rowan", kRowanArrived_ago, kRowanCleared_ago),
          std::tuple("garnet", kNewcomerArrived_ago, -1)}) {
      if (ago_ > arrived || ago_ <= cleared) continue;
      if ((arrived - ago_) % 14 == 0) check(name, "mites: negative", "none seen");
      if ((arrived - ago_) % 21 == 2) check(name, "faecal sample: negative", "nothing found");
    }

    if (ago_ == 500) {
      jot(EntryKind::ill, animal("ochre")).item = "lame on the left hind foot";
      note(animal("ochre"), "seen by the veterinarian: a strain; climbing rocks taken out");
    }
    if (ago_ == 486) jot(EntryKind::recovered, animal("ochre"));
    if (ago_ == 328) jot(EntryKind::regurgitated, animal("juniper")).item = "adult mouse";
    if (ago_ == 190) {
      Entry& eggs = jot(EntryKind::laid_eggs, animal("juniper"));
      eggs.count = 11;
      eggs.note = "not fertile; taken out";
    }
    if (ago_ == kTubDisinfected_ago) disinfect(tool(kSharedTub), 10);
    if (ago_ % 91 == 50 && !in_brumation(today_)) {
      Entry& shell = jot(EntryKind::measured, animal("thistle"));
      shell.item = "shell, straight";
      shell.length = Length::millimetres(188 - ago_ / 250);
    }
  }

  void disinfect(Subject subject, int minutes) {
    Entry& entry = jot(EntryKind::disinfected, std::move(subject));
    entry.item = "potassium peroxymonosulfate 1 %";
    entry.count = minutes;
  }

  // -- One enclosure's turn in the morning --

  void tend(const Home& place) {
    if (!lived_in(place.name)) return;
    const bool in_quarantine =
        place.name == "quarantine-1" && (quarantined("rowan") || quarantined("garnet"));
    // The new arrival's enclosure is cleaned from its first week on.
    const Rhythm full = place.name == "quarantine-1" && !in_quarantine ? Rhythm{30, 4} : place.full;
    if (place.name != "cold-box" && is_jotted(42)) jot(EntryKind::watered, home(place.name));
    if (!away_ && full.on(ago_)) {
      jot(EntryKind::full_cleaned, home(place.name)).item =
          "hot water and potassium peroxymonosulfate";
    } else if (place.spot.on(ago_) && is_jotted(place.spot.every > 1 ? 80 : 42)) {
      Entry& spot = jot(EntryKind::spot_cleaned, home(place.name));
      if (place.name == "cold-box") spot.note = "aired, wet leaves taken out";
    }
    if (place.mist.on(ago_) && is_jotted(60)) jot(EntryKind::misted, home(place.name));
    if (place.readings.on(ago_) && (!away_ || chance_.percent(50))) read_meters(place);
    for (const Ward& ward : kWards) {
      if (home_of(ward.name) == place.name) attend_in_the_morning(ward);
    }
  }

  Entry& reading(const Home& place, const char* where) {
    Entry& entry = jot(EntryKind::reading, home(place.name));
    entry.item = where;
    return entry;
  }
  void read_meters(const Home& place) {
    if (place.name == "cold-box") {
      reading(place, "cool side").temperature =
          tenths_c(chance_.around(place.warm.middle, place.warm.spread));
      return;
    }
    Entry& warm = reading(place, "warm side");
    if (place.warm.spread > 0) warm.temperature = tenths_c(warm_side_tenths_c(place));
    warm.humidity = percent(chance_.around(place.humidity.middle, place.humidity.spread));
    const bool second_time = (ago_ - place.readings.phase) % (2 * place.readings.every) == 0;
    if (second_time && place.cool.spread > 0) {
      reading(place, "cool side").temperature =
          tenths_c(chance_.around(place.cool.middle, place.cool.spread));
    }
    if (!second_time && place.basking.spread > 0) {
      reading(place, "basking surface").temperature =
          tenths_c(chance_.around(place.basking.middle, place.basking.spread));
    }
  }
  int warm_side_tenths_c(const Home& place) {
    if (place.name != kDriftingHome || ago_ >= kDriftBegins_ago) {
      return chance_.around(place.warm.middle, place.warm.spread);
    }
    // Creeps faster and faster: 3.1 degC after the eighty days.
    const int days = kDriftBegins_ago - ago_;
    return chance_.around(place.warm.middle + days * days * 31 / 6400, 3);
  }

  void attend_in_the_morning(const Ward& ward) {
    if (ward.by_day) feed(ward);
    const bool asleep = ward.name == "thistle" && in_brumation(today_);
    if (!asleep && chance_.percent(ward.droppings_percent) && !away_) {
      jot(EntryKind::droppings, animal(ward.name)).item =
          chance_.percent(94) ? "normal" : "normal, urates yellowish";
    }
    watch_the_skin(ward);
  }

  void watch_the_skin(const Ward& ward) {
    const int days = days_to_shed(ward);
    if (days == 0) {
      // Juniper's shed in the dry weeks of winter hung on at the tail.
      const bool stuck = ward.name == "juniper" && ward.shedding.on(246) && ago_ == 246;
      Entry& shed = jot(EntryKind::shed, animal(ward.name));
      shed.item = stuck ? "stuck" : "complete";
      if (stuck) shed.note = "a ring left at the tip of the tail; damp moss in the warm hide";
    } else if (days > 0 && days == ward.in_shed_d) {
      jot(EntryKind::in_shed, animal(ward.name));
    } else if (days > 0 && ago_ <= 60) {
      check(ward.name, "shed", "eyes still dull");
    }
    if (ward.name == "juniper" && ago_ == 244) check(ward.name, "shed", "tail free of old skin");
  }

  // -- The room, between the stops --

  void look_after_the_room() {
    for (const Tube& tube : kTubes) {
      if (tube.replaced_ago == ago_) {
        jot(EntryKind::replaced, {SubjectKind::lamp, std::string(tube.name)});
      }
      const bool tortoise = tube.name == "lamp-uvb-tortoise";
      const bool due = tortoise ? !in_brumation(today_) &&
                                      (tube.readings.on(ago_) || days_since(today_, 11, 19) == 0)
                                : tube.readings.on(ago_);
      if (!due || away_) continue;
      Entry& entry = jot(EntryKind::uv_reading, {SubjectKind::lamp, std::string(tube.name)});
      entry.item = "basking surface";
      entry.length = Length::centimetres(tube.distance_cm);
      entry.uvi = hundredths_uvi(chance_.around(between_corners(tube.uvi, ago_), tube.noise));
    }
    if (away_) return;
    if (ago_ == 118) jot(EntryKind::replaced, {SubjectKind::lamp, "halogen-skink"});
    if (ago_ == 200) jot(EntryKind::replaced, {SubjectKind::lamp, "halogen-tortoise"});
    for (const Test& test : kTests) {
      if (!test.rhythm.on(ago_)) continue;
      Entry& entry = jot(EntryKind::tested, {test.kind, test.name});
      const bool drifting =
          std::string_view(test.name) == "thermostat-rack-a-3" && ago_ < kDriftBegins_ago - 40;
      entry.item = test.kind == SubjectKind::safety_device ? "sound"
                   : drifting ? "second thermometer reads higher than the probe"
                              : "agrees within half a degree";
    }
    for (const StandingWork& work : kStandingWork) {
      if (work.rhythm.on(ago_) && (work.rhythm.every > 3 || is_jotted(80))) {
        jot(EntryKind::done, {SubjectKind::task, work.name});
      }
    }
    for (const JarChange& change : kJarChanges) {
      if (change.ago != ago_) continue;
      jot(EntryKind::replaced, {SubjectKind::jar, change.jar});
      jot(EntryKind::opened, {SubjectKind::jar, change.jar});
    }
  }

  // -- The evening: scales, then food --

  void attend_in_the_evening(const Ward& ward) {
    if (home_of(ward.name).empty()) return;
    if (!away_ && weighs_today(ward)) {
      const std::string_view tub = tub_for(ward);
      if (!tub.empty()) jot(EntryKind::used, tool(tub)).target = animal(ward.name);
      const int mass = ward.name == "thistle" ? thistle_mass() : mass_of(ward);
      // A point set one place too far to the right, seen and struck at once.
      if (ward.name == "rowan" && ago_ == 138) strike(weigh(ward.name, mass * 10));
      weigh(ward.name, mass);
      const bool forgotten =
          tub == kSharedTub && (ago_ == kTubInQuarantine_ago || ago_ == kTubWithOther_ago);
      if (!tub.empty() && !forgotten) disinfect(tool(tub), 10);
    }
    if (!ward.by_day) feed(ward);
  }

  bool weighs_today(const Ward& ward) const {
    if (ward.name == "thistle" && in_brumation(today_)) {
      const int days = days_since(today_, 11, 20);
      return days > 0 && days % 7 == 0;
    }
    if (ward.name == kLosingGecko && ago_ <= kLossBegins_ago + 6) return Rhythm{10, 4}.on(ago_);
    if (ward.name == "rowan" && quarantined(ward.name)) return Rhythm{7, 5}.on(ago_);
    return ward.weighing.on(ago_);
  }

  std::string_view tub_for(const Ward& ward) const {
    if (ward.name == "garnet" && ago_ == kTubInQuarantine_ago) return kSharedTub;
    const std::string_view home_name = home_of(ward.name);
    if (home_name == "quarantine-1") return "tub-quarantine";
    const bool shares = home_name.starts_with("rack-a") || home_name == "skink-table";
    return shares ? kSharedTub : "";
  }

  int mass_of(const Ward& ward) {
    const int mass = between_corners(ward.mass, ago_);
    const int tenths = mass + mass * chance_.around(0, ward.noise_permille) / 1000;
    return tenths < 1500 ? tenths : (tenths + 5) / 10 * 10;  // the fine scale ends at 150 g
  }

  /// Tenths of a gram. An empty gut takes 0.07 % a day for four weeks, the cold 0.02 % a day, and
  /// what is lost comes back within forty days.
  int thistle_mass() {
    const int base = between_corners(kThistleMass, ago_);
    int loss_ppm = 0;
    if (empties_gut_for_brumation(today_)) {
      loss_ppm = days_since(today_, 10, 23) * 700;
    } else if (in_brumation(today_)) {
      loss_ppm = 19'600 + days_since(today_, 11, 20) * 200;
    } else if (const int awake = days_since(today_, 3, 1); awake < 40) {
      loss_ppm = 39'800 / 40 * (40 - awake);
    }
    const int noise_permille = in_brumation(today_) ? 0 : chance_.around(0, 4);
    const int tenths = base - base / 100 * (loss_ppm / 100) / 100 + base * noise_permille / 1000;
    return (tenths + 5) / 10 * 10;
  }

  const Entry& weigh(std::string_view name, int tenths) {
    Entry& entry = jot(EntryKind::weighed, animal(name));
    entry.mass = tenths_g(tenths);
    if (name == "azurite") entry.note = "mean of four, weighed together";
    return entry;
  }
  void strike(const Entry& wrong) {
    const Uuid struck = wrong.id;
    const Subject subject = wrong.subject;
    Entry& entry = jot(EntryKind::struck, subject);
    entry.strikes = struck;
    entry.note = "decimal point in the wrong place";
  }

  std::span<const Course> menu_of(const Ward& ward) const {
    if (ward.name == "rowan") {
      return ago_ > 330 ? kPinkyMouse : ago_ > 90 ? std::span<const Course>(kFuzzyMice) : ward.menu;
    }
    if (ward.name == "juniper" && ago_ == 310) return kFuzzyMice;  // half a meal after the pause
    return ward.menu;
  }

  void feed(const Ward& ward) {
    const bool fasts = ward.name == "basalt" && python_fasts(today_);
    // Food that was refused is offered again after half the interval.
    const Rhythm feeding = fasts ? Rhythm{7, 7} : ward.feeding;
    if (!feeding.on(ago_) || home_of(ward.name).empty()) return;
    if (ward.name == "thistle" && (in_brumation(today_) || empties_gut_for_brumation(today_)))
      return;
    const bool snake = ward.in_shed_d >= 8;
    if (snake && days_to_shed(ward) > 0) return;
    if (ward.name == "juniper" && ago_ == 320) return;  // the pause after regurgitation
    if ((ward.name == "garnet" && ago_ > kNewcomerArrived_ago - 2) ||
        (ward.name == "rowan" && ago_ > kRowanArrived_ago - 4)) {
      return;  // first some days of quiet
    }
    if (away_ && (snake || chance_.percent(50))) return;
    const bool keeps_what_it_eats = ago_ <= 2 * ward.feeding.every;
    const bool settled = ward.name == "juniper" && ago_ == 330;
    const bool by_chance = chance_.percent(ward.refusals_percent);
    const bool refuses = fasts || (ward.name == "juniper" && (ago_ == 200 || ago_ == 210)) ||
                         (ward.name == "garnet" && ago_ == 33) ||
                         (by_chance && !keeps_what_it_eats && !settled);
    const std::span<const Course> menu = menu_of(ward);
    const int turn = (ago_ - ward.feeding.phase) / ward.feeding.every;
    const Course& course = menu[static_cast<std::size_t>(turn) % menu.size()];
    Entry& entry = jot(refuses ? EntryKind::refused : EntryKind::fed, animal(ward.name));
    entry.item = course.food;
    if (course.count > 0) entry.count = course.count;
    if (course.mass_tenths_g > 0) entry.mass = tenths_g(course.mass_tenths_g);
    if (*course.jar != '\0') entry.target = Subject{SubjectKind::jar, course.jar};
  }

  Date last_day_;
  Zone zone_;
  Chance chance_;
  std::vector<Entry> entries_;
  Date today_;
  int ago_ = 0;
  bool away_ = false;
  Instant now_;
};

}  // namespace

DemoBook make_demo_room(Date last_day, std::uint64_t seed) {
  Result<Zone> zone = Zone::named("Europe/Oslo");
  if (!zone) throw MachineFailure("the demo room needs the time zone: " + zone.problem().what);
  DemoBook book;
  book.room = RoomMaker(last_day).make();
  book.entries = Diary(last_day, seed, *std::move(zone)).write();
  return book;
}

}  // namespace warmside::demo
