#pragma once
// Capital and small letters made alike, to compare what people type.

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

}  // namespace warmside
