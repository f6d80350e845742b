#include "core/problem.h"

namespace warmside {
namespace {

constexpr std::size_t kMostShownBytes = 40;

/// The bytes of the well-formed UTF-8 character at the front of text, or 0 (RFC 3629, section 4).
std::size_t character_bytes(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned lead = byte(0);
  if (lead < 0x80) return 1;
  const std::size_t size = lead < 0xC2   ? 0
                           : lead < 0xE0 ? 2
                           : lead < 0xF0 ? 3
                           : lead < 0xF5 ? 4
                                         : 0;
  if (size == 0 || text.size() < size) return 0;
  for (std::size_t i = 1; i < size; ++i) {
    if ((byte(i) & 0xC0) != 0x80) return 0;
  }
  const unsigned second = byte(1);
  const bool overlong = (lead == 0xE0 && second < 0xA0) || (lead == 0xF0 && second < 0x90);
  const bool no_character = (lead == 0xED && second > 0x9F) || (lead == 0xF4 && second > 0x8F);
  return overlong || no_character ? 0 : size;
}

}  // namespace

const char* name_of(ProblemCode code) {
  switch (code) {
    case ProblemCode::bad_syntax:
      return "bad_syntax";
    case ProblemCode::bad_value:
      return "bad_value";
    case ProblemCode::missing:
      return "missing";
    case ProblemCode::unknown_name:
      return "unknown_name";
    case ProblemCode::duplicate:
      return "duplicate";
    case ProblemCode::out_of_range:
      return "out_of_range";
    case ProblemCode::conflict:
      return "conflict";
    case ProblemCode::not_a_book:
      return "not_a_book";
    case ProblemCode::too_new:
      return "too_new";
    case ProblemCode::busy:
      return "busy";
  }
  return "bad_value";
}

std::string shown(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const std::size_t size = character_bytes(text);
    const bool plain = size > 1 || (size == 1 && text[0] >= ' ' && text[0] != '\x7f');
    const std::string_view piece = plain ? text.substr(0, size) : "?";
    if (out.size() + piece.size() > kMostShownBytes) break;
    out += piece;
    text.remove_prefix(size > 0 ? size : 1);
  }
  return out;
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

Problems placed(Problems problems, const std::string& file,
                const std::map<std::string, int>& lines) {
  for (Problem& problem : problems) {
    std::string field = problem.where.field;
    problem.where.file = file;
    while (!field.empty() && problem.where.line == 0) {
      if (const auto at = lines.find(field); at != lines.end()) problem.where.line = at->second;
      const auto dot = field.rfind('.');
      field = dot == std::string::npos ? "" : field.substr(0, dot);
    }
  }
  return problems;
}

}  // namespace warmside
