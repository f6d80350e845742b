// Any bytes as a room file: no crash, every problem with a place; and a room that is sound has a
// text that reads back to the same room, and that room the same text.

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "book/room_file.h"
#include "fuzz_checks.h"
#include "room/look_up.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace warmside;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  room::Room room;
  book::RecordPlaces places;
  const Problems problems = book::read_room_file(text, fuzz::kFileName, room, places);
  for (const Problem& problem : problems) fuzz::check_problem(problem, text, false);
  if (!problems.empty()) return 0;
  const auto found = room::check_room(room);
  for (const auto& record : found) {
    // A room without [room] is told of by check_room and stands nowhere in the file.
    const Problem placed = places.placed(record);
    if (!places.has_record(record.kind, record.kind == "room" ? "" : record.id)) continue;
    fuzz::check_problem(placed, text, true);
  }
  if (!found.empty()) return 0;

  const std::string written = book::write_room_file(room);
  room::Room again;
  book::RecordPlaces places_again;
  WS_CHECK(book::read_room_file(written, fuzz::kFileName, again, places_again).empty());
  WS_CHECK(again == room);
  WS_CHECK(book::write_room_file(again) == written);
  // In the other units the text differs, the room does not.
  for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
    again.info.units = units;
    room::Room back;
    book::RecordPlaces places_back;
    WS_CHECK(book::read_room_file(book::write_room_file(again), fuzz::kFileName, back, places_back)
                 .empty());
    WS_CHECK(back == again);
  }
  return 0;
}
