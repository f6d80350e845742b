// Conversion factors and fixed points against publications. All published values here were typed
// from memory, not from the page; where a derivation from a definition exists it stands beside, so
// that each factor is checked twice and independently of quantity.h.

#include "core/quantity.h"

#include <gtest/gtest.h>

#include <cmath>

namespace warmside {
namespace {

// Two roundings (one multiplication, one division), each at most half a unit in the last place.
constexpr double kTwoRoundings = 2.3e-16;
// SP 811 prints non-exact factors to 7 digits: half a unit of the 7th, relative, at worst 5e-7.
constexpr double kSevenDigits = 5e-7;

void expect_close(double got, double want, double relative) {
  EXPECT_NEAR(got, want, std::fabs(want) * relative);
}

// NIST SP 811 (Thompson and Taylor, 2008), appendix B.8, factors in bold (exact by definition).
// From memory.
TEST(QuantityReference, Sp811ExactFactors) {
  expect_close(Length::inches(1).metres(), 2.54e-2, kTwoRoundings);
  expect_close(Length::feet(1).metres(), 3.048e-1, kTwoRoundings);
  expect_close(Area::square_inches(1).square_metres(), 6.4516e-4, kTwoRoundings);
  expect_close(Area::square_feet(1).square_metres(), 9.290304e-2, kTwoRoundings);
  expect_close(Volume::litres(1).cubic_metres(), 1e-3, kTwoRoundings);
  expect_close(Pressure::bar(1).pascals(), 1e5, kTwoRoundings);
  expect_close(Energy::kilocalories(1).joules(), 4.184e3, kTwoRoundings);  // kilocalorie_th
  expect_close(Energy::watt_hours(1).joules(), 3.6e3, kTwoRoundings);
  expect_close(Energy::kilowatt_hours(1).joules(), 3.6e6, kTwoRoundings);
  expect_close(Duration::days(1).seconds(), 8.64e4, kTwoRoundings);
  expect_close(Duration::hours(1).seconds(), 3.6e3, kTwoRoundings);
  expect_close(Duration::minutes(1).seconds(), 60, kTwoRoundings);
  expect_close(Duration::weeks(1).seconds(), 7 * 8.64e4, kTwoRoundings);
}

// The same appendix, factors printed to 7 digits. From memory.
TEST(QuantityReference, Sp811SevenDigitFactors) {
  expect_close(Mass::pounds(1).kilograms(), 4.535924e-1, kSevenDigits);
  expect_close(Mass::ounces(1).kilograms(), 2.834952e-2, kSevenDigits);
  expect_close(Volume::us_gallons(1).cubic_metres(), 3.785412e-3, kSevenDigits);
  expect_close(Volume::us_quarts(1).cubic_metres(), 9.463529e-4, kSevenDigits);
  expect_close(Volume::us_fluid_ounces(1).cubic_metres(), 2.957353e-5, kSevenDigits);
  expect_close(Pressure::psi(1).pascals(), 6.894757e3, kSevenDigits);
  expect_close(Pressure::inches_of_mercury(1).pascals(), 3.386389e3, kSevenDigits);  // conventional
  expect_close(TemperatureDelta::fahrenheit_degrees(1).kelvin(), 5.555556e-1, kSevenDigits);
}

// Derived here from the definitions: 1 lb = 0.45359237 kg and 1 in = 0.0254 m (international yard
// and pound agreement, 1959), 1 US gallon = 231 in^3, g_n = 9.80665 m/s2 (CGPM 1901), conventional
// mercury 13595.1 kg/m3. Tolerance: up to six roundings in the derivation itself.
TEST(QuantityReference, FactorsFromDefinitions) {
  constexpr double kSixRoundings = 8e-16;
  const double inch_m = 0.0254;
  const double pound_kg = 0.45359237;
  const double g_n = 9.80665;
  const double gallon_m3 = 231 * inch_m * inch_m * inch_m;
  expect_close(Mass::pounds(1).kilograms(), pound_kg, kTwoRoundings);
  expect_close(Mass::ounces(1).kilograms(), pound_kg / 16, kTwoRoundings);
  expect_close(Length::feet(1).metres(), 12 * inch_m, kSixRoundings);
  expect_close(Volume::us_gallons(1).cubic_metres(), gallon_m3, kSixRoundings);
  expect_close(Volume::us_quarts(1).cubic_metres(), gallon_m3 / 4, kSixRoundings);
  expect_close(Volume::us_fluid_ounces(1).cubic_metres(), gallon_m3 / 128, kSixRoundings);
  expect_close(Pressure::psi(1).pascals(), pound_kg * g_n / (inch_m * inch_m), kSixRoundings);
  expect_close(Pressure::inches_of_mercury(1).pascals(), 13595.1 * g_n * inch_m, kSixRoundings);
}

// SI prefixes (SI Brochure, 9th ed. 2019, table 7).
TEST(QuantityReference, SiPrefixes) {
  EXPECT_EQ(Mass::grams(1000), Mass::kilograms(1));
  EXPECT_EQ(Mass::milligrams(1e6), Mass::kilograms(1));
  EXPECT_EQ(Length::centimetres(100), Length::metres(1));
  EXPECT_EQ(Length::millimetres(1000), Length::metres(1));
  EXPECT_EQ(Area::square_centimetres(1e4), Area::square_metres(1));
  EXPECT_EQ(Volume::millilitres(1000), Volume::litres(1));
  EXPECT_EQ(Volume::litres(1000), Volume::cubic_metres(1));
  EXPECT_EQ(Power::kilowatts(1), Power::watts(1000));
  EXPECT_EQ(Energy::kilojoules(1), Energy::joules(1000));
  EXPECT_EQ(Pressure::kilopascals(1), Pressure::pascals(1000));
  EXPECT_EQ(Pressure::hectopascals(1), Pressure::pascals(100));
  EXPECT_EQ(Percentage::percent(100), Percentage::share(1));
}

// t/degC = T/K - 273.15 (SI Brochure 2.3.1); t/degF = 1.8 t/degC + 32 (SP 811, table 8 and B.8).
// Each row states one point on three scales. Ice point, triple point of water and absolute zero
// are definitions (ITS-90 assigns 273.16 K to the triple point); the others are arithmetic.
TEST(QuantityReference, FixedPointsOfTemperature) {
  struct Point {
    double kelvin, celsius, fahrenheit;
  };
  const Point points[] = {
      {0, -273.15, -459.67},         // absolute zero
      {233.15, -40, -40},            // where the scales meet
      {273.15, 0, 32},               // ice point
      {273.16, 0.01, 32.018},        // triple point of water
      {293.15, 20, 68},              // reference temperature of ISO 1
      {310.15, 37, 98.6},            // human body
      {373.15, 100, 212},            // conventional boiling point
      {505.078, 231.928, 449.4704},  // freezing tin, ITS-90 table 1
      {692.677, 419.527, 787.1486},  // freezing zinc, ITS-90 table 1
  };
  // A double near 300..700 K resolves 1.1e-13 K; allow three roundings.
  constexpr double kTolerance_k = 3.5e-13;
  for (const Point& point : points) {
    EXPECT_NEAR(Temperature::celsius(point.celsius).kelvin(), point.kelvin, kTolerance_k);
    EXPECT_NEAR(Temperature::fahrenheit(point.fahrenheit).kelvin(), point.kelvin, kTolerance_k);
    EXPECT_NEAR(Temperature::kelvin(point.kelvin).celsius(), point.celsius, kTolerance_k);
    EXPECT_NEAR(Temperature::kelvin(point.kelvin).fahrenheit(), point.fahrenheit,
                1.8 * kTolerance_k);
  }
}

// One standard atmosphere is 101325 Pa exactly; 29.9213 inHg and 14.6959 psi to 6 digits
// (US Standard Atmosphere 1976, table of constants; from memory). Tolerance: the last digit.
TEST(QuantityReference, StandardAtmosphere) {
  const Pressure atmosphere = Pressure::pascals(101325);
  EXPECT_NEAR(atmosphere.inches_of_mercury(), 29.9213, 5e-5);
  EXPECT_NEAR(atmosphere.psi(), 14.6959, 5e-5);
  EXPECT_EQ(atmosphere.hectopascals(), 1013.25);
}

}  // namespace
}  // namespace warmside
