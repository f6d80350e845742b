#pragma once
// Many enclosures in one room: they warm and moisten its air, and its air is what they stand in.
//
// Each enclosure is a network whose boundary 0 is the room; the room is a network whose node 0 is
// its air (build_room). In each shared step the enclosures go alone, in steps of their own, while
// the room's air runs straight to where it was last going; then the room takes what they gave, with
// their answers to where its air really ends, and they follow. The result is that of one large
// network, at the price of many small ones, on as many threads as asked. Thermostats act by their
// mean duty (mean_duty.h). Checked by: tests/reference/room_run_test.cpp (the same room as one
// network).

#include <functional>
#include <string>
#include <vector>

#include "climate/network.h"
#include "core/result.h"

namespace warmside::climate {

struct RoomRunOptions {
  double hours = 8760;           // > 0
  double step_s = 600;           // largest shared step, 0.1..600
  double record_every_s = 3600;  // of sensors and the room's air; 0: nothing
  double start_second_of_day = 0;
  int threads = 2;  // 1..64
  /// Called each simulated day with the share done; false asks to stop.
  std::function<bool(double)> progress = {};
};

struct RoomCourse {
  std::vector<double> time_s;  // of the records
  std::vector<double> air_k;   // of the room
  std::vector<double> air_kg_per_m3;
  /// Per enclosure, then the room itself.
  struct Member {
    std::vector<double> sensor_k;          // [record * sensors + s]
    std::vector<double> vapour_kg_per_m3;  // [record * air volumes + v]
    std::vector<double> energy_j;          // per heater
    std::vector<double> end_k;             // nodes
    double drawn_kg = 0;                   // evaporated from beneath: what had to be poured
  };
  std::vector<Member> members;
  double reached_s = 0;
  double heat_balance_error = -1;   // worst step, against all heat moved
  double water_balance_error = -1;  // the same for vapour
  bool stopped = false;
};

/// Networks must pass check(); boundary 0 of each enclosure must be the room's air.
Result<RoomCourse> run_room(const std::vector<const Network*>& enclosures, const Network& room,
                            const RoomRunOptions& options);

}  // namespace warmside::climate
