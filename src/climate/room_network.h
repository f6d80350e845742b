#pragma once
// The room around enclosures, as a part of a network: its air, what stores heat in it, its heater
// and the weather outdoors; or air of a given state. For the builder of enclosures, and alone for
// enclosures that share it.

#include <optional>
#include <string>

#include "climate/enclosure_case.h"
#include "climate/network.h"

namespace warmside::climate {

/// The room alone: node 0 is its air, boundary 0 outdoors. The room must give its walls.
Network build_room(const CaseRoom& room, const std::optional<Weather>& weather);

/// While a network grows its boundaries have no ends yet: -1 stands for the room, -2 for boundary
/// 0, -3 for boundary 1, and so on.
inline constexpr int kRoomEnd = -1;
inline int marked(int boundary) {
  return -2 - boundary;
}
/// Marked ends become numbers once all nodes are there; `room`: the end that is the room.
void number_ends(Network& network, int room);

/// Adds the room's nodes to a growing network whose first boundary is outdoors; its air comes
/// first.
void add_room(const CaseRoom& room, Network& network);

/// Air by the hour, or of one state with its night.
Boundary air_boundary(const CaseRoom& room, const std::optional<Weather>& weather,
                      std::string name);

/// Vapour of air at a temperature and relative humidity, kg/m3.
double vapour_of(Temperature t, Percentage humidity);
/// Heat that moving air carries, J/m3K.
double air_heat(double t_k);

}  // namespace warmside::climate
