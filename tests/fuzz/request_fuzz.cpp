// Any bytes as a request behind the HTTP parser: target, body and headers go through gate, router
// and the readers of bodies. No crash, and every answer of no is one that the contract knows.

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "core/check.h"
#include "room/look_up.h"
#include "web/api.h"
#include "web/record_json.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace warmside;
  // The first line is the target, the second the host, the third the origin, the rest the body.
  std::string_view rest(reinterpret_cast<const char*>(data), size);
  const auto line = [&] {
    const auto end = rest.find('\n');
    const std::string_view part = rest.substr(0, end);
    rest = end == std::string_view::npos ? std::string_view() : rest.substr(end + 1);
    return std::string(part);
  };
  web::Request request;
  request.method = "PUT";
  request.target = line();
  request.host = line();
  request.origin = line();
  request.cookie = request.origin;
  request.content_type = "application/json";
  request.body = std::string(rest);

  const web::OwnNames names{"localhost"};
  if (const auto no = web::turned_away(request, names)) WS_CHECK(no->status == 403);
  WS_CHECK(web::session_token(request).size() <= request.cookie.size());
  const auto target = web::parse_target(request.target);
  if (target) {
    for (const web::Operation& operation : web::all_operations()) {
      const auto path = web::fit(operation.path, target->path);
      if (!path) continue;
      for (const auto& [name, value] : *path) WS_CHECK(!value.empty());
    }
  }
  const auto json = web::parse_object(request.body);
  if (!json) return 0;
  room::Room room;
  for (const char* kind : {"room", "animal", "enclosure", "lamp", "thermostat", "supply"}) {
    const Problems problems = web::put_record(room, kind, "one", *json);
    if (!problems.empty()) continue;
    // What was read is written so that it reads back the same.
    const web::Json written =
        web::find_record_json(room, kind, std::string(kind) == "room" ? "room" : "one");
    room::Room again;
    again.info.units = room.info.units;
    WS_CHECK(web::put_record(again, kind, "one", written).empty() || std::string(kind) == "room");
    room::check_room(room);
  }
  return 0;
}
