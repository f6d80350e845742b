#include "core/quantity.h"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <limits>
#include <type_traits>
#include <utility>

#include "core/letters.h"

namespace warmside {
namespace {

constexpr std::size_t kMaxText_bytes = 64;
constexpr double kInfinity = std::numeric_limits<double>::infinity();

/// A unit as written in text, and its ways in and out.
template <class Q>
struct Spelling {
  std::string_view text;
  Q (*make)(double);
  double (Q::*read)() const;
  bool other = false;  // another spelling of a unit listed before; not shown in messages
};

// What text can say about each quantity. `units[0]` is the SI unit, whose factory changes no bits
// (which is why every value has a text); `lowest` and `highest` are in that unit; `usual` is the
// unit to_text tries first.
template <class Q>
struct Spec;

template <>
struct Spec<Temperature> {
  using Q = Temperature;
  static constexpr Spelling<Q> units[] = {
      {"K", &Q::kelvin, &Q::kelvin},
      {"C", &Q::celsius, &Q::celsius},
      {"F", &Q::fahrenheit, &Q::fahrenheit},
      {"°C", &Q::celsius, &Q::celsius, true},
      {"degC", &Q::celsius, &Q::celsius, true},
      {"°F", &Q::fahrenheit, &Q::fahrenheit, true},
      {"degF", &Q::fahrenheit, &Q::fahrenheit, true},
  };
  static constexpr const char* example = "28C or 82F";
  static constexpr double lowest = 0, highest = kInfinity;
  static constexpr const char* too_low = "a temperature below absolute zero";
  static std::string_view usual(Q, UnitSystem system) {
    return system == UnitSystem::us ? "F" : "C";
  }
};

template <>
struct Spec<TemperatureDelta> {
  using Q = TemperatureDelta;
  static constexpr Spelling<Q> units[] = {
      {"K", &Q::kelvin, &Q::kelvin},
      {"dC", &Q::kelvin, &Q::kelvin},
      {"dF", &Q::fahrenheit_degrees, &Q::fahrenheit_degrees},
      {"ΔC", &Q::kelvin, &Q::kelvin, true},
      {"ΔF", &Q::fahrenheit_degrees, &Q::fahrenheit_degrees, true},
  };
  static constexpr const char* example = "5K or 9dF";
  static constexpr double lowest = -kInfinity, highest = kInfinity;
  static constexpr const char* too_low = "";
  static std::string_view usual(Q, UnitSystem system) {
    return system == UnitSystem::us ? "dF" : "K";
  }
};

template <>
struct Spec<Mass> {
  using Q = Mass;
  static constexpr Spelling<Q> units[] = {
      {"kg", &Q::kilograms, &Q::kilograms},   {"g", &Q::grams, &Q::grams},
      {"mg", &Q::milligrams, &Q::milligrams}, {"oz", &Q::ounces, &Q::ounces},
      {"lb", &Q::pounds, &Q::pounds},
  };
  static constexpr const char* example = "350g or 12.5oz";
  static constexpr double lowest = 0, highest = kInfinity;
  static constexpr const char* too_low = "a negative mass";
  static std::string_view usual(Q, UnitSystem system) {
    return system == UnitSystem::us ? "oz" : "g";
  }
};

template <>
struct Spec<Length> {
  using Q = Length;
  static constexpr Spelling<Q> units[] = {
      {"m", &Q::metres, &Q::metres},
      {"cm", &Q::centimetres, &Q::centimetres},
      {"mm", &Q::millimetres, &Q::millimetres},
      {"in", &Q::inches, &Q::inches},
      {"ft", &Q::feet, &Q::feet},
  };
  static constexpr const char* example = "60cm or 24in";
  static constexpr double lowest = 0, highest = kInfinity;
  static constexpr const char* too_low = "a negative length";
  static std::string_view usual(Q, UnitSystem system) {
    return system == UnitSystem::us ? "in" : "cm";
  }
};

template <>
struct Spec<Area> {
  using Q = Area;
  static constexpr Spelling<Q> units[] = {
      {"m2", &Q::square_metres, &Q::square_metres},
      {"cm2", &Q::square_centimetres, &Q::square_centimetres},
      {"in2", &Q::square_inches, &Q::square_inches},
      {"ft2", &Q::square_feet, &Q::square_feet},
      {"m²", &Q::square_metres, &Q::square_metres, true},
      {"cm²", &Q::square_centimetres, &Q::square_centimetres, true},
      {"in²", &Q::square_inches, &Q::square_inches, true},
      {"ft²", &Q::square_feet, &Q::square_feet, true},
  };
  static constexpr const char* example = "0.72m2 or 8ft2";
  static constexpr double lowest = 0, highest = kInfinity;
  static constexpr const char* too_low = "a negative area";
  static std::string_view usual(Q q, UnitSystem system) {
    if (system == UnitSystem::us) return q < Q::square_feet(1) ? "in2" : "ft2";
    return q < Q::square_metres(0.1) ? "cm2" : "m2";
  }
};

template <>
struct Spec<Volume> {
  using Q = Volume;
  static constexpr Spelling<Q> units[] = {
      {"m3", &Q::cubic_metres, &Q::cubic_metres},
      {"L", &Q::litres, &Q::litres},
      {"mL", &Q::millilitres, &Q::millilitres},
      {"gal", &Q::us_gallons, &Q::us_gallons},
      {"qt", &Q::us_quarts, &Q::us_quarts},
      {"floz", &Q::us_fluid_ounces, &Q::us_fluid_ounces},
      {"m³", &Q::cubic_metres, &Q::cubic_metres, true},
      {"l", &Q::litres, &Q::litres, true},
      {"ml", &Q::millilitres, &Q::millilitres, true},
  };
  static constexpr const char* example = "2L or 1gal";
  static constexpr double lowest = 0, highest = kInfinity;
  static constexpr const char* too_low = "a negative volume";
  static std::string_view usual(Q q, UnitSystem system) {
    if (system == UnitSystem::us) return q < Q::us_gallons(1) ? "floz" : "gal";
    return q < Q::litres(1) ? "mL" : "L";
  }
};

template <>
struct Spec<Power> {
  using Q = Power;
  static constexpr Spelling<Q> units[] = {
      {"W", &Q::watts, &Q::watts},
      {"kW", &Q::kilowatts, &Q::kilowatts},
  };
  static constexpr const char* example = "25W";
  static constexpr double lowest = 0, highest = kInfinity;
  static constexpr const char* too_low = "a negative power";
  static std::string_view usual(Q, UnitSystem) { return "W"; }
};

template <>
struct Spec<Energy> {
  using Q = Energy;
  static constexpr Spelling<Q> units[] = {
      {"J", &Q::joules, &Q::joules},
      {"kJ", &Q::kilojoules, &Q::kilojoules},
      {"Wh", &Q::watt_hours, &Q::watt_hours},
      {"kWh", &Q::kilowatt_hours, &Q::kilowatt_hours},
      {"kcal", &Q::kilocalories, &Q::kilocalories},
  };
  static constexpr const char* example = "120kJ or 1.5kWh";
  static constexpr double lowest = -kInfinity, highest = kInfinity;
  static constexpr const char* too_low = "";
  static std::string_view usual(Q, UnitSystem system) {
    return system == UnitSystem::us ? "kcal" : "kJ";
  }
};

template <>
struct Spec<Duration> {
  using Q = Duration;
  static constexpr Spelling<Q> units[] = {
      {"s", &Q::seconds, &Q::seconds}, {"min", &Q::minutes, &Q::minutes},
      {"h", &Q::hours, &Q::hours},     {"d", &Q::days, &Q::days},
      {"wk", &Q::weeks, &Q::weeks},
  };
  static constexpr const char* example = "30min or 2h";
  static constexpr double lowest = 0, highest = kInfinity;
  static constexpr const char* too_low = "a negative duration";
  static std::string_view usual(Q q, UnitSystem) {
    const double seconds = q.seconds();
    if (seconds == 0) return "s";
    if (std::fmod(seconds, 86400) == 0) return "d";
    if (std::fmod(seconds, 3600) == 0) return "h";
    return std::fmod(seconds, 60) == 0 ? "min" : "s";
  }
};

// The share has a word of its own because dividing by 100 does not reach every double: a computed
// percentage may have no text with "%" that reads back to the same bits.
template <>
struct Spec<Percentage> {
  using Q = Percentage;
  static constexpr Spelling<Q> units[] = {
      {"share", &Q::share, &Q::share, true},
      {"%", &Q::percent, &Q::percent},
  };
  static constexpr const char* example = "5.25%";
  static constexpr double lowest = 0, highest = 1e4;
  static constexpr const char* too_low = "a negative percentage";
  static std::string_view usual(Q, UnitSystem) { return "%"; }
};

template <>
struct Spec<UvIndex> {
  using Q = UvIndex;
  static constexpr Spelling<Q> units[] = {{"UVI", &Q::index, &Q::index}};
  static constexpr const char* example = "3.2UVI";
  static constexpr double lowest = 0, highest = kInfinity;
  static constexpr const char* too_low = "a negative UV index";
  static std::string_view usual(Q, UnitSystem) { return "UVI"; }
};

template <>
struct Spec<Pressure> {
  using Q = Pressure;
  static constexpr Spelling<Q> units[] = {
      {"Pa", &Q::pascals, &Q::pascals},
      {"hPa", &Q::hectopascals, &Q::hectopascals},
      {"kPa", &Q::kilopascals, &Q::kilopascals},
      {"bar", &Q::bar, &Q::bar},
      {"psi", &Q::psi, &Q::psi},
      {"inHg", &Q::inches_of_mercury, &Q::inches_of_mercury},
      {"mbar", &Q::hectopascals, &Q::hectopascals, true},
  };
  static constexpr const char* example = "101325Pa or 1013hPa";
  static constexpr double lowest = 0, highest = kInfinity;
  static constexpr const char* too_low = "a negative pressure";
  static std::string_view usual(Q, UnitSystem system) {
    return system == UnitSystem::us ? "inHg" : "Pa";
  }
};

template <class Q>
double si_of(Q q) {
  return (q.*Spec<Q>::units[0].read)();
}

template <class Q>
const Spelling<Q>* find_unit(std::string_view text) {
  for (const Spelling<Q>& unit : Spec<Q>::units) {
    if (unit.text == text) return &unit;
  }
  return nullptr;
}

// ---- Messages ----

std::string with_article(std::string_view name) {
  return fmt::format("{} {}", name[0] == 'a' || name[0] == 'e' ? "an" : "a", name);
}

template <class Q>
std::string expected() {
  std::string units;
  for (const Spelling<Q>& unit : Spec<Q>::units) {
    if (unit.other) continue;
    if (!units.empty()) units += ' ';
    units += unit.text;
  }
  return fmt::format("{} with its unit ({}), such as {}", with_article(Q::kName), units,
                     Spec<Q>::example);
}

template <class Q>
Problem problem(ProblemCode code, std::string what, std::string_view text) {
  return Problem{code, std::move(what), {}, expected<Q>(), shown(text)};
}

template <class... Qs>
const char* owner_among(std::string_view unit) {
  const char* owner = nullptr;
  ((owner == nullptr && find_unit<Qs>(unit) ? void(owner = Qs::kName) : void()), ...);
  return owner;
}

/// The first quantity that has this unit, or nullptr.
const char* owner_of(std::string_view unit) {
  return owner_among<Temperature, TemperatureDelta, Mass, Length, Area, Volume, Power, Energy,
                     Duration, Percentage, UvIndex, Pressure>(unit);
}

// ---- Reading ----

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// The length of [+-]digits[.digits][(e|E)[+-]digits] at the front of text, or 0.
std::size_t number_length(std::string_view text) {
  const auto digits_end = [&](std::size_t i) {
    while (i < text.size() && is_digit(text[i])) ++i;
    return i;
  };
  const auto sign_end = [&](std::size_t i) {
    return i + (i < text.size() && (text[i] == '+' || text[i] == '-') ? 1 : 0);
  };
  const std::size_t start = sign_end(0);
  std::size_t end = digits_end(start);
  if (end == start) return 0;
  if (end < text.size() && text[end] == '.') {
    const std::size_t fraction_end = digits_end(end + 1);
    if (fraction_end == end + 1) return 0;
    end = fraction_end;
  }
  if (end < text.size() && (text[end] == 'e' || text[end] == 'E')) {
    const std::size_t exponent = sign_end(end + 1);
    const std::size_t exponent_end = digits_end(exponent);
    if (exponent_end > exponent) end = exponent_end;
  }
  return end;
}

/// True for "0", "-0.00e5": a zero that is meant, not one that is left of a number too small.
bool is_written_zero(std::string_view number) {
  const std::string_view mantissa = number.substr(0, number.find_first_of("eE"));
  return mantissa.find_first_of("123456789") == mantissa.npos;
}

/// number has the form that number_length accepts. False when no finite double but zero is near.
bool read_number(std::string_view number, double& x) {
  const bool written_zero = is_written_zero(number);
  if (number[0] == '+') number.remove_prefix(1);
  const std::from_chars_result read =
      std::from_chars(number.data(), number.data() + number.size(), x);
  if (written_zero) x = 0;
  return written_zero || (read.ec == std::errc() && std::isfinite(x) && x != 0);
}

// ---- Writing ----

/// x as a decimal that reads back to the same double: plain digits at everyday sizes.
std::string shortest(double x) {
  std::array<char, 40> buffer;
  const double size = std::fabs(x);
  const bool plain = size == 0 || (size >= 1e-5 && size < 1e15);
  const std::to_chars_result end =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), x,
                    plain ? std::chars_format::fixed : std::chars_format::scientific);
  WS_CHECK(end.ec == std::errc());
  return std::string(buffer.data(), end.ptr);
}

/// x rounded to that many significant digits.
double rounded(double x, int digits) {
  std::array<char, 40> buffer;
  const std::to_chars_result end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), x,
                                                 std::chars_format::scientific, digits - 1);
  WS_CHECK(end.ec == std::errc());
  double out = 0;
  std::from_chars(buffer.data(), end.ptr, out);
  return out;
}

/// The number with the fewest digits that `unit` turns into q; empty when there is none.
template <class Q>
std::string number_for(Q q, const Spelling<Q>& unit) {
  const double x = (q.*unit.read)();
  if (!std::isfinite(x)) return {};
  // x carries the rounding of a conversion. Decimals of up to 15 digits lie further apart than
  // that, so the one nearest to x is the only one to try; with more digits, try the doubles beside.
  for (int digits = 1; digits <= std::numeric_limits<double>::digits10; ++digits) {
    const double near = rounded(x, digits);
    if (unit.make(near) == q) return shortest(near);
  }
  std::string best;
  for (double near : {x, std::nextafter(x, -kInfinity), std::nextafter(x, kInfinity)}) {
    if (!std::isfinite(near) || unit.make(near) != q) continue;
    std::string text = shortest(near);
    if (best.empty() || text.size() < best.size()) best = std::move(text);
  }
  return best;
}

// ---- For people ----

/// About three figures, whole numbers in full, no trailing zeros.
std::string figures(double x, int max_decimals) {
  const double size = std::fabs(x);
  if (size >= 1e9 || (size < 0.9995 && max_decimals > 2)) return fmt::format("{:.3g}", x);
  const int decimals = size >= 99.95 ? 0 : size >= 9.995 ? 1 : 2;
  std::string text = fmt::format("{:.{}f}", x, decimals < max_decimals ? decimals : max_decimals);
  if (text.find('.') != text.npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

std::string with_unit(double x, std::string_view unit, int max_decimals = 3) {
  return fmt::format("{} {}", figures(x, max_decimals), unit);
}

/// True when x would read as 1 or more after rounding to three figures.
bool fills(double x) {
  return std::fabs(x) >= 0.9995;
}

/// One decimal at any size: 0.1 degree is what a good thermometer tells.
std::string degrees(double x, std::string_view unit) {
  std::string text = fmt::format("{:.1f}", x);
  if (text.ends_with(".0")) text.resize(text.size() - 2);
  if (text == "-0") text = "0";
  return fmt::format("{} {}", text, unit);
}

std::string people(Temperature q, bool us) {
  return us ? degrees(q.fahrenheit(), "°F") : degrees(q.celsius(), "°C");
}

std::string people(TemperatureDelta q, bool us) {
  return us ? degrees(q.fahrenheit_degrees(), "°F") : degrees(q.kelvin(), "°C");
}

std::string people(Mass q, bool us) {
  if (us) return fills(q.pounds()) ? with_unit(q.pounds(), "lb") : with_unit(q.ounces(), "oz");
  if (fills(q.kilograms())) return with_unit(q.kilograms(), "kg");
  return fills(q.grams() * 10) || q == Mass() ? with_unit(q.grams(), "g")
                                              : with_unit(q.milligrams(), "mg");
}

std::string people(Length q, bool us) {
  if (us) return fills(q.feet() / 10) ? with_unit(q.feet(), "ft") : with_unit(q.inches(), "in");
  if (fills(q.metres() / 10)) return with_unit(q.metres(), "m");
  return fills(q.centimetres()) || q == Length() ? with_unit(q.centimetres(), "cm")
                                                 : with_unit(q.millimetres(), "mm");
}

std::string people(Area q, bool us) {
  if (us) {
    return fills(q.square_feet()) ? with_unit(q.square_feet(), "ft²")
                                  : with_unit(q.square_inches(), "in²");
  }
  return fills(q.square_metres() * 10) ? with_unit(q.square_metres(), "m²")
                                       : with_unit(q.square_centimetres(), "cm²");
}

std::string people(Volume q, bool us) {
  if (us) {
    if (fills(q.us_gallons())) return with_unit(q.us_gallons(), "gal");
    return fills(q.us_quarts()) ? with_unit(q.us_quarts(), "qt")
                                : with_unit(q.us_fluid_ounces(), "fl oz");
  }
  if (fills(q.cubic_metres() / 10)) return with_unit(q.cubic_metres(), "m³");
  return fills(q.litres()) ? with_unit(q.litres(), "L") : with_unit(q.millilitres(), "mL");
}

std::string people(Power q, bool) {
  return fills(q.kilowatts()) ? with_unit(q.kilowatts(), "kW") : with_unit(q.watts(), "W");
}

std::string people(Energy q, bool us) {
  if (fills(q.kilowatt_hours())) return with_unit(q.kilowatt_hours(), "kWh");
  if (us) return with_unit(q.kilocalories(), "kcal");
  return fills(q.kilojoules()) ? with_unit(q.kilojoules(), "kJ") : with_unit(q.joules(), "J");
}

std::string people(Duration q, bool) {
  const double size_s = std::fabs(q.seconds());
  if (size_s < 59.95) return with_unit(q.seconds(), "s", 1);
  if (size_s < 59.5 * 60) return with_unit(q.minutes(), "min", 1);
  const long minutes = size_s < 86400 ? std::lround(size_s / 60) : 1440;
  if (minutes < 1440) {
    const char* sign = q.seconds() < 0 ? "-" : "";
    if (minutes % 60 == 0) return fmt::format("{}{} h", sign, minutes / 60);
    return fmt::format("{}{} h {} min", sign, minutes / 60, minutes % 60);
  }
  const std::string days = figures(q.days(), 1);
  return fmt::format("{} {}", days, days == "1" || days == "-1" ? "day" : "days");
}

std::string people(Percentage q, bool) {
  return with_unit(q.percent(), "%", 2);
}

std::string people(UvIndex q, bool) {
  return with_unit(q.index(), "UVI", 1);
}

std::string people(Pressure q, bool us) {
  if (us) return with_unit(q.inches_of_mercury(), "inHg");
  return fills(q.hectopascals()) || q == Pressure() ? with_unit(q.hectopascals(), "hPa")
                                                    : with_unit(q.pascals(), "Pa");
}

/// Splits "26 °C" into number and unit; false for texts of more words, such as "1 h 40 min".
bool split_unit(std::string_view text, std::string_view& number, std::string_view& unit) {
  const std::size_t space = text.find(' ');
  number = text.substr(0, space);
  unit = text.substr(space + 1);
  return unit.find(' ') == unit.npos || unit == "fl oz";
}

}  // namespace

template <Quantity Q>
Result<Q> parse(std::string_view text) {
  if (text.size() > kMaxText_bytes) {
    return problem<Q>(ProblemCode::bad_syntax, "a text too long to be a quantity", text);
  }
  text = trimmed(text);
  const std::size_t length = number_length(text);
  if (length == 0) return problem<Q>(ProblemCode::bad_syntax, "not a number with a unit", text);

  std::string_view unit_text = text.substr(length);
  if (unit_text.starts_with(',')) {
    return problem<Q>(ProblemCode::bad_syntax,
                      "a comma in a number; decimals are written with a point", text);
  }
  if (unit_text.empty()) {
    return problem<Q>(ProblemCode::bad_value, "a number without a unit", text);
  }
  if (unit_text[0] == ' ') unit_text.remove_prefix(1);
  const Spelling<Q>* unit = find_unit<Q>(unit_text);
  if (unit == nullptr) {
    const char* owner = owner_of(unit_text);
    if (owner == nullptr) return problem<Q>(ProblemCode::bad_value, "an unknown unit", text);
    return problem<Q>(ProblemCode::bad_value,
                      fmt::format("unit {} is {}, not {}", unit_text, with_article(owner),
                                  with_article(Q::kName)),
                      text);
  }

  double x = 0;
  const std::string_view number = text.substr(0, length);
  if (!read_number(number, x)) {
    return problem<Q>(ProblemCode::out_of_range, "a number too large or too small", text);
  }
  const Q q = unit->make(x);
  const double si = si_of(q);
  // A product may still overflow, or vanish; a temperature of zero kelvin is no vanished product.
  const bool vanished = si == 0 && x != 0 && !std::is_same_v<Q, Temperature>;
  if (!std::isfinite(si) || vanished) {
    return problem<Q>(ProblemCode::out_of_range, "a number too large or too small", text);
  }
  if (si < Spec<Q>::lowest) {
    return problem<Q>(ProblemCode::out_of_range, Spec<Q>::too_low, text);
  }
  if (si > Spec<Q>::highest) {  // only a percentage has such a bound
    return problem<Q>(ProblemCode::out_of_range, "more than 1000000%", text);
  }
  return q;
}

template <Quantity Q>
bool is_valid(Q q) {
  const double si = si_of(q);
  return std::isfinite(si) && si >= Spec<Q>::lowest && si <= Spec<Q>::highest;
}

template <Quantity Q>
std::string to_text(Q q, UnitSystem system) {
  WS_CHECK(is_valid(q));
  const double si = si_of(q);
  const Spelling<Q>* unit = find_unit<Q>(Spec<Q>::usual(q, system));
  WS_CHECK(unit != nullptr);
  const std::string number = number_for(q, *unit);
  if (!number.empty()) return fmt::format("{}{}", number, unit->text);
  return fmt::format("{}{}", shortest(si), Spec<Q>::units[0].text);
}

template <Quantity Q>
std::string for_people(Q q, UnitSystem system) {
  const double si = si_of(q);
  WS_CHECK(std::isfinite(si));
  // No room holds so much; and another unit could overflow.
  if (std::fabs(si) >= 1e15) return with_unit(si, Spec<Q>::units[0].text);
  return people(q, system == UnitSystem::us);
}

template <Quantity Q>
Result<Range<Q>> parse_range(std::string_view text) {
  const std::size_t dots = text.find("..");
  if (dots == text.npos) {
    return Problem{ProblemCode::bad_syntax,
                   "not a range",
                   {},
                   fmt::format("two ends with \"..\" between, each {}", expected<Q>()),
                   shown(trimmed(text))};
  }
  Result<Q> low = parse<Q>(text.substr(0, dots));
  if (!low) return std::move(low).problem();
  Result<Q> high = parse<Q>(text.substr(dots + 2));
  if (!high) return std::move(high).problem();
  if (*low > *high) {
    return Problem{ProblemCode::bad_value,
                   "the low end of a range is above the high end",
                   {},
                   "the lower end first",
                   shown(trimmed(text))};
  }
  return Range<Q>{*low, *high};
}

template <Quantity Q>
std::string to_text(const Range<Q>& range, UnitSystem system) {
  WS_CHECK(range.low <= range.high);
  return fmt::format("{}..{}", to_text(range.low, system), to_text(range.high, system));
}

template <Quantity Q>
std::string for_people(const Range<Q>& range, UnitSystem system) {
  const std::string low = for_people(range.low, system);
  const std::string high = for_people(range.high, system);
  if (low == high) return low;
  std::string_view low_number, low_unit, high_number, high_unit;
  const bool plain =
      split_unit(low, low_number, low_unit) && split_unit(high, high_number, high_unit);
  return fmt::format("{} – {}", plain && low_unit == high_unit ? low_number : low, high);
}

#define WS_INSTANTIATE(Q)                                     \
  template Result<Q> parse<Q>(std::string_view);              \
  template bool is_valid(Q);                                  \
  template std::string to_text(Q, UnitSystem);                \
  template std::string for_people(Q, UnitSystem);             \
  template Result<Range<Q>> parse_range<Q>(std::string_view); \
  template std::string to_text(const Range<Q>&, UnitSystem);  \
  template std::string for_people(const Range<Q>&, UnitSystem);
WS_INSTANTIATE(Temperature)
WS_INSTANTIATE(TemperatureDelta)
WS_INSTANTIATE(Mass)
WS_INSTANTIATE(Length)
WS_INSTANTIATE(Area)
WS_INSTANTIATE(Volume)
WS_INSTANTIATE(Power)
WS_INSTANTIATE(Energy)
WS_INSTANTIATE(Duration)
WS_INSTANTIATE(Percentage)
WS_INSTANTIATE(UvIndex)
WS_INSTANTIATE(Pressure)
#undef WS_INSTANTIATE

}  // namespace warmside
