#pragma once
// Quantities with units. Every public boundary takes and gives these types, so that a gram never
// meets a kelvin and a temperature is never added to a temperature.
//
// Inside each is one private double in SI (percentages as a share of 1). The only ways in and out
// name the unit. There is no conversion from or to a bare number. Currents, prices and counts are
// not here; they are added when a module needs them. The types do not forbid impossible values (a
// difference of two masses may be negative); parse() does, and to_text() refuses to write them.
//
//     Temperature a = Temperature::celsius(28);
//     TemperatureDelta d = a - Temperature::celsius(21);   // 7 K
//     Result<Mass> m = parse<Mass>("12.5oz");              // a bare "12.5" is a Problem
//     to_text(*m)                                          // text that reads back to the same bits
//     for_people(*m, UnitSystem::us)                       // "12.5 oz"
//
// Factors are exact by definition: BIPM, SI Brochure, 9th ed. 2019, tables 7 and 8; NIST SP 811
// (2008), app. B.8. Each is kept as a fraction of whole numbers, because one multiplication and
// one division of exact doubles round better than one by a rounded factor.
// Checked by: tests/reference/quantity_test.cpp (factors), tests/property (round trips).

#include <compare>
#include <string>
#include <string_view>

#include "core/result.h"
#include "core/words.h"

namespace warmside {

/// How people in a room type and read: metric (degC, g, cm, L) or US customary (degF, oz, in, gal).
enum class UnitSystem { metric, us };
template <>
struct Words<UnitSystem> {
  static constexpr std::array<std::string_view, 2> list{"metric", "us"};
};

/// What every linear quantity can do. Self is the derived type; values are SI. Starts as zero.
template <class Self>
class LinearQuantity {
 public:
  constexpr LinearQuantity() = default;
  friend constexpr Self operator+(Self a, Self b) { return from_si(a.si_ + b.si_); }
  friend constexpr Self operator-(Self a, Self b) { return from_si(a.si_ - b.si_); }
  friend constexpr Self operator-(Self a) { return from_si(-a.si_); }
  friend constexpr Self operator*(Self a, double k) { return from_si(a.si_ * k); }
  friend constexpr Self operator*(double k, Self a) { return from_si(k * a.si_); }
  friend constexpr Self operator/(Self a, double k) { return from_si(a.si_ / k); }
  friend constexpr double operator/(Self a, Self b) { return a.si_ / b.si_; }
  friend constexpr Self& operator+=(Self& a, Self b) { return a = a + b; }
  friend constexpr Self& operator-=(Self& a, Self b) { return a = a - b; }
  friend constexpr auto operator<=>(Self a, Self b) { return a.si_ <=> b.si_; }
  friend constexpr bool operator==(Self a, Self b) { return a.si_ == b.si_; }

 protected:
  /// The size of a unit in SI: num / den, both exact doubles.
  struct Unit {
    double num;
    double den = 1;
  };
  /// Adding zero turns -0.0 into 0.0, so that equal quantities have equal bits and equal texts.
  static constexpr Self from_si(double si) {
    Self q;
    q.si_ = si + 0.0;
    return q;
  }
  static constexpr Self of(double x, Unit unit) { return from_si(x * unit.num / unit.den); }
  constexpr double in(Unit unit) const { return si_ * unit.den / unit.num; }

 private:
  double si_ = 0;
};

/// A difference of two temperatures, such as a gradient or a night drop. May be negative.
class TemperatureDelta : public LinearQuantity<TemperatureDelta> {
 public:
  static constexpr const char* kName = "temperature difference";
  static constexpr TemperatureDelta kelvin(double x) { return from_si(x); }
  static constexpr TemperatureDelta fahrenheit_degrees(double x) { return of(x, {5, 9}); }
  constexpr double kelvin() const { return in({1}); }
  constexpr double fahrenheit_degrees() const { return in({5, 9}); }
};

/// A reading on a thermometer. Starts as 0 K, which no room has, so that a forgotten one shows.
class Temperature {
 public:
  static constexpr const char* kName = "temperature";
  constexpr Temperature() = default;
  static constexpr Temperature kelvin(double x) { return Temperature(x + 0.0); }
  static constexpr Temperature celsius(double x) { return kelvin(x + kIcePoint_k); }
  /// By way of degC, so that a whole degC typed in degF (212F) gives the same bits as in degC.
  static constexpr Temperature fahrenheit(double x) { return celsius((x - 32) * 5 / 9); }
  constexpr double kelvin() const { return kelvin_; }
  constexpr double celsius() const { return kelvin_ - kIcePoint_k; }
  constexpr double fahrenheit() const { return celsius() * 9 / 5 + 32; }

  friend constexpr TemperatureDelta operator-(Temperature a, Temperature b) {
    return TemperatureDelta::kelvin(a.kelvin_ - b.kelvin_);
  }
  friend constexpr Temperature operator+(Temperature a, TemperatureDelta d) {
    return kelvin(a.kelvin_ + d.kelvin());
  }
  friend constexpr Temperature operator+(TemperatureDelta d, Temperature a) { return a + d; }
  friend constexpr Temperature operator-(Temperature a, TemperatureDelta d) {
    return kelvin(a.kelvin_ - d.kelvin());
  }
  friend constexpr auto operator<=>(Temperature, Temperature) = default;

  static constexpr double kIcePoint_k = 273.15;  // SI Brochure 2.3.1: t/degC = T/K - 273.15

 private:
  explicit constexpr Temperature(double kelvin) : kelvin_(kelvin) {}
  double kelvin_ = 0;
};

class Mass : public LinearQuantity<Mass> {
 public:
  static constexpr const char* kName = "mass";
  static constexpr Mass kilograms(double x) { return from_si(x); }
  static constexpr Mass grams(double x) { return of(x, {1, 1e3}); }
  static constexpr Mass milligrams(double x) { return of(x, {1, 1e6}); }
  static constexpr Mass pounds(double x) { return of(x, kPound); }
  static constexpr Mass ounces(double x) { return of(x, kOunce); }
  constexpr double kilograms() const { return in({1}); }
  constexpr double grams() const { return in({1, 1e3}); }
  constexpr double milligrams() const { return in({1, 1e6}); }
  constexpr double pounds() const { return in(kPound); }
  constexpr double ounces() const { return in(kOunce); }

 private:
  static constexpr Unit kPound{45359237, 1e8};      // avoirdupois, 0.45359237 kg
  static constexpr Unit kOunce{28349523125, 1e12};  // 1/16 lb
};

class Length : public LinearQuantity<Length> {
 public:
  static constexpr const char* kName = "length";
  static constexpr Length metres(double x) { return from_si(x); }
  static constexpr Length centimetres(double x) { return of(x, {1, 1e2}); }
  static constexpr Length millimetres(double x) { return of(x, {1, 1e3}); }
  static constexpr Length inches(double x) { return of(x, kInch); }
  static constexpr Length feet(double x) { return of(x, kFoot); }
  constexpr double metres() const { return in({1}); }
  constexpr double centimetres() const { return in({1, 1e2}); }
  constexpr double millimetres() const { return in({1, 1e3}); }
  constexpr double inches() const { return in(kInch); }
  constexpr double feet() const { return in(kFoot); }

 private:
  static constexpr Unit kInch{254, 1e4};   // international inch, 0.0254 m
  static constexpr Unit kFoot{3048, 1e4};  // 12 in
};

class Area : public LinearQuantity<Area> {
 public:
  static constexpr const char* kName = "area";
  static constexpr Area square_metres(double x) { return from_si(x); }
  static constexpr Area square_centimetres(double x) { return of(x, {1, 1e4}); }
  static constexpr Area square_inches(double x) { return of(x, kSquareInch); }
  static constexpr Area square_feet(double x) { return of(x, kSquareFoot); }
  constexpr double square_metres() const { return in({1}); }
  constexpr double square_centimetres() const { return in({1, 1e4}); }
  constexpr double square_inches() const { return in(kSquareInch); }
  constexpr double square_feet() const { return in(kSquareFoot); }

 private:
  static constexpr Unit kSquareInch{64516, 1e8};    // (0.0254 m)^2
  static constexpr Unit kSquareFoot{9290304, 1e8};  // (0.3048 m)^2
};

class Volume : public LinearQuantity<Volume> {
 public:
  static constexpr const char* kName = "volume";
  static constexpr Volume cubic_metres(double x) { return from_si(x); }
  static constexpr Volume litres(double x) { return of(x, {1, 1e3}); }
  static constexpr Volume millilitres(double x) { return of(x, {1, 1e6}); }
  static constexpr Volume us_gallons(double x) { return of(x, kGallon); }
  static constexpr Volume us_quarts(double x) { return of(x, kQuart); }
  static constexpr Volume us_fluid_ounces(double x) { return of(x, kFluidOunce); }
  constexpr double cubic_metres() const { return in({1}); }
  constexpr double litres() const { return in({1, 1e3}); }
  constexpr double millilitres() const { return in({1, 1e6}); }
  constexpr double us_gallons() const { return in(kGallon); }
  constexpr double us_quarts() const { return in(kQuart); }
  constexpr double us_fluid_ounces() const { return in(kFluidOunce); }

 private:
  static constexpr Unit kGallon{3785411784, 1e12};        // 231 in^3
  static constexpr Unit kQuart{946352946, 1e12};          // 1/4 gal
  static constexpr Unit kFluidOunce{295735295625, 1e16};  // 1/128 gal
};

class Power : public LinearQuantity<Power> {
 public:
  static constexpr const char* kName = "power";
  static constexpr Power watts(double x) { return from_si(x); }
  static constexpr Power kilowatts(double x) { return of(x, {1e3}); }
  constexpr double watts() const { return in({1}); }
  constexpr double kilowatts() const { return in({1e3}); }
};

/// Heat, food energy or electricity. May be negative (a loss).
class Energy : public LinearQuantity<Energy> {
 public:
  static constexpr const char* kName = "energy";
  static constexpr Energy joules(double x) { return from_si(x); }
  static constexpr Energy kilojoules(double x) { return of(x, {1e3}); }
  static constexpr Energy watt_hours(double x) { return of(x, {3600}); }
  static constexpr Energy kilowatt_hours(double x) { return of(x, {3.6e6}); }
  /// The thermochemical kilocalorie, 4184 J, the one of food tables; not the 4186.8 J of steam.
  static constexpr Energy kilocalories(double x) { return of(x, {4184}); }
  constexpr double joules() const { return in({1}); }
  constexpr double kilojoules() const { return in({1e3}); }
  constexpr double watt_hours() const { return in({3600}); }
  constexpr double kilowatt_hours() const { return in({3.6e6}); }
  constexpr double kilocalories() const { return in({4184}); }
};

/// A length of time in days of 86400 s; calendar days across a clock change are not its business.
class Duration : public LinearQuantity<Duration> {
 public:
  static constexpr const char* kName = "duration";
  static constexpr Duration seconds(double x) { return from_si(x); }
  static constexpr Duration minutes(double x) { return of(x, {60}); }
  static constexpr Duration hours(double x) { return of(x, {3600}); }
  static constexpr Duration days(double x) { return of(x, {86400}); }
  static constexpr Duration weeks(double x) { return of(x, {604800}); }
  constexpr double seconds() const { return in({1}); }
  constexpr double minutes() const { return in({60}); }
  constexpr double hours() const { return in({3600}); }
  constexpr double days() const { return in({86400}); }
  constexpr double weeks() const { return in({604800}); }
};

/// 55 % is a share of 0.55. May exceed 100 %: a yearling weighs 1500 % of what it hatched at.
class Percentage : public LinearQuantity<Percentage> {
 public:
  static constexpr const char* kName = "percentage";
  static constexpr Percentage share(double x) { return from_si(x); }
  static constexpr Percentage percent(double x) { return of(x, {1, 1e2}); }
  constexpr double share() const { return in({1}); }
  constexpr double percent() const { return in({1, 1e2}); }
};

/// The UV index of WHO and CIE: 40 m2/W times the erythemal irradiance.
class UvIndex : public LinearQuantity<UvIndex> {
 public:
  static constexpr const char* kName = "UV index";
  static constexpr UvIndex index(double x) { return from_si(x); }
  constexpr double index() const { return in({1}); }
};

class Pressure : public LinearQuantity<Pressure> {
 public:
  static constexpr const char* kName = "pressure";
  static constexpr Pressure pascals(double x) { return from_si(x); }
  static constexpr Pressure hectopascals(double x) { return of(x, {1e2}); }
  static constexpr Pressure kilopascals(double x) { return of(x, {1e3}); }
  static constexpr Pressure bar(double x) { return of(x, {1e5}); }
  static constexpr Pressure psi(double x) { return of(x, kPsi); }
  static constexpr Pressure inches_of_mercury(double x) { return of(x, kInchOfMercury); }
  constexpr double pascals() const { return in({1}); }
  constexpr double hectopascals() const { return in({1e2}); }
  constexpr double kilopascals() const { return in({1e3}); }
  constexpr double bar() const { return in({1e5}); }
  constexpr double psi() const { return in(kPsi); }
  constexpr double inches_of_mercury() const { return in(kInchOfMercury); }

 private:
  // 1 lb x 9.80665 m/s2 / (1 in)^2 = 4.4482216152605 N / 6.4516e-4 m2
  static constexpr Unit kPsi{44482216152605, 6451600000};
  // Conventional: 13595.1 kg/m3 x 9.80665 m/s2 x 0.0254 m = 3386.388640341 Pa
  static constexpr Unit kInchOfMercury{3386388640341, 1e9};
};

/// The twelve types above.
template <class Q>
concept Quantity = requires {
  Q::kName;
};

/// The word for a quantity in messages: "mass", "temperature difference".
template <Quantity Q>
constexpr const char* quantity_name() {
  return Q::kName;
}

/// Reads a number with its unit, such as "28C", "12.5 oz", "5.25%"; the same bits as the factory
/// of that unit gives. At most 64 bytes; blanks around are dropped, one space before the unit is
/// allowed; digits, point, digits, exponent, as in "-1.5e3". Units are case-sensitive:
///   C °C degC F °F degF K | K dC ΔC dF ΔF (differences) | g kg mg oz lb | m cm mm in ft |
///   m2 cm2 in2 ft2 (or ²) | L l mL ml m3 m³ gal qt floz (US) | W kW | J kJ Wh kWh kcal |
///   s min h d wk | % share | UVI | Pa hPa kPa mbar bar psi inHg
/// Problems: bad_syntax (not a number, too long), bad_value (no unit, unknown unit, unit of
/// another quantity), out_of_range (below 0 K; negative, save for a TemperatureDelta or Energy;
/// over 1e6 %, surely a slip; too large or small for a double).
template <Quantity Q>
Result<Q> parse(std::string_view text);

/// The canonical text for files: parse() gives back the same bits. The usual unit of the system
/// with the fewest digits that do; where none of up to 17 digits does, the SI unit ("share" for a
/// percentage). q must be finite and a value parse() would accept; anything else is our mistake.
template <Quantity Q>
std::string to_text(Q q, UnitSystem system = UnitSystem::metric);

/// Whether a value is one that parse() gives and to_text() writes: finite and within the range
/// said at parse(). For values that come from a database or a computation.
template <Quantity Q>
bool is_valid(Q q);

/// Rounded for reading, about three figures (temperatures to 0.1 degree): "28.5 °C", "1.24 kg",
/// "1 h 40 min", "14 days". A temperature difference reads "7 °C". q must be finite.
template <Quantity Q>
std::string for_people(Q q, UnitSystem system = UnitSystem::metric);

/// From low to high, both included. Whoever fills one in by hand sees to low <= high.
template <Quantity Q>
struct Range {
  Q low;
  Q high;
  constexpr bool contains(Q q) const { return low <= q && q <= high; }
  bool operator==(const Range&) const = default;
};

/// Reads "26C..30C", each end as in parse(). Also bad_value when low is above high.
template <Quantity Q>
Result<Range<Q>> parse_range(std::string_view text);

/// "26C..30C"; parse_range() gives back the same bits.
template <Quantity Q>
std::string to_text(const Range<Q>& range, UnitSystem system = UnitSystem::metric);

/// "26 – 30 °C".
template <Quantity Q>
std::string for_people(const Range<Q>& range, UnitSystem system = UnitSystem::metric);

}  // namespace warmside
