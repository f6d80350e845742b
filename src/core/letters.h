#pragma once
// What people type, made fit to compare: capital and small letters alike, blanks around dropped.

#include <string>
#include <string_view>

namespace warmside {

/// The text in small letters: A to Z only, every other byte stays, whatever the locale.
inline std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return out;
}

/// The text without the blanks and line breaks around it.
constexpr std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kBlanks = " \t\n\v\f\r";
  const auto first = text.find_first_not_of(kBlanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kBlanks) - first + 1);
}

}  // namespace warmside
