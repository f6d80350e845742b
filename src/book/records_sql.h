#pragma once
// How a record's fields stand in the database: one column for each field of describe(), in the
// same order, after the columns nr and id. Only book/*.cpp includes this.

#include <SQLiteCpp/SQLiteCpp.h>

#include <string>
#include <vector>

#include "room/fields.h"
#include "room/records.h"

namespace warmside::book {

/// The SI value of a quantity and the unit that ends its column's name.
template <class Q>
struct SiColumn;
template <>
struct SiColumn<Temperature> {
  static constexpr const char* kUnit = "_k";
  static double si(Temperature q) { return q.kelvin(); }
  static Temperature from(double x) { return Temperature::kelvin(x); }
};
template <>
struct SiColumn<TemperatureDelta> {
  static constexpr const char* kUnit = "_k";
  static double si(TemperatureDelta q) { return q.kelvin(); }
  static TemperatureDelta from(double x) { return TemperatureDelta::kelvin(x); }
};
template <>
struct SiColumn<Mass> {
  static constexpr const char* kUnit = "_kg";
  static double si(Mass q) { return q.kilograms(); }
  static Mass from(double x) { return Mass::kilograms(x); }
};
template <>
struct SiColumn<Length> {
  static constexpr const char* kUnit = "_m";
  static double si(Length q) { return q.metres(); }
  static Length from(double x) { return Length::metres(x); }
};
template <>
struct SiColumn<Area> {
  static constexpr const char* kUnit = "_m2";
  static double si(Area q) { return q.square_metres(); }
  static Area from(double x) { return Area::square_metres(x); }
};
template <>
struct SiColumn<Volume> {
  static constexpr const char* kUnit = "_m3";
  static double si(Volume q) { return q.cubic_metres(); }
  static Volume from(double x) { return Volume::cubic_metres(x); }
};
template <>
struct SiColumn<Power> {
  static constexpr const char* kUnit = "_w";
  static double si(Power q) { return q.watts(); }
  static Power from(double x) { return Power::watts(x); }
};
template <>
struct SiColumn<Duration> {
  static constexpr const char* kUnit = "_s";
  static double si(Duration q) { return q.seconds(); }
  static Duration from(double x) { return Duration::seconds(x); }
};
template <>
struct SiColumn<Percentage> {
  static constexpr const char* kUnit = "_share";
  static double si(Percentage q) { return q.share(); }
  static Percentage from(double x) { return Percentage::share(x); }
};

template <>
struct SiColumn<UvIndex> {
  static constexpr const char* kUnit = "";
  static double si(UvIndex q) { return q.index(); }
  static UvIndex from(double x) { return UvIndex::index(x); }
};

template <class T>
constexpr const char* column_unit() {
  if constexpr (room::IsOptional<T>::value) {
    return column_unit<typename T::value_type>();
  } else if constexpr (Quantity<T>) {
    return SiColumn<T>::kUnit;
  } else {
    return "";
  }
}

/// The names of a record's columns, quoted, without nr and id.
template <class Record>
std::vector<std::string> column_names() {
  std::vector<std::string> names;
  const Record record{};
  Record::describe(record, [&](const char* name, room::Need, const auto& field, const char*) {
    names.push_back('"' + std::string(name) + column_unit<std::remove_cvref_t<decltype(field)>>() +
                    '"');
  });
  return names;
}

/// Binds a field to parameter `at` of a statement.
template <class T>
void bind_field(SQLite::Statement& statement, int at, const T& field) {
  if constexpr (room::IsOptional<T>::value) {
    if (field) {
      bind_field(statement, at, *field);
    } else {
      statement.bind(at);
    }
  } else if constexpr (std::same_as<T, std::string>) {
    statement.bind(at, field);
  } else if constexpr (std::same_as<T, bool> || std::same_as<T, int>) {
    statement.bind(at, static_cast<int>(field));
  } else if constexpr (std::same_as<T, double>) {
    statement.bind(at, field);
  } else if constexpr (room::IsId<T>::value) {
    if (field.empty()) {
      statement.bind(at);
    } else {
      statement.bind(at, field.text());
    }
  } else if constexpr (Quantity<T>) {
    statement.bind(at, SiColumn<T>::si(field));
  } else {
    statement.bind(at, room::field_text(field, UnitSystem::metric));
  }
}

/// Reads a field from column `at` of a row. Text that no field can hold means a damaged book, and
/// throws std::runtime_error.
template <class T>
void read_column(const SQLite::Column& column, T& field) {
  if constexpr (room::IsOptional<T>::value) {
    if (!column.isNull()) read_column(column, field.emplace());
  } else if constexpr (std::same_as<T, std::string>) {
    field = column.getString();
  } else if constexpr (std::same_as<T, bool>) {
    field = column.getInt() != 0;
  } else if constexpr (std::same_as<T, int>) {
    field = column.getInt();
  } else if constexpr (std::same_as<T, double>) {
    field = column.getDouble();
  } else if constexpr (room::IsId<T>::value) {
    field = T::trusted(column.isNull() ? std::string() : column.getString());
  } else if constexpr (Quantity<T>) {
    field = SiColumn<T>::from(column.getDouble());
    if (!is_valid(field)) throw std::runtime_error(std::string("not a ") + quantity_name<T>());
  } else {
    const auto value = room::read_field<T>(column.getString());
    if (!value) throw std::runtime_error(to_line(value.problem()));
    field = *value;
  }
}

}  // namespace warmside::book
