#include "many_enclosures.h"

#include <fmt/format.h>

#include <fstream>
#include <sstream>

#include "climate/case_file.h"
#include "climate/enclosure_network.h"
#include "climate/room_network.h"
#include "core/check.h"

namespace warmside::bench {
namespace {

using climate::EnclosureCase;

/// 0..1, spread evenly over the enclosures, along another course for each `what`.
double spread(int i, int what) {
  const double x = 0.6180339887 * (i + 1) + 0.7548776662 * what * (i + 3);
  return x - static_cast<long>(x);
}

void stretch(Length& length, double factor) {
  length = length * factor;
}
void stretch(climate::Span& span, double factor) {
  stretch(span.low, factor);
  stretch(span.high, factor);
}

EnclosureCase varied(EnclosureCase one, int i) {
  one.size.name = fmt::format("{} {}", one.size.name, i + 1);
  // Longer or shorter, and what is in it with it.
  const double factor = 0.75 + 0.5 * spread(i, 1);
  stretch(one.size.length, factor);
  if (one.dish) stretch(one.dish->x, factor);
  for (auto& body : one.bodies) stretch(body.x, factor);
  for (auto& probe : one.probes) stretch(probe.x, factor);
  for (auto& heater : one.heaters) {
    stretch(heater.x, factor);
    heater.power = heater.power * (factor * (0.85 + 0.3 * spread(i, 2)));
  }
  for (auto& thermostat : one.thermostats) {
    const auto warmer = TemperatureDelta::kelvin(-2 + 4 * spread(i, 3));
    thermostat.day = thermostat.day + warmer;
    if (thermostat.night) thermostat.night = *thermostat.night + warmer;
  }
  // Lamps and mist at other minutes: every turn is a step that all have to meet.
  const int later = 15 * static_cast<int>(4 * spread(i, 4));
  for (auto& heater : one.heaters) {
    if (!heater.on) continue;
    heater.on->minutes += later;
    heater.off->minutes += later;
  }
  for (auto& misting : one.mistings) misting.time.minutes += later;
  one.substrate.depth = one.substrate.depth * (0.8 + 0.5 * spread(i, 5));
  if (one.substrate.wetness) {
    one.substrate.wetness = Percentage::percent(20 + 60 * spread(i, 6));
  }
  return one;
}

}  // namespace

EnclosureCase case_named(const std::string& name) {
  const std::string path = fmt::format("{}/tests/data/cases/{}.toml", WARMSIDE_SOURCE, name);
  std::ostringstream text;
  text << std::ifstream(path).rdbuf();
  auto found = climate::read_case_file(text.str(), path);
  WS_CHECK(found.ok());
  return std::move(*found);
}

ManyEnclosures many_enclosures(int count, const std::optional<climate::Weather>& weather) {
  static constexpr const char* kNames[] = {"mat_tank", "frog_terrarium", "desert_vivarium",
                                           "rack_tub"};
  ManyEnclosures many;
  for (int i = 0; i < count; ++i) {
    const EnclosureCase one = varied(case_named(kNames[i % 4]), i);
    WS_CHECK(climate::check_case(one).empty());
    auto built = climate::build_network(one, climate::zonal_resolution());
    // The room takes the place of the case's own.
    auto& air = built.network.boundaries.front();
    air.hourly_k.clear();
    air.hourly_kg_per_m3.clear();
    many.enclosures.push_back(std::move(built.network));
  }
  climate::CaseRoom room;
  room.walls_w_per_k = 120;
  room.volume = Volume::litres(120'000);
  room.air_changes_per_h = 1;
  room.heater = Power::watts(4000);
  room.heater_day = Temperature::celsius(21);
  room.heater_night = Temperature::celsius(18);
  room.other_heat = Power::watts(100);
  many.room = climate::build_room(room, weather);
  return many;
}

}  // namespace warmside::bench
