#pragma once
// What every reader owes its caller for any bytes at all, shared by the fuzz targets.

#include <simdjson.h>

#include <algorithm>
#include <string>
#include <string_view>

#include "core/check.h"
#include "core/problem.h"

namespace warmside::fuzz {

constexpr const char* kFileName = "fuzz";

/// A problem says what is wrong, in which file, and on a line that the text has. `line_known`: no
/// problem of this reader is about the file as a whole (line 0).
inline void check_problem(const Problem& problem, std::string_view text, bool line_known) {
  const auto lines = 1 + std::count(text.begin(), text.end(), '\n');
  WS_CHECK(!problem.what.empty());
  WS_CHECK(problem.where.file == kFileName);
  WS_CHECK(problem.where.line >= (line_known ? 1 : 0));
  WS_CHECK(problem.where.line <= lines);
  WS_CHECK(problem.found.size() <= 64 && problem.where.field.size() <= 160);
  for (const std::string& part :
       {problem.what, problem.where.field, problem.expected, problem.found}) {
    WS_CHECK(simdjson::validate_utf8(part));  // it goes into JSON and onto pages
  }
}

}  // namespace warmside::fuzz
