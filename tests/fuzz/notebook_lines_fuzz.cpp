// Any bytes as a notebook in JSON Lines: no crash, every problem with its line; and every good
// entry has a line that reads back to the same entry, and that entry the same line.

#include <cstddef>
#include <cstdint>
#include <sstream>
#include <string>
#include <string_view>

#include "fuzz_checks.h"
#include "notebook_round_trip.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace warmside;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  std::istringstream in{std::string(text)};
  int last_line = 0;
  book::read_notebook_lines(
      in, fuzz::kFileName,
      [&](const room::Entry& entry, const Where& where) {
        WS_CHECK(where.file == fuzz::kFileName && where.line > last_line);
        last_line = where.line;
        fuzz::check_round_trip(entry);
        return true;
      },
      [&](const Problem& problem) {
        fuzz::check_problem(problem, text, true);
        WS_CHECK(problem.where.line >= last_line);
        return true;
      });
  return 0;
}
