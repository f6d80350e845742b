#include "climate/case_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <set>

#include "climate/moist_air.h"
#include "core/csv.h"
#include "room/toml_reader_internal.h"
#include "room/toml_writer.h"

namespace warmside::climate {
namespace {

using room::TableReader;

class CaseReader {
 public:
  CaseReader(const toml::table& root, std::string file) : root_(root), file_(std::move(file)) {}

  Checked<EnclosureCase> read() {
    EnclosureCase out;
    one(out.size, true);
    one(out.faces, true);
    one(out.substrate, true);
    one(out.openings, false);
    one(out.room, false);
    if (root_.contains(CaseDish::kWord)) one(out.dish.emplace(), false);
    known_.insert(std::string(CaseDish::kWord));
    each(out.bodies);
    each(out.probes);
    each(out.thermostats);
    each(out.heaters);
    each(out.mistings);
    each(out.neighbours);
    refuse_unknown();
    if (problems_.empty()) problems_ = placed(check_case(out), file_, lines_);
    if (!problems_.empty()) return problems_;
    return out;
  }

 private:
  Where where(const toml::node& node, std::string field) const {
    return {file_, static_cast<int>(node.source().begin.line), std::move(field)};
  }

  template <class Part>
  void read_part(const toml::table& table, const std::string& title, Part& part) {
    lines_[title] = static_cast<int>(table.source().begin.line);
    for (const auto& [key, node] : table) {
      lines_[fmt::format("{}.{}", title, std::string_view(key.str()))] =
          static_cast<int>(node.source().begin.line);
    }
    TableReader reader(table, where(table, title), problems_);
    Part::describe(part, reader);
    reader.refuse_unknown();
  }

  template <class Part>
  void one(Part& part, bool must) {
    const std::string name(Part::kWord);
    known_.insert(name);
    const toml::node* node = root_.get(name);
    if (node == nullptr) {
      if (!must) return;
      problems_.push_back({ProblemCode::missing,
                           "must be given",
                           {file_, 0, name},
                           fmt::format("a table [{}]", name),
                           ""});
    } else if (const toml::table* table = node->as_table()) {
      read_part(*table, name, part);
    } else {
      problems_.push_back({ProblemCode::bad_value, "not a table", where(*node, name),
                           fmt::format("[{}]", name), ""});
    }
  }

  template <class Part>
  void each(std::vector<Part>& parts) {
    const std::string name(Part::kWord);
    known_.insert(name);
    const toml::node* node = root_.get(name);
    if (node == nullptr) return;
    const toml::array* list = node->as_array();
    if (list == nullptr || !list->is_array_of_tables()) {
      problems_.push_back({ProblemCode::bad_value, "not a list of tables", where(*node, name),
                           fmt::format("[[{}]] before each", name), ""});
      return;
    }
    if (list->size() > 200) {
      problems_.push_back({ProblemCode::out_of_range, "more than one enclosure holds",
                           where(*node, name), "at most 200", std::to_string(list->size())});
      return;
    }
    for (const toml::node& item : *list) {
      const toml::table& table = *item.as_table();
      const auto title = table["name"].value_or(table["face"].value_or(std::string()));
      read_part(table, title.empty() ? name : fmt::format("{} {}", name, shown(title)),
                parts.emplace_back());
    }
  }

  void refuse_unknown() {
    for (const auto& [key, node] : root_) {
      if (known_.contains(std::string(key.str()))) continue;
      problems_.push_back({ProblemCode::unknown_name, "no such part of a case",
                           where(node, shown(key.str())),
                           fmt::format("one of {}", fmt::join(known_, ", ")), ""});
    }
  }

  const toml::table& root_;
  std::string file_;
  Problems problems_;
  std::set<std::string> known_;
  std::map<std::string, int> lines_;
};

template <class Part>
void write_one(const Part& part, UnitSystem units, std::string& out) {
  std::string fields;
  room::write_fields(part, units, fields);
  if (fields.empty()) return;
  if (!out.empty()) out += '\n';
  out += fmt::format("[{}]\n{}", Part::kWord, fields);
}

template <class Part>
void write_each(const std::vector<Part>& parts, UnitSystem units, std::string& out) {
  for (const Part& part : parts) {
    out += fmt::format("\n[[{}]]\n", Part::kWord);
    room::write_fields(part, units, out);
  }
}

// --- weather ---

constexpr std::size_t kMostRows = 400'000;
constexpr std::int64_t kHour_ms = 3'600'000;
constexpr std::int64_t kLongestGap_h = 48;

class WeatherReader {
 public:
  WeatherReader(std::string_view csv, const std::string& file) : reader_(csv), file_(file) {}

  Checked<Weather> read() {
    if (!read_head()) return problems_;
    while (problems_.empty()) {
      const auto row = reader_.next();
      if (!row) return fail(row.problem());
      if (*row == nullptr) break;
      if (++rows_ > kMostRows) return refuse("", "too many rows", "at most 400,000");
      read_row(**row);
    }
    if (problems_.empty() && hours_.temperature_k.size() < 24) {
      return refuse("", "too short", "at least a day of hours");
    }
    if (!problems_.empty()) return problems_;
    return std::move(hours_);
  }

 private:
  Problems refuse(std::string field, std::string what, std::string expected,
                  std::string_view found = "") {
    problems_.push_back({ProblemCode::bad_value,
                         std::move(what),
                         {file_, reader_.line(), std::move(field)},
                         std::move(expected),
                         shown(found)});
    return problems_;
  }
  Problems fail(Problem problem) {
    problem.where.file = file_;
    problems_.push_back(std::move(problem));
    return problems_;
  }

  bool read_head() {
    const auto head = reader_.next();
    if (!head || *head == nullptr) {
      refuse("", "an empty table", "columns utc_time, temp_c, relative_humidity_pct");
      return false;
    }
    for (std::size_t i = 0; i < (*head)->size(); ++i) {
      for (std::size_t k = 0; k < 3; ++k) {
        if ((**head)[i] == kColumns[k]) column_[k] = i;
      }
    }
    for (std::size_t k = 0; k < 3; ++k) {
      if (column_[k] == kNone) {
        refuse(std::string(kColumns[k]), "there is no such column",
               "columns utc_time, temp_c, relative_humidity_pct");
      }
    }
    return problems_.empty();
  }

  std::optional<double> number(std::string_view text, std::size_t k, double low, double high) {
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() ||
        !(value >= low && value <= high)) {
      refuse(std::string(kColumns[k]), "not a value that weather has",
             fmt::format("{:g} to {:g}", low, high), text);
      return std::nullopt;
    }
    return value;
  }

  void read_row(const std::vector<std::string_view>& row) {
    if (row.size() <= std::max({column_[0], column_[1], column_[2]})) {
      refuse("", "a row that is too short", "as many fields as the first line");
      return;
    }
    const auto time = parse_instant(row[column_[0]]);
    if (!time) {
      Problem problem = time.problem();
      problem.where = {file_, reader_.line(), std::string(kColumns[0])};
      problems_.push_back(std::move(problem));
      return;
    }
    const auto t_c = number(row[column_[1]], 1, -90, 60);
    const auto humidity = number(row[column_[2]], 2, 0, 105);
    if (!t_c || !humidity) return;
    put(time->unix_ms(), *t_c + 273.15, std::min(*humidity, 100.0) / 100);
  }

  /// Adds the hours up to a reading, in straight lines from the last one.
  void put(std::int64_t ms, double t_k, double humidity) {
    const double vapour = humidity * saturated_vapour(t_k).kg_per_m3;
    if (!begun_) {
      begun_ = true;
      next_ms_ = (ms + kHour_ms - 1) / kHour_ms * kHour_ms;
      if (next_ms_ == ms) add(t_k, vapour);
    } else if (ms <= last_ms_) {
      refuse(std::string(kColumns[0]), "not after the row before", "rows in order of time");
      return;
    } else if (ms - last_ms_ > kLongestGap_h * kHour_ms) {
      refuse(std::string(kColumns[0]), "a gap of more than 48 hours", "readings without long gaps");
      return;
    }
    for (; next_ms_ <= ms;) {
      const double f = last_ms_ == ms ? 1
                                      : static_cast<double>(next_ms_ - last_ms_) /
                                            static_cast<double>(ms - last_ms_);
      add(last_k_ + f * (t_k - last_k_), last_vapour_ + f * (vapour - last_vapour_));
    }
    last_ms_ = ms;
    last_k_ = t_k;
    last_vapour_ = vapour;
  }
  void add(double t_k, double vapour) {
    hours_.temperature_k.push_back(t_k);
    hours_.vapour_kg_per_m3.push_back(vapour);
    next_ms_ += kHour_ms;
  }

  static constexpr std::size_t kNone = static_cast<std::size_t>(-1);
  static constexpr std::array<std::string_view, 3> kColumns{"utc_time", "temp_c",
                                                            "relative_humidity_pct"};
  CsvReader reader_;
  std::string file_;
  Problems problems_;
  std::array<std::size_t, 3> column_{kNone, kNone, kNone};
  std::size_t rows_ = 0;
  bool begun_ = false;
  std::int64_t next_ms_ = 0, last_ms_ = 0;
  double last_k_ = 0, last_vapour_ = 0;
  Weather hours_;
};

}  // namespace

Checked<EnclosureCase> read_case_file(std::string_view text, const std::string& file_name) {
  const auto root = room::parse_toml(text, file_name, "a case file as in docs/case-file.md");
  if (!root) return root.problem();
  return CaseReader(*root, file_name).read();
}

std::string write_case_file(const EnclosureCase& enclosure, UnitSystem units) {
  std::string out;
  write_one(enclosure.size, units, out);
  write_one(enclosure.faces, units, out);
  write_one(enclosure.substrate, units, out);
  write_one(enclosure.openings, units, out);
  write_one(enclosure.room, units, out);
  if (enclosure.dish) write_one(*enclosure.dish, units, out);
  write_each(enclosure.bodies, units, out);
  write_each(enclosure.probes, units, out);
  write_each(enclosure.thermostats, units, out);
  write_each(enclosure.heaters, units, out);
  write_each(enclosure.mistings, units, out);
  write_each(enclosure.neighbours, units, out);
  return out;
}

Checked<Weather> read_weather(std::string_view csv, const std::string& file_name) {
  return WeatherReader(csv, file_name).read();
}

}  // namespace warmside::climate
