#include "report/light_plan_report.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/page_parts.h"

namespace warmside::report {
namespace {

using light::TimerPlan;
using light::TimerSetting;
using light::WeekOfLight;

constexpr const char* kTimerCaution =
    "The labels of lamp and timer go before this page; fixed wiring is for a licensed electrician. "
    "Longer light heats longer: watch the warm side after a change.";
constexpr const char* kSource =
    "Source: lengths as said for each animal; 5 minutes, the middle that stays and the step a week "
    "are common practice, no source.";

template <class Record>
std::string listed(const std::vector<const Record*>& records) {
  std::string text;
  for (const Record* record : records) {
    text += fmt::format("{}{}", text.empty() ? "" : ", ", record->id.text());
  }
  return text;
}

std::string times_of(const TimerSetting& setting) {
  return fmt::format("{} to {}", to_text(setting.on), to_text(setting.off));
}

std::string remarks_on(const WeekOfLight& week) {
  std::string text = light::light_words(week.length);
  if (week.on_the_way) {
    text += fmt::format(", on the way to {}", light::light_words(week.wanted));
  }
  if (!week.agree) text += "; its animals want different days, this is the mean";
  if (week.clock_change) {
    text += fmt::format(
        "; the clocks change on {}: from then {} (a timer whose own clock is not changed stays as "
        "it is)",
        to_text(week.clock_change->day), times_of(week.clock_change->setting));
  }
  return text;
}

/// Each opinion once, with all whose it is.
void put_wishes(const light::SharedLight& shared, Sheet& sheet) {
  std::vector<std::pair<std::string, std::string>> names_by_words;
  for (const light::SharedLight::Wish& wish : shared.wishes) {
    for (const light::LightOpinion& opinion : wish.light.opinions) {
      const std::string& name = room::called(*wish.animal->animal);
      const auto there =
          std::find_if(names_by_words.begin(), names_by_words.end(),
                       [&](const auto& entry) { return entry.first == opinion.words; });
      if (there == names_by_words.end()) {
        names_by_words.emplace_back(opinion.words, name);
      } else {
        there->second += ", " + name;
      }
    }
  }
  for (const auto& entry : names_by_words) {
    sheet.line(fmt::format("{}: {}", entry.second, entry.first), 2, 2);
  }
}

void put_plan(const TimerPlan& plan, Sheet& sheet) {
  sheet.heading(shown_name(plan.enclosure->name, plan.enclosure->id.text()));
  if (!plan.unknown.empty()) {
    sheet.line("No plan: " + plan.unknown + ".", 2);
    return;
  }
  put_wishes(plan.light, sheet);
  if (plan.timers.empty()) {
    sheet.line(
        "No timer with both times is named for its lamps: the middle of the day is put at "
        "13:00 standard time.",
        2);
  } else {
    sheet.line(fmt::format("Set: {}, now {}", listed(plan.timers),
                           times_of({*plan.timers.front()->on, *plan.timers.front()->off})),
               2);
  }
  if (!plan.others.empty()) {
    sheet.line(fmt::format("Not planned, with hours of their own: {}", listed(plan.others)), 2);
  }
  if (!plan.as_well.empty()) {
    sheet.line(fmt::format("The same timer also lights: {}", listed(plan.as_well)), 2);
  }
  for (const WeekOfLight& week : plan.weeks) {
    sheet.row(to_text(week.monday), times_of(week.setting) + ": " + remarks_on(week), 12);
  }
}

Json setting_json(const TimerSetting& setting) {
  return {{"on", to_text(setting.on)}, {"off", to_text(setting.off)}};
}

template <class Record>
Json ids_json(const std::vector<const Record*>& records) {
  Json json = Json::array();
  for (const Record* record : records) json.push_back(record->id.text());
  return json;
}

Json week_json(const WeekOfLight& week) {
  Json json{{"monday", to_text(week.monday)}};
  json.update(setting_json(week.setting));
  json["length_h"] = week.length.hours();
  json["wanted_h"] = week.wanted.hours();
  json["on_the_way"] = week.on_the_way;
  json["agree"] = week.agree;
  json["clock_change"] = nullptr;
  if (week.clock_change) {
    json["clock_change"] = {{"date", to_text(week.clock_change->day)}};
    json["clock_change"].update(setting_json(week.clock_change->setting));
  }
  return json;
}

Json plan_json(const TimerPlan& plan) {
  Json json{{"enclosure", plan.enclosure->id.text()},
            {"unknown", plan.unknown.empty() ? Json(nullptr) : Json(plan.unknown)},
            {"timers", ids_json(plan.timers)},
            {"other_timers", ids_json(plan.others)},
            {"also_lights", ids_json(plan.as_well)}};
  json["now"] = nullptr;
  if (!plan.timers.empty()) {
    json["now"] = setting_json({*plan.timers.front()->on, *plan.timers.front()->off});
  }
  json["wanted"] = Json::array();
  for (const light::SharedLight::Wish& wish : plan.light.wishes) {
    Json opinions = Json::array();
    for (const light::LightOpinion& opinion : wish.light.opinions) {
      opinions.push_back({{"length_h", opinion.length.hours()}, {"words", opinion.words}});
    }
    json["wanted"].push_back(
        {{"animal", wish.animal->animal->id.text()}, {"opinions", std::move(opinions)}});
  }
  json["weeks"] = Json::array();
  for (const WeekOfLight& week : plan.weeks) json["weeks"].push_back(week_json(week));
  return json;
}

}  // namespace

std::string light_plan_as_text(const room::Day& day, const std::vector<TimerPlan>& plans,
                               const SheetStyle& style) {
  Sheet sheet(style);
  sheet.line(
      fmt::format("{}: timers week by week, from {}", day.room->info.name, to_text(day.date)), 0, 0,
      Tone::strong);
  if (plans.empty()) sheet.line("No lamp in use is named for an enclosure.", 2);
  for (const TimerPlan& plan : plans) put_plan(plan, sheet);
  sheet.heading("With every change");
  sheet.line(kTimerCaution, 2);
  sheet.line(kSource, 2, 0, Tone::faint);
  return sheet.text();
}

std::string light_plan_as_json(const room::Day& day, const std::vector<TimerPlan>& plans) {
  Json json{{"date", to_text(day.date)}, {"room", day.room->info.name}};
  json["enclosures"] = Json::array();
  for (const TimerPlan& plan : plans) json["enclosures"].push_back(plan_json(plan));
  json["caution"] = kTimerCaution;
  json["source"] = kSource;
  return dumped(json);
}

}  // namespace warmside::report
