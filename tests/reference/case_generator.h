#pragma once
// Random enclosures: any case that check_case accepts, for the case file's round trip, and plain
// dry boxes for what must hold of temperatures.
//
//     const EnclosureCase any = any_case();     // inside a RapidCheck property
//     const EnclosureCase box = dry_box();

#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "climate/enclosure_case.h"
#include "climate/materials.h"
#include "property/room_generator.h"

namespace warmside::climate {

/// From low to high, both included: half of them round numbers.
inline double number(double low, double high) {
  const double share = *rc::gen::inRange(0, 1'000'001) / 1e6;
  const double x = low + share * (high - low);
  if (*rc::gen::arbitrary<bool>()) return x;
  const double round = std::pow(10, std::floor(std::log10((high - low) / 20)));
  return std::clamp(std::round(x / round) * round, low, high);
}
inline bool chance(int in) {
  return *rc::gen::inRange(0, in) == 0;
}
template <Worded E>
E any_word() {
  return static_cast<E>(*rc::gen::inRange<std::size_t>(0, Words<E>::list.size()));
}
/// In some unit, so that its bits are those of a text that a person types or of none.
inline Length length(double low_m, double high_m) {
  const double m = number(low_m, high_m);
  const Length in_inches = Length::inches(std::round(m / 0.0254));
  if (chance(4) && in_inches.metres() >= low_m && in_inches.metres() <= high_m) return in_inches;
  return chance(2) ? Length::metres(m)
                   : std::min(Length::centimetres(m * 100), Length::metres(high_m));
}
inline Temperature temperature(double low_c, double high_c) {
  const double c = number(low_c, high_c);
  return chance(3) ? Temperature::fahrenheit(std::floor(c * 1.8 + 32)) : Temperature::celsius(c);
}
inline Span span(double low_m, double high_m) {
  const Length a = length(low_m, high_m), b = length(low_m, high_m);
  return {std::min(a, b), std::max(a, b)};
}

/// Of any listed material but mesh.
inline room::Construction any_construction() {
  room::Construction out;
  const int layers = *rc::gen::inRange(1, 4);
  for (int i = 0; i < layers; ++i) {
    const Material* material = nullptr;
    while (material == nullptr || material->name == "mesh") {
      material = &materials()[*rc::gen::inRange<std::size_t>(0, materials().size())];
    }
    out.layers.push_back({material->name, length(0.0005, 0.06)});
  }
  return out;
}

inline std::string any_name(const char* kind, std::size_t number) {
  const std::string plain = std::string(kind) + " " + std::to_string(number);
  return chance(3) ? *property::any_text_but_empty(30) + plain : plain;
}

/// Any case that check_case accepts. Its weather is named but not read.
inline EnclosureCase any_case() {
  EnclosureCase out;
  const double x = number(0.1, 2), y = number(0.1, 1.5), z = number(0.1, 2);
  out.size = {chance(3) ? "" : any_name("case", 1), Length::metres(x), Length::metres(y),
              Length::metres(z)};
  out.faces = {any_construction(), any_construction(), any_construction(),
               any_construction(), any_construction(), any_construction()};
  const bool mesh = chance(3);
  if (mesh) out.faces.top.layers = {{"mesh", Length::millimetres(1)}};
  const auto listed = materials();
  out.substrate.kind = listed[*rc::gen::inRange<std::size_t>(0, listed.size())].name;
  out.substrate.depth = length(0.001, 0.3);
  if (chance(2)) out.substrate.wetness = Percentage::share(number(0, 1));
  CaseOpenings& open = out.openings;
  if (chance(2)) open.lid_covered = Percentage::share(number(0, 1));
  if (chance(3)) open.mesh_open = Percentage::percent(number(0, 100));
  if (chance(2)) open.vents_low = Area::square_metres(number(0, x * z));
  if (chance(2)) open.vents_high = Area::square_centimetres(number(0, x * z * 1e4));
  if (chance(2)) open.vents_apart = length(0, z);
  if (chance(2)) open.leak_changes_per_h = number(0, 60);
  if (chance(3)) open.lid_flow_factor = number(0.1, 10);
  CaseRoom& room = out.room;
  if (chance(2)) room.temperature = temperature(-20, 45);
  if (chance(2)) room.humidity = Percentage::percent(number(0, 100));
  if (chance(3)) room.night_drop = TemperatureDelta::kelvin(number(0, 40));
  if (chance(4)) room.weather = any_name("weather", 1);
  if (chance(3)) {
    room.walls_w_per_k = number(1, 5000);
    room.volume = Volume::litres(number(1000, 1e6));
    if (chance(2)) room.air_changes_per_h = number(0, 20);
    if (chance(2)) room.mass_wh_per_k = number(10, 1e5);
    if (chance(2)) room.heater = Power::watts(number(0, 5000));
    if (chance(2)) room.heater_day = temperature(10, 35);
    if (chance(2)) room.heater_night = temperature(10, 35);
    if (chance(2)) room.other_heat = Power::watts(number(0, 500));
  }
  if (chance(2)) {
    out.dish = CaseDish{length(0, x), length(0, y), Area::square_metres(number(1e-4, 0.8 * x * y))};
    if (chance(2)) out.dish->depth = length(0.002, 1);
  }
  // Bodies side by side.
  const int bodies = *rc::gen::inRange(0, 4);
  for (int i = 0; i < bodies; ++i) {
    CaseBody body;
    body.name = any_name("body", out.bodies.size());
    body.kind = any_word<BodyKind>();
    body.x = {Length::metres(x * (i + 0.1) / bodies),
              Length::metres(x * (i + number(0.3, 1)) / bodies)};
    body.y = {Length::metres(0), length(0.01, y)};
    body.height = length(0.005, z);
    if (chance(2)) body.material = listed[*rc::gen::inRange<std::size_t>(0, listed.size())].name;
    out.bodies.push_back(body);
  }
  const int probes = *rc::gen::inRange(0, 4);
  for (int i = 0; i < probes; ++i) {
    CaseProbe probe;
    probe.name = any_name("probe", out.probes.size());
    probe.kind = any_word<ProbeKind>();
    probe.x = length(0, x);
    probe.y = length(0, y);
    probe.z = length(0, z);
    if (probe.kind != ProbeKind::gun && chance(2)) probe.lag = Duration::seconds(number(0, 7200));
    if (chance(3)) probe.emissivity = number(0.1, 1);
    out.probes.push_back(probe);
  }
  const int heaters = *rc::gen::inRange(0, 4);
  for (int i = 0; i < heaters; ++i) {
    CaseHeater heater;
    heater.name = any_name("heater", out.heaters.size());
    heater.kind = any_word<CaseHeaterKind>();
    heater.power = chance(2) ? Power::watts(number(1, 200)) : Power::kilowatts(number(0.001, 5));
    heater.x = span(0, x);
    heater.y = span(0, y);
    if (covers_area(heater.kind)) {
      heater.x = {Length::metres(0.1 * x), length(0.2 * x, x)};
      heater.y = {length(0, 0.5 * y), Length::metres(0.9 * y)};
    } else {
      heater.z = length(0.01, z);
    }
    if (chance(3)) heater.radiant_share = Percentage::share(number(0, 1));
    if (chance(3)) heater.beam_deg = number(10, 180);
    if (chance(3)) {
      heater.on = TimeOfDay{*rc::gen::inRange(0, 1440)};
      heater.off = TimeOfDay{*rc::gen::inRange(0, 1440)};
    }
    const auto control = std::find_if(out.probes.begin(), out.probes.end(),
                                      [](const auto& p) { return p.kind != ProbeKind::gun; });
    if (control != out.probes.end() && chance(2)) {
      CaseThermostat thermostat;
      thermostat.name = any_name("thermostat", out.thermostats.size());
      thermostat.control = any_word<room::ThermostatKind>();
      thermostat.probe = control->name;
      thermostat.day = temperature(20, 45);
      if (chance(2)) thermostat.night = temperature(10, 35);
      thermostat.day_from = TimeOfDay{*rc::gen::inRange(0, 720)};
      thermostat.night_from = TimeOfDay{*rc::gen::inRange(720, 1440)};
      if (chance(2)) thermostat.ramp = Duration::minutes(number(0, 600));
      if (chance(2)) thermostat.band = TemperatureDelta::kelvin(number(0.05, 20));
      heater.thermostat = thermostat.name;
      out.thermostats.push_back(thermostat);
    }
    out.heaters.push_back(heater);
  }
  const int mistings = *rc::gen::inRange(0, 3);
  for (int i = 0; i < mistings; ++i) {
    out.mistings.push_back(
        {TimeOfDay{*rc::gen::inRange(0, 1440)}, Volume::millilitres(number(1, 2000))});
  }
  for (const char* face : {"front", "back", "left", "right", "top", "bottom"}) {
    if (!chance(4) || (mesh && std::string(face) == "top")) continue;
    CaseNeighbour neighbour;
    neighbour.face = face;
    if (chance(2)) {
      neighbour.insulated = true;
    } else if (chance(2)) {
      neighbour.temperature = temperature(5, 40);
    }
    out.neighbours.push_back(neighbour);
  }
  return out;
}

/// A box without any water whose cuts lie on a grid of 2 cm: closed or with a mesh lid, vented or
/// not, with up to three heaters that nothing controls, bodies, and neighbours of other
/// temperature.
inline EnclosureCase dry_box(int fewest_heaters = 0) {
  const auto grid = [](int low, int high) { return 2 * *rc::gen::inRange(low / 2, high / 2 + 1); };
  const auto cm = [](int x) { return Length::centimetres(x); };
  EnclosureCase out;
  const int x = 2 * grid(12, 44), y = grid(20, 60), z = grid(20, 60);  // x / 2 is on the grid too
  out.size = {"", cm(x), cm(y), cm(z)};
  const auto made = [] {
    return room::parse_construction(*rc::gen::element<std::string>(
                                        "glass 4mm", "pvc 6mm", "plywood 12mm", "pvc foam 10mm",
                                        "cork 20mm + glass 4mm", "polypropylene 3mm"))
        .value();
  };
  out.faces = {made(), made(), made(), made(), made(), made()};
  const bool mesh = chance(3);
  if (mesh) out.faces.top.layers = {{"mesh", Length::millimetres(1)}};
  out.openings.lid_covered = Percentage::percent(*rc::gen::inRange(0, 101));
  if (chance(2)) out.openings.vents_low = Area::square_centimetres(grid(0, 80));
  if (chance(2)) out.openings.vents_high = Area::square_centimetres(grid(0, 80));
  out.openings.vents_apart = cm(z / 2);
  out.substrate.kind = *rc::gen::element<std::string>("sand", "coco fibre", "clay soil", "paper",
                                                      "bark chips", "aspen shavings");
  out.substrate.depth = cm(*rc::gen::inRange(1, 9));
  out.room.temperature = Temperature::celsius(*rc::gen::inRange(10, 36));
  out.room.humidity = Percentage::percent(0);
  int from = 0;
  for (int i = *rc::gen::inRange(0, 3); i > 0 && from + 4 < x; --i) {
    CaseBody body;
    body.name = "body " + std::to_string(i);
    body.kind = any_word<BodyKind>();
    const int until = std::min(x, from + grid(4, 20)), deep = grid(4, y);
    body.x = {cm(from), cm(until)};
    body.y = {cm(0), cm(deep)};
    body.height = cm(grid(2, 10));
    out.bodies.push_back(body);
    from = until + 2;
  }
  for (int i = *rc::gen::inRange(fewest_heaters, 4); i > 0; --i) {
    CaseHeater heater;
    heater.name = "heater " + std::to_string(i);
    heater.kind = any_word<CaseHeaterKind>();
    heater.power = Power::watts(*rc::gen::inRange(3, 60));
    const int a = grid(0, x - 4), b = std::min(x, a + grid(4, 40));
    const int c = grid(0, y - 4), d = std::min(y, c + grid(4, 40));
    heater.x = {cm(a), cm(b)};
    heater.y = {cm(c), cm(d)};
    if (covers_area(heater.kind)) {  // 100 to 400 W/m2, as mats and panels have
      heater.power = Power::watts((b - a) * (d - c) * 1e-4 * *rc::gen::inRange(100, 401));
    } else {
      if (heater.kind != CaseHeaterKind::tube) heater.x.high = heater.x.low;
      heater.y.high = heater.y.low;
      heater.z = cm(grid(z / 2, z));
    }
    out.heaters.push_back(heater);
  }
  for (const char* face : {"front", "back", "left", "right", "top", "bottom"}) {
    if (!chance(4) || (mesh && std::string(face) == "top")) continue;
    CaseNeighbour neighbour;
    neighbour.face = face;
    if (chance(2)) {
      neighbour.insulated = true;
    } else {
      neighbour.temperature = Temperature::celsius(*rc::gen::inRange(8, 38));
    }
    out.neighbours.push_back(neighbour);
  }
  return out;
}

}  // namespace warmside::climate
