#pragma once
// A good entry, from whatever file, has one line of JSON that reads back to it.

#include <optional>
#include <sstream>
#include <string>

#include "book/notebook_file.h"
#include "core/check.h"

namespace warmside::fuzz {

inline void check_round_trip(const room::Entry& entry) {
  WS_CHECK(room::check_entry(entry).empty());
  for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
    const std::string line = book::notebook_line(entry, units);
    WS_CHECK(line.find('\n') == line.size() - 1);
    std::istringstream in(line);
    std::optional<room::Entry> back;
    book::read_notebook_lines(
        in, "again",
        [&](const room::Entry& read, const Where&) {
          back = read;
          return true;
        },
        [](const Problem&) -> bool {
          const bool a_written_line_is_taken = false;
          WS_CHECK(a_written_line_is_taken);
          return false;
        });
    WS_CHECK(back == entry);
    WS_CHECK(book::notebook_line(*back, units) == line);
    WS_CHECK(!room::describe_entry(entry, units).empty());
  }
}

}  // namespace warmside::fuzz
