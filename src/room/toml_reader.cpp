#include <algorithm>

#include "room/toml_reader_internal.h"

namespace warmside::room {
namespace {

constexpr std::size_t kMostBytes = 16 * 1024 * 1024;
constexpr std::size_t kMostKeyParts = 16;

/// The last byte of the string that begins at `at`, or the line break that cuts it short.
std::size_t end_of_string(std::string_view text, std::size_t at) {
  const char quote = text[at];
  const std::string three(3, quote);
  const bool long_form = text.substr(at, 3) == three;  // may hold line breaks and single quotes
  for (std::size_t i = at + (long_form ? 3 : 1); i < text.size(); ++i) {
    if (quote == '"' && text[i] == '\\') {
      ++i;
    } else if (!long_form && (text[i] == quote || text[i] == '\n')) {
      return text[i] == quote ? i : i - 1;
    } else if (long_form && text.substr(i, 3) == three) {
      i += 2;  // up to two more quotes belong to the text
      for (int more = 0; more < 2 && i + 1 < text.size() && text[i + 1] == quote; ++more) ++i;
      return i;
    }
  }
  return text.size() - 1;
}

/// A dotted key (a.b.c) has more parts than any room file needs. For each part the parser puts a
/// table into a table, and it has no limit; nested brackets it limits itself.
bool keys_too_deep(std::string_view text) {
  std::size_t dots = 0;
  for (std::size_t at = 0; at < text.size(); ++at) {
    switch (text[at]) {
      case '.':
        if (++dots >= kMostKeyParts) return true;
        break;
      case '"':
      case '\'':
        at = end_of_string(text, at);
        break;
      case '#':
        at = std::min(text.find('\n', at), text.size()) - 1;
        break;
      case '\n':
      case '=':
      case ',':
      case '[':
      case ']':
      case '{':
      case '}':
        dots = 0;
        break;
      default:
        break;
    }
  }
  return false;
}

}  // namespace

Checked<toml::table> parse_toml(std::string_view text, const std::string& file_name,
                                const std::string& expected) {
  const auto refuse = [&](std::string what, int line) {
    return Problems{
        {ProblemCode::bad_syntax, std::move(what), {file_name, line, ""}, expected, ""}};
  };
  if (text.size() > kMostBytes) return refuse("longer than 16 MB", 0);
  if (keys_too_deep(text)) return refuse("a key of too many parts", 0);
  try {
    return toml::table(toml::parse(text, std::string_view(file_name)));
  } catch (const toml::parse_error& e) {
    return refuse("not TOML: " + std::string(e.description()),
                  static_cast<int>(e.source().begin.line));
  }
}

const char* type_word(const toml::node& node) {
  switch (node.type()) {
    case toml::node_type::string:
      return "a text";
    case toml::node_type::integer:
      return "a whole number";
    case toml::node_type::floating_point:
      return "a number";
    case toml::node_type::boolean:
      return "true or false";
    case toml::node_type::date:
      return "a date";
    case toml::node_type::table:
      return "a table";
    case toml::node_type::array:
      return "a list";
    default:
      return "something else";
  }
}

}  // namespace warmside::room
