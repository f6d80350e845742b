#include "health/weights_file.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>

#include "core/csv.h"

namespace warmside::health {
namespace {

constexpr double kDay_ms = 86'400'000;
constexpr std::size_t kMostRows = 5'000'000;
constexpr std::size_t kMostProblems = 20;
constexpr std::size_t kLongestName = 120;

/// The step that a number is written to: 0.1 of "40.0".
double step_shown(std::string_view number) {
  const std::size_t point = number.find('.');
  if (point == std::string_view::npos) return 1;
  const std::size_t end = std::min(number.find_first_of("eE"), number.size());
  return std::pow(10.0, -static_cast<double>(end - point - 1));
}

class WeighingsReader {
 public:
  WeighingsReader(std::string_view text, const std::string& file) : reader_(text), file_(file) {}

  Checked<std::vector<AnimalWeighings>> read() {
    if (!read_head()) return problems_;
    while (problems_.size() < kMostProblems) {
      const auto row = reader_.next();
      if (!row) return fail(row.problem());
      if (*row == nullptr) break;
      if (++rows_ > kMostRows) return fail("", "too many rows", "at most 5,000,000");
      read_row(**row);
    }
    if (problems_.empty() && animals_.empty()) {
      return fail("", "no weighing", "a row such as juniper,2026-11-25,812");
    }
    if (!problems_.empty()) return problems_;
    return std::move(animals_);
  }

 private:
  Problems fail(Problem problem) {
    problem.where.file = file_;
    problems_.push_back(std::move(problem));
    return problems_;
  }
  Problems fail(std::string_view field, std::string what, std::string expected,
                std::string_view found = "") {
    problems_.push_back({ProblemCode::bad_value,
                         std::move(what),
                         {file_, reader_.line(), std::string(field)},
                         std::move(expected),
                         shown(found)});
    return problems_;
  }

  bool read_head() {
    const auto head = reader_.next();
    const bool there = head && *head != nullptr;
    for (std::size_t i = 0; there && i < (*head)->size(); ++i) {
      for (std::size_t k = 0; k < kColumns.size(); ++k) {
        if ((**head)[i] == kColumns[k]) column_[k] = i;
      }
    }
    for (std::size_t k = 0; k < kColumns.size(); ++k) {
      if (column_[k] != kNone) continue;
      fail(kColumns[k], "there is no such column", "a first line animal,time,mass_g");
    }
    return problems_.empty();
  }

  void read_row(const std::vector<std::string_view>& row) {
    if (row.size() <= std::max({column_[0], column_[1], column_[2]})) {
      fail("", "a row that is too short", "as many fields as the first line");
      return;
    }
    const std::string_view name = row[column_[0]], time = row[column_[1]], mass = row[column_[2]];
    if (name.empty() || name.size() > kLongestName) {
      fail(kColumns[0], "not a name", "1 to 120 characters", name);
      return;
    }
    std::optional<double> day;
    if (const auto instant = parse_instant(time)) {
      day = static_cast<double>(instant->unix_ms()) / kDay_ms;
    } else if (const auto date = parse_date(time)) {
      day = date->days_from_epoch() + 0.5;
    }
    if (!day) {
      fail(kColumns[1], "not a time", "2026-11-25 or 2026-11-25T08:10:00+01:00", time);
      return;
    }
    double mass_g = 0;
    const auto [end, error] = std::from_chars(mass.data(), mass.data() + mass.size(), mass_g);
    if (error != std::errc() || end != mass.data() + mass.size() || !std::isfinite(mass_g)) {
      fail(kColumns[2], "not a number", "grams, such as 812 or 40.8", mass);
      return;
    }
    const auto [found, fresh] = places_.emplace(std::string(name), animals_.size());
    if (fresh) animals_.push_back({std::string(name), {}, {}});
    AnimalWeighings& animal = animals_[found->second];
    animal.weighed.push_back({*day, mass_g, 0, 0, step_shown(mass)});
    animal.lines.push_back(reader_.line());
  }

  static constexpr std::size_t kNone = static_cast<std::size_t>(-1);
  static constexpr std::array<std::string_view, 3> kColumns{"animal", "time", "mass_g"};
  CsvReader reader_;
  const std::string& file_;
  Problems problems_;
  std::array<std::size_t, 3> column_{kNone, kNone, kNone};
  std::size_t rows_ = 0;
  std::map<std::string, std::size_t> places_;
  std::vector<AnimalWeighings> animals_;
};

}  // namespace

Checked<std::vector<AnimalWeighings>> read_weighings(std::string_view text,
                                                     const std::string& file) {
  return WeighingsReader(text, file).read();
}

std::vector<JudgedAnimal> judge(const std::vector<AnimalWeighings>& animals) {
  const KindOfAnimal kind;
  std::vector<Weights> all;
  for (const AnimalWeighings& animal : animals) {
    all.push_back(weights_of(animal.weighed, {}, kind));
  }
  const Motion motion = fitted(all, kind);
  std::vector<JudgedAnimal> judged;
  for (std::size_t i = 0; i < animals.size(); ++i) {
    JudgedAnimal one{animals[i].animal, std::nullopt, {}};
    if (!all[i].weighings.empty()) {
      one.report = report_of(all[i], kind, motion, all[i].weighings.back().day);
    }
    for (const Suspect& suspect : all[i].suspects) {
      one.left_out.push_back(
          {animals[i].lines[suspect.index], animals[i].weighed[suspect.index].mass_g, suspect.why});
    }
    std::sort(one.left_out.begin(), one.left_out.end(),
              [](const auto& a, const auto& b) { return a.line < b.line; });
    judged.push_back(std::move(one));
  }
  return judged;
}

Date date_of_day(double day) {
  return Zone().date_of(Instant::unix_ms(static_cast<std::int64_t>(std::floor(day * kDay_ms))));
}

}  // namespace warmside::health
