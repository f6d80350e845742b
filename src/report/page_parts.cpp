#include "report/page_parts.h"

namespace warmside::report {

std::string shown_name(const std::string& name, const std::string& id) {
  return name.empty() ? id : fmt::format("{} ({})", name, id);
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

namespace {

bool is_struck(const PageInput& input, const room::Entry& entry) {
  return std::find(input.struck.begin(), input.struck.end(), entry.id) != input.struck.end();
}

}  // namespace

void put_latest(const PageInput& input, Sheet& sheet) {
  sheet.heading("Notebook, newest first");
  if (input.latest.empty()) sheet.line("Nothing yet.", 2);
  for (const room::Entry& entry : input.latest) {
    sheet.line(fmt::format("{}  {}{}", input.day->zone.wall_text(entry.at),
                           room::describe_entry(entry, input.day->room->info.units),
                           is_struck(input, entry) ? "  (struck out: does not hold)" : ""),
               2, 18, is_struck(input, entry) ? Tone::faint : Tone::plain);
  }
}

Json latest_json(const PageInput& input) {
  Json list = Json::array();
  for (const room::Entry& entry : input.latest) {
    Json item = json_of(entry);
    item["struck"] = is_struck(input, entry);
    list.push_back(std::move(item));
  }
  return list;
}

void put_today(const PageInput& input, const About& about, Sheet& sheet) {
  sheet.heading("Today");
  bool any = false;
  for (const Finding& finding : input.round->findings) {
    if (!about.finding(finding)) continue;
    any = true;
    sheet.line(fmt::format("[{}] {}", name_of(finding.when), finding.headline), 2, 2, Tone::strong);
    sheet.line(finding.evidence, 4);
    sheet.line("Do: " + finding.advice, 4, 4);
    sheet.line("Source: " + finding.source, 4, 4, Tone::faint);
  }
  const auto put = [&](const round::Task& task) {
    if (!about.task(task)) return;
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

Json today_json(const PageInput& input, const About& about) {
  Json json{{"findings", Json::array()}, {"tasks", Json::array()}};
  for (const Finding& finding : input.round->findings) {
    if (about.finding(finding)) json["findings"].push_back(json_of(finding));
  }
  for (const round::Stop& stop : input.round->stops) {
    for (const round::Task& task : stop.tasks) {
      if (about.task(task)) json["tasks"].push_back(json_of(task));
    }
  }
  for (const round::Task& task : input.round->ahead) {
    if (about.task(task)) json["tasks"].push_back(json_of(task));
  }
  return json;
}

}  // namespace warmside::report
