#include "climate/room_climate.h"

#include <fmt/format.h>

#include "climate/enclosure_network.h"
#include "climate/room_network.h"
#include "core/check.h"

namespace warmside::climate {
namespace {

/// The enclosure in the air of another's room.
EnclosureCase moved_into(const CaseRoom& room, EnclosureCase enclosure) {
  enclosure.room = {};
  enclosure.room.temperature = room.heater_day;
  enclosure.room.humidity = room.humidity;
  enclosure.weather.reset();
  return enclosure;
}

RoomClimate::Member member_of(const Network& network, std::string name) {
  RoomClimate::Member member;
  member.name = std::move(name);
  for (const Sensor& sensor : network.sensors) member.probes.push_back(sensor.name);
  for (const Heater& heater : network.heaters) member.heaters.push_back(heater.name);
  return member;
}

}  // namespace

Result<RoomClimate> room_climate(const std::vector<EnclosureCase>& cases, int copies,
                                 const RoomRunOptions& options) {
  WS_CHECK(!cases.empty() && cases.front().room.walls_w_per_k && copies >= 1);
  const CaseRoom& room = cases.front().room;
  const Network room_network = build_room(room, cases.front().weather);
  RoomClimate out;
  std::vector<EnclosureNetwork> built;
  for (const EnclosureCase& one : cases) {
    const EnclosureNetwork network = build_network(moved_into(room, one), zonal_resolution());
    const std::string name = one.size.name.empty() ? "enclosure" : one.size.name;
    for (int copy = 1; copy <= copies; ++copy) {
      built.push_back(network);
      out.enclosures.push_back(
          member_of(network.network, copies > 1 ? fmt::format("{} {}", name, copy) : name));
    }
  }
  out.room = member_of(room_network, "room");
  std::vector<const Network*> networks;
  for (const EnclosureNetwork& one : built) networks.push_back(&one.network);
  auto course = run_room(networks, room_network, options);
  if (!course) return course.problem();
  out.course = std::move(course).value();
  for (std::size_t m = 0; m < built.size(); ++m) {
    const RoomCourse::Member& ran = out.course.members[m];
    for (std::size_t h = 0; h < ran.energy_j.size(); ++h) {
      out.enclosures[m].energy_j.push_back(ran.energy_j[h] * built[m].drawn_per_watt(h));
    }
    out.enclosures[m].water_kg = ran.drawn_kg;
  }
  out.room.energy_j = out.course.members.back().energy_j;
  return out;
}

}  // namespace warmside::climate
