#pragma once
// Words<E>: the text of each enumerator of E in files, on screen and in the database, in the order
// of the enumerators. Specialise it beside the enum:
//
//     enum class Sex { unknown, female, male };
//     template <> struct Words<Sex> {
//       static constexpr std::array<std::string_view, 3> list{"unknown", "female", "male"};
//     };

#include <array>
#include <concepts>
#include <optional>
#include <string>
#include <string_view>

namespace warmside {

template <class E>
struct Words;

template <class E>
concept Worded = std::is_enum_v<E> && requires {
  Words<E>::list.size();
};

template <Worded E>
constexpr std::string_view word(E value) {
  return Words<E>::list[static_cast<std::size_t>(value)];
}

template <Worded E>
constexpr std::optional<E> from_word(std::string_view text) {
  for (std::size_t i = 0; i < Words<E>::list.size(); ++i) {
    if (Words<E>::list[i] == text) return static_cast<E>(i);
  }
  return std::nullopt;
}

/// "unknown, female or male", for messages.
template <Worded E>
std::string words_listed() {
  std::string text;
  for (std::size_t i = 0; i < Words<E>::list.size(); ++i) {
    if (i > 0) text += i + 1 == Words<E>::list.size() ? " or " : ", ";
    text += Words<E>::list[i];
  }
  return text;
}

}  // namespace warmside
