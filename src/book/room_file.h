#pragma once
// The room file: the room's records as text (TOML), for people to write and keep. Its form is
// described in docs/room-file.md; the fields are those of room/records.h.
//
// Reading collects every problem with its line and then refuses the whole file. Writing is
// canonical: the same room always gives the same bytes, and reading them gives the same room.

#include <map>
#include <string>
#include <string_view>

#include "core/result.h"
#include "room/look_up.h"
#include "room/records.h"

namespace warmside::book {

/// Where in which file each field of each record stands, to say so when it does not fit.
class RecordPlaces {
 public:
  void put(std::string_view kind, std::string_view id, std::string_view field, Where where);
  /// The field's place, or else its record's; empty when the record came from elsewhere.
  Where find(std::string_view kind, std::string_view id, std::string_view field) const;
  /// The problem with its place filled in.
  Problem placed(const room::RecordProblem& found) const;
  bool has_record(std::string_view kind, std::string_view id) const;

 private:
  std::map<std::string, Where, std::less<>> places_;
};

/// Reads a room file into `room`: its records are added, or replace those of the same id. Whether
/// records fit together is for room::check_room to say, once all files are read. Two files that
/// both have a record are a Problem (duplicate). After a Problem `room` is not to be used.
Problems read_room_file(std::string_view text, const std::string& file_name, room::Room& room,
                        RecordPlaces& places);

/// The room as a room file, in the room's own units.
std::string write_room_file(const room::Room& room);

}  // namespace warmside::book
