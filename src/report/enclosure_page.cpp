#include <fmt/format.h>

#include <algorithm>

#include "climate/computed.h"
#include "report/page_parts.h"
#include "report/uv_report.h"

namespace warmside::report {
namespace {

/// What speaks of the enclosure or of equipment that stands in it.
About about(const room::Room& room, const room::Enclosure& enclosure) {
  return {[&room, id = enclosure.id](const Finding& f) {
            const auto in_it = [&](const auto& records) {
              return std::any_of(records.begin(), records.end(), [&](const auto& r) {
                return f.subject_kind == r.kWord && f.subject == r.id.text() && r.enclosure == id;
              });
            };
            return (f.subject_kind == "enclosure" && f.subject == id.text()) ||
                   in_it(room.heaters) || in_it(room.lamps) || in_it(room.thermostats);
          },
          [id = enclosure.id](const round::Task& t) { return t.enclosure == id; }};
}

/// Calls visit(record) for each piece of equipment of the enclosure.
template <class Visit>
void for_each_piece(const room::Room& room, const room::EnclosureId& id, Visit visit) {
  const auto all = [&](const auto& records) {
    for (const auto& record : records) {
      if (record.enclosure == id) visit(record);
    }
  };
  all(room.thermostats);
  all(room.heaters);
  all(room.lamps);
  all(room.instruments);
  all(room.tools);
}

/// "Computed climate": each place against its range, heaters, what is assumed.
void put_climate(const room::Enclosure& enclosure, const room::Day& day, Sheet& sheet) {
  const UnitSystem units = day.room->info.units;
  sheet.heading("Computed climate, a settled day");
  const auto outlook = climate::enclosure_outlook(day, enclosure);
  if (!outlook) {
    const Problem& why = outlook.problem();
    sheet.line(fmt::format("Not computed: {}{}.", why.what,
                           why.expected.empty() ? "" : fmt::format("; needed: {}", why.expected)),
               2);
    return;
  }
  for (const climate::Outlook& place : outlook->places) {
    sheet.row(place.place,
              fmt::format("{}, {} {}{}", place.value, room::word_for(place.standing), place.wanted,
                          place.standing == room::Standing::outside && !place.surely
                              ? " (by less than the computation may be wrong)"
                              : ""),
              28);
  }
  for (const climate::HeaterOutlook& heater : outlook->heaters) {
    sheet.row(
        heater.name,
        fmt::format("on {:.0f} %, {:.1f} W on average, {:.1f} kWh a month{}", 100 * heater.duty,
                    heater.mean_w, heater.kwh_per_month, heater.flat_out ? ", never rests" : ""),
        28);
  }
  sheet.row(
      "together",
      fmt::format(
          "{:.1f} kWh a month{}", outlook->kwh_per_month,
          outlook->cost_per_month ? fmt::format(", cost {:.2f}", *outlook->cost_per_month) : ""),
      28);
  if (outlook->preferred) {
    std::string hours;
    for (std::size_t hour = 2; hour < outlook->quality.size(); hour += 4) {
      const climate::ThermalQuality& q = outlook->quality[hour];
      hours +=
          fmt::format("{}{:02}:30 {:.0f} % ({:.1f})", hours.empty() ? "" : ", ", hour,
                      100 * q.inside_share, (units == UnitSystem::us ? 1.8 : 1.0) * q.distance_k);
    }
    sheet.row("floor as felt",
              fmt::format("share inside {} (mean distance, {}): {}",
                          for_people(*outlook->preferred, units),
                          units == UnitSystem::us ? "°F" : "°C", hours),
              28);
  }
  for (const std::string& assumed : outlook->made.assumed) {
    sheet.line("Assumed: " + assumed, 2, 2, Tone::faint);
  }
  sheet.line(
      fmt::format(
          "Put the assumptions right in a case: warmside climate case {} > {}.toml. Computed, "
          "not measured.",
          enclosure.id.text(), enclosure.id.text()),
      2, 2, Tone::faint);
}

Json climate_json(const room::Enclosure& enclosure, const room::Day& day) {
  const auto outlook = climate::enclosure_outlook(day, enclosure);
  if (!outlook) return {{"computed", false}, {"missing", outlook.problem().expected}};
  Json places = Json::array(), heaters = Json::array();
  for (const climate::Outlook& place : outlook->places) {
    places.push_back({{"place", place.place},
                      {"value", place.value},
                      {"wanted", place.wanted},
                      {"standing", room::word_for(place.standing)},
                      {"surely", place.surely}});
  }
  for (const climate::HeaterOutlook& heater : outlook->heaters) {
    heaters.push_back({{"name", heater.name},
                       {"duty", heater.duty},
                       {"mean_w", heater.mean_w},
                       {"kwh_per_month", heater.kwh_per_month},
                       {"flat_out", heater.flat_out}});
  }
  Json quality = Json::array();
  for (const climate::ThermalQuality& q : outlook->quality) {
    quality.push_back({{"inside_share", q.inside_share}, {"mean_distance_k", q.distance_k}});
  }
  return {
      {"computed", true},
      {"places", std::move(places)},
      {"heaters", std::move(heaters)},
      {"kwh_per_month", outlook->kwh_per_month},
      {"cost_per_month", outlook->cost_per_month ? Json(*outlook->cost_per_month) : Json(nullptr)},
      {"floor_by_hour", std::move(quality)},
      {"assumed", outlook->made.assumed},
      {"heat_balance_error", outlook->heat_balance_error}};
}

}  // namespace

std::string enclosure_as_text(const room::Enclosure& enclosure, const PageInput& input,
                              const SheetStyle& style) {
  const room::Room& room = *input.day->room;
  const UnitSystem units = room.info.units;
  Sheet sheet(style);
  sheet.line(shown_name(enclosure.name, enclosure.id.text()), 0, 0, Tone::strong);
  put_fields(enclosure, units, sheet);
  for (const room::AnimalDay* animal : input.day->animals_in(enclosure.id)) {
    sheet.row("lives here",
              fmt::format("{}, {}", shown_name(animal->animal->name, animal->animal->id.text()),
                          animal->profile.common_name),
              20);
  }
  put_today(input, about(room, enclosure), sheet);
  sheet.heading("Equipment");
  bool any = false;
  for_each_piece(room, enclosure.id, [&](const auto& record) {
    any = true;
    std::string text = record.id.text();
    for (const auto& [label, value] : filled_fields(record, units)) {
      if (label != "enclosure") text += fmt::format(", {} {}", label, value);
    }
    sheet.row(record.kWord, text, 14);
  });
  if (!any) sheet.line("None listed.", 2);
  put_tools(enclosure, input, sheet);
  put_climate(enclosure, *input.day, sheet);
  put_uv(enclosure, *input.day, sheet);
  put_latest(input, sheet);
  return sheet.text();
}

std::string enclosure_as_json(const room::Enclosure& enclosure, const PageInput& input) {
  const room::Room& room = *input.day->room;
  Json json{{"date", to_text(input.day->date)},
            {"enclosure", enclosure.id.text()},
            {"record", fields_json(enclosure)},
            {"animals", Json::array()}};
  for (const room::AnimalDay* animal : input.day->animals_in(enclosure.id)) {
    json["animals"].push_back(animal->animal->id.text());
  }
  json.update(today_json(input, about(room, enclosure)));
  json["equipment"] = Json::array();
  for_each_piece(room, enclosure.id, [&](const auto& record) {
    Json item = fields_json(record);
    item["record_kind"] = record.kWord;
    json["equipment"].push_back(std::move(item));
  });
  json["tools"] = tools_json(enclosure, input);
  json["climate"] = climate_json(enclosure, *input.day);
  json["uv"] = uv_json(enclosure, *input.day);
  json["entries"] = latest_json(input);
  return dumped(json);
}

}  // namespace warmside::report
