// The scales of a picture: the colours of heat and of UV, and which values get a line.

#include "report/map_scale.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <functional>
#include <limits>
#include <vector>

namespace warmside::report {
namespace {

using testing::ElementsAre;

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

// ---- Colours ------------------------------------------------------------------------------------

struct Lab {
  double lightness, a, b;
};

double linear(double srgb) {
  return srgb <= 0.04045 ? srgb / 12.92 : std::pow((srgb + 0.055) / 1.055, 2.4);
}

/// Ottosson 2020, linear_srgb_to_oklab: the other direction than the code under test.
Lab oklab(const Colour& colour) {
  const double r = linear(colour.red), g = linear(colour.green), b = linear(colour.blue);
  const double l = std::cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const double m = std::cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const double s = std::cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return {0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s,
          1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s,
          0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s};
}

constexpr int kSteps = 256;

double apart(const Lab& from, const Lab& to) {
  return std::hypot(to.lightness - from.lightness, to.a - from.a, to.b - from.b);
}

/// What holds for the colours of heat and for those of UV.
class MapColour : public testing::TestWithParam<Colour (*)(double)> {
 protected:
  static Colour at(double share) { return GetParam()(share); }
};
INSTANTIATE_TEST_SUITE_P(Both, MapColour, testing::Values(&heat_colour, &uv_colour));

TEST_P(MapColour, LightnessRisesInEvenSteps) {
  // The published matrices and their inverses agree to about 1e-7.
  double before = oklab(at(0)).lightness;
  const double step = (oklab(at(1)).lightness - before) / kSteps;
  EXPECT_GT(step * kSteps, 0.5);
  for (int i = 1; i <= kSteps; ++i) {
    const double now = oklab(at(static_cast<double>(i) / kSteps)).lightness;
    EXPECT_NEAR(now - before, step, 1e-3 * step) << i;
    before = now;
  }
}

TEST_P(MapColour, NeighboursLieEquallyFarApart) {
  std::vector<double> distances;
  for (int i = 0; i < kSteps; ++i)
    distances.push_back(
        apart(oklab(at(static_cast<double>(i) / kSteps)), oklab(at((i + 1.0) / kSteps))));
  const auto [least, most] = std::minmax_element(distances.begin(), distances.end());
  EXPECT_LT(*most / *least, 1.002);
}

TEST_P(MapColour, NeedsNoCutToFitAScreen) {
  // A channel at 0 or 1 would have been cut there, and the steps would not be equal.
  for (int i = 0; i <= kSteps; ++i) {
    const Colour colour = at(static_cast<double>(i) / kSteps);
    for (const double part : {colour.red, colour.green, colour.blue}) {
      EXPECT_GT(part, 0) << i;
      EXPECT_LT(part, 1) << i;
    }
  }
}

TEST_P(MapColour, IsOrderedInGreyAsWell) {
  // CIE 15:2004, 8.2.1: L* from Y; Y of linear sRGB as in IEC 61966-2-1.
  const auto grey = [](const Colour& colour) {
    const double y =
        0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue);
    return 116 * std::cbrt(y) - 16;
  };
  for (int i = 0; i < kSteps; ++i)
    EXPECT_GT(grey(at((i + 1.0) / kSteps)), grey(at(1.0 * i / kSteps))) << i;
}

TEST_P(MapColour, TakesTheNearerEndOutsideTheScale) {
  EXPECT_EQ(at(-3).blue, at(0).blue);
  EXPECT_EQ(at(9).red, at(1).red);
  EXPECT_EQ(at(kNone).red, at(0).red);
}

using Vector = std::array<double, 3>;
double dot(const Vector& a, const Vector& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
Vector cross(const Vector& a, const Vector& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}

/// A colour as eyes without red-sensitive or without green-sensitive cones see it: F. Vienot,
/// H. Brettel, J. Mollon, Digital video colourmaps for checking the legibility of displays by
/// dichromats, 1999 (from memory; without its compression of the range).
Lab seen_without(bool red_cones, const Colour& colour) {
  constexpr Vector kL{17.8824, 43.5161, 4.11935}, kM{3.45565, 27.1554, 3.86714},
      kS{0.0299566, 0.184309, 1.46709};
  const Vector rgb{linear(colour.red), linear(colour.green), linear(colour.blue)};
  double l = dot(kL, rgb), m = dot(kM, rgb);
  const double s = dot(kS, rgb);
  if (red_cones)
    l = 2.02344 * m - 2.52581 * s;
  else
    m = 0.494207 * l + 1.24827 * s;
  const auto back = [&](std::size_t part) {  // the inverse, by cross products of the rows
    const double linear =
        (l * cross(kM, kS)[part] + m * cross(kS, kL)[part] + s * cross(kL, kM)[part]) /
        dot(kL, cross(kM, kS));
    const double x = std::clamp(linear, 0.0, 1.0);
    return x <= 0.0031308 ? 12.92 * x : 1.055 * std::pow(x, 1 / 2.4) - 0.055;
  };
  return oklab({back(0), back(1), back(2)});
}

/// For each of the colours of UV the distance to the nearest colour of heat.
std::vector<double> distances_from_heat(const std::function<Lab(const Colour&)>& seen) {
  std::vector<double> distances;
  for (int i = 0; i <= kSteps; ++i) {
    double least = std::numeric_limits<double>::infinity();
    for (int k = 0; k <= kSteps; ++k)
      least = std::min(
          least, apart(seen(uv_colour(1.0 * i / kSteps)), seen(heat_colour(1.0 * k / kSteps))));
    distances.push_back(least);
  }
  return distances;
}

// A difference that can just be seen is about 0.02 in OKLab (W3C, CSS Color Module Level 4, gamut
// mapping; from memory).
constexpr double kSeen = 0.02;

TEST(UvColour, IsNoColourOfHeat) {
  const std::vector<double> distances = distances_from_heat(oklab);
  EXPECT_GT(*std::min_element(distances.begin(), distances.end()), 0.15);
}

TEST(UvColour, IsMostlyNoColourOfHeatToEyesThatLackConesOfOneKind) {
  // To them colours have two dimensions, lightness and blue to yellow. Two paths from dark to
  // light, one from blue to yellow and one from yellow to blue, must cross; near that place only
  // words tell them apart.
  for (const bool red_cones : {false, true}) {
    const std::vector<double> distances =
        distances_from_heat([&](const Colour& colour) { return seen_without(red_cones, colour); });
    const auto apart_enough =
        std::count_if(distances.begin(), distances.end(), [](double d) { return d > 2 * kSeen; });
    EXPECT_GT(apart_enough, 0.75 * static_cast<double>(distances.size())) << red_cones;
  }
}

TEST(UvColour, WhiteStaysWhiteInTheModelOfEyesUsedHere) {
  // As the published matrices are made to, to about four digits.
  for (const bool red_cones : {false, true}) {
    const Lab white = seen_without(red_cones, {1, 1, 1});
    EXPECT_NEAR(white.lightness, 1, 0.01);
    EXPECT_NEAR(std::hypot(white.a, white.b), 0, 0.01);
  }
}

// ---- Scale --------------------------------------------------------------------------------------

Plane square_of(double value) {
  return {{0, 1}, {0, 1}, {value}, "", "", ""};
}

TEST(UvScale, HasLinesThatSuitTheRange) {
  const MapScale scale = scales_of(ClimatePicture{}).uv;
  EXPECT_THAT(scale.line_values({0, 0.7}), ElementsAre(0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7));
  EXPECT_THAT(scale.line_values({0, 4}), ElementsAre(0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4));
  EXPECT_THAT(scale.line_values({0, 8}), ElementsAre(0.5, 1, 2, 3, 4, 5, 6, 7, 8));
  EXPECT_THAT(scale.line_values({0, 15}), ElementsAre(0.5, 1, 2, 4, 6, 8, 10, 12, 14));
  EXPECT_THAT(scale.line_values({0.7, 15}), ElementsAre(1, 2, 4, 6, 8, 10, 12, 14));
  EXPECT_THAT(scale.line_values({3.2, 9.8}), ElementsAre(4, 5, 6, 7, 8, 9));
  EXPECT_THAT(scale.line_values({0, 0.04}), ElementsAre());
  EXPECT_THAT(scale.line_values({0, 0}), ElementsAre());
}

TEST(UvScale, StartsItsScaleAtNoneAndSpansBothMapsAndTheRanges) {
  ClimatePicture picture;
  picture.uv_plan = square_of(3);
  const auto range = [&] { return scales_of(picture).uv.range; };
  EXPECT_DOUBLE_EQ(range().low, 0);
  EXPECT_DOUBLE_EQ(range().high, 3);
  picture.uv_section = square_of(4.5);
  EXPECT_DOUBLE_EQ(range().high, 4.5);
  picture.uv_bands = {{"", 2.9, 7, true}};
  EXPECT_DOUBLE_EQ(range().high, 7);
  picture.strongest_uv_colour = 5;
  EXPECT_DOUBLE_EQ(range().high, 5);
  EXPECT_TRUE(scales_of(picture).uv.cut);
  EXPECT_FALSE(scales_of(picture).heat.cut);
  // A trace does not look like a lot.
  picture = {};
  picture.uv_plan = square_of(0.01);
  EXPECT_DOUBLE_EQ(range().high, 0.5);
}

}  // namespace
}  // namespace warmside::report
