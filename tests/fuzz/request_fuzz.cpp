// Any bytes as a request off the wire: HTTP parser, gate, session, target, body and the records it
// may bring. No crash; every answer of no is one that the contract knows; what was read as a record
// is written so that it reads back the same.

#include <boost/asio/buffer.hpp>
#include <cstddef>
#include <cstdint>
#include <string>

#include "core/check.h"
#include "room/look_up.h"
#include "web/gate.h"
#include "web/record_json.h"
#include "web/request_parser_internal.h"
#include "web/router.h"

namespace {

using namespace warmside;

/// Null: not a whole request, or more than the server takes.
std::optional<web::Request> read_request(const std::uint8_t* data, std::size_t size) {
  web::RequestParser parser;
  web::set_limits(parser, web::ServerOptions{});
  parser.eager(true);  // the body too, where it has come
  boost::system::error_code error;
  std::size_t used = 0;
  while (used < size && !parser.is_done()) {
    const std::size_t taken =
        parser.put(boost::asio::const_buffer(data + used, size - used), error);
    if (error || taken == 0) return std::nullopt;
    used += taken;
  }
  if (!parser.is_done()) return std::nullopt;
  return web::request_from(parser.release());
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto request = read_request(data, size);
  if (!request) return 0;
  WS_CHECK(request->body.size() <= size && request->target.size() <= size);

  if (const auto no = web::turned_away(*request, web::OwnNames{"localhost"})) {
    WS_CHECK(no->status == 403 || no->status == 415);
  }
  WS_CHECK(web::session_token(*request).size() <= request->cookie.size());
  if (const auto target = web::parse_target(request->target)) {
    for (const char* path :
         {"/api/round", "/api/animals/{id}/weights", "/api/records/{kind}/{id}"}) {
      const auto found = web::fit(path, target->path);
      if (!found) continue;
      for (const auto& [name, value] : *found) WS_CHECK(!value.empty());
    }
  }

  const auto json = web::parse_json(request->body);
  if (!json || !json->is_object()) return 0;
  room::Room room;
  for (const char* kind : {"room", "animal", "enclosure", "lamp", "thermostat", "supply"}) {
    const std::string id = std::string(kind) == "room" ? "room" : "one";
    if (!web::put_record(room, kind, id, *json).empty()) continue;
    const web::Json written = web::find_record_json(room, kind, id);
    room::Room again;
    again.info.units = room.info.units;
    WS_CHECK(web::put_record(again, kind, id, written).empty() || id == "room");
    WS_CHECK(web::find_record_json(again, kind, id) == written || id == "room");
    room::check_room(room);
  }
  return 0;
}
