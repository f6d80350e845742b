#include "web/router.h"

#include <charconv>

namespace warmside::web {
namespace {

constexpr std::size_t kMostParameters = 64;

/// Well-formed UTF-8 (Unicode 15, table 3-7).
bool is_utf8(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const auto byte = [&](std::size_t at) { return static_cast<unsigned char>(text[at]); };
    const unsigned char first = byte(i);
    std::size_t more = 0;
    unsigned char low = 0x80, high = 0xbf;  // of the second byte
    if (first < 0x80) {
      ++i;
      continue;
    } else if (first >= 0xc2 && first <= 0xdf) {
      more = 1;
    } else if (first >= 0xe0 && first <= 0xef) {
      more = 2;
      if (first == 0xe0) low = 0xa0;
      if (first == 0xed) high = 0x9f;
    } else if (first >= 0xf0 && first <= 0xf4) {
      more = 3;
      if (first == 0xf0) low = 0x90;
      if (first == 0xf4) high = 0x8f;
    } else {
      return false;
    }
    if (i + more >= text.size()) return false;
    if (byte(i + 1) < low || byte(i + 1) > high) return false;
    for (std::size_t k = 2; k <= more; ++k) {
      if (byte(i + k) < 0x80 || byte(i + k) > 0xbf) return false;
    }
    i += more + 1;
  }
  return true;
}

/// The text up to a mark, which is taken off with it.
std::string_view cut_at(std::string_view& rest, char mark) {
  const auto end = rest.find(mark);
  const std::string_view part = rest.substr(0, end);
  rest = end == std::string_view::npos ? std::string_view() : rest.substr(end + 1);
  return part;
}

}  // namespace

std::optional<std::string> percent_decoded(std::string_view text, bool plus_is_space) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    char c = text[i];
    if (c == '%') {
      unsigned code = 0;
      if (i + 2 >= text.size()) return std::nullopt;
      const char* const digits = text.data() + i + 1;
      const auto [end, error] = std::from_chars(digits, digits + 2, code, 16);
      if (error != std::errc{} || end != digits + 2) return std::nullopt;
      c = static_cast<char>(code);
      i += 2;
    } else if (c == '+' && plus_is_space) {
      c = ' ';
    }
    if (c == '\0') return std::nullopt;
    out += c;
  }
  if (!is_utf8(out)) return std::nullopt;
  return out;
}

std::optional<Target> parse_target(std::string_view target) {
  if (!target.starts_with('/')) return std::nullopt;
  std::string_view rest = target.substr(0, target.find('#'));
  Target parsed;
  parsed.path = std::string(cut_at(rest, '?'));
  while (!rest.empty()) {
    std::string_view pair = cut_at(rest, '&');
    if (pair.empty()) continue;
    const auto name = percent_decoded(cut_at(pair, '='), true);
    const auto value = percent_decoded(pair, true);
    if (!name || !value || parsed.query.size() >= kMostParameters) return std::nullopt;
    parsed.query[*name] = *value;
  }
  return parsed;
}

std::optional<Parameters> fit(std::string_view path_template, std::string_view path) {
  Parameters found;
  while (!path_template.empty() || !path.empty()) {
    if (path_template.empty() || path.empty()) return std::nullopt;
    const std::string_view wanted = cut_at(path_template, '/');
    const std::string_view given = cut_at(path, '/');
    if (wanted.starts_with('{')) {
      auto value = percent_decoded(given, false);
      if (!value || value->empty()) return std::nullopt;
      found[std::string(wanted.substr(1, wanted.size() - 2))] = std::move(*value);
    } else if (wanted != given) {
      return std::nullopt;
    }
  }
  return found;
}

}  // namespace warmside::web
