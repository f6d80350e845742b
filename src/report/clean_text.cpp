#include "report/clean_text.h"

#include <cstddef>

namespace warmside::report {
namespace {

constexpr char32_t kUnreadable = 0xFFFD;

/// The character of UTF-8 (RFC 3629) at `at`, which moves behind it.
char32_t next_character(std::string_view text, std::size_t& at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned lead = byte(at++);
  if (lead < 0x80) return lead;
  const std::size_t more = lead < 0xC2   ? 0
                           : lead < 0xE0 ? 1
                           : lead < 0xF0 ? 2
                           : lead < 0xF5 ? 3
                                         : 0;
  if (more == 0 || at + more > text.size()) return kUnreadable;
  char32_t code = lead & (0x3Fu >> more);
  for (std::size_t i = 0; i < more; ++i) {
    if ((byte(at + i) & 0xC0) != 0x80) return kUnreadable;
    code = (code << 6) | (byte(at + i) & 0x3Fu);
  }
  const bool overlong = (more == 2 && code < 0x800) || (more == 3 && code < 0x10000);
  const bool surrogate = code >= 0xD800 && code < 0xE000;
  if (overlong || surrogate || code > 0x10FFFF) return kUnreadable;
  at += more;
  return code;
}

}  // namespace

std::string clean(std::string_view text, int most_characters) {
  std::string out;
  int characters = 0;
  for (std::size_t at = 0; at < text.size();) {
    if (++characters > most_characters) return out + "…";
    const std::size_t start = at;
    const char32_t code = next_character(text, at);
    const bool control = code < 0x20 || (code >= 0x7F && code < 0xA0);
    const bool none = code == kUnreadable || code == 0xFFFE || code == 0xFFFF;
    if (control || none)
      out += control ? " " : "\uFFFD";
    else
      out += text.substr(start, at - start);
  }
  return out;
}

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

}  // namespace warmside::report
