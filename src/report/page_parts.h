#pragma once
// Parts that the pages of records share. Only report/*.cpp includes this.

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "report/json_parts.h"
#include "report/record_pages.h"
#include "room/fields.h"

namespace warmside::report {

/// "Moss (moss)".
std::string shown_name(const std::string& name, const std::string& id);

/// The fields of a record that say something, as label and text.
template <class Record>
std::vector<std::pair<std::string, std::string>> filled_fields(const Record& record,
                                                               UnitSystem units) {
  std::vector<std::pair<std::string, std::string>> fields;
  Record::describe(record, [&](const char* name, room::Need, const auto& field, const char*) {
    using T = std::remove_cvref_t<decltype(field)>;
    const auto text = [&](const auto& value) -> std::string {
      using V = std::remove_cvref_t<decltype(value)>;
      if constexpr (std::same_as<V, std::string>) {
        return value;
      } else if constexpr (std::same_as<V, bool>) {
        return value ? "yes" : "no";
      } else if constexpr (std::is_arithmetic_v<V>) {
        return fmt::format("{}", value);
      } else if constexpr (Quantity<V>) {
        return for_people(value, units);
      } else if constexpr (std::same_as<V, room::Construction>) {
        std::string layers;
        for (const room::Layer& layer : value.layers) {
          layers += fmt::format("{}{} {}", layers.empty() ? "" : " + ", layer.material,
                                for_people(layer.thickness, units));
        }
        return layers;
      } else {
        return room::field_text(value, units);
      }
    };
    std::string shown;
    if constexpr (room::IsOptional<T>::value) {
      if (field) shown = text(*field);
    } else {
      shown = text(field);
    }
    std::string label(name);
    std::replace(label.begin(), label.end(), '_', ' ');
    if (!shown.empty() && shown != "unknown") fields.emplace_back(label, shown);
  });
  return fields;
}

template <class Record>
void put_fields(const Record& record, UnitSystem units, Sheet& sheet) {
  for (const auto& [label, text] : filled_fields(record, units)) {
    sheet.row(label, text, 20);
  }
}

/// The fields that say something, named as in the room file; quantities as texts in metric units,
/// whatever the people of the room read.
template <class Record>
Json fields_json(const Record& record) {
  Json json{{"id", record.id.text()}};
  Record::describe(record, [&](const char* name, room::Need, const auto& field, const char*) {
    using T = std::remove_cvref_t<decltype(field)>;
    const auto put = [&](const auto& value) {
      if constexpr (std::is_arithmetic_v<std::remove_cvref_t<decltype(value)>>) {
        json[name] = value;
      } else {
        std::string text;
        if constexpr (std::same_as<std::remove_cvref_t<decltype(value)>, std::string>) {
          text = value;
        } else {
          text = room::field_text(value, UnitSystem::metric);
        }
        if (!text.empty() && text != "unknown") json[name] = std::move(text);
      }
    };
    if constexpr (room::IsOptional<T>::value) {
      if (field) put(*field);
    } else {
      put(field);
    }
  });
  return json;
}

void put_facts(const species::Profile& profile, UnitSystem units, Sheet& sheet);
Json facts_json(const species::Profile& profile);
/// Stands before the facts of a profile.
inline constexpr const char* kProfileCaution =
    "A profile is a default to correct, not a law of nature; the words in brackets say how far "
    "each value can be trusted (docs/data.md).";

/// The latest entries about the thing.
void put_latest(const PageInput& input, Sheet& sheet);
Json latest_json(const PageInput& input);

/// Whose tools serve an enclosure and what it may share; nothing, or null, where nobody lives.
void put_tools(const room::Enclosure& enclosure, const PageInput& input, Sheet& sheet);
Json tools_json(const room::Enclosure& enclosure, const PageInput& input);

/// Which findings and tasks speak of a thing.
struct About {
  std::function<bool(const Finding&)> finding;
  std::function<bool(const round::Task&)> task;
};
/// Findings and tasks that speak of the thing.
void put_today(const PageInput& input, const About& about, Sheet& sheet);
Json today_json(const PageInput& input, const About& about);

}  // namespace warmside::report
