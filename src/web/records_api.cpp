// Operations: record_kinds, records, put_record, remove_record, import_files, export_file.

#include <algorithm>

#include "book/files.h"
#include "book/notebook_file.h"
#include "book/room_file.h"
#include "web/operations.h"
#include "web/problem_answer.h"
#include "web/record_json.h"

namespace warmside::web {
namespace {

constexpr std::size_t kMostFiles = 20;
constexpr std::size_t kLongestFileName = 255;

Response with_json(const Json& json) {
  Response response;
  response.body = text_of(json);
  response.headers.emplace_back("Cache-Control", "no-store");
  return response;
}

Response bad_data(const Problems& problems) {
  return problem_answer(422, "The data is bad.", problems);
}

/// What the records of a room get wrong together, each with its record and field.
Problems unfit(const room::Room& room) {
  Problems problems;
  for (room::RecordProblem& found : room::check_room(room)) {
    found.problem.where = {"", 0,
                           found.id.empty() ? found.kind + "." + found.field
                                            : found.kind + " " + found.id + "." + found.field};
    problems.push_back(std::move(found.problem));
  }
  return problems;
}

/// Whether each is about what else the room holds, not about the record by itself.
bool only_with_others(const Problems& problems) {
  return std::all_of(problems.begin(), problems.end(), [](const Problem& problem) {
    return problem.code == ProblemCode::unknown_name || problem.code == ProblemCode::conflict ||
           problem.code == ProblemCode::duplicate;
  });
}

std::string tag_of(const Json& record) {
  return entity_tag(text_of(record));
}

/// Kind to id to the record's tag.
Json tags_json(const Json& room, const Json& records) {
  Json tags{{room::RoomInfo::kWord, {{room::RoomInfo::kWord, tag_of(room)}}}};
  for (const auto& [kind, list] : records.items()) {
    Json& of_kind = tags[kind] = Json::object();
    for (const Json& record : list) of_kind[record.at("id").get<std::string>()] = tag_of(record);
  }
  return tags;
}

/// Whether the record is as the client thinks (If-Match and If-None-Match, RFC 9110 section 13.1).
/// A client that names neither does not care.
bool is_as_thought(const Request& request, const Json& record) {
  const auto names = [&](const std::string& field) {
    return field == "*" || field.find(tag_of(record)) != std::string::npos;
  };
  if (record.is_null()) return request.if_match.empty();
  return (request.if_match.empty() || names(request.if_match)) &&
         (request.if_none_match.empty() || !names(request.if_none_match));
}

Response changed_meanwhile() {
  return problem_answer(412, "It was changed meanwhile.");
}

/// Runs a change of the book in the writing thread: step(book) gives the answer.
template <class Step>
void alter(Desk& desk, Respond respond, Step step) {
  desk.book.alter([step = std::move(step), respond](book::Book& book) { respond(step(book)); },
                  [respond](const std::string& failure) { respond(machine_failed(failure)); });
}

}  // namespace

Response answer_record_kinds(Desk&, const Call&) {
  return with_json(record_kinds_json());
}

Response answer_records(Desk& desk, const Call&) {
  const std::int64_t change = desk.book.change();  // before: the records may be newer, not older
  const auto room = desk.room();
  Json info = room_info_json(*room), records = records_json(*room);
  Json tags = tags_json(info, records);
  return with_json(Json{{"room", std::move(info)},
                        {"records", std::move(records)},
                        {"tags", std::move(tags)},
                        {"change", change}});
}

void put_record(Desk& desk, Call call, Respond respond) {
  const std::string kind = call.path.at("kind"), id = call.path.at("id");
  if (!is_record_kind(kind) || (kind == room::RoomInfo::kWord && id != room::RoomInfo::kWord)) {
    return respond(no_such_thing());
  }
  if (!is_id_text(id)) return respond(cannot_be_read({bad_id_text(id)}));
  auto json = parse_object(call.request.body);
  if (!json) return respond(cannot_be_read({json.problem()}));
  alter(desk, std::move(respond),
        [kind, id, request = std::move(call.request),
         record = std::move(json).value()](book::Book& book) -> Response {
          book::Change change = book.change();
          room::Room room = book.room();
          if (!is_as_thought(request, find_record_json(room, kind, id))) return changed_meanwhile();
          Problems problems = put_record(room, kind, id, record);
          if (!problems.empty()) return bad_data(problems);
          problems = unfit(room);
          if (!problems.empty()) {
            return only_with_others(problems) ? not_fitting(problems) : bad_data(problems);
          }
          problems = change.put_room(room);
          if (!problems.empty()) return not_fitting(problems);
          change.commit();
          return with_json(find_record_json(room, kind, id));
        });
}

void remove_record(Desk& desk, Call call, Respond respond) {
  alter(desk, std::move(respond),
        [kind = call.path.at("kind"), id = call.path.at("id"),
         request = std::move(call.request)](book::Book& book) -> Response {
          book::Change change = book.change();
          room::Room room = book.room();
          const Json record = find_record_json(room, kind, id);
          if (!record.is_null() && !is_as_thought(request, record)) return changed_meanwhile();
          if (!take_out_record(room, kind, id)) return no_such_thing();
          Problems problems = unfit(room);
          if (problems.empty()) problems = change.put_room(room, true);
          if (!problems.empty()) return not_fitting(problems);
          change.commit();
          Response response;
          response.status = 204;
          return response;
        });
}

namespace {

struct Import {
  std::vector<book::NamedText> files;
  bool preview = false;
};

Checked<Import> import_of(const std::string& body) {
  const auto json = parse_object(body);
  if (!json) return Problems{json.problem()};
  Import import;
  Problems problems;
  FieldReader fields(*json, "", problems);
  const Json* files = fields.list("files", 1, kMostFiles);
  import.preview = fields.yes_no("preview");
  fields.refuse_others();
  for (std::size_t i = 0; files != nullptr && i < files->size(); ++i) {
    const std::string where = "files." + std::to_string(i) + ".";
    if (!(*files)[i].is_object()) {
      problems.push_back({ProblemCode::bad_value, "not an object", {"", 0, where}, "", ""});
      continue;
    }
    FieldReader file((*files)[i], where, problems);
    import.files.push_back({file.text("name", 1, kLongestFileName),
                            file.text("text", 0, std::numeric_limits<std::size_t>::max())});
    file.refuse_others();
  }
  if (!problems.empty()) return problems;
  return import;
}

}  // namespace

void import_files(Desk& desk, Call call, Respond respond) {
  auto import = import_of(call.request.body);
  if (!import) return respond(cannot_be_read(import.problem()));
  alter(desk, std::move(respond),
        [import = std::move(import).value()](book::Book& book) -> Response {
          book::ImportOptions options;
          options.preview = import.preview;
          const auto report = book::import_texts(book, import.files, options);
          if (!report) return bad_data(report.problem());
          return with_json(Json{{"imported", !import.preview},
                                {"records", report->records},
                                {"entries_added", report->entries_added},
                                {"entries_before", report->entries_before}});
        });
}

Response export_file(Desk& desk, const Call& call) {
  const std::string& name = call.path.at("name");
  Response response;
  if (name == "room.toml") {
    response.type = "application/toml";
    response.body = book::write_room_file(*desk.room());
  } else if (name == "notebook.jsonl") {
    response.type = "application/jsonl";
    const auto room = desk.room();
    std::string text;
    desk.book.read([&](const book::Book& book) {
      book.each_entry([&](const room::Entry& entry) {
        text += book::notebook_line(entry, room->info.units);
        return true;
      });
    });
    response.body = std::move(text);
  } else {
    return no_such_thing();
  }
  response.headers.emplace_back("Content-Disposition", "attachment; filename=\"" + name + "\"");
  response.headers.emplace_back("Cache-Control", "no-store");
  return response;
}

}  // namespace warmside::web
