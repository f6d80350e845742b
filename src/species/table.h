#pragma once
// Reading the tables of data/: a header block of '#' lines, one line of column names, rows.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <string>
#include <string_view>
#include <vector>

#include "core/csv.h"
#include "core/problem.h"

namespace warmside::species {

/// Calls on_row(fields, line) for each row; a wrong header or width is a Problem.
template <class OnRow>
void read_table(const char* file, std::string_view text,
                const std::vector<std::string_view>& header, Problems& problems, OnRow on_row) {
  CsvReader reader(text);
  for (bool first = true;; first = false) {
    const auto record = reader.next();
    if (!record) {
      Problem problem = record.problem();
      problem.where.file = file;
      problems.push_back(std::move(problem));
      return;
    }
    if (*record == nullptr) {
      if (first) {
        problems.push_back({ProblemCode::missing,
                            "no line of column names",
                            {file, 1, ""},
                            fmt::format("{}", fmt::join(header, ",")),
                            ""});
      }
      return;
    }
    const auto& fields = **record;
    if (first && fields != header) {
      problems.push_back({ProblemCode::bad_syntax,
                          "wrong columns",
                          {file, reader.line(), ""},
                          fmt::format("{}", fmt::join(header, ",")),
                          ""});
      return;
    }
    if (first) continue;
    if (fields.size() != header.size()) {
      problems.push_back({ProblemCode::bad_syntax,
                          "wrong number of fields",
                          {file, reader.line(), ""},
                          std::to_string(header.size()),
                          std::to_string(fields.size())});
      continue;
    }
    on_row(fields, reader.line());
  }
}

}  // namespace warmside::species
