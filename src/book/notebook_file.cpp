#include "book/notebook_file.h"

#include <fmt/format.h>
#include <simdjson.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <vector>

#include "core/csv.h"
#include "room/quoted_text.h"

namespace warmside::book {
namespace {

using room::Entry;
using room::EntryKind;
using room::Part;
using room::Subject;
using room::SubjectKind;

constexpr std::size_t kLongestLine = 64 * 1024;
constexpr const char* kKnownFields =
    "id, at, kind, by, mass, length, temperature, humidity, uvi, count, item, target, strikes, "
    "note and one of animal, enclosure, lamp, ...";

/// Fills an entry field by field from texts, whichever file they come from.
class EntryBuilder {
 public:
  /// Begins an entry that stands at `where`.
  void begin(Where where) {
    entry_ = Entry{};
    where_ = std::move(where);
    problems_.clear();
    seen_.clear();
    subjects_ = 0;
  }

  void refuse(ProblemCode code, std::string_view field, std::string what, std::string expected = "",
              std::string_view found = "") {
    Where where = where_;
    where.field = shown(field);
    problems_.push_back(
        {code, std::move(what), std::move(where), std::move(expected), shown(found)});
  }

  /// Notes that a field is given; false (and a Problem) when it was given before.
  bool first_time(std::string_view field) {
    if (std::find(seen_.begin(), seen_.end(), field) != seen_.end()) {
      refuse(ProblemCode::duplicate, field, "given twice");
      return false;
    }
    seen_.emplace_back(field);
    return true;
  }
  bool has(std::string_view field) const {
    return std::find(seen_.begin(), seen_.end(), field) != seen_.end();
  }

  /// A text field of the JSON form. False: there is no field of this name.
  bool put(std::string_view field, std::string_view text) {
    if (field == "id") return take(field, entry_.id, parse_uuid(text));
    if (field == "at") return take(field, entry_.at, parse_instant(text));
    if (field == "kind") {
      if (const auto kind = from_word<EntryKind>(text)) {
        entry_.kind = *kind;
      } else {
        refuse(ProblemCode::bad_value, field, "unknown kind of entry", words_listed<EntryKind>(),
               text);
      }
      return true;
    }
    if (field == "by") return take(field, entry_.by, room::KeeperId::parse(text));
    if (field == "mass") return take(field, entry_.mass, parse<Mass>(text));
    if (field == "length") return take(field, entry_.length, parse<Length>(text));
    if (field == "temperature") return take(field, entry_.temperature, parse<Temperature>(text));
    if (field == "humidity") return take(field, entry_.humidity, parse<Percentage>(text));
    if (field == "uvi") return take(field, entry_.uvi, parse<UvIndex>(text));
    if (field == "strikes") return take(field, entry_.strikes, parse_uuid(text));
    if (field == "target") {
      entry_.target = subject_from(field, text);
      return true;
    }
    if (field == "item" || field == "note") {
      (field == "item" ? entry_.item : entry_.note) = std::string(text);
      return true;
    }
    if (const auto kind = from_word<SubjectKind>(field)) {
      ++subjects_;
      entry_.subject = {*kind, std::string(text)};
      if (!is_id_text(text)) problem(field, bad_id_text(text));
      return true;
    }
    return false;
  }

  void put_count(std::int64_t count) {
    if (count < 0 || count > 1'000'000) {
      refuse(ProblemCode::out_of_range, "count", "not a count", "0 to 100000",
             std::to_string(count));
    } else {
      entry_.count = static_cast<int>(count);
    }
  }

  /// Checks what the entry lacks and its rule; then either the entry or its problems stand.
  bool finish() {
    for (const char* field : {"id", "at", "kind"}) {
      if (!has(field)) refuse(ProblemCode::missing, field, "must be given");
    }
    if (subjects_ != 1) {
      refuse(ProblemCode::missing, "animal",
             subjects_ == 0 ? "does not say what it is about" : "is about more than one thing",
             "one of " + words_listed<SubjectKind>());
    }
    if (problems_.empty()) {
      for (Problem& found : room::check_entry(entry_)) problem(found.where.field, found);
    }
    return problems_.empty();
  }

  Entry& entry() { return entry_; }
  const Where& where() const { return where_; }
  Problems& problems() { return problems_; }

  template <class T, class U>
  bool take(std::string_view field, T& into, const Result<U>& value) {
    if (value) {
      into = *value;
    } else {
      problem(field, value.problem());
    }
    return true;
  }

  void problem(std::string_view field, Problem found) {
    found.where = where_;
    found.where.field = std::string(field);
    problems_.push_back(std::move(found));
  }

 private:
  /// "enclosure rack-a-1"
  std::optional<Subject> subject_from(std::string_view field, std::string_view text) {
    const auto space = text.find(' ');
    const auto kind = from_word<SubjectKind>(text.substr(0, space));
    if (space == std::string_view::npos || !kind || !is_id_text(text.substr(space + 1))) {
      refuse(ProblemCode::bad_value, field, "not a thing in the room",
             "its kind and id, such as \"enclosure rack-a-1\"", text);
      return std::nullopt;
    }
    return Subject{*kind, std::string(text.substr(space + 1))};
  }

  Entry entry_;
  Where where_;
  Problems problems_;
  std::vector<std::string> seen_;
  int subjects_ = 0;
};

/// Hands the finished entry, or its problems, to the caller. False: stop.
bool deliver(EntryBuilder& builder, const OnEntry& on_entry, const OnProblem& on_problem) {
  if (builder.finish()) return on_entry(builder.entry(), builder.where());
  for (Problem& problem : builder.problems()) {
    if (!on_problem(std::move(problem))) return false;
  }
  return true;
}

void read_json_fields(simdjson::dom::object object, EntryBuilder& builder) {
  for (const auto [key, value] : object) {
    if (!builder.first_time(key)) continue;
    if (key == "count") {
      std::int64_t count = 0;
      if (value.get(count) == simdjson::SUCCESS) {
        builder.put_count(count);
      } else {
        builder.refuse(ProblemCode::bad_value, key, "not a whole number", "0 to 100000");
      }
      continue;
    }
    std::string_view text;
    if (value.get(text) != simdjson::SUCCESS) {
      builder.refuse(ProblemCode::bad_value, key, "not a text",
                     "a text in quotes; quantities carry their unit, such as \"350g\"");
    } else if (!builder.put(key, text)) {
      builder.refuse(ProblemCode::unknown_name, key, "no such field", kKnownFields);
    }
  }
}

}  // namespace

void read_notebook_lines(std::istream& in, const std::string& file_name, const OnEntry& on_entry,
                         const OnProblem& on_problem) {
  simdjson::dom::parser parser;
  EntryBuilder builder;
  std::string line;
  for (int number = 1; std::getline(in, line); ++number) {
    if (line.find_first_not_of(" \t\r") == std::string::npos) continue;
    const Where where{file_name, number, ""};
    if (line.size() > kLongestLine) {
      if (!on_problem(
              {ProblemCode::bad_syntax, "the line is too long", where, "at most 64 KiB", ""})) {
        return;
      }
      continue;
    }
    line.reserve(line.size() + simdjson::SIMDJSON_PADDING);
    simdjson::dom::object object;
    const auto error = parser.parse(line.data(), line.size(), false).get(object);
    if (error != simdjson::SUCCESS) {
      if (!on_problem({ProblemCode::bad_syntax,
                       fmt::format("not a JSON object ({})", simdjson::error_message(error)), where,
                       "one entry in braces on each line", shown(line)})) {
        return;
      }
      continue;
    }
    builder.begin(where);
    read_json_fields(object, builder);
    if (!deliver(builder, on_entry, on_problem)) return;
  }
  if (in.bad()) throw MachineFailure(file_name + ": cannot be read");
}

namespace {

/// A column whose name carries the unit, with cells of bare numbers.
struct BareColumn {
  std::string_view name;
  std::string_view field;
  std::string_view unit;
};
constexpr BareColumn kBareColumns[] = {
    {"mass_g", "mass", "g"},
    {"mass_oz", "mass", "oz"},
    {"mass_kg", "mass", "kg"},
    {"mass_lb", "mass", "lb"},
    {"length_cm", "length", "cm"},
    {"length_in", "length", "in"},
    {"temperature_c", "temperature", "C"},
    {"temperature_f", "temperature", "F"},
    {"humidity_pct", "humidity", "%"},
    {"uv_index", "uvi", "UVI"},
};

std::optional<std::int64_t> whole_number(std::string_view text) {
  std::int64_t n = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), n);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return n;
}

void put_cell(std::string_view column, std::string_view cell, const CsvOptions& options,
              EntryBuilder& builder) {
  if (column == "count") {
    if (const auto count = whole_number(cell)) {
      builder.put_count(*count);
    } else {
      builder.refuse(ProblemCode::bad_value, column, "not a whole number", "0 to 100000", cell);
    }
    return;
  }
  if (column == "date" || column == "day") {
    std::optional<Date> date;
    if (column == "date") {
      if (const auto read = parse_date(cell)) {
        date = *read;
      } else {
        builder.problem(column, read.problem());
      }
    } else if (const auto day = whole_number(cell); day && *day >= -100'000 && *day <= 100'000) {
      if (options.day_zero) date = *options.day_zero + static_cast<int>(*day);
    } else {
      builder.refuse(ProblemCode::bad_value, column, "not a whole number of days", "such as 14",
                     cell);
    }
    if (!builder.first_time("at")) return;
    if (!date) return;
    const Instant noon = options.zone.at(*date, TimeOfDay{12 * 60});
    const int utc_year = Zone().date_of(noon).year();
    if (utc_year < 1 || utc_year > 9999) {
      builder.refuse(ProblemCode::out_of_range, column, "outside the years 1 to 9999", "", cell);
    } else {
      builder.entry().at = noon;
    }
    return;
  }
  for (const BareColumn& bare : kBareColumns) {
    if (bare.name != column) continue;
    if (!builder.first_time(bare.field)) return;
    // A cell that brings its own unit would contradict the column's name.
    if (cell.find_first_not_of("0123456789.+-eE") != std::string_view::npos) {
      builder.refuse(ProblemCode::bad_value, column, "not a bare number",
                     fmt::format("a number of {}", bare.unit), cell);
      return;
    }
    builder.put(bare.field, std::string(cell) + std::string(bare.unit));
    return;
  }
  if (builder.first_time(column)) builder.put(column, cell);
}

/// Checks the header, which stands at `where`; empty when it cannot be used.
std::vector<std::string> columns_of(const std::vector<std::string_view>& header, const Where& where,
                                    const CsvOptions& options, const OnProblem& on_problem) {
  std::vector<std::string> columns;
  bool good = true;
  const auto refuse = [&](ProblemCode code, std::string_view field, std::string what,
                          std::string expected) {
    good = false;
    on_problem(
        {code, std::move(what), {where.file, where.line, shown(field)}, std::move(expected), ""});
  };
  for (const std::string_view given : header) {
    std::string name(given);
    if (const auto renamed = options.renamed.find(name); renamed != options.renamed.end()) {
      name = renamed->second;
    }
    if (options.ignored.contains(name)) {
      columns.emplace_back();
      continue;
    }
    EntryBuilder probe;
    probe.begin({});
    const bool bare = std::any_of(std::begin(kBareColumns), std::end(kBareColumns),
                                  [&](const BareColumn& b) { return b.name == name; });
    if (name == "day" && !options.day_zero) {
      refuse(ProblemCode::missing, name, "which day is day 0 is not said", "--day-zero DATE");
    } else if (!bare && name != "count" && name != "date" && name != "day" &&
               !probe.put(name, "")) {
      refuse(
          ProblemCode::unknown_name, name, "no such column",
          std::string(kKnownFields) + "; date, day, mass_g, ...; or --ignore it, or --rename it");
    } else if (std::find(columns.begin(), columns.end(), name) != columns.end()) {
      refuse(ProblemCode::duplicate, name, "this column is there twice", "");
    }
    columns.push_back(std::move(name));
  }
  if (!good) columns.clear();
  return columns;
}

}  // namespace

void read_notebook_csv(std::string_view text, const std::string& file_name,
                       const CsvOptions& options, const OnEntry& on_entry,
                       const OnProblem& on_problem) {
  if (!simdjson::validate_utf8(text.data(), text.size())) {
    on_problem({ProblemCode::bad_syntax,
                "not UTF-8 text",
                {file_name, 0, ""},
                "a CSV file saved as UTF-8",
                ""});
    return;
  }
  CsvReader reader(text);
  std::vector<std::string> columns;
  std::map<std::string, int> times_seen;  // equal rows without an id are told apart by count
  EntryBuilder builder;
  for (bool header = true;; header = false) {
    const auto record = reader.next();
    if (!record) {
      Problem problem = record.problem();
      problem.where.file = file_name;
      on_problem(std::move(problem));
      return;
    }
    if (*record == nullptr) {
      if (header) {
        on_problem({ProblemCode::missing,
                    "the file is empty",
                    {file_name, 0, ""},
                    "a header line with the names of the columns",
                    ""});
      }
      return;
    }
    const auto& cells = **record;
    const Where where{file_name, reader.line(), ""};
    if (header) {
      columns = columns_of(cells, where, options, on_problem);
      if (columns.empty()) return;
      continue;
    }
    if (cells.size() == 1 && cells[0].empty()) continue;  // a blank line
    if (cells.size() != columns.size()) {
      if (!on_problem({ProblemCode::bad_syntax, "wrong number of cells", where,
                       std::to_string(columns.size()), std::to_string(cells.size())})) {
        return;
      }
      continue;
    }
    builder.begin(where);
    std::string row_text;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (columns[i].empty() || cells[i].empty()) continue;
      row_text += fmt::format("{}={}\n", columns[i], cells[i]);
      put_cell(columns[i], cells[i], options, builder);
    }
    if (!builder.has("kind") && options.kind) {
      builder.first_time("kind");
      builder.entry().kind = *options.kind;
      row_text += fmt::format("kind={}\n", word(*options.kind));
    }
    if (!builder.has("id")) {
      builder.first_time("id");
      const int repeat = times_seen[row_text]++;
      if (repeat > 0) row_text += fmt::format("repeat={}\n", repeat);
      if (options.day_zero) row_text += fmt::format("day_zero={}\n", to_text(*options.day_zero));
      builder.entry().id = make_uuid_from_text(builder.entry().at, row_text);
    }
    if (!deliver(builder, on_entry, on_problem)) return;
  }
}

std::string notebook_line(const Entry& entry, UnitSystem units) {
  std::string out = "{";
  const auto put = [&](std::string_view name, std::string_view text) {
    if (out.size() > 1) out += ',';
    out += fmt::format("\"{}\":{}", name, room::quoted(text));
  };
  put("id", to_text(entry.id));
  put("at", to_text(entry.at));
  put("kind", word(entry.kind));
  put(word(entry.subject.kind), entry.subject.id);
  if (!entry.by.empty()) put("by", entry.by.text());
  if (entry.mass) put("mass", to_text(*entry.mass, units));
  if (entry.length) put("length", to_text(*entry.length, units));
  if (entry.temperature) put("temperature", to_text(*entry.temperature, units));
  if (entry.humidity) put("humidity", to_text(*entry.humidity, units));
  if (entry.uvi) put("uvi", to_text(*entry.uvi, units));
  if (entry.count) out += fmt::format(",\"count\":{}", *entry.count);
  if (!entry.item.empty()) put("item", entry.item);
  if (entry.target) {
    put("target", fmt::format("{} {}", word(entry.target->kind), entry.target->id));
  }
  if (entry.strikes) put("strikes", to_text(*entry.strikes));
  if (!entry.note.empty()) put("note", entry.note);
  return out + "}\n";
}

}  // namespace warmside::book
