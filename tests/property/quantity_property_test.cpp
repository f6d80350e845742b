// What must hold for every quantity, at every size: texts read back to the same bits, the systems
// of units agree, and nothing that is not a quantity is taken for one.
// Seed: the environment variable RC_PARAMS, such as "seed=1 max_success=2000"; RapidCheck prints
// the seed and the smallest case on failure.

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <bit>
#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

#include "core/quantity.h"

namespace warmside {
namespace {

/// The units of a quantity as texts, the SI unit first; written out again here so that a unit lost
/// from quantity.cpp is missed.
template <class Q>
const std::vector<std::string> kUnits;
template <>
const std::vector<std::string> kUnits<Temperature> = {"K", "C", "F"};
template <>
const std::vector<std::string> kUnits<TemperatureDelta> = {"K", "dC", "dF"};
template <>
const std::vector<std::string> kUnits<Mass> = {"kg", "g", "mg", "oz", "lb"};
template <>
const std::vector<std::string> kUnits<Length> = {"m", "cm", "mm", "in", "ft"};
template <>
const std::vector<std::string> kUnits<Area> = {"m2", "cm2", "in2", "ft2"};
template <>
const std::vector<std::string> kUnits<Volume> = {"m3", "L", "mL", "gal", "qt", "floz"};
template <>
const std::vector<std::string> kUnits<Power> = {"W", "kW"};
template <>
const std::vector<std::string> kUnits<Energy> = {"J", "kJ", "Wh", "kWh", "kcal"};
template <>
const std::vector<std::string> kUnits<Duration> = {"s", "min", "h", "d", "wk"};
template <>
const std::vector<std::string> kUnits<Percentage> = {"share", "%"};
template <>
const std::vector<std::string> kUnits<UvIndex> = {"UVI"};
template <>
const std::vector<std::string> kUnits<Pressure> = {"Pa", "hPa", "kPa", "bar", "psi", "inHg"};

template <class Q>
std::uint64_t bits(Q q) {
  return std::bit_cast<std::uint64_t>(q);
}

/// Half of the numbers at everyday sizes, half any finite double at all.
rc::Gen<double> any_number() {
  // Resized, because RapidCheck starts with small integers, and those are all denormal doubles.
  const auto raw_bits =
      rc::gen::noShrink(rc::gen::resize(rc::kNominalSize, rc::gen::arbitrary<std::uint64_t>()));
  const auto any_bits =
      rc::gen::map(raw_bits, [](std::uint64_t raw) { return std::bit_cast<double>(raw); });
  const auto everyday = rc::gen::map(raw_bits, [](std::uint64_t raw) {
    // A full 53-bit fraction at a size from 2^-12 to 2^14.
    const double fraction = 1 + static_cast<double>(raw >> 12) * 0x1p-52;
    return std::ldexp(fraction, static_cast<int>(raw % 27) - 12);
  });
  return rc::gen::suchThat(rc::gen::oneOf(any_bits, everyday),
                           [](double x) { return std::isfinite(x); });
}

/// A value of Q that parse() accepts, in a random unit.
template <class Q>
Q any_quantity() {
  for (;;) {
    const double x = *any_number();
    const std::string unit = *rc::gen::elementOf(kUnits<Q>);
    for (double signed_x : {x, std::fabs(x)}) {
      const Result<Q> q = parse<Q>(fmt::format("{}{}", signed_x, unit));
      if (q) return *q;
    }
  }
}

template <class Q>
class QuantityProperty : public testing::Test {};

using AllQuantities = testing::Types<Temperature, TemperatureDelta, Mass, Length, Area, Volume,
                                     Power, Energy, Duration, Percentage, UvIndex, Pressure>;
TYPED_TEST_SUITE(QuantityProperty, AllQuantities);

TYPED_TEST(QuantityProperty, TextReadsBackToTheSameBitsInBothSystems) {
  const bool held = rc::check([] {
    const TypeParam q = any_quantity<TypeParam>();
    for (UnitSystem system : {UnitSystem::metric, UnitSystem::us}) {
      const std::string text = to_text(q, system);
      const Result<TypeParam> back = parse<TypeParam>(text);
      RC_LOG() << text << "\n";
      RC_ASSERT(back.ok());
      RC_ASSERT(bits(*back) == bits(q));
      RC_ASSERT(to_text(*back, system) == text);
    }
  });
  EXPECT_TRUE(held);
}

TYPED_TEST(QuantityProperty, RangeReadsBackToTheSameBits) {
  const bool held = rc::check([] {
    const TypeParam a = any_quantity<TypeParam>();
    const TypeParam b = any_quantity<TypeParam>();
    const Range<TypeParam> range = a < b ? Range<TypeParam>{a, b} : Range<TypeParam>{b, a};
    for (UnitSystem system : {UnitSystem::metric, UnitSystem::us}) {
      const Result<Range<TypeParam>> back = parse_range<TypeParam>(to_text(range, system));
      RC_ASSERT(back.ok());
      RC_ASSERT(bits(back->low) == bits(range.low) && bits(back->high) == bits(range.high));
    }
    RC_ASSERT(range.contains(a) && range.contains(b));
  });
  EXPECT_TRUE(held);
}

// These characters begin nothing that could continue a unit.
TYPED_TEST(QuantityProperty, NothingMayFollowTheUnit) {
  const bool held = rc::check([] {
    const std::string first =
        *rc::gen::elementOf(std::string("!#$&'()*+,-./0123456789:;<=>?@[]_{|}~")) + std::string();
    const auto rest = *rc::gen::container<std::string>(rc::gen::arbitrary<char>());
    const std::string text = to_text(any_quantity<TypeParam>()) + first + rest.substr(0, 20);
    RC_ASSERT(!parse<TypeParam>(text).ok());
  });
  EXPECT_TRUE(held);
}

TYPED_TEST(QuantityProperty, AnyBytesGiveAnAnswerWithAShortFoundText) {
  const bool held = rc::check([] {
    const auto text = *rc::gen::container<std::string>(rc::gen::arbitrary<char>());
    const Result<TypeParam> q = parse<TypeParam>(text);
    if (!q) RC_ASSERT(q.problem().found.size() <= 40u);
    const Result<Range<TypeParam>> range = parse_range<TypeParam>(text);
    if (!range) RC_ASSERT(range.problem().found.size() <= 40u);
  });
  EXPECT_TRUE(held);
}

TYPED_TEST(QuantityProperty, PeopleGetShortTexts) {
  const bool held = rc::check([] {
    const TypeParam q = any_quantity<TypeParam>();
    for (UnitSystem system : {UnitSystem::metric, UnitSystem::us}) {
      const std::string text = for_people(q, system);
      RC_LOG() << text << "\n";
      RC_ASSERT(text.size() <= 30u);
      RC_ASSERT(text.find("inf") == text.npos && text.find("nan") == text.npos);
    }
  });
  EXPECT_TRUE(held);
}

/// n / 10^places as a person would type it: "28.5".
std::string typed(int n, int places) {
  double x = n;
  for (int i = 0; i < places; ++i) x /= 10;
  return fmt::format("{}", std::stod(fmt::format("{:.{}f}", x, places)));
}

template <class Q>
void expect_typed_text_kept(const std::string& number, const char* unit, UnitSystem system) {
  const std::string text = number + unit;
  const Result<Q> q = parse<Q>(text);
  RC_ASSERT(q.ok());
  RC_ASSERT(to_text(*q, system) == text);
}

// What a keeper types comes back as typed, not as 28.499999999999996C.
RC_GTEST_PROP(QuantityText, KeepsTypedDecimals, ()) {
  const std::string number = typed(*rc::gen::inRange(1, 100000), *rc::gen::inRange(0, 4));
  expect_typed_text_kept<Temperature>(number, "C", UnitSystem::metric);
  expect_typed_text_kept<Temperature>(number, "F", UnitSystem::us);
  expect_typed_text_kept<TemperatureDelta>(number, "K", UnitSystem::metric);
  expect_typed_text_kept<TemperatureDelta>(number, "dF", UnitSystem::us);
  expect_typed_text_kept<Mass>(number, "g", UnitSystem::metric);
  expect_typed_text_kept<Mass>(number, "oz", UnitSystem::us);
  expect_typed_text_kept<Length>(number, "cm", UnitSystem::metric);
  expect_typed_text_kept<Length>(number, "in", UnitSystem::us);
  expect_typed_text_kept<Power>(number, "W", UnitSystem::metric);
  expect_typed_text_kept<Energy>(number, "kJ", UnitSystem::metric);
  expect_typed_text_kept<Energy>(number, "kcal", UnitSystem::us);
  expect_typed_text_kept<Percentage>(number, "%", UnitSystem::metric);
  expect_typed_text_kept<UvIndex>(number, "UVI", UnitSystem::metric);
  expect_typed_text_kept<Pressure>(number, "Pa", UnitSystem::metric);
  expect_typed_text_kept<Pressure>(number, "inHg", UnitSystem::us);
}

// Whole degrees Celsius are the same bits whichever scale they were typed in.
RC_GTEST_PROP(QuantityText, WholeDegreesAgreeBetweenScales, ()) {
  const int degrees_c = 5 * *rc::gen::inRange(-50, 200);
  const int degrees_f = degrees_c * 9 / 5 + 32;
  RC_ASSERT(bits(Temperature::celsius(degrees_c)) == bits(Temperature::fahrenheit(degrees_f)));
}

// The ways in and out of a unit undo each other to two roundings.
RC_GTEST_PROP(QuantityUnits, InAndOutAgree, ()) {
  const double x = *rc::gen::inRange(1, 1000000) / 1000.0;
  const double near = 4.5e-16 * x;
  RC_ASSERT(std::fabs(Mass::ounces(x).ounces() - x) <= near);
  RC_ASSERT(std::fabs(Mass::pounds(x).pounds() - x) <= near);
  RC_ASSERT(std::fabs(Mass::grams(x).grams() - x) <= near);
  RC_ASSERT(std::fabs(Length::inches(x).inches() - x) <= near);
  RC_ASSERT(std::fabs(Volume::us_gallons(x).us_gallons() - x) <= near);
  RC_ASSERT(std::fabs(Pressure::psi(x).psi() - x) <= near);
  RC_ASSERT(std::fabs(Energy::kilocalories(x).kilocalories() - x) <= near);
  // A double near 1000 K resolves 1.1e-13 K.
  RC_ASSERT(std::fabs(Temperature::fahrenheit(x).fahrenheit() - x) <= 4e-13);
}

}  // namespace
}  // namespace warmside
