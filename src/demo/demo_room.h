#pragma once
// The demo room: an invented attic full of reptiles and amphibians with eighteen months of
// notebook, for trying the program, for screenshots and for tests of the modules above. Nobody
// keeps these animals. A few things in it are wrong on purpose; docs/demo-room.md lists them, with
// what each module should find. All else in it is sound on the default last day.
//
// The same last day and seed give the same bytes on every machine: everything is computed in whole
// numbers, and the generator's numbers are mapped by our own code (the distributions of the
// standard library differ from one library to the next).

#include <cstdint>
#include <vector>

#include "core/time.h"
#include "room/entry.h"
#include "room/records.h"

namespace warmside::demo {

struct DemoBook {
  room::Room room;                   // every list in id order; check_room finds nothing
  std::vector<room::Entry> entries;  // in the order of writing, times and ids increasing
};

constexpr std::uint64_t kDemoSeed = 60'39'05'32;  // the attic's latitude and longitude

/// 2026-11-25, the day for which docs/demo-room.md and the round of the demo are written.
constexpr Date kDemoLastDay = Date::days_from_epoch(20'782);

/// How many days of notebook lie before the last day: eighteen months.
constexpr int kDemoDays = 549;

/// The room and its notebook from `last_day - kDemoDays` to the evening before `last_day`, which
/// itself has no entries yet. Meant for days of 2000 to 2100. The winter (the tortoise's brumation,
/// the python's fast) follows the calendar; everything else counts back from the last day.
/// Throws MachineFailure when the system has no zone file for Europe/Oslo.
DemoBook make_demo_room(Date last_day = kDemoLastDay, std::uint64_t seed = kDemoSeed);

}  // namespace warmside::demo
