#pragma once
// Records as JSON and back, by the fields that each lists in describe(): as the room file holds
// them, quantities as texts with their unit. Only web/*.cpp includes this, since it brings the JSON
// library with it.

#include <string>
#include <string_view>

#include "room/records.h"
#include "web/json_internal.h"

namespace warmside::web {

/// Every kind of record and its fields (RecordKinds in docs/openapi.json), the room itself first.
Json record_kinds_json();

/// All records of the room, kind by kind, without the room itself.
Json records_json(const room::Room& room);
/// The room itself.
Json room_info_json(const room::Room& room);

/// Whether there is such a kind of record; "room" is one.
bool is_record_kind(std::string_view kind);

/// The record of this kind and id, or null; "room" has the id "room".
Json find_record_json(const room::Room& room, std::string_view kind, const std::string& id);

/// Puts a record into the room, new or in place of the one with its id. Problems: fields that
/// cannot be read, that must be there and are not, that there are not. Whether it fits with the
/// others is for room::check_room to say.
Problems put_record(room::Room& room, std::string_view kind, const std::string& id,
                    const Json& record);

/// Takes a record out; false: it is not there.
bool take_out_record(room::Room& room, std::string_view kind, const std::string& id);

}  // namespace warmside::web
