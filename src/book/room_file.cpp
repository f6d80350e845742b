#include "book/room_file.h"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <set>

#include "book/quoted_text.h"
#include "room/fields.h"

namespace warmside::book {
namespace {

constexpr std::size_t kMostBytes = 16 * 1024 * 1024;
constexpr std::size_t kMostKeyParts = 16;

std::string place_key(std::string_view kind, std::string_view id, std::string_view field) {
  return fmt::format("{}\n{}\n{}", kind, id, field);
}

/// The last byte of the string that begins at `at`, or the line break that cuts it short.
std::size_t end_of_string(std::string_view text, std::size_t at) {
  const char quote = text[at];
  const std::string three(3, quote);
  const bool long_form = text.substr(at, 3) == three;  // may hold line breaks and single quotes
  for (std::size_t i = at + (long_form ? 3 : 1); i < text.size(); ++i) {
    if (quote == '"' && text[i] == '\\') {
      ++i;
    } else if (!long_form && (text[i] == quote || text[i] == '\n')) {
      return text[i] == quote ? i : i - 1;
    } else if (long_form && text.substr(i, 3) == three) {
      i += 2;  // up to two more quotes belong to the text
      for (int more = 0; more < 2 && i + 1 < text.size() && text[i + 1] == quote; ++more) ++i;
      return i;
    }
  }
  return text.size() - 1;
}

/// A dotted key (a.b.c) has more parts than any room file needs. For each part the parser puts a
/// table into a table, and it has no limit; nested brackets it limits itself.
bool keys_too_deep(std::string_view text) {
  std::size_t dots = 0;
  for (std::size_t at = 0; at < text.size(); ++at) {
    switch (text[at]) {
      case '.':
        if (++dots >= kMostKeyParts) return true;
        break;
      case '"':
      case '\'':
        at = end_of_string(text, at);
        break;
      case '#':
        at = std::min(text.find('\n', at), text.size()) - 1;
        break;
      case '\n':
      case '=':
      case ',':
      case '[':
      case ']':
      case '{':
      case '}':
        dots = 0;
        break;
      default:
        break;
    }
  }
  return false;
}

const char* type_word(const toml::node& node) {
  switch (node.type()) {
    case toml::node_type::string:
      return "a text";
    case toml::node_type::integer:
      return "a whole number";
    case toml::node_type::floating_point:
      return "a number";
    case toml::node_type::boolean:
      return "true or false";
    case toml::node_type::date:
      return "a date";
    case toml::node_type::table:
      return "a table";
    case toml::node_type::array:
      return "a list";
    default:
      return "something else";
  }
}

/// Reads the fields of one table: the visitor of describe().
class TableReader {
 public:
  TableReader(const toml::table& table, Where where, Problems& problems)
      : table_(table), where_(std::move(where)), problems_(problems) {}

  template <class T>
  void operator()(const char* name, room::Need need, T& field, const char* words) {
    known_.insert(name);
    const toml::node* node = table_.get(name);
    if (node == nullptr) {
      if (need == room::Need::must) {
        problems_.push_back({ProblemCode::missing, "must be given", at(name, nullptr), words, ""});
      }
      return;
    }
    read(name, *node, field, words);
  }

  /// After all fields: names that no field has.
  void refuse_unknown() {
    for (const auto& [key, node] : table_) {
      if (known_.contains(std::string(key.str()))) continue;
      problems_.push_back({ProblemCode::unknown_name, "no such field",
                           at(shown(key.str()).c_str(), &node),
                           fmt::format("one of {}", fmt::join(known_, ", ")), ""});
    }
  }

  void know(const char* name) { known_.insert(name); }

  Where at(const char* name, const toml::node* node) const {
    Where where = where_;
    if (node != nullptr && node->source().begin.line > 0) {
      where.line = static_cast<int>(node->source().begin.line);
    }
    where.field += where.field.empty() ? name : fmt::format(".{}", name);
    return where;
  }

 private:
  void wrong_type(const char* name, const toml::node& node, std::string expected) {
    problems_.push_back({ProblemCode::bad_value, fmt::format("not {}", type_word(node)),
                         at(name, &node), std::move(expected), ""});
    problems_.back().what = fmt::format("{} does not belong here", type_word(node));
  }

  template <class T>
  void read(const char* name, const toml::node& node, T& field, const char* words) {
    if constexpr (room::IsOptional<T>::value) {
      typename T::value_type value{};
      const auto before = problems_.size();
      read(name, node, value, words);
      if (problems_.size() == before) field = value;
    } else if constexpr (std::same_as<T, std::string>) {
      if (const auto value = node.value_exact<std::string>()) {
        field = *value;
      } else {
        wrong_type(name, node, fmt::format("a text in quotes: {}", words));
      }
    } else if constexpr (std::same_as<T, bool>) {
      if (const auto value = node.value_exact<bool>()) {
        field = *value;
      } else {
        wrong_type(name, node, fmt::format("true or false: {}", words));
      }
    } else if constexpr (std::same_as<T, int>) {
      const auto value = node.value_exact<std::int64_t>();
      if (value && *value >= -1'000'000'000 && *value <= 1'000'000'000) {
        field = static_cast<int>(*value);
      } else {
        wrong_type(name, node, fmt::format("a whole number: {}", words));
      }
    } else if constexpr (std::same_as<T, double>) {
      if (const auto value = node.value<double>(); value && node.is_number()) {
        field = *value;
      } else {
        wrong_type(name, node, fmt::format("a number: {}", words));
      }
    } else {
      if constexpr (std::same_as<T, Date>) {
        if (const auto day = node.value_exact<toml::date>()) {
          const auto date = Date::of(day->year, day->month, day->day);
          if (date) {
            field = *date;
          } else {
            problem(name, node, date.problem());
          }
          return;
        }
      }
      const auto text = node.value_exact<std::string>();
      if (!text) {
        wrong_type(name, node, fmt::format("a text in quotes: {}", words));
        return;
      }
      const auto value = room::read_field<T>(*text);
      if (value) {
        field = *value;
      } else {
        problem(name, node, value.problem());
      }
    }
  }

  void problem(const char* name, const toml::node& node, Problem problem) {
    problem.where = at(name, &node);
    problems_.push_back(std::move(problem));
  }

  const toml::table& table_;
  Where where_;
  Problems& problems_;
  std::set<std::string> known_;
};

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
    TableReader reader(table, where(table, id.empty() ? kind : fmt::format("{} {}", kind, id)),
                       problems_);
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

/// A field as TOML; empty for an empty optional or reference.
template <class T>
std::string toml_text(const T& field, UnitSystem units) {
  if constexpr (room::IsOptional<T>::value) {
    return field ? toml_text(*field, units) : "";
  } else if constexpr (std::same_as<T, std::string>) {
    return quoted(field);
  } else if constexpr (std::same_as<T, bool>) {
    return field ? "true" : "false";
  } else if constexpr (std::same_as<T, int>) {
    return std::to_string(field);
  } else if constexpr (std::same_as<T, double>) {
    const std::string text = fmt::format("{}", field);  // shortest that reads back
    return text.find_first_of(".e") == std::string::npos ? text + ".0" : text;
  } else if constexpr (std::same_as<T, Date>) {
    return to_text(field);
  } else if constexpr (room::IsId<T>::value) {
    return field.empty() ? "" : quoted(field.text());
  } else {
    return quoted(room::field_text(field, units));
  }
}

template <class Record>
void write_fields(const Record& record, UnitSystem units, std::string& out) {
  std::vector<std::string> defaults;
  const Record blank{};
  Record::describe(blank, [&](const char*, room::Need, const auto& field, const char*) {
    defaults.push_back(toml_text(field, units));
  });
  std::size_t i = 0;
  Record::describe(record, [&](const char* name, room::Need need, const auto& field, const char*) {
    const std::string text = toml_text(field, units);
    if (need == room::Need::must || text != defaults[i]) {
      out += fmt::format("{} = {}\n", name, text);
    }
    ++i;
  });
}

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
  if (text.size() > kMostBytes) {
    return {{ProblemCode::bad_syntax,
             "too long for a room file",
             {file_name, 0, ""},
             "at most 16 MB",
             ""}};
  }
  if (keys_too_deep(text)) {
    return {{ProblemCode::bad_syntax,
             "a key of too many parts",
             {file_name, 0, ""},
             "a room file as in docs/room-file.md",
             ""}};
  }
  Problems problems;
  try {
    const toml::table root = toml::parse(text, std::string_view(file_name));
    FileReader reader(root, file_name, places, problems);
    reader.read_room_info(room.info);
    room::Room::for_each_kind(room, [&](auto& records) { reader.read_records(records); });
    reader.refuse_unknown();
  } catch (const toml::parse_error& e) {
    problems.push_back({ProblemCode::bad_syntax,
                        "not TOML: " + std::string(e.description()),
                        {file_name, static_cast<int>(e.source().begin.line), ""},
                        "a room file as in docs/room-file.md",
                        ""});
  }
  std::stable_sort(problems.begin(), problems.end(),
                   [](const Problem& a, const Problem& b) { return a.where.line < b.where.line; });
  return problems;
}

std::string write_room_file(const room::Room& room) {
  std::string out = "# Warmside room file. Its form: docs/room-file.md\n\n[room]\n";
  write_fields(room.info, room.info.units, out);
  room::Room::for_each_kind(room, [&](const auto& records) {
    for (const auto& record : records) {
      out += fmt::format("\n[[{}]]\nid = {}\n", record.kWord, quoted(record.id.text()));
      write_fields(record, room.info.units, out);
    }
  });
  return out;
}

}  // namespace warmside::book
