#include "climate/room_network.h"

#include <algorithm>
#include <cmath>

#include "climate/convection.h"
#include "climate/moist_air.h"
#include "core/check.h"

namespace warmside::climate {
namespace {

/// Between the room's air and what stores heat in it, W/m2K on 6 V^(2/3). A guess; common practice,
/// no source.
constexpr double kRoomStore = 3;
/// The room's night.
constexpr double kNightFrom_h = 22, kNightUntil_h = 6;

bool is_night(int hour) {
  return hour >= kNightFrom_h || hour < kNightUntil_h;
}

}  // namespace

double vapour_of(Temperature t, Percentage humidity) {
  return humidity.share() * saturated_vapour(t.kelvin()).kg_per_m3;
}

double air_heat(double t_k) {
  const AirProperties air = air_properties(t_k);
  return air.density_kg_per_m3 * air.specific_heat_j_per_kg_k;
}

void add_room(const CaseRoom& room, Network& network) {
  const double volume = room.volume->cubic_metres();
  const double start = room.heater_day.kelvin();
  const double heat = air_heat(start);
  const int air = network.node_count();
  network.nodes.push_back({"room air", volume * heat, start});
  network.nodes.push_back({"room's store", room.mass_wh_per_k * 3600, start});
  network.air.push_back({air, volume, vapour_of(room.heater_day, room.humidity)});
  const int outdoors = marked(0);
  network.conductions.push_back({air, air + 1, kRoomStore * 6 * std::pow(volume, 2.0 / 3)});
  network.conductions.push_back({air, outdoors, *room.walls_w_per_k});
  network.conductions.push_back(
      {air, outdoors, heat * volume * room.air_changes_per_h / 3600, true});
  if (room.other_heat > Power()) {
    Heater other;
    other.name = "other heat in the room";
    other.power_w = room.other_heat.watts();
    other.shares = {{air, 1}};
    network.heaters.push_back(std::move(other));
  }
  if (room.heater > Power()) {
    Heater heater;
    heater.name = "room heater";
    heater.power_w = room.heater.watts();
    heater.shares = {{air, 1}};
    heater.control = ControlKind::proportional;
    heater.sensor = static_cast<int>(network.sensors.size());
    heater.band_k = 1;
    const double day = room.heater_day.kelvin();
    heater.set_point.points = {{0, day}};
    if (room.heater_night) {
      const double night = room.heater_night->kelvin();
      heater.set_point.points = {{kNightUntil_h * 3600, night},
                                 {(kNightUntil_h + 0.5) * 3600, day},
                                 {kNightFrom_h * 3600, day},
                                 {(kNightFrom_h + 0.5) * 3600, night}};
    }
    network.sensors.push_back({"room thermostat", {{air, 1.0}}, 0});
    network.heaters.push_back(std::move(heater));
  }
}

Boundary air_boundary(const CaseRoom& room, const std::optional<Weather>& weather,
                      std::string name) {
  Boundary boundary;
  boundary.name = std::move(name);
  boundary.value_k = room.temperature.kelvin();
  boundary.vapour_kg_per_m3 = vapour_of(room.temperature, room.humidity);
  if (weather) {
    boundary.hourly_k = weather->temperature_k;
    boundary.hourly_kg_per_m3 = weather->vapour_kg_per_m3;
  } else if (room.night_drop && room.night_drop->kelvin() > 0) {
    const Temperature night = room.temperature - *room.night_drop;
    boundary.vapour_kg_per_m3 =
        std::min(boundary.vapour_kg_per_m3, saturated_vapour(night.kelvin()).kg_per_m3);
    for (int h = 0; h < 24; ++h) {
      boundary.hourly_k.push_back(is_night(h) ? night.kelvin() : boundary.value_k);
    }
  }
  return boundary;
}

void number_ends(Network& network, int room) {
  const int n = network.node_count();
  const auto number = [&](int& end) {
    if (end == kRoomEnd) end = room;
    if (end < 0) end = n + (-2 - end);
  };
  for (auto& link : network.conductions) number(link.a), number(link.b);
  for (auto& link : network.convections) number(link.a), number(link.b);
  for (auto& link : network.radiations) number(link.a), number(link.b);
  for (Sensor& sensor : network.sensors) {
    for (Share& share : sensor.feels) number(share.node);
  }
}

Network build_room(const CaseRoom& room, const std::optional<Weather>& weather) {
  WS_CHECK(room.walls_w_per_k.has_value());
  Network network;
  network.air_heat_j_per_m3_k = air_heat(room.heater_day.kelvin());
  network.boundaries.push_back(air_boundary(room, weather, "outdoors"));
  add_room(room, network);
  number_ends(network, network.node_count());
  WS_CHECK(check(network).empty());
  return network;
}

}  // namespace warmside::climate
