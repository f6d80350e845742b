#pragma once
// The text of a record's fields, as it stands in the room file and in messages. One pair of
// functions for each type that a field can have, besides texts, numbers and booleans, which the
// file formats have of their own.

#include <string>
#include <string_view>

#include "room/records.h"

namespace warmside::room {

template <class T>
struct IsId : std::false_type {};
template <class Tag>
struct IsId<Id<Tag>> : std::true_type {};
template <class T>
struct IsOptional : std::false_type {};
template <class T>
struct IsOptional<std::optional<T>> : std::true_type {};

template <class T>
struct IsRange : std::false_type {};
template <class Q>
struct IsRange<Range<Q>> : std::true_type {};

/// A type that brings its own text: T::parse(text) and value.text(units).
template <class T>
concept OwnText = requires(const T& value, std::string_view text) {
  { T::parse(text) } -> std::same_as<Result<T>>;
  { value.text(UnitSystem::metric) } -> std::same_as<std::string>;
};

/// A type whose fields are written as text.
template <class T>
concept TextField = IsId<T>::value || Worded<T> || Quantity<T> || IsRange<T>::value ||
    std::same_as<T, Construction> || OwnText<T> || std::same_as<T, TimeOfDay> ||
    std::same_as<T, Date>;

template <TextField T>
std::string field_text(const T& value, UnitSystem units) {
  if constexpr (IsId<T>::value) {
    return value.text();
  } else if constexpr (OwnText<T>) {
    return value.text(units);
  } else if constexpr (Worded<T>) {
    return std::string(word(value));
  } else if constexpr (Quantity<T> || IsRange<T>::value || std::same_as<T, Construction>) {
    return to_text(value, units);
  } else {
    return to_text(value);
  }
}

template <TextField T>
Result<T> read_field(std::string_view text) {
  if constexpr (IsId<T>::value) {
    return T::parse(text);
  } else if constexpr (OwnText<T>) {
    return T::parse(text);
  } else if constexpr (Worded<T>) {
    if (const auto value = from_word<T>(text)) return *value;
    return Problem{ProblemCode::bad_value, "unknown word", {}, words_listed<T>(), shown(text)};
  } else if constexpr (Quantity<T>) {
    return warmside::parse<T>(text);
  } else if constexpr (IsRange<T>::value) {
    return parse_range<std::remove_cvref_t<decltype(T{}.low)>>(text);
  } else if constexpr (std::same_as<T, Construction>) {
    return parse_construction(text);
  } else if constexpr (std::same_as<T, TimeOfDay>) {
    return parse_time_of_day(text);
  } else {
    return parse_date(text);
  }
}

}  // namespace warmside::room
