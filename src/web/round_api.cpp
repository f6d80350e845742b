// Operations: round, room_plan, events.

#include <fmt/format.h>

#include "report/room_plan.h"
#include "web/operations.h"
#include "web/problem_answer.h"

namespace warmside::web {
namespace {

/// An answer that a browser may keep but must ask about: 304 where it has the same.
Response tagged(const Request& request, std::shared_ptr<const std::string> json,
                const std::string& tag) {
  Response response;
  response.headers.emplace_back("ETag", tag);
  response.headers.emplace_back("Cache-Control", "private, no-cache");
  if (request.if_none_match.find(tag) != std::string::npos) {
    response.status = 304;
  } else {
    response.body = std::move(json);
  }
  return response;
}

}  // namespace

void answer_round(Desk& desk, Call call, Respond respond) {
  Date date = desk.today();
  if (const auto asked = call.query.find("date"); asked != call.query.end()) {
    const auto read = parse_date(asked->second);
    if (!read) {
      Problem problem = read.problem();
      problem.where.field = "date";
      return respond(cannot_be_read({problem}));
    }
    date = *read;
  }
  desk.sheets.get(date, [request = std::move(call.request), respond = std::move(respond)](
                            const DaySheetPointer& sheet, const std::string& failure) {
    if (!sheet) return respond(machine_failed(failure));
    Response response = tagged(request, sheet->round_json, sheet->round_tag);
    response.gzipped = sheet->round_gzipped;
    response.headers.emplace_back("Book-Change", std::to_string(sheet->change));
    respond(std::move(response));
  });
}

Response answer_room_plan(Desk&, const Call& call, const DaySheet& sheet) {
  auto json =
      std::make_shared<const std::string>(report::room_plan_as_json(sheet.day, sheet.round));
  const std::string tag = weak_tag(*json);
  return tagged(call.request, std::move(json), tag);
}

Event change_event(std::int64_t change) {
  return {"change", fmt::format("{{\"change\": {}}}", change)};
}

void open_events(Desk& desk, Call call, Respond respond) {
  Response response;
  response.stream_goes_on = [&desk, token = call.token] {
    try {
      return desk.visitor(token).has_value();
    } catch (const std::exception&) {
      return false;  // the list of people cannot be read
    }
  };
  response.stream_begins = [&desk] { return change_event(desk.book.change()); };
  respond(std::move(response));
}

}  // namespace warmside::web
