#pragma once
// Pieces of JSON that several answers share. Only report/*.cpp includes this.

#include <nlohmann/json.hpp>

#include "core/finding.h"
#include "health/weights_file.h"
#include "room/entry.h"
#include "round/tasks.h"

namespace warmside::report {

using Json = nlohmann::ordered_json;

inline Json json_of(const Finding& finding) {
  return {{"when", name_of(finding.when)},
          {"subject", finding.subject},
          {"subject_kind", finding.subject_kind},
          {"headline", finding.headline},
          {"evidence", finding.evidence},
          {"advice", finding.advice},
          {"source", finding.source},
          {"module", finding.module}};
}

template <class IdType>
Json id_or_null(const IdType& id) {
  return id.empty() ? Json(nullptr) : Json(id.text());
}

inline Json json_of(const diet::Course& course) {
  return {{"food", course.item},
          {"count", course.count ? Json(*course.count) : Json(nullptr)},
          {"mass_g", course.mass ? Json(course.mass->grams()) : Json(nullptr)},
          {"jar", id_or_null(course.jar)}};
}

inline Json json_of(const round::Task& task) {
  Json json{{"task", word(task.kind)},
            {"title", task.title},
            {"animal", id_or_null(task.animal)},
            {"enclosure", id_or_null(task.enclosure)},
            {"subject_kind", word(task.subject.kind)},
            {"subject", task.subject.id},
            {"detail", task.detail},
            {"reason", task.reason},
            {"due", to_text(task.due.date)},
            {"late_days", task.due.late_days},
            {"every_days", task.every_days}};
  if (task.kind == round::TaskKind::feeding) {
    json["courses"] = Json::array();
    for (const diet::Course& course : task.courses) json["courses"].push_back(json_of(course));
  }
  if (task.kind == round::TaskKind::weighing) {
    json["last_mass_g"] = task.last_mass ? Json(task.last_mass->grams()) : Json(nullptr);
  }
  return json;
}

inline Json json_of(const room::Entry& entry) {
  Json json{{"id", to_text(entry.id)},
            {"at", to_text(entry.at)},
            {"kind", word(entry.kind)},
            {"text", room::describe_entry(entry, UnitSystem::metric)}};
  if (entry.mass) json["mass_g"] = entry.mass->grams();
  if (entry.length) json["length_m"] = entry.length->metres();
  if (entry.temperature) json["temperature_c"] = entry.temperature->celsius();
  if (entry.humidity) json["humidity_pct"] = entry.humidity->percent();
  if (entry.uvi) json["uvi"] = entry.uvi->index();
  if (entry.count) json["count"] = *entry.count;
  if (!entry.item.empty()) json["item"] = entry.item;
  return json;
}

/// What the weight model says, but for days and the reasons.
inline Json trend_json(const health::WeightReport& report) {
  return {{"mass_g", report.mass_g},
          {"mass_lo_g", report.low_g},
          {"mass_hi_g", report.high_g},
          {"rate_pct_per_30d", report.rate_pct_per_30d},
          {"rate_lo_pct_per_30d", report.rate_low},
          {"rate_hi_pct_per_30d", report.rate_high},
          {"p_loss_over_5pct", report.p_loss_over_5},
          {"p_loss_over_10pct", report.p_loss_over_10},
          {"p_loss_over_20pct", report.p_loss_over_20},
          {"reference_g", report.reference_g},
          {"since", to_text(health::date_of_day(report.since_day))},
          {"weighings", report.believed},
          {"verdict", word(report.trend)}};
}

/// Compact text of a document. Names and notes were checked to be UTF-8 when they were read.
inline std::string dumped(const Json& json) {
  return json.dump(2) + "\n";
}

}  // namespace warmside::report
