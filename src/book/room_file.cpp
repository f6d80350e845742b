#include "book/room_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "room/quoted_text.h"
#include "room/toml_reader_internal.h"
#include "room/toml_writer.h"

namespace warmside::book {
namespace {

std::string place_key(std::string_view kind, std::string_view id, std::string_view field) {
  return fmt::format("{}\n{}\n{}", kind, id, field);
}

/// Reads all [[kind]] tables of one kind.
class FileReader {
 public:
  FileReader(const toml::table& root, std::string file, RecordPlaces& places, Problems& problems)
      : root_(root), file_(std::move(file)), places_(places), problems_(problems) {}

  void read_room_info(room::RoomInfo& info) {
    known_.insert(std::string(room::RoomInfo::kWord));
    const toml::node* node = root_.get(room::RoomInfo::kWord);
    if (node == nullptr) return;
    const toml::table* table = node->as_table();
    if (table == nullptr) {
      refuse(*node, "room", "not a table", "[room]");
      return;
    }
    if (places_.has_record("room", "")) {
      refuse(*node, "room", "the room is described twice", "one [room] in all files");
      return;
    }
    places_.put("room", "", "", where(*node, "room"));
    info = room::RoomInfo{};
    read_fields(*table, "room", "", info);
  }

  template <class Record>
  void read_records(std::vector<Record>& records) {
    const std::string kind(Record::kWord);
    known_.insert(kind);
    const toml::node* node = root_.get(kind);
    if (node == nullptr) return;
    const toml::array* list = node->as_array();
    if (list == nullptr || !list->is_array_of_tables()) {
      refuse(*node, kind, "not a list of tables", fmt::format("[[{}]] before each {}", kind, kind));
      return;
    }
    for (const toml::node& item : *list) {
      const toml::table& table = *item.as_table();
      const auto id = read_id<decltype(Record::id)>(table, kind);
      if (!id) continue;
      if (places_.has_record(kind, id->text())) {
        const Where first = places_.find(kind, id->text(), "");
        problems_.push_back({ProblemCode::duplicate,
                             fmt::format("this id was used at {}:{}", first.file, first.line),
                             where(item, kind + ".id"), "an id of its own", id->text()});
        continue;
      }
      places_.put(kind, id->text(), "", where(item, kind));
      Record record{};
      record.id = *id;
      read_fields(table, kind, id->text(), record);
      const auto at = std::lower_bound(records.begin(), records.end(), record.id,
                                       [](const Record& r, const auto& i) { return r.id < i; });
      if (at != records.end() && at->id == record.id) {
        *at = std::move(record);
      } else {
        records.insert(at, std::move(record));
      }
    }
  }

  void refuse_unknown() {
    for (const auto& [key, node] : root_) {
      if (known_.contains(std::string(key.str()))) continue;
      problems_.push_back({ProblemCode::unknown_name, "no such kind of record",
                           where(node, shown(key.str())),
                           fmt::format("one of {}", fmt::join(known_, ", ")), ""});
    }
  }

 private:
  Where where(const toml::node& node, std::string field) const {
    return {file_, static_cast<int>(node.source().begin.line), std::move(field)};
  }
  void refuse(const toml::node& node, std::string field, std::string what, std::string expected) {
    problems_.push_back({ProblemCode::bad_value, std::move(what), where(node, std::move(field)),
                         std::move(expected), ""});
  }

  template <class AnyId>
  std::optional<AnyId> read_id(const toml::table& table, const std::string& kind) {
    const toml::node* node = table.get("id");
    const auto text = node == nullptr ? std::nullopt : node->value_exact<std::string>();
    if (!text) {
      problems_.push_back({ProblemCode::missing, "must be given",
                           where(node == nullptr ? table : *node, kind + ".id"),
                           "a short name of your choice in quotes, such as \"corn-1\"", ""});
      return std::nullopt;
    }
    const auto id = AnyId::parse(*text);
    if (id) return *id;
    Problem problem = id.problem();
    problem.where = where(*node, kind + ".id");
    problems_.push_back(std::move(problem));
    return std::nullopt;
  }

  template <class Record>
  void read_fields(const toml::table& table, const std::string& kind, const std::string& id,
                   Record& record) {
    room::TableReader reader(
        table, where(table, id.empty() ? kind : fmt::format("{} {}", kind, id)), problems_);
    if (!id.empty()) reader.know("id");
    Record::describe(record, reader);
    reader.refuse_unknown();
    for (const auto& [key, node] : table) {
      const std::string field(key.str());
      places_.put(kind, id, field, reader.at(field.c_str(), &node));
    }
  }

  const toml::table& root_;
  std::string file_;
  RecordPlaces& places_;
  Problems& problems_;
  std::set<std::string> known_;
};

}  // namespace

void RecordPlaces::put(std::string_view kind, std::string_view id, std::string_view field,
                       Where where) {
  places_[place_key(kind, id, field)] = std::move(where);
}

Where RecordPlaces::find(std::string_view kind, std::string_view id, std::string_view field) const {
  auto at = places_.find(place_key(kind, id, field));
  if (at == places_.end()) at = places_.find(place_key(kind, id, ""));
  return at == places_.end() ? Where{} : at->second;
}

bool RecordPlaces::has_record(std::string_view kind, std::string_view id) const {
  return places_.find(place_key(kind, id, "")) != places_.end();
}

Problem RecordPlaces::placed(const room::RecordProblem& found) const {
  Problem problem = found.problem;
  problem.where = find(found.kind, found.kind == "room" ? "" : found.id, found.field);
  problem.where.field = found.id.empty()
                            ? fmt::format("{}.{}", found.kind, found.field)
                            : fmt::format("{} {}.{}", found.kind, found.id, found.field);
  return problem;
}

Problems read_room_file(std::string_view text, const std::string& file_name, room::Room& room,
                        RecordPlaces& places) {
  const auto root = room::parse_toml(text, file_name, "a room file as in docs/room-file.md");
  if (!root) return root.problem();
  Problems problems;
  FileReader reader(*root, file_name, places, problems);
  reader.read_room_info(room.info);
  room::Room::for_each_kind(room, [&](auto& records) { reader.read_records(records); });
  reader.refuse_unknown();
  std::stable_sort(problems.begin(), problems.end(),
                   [](const Problem& a, const Problem& b) { return a.where.line < b.where.line; });
  return problems;
}

std::string write_room_file(const room::Room& room) {
  std::string out = "# Warmside room file. Its form: docs/room-file.md\n\n[room]\n";
  room::write_fields(room.info, room.info.units, out);
  room::Room::for_each_kind(room, [&](const auto& records) {
    for (const auto& record : records) {
      out += fmt::format("\n[[{}]]\nid = {}\n", record.kWord, room::quoted(record.id.text()));
      room::write_fields(record, room.info.units, out);
    }
  });
  return out;
}

}  // namespace warmside::book
