#include "web/record_json.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "room/fields.h"
#include "room/look_up.h"

namespace warmside::web {
namespace {

using room::Need;

// --- Writing ------------------------------------------------------------------------------------

/// A field; null for an empty optional or reference.
template <class T>
Json field_json(const T& field, UnitSystem units) {
  if constexpr (room::IsOptional<T>::value) {
    return field ? field_json(*field, units) : Json(nullptr);
  } else if constexpr (std::is_arithmetic_v<T> || std::same_as<T, std::string>) {
    return field;
  } else if constexpr (room::IsId<T>::value) {
    return field.empty() ? Json(nullptr) : Json(field.text());
  } else {
    return room::field_text(field, units);
  }
}

/// The fields that must be there or are not as in a new record: what the room file writes.
template <class Record>
Json fields_json(const Record& record, UnitSystem units) {
  std::vector<Json> usual;
  const Record blank{};
  Record::describe(blank, [&](const char*, Need, const auto& field, const char*) {
    usual.push_back(field_json(field, units));
  });
  Json json = Json::object();
  if constexpr (requires { record.id; }) json["id"] = record.id.text();
  std::size_t i = 0;
  Record::describe(record, [&](const char* name, Need need, const auto& field, const char*) {
    Json value = field_json(field, units);
    if (!value.is_null() && (need == Need::must || value != usual[i])) {
      json[name] = std::move(value);
    }
    ++i;
  });
  return json;
}

// --- Reading ------------------------------------------------------------------------------------

/// The visitor of describe() that reads an object's fields.
class RecordReader {
 public:
  RecordReader(const Json& object, std::string where, Problems& problems)
      : object_(object), where_(std::move(where)), problems_(problems) {}

  template <class T>
  void operator()(const char* name, Need need, T& field, const char* words) {
    known_.insert(name);
    const auto at = object_.find(name);
    if (at == object_.end()) {
      if (need == Need::must) problem(name, ProblemCode::missing, "must be given", words);
      return;
    }
    read(name, *at, field, words);
  }

  void know(const char* name) { known_.insert(name); }

  void refuse_unknown() {
    for (const auto& item : object_.items()) {
      if (known_.contains(item.key())) continue;
      std::string all;
      for (const std::string& name : known_) all += (all.empty() ? "one of " : ", ") + name;
      problem(shown(item.key()).c_str(), ProblemCode::unknown_name, "no such field", all);
    }
  }

 private:
  template <class T>
  void read(const char* name, const Json& value, T& field, const char* words) {
    if constexpr (room::IsOptional<T>::value) {
      typename T::value_type inner{};
      const auto before = problems_.size();
      read(name, value, inner, words);
      if (problems_.size() == before) field = inner;
    } else if constexpr (std::same_as<T, bool>) {
      if (!value.is_boolean()) return wrong(name, fmt::format("true or false: {}", words));
      field = value.get<bool>();
    } else if constexpr (std::same_as<T, int>) {
      // As the room file: whole numbers to a thousand million.
      const auto n = value.is_number_integer() ? value.get<double>() : 2e9;
      if (n < -1e9 || n > 1e9) return wrong(name, fmt::format("a whole number: {}", words));
      field = value.get<int>();
    } else if constexpr (std::same_as<T, double>) {
      if (!value.is_number()) return wrong(name, fmt::format("a number: {}", words));
      field = value.get<double>();
    } else {
      if (!value.is_string()) return wrong(name, fmt::format("a text: {}", words));
      if constexpr (std::same_as<T, std::string>) {
        field = value.get<std::string>();
      } else {
        const auto parsed = room::read_field<T>(value.get_ref<const std::string&>());
        if (parsed) {
          field = *parsed;
        } else {
          problems_.push_back(parsed.problem());
          problems_.back().where.field = where_ + name;
        }
      }
    }
  }

  void wrong(const char* name, std::string expected) {
    problem(name, ProblemCode::bad_value, "does not belong here", std::move(expected));
  }
  void problem(const char* name, ProblemCode code, std::string what, std::string expected) {
    problems_.push_back({code, std::move(what), {"", 0, where_ + name}, std::move(expected), ""});
  }

  const Json& object_;
  const std::string where_;
  Problems& problems_;
  std::set<std::string> known_;
};

// --- Kinds --------------------------------------------------------------------------------------

/// How a field is typed, in the words of docs/openapi.json.
template <class T>
void describe_type(Json& json) {
  if constexpr (room::IsOptional<T>::value) {
    describe_type<typename T::value_type>(json);
  } else if constexpr (std::same_as<T, std::string>) {
    json["form"] = "text";
  } else if constexpr (std::same_as<T, bool>) {
    json["form"] = "yes_no";
  } else if constexpr (std::same_as<T, int>) {
    json["form"] = "whole";
  } else if constexpr (std::same_as<T, double>) {
    json["form"] = "number";
  } else if constexpr (std::same_as<T, Date>) {
    json["form"] = "date";
  } else if constexpr (std::same_as<T, TimeOfDay>) {
    json["form"] = "time";
  } else if constexpr (std::same_as<T, Duration>) {
    json["form"] = "duration";
  } else if constexpr (std::same_as<T, room::Construction>) {
    json["form"] = "layers";
  } else if constexpr (std::same_as<T, room::UvTable>) {
    json["form"] = "uv_table";
  } else if constexpr (Quantity<T>) {
    json["form"] = "quantity";
    json["quantity"] = quantity_name<T>();
  } else {
    static_assert(Worded<T>);
    json["form"] = "word";
    for (const auto known : Words<T>::list) json["words"].push_back(known);
  }
}

template <class Tag>
void describe_reference(const Id<Tag>&, Json& json) {
  json["form"] = "id";
  json["refers_to"] = Tag::kWord;
}

template <class Record>
Json kind_json() {
  Json fields = Json::array();
  const Record blank{};
  Record::describe(blank, [&](const char* name, Need need, const auto& field, const char* words) {
    using T = std::remove_cvref_t<decltype(field)>;
    Json json{{"name", name},    {"must", need == Need::must},
              {"form", ""},      {"words", Json::array()},
              {"refers_to", ""}, {"quantity", ""},
              {"meaning", words}};
    if constexpr (room::IsId<T>::value) {
      describe_reference(field, json);
    } else {
      describe_type<T>(json);
    }
    fields.push_back(std::move(json));
  });
  return {{"kind", Record::kWord}, {"fields", std::move(fields)}};
}

/// visit(records) for the list of this kind. False: there is no such kind.
template <class Room, class Visit>
bool with_kind(Room& room, std::string_view kind, Visit visit) {
  bool found = false;
  room::Room::for_each_kind(room, [&](auto& records) {
    using Record = typename std::remove_cvref_t<decltype(records)>::value_type;
    if (Record::kWord != kind) return;
    found = true;
    visit(records);
  });
  return found;
}

}  // namespace

Json record_kinds_json() {
  Json kinds = Json::array();
  kinds.push_back(kind_json<room::RoomInfo>());
  const room::Room none;
  room::Room::for_each_kind(none, [&](const auto& records) {
    kinds.push_back(kind_json<typename std::remove_cvref_t<decltype(records)>::value_type>());
  });
  return {{"kinds", std::move(kinds)}};
}

Json records_json(const room::Room& room) {
  Json json = Json::object();
  room::Room::for_each_kind(room, [&](const auto& records) {
    using Record = typename std::remove_cvref_t<decltype(records)>::value_type;
    Json list = Json::array();
    for (const auto& record : records) list.push_back(fields_json(record, room.info.units));
    json[std::string(Record::kWord)] = std::move(list);
  });
  return json;
}

Json room_info_json(const room::Room& room) {
  return fields_json(room.info, room.info.units);
}

bool is_record_kind(std::string_view kind) {
  const room::Room none;
  return kind == room::RoomInfo::kWord || with_kind(none, kind, [](const auto&) {});
}

Json find_record_json(const room::Room& room, std::string_view kind, const std::string& id) {
  if (kind == room::RoomInfo::kWord) {
    return id == room::RoomInfo::kWord ? room_info_json(room) : Json(nullptr);
  }
  Json json = nullptr;
  with_kind(room, kind, [&](const auto& records) {
    using Record = typename std::remove_cvref_t<decltype(records)>::value_type;
    const auto* record = room::find(records, decltype(Record::id)::trusted(id));
    if (record != nullptr) json = fields_json(*record, room.info.units);
  });
  return json;
}

Problems put_record(room::Room& room, std::string_view kind, const std::string& id,
                    const Json& object) {
  Problems problems;
  const std::string where = fmt::format("{} {}.", kind, id);
  if (const auto given = object.find("id"); given != object.end() && *given != id) {
    problems.push_back({ProblemCode::bad_value,
                        "another id than that of the path",
                        {"", 0, where + "id"},
                        id,
                        given->is_string() ? shown(given->get<std::string>()) : ""});
  }
  RecordReader reader(object, where, problems);
  if (kind == room::RoomInfo::kWord) {
    room::RoomInfo info;
    room::RoomInfo::describe(info, reader);
    reader.refuse_unknown();
    room.info = std::move(info);
    return problems;
  }
  reader.know("id");
  with_kind(room, kind, [&](auto& records) {
    using Record = typename std::remove_cvref_t<decltype(records)>::value_type;
    Record record{};
    record.id = decltype(Record::id)::trusted(id);
    Record::describe(record, reader);
    reader.refuse_unknown();
    const auto at = std::lower_bound(records.begin(), records.end(), record.id,
                                     [](const Record& r, const auto& i) { return r.id < i; });
    if (at != records.end() && at->id == record.id) {
      *at = std::move(record);
    } else {
      records.insert(at, std::move(record));
    }
  });
  return problems;
}

bool take_out_record(room::Room& room, std::string_view kind, const std::string& id) {
  bool taken = false;
  with_kind(room, kind, [&](auto& records) {
    taken = std::erase_if(records, [&](const auto& record) { return record.id.text() == id; }) > 0;
  });
  return taken;
}

}  // namespace warmside::web
