#pragma once
// Writing the fields of a record as TOML: what the room file and the case file share.

#include <fmt/format.h>

#include <string>
#include <vector>

#include "room/fields.h"
#include "room/quoted_text.h"

namespace warmside::room {

/// A field as TOML; empty for an empty optional or reference.
template <class T>
std::string toml_text(const T& field, UnitSystem units) {
  if constexpr (IsOptional<T>::value) {
    return field ? toml_text(*field, units) : "";
  } else if constexpr (std::same_as<T, std::string>) {
    return room::quoted(field);
  } else if constexpr (std::same_as<T, bool>) {
    return field ? "true" : "false";
  } else if constexpr (std::same_as<T, int>) {
    return std::to_string(field);
  } else if constexpr (std::same_as<T, double>) {
    const std::string text = fmt::format("{}", field);  // shortest that reads back
    return text.find_first_of(".e") == std::string::npos ? text + ".0" : text;
  } else if constexpr (std::same_as<T, Date>) {
    return to_text(field);
  } else if constexpr (IsId<T>::value) {
    return field.empty() ? "" : room::quoted(field.text());
  } else {
    return room::quoted(field_text(field, units));
  }
}

/// One line for each field that must be there or is not as in a new record.
template <class Record>
void write_fields(const Record& record, UnitSystem units, std::string& out) {
  std::vector<std::string> defaults;
  const Record blank{};
  Record::describe(blank, [&](const char*, Need, const auto& field, const char*) {
    defaults.push_back(toml_text(field, units));
  });
  std::size_t i = 0;
  Record::describe(record, [&](const char* name, Need need, const auto& field, const char*) {
    const std::string text = toml_text(field, units);
    if (need == Need::must || text != defaults[i]) {
      out += fmt::format("{} = {}\n", name, text);
    }
    ++i;
  });
}

}  // namespace warmside::room
