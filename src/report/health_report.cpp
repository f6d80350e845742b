#include "report/health_report.h"

#include <fmt/format.h>

#include <algorithm>

#include "report/json_parts.h"

namespace warmside::report {
namespace {

constexpr const char* kNoDiagnosis =
    "A trend in weighings, not a diagnosis. Weigh before feeding, on the same scale. If a loss "
    "stands, or the animal seems ill, call a veterinarian with reptile or amphibian experience.";

std::string since_of(const health::WeightReport& report) {
  return to_text(health::date_of_day(report.since_day));
}

/// Worst first; of equals in the order of the file.
int rank(const health::JudgedAnimal& animal) {
  return animal.report ? -static_cast<int>(animal.report->trend) : 1;
}

}  // namespace

std::string weights_as_text(const std::vector<health::JudgedAnimal>& animals, UnitSystem units,
                            const SheetStyle& style) {
  std::vector<const health::JudgedAnimal*> order;
  for (const auto& animal : animals) order.push_back(&animal);
  std::stable_sort(order.begin(), order.end(),
                   [](const auto* a, const auto* b) { return rank(*a) < rank(*b); });
  Sheet sheet(style);
  for (const auto* animal : order) {
    if (!animal->report) {
      sheet.line(fmt::format("{}: nothing that can be believed", animal->animal), 0, 2);
    } else {
      const auto& report = *animal->report;
      const bool bad = report.trend >= health::Trend::not_growing;
      sheet.line(fmt::format("{}: {}", animal->animal, word(report.trend)), 0, 2,
                 bad ? Tone::urgent : Tone::strong);
      sheet.line(health::reasons_of(report, since_of(report), units), 2);
    }
    for (const auto& left : animal->left_out) {
      sheet.line(fmt::format("Line {} not believed, {:g} g: {}.", left.line, left.mass_g, left.why),
                 2, 2, Tone::faint);
    }
  }
  sheet.blank();
  sheet.line(kNoDiagnosis, 0, 0, Tone::faint);
  return sheet.text();
}

std::string weights_as_json(const std::vector<health::JudgedAnimal>& animals) {
  Json list = Json::array();
  for (const auto& animal : animals) {
    Json left = Json::array();
    for (const auto& one : animal.left_out) {
      left.push_back({{"line", one.line}, {"mass_g", one.mass_g}, {"why", one.why}});
    }
    Json json{{"animal", animal.animal}};
    if (animal.report) {
      const auto& report = *animal.report;
      json["at"] = to_text(health::date_of_day(report.day));
      json.update(trend_json(report));
      json["reasons"] = health::reasons_of(report, since_of(report), UnitSystem::metric);
    } else {
      json["verdict"] = word(health::Trend::unknown);
      json["weighings"] = 0;
    }
    json["not_believed"] = std::move(left);
    list.push_back(std::move(json));
  }
  return dumped({{"animals", std::move(list)}});
}

}  // namespace warmside::report
