// Grammar, messages and wording of core/quantity.h. Factors: tests/reference/quantity_test.cpp;
// round trips over all magnitudes: tests/property/quantity_property_test.cpp.

#include "core/quantity.h"

#include <gtest/gtest.h>

#include <limits>
#include <string>
#include <type_traits>

namespace warmside {
namespace {

using enum ProblemCode;
constexpr UnitSystem kUs = UnitSystem::us;

// A quantity is as cheap as the double in it, and nothing converts on its own.
static_assert(sizeof(Mass) == sizeof(double) && std::is_trivially_copyable_v<Mass>);
static_assert(sizeof(Temperature) == sizeof(double) && std::is_trivially_copyable_v<Temperature>);
static_assert(!std::is_convertible_v<double, Mass> && !std::is_constructible_v<Mass, double>);
static_assert(!std::is_constructible_v<Temperature, double>);
static_assert(!std::is_convertible_v<Mass, double>);
static_assert(!std::is_convertible_v<Temperature, TemperatureDelta>);
static_assert(Quantity<Percentage> && !Quantity<double>);

// Everything but text works at compile time.
static_assert(Temperature::celsius(28) - Temperature::celsius(21) == TemperatureDelta::kelvin(7));
static_assert(Temperature::celsius(21) + TemperatureDelta::fahrenheit_degrees(9) ==
              Temperature::celsius(26));
static_assert(Mass::grams(300) + Mass::grams(50) == Mass::grams(350));
static_assert(Mass::grams(300) / Mass::grams(150) == 2);
static_assert(2 * Length::metres(3) > Length::metres(5));
static_assert(Percentage::percent(55).share() == 0.55);
static_assert(Range<Mass>{Mass::grams(1), Mass::grams(2)}.contains(Mass::grams(2)));
static_assert(!Range<Mass>{Mass::grams(1), Mass::grams(2)}.contains(Mass::grams(2.5)));

/// The value, with the message on failure.
template <class Q>
Q read(std::string_view text) {
  const Result<Q> result = parse<Q>(text);
  EXPECT_TRUE(result.ok()) << text << ": " << (result ? "" : to_line(result.problem()));
  return result ? *result : Q();
}

template <class Q>
Problem refused(std::string_view text) {
  const Result<Q> result = parse<Q>(text);
  EXPECT_FALSE(result.ok()) << text;
  return result ? Problem{} : result.problem();
}

TEST(QuantityParse, EveryUnitGivesTheBitsOfItsFactory) {
  EXPECT_EQ(read<Temperature>("28.1C"), Temperature::celsius(28.1));
  EXPECT_EQ(read<Temperature>("28.1°C"), Temperature::celsius(28.1));
  EXPECT_EQ(read<Temperature>("28.1degC"), Temperature::celsius(28.1));
  EXPECT_EQ(read<Temperature>("82.3F"), Temperature::fahrenheit(82.3));
  EXPECT_EQ(read<Temperature>("82.3°F"), Temperature::fahrenheit(82.3));
  EXPECT_EQ(read<Temperature>("82.3degF"), Temperature::fahrenheit(82.3));
  EXPECT_EQ(read<Temperature>("300.1K"), Temperature::kelvin(300.1));
  EXPECT_EQ(read<TemperatureDelta>("5.1K"), TemperatureDelta::kelvin(5.1));
  EXPECT_EQ(read<TemperatureDelta>("5.1dC"), TemperatureDelta::kelvin(5.1));
  EXPECT_EQ(read<TemperatureDelta>("5.1ΔC"), TemperatureDelta::kelvin(5.1));
  EXPECT_EQ(read<TemperatureDelta>("9.1dF"), TemperatureDelta::fahrenheit_degrees(9.1));
  EXPECT_EQ(read<TemperatureDelta>("-9.1ΔF"), TemperatureDelta::fahrenheit_degrees(-9.1));
  EXPECT_EQ(read<Mass>("0.1kg"), Mass::kilograms(0.1));
  EXPECT_EQ(read<Mass>("0.1g"), Mass::grams(0.1));
  EXPECT_EQ(read<Mass>("0.1mg"), Mass::milligrams(0.1));
  EXPECT_EQ(read<Mass>("0.1oz"), Mass::ounces(0.1));
  EXPECT_EQ(read<Mass>("0.1lb"), Mass::pounds(0.1));
  EXPECT_EQ(read<Length>("0.1m"), Length::metres(0.1));
  EXPECT_EQ(read<Length>("0.1cm"), Length::centimetres(0.1));
  EXPECT_EQ(read<Length>("0.1mm"), Length::millimetres(0.1));
  EXPECT_EQ(read<Length>("0.1in"), Length::inches(0.1));
  EXPECT_EQ(read<Length>("0.1ft"), Length::feet(0.1));
  EXPECT_EQ(read<Area>("0.1m2"), Area::square_metres(0.1));
  EXPECT_EQ(read<Area>("0.1m²"), Area::square_metres(0.1));
  EXPECT_EQ(read<Area>("0.1cm²"), Area::square_centimetres(0.1));
  EXPECT_EQ(read<Area>("0.1in2"), Area::square_inches(0.1));
  EXPECT_EQ(read<Area>("0.1ft²"), Area::square_feet(0.1));
  EXPECT_EQ(read<Volume>("0.1L"), Volume::litres(0.1));
  EXPECT_EQ(read<Volume>("0.1l"), Volume::litres(0.1));
  EXPECT_EQ(read<Volume>("0.1mL"), Volume::millilitres(0.1));
  EXPECT_EQ(read<Volume>("0.1ml"), Volume::millilitres(0.1));
  EXPECT_EQ(read<Volume>("0.1m3"), Volume::cubic_metres(0.1));
  EXPECT_EQ(read<Volume>("0.1gal"), Volume::us_gallons(0.1));
  EXPECT_EQ(read<Volume>("0.1qt"), Volume::us_quarts(0.1));
  EXPECT_EQ(read<Volume>("0.1floz"), Volume::us_fluid_ounces(0.1));
  EXPECT_EQ(read<Power>("25.1W"), Power::watts(25.1));
  EXPECT_EQ(read<Power>("0.1kW"), Power::kilowatts(0.1));
  EXPECT_EQ(read<Energy>("-0.1J"), Energy::joules(-0.1));
  EXPECT_EQ(read<Energy>("0.1kJ"), Energy::kilojoules(0.1));
  EXPECT_EQ(read<Energy>("0.1Wh"), Energy::watt_hours(0.1));
  EXPECT_EQ(read<Energy>("0.1kWh"), Energy::kilowatt_hours(0.1));
  EXPECT_EQ(read<Energy>("0.1kcal"), Energy::kilocalories(0.1));
  EXPECT_EQ(read<Duration>("0.1s"), Duration::seconds(0.1));
  EXPECT_EQ(read<Duration>("0.1min"), Duration::minutes(0.1));
  EXPECT_EQ(read<Duration>("0.1h"), Duration::hours(0.1));
  EXPECT_EQ(read<Duration>("0.1d"), Duration::days(0.1));
  EXPECT_EQ(read<Duration>("0.1wk"), Duration::weeks(0.1));
  EXPECT_EQ(read<Percentage>("5.25%"), Percentage::percent(5.25));
  EXPECT_EQ(read<Percentage>("0.0525share"), Percentage::share(0.0525));
  EXPECT_EQ(read<UvIndex>("3.2UVI"), UvIndex::index(3.2));
  EXPECT_EQ(read<Pressure>("101325Pa"), Pressure::pascals(101325));
  EXPECT_EQ(read<Pressure>("1013.2hPa"), Pressure::hectopascals(1013.2));
  EXPECT_EQ(read<Pressure>("1013.2mbar"), Pressure::hectopascals(1013.2));
  EXPECT_EQ(read<Pressure>("101.3kPa"), Pressure::kilopascals(101.3));
  EXPECT_EQ(read<Pressure>("1.1bar"), Pressure::bar(1.1));
  EXPECT_EQ(read<Pressure>("14.7psi"), Pressure::psi(14.7));
  EXPECT_EQ(read<Pressure>("29.92inHg"), Pressure::inches_of_mercury(29.92));
}

TEST(QuantityParse, BlanksSignsAndExponents) {
  EXPECT_EQ(read<Mass>(" \t350 g\r\n"), Mass::grams(350));
  EXPECT_EQ(read<Mass>("+350g"), Mass::grams(350));
  EXPECT_EQ(read<Mass>("3.5e2g"), Mass::grams(350));
  EXPECT_EQ(read<Mass>("3.5E+02g"), Mass::grams(350));
  EXPECT_EQ(read<Mass>("0350.000g"), Mass::grams(350));
  EXPECT_EQ(read<Mass>("0e999999g"), Mass());  // a written zero is a zero at any exponent
  EXPECT_EQ(to_text(read<Mass>("-0g")), "0g");
  EXPECT_EQ(to_text(read<TemperatureDelta>("-0.0K")), "0K");
}

TEST(QuantityParse, NotANumber) {
  for (const char* text : {"", " ", "g", "abc", "nan", "NaN g", "inf", "-infinity kg", ".5g", "5.g",
                           "5.", "-", "+", "- 5g", "--5g", "e5g", "1..2g", "\xff", "٣g"}) {
    EXPECT_EQ(refused<Mass>(text).code, bad_syntax) << text;
  }
  const Problem comma = refused<Mass>("12,5oz");
  EXPECT_EQ(comma.code, bad_syntax);
  EXPECT_EQ(comma.what, "a comma in a number; decimals are written with a point");
  EXPECT_EQ(refused<Mass>("1,200g").code, bad_syntax);
}

TEST(QuantityParse, BareNumber) {
  const Problem bare = refused<Mass>(" 12.5 ");
  EXPECT_EQ(bare.code, bad_value);
  EXPECT_EQ(bare.what, "a number without a unit");
  EXPECT_EQ(bare.expected, "a mass with its unit (kg g mg oz lb), such as 350g or 12.5oz");
  EXPECT_EQ(bare.found, "12.5");
  EXPECT_TRUE(refused<Area>("1").expected.starts_with("an area with its unit"));
  EXPECT_TRUE(refused<UvIndex>("1").expected.starts_with("a UV index with its unit"));
}

TEST(QuantityParse, UnitOfAnotherQuantity) {
  EXPECT_EQ(refused<Mass>("5ml").what, "unit ml is a volume, not a mass");
  EXPECT_EQ(refused<Length>("5m2").what, "unit m2 is an area, not a length");
  EXPECT_EQ(refused<Mass>("5floz").what, "unit floz is a volume, not a mass");
  EXPECT_EQ(refused<TemperatureDelta>("5C").what,
            "unit C is a temperature, not a temperature difference");
  EXPECT_EQ(refused<Temperature>("5dC").what,
            "unit dC is a temperature difference, not a temperature");
  EXPECT_EQ(refused<Power>("5Wh").what, "unit Wh is an energy, not a power");
  EXPECT_EQ(refused<Mass>("5ml").code, bad_value);
}

TEST(QuantityParse, UnknownUnit) {
  for (const char* text : {"5G", "5KG", "5gg", "5 g g", "5  g", "5\tg", "5g.", "5g5", "0x10g", "1e",
                           "1eg", "1 e5g", "5nan"}) {
    EXPECT_EQ(refused<Mass>(text).what, "an unknown unit") << text;
    EXPECT_EQ(refused<Mass>(text).code, bad_value) << text;
  }
  EXPECT_EQ(refused<Mass>(std::string_view("5g\0", 3)).code, bad_value);
}

TEST(QuantityParse, OutOfRange) {
  for (const char* text : {"-1g", "-1e-300kg", "1e309kg", "1e999g", "1e-400kg", "1e-322g"}) {
    EXPECT_EQ(refused<Mass>(text).code, out_of_range) << text;
  }
  EXPECT_EQ(refused<Length>("-1cm").code, out_of_range);
  EXPECT_EQ(refused<Area>("-1m2").code, out_of_range);
  EXPECT_EQ(refused<Volume>("-1L").code, out_of_range);
  EXPECT_EQ(refused<Power>("-1W").code, out_of_range);
  EXPECT_EQ(refused<Duration>("-1h").code, out_of_range);
  EXPECT_EQ(refused<Pressure>("-1Pa").code, out_of_range);
  EXPECT_EQ(refused<UvIndex>("-1UVI").code, out_of_range);
  EXPECT_EQ(refused<Percentage>("-1%").code, out_of_range);
  EXPECT_EQ(refused<Percentage>("1000001%").code, out_of_range);
  EXPECT_EQ(read<Percentage>("1000000%"), Percentage::share(1e4));
  EXPECT_EQ(refused<Energy>("1e308kWh").code, out_of_range);  // overflows in the conversion
  EXPECT_EQ(refused<Temperature>("-273.16C").code, out_of_range);
  EXPECT_EQ(refused<Temperature>("-459.68F").code, out_of_range);
  EXPECT_EQ(refused<Temperature>("-1K").what, "a temperature below absolute zero");
  EXPECT_EQ(read<Temperature>("-273.15C"), Temperature::kelvin(0));
  EXPECT_EQ(read<Temperature>("-459.67F"), Temperature::kelvin(0));
}

TEST(QuantityParse, LongTextIsRefusedAndShownShort) {
  EXPECT_EQ(read<Mass>(std::string(62, '0') + "1g"), Mass::grams(1));  // 64 bytes
  const Problem too_long = refused<Mass>(std::string(63, '0') + "1g");
  EXPECT_EQ(too_long.code, bad_syntax);
  EXPECT_EQ(too_long.found, std::string(40, '0'));
  // "é" is two bytes; 39 + 2 would pass 40, so it is left out whole.
  EXPECT_EQ(refused<Mass>(std::string(39, 'x') + "éé").found, std::string(39, 'x'));
  EXPECT_EQ(refused<Mass>("éé").found, "éé");
}

// The found text goes into JSON and terminals: no broken UTF-8, no controls.
TEST(QuantityParse, FoundTextIsCleaned) {
  EXPECT_EQ(refused<Mass>("a\x1b[1m\x7f\xff").found, "a?[1m??");
  EXPECT_EQ(refused<Mass>("\xc3").found, "?");                 // cut short
  EXPECT_EQ(refused<Mass>("\xc0\xaf").found, "??");            // overlong
  EXPECT_EQ(refused<Mass>("\xed\xa0\x80").found, "???");       // a surrogate
  EXPECT_EQ(refused<Mass>("\xf4\x90\x80\x80").found, "????");  // above U+10FFFF
  EXPECT_EQ(refused<Mass>("🐸").found, "🐸");
}

TEST(QuantityText, UsualUnitFewestDigits) {
  EXPECT_EQ(to_text(Temperature::celsius(28)), "28C");
  EXPECT_EQ(to_text(Temperature::celsius(28.1)), "28.1C");
  EXPECT_EQ(to_text(Temperature::fahrenheit(82.4)), "28C");
  EXPECT_EQ(to_text(Temperature::celsius(28), kUs), "82.4F");
  EXPECT_EQ(to_text(TemperatureDelta::kelvin(-7)), "-7K");
  EXPECT_EQ(to_text(TemperatureDelta::kelvin(5), kUs), "9dF");
  EXPECT_EQ(to_text(Mass::kilograms(0.35)), "350g");
  EXPECT_EQ(to_text(Mass::ounces(12.5)), "354.3690390625g");  // 12.5 x 28.349523125
  EXPECT_EQ(to_text(Mass::ounces(12.5), kUs), "12.5oz");
  EXPECT_EQ(to_text(Length::inches(24)), "60.96cm");
  EXPECT_EQ(to_text(Length::feet(2), kUs), "24in");
  EXPECT_EQ(to_text(Area::square_centimetres(900)), "900cm2");
  EXPECT_EQ(to_text(Area::square_metres(0.72)), "0.72m2");
  EXPECT_EQ(to_text(Area::square_feet(8), kUs), "8ft2");
  EXPECT_EQ(to_text(Volume::litres(0.25)), "250mL");
  EXPECT_EQ(to_text(Volume::litres(2)), "2L");
  EXPECT_EQ(to_text(Volume::us_quarts(1), kUs), "32floz");
  EXPECT_EQ(to_text(Volume::us_gallons(1.5), kUs), "1.5gal");
  EXPECT_EQ(to_text(Power::kilowatts(0.025)), "25W");
  EXPECT_EQ(to_text(Energy::kilowatt_hours(1)), "3600kJ");
  EXPECT_EQ(to_text(Energy::kilojoules(418.4), kUs), "100kcal");
  EXPECT_EQ(to_text(Duration::weeks(2)), "14d");
  EXPECT_EQ(to_text(Duration::hours(36)), "36h");
  EXPECT_EQ(to_text(Duration::hours(1.5)), "90min");
  EXPECT_EQ(to_text(Duration::minutes(1.5)), "90s");
  EXPECT_EQ(to_text(Duration::seconds(0.25)), "0.25s");
  EXPECT_EQ(to_text(Duration()), "0s");
  EXPECT_EQ(to_text(Percentage::share(0.0525)), "5.25%");
  EXPECT_EQ(to_text(UvIndex::index(3.2)), "3.2UVI");
  EXPECT_EQ(to_text(Pressure::bar(1)), "100000Pa");
  EXPECT_EQ(to_text(Pressure::inches_of_mercury(29.92), kUs), "29.92inHg");
}

// degC cannot resolve the last bits of a temperature near absolute zero; kelvin can.
TEST(QuantityText, FallsBackToTheSiUnit) {
  EXPECT_EQ(to_text(Temperature::kelvin(1e-300)), "1e-300K");
  EXPECT_EQ(to_text(Length::metres(1e308)), "1e+308m");  // cm would overflow
}

TEST(QuantityTextDeathTest, ImpossibleValuesAreOurMistake) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  EXPECT_DEATH(to_text(Mass::grams(nan)), "is_valid");
  EXPECT_DEATH(to_text(Mass::grams(-1)), "is_valid");
  EXPECT_DEATH(for_people(Temperature::celsius(nan)), "isfinite");
}

TEST(QuantityForPeople, Metric) {
  EXPECT_EQ(for_people(Temperature::celsius(28.46)), "28.5 °C");
  EXPECT_EQ(for_people(Temperature::celsius(28)), "28 °C");
  EXPECT_EQ(for_people(Temperature::celsius(-0.04)), "0 °C");
  EXPECT_EQ(for_people(TemperatureDelta::kelvin(-7)), "-7 °C");
  EXPECT_EQ(for_people(Mass::grams(812.4)), "812 g");
  EXPECT_EQ(for_people(Mass::grams(99.96)), "100 g");
  EXPECT_EQ(for_people(Mass::grams(12.34)), "12.3 g");
  EXPECT_EQ(for_people(Mass::grams(999.7)), "1 kg");
  EXPECT_EQ(for_people(Mass::grams(1237)), "1.24 kg");
  EXPECT_EQ(for_people(Mass::grams(-12)), "-12 g");  // a loss
  EXPECT_EQ(for_people(Mass::milligrams(2.5)), "2.5 mg");
  EXPECT_EQ(for_people(Mass()), "0 g");
  EXPECT_EQ(for_people(Length::centimetres(60)), "60 cm");
  EXPECT_EQ(for_people(Length::centimetres(180)), "180 cm");
  EXPECT_EQ(for_people(Length::metres(12)), "12 m");
  EXPECT_EQ(for_people(Length::millimetres(4)), "4 mm");
  EXPECT_EQ(for_people(Area::square_metres(0.72)), "0.72 m²");
  EXPECT_EQ(for_people(Area::square_metres(0.045)), "450 cm²");
  EXPECT_EQ(for_people(Volume::litres(2)), "2 L");
  EXPECT_EQ(for_people(Volume::litres(0.0125)), "12.5 mL");
  EXPECT_EQ(for_people(Power::watts(25)), "25 W");
  EXPECT_EQ(for_people(Power::watts(1500)), "1.5 kW");
  EXPECT_EQ(for_people(Energy::kilojoules(12.34)), "12.3 kJ");
  EXPECT_EQ(for_people(Energy::kilowatt_hours(1.456)), "1.46 kWh");
  EXPECT_EQ(for_people(Duration::seconds(45)), "45 s");
  EXPECT_EQ(for_people(Duration::minutes(30)), "30 min");
  EXPECT_EQ(for_people(Duration::minutes(59.9)), "1 h");
  EXPECT_EQ(for_people(Duration::hours(2)), "2 h");
  EXPECT_EQ(for_people(Duration::minutes(100)), "1 h 40 min");
  EXPECT_EQ(for_people(Duration::minutes(-100)), "-1 h 40 min");
  EXPECT_EQ(for_people(Duration::minutes(1439.9)), "1 day");
  EXPECT_EQ(for_people(Duration::hours(36)), "1.5 days");
  EXPECT_EQ(for_people(Duration::weeks(2)), "14 days");
  EXPECT_EQ(for_people(Percentage::percent(55)), "55 %");
  EXPECT_EQ(for_people(Percentage::percent(5.25)), "5.25 %");
  EXPECT_EQ(for_people(UvIndex::index(3.24)), "3.2 UVI");
  EXPECT_EQ(for_people(Pressure::pascals(101325)), "1013 hPa");
  EXPECT_EQ(for_people(Length::metres(1e307)), "1e+307 m");
}

TEST(QuantityForPeople, Us) {
  EXPECT_EQ(for_people(Temperature::celsius(28.5), kUs), "83.3 °F");
  EXPECT_EQ(for_people(TemperatureDelta::kelvin(7), kUs), "12.6 °F");
  EXPECT_EQ(for_people(Mass::ounces(12.5), kUs), "12.5 oz");
  EXPECT_EQ(for_people(Mass::ounces(28.5), kUs), "1.78 lb");  // 28.5 / 16 = 1.78125
  EXPECT_EQ(for_people(Length::inches(24), kUs), "24 in");
  EXPECT_EQ(for_people(Length::feet(12), kUs), "12 ft");
  EXPECT_EQ(for_people(Area::square_feet(8), kUs), "8 ft²");
  EXPECT_EQ(for_people(Area::square_inches(100), kUs), "100 in²");
  EXPECT_EQ(for_people(Volume::us_gallons(1.5), kUs), "1.5 gal");
  EXPECT_EQ(for_people(Volume::us_quarts(2), kUs), "2 qt");
  EXPECT_EQ(for_people(Volume::us_fluid_ounces(8), kUs), "8 fl oz");
  EXPECT_EQ(for_people(Energy::kilocalories(250), kUs), "250 kcal");
  EXPECT_EQ(for_people(Pressure::inches_of_mercury(29.92), kUs), "29.9 inHg");
}

TEST(QuantityRange, ReadsAndWrites) {
  const Result<Range<Temperature>> range = parse_range<Temperature>("26C .. 86F");
  ASSERT_TRUE(range.ok());
  EXPECT_EQ(range->low, Temperature::celsius(26));
  EXPECT_EQ(range->high, Temperature::celsius(30));
  EXPECT_EQ(to_text(*range), "26C..30C");
  EXPECT_EQ(for_people(*range), "26 – 30 °C");
  EXPECT_EQ(for_people(*range, kUs), "78.8 – 86 °F");
  EXPECT_TRUE(parse_range<Mass>("5g..5g").ok());
  EXPECT_EQ(for_people(*parse_range<Mass>("5g..5g")), "5 g");
  EXPECT_EQ(for_people(*parse_range<Mass>("5g..2kg")), "5 g – 2 kg");
  EXPECT_EQ(for_people(*parse_range<Duration>("70min..100min")), "1 h 10 min – 1 h 40 min");
  EXPECT_EQ(for_people(*parse_range<Volume>("8floz..16floz"), kUs), "8 – 16 fl oz");
}

TEST(QuantityRange, Refuses) {
  const auto code = [](std::string_view text) {
    const Result<Range<Temperature>> range = parse_range<Temperature>(text);
    EXPECT_FALSE(range.ok()) << text;
    return range.problem().code;
  };
  EXPECT_EQ(code(""), bad_syntax);
  EXPECT_EQ(code("26C"), bad_syntax);
  EXPECT_EQ(code(".."), bad_syntax);
  EXPECT_EQ(code("26C.."), bad_syntax);
  EXPECT_EQ(code("..30C"), bad_syntax);
  EXPECT_EQ(code("26C...30C"), bad_syntax);
  EXPECT_EQ(code("26..30C"), bad_value);  // both ends carry their unit
  EXPECT_EQ(code("26C..30C..31C"), bad_value);
  EXPECT_EQ(code("30C..26C"), bad_value);
  EXPECT_EQ(code("26C..30g"), bad_value);
  EXPECT_EQ(code("-300C..30C"), out_of_range);
}

TEST(QuantityName, IsTheWordInMessages) {
  EXPECT_STREQ(quantity_name<Mass>(), "mass");
  EXPECT_STREQ(quantity_name<TemperatureDelta>(), "temperature difference");
}

}  // namespace
}  // namespace warmside
