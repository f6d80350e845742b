#pragma once
// The notebook as text: JSON Lines, one entry a line, as the program writes it, and CSV, as a
// spreadsheet does. docs/notebook.md describes both.
//
// Readers hand over good entries one by one as they come and collect a Problem for each bad line;
// whoever reads decides that any Problem refuses the whole. Names (animals, enclosures, ...) are
// not looked up here.

#include <functional>
#include <istream>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "core/result.h"
#include "room/entry.h"

namespace warmside::book {

/// What a reader does with a good entry and the place it stands at. False: stop reading.
using OnEntry = std::function<bool(const room::Entry&, const Where&)>;
/// Problem in a file; the reader goes on to the next line. False: stop reading.
using OnProblem = std::function<bool(Problem)>;

/// Reads JSON Lines. Blank lines are passed over. Lines over 64 KiB are Problems.
void read_notebook_lines(std::istream& in, const std::string& file_name, const OnEntry& on_entry,
                         const OnProblem& on_problem);

/// How a spreadsheet's columns are to be understood.
struct CsvOptions {
  /// Other names for our columns, such as {"weight_g", "mass_g"}.
  std::map<std::string, std::string> renamed;
  /// Columns to pass over.
  std::set<std::string> ignored;
  /// The kind of entry where there is no column `kind`.
  std::optional<room::EntryKind> kind;
  /// The day that a column `day` counts from; its numbers are whole days.
  std::optional<Date> day_zero;
  /// Days become noon in this zone.
  Zone zone;
};

/// Reads CSV with a header line. Columns: those of the JSON form, and for hand-made tables also
/// `date` or `day` in place of `at`, and `mass_g`, `mass_oz`, `length_cm`, `length_in`,
/// `temperature_c`, `temperature_f`, `humidity_pct`, `uv_index`, whose cells are bare numbers. A
/// row without an id gets one made from its text, so that the same file read twice adds nothing.
void read_notebook_csv(std::string_view text, const std::string& file_name,
                       const CsvOptions& options, const OnEntry& on_entry,
                       const OnProblem& on_problem);

/// One line of the JSON form, with its line break.
std::string notebook_line(const room::Entry& entry, UnitSystem units);

}  // namespace warmside::book
