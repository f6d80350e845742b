#include <fmt/format.h>

#include <vector>

#include "web/json_internal.h"

namespace warmside::web {
namespace {

/// Whether brackets outside of texts nest no deeper than that. What is not JSON is for the parser.
bool nests_at_most(std::string_view text, int deepest) {
  int depth = 0;
  bool quoted = false, escaped = false;
  for (const char c : text) {
    if (quoted) {
      if (escaped) {
        escaped = false;
      } else if (c == '\\') {
        escaped = true;
      } else if (c == '"') {
        quoted = false;
      }
    } else if (c == '"') {
      quoted = true;
    } else if (c == '[' || c == '{') {
      if (++depth > deepest) return false;
    } else if (c == ']' || c == '}') {
      --depth;
    }
  }
  return true;
}

}  // namespace

Result<Json> parse_json(std::string_view text) {
  const auto unreadable = [&](std::string what) {
    return Problem{ProblemCode::bad_syntax, std::move(what), {}, "JSON", shown(text)};
  };
  if (!nests_at_most(text, kDeepestJson)) return unreadable("nested too deep");
  std::vector<std::set<std::string>> fields;  // of the objects that are open
  std::string twice;
  const auto note = [&](int, Json::parse_event_t event, Json& value) {
    if (event == Json::parse_event_t::object_start) fields.emplace_back();
    if (event == Json::parse_event_t::object_end) fields.pop_back();
    if (event == Json::parse_event_t::key && !fields.empty() &&
        !fields.back().insert(value.get<std::string>()).second) {
      twice = value.get<std::string>();
    }
    return true;
  };
  Json json = Json::parse(text, note, false);
  if (json.is_discarded()) return unreadable("not JSON");
  if (!twice.empty()) {
    return Problem{ProblemCode::duplicate, "a field is given twice", {"", 0, shown(twice)}, "", ""};
  }
  return json;
}

Json json_of(const Problem& problem) {
  return {{"what", problem.what},         {"file", problem.where.file},
          {"line", problem.where.line},   {"field", problem.where.field},
          {"expected", problem.expected}, {"found", problem.found}};
}

std::string text_of(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

Result<Json> parse_object(std::string_view text) {
  auto json = parse_json(text);
  if (json && !json->is_object()) {
    return Problem{ProblemCode::bad_value, "not an object", {}, "an object in braces", shown(text)};
  }
  return json;
}

void FieldReader::refuse(const std::string& name, std::string what, std::string expected) {
  problems_.push_back({ProblemCode::bad_value,
                       std::move(what),
                       {"", 0, where_ + shown(name)},
                       std::move(expected),
                       ""});
}

const Json* FieldReader::find(const std::string& name) {
  known_.insert(name);
  const auto at = object_.find(name);
  if (at != object_.end()) return &*at;
  refuse(name, "must be given", "");
  return nullptr;
}

std::string FieldReader::text(const std::string& name, std::size_t fewest, std::size_t most) {
  const Json* value = find(name);
  if (value == nullptr) return "";
  if (!value->is_string()) {
    refuse(name, "not a text", "a text in quotes");
    return "";
  }
  std::string text = value->get<std::string>();
  if (text.size() < fewest || text.size() > most) {
    refuse(name, "a text of the wrong length", fmt::format("{} to {} bytes", fewest, most));
    return "";
  }
  return text;
}

bool FieldReader::yes_no(const std::string& name) {
  const Json* value = find(name);
  if (value == nullptr) return false;
  if (!value->is_boolean()) {
    refuse(name, "neither true nor false", "true or false");
    return false;
  }
  return value->get<bool>();
}

const Json* FieldReader::list(const std::string& name, std::size_t fewest, std::size_t most) {
  const Json* value = find(name);
  if (value == nullptr) return nullptr;
  if (!value->is_array() || value->size() < fewest || value->size() > most) {
    refuse(name, "not a list of the right length", fmt::format("{} to {} of them", fewest, most));
    return nullptr;
  }
  return value;
}

void FieldReader::refuse_others() {
  for (const auto& item : object_.items()) {
    if (!known_.contains(item.key())) refuse(item.key(), "no such field", "");
  }
}

}  // namespace warmside::web
