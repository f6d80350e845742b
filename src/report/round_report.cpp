#include "report/round_report.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/json_parts.h"

namespace warmside::report {
namespace {

std::string joined(const std::vector<std::string>& parts) {
  return fmt::format("{}", fmt::join(parts, ", "));
}

std::string weekday(Date date) {
  static constexpr const char* kDays[] = {"Thursday", "Friday",  "Saturday", "Sunday",
                                          "Monday",   "Tuesday", "Wednesday"};
  const int days = date.days_from_epoch();  // 1970-01-01 was a Thursday
  return kDays[((days % 7) + 7) % 7];
}

void put_findings(const round::Round& round, Sheet& sheet) {
  sheet.heading("What was noticed");
  if (round.findings.empty()) sheet.line("Nothing. All readings and weighings are in order.", 2);
  const char* last = "";
  for (std::size_t i = 0; i < round.findings.size(); ++i) {
    const Finding& finding = round.findings[i];
    const char* when = name_of(finding.when);
    if (std::string_view(when) != last) {
      sheet.line(fmt::format("[{}]", when), 2, 0,
                 finding.when == When::now ? Tone::urgent : Tone::mild);
    }
    last = when;
    sheet.line("* " + finding.headline, 2, 2, Tone::strong);
    sheet.line(finding.evidence, 4);
    // Several in a row that ask for the same, as after days away, say it once.
    if (i + 1 < round.findings.size() && round.findings[i + 1].when == finding.when &&
        round.findings[i + 1].advice == finding.advice &&
        round.findings[i + 1].source == finding.source) {
      continue;
    }
    sheet.line("Do: " + finding.advice, 4, 4);
    sheet.line("Source: " + finding.source, 4, 4, Tone::faint);
  }
}

void put_stop(const round::Stop& stop, int number, Sheet& sheet) {
  std::string title = fmt::format("{}. {}", number, stop.title);
  if (!stop.animal_names.empty()) title += ": " + joined(stop.animal_names);
  sheet.blank();
  sheet.line(title, 0, 4, Tone::strong);
  if (!stop.where.empty()) sheet.line(stop.where, 4, 0, Tone::faint);
  sheet.line("Here because: " + stop.reason, 4, 2, Tone::faint);
  for (const std::string& step : stop.before) sheet.line(step, 4, 2, Tone::mild);
  for (const round::Task& task : stop.tasks) {
    sheet.line(fmt::format("[ ] {}{}", task.title,
                           task.due.late_days > 0
                               ? fmt::format(" (due {}, {} late)", to_text(task.due.date),
                                             round::days_words(task.due.late_days))
                               : ""),
               4, 4);
    // What is done every day needs no explaining; JSON and the enclosure's page have it all.
    const bool daily = task.every_days == 1 && task.animal.empty();
    if (daily) continue;
    if (!task.detail.empty()) sheet.line(task.detail, 8);
    sheet.line("Why: " + task.reason, 8, 0, Tone::faint);
  }
}

}  // namespace

std::string round_as_text(const round::Round& round, const SheetStyle& style) {
  Sheet sheet(style);
  sheet.line(fmt::format("{}: the round of {} {}", round.room_name, weekday(round.date),
                         to_text(round.date)),
             0, 0, Tone::strong);
  for (const std::string& caution : round.cautions) sheet.line(caution, 2);
  put_findings(round, sheet);
  sheet.heading("The round, cleanest first");
  if (round.stops.empty()) sheet.line("Nothing is due today.", 2);
  int number = 0;
  for (const round::Stop& stop : round.stops) put_stop(stop, ++number, sheet);
  if (!round.after.empty()) {
    sheet.heading("When all is done");
    for (const std::string& step : round.after) sheet.line(step, 2, 2);
  }
  sheet.heading(fmt::format("The next {} days", round::kDaysAhead));
  if (round.ahead.empty()) sheet.line("Nothing more.", 2);
  // Daily work comes again every day; only what is not daily is worth a line.
  Date last;
  std::string today_line;
  const auto flush = [&] {
    if (!today_line.empty()) {
      sheet.line(fmt::format("{} {}: {}", to_text(last), weekday(last).substr(0, 3), today_line), 2,
                 4);
    }
    today_line.clear();
  };
  for (const round::Task& task : round.ahead) {
    if (task.every_days == 1) continue;
    if (task.due.date != last) flush();
    last = task.due.date;
    today_line += (today_line.empty() ? "" : "; ") + task.title;
    if (task.animal.empty() && !task.enclosure.empty()) {
      today_line += fmt::format(" ({})", task.enclosure.text());
    }
  }
  flush();
  if (round.order_cost_s != round.order_bound_s) {
    sheet.blank();
    sheet.line(fmt::format("Order of stops: costs {} s, and none can cost less than {} s "
                           "(docs/models/hygiene.md).",
                           round.order_cost_s, round.order_bound_s),
               2, 2, Tone::faint);
  }
  return sheet.text();
}

std::string round_as_json(const round::Round& round) {
  Json json{{"date", to_text(round.date)}, {"room", round.room_name}};
  json["cautions"] = round.cautions;
  json["findings"] = Json::array();
  for (const Finding& finding : round.findings) json["findings"].push_back(json_of(finding));
  json["round"] = Json::array();
  for (const round::Stop& stop : round.stops) {
    Json item{{"enclosure", id_or_null(stop.enclosure)},
              {"title", stop.title},
              {"where", stop.where},
              {"class", word(stop.service_class)},
              {"reason", stop.reason},
              {"animals", Json::array()},
              {"animal_names", stop.animal_names},
              {"before", stop.before},
              {"tasks", Json::array()}};
    for (const auto& id : stop.animals) item["animals"].push_back(id.text());
    for (const round::Task& task : stop.tasks) item["tasks"].push_back(json_of(task));
    json["round"].push_back(std::move(item));
  }
  json["order"] = {{"cost_s", round.order_cost_s},
                   {"bound_s", round.order_bound_s},
                   {"proven", round.order_cost_s == round.order_bound_s}};
  json["after"] = round.after;
  json["ahead"] = Json::array();
  for (const round::Task& task : round.ahead) json["ahead"].push_back(json_of(task));
  return dumped(json);
}

}  // namespace warmside::report
