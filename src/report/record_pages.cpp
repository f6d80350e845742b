#include "report/record_pages.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "climate/computed.h"
#include "health/animal_weight.h"
#include "health/body_condition.h"
#include "health/quarantine.h"
#include "health/signs.h"
#include "report/json_parts.h"
#include "room/fields.h"

namespace warmside::report {
namespace {

using room::Entry;
using room::EntryKind;

std::string shown_name(const std::string& name, const std::string& id) {
  return name.empty() ? id : fmt::format("{} ({})", name, id);
}

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

void put_facts(const species::Profile& profile, UnitSystem units, Sheet& sheet) {
  for (const species::Fact& fact : profile.facts) {
    std::string text = species::for_people(fact.value, units);
    if (fact.trust == Trust::common_practice) {
      text += fmt::format("  [{}]", fact.source);  // "common practice, no source"
    } else {
      text += fmt::format("  [{}: {}]", word(fact.trust), fact.source);
    }
    if (!fact.note.empty()) text += " " + fact.note;
    sheet.row(species::key_info(fact.key).label, text, 28);
  }
}

Json facts_json(const species::Profile& profile) {
  Json list = Json::array();
  for (const species::Fact& fact : profile.facts) {
    list.push_back({{"key", species::key_info(fact.key).name},
                    {"value", species::to_text(fact.value)},
                    {"status", word(fact.trust)},
                    {"source", fact.source},
                    {"note", fact.note}});
  }
  return list;
}

bool is_struck(const PageInput& input, const Entry& entry) {
  return std::find(input.struck.begin(), input.struck.end(), entry.id) != input.struck.end();
}

void put_latest(const PageInput& input, Sheet& sheet) {
  sheet.heading("Notebook, newest first");
  if (input.latest.empty()) sheet.line("Nothing yet.", 2);
  for (const Entry& entry : input.latest) {
    sheet.line(fmt::format("{}  {}{}", input.day->zone.wall_text(entry.at),
                           room::describe_entry(entry, input.day->room->info.units),
                           is_struck(input, entry) ? "  (struck out: does not hold)" : ""),
               2, 18, is_struck(input, entry) ? Tone::faint : Tone::plain);
  }
}

Json latest_json(const PageInput& input) {
  Json list = Json::array();
  for (const Entry& entry : input.latest) {
    Json item = json_of(entry);
    item["struck"] = is_struck(input, entry);
    list.push_back(std::move(item));
  }
  return list;
}

/// Findings and tasks that speak of the thing.
template <class Wanted>
void put_today(const PageInput& input, Wanted wanted_finding, auto wanted_task, Sheet& sheet) {
  sheet.heading("Today");
  bool any = false;
  for (const Finding& finding : input.round->findings) {
    if (!wanted_finding(finding)) continue;
    any = true;
    sheet.line(fmt::format("[{}] {}", name_of(finding.when), finding.headline), 2, 2, Tone::strong);
    sheet.line(finding.evidence, 4);
    sheet.line("Do: " + finding.advice, 4, 4);
    sheet.line("Source: " + finding.source, 4, 4, Tone::faint);
  }
  const auto put = [&](const round::Task& task) {
    if (!wanted_task(task)) return;
    any = true;
    sheet.line(fmt::format("due {}{}: {}", to_text(task.due.date),
                           task.due.late_days > 0
                               ? fmt::format(" ({} late)", round::days_words(task.due.late_days))
                               : "",
                           task.title),
               2, 2);
    if (!task.detail.empty()) sheet.line(task.detail, 6);
    sheet.line("Why: " + task.reason, 6, 0, Tone::faint);
  };
  for (const round::Stop& stop : input.round->stops) {
    for (const round::Task& task : stop.tasks) put(task);
  }
  for (const round::Task& task : input.round->ahead) put(task);
  if (!any) sheet.line("Nothing noticed and nothing due in the coming days.", 2);
}

Json today_json(const PageInput& input, auto wanted_finding, auto wanted_task) {
  Json json{{"findings", Json::array()}, {"tasks", Json::array()}};
  for (const Finding& finding : input.round->findings) {
    if (wanted_finding(finding)) json["findings"].push_back(json_of(finding));
  }
  for (const round::Stop& stop : input.round->stops) {
    for (const round::Task& task : stop.tasks) {
      if (wanted_task(task)) json["tasks"].push_back(json_of(task));
    }
  }
  for (const round::Task& task : input.round->ahead) {
    if (wanted_task(task)) json["tasks"].push_back(json_of(task));
  }
  return json;
}

const room::AnimalDay* state_of(const room::Day& day, const room::Animal& animal) {
  for (const room::AnimalDay& candidate : day.animals) {
    if (candidate.animal->id == animal.id) return &candidate;
  }
  return nullptr;
}

/// The states that hold, in words.
std::vector<std::string> states_of(const room::AnimalDay& state) {
  std::vector<std::string> states;
  const auto since = [&](const char* what, std::optional<Date> date) {
    if (date) states.push_back(fmt::format("{} since {}", what, to_text(*date)));
  };
  since("ill", state.ill_since);
  since("in quarantine", state.quarantine_since);
  since("in brumation", state.brumating_since);
  since("in shed", state.in_shed_since);
  if (state.hatchling) {
    states.emplace_back("newly hatched");
  } else if (state.young) {
    states.emplace_back("young");
  }
  return states;
}

auto finding_about_animal(const room::Animal& animal) {
  return [id = animal.id.text()](const Finding& f) {
    return f.subject_kind == "animal" && f.subject == id;
  };
}
auto task_about_animal(const room::Animal& animal) {
  return [id = animal.id](const round::Task& t) { return t.animal == id; };
}

/// Whether a finding is about the enclosure or about equipment that stands in it.
auto finding_about_enclosure(const room::Room& room, const room::Enclosure& enclosure) {
  return [&room, id = enclosure.id](const Finding& f) {
    const auto in_it = [&](const auto& records) {
      return std::any_of(records.begin(), records.end(), [&](const auto& r) {
        return f.subject_kind == r.kWord && f.subject == r.id.text() && r.enclosure == id;
      });
    };
    return (f.subject_kind == "enclosure" && f.subject == id.text()) || in_it(room.heaters) ||
           in_it(room.lamps) || in_it(room.thermostats);
  };
}
auto task_at_enclosure(const room::Enclosure& enclosure) {
  return [id = enclosure.id](const round::Task& t) { return t.enclosure == id; };
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

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return out;
}

std::vector<const species::Profile*> species_matching(std::string_view text) {
  std::vector<const species::Profile*> found;
  for (const species::Profile& profile : species::built_in().all()) {
    const std::string all = lower(profile.id.text() + " " + profile.common_name + " " +
                                  profile.scientific_name + " " + std::string(word(profile.group)));
    if (all.find(lower(text)) != std::string::npos) found.push_back(&profile);
  }
  return found;
}

/// "Quarantine": progress, restarts, each requirement with the days that count, what to do.
void put_quarantine(const room::AnimalDay& state, const room::Day& day, Sheet& sheet) {
  const health::Quarantine now = health::quarantine_of(state, day);
  const auto ended = health::ended_quarantine_of(state, day);
  if (!now.holds() && !ended) return;
  sheet.heading("Quarantine");
  const health::Quarantine& q = now.holds() ? now : ended->then;
  if (!now.holds()) sheet.line(health::ended_line(*ended), 2, 2);
  sheet.row("began", to_text(*q.began) + (q.presumed ? ", its arrival; nobody jotted it" : ""), 14);
  for (const health::Restart& restart : q.restarts) {
    sheet.row("began again", fmt::format("{}: {}", to_text(restart.on), restart.says), 14);
  }
  if (now.holds()) sheet.line(health::progress_line(now), 2, 2);
  for (const health::Requirement& r : q.requirements) {
    std::string text = fmt::format("{}: {} of {}", r.what, r.have, r.wanted);
    if (!r.counted.empty()) {
      std::string dates;
      for (const Date date : r.counted) dates += (dates.empty() ? "" : ", ") + to_text(date);
      text += fmt::format(" ({})", dates);
    }
    if (!r.detail.empty()) text += "; " + r.detail;
    text += r.trust == Trust::common_practice ? fmt::format("  [{}]", r.source)
                                              : fmt::format("  [{}: {}]", word(r.trust), r.source);
    sheet.row(word(r.standing), text, 14);
  }
  for (const health::Sign& sign : health::quarantine_signs(state, day)) {
    if (!sign.advice.empty()) sheet.line("Do: " + sign.advice, 2, 4);
  }
}

Json quarantine_json(const room::AnimalDay& state, const room::Day& day) {
  const health::Quarantine now = health::quarantine_of(state, day);
  const auto ended = health::ended_quarantine_of(state, day);
  if (!now.holds() && !ended) return nullptr;
  const health::Quarantine& q = now.holds() ? now : ended->then;
  Json restarts = Json::array(), requirements = Json::array();
  for (const health::Restart& restart : q.restarts) {
    restarts.push_back(
        {{"on", to_text(restart.on)}, {"reason", word(restart.reason)}, {"says", restart.says}});
  }
  for (const health::Requirement& r : q.requirements) {
    Json counted = Json::array();
    for (const Date date : r.counted) counted.push_back(to_text(date));
    requirements.push_back({{"need", word(r.need)},
                            {"what", r.what},
                            {"standing", word(r.standing)},
                            {"wanted", r.wanted},
                            {"have", r.have},
                            {"counted", std::move(counted)},
                            {"detail", r.detail},
                            {"status", word(r.trust)},
                            {"source", r.source}});
  }
  return {{"began", to_text(*q.began)},
          {"presumed", q.presumed},
          {"ended", now.holds() ? Json(nullptr) : Json(to_text(ended->ended))},
          {"followed", q.followed},
          {"clock_since", to_text(q.clock_since)},
          {"restarts", std::move(restarts)},
          {"days_wanted", q.days_wanted},
          {"days_if_negative", q.days_if_negative ? Json(*q.days_if_negative) : Json(nullptr)},
          {"days_done", q.days_done},
          {"days_left", q.days_left},
          {"earliest_end", to_text(q.earliest_end)},
          {"all_met", q.all_met()},
          {"says", now.holds() ? health::progress_line(now) : health::ended_line(*ended)},
          {"requirements", std::move(requirements)}};
}

constexpr const char* kProfileCaution =
    "A profile is a default to correct, not a law of nature; the words in brackets say how far "
    "each value can be trusted (docs/data.md).";

}  // namespace

namespace {

constexpr std::size_t kWeighingsShown = 12;

/// What the models of health say: what asks for something with its reasons, the rest in a line.
void put_health(const std::vector<health::Sign>& signs, Sheet& sheet) {
  if (signs.empty()) return;
  sheet.heading("Health");
  for (const health::Sign& sign : signs) {
    const bool asks = sign.response >= health::Response::weigh_again;
    sheet.line(fmt::format("It {}: {}.", sign.says, word(sign.response)), 2, 2,
               asks ? Tone::urgent : Tone::plain);
    if (!sign.evidence.empty()) sheet.line(sign.evidence, 4, 0, Tone::faint);
    if (!sign.advice.empty()) sheet.line(sign.advice, 4);
  }
}

void put_weighings(const room::Animal& animal, const room::Day& day, Sheet& sheet) {
  sheet.heading("Weighings");
  const auto weighings = day.history->all(room::subject_of(animal), EntryKind::weighed);
  if (weighings.empty()) sheet.line("None yet.", 2);
  const std::size_t from =
      weighings.size() > kWeighingsShown ? weighings.size() - kWeighingsShown : 0;
  for (const Entry& entry : weighings.subspan(from)) {
    sheet.row(to_text(day.date_of(entry)), for_people(*entry.mass, day.room->info.units), 12);
  }
}

/// "Body condition": the latest mass for its length, against its own before and others.
void put_body_condition(const std::optional<health::BodyCondition>& condition, UnitSystem units,
                        Sheet& sheet) {
  if (!condition) return;
  constexpr std::size_t kLabel = 12;
  const auto shown = [&](const health::SizeOnDay& one) {
    return fmt::format("{} and {} with an empty gut", for_people(one.size.length, units),
                       for_people(one.size.mass, units));
  };
  sheet.heading("Body condition");
  if (condition->sizes.empty()) {
    sheet.line(fmt::format("A length was measured, but no weighing to believe lies within {} days.",
                           health::kSizeWindow_days),
               2);
  } else {
    const health::SizeOnDay& latest = condition->sizes.back();
    sheet.row("length",
              condition->item.empty() ? "nobody wrote which length it is" : condition->item,
              kLabel);
    sheet.row("index",
              fmt::format("{} at {}; measured {}: {}", for_people(latest.index, units),
                          for_people(condition->reference, units), to_text(latest.measured),
                          shown(latest)),
              kLabel);
    sheet.row("before",
              condition->earlier
                  ? health::compared_words(
                        *condition->earlier,
                        fmt::format("the middle of its {}", condition->earlier->count), units)
                  : "no other index of like length",
              kLabel);
    sheet.row(
        "others",
        condition->others
            ? health::compared_words(
                  *condition->others,
                  fmt::format("the middle of {} of its species", condition->others->count), units)
            : "none of its species and of like length in the room",
        kLabel);
    sheet.line(condition->exponent_why + ".", 2, 2, Tone::faint);
  }
  for (const health::SizeOnDay& slip : condition->not_believed) {
    sheet.line(fmt::format("Not believed: {}, measured {}, too far from its other sizes.",
                           shown(slip), to_text(slip.measured)),
               2, 2);
  }
}

Json sizes_json(const std::vector<health::SizeOnDay>& sizes) {
  Json json = Json::array();
  for (const health::SizeOnDay& one : sizes) {
    json.push_back({{"measured", to_text(one.measured)},
                    {"length_m", one.size.length.metres()},
                    {"weighed", to_text(one.weighed)},
                    {"empty_mass_g", one.size.mass.grams()},
                    {"index_g", one.index.grams()}});
  }
  return json;
}

Json body_condition_json(const std::optional<health::BodyCondition>& condition) {
  if (!condition) return nullptr;
  const auto compared = [](const std::optional<health::Compared>& with) -> Json {
    if (!with) return nullptr;
    return {{"count", with->count},
            {"middle_g", with->middle.grams()},
            {"change_pct", 100 * with->change}};
  };
  return {{"item", condition->item},
          {"sizes", sizes_json(condition->sizes)},
          {"not_believed", sizes_json(condition->not_believed)},
          {"animals", condition->animals},
          {"exponent", condition->exponent},
          {"isometric", condition->isometric},
          {"exponent_why", condition->exponent_why},
          {"reference_length_m",
           condition->animals > 0 ? Json(condition->reference.metres()) : Json(nullptr)},
          {"earlier", compared(condition->earlier)},
          {"others", compared(condition->others)}};
}

Json signs_json(const std::vector<health::Sign>& signs) {
  Json json = Json::array();
  for (const health::Sign& sign : signs) {
    json.push_back({{"response", word(sign.response)},
                    {"says", sign.says},
                    {"evidence", sign.evidence},
                    {"advice", sign.advice},
                    {"for_vet", sign.for_vet},
                    {"source", sign.source}});
  }
  return json;
}

/// Nothing of an animal that is not in the room.
health::AnimalHealth health_of(const room::AnimalDay* state, const PageInput& input) {
  return state == nullptr ? health::AnimalHealth{} : health::HealthOfDay(*input.day).of(*state);
}

}  // namespace

std::string animal_as_text(const room::Animal& animal, const PageInput& input,
                           const SheetStyle& style) {
  const UnitSystem units = input.day->room->info.units;
  Sheet sheet(style);
  sheet.line(shown_name(animal.name, animal.id.text()), 0, 0, Tone::strong);
  for (const auto& [label, text] : filled_fields(animal, units)) {
    sheet.row(label == "enclosure" ? "first lived in" : label, text, 20);
  }
  const room::AnimalDay* state = state_of(*input.day, animal);
  if (state == nullptr) {
    sheet.line(fmt::format("Not in the room on {}.", to_text(input.day->date)), 2);
  } else {
    if (!state->home.empty()) sheet.row("lives in", state->home.text(), 20);
    for (const std::string& text : states_of(*state)) sheet.row("state", text, 20);
  }
  put_today(input, finding_about_animal(animal), task_about_animal(animal), sheet);
  const health::AnimalHealth health = health_of(state, input);
  if (state != nullptr) put_quarantine(*state, *input.day, sheet);
  put_health(health.signs, sheet);
  put_weighings(animal, *input.day, sheet);
  put_body_condition(health.condition, units, sheet);
  sheet.heading("Profile");
  sheet.line(kProfileCaution, 2, 0, Tone::faint);
  put_facts(state == nullptr ? room::profile_of(*input.day->room, animal) : state->profile, units,
            sheet);
  put_latest(input, sheet);
  return sheet.text();
}

std::string animal_as_json(const room::Animal& animal, const PageInput& input) {
  const room::AnimalDay* state = state_of(*input.day, animal);
  Json json{{"date", to_text(input.day->date)},
            {"animal", animal.id.text()},
            {"record", fields_json(animal)},
            {"here", state != nullptr},
            {"home", state == nullptr ? Json(nullptr) : id_or_null(state->home)},
            {"states", state == nullptr ? std::vector<std::string>{} : states_of(*state)}};
  json.update(today_json(input, finding_about_animal(animal), task_about_animal(animal)));
  json["quarantine"] = state == nullptr ? Json(nullptr) : quarantine_json(*state, *input.day);
  json["weighings"] = Json::array();
  for (const Entry& entry : input.day->history->all(room::subject_of(animal), EntryKind::weighed)) {
    json["weighings"].push_back({{"at", to_text(entry.at)}, {"mass_g", entry.mass->grams()}});
  }
  const health::AnimalHealth health = health_of(state, input);
  json["weight"] = health.weight ? trend_json(health.weight->report) : Json(nullptr);
  json["body_condition"] = body_condition_json(health.condition);
  json["signs"] = signs_json(health.signs);
  json["profile"] =
      facts_json(state == nullptr ? room::profile_of(*input.day->room, animal) : state->profile);
  json["entries"] = latest_json(input);
  return dumped(json);
}

namespace {

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
    sheet.row(
        place.place,
        fmt::format("{}, {} {}{}", place.value, climate::word_for(place.standing), place.wanted,
                    place.standing == climate::Standing::outside && !place.surely
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
                      {"standing", climate::word_for(place.standing)},
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
  put_today(input, finding_about_enclosure(room, enclosure), task_at_enclosure(enclosure), sheet);
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
  put_climate(enclosure, *input.day, sheet);
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
  json.update(
      today_json(input, finding_about_enclosure(room, enclosure), task_at_enclosure(enclosure)));
  json["equipment"] = Json::array();
  for_each_piece(room, enclosure.id, [&](const auto& record) {
    Json item = fields_json(record);
    item["record_kind"] = record.kWord;
    json["equipment"].push_back(std::move(item));
  });
  json["climate"] = climate_json(enclosure, *input.day);
  json["entries"] = latest_json(input);
  return dumped(json);
}

std::string species_as_text(const species::Profile& profile, UnitSystem units,
                            const SheetStyle& style) {
  Sheet sheet(style);
  sheet.line(
      fmt::format("{}, {} ({})", profile.common_name, profile.scientific_name, profile.id.text()),
      0, 0, Tone::strong);
  sheet.line(fmt::format("{}, {}", word(profile.group), profile.activity), 2);
  sheet.line(kProfileCaution, 2, 0, Tone::faint);
  put_facts(profile, units, sheet);
  return sheet.text();
}

std::string species_as_json(const species::Profile& profile) {
  return dumped({{"species", profile.id.text()},
                 {"common_name", profile.common_name},
                 {"scientific_name", profile.scientific_name},
                 {"group", word(profile.group)},
                 {"activity", profile.activity},
                 {"profile", facts_json(profile)}});
}

std::string species_list_as_text(std::string_view text, const SheetStyle& style) {
  Sheet sheet(style);
  for (const species::Profile* profile : species_matching(text)) {
    sheet.row(profile->id.text(),
              fmt::format("{}, {} ({})", profile->common_name, profile->scientific_name,
                          word(profile->group)),
              24, 0);
  }
  return sheet.text();
}

std::string species_list_as_json(std::string_view text) {
  Json list = Json::array();
  for (const species::Profile* profile : species_matching(text)) {
    list.push_back({{"species", profile->id.text()},
                    {"common_name", profile->common_name},
                    {"scientific_name", profile->scientific_name},
                    {"group", word(profile->group)}});
  }
  return dumped({{"species", std::move(list)}});
}

std::string verdict_as_json(const std::vector<std::string>& wrong, std::int64_t entries) {
  return dumped({{"sound", wrong.empty()}, {"entries", entries}, {"wrong", wrong}});
}

}  // namespace warmside::report
