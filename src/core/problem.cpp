#include "core/problem.h"

namespace warmside {

const char* name_of(ProblemCode code) {
  switch (code) {
    case ProblemCode::bad_syntax: return "bad_syntax";
    case ProblemCode::bad_value: return "bad_value";
    case ProblemCode::missing: return "missing";
    case ProblemCode::unknown_name: return "unknown_name";
    case ProblemCode::duplicate: return "duplicate";
    case ProblemCode::out_of_range: return "out_of_range";
    case ProblemCode::conflict: return "conflict";
    case ProblemCode::not_a_book: return "not_a_book";
    case ProblemCode::too_new: return "too_new";
    case ProblemCode::busy: return "busy";
  }
  return "bad_value";
}

std::string to_line(const Problem& problem) {
  std::string line;
  if (!problem.where.file.empty()) {
    line += problem.where.file + ":";
    if (problem.where.line > 0) line += std::to_string(problem.where.line) + ":";
    line += " ";
  } else if (problem.where.line > 0) {
    line += "line " + std::to_string(problem.where.line) + ": ";
  }
  if (!problem.where.field.empty()) line += problem.where.field + ": ";
  line += problem.what;
  if (!problem.expected.empty()) line += "; expected " + problem.expected;
  if (!problem.found.empty()) line += "; found \"" + problem.found + "\"";
  return line;
}

}  // namespace warmside
