#pragma once
// The climate of a whole room: enclosures given as cases, the room of the first of them.

#include <string>
#include <vector>

#include "climate/enclosure_case.h"
#include "climate/room_run.h"

namespace warmside::climate {

struct RoomClimate {
  /// An enclosure, or at the end the room itself.
  struct Member {
    std::string name;
    std::vector<std::string> probes, heaters;
    std::vector<double> energy_j;  // per heater, as drawn
    double water_kg = 0;           // that left dish and substrate
  };
  std::vector<Member> enclosures;
  Member room;
  RoomCourse course;
};

/// `cases` must have passed check_case; the first one's room must have walls, and its weather is
/// the room's. Each enclosure stands there `copies` times, 1 or more. Problem: as of run_room.
Result<RoomClimate> room_climate(const std::vector<EnclosureCase>& cases, int copies,
                                 const RoomRunOptions& options);

}  // namespace warmside::climate
