#include <fmt/format.h>

#include <algorithm>

#include "health/animal_weight.h"
#include "health/body_condition.h"
#include "health/quarantine.h"
#include "health/signs.h"
#include "report/animal_food.h"
#include "report/page_parts.h"

namespace warmside::report {
namespace {

using room::Entry;
using room::EntryKind;

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

About about(const room::Animal& animal) {
  return {[id = animal.id.text()](const Finding& f) {
            return f.subject_kind == "animal" && f.subject == id;
          },
          [id = animal.id](const round::Task& t) { return t.animal == id; }};
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
  put_today(input, about(animal), sheet);
  const health::AnimalHealth health = health_of(state, input);
  if (state != nullptr) put_quarantine(*state, *input.day, sheet);
  put_health(health.signs, sheet);
  put_weighings(animal, *input.day, sheet);
  put_body_condition(health.condition, units, sheet);
  if (state != nullptr) put_food(*state, *input.day, sheet);
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
  json.update(today_json(input, about(animal)));
  json["quarantine"] = state == nullptr ? Json(nullptr) : quarantine_json(*state, *input.day);
  json["weighings"] = Json::array();
  for (const Entry& entry : input.day->history->all(room::subject_of(animal), EntryKind::weighed)) {
    json["weighings"].push_back({{"at", to_text(entry.at)}, {"mass_g", entry.mass->grams()}});
  }
  const health::AnimalHealth health = health_of(state, input);
  json["weight"] = health.weight ? trend_json(health.weight->report) : Json(nullptr);
  json["body_condition"] = body_condition_json(health.condition);
  json["signs"] = signs_json(health.signs);
  json["food"] = state == nullptr ? Json(nullptr) : food_json(*state, *input.day);
  json["profile"] =
      facts_json(state == nullptr ? room::profile_of(*input.day->room, animal) : state->profile);
  json["entries"] = latest_json(input);
  return dumped(json);
}

}  // namespace warmside::report
