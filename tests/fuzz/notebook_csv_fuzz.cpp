// Any bytes as a notebook in CSV, under any options: no crash, every problem with its line; every
// good entry goes through JSON unchanged; and the same text read twice gives the same ids, no two
// of which are equal unless the file itself says so.
// The first three bytes choose the options, so that the seeds begin with them.

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "fuzz_checks.h"
#include "notebook_round_trip.h"

namespace warmside {
namespace {

/// first: which options are set; second: the kind of entry; third: day 0 and the zone.
book::CsvOptions options_from(std::uint8_t first, std::uint8_t second, std::uint8_t third) {
  book::CsvOptions options;
  if (first & 1) options.renamed = {{"weight", "mass_g"}, {"who", "animal"}, {"note", "item"}};
  if (first & 2) options.ignored = {"extra", "", "by"};
  if (first & 4)
    options.kind = static_cast<room::EntryKind>(second % Words<room::EntryKind>::list.size());
  if (first & 8) {
    const Date days[] = {Date::of(2026, 11, 25).value(), Date::of(1, 1, 1).value(),
                         Date::of(9999, 12, 31).value(), Date::of(2024, 2, 29).value()};
    options.day_zero = days[third % 4];
  }
  const char* zones[] = {"UTC", "Europe/Oslo", "Pacific/Apia", "America/St_Johns"};
  options.zone = Zone::named(zones[third / 4 % 4]).value();
  return options;
}

}  // namespace
}  // namespace warmside

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace warmside;
  if (size < 3) return 0;
  const book::CsvOptions options = options_from(data[0], data[1], data[2]);
  const std::string_view text(reinterpret_cast<const char*>(data) + 3, size - 3);
  std::vector<room::Entry> entries;
  int last_line = 0;
  book::read_notebook_csv(
      text, fuzz::kFileName, options,
      [&](const room::Entry& entry, const Where& where) {
        WS_CHECK(where.file == fuzz::kFileName && where.line > last_line);
        last_line = where.line;
        fuzz::check_round_trip(entry);
        entries.push_back(entry);
        return true;
      },
      [&](const Problem& problem) {
        fuzz::check_problem(problem, text, false);
        return true;
      });
  std::size_t i = 0;
  book::read_notebook_csv(
      text, fuzz::kFileName, options,
      [&](const room::Entry& entry, const Where&) {
        WS_CHECK(i < entries.size() && entry == entries[i]);
        ++i;
        return true;
      },
      [](const Problem&) { return true; });
  WS_CHECK(i == entries.size());
  return 0;
}
