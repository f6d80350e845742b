// How the UV index falls with distance. Closed forms:
// - point: 1 / d^2;
// - diffuse line of length L on its mid-plane, receiver parallel: (F / (pi^2 d)) (b + sin b cos b),
//   b = atan(L / 2d); off the middle by x: half of (b + sin(2b)/2) between atan((-L/2 - x)/d) and
//   atan((L/2 - x)/d). Derived: a Lambertian line element sends F/pi^2 sin(phi) per steradian;
// - disc of radius R on its axis: R^2 / (R^2 + d^2), a Lambertian disc's view factor.
// The table is those forms at the distances shown, worked out apart from this code to four
// decimals. Here a point and a line are checked to half of the last digit, everything else to
// quadrature. tests/reference/uv_check.py integrates over the source with a program of its own.

#include "light/uv_field.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace warmside::light {
namespace {

using room::Answer;
using room::Screen;
using room::UvRow;
using std::numbers::pi;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;

Optics tube(double length_m, double lobe = 0) {
  return {length_m, 0, lobe};
}
Optics point(double offset_m = 0, double lobe = 0) {
  return {0, offset_m, lobe};
}
double below(const Optics& optics, double d_m) {
  return geometric_factor(optics, {0, 0, d_m});
}
std::vector<UvRow> rows(std::initializer_list<std::pair<double, double>> list) {
  std::vector<UvRow> made;
  for (const auto& [cm, uvi] : list) {
    made.push_back({Length::centimetres(cm), UvIndex::index(uvi)});
  }
  return made;
}
KnownLamp lamp(Emitter emitter, std::vector<UvRow> table) {
  KnownLamp known;
  known.emitter = emitter;
  if (emitter == Emitter::tube) known.length = Length::centimetres(55);
  known.rows = std::move(table);
  return known;
}
LampField field(const KnownLamp& known) {
  return LampField::from(known).value();
}

TEST(Falloff, RatiosToTheValueAt30Centimetres) {
  const double lengths_m[] = {0, 0.30, 0.55, 0.85, 1.15};  // 0: a point
  const struct {
    double d_m, ratio[5];
  } kTable[] = {{0.10, {9.0000, 5.0171, 3.7333, 3.2846, 3.1348}},
                {0.15, {4.0000, 2.9767, 2.4061, 2.1655, 2.0798}},
                {0.20, {2.2500, 1.9513, 1.7148, 1.5935, 1.5463}},
                {0.25, {1.4400, 1.3639, 1.2877, 1.2411, 1.2211}},
                {0.40, {0.5625, 0.5971, 0.6466, 0.6909, 0.7159}},
                {0.50, {0.3600, 0.3937, 0.4476, 0.5036, 0.5401}},
                {0.60, {0.2500, 0.2780, 0.3260, 0.3811, 0.4212}},
                {0.90, {0.1111, 0.1263, 0.1548, 0.1932, 0.2272}}};
  for (const auto& row : kTable) {
    for (int i = 0; i < 5; ++i) {
      const Optics optics{lengths_m[i], 0, 0};
      EXPECT_NEAR(below(optics, row.d_m) / below(optics, 0.3), row.ratio[i], 5.1e-5)
          << row.d_m << " m, " << lengths_m[i] << " m long";
    }
  }
}

TEST(Falloff, AlongATubeOf55CentimetresAt30) {
  const std::pair<double, double> kTable[] = {
      {0, 1}, {0.1, 0.9464}, {0.2, 0.7819}, {0.275, 0.6015}, {0.4, 0.3120}};
  for (const auto& [x_m, ratio] : kTable) {
    EXPECT_NEAR(geometric_factor(tube(0.55), {x_m, 0, 0.3}) / below(tube(0.55), 0.3), ratio,
                5.1e-5);
    EXPECT_EQ(geometric_factor(tube(0.55), {-x_m, 0, 0.3}),
              geometric_factor(tube(0.55), {x_m, 0, 0.3}));
  }
}

// K stands for F / pi^2: d << L gives F / (2 pi d) = K pi / (2 d); d >> L gives K L / d^2.
TEST(Falloff, NearAndFarLimitsOfATube) {
  EXPECT_NEAR(below(tube(10), 0.01) * 0.01, pi / 2, 1e-6);
  EXPECT_NEAR(below(tube(0.01), 2) * 4, 0.01, 1e-7);
}

// A bare line looks the same from all round: at the same distance, straight below or aside, a
// surface that faces it gets the same. Under a strip that shines down it falls with the cosine.
TEST(Falloff, ATubeToItsSide) {
  for (const double degrees : {20.0, 45.0, 70.0}) {
    const double a = degrees * pi / 180, r = 0.4;
    const UnderLamp at{0.1, r * std::sin(a), r * std::cos(a)};
    const Facing towards{0, -std::sin(a), std::cos(a)};
    const double straight = geometric_factor(tube(0.55), {0.1, 0, r});
    EXPECT_NEAR(geometric_factor(tube(0.55), at, towards), straight, 1e-12);
    EXPECT_NEAR(geometric_factor(tube(0.55), at), straight * std::cos(a), 1e-12);
    EXPECT_NEAR(geometric_factor(tube(0.55, 1), at, towards), straight * std::cos(a), 1e-12);
  }
}

// Every orientation against the sum over 20,000 elements of the tube.
TEST(Falloff, AnyFacingAgainstElements) {
  const Facing facings[] = {{0.6, 0, 0.8}, {-0.6, 0.64, 0.48}, {1, 0, 0},
                            {0, 1, 0},     {0, -0.6, 0.8},     {0.8, 0.6, 0}};
  for (const Facing& facing : facings) {
    const UnderLamp at{0.15, 0.12, 0.27};
    double sum = 0;
    const int n = 20000;
    for (int i = 0; i < n; ++i) {
      const double u = -0.275 + 0.55 * (i + 0.5) / n - at.along_m;
      const double v = -at.aside_m, w = at.below_m, r = std::sqrt(u * u + v * v + w * w);
      const double front = std::max(facing.along * u + facing.aside * v + facing.up * w, 0.0) / r;
      sum += std::hypot(v, w) / r * front / (r * r) * 0.55 / n;
    }
    EXPECT_NEAR(geometric_factor(tube(0.55), at, facing), sum, 1e-6 + 1e-6 * sum);
  }
}

// Points with a Lambertian lobe spread over a disc of radius 0.1 m make that disc.
TEST(Falloff, PointsOfADiscMakeADisc) {
  const auto disc = [](double d_m) {
    double sum = 0;
    const int rings = 400, spokes = 8;
    for (int i = 0; i < rings; ++i) {
      const double r = 0.1 * (i + 0.5) / rings;
      for (int j = 0; j < spokes; ++j) {
        const double a = 2 * pi * j / spokes;
        sum += r * geometric_factor(point(0, 1), {r * std::cos(a), r * std::sin(a), d_m});
      }
    }
    return sum;
  };
  const std::pair<double, double> kTable[] = {
      {0.10, 5.0000}, {0.15, 3.0769}, {0.20, 2.0000}, {0.40, 0.5882}, {0.50, 0.3846}};
  for (const auto& [d_m, ratio] : kTable) EXPECT_NEAR(disc(d_m) / disc(0.3), ratio, 1e-4) << d_m;
}

TEST(Falloff, NothingAboveTheFaceOrBehindASurface) {
  for (const Optics& optics : {tube(0.55), tube(0.55, 1), point(0.05), point(0, 3)}) {
    EXPECT_EQ(geometric_factor(optics, {0.1, 0.1, 0}), 0);
    EXPECT_EQ(geometric_factor(optics, {0.1, 0.1, -0.2}), 0);
    EXPECT_EQ(geometric_factor(optics, {0, 0, 0.3}, {0, 0, -1}), 0);
  }
}

TEST(Lobe, HalfAtHalfTheBeam) {
  for (const double degrees : {10.0, 38.0, 60.0, 120.0}) {
    const double m = lobe_of_beam(degrees);
    EXPECT_NEAR(std::pow(std::cos(degrees / 2 * pi / 180), m), 0.5, 1e-12) << degrees;
  }
  EXPECT_EQ(lobe_of_beam(180), 0);
  EXPECT_NEAR(lobe_of_beam(120), 1, 1e-12);  // cos 60 = 1/2
}

// (1 - d/p)(1 - d/(p cos a)) of a mesh with an open share of 0.64 (d/p = 0.2), to three decimals.
TEST(MeshPasses, LessAtATilt) {
  const Mesh mesh{0.64};
  const std::pair<double, double> kTable[] = {{0, 0.640}, {30, 0.615}, {45, 0.574}, {60, 0.480}};
  for (const auto& [degrees, share] : kTable) {
    const double a = degrees * pi / 180;
    EXPECT_NEAR(mesh.passes(std::sin(a), 0, std::cos(a)), share, 5e-4) << degrees;
    EXPECT_NEAR(mesh.passes(0, -std::sin(a), std::cos(a)), share, 5e-4) << degrees;
  }
  EXPECT_EQ(Mesh{1}.passes(3, 1, 0.5), 1);
  EXPECT_EQ(mesh.passes(100, 0, 1), 0);  // along the mesh nothing passes
  EXPECT_EQ(mesh.passes(0, 0, 0), 0);
}

TEST(MeshPasses, ATubeThroughAFullyOpenMeshIsTheTube) {
  const Mesh open{1};
  for (const double along : {0.0, 0.3}) {
    const UnderLamp at{along, 0.1, 0.3};
    EXPECT_NEAR(geometric_factor(tube(0.55, 0.5), at, {}, &open),
                geometric_factor(tube(0.55, 0.5), at), 1e-12);
  }
}

// A point with an offset s: E = E0 ((d0 + s)/(d + s))^2. With s = 0.04 m and index 10 at 20 cm the
// index at 36 cm is 10 (0.24/0.40)^2 = 3.6 and at 56 cm 10 (0.24/0.60)^2 = 1.6.
TEST(LampField, TwoRowsOfACompactLampGiveItsOffset) {
  const LampField made = field(lamp(Emitter::compact, rows({{20, 10}, {36, 3.6}})));
  EXPECT_NEAR(made.optics().offset_m, 0.04, 1e-6);
  EXPECT_NEAR(made.at({0, 0, 0.56}).best, 1.6, 1e-5);
  EXPECT_NEAR(made.at({0, 0, 0.20}).best, 10, 1e-4);
  // Tilted by 60 degrees it gets half.
  EXPECT_NEAR(made.at({0, 0, 0.20}, {0, std::sqrt(0.75), 0.5}).best, 5, 1e-4);
}

TEST(LampField, RowsThatHoldTheLawOfATubeGiveItBack) {
  std::vector<UvRow> table;
  for (const double d_cm : {20.0, 30.0, 45.0}) {
    const Optics true_tube{0.55, 0.015, 0};
    table.push_back(
        {Length::centimetres(d_cm), UvIndex::index(0.3 * below(true_tube, d_cm / 100))});
  }
  const LampField made = field(lamp(Emitter::tube, table));
  EXPECT_NEAR(made.optics().offset_m, 0.015, 1e-5);
  EXPECT_NEAR(made.best_at({0, 0, 0.6}), 0.3 * below({0.55, 0.015, 0}, 0.6), 1e-5);
}

TEST(LampField, TheBandHoldsTheMiddleAndIsWiderAwayFromWhatIsKnown) {
  for (const Emitter emitter : {Emitter::tube, Emitter::compact, Emitter::flood, Emitter::spot}) {
    const LampField made = field(lamp(emitter, rows({{30, 3}})));
    const auto width = [&](const UnderLamp& at) {
      const UvBand band = made.at(at);
      EXPECT_GE(band.best, band.low);
      EXPECT_LE(band.best, band.high);
      return band.high / band.low;
    };
    EXPECT_NEAR(made.at({0, 0, 0.3}).best, 3, 1e-9);
    EXPECT_GT(width({0, 0, 0.12}), width({0, 0, 0.3}));
    EXPECT_GT(width({0, 0, 0.9}), width({0, 0, 0.3}));
    EXPECT_GT(width({0, 0.3, 0.3}), width({0, 0, 0.3}));
    EXPECT_NEAR(made.at({0, 0, 0.25}).best, made.best_at({0, 0, 0.25}), 1e-12);
  }
}

TEST(LampField, AReadingInPlaceIsSurerThanADataSheet) {
  KnownLamp known = lamp(Emitter::tube, rows({{30, 3}}));
  const UvBand sheet = field(known).at({0, 0, 0.3});
  known.in_place = true;
  const UvBand read = field(known).at({0, 0, 0.3});
  EXPECT_LT(read.high / read.low, sheet.high / sheet.low);
}

TEST(LampField, TheLampSinceTheRows) {
  KnownLamp known = lamp(Emitter::tube, rows({{30, 3}}));
  const UvBand young = field(known).at({0, 0, 0.3});
  known.since = {0.7, 0.5, 0.9};
  const UvBand old = field(known).at({0, 0, 0.3});
  EXPECT_NEAR(old.best, 0.7 * young.best, 1e-12);
  EXPECT_NEAR(old.low, 0.5 * young.low, 1e-12);
  EXPECT_NEAR(old.high, 0.9 * young.high, 1e-12);
}

TEST(LampField, MeshBetween) {
  KnownLamp known = lamp(Emitter::compact, rows({{20, 10}, {36, 3.6}}));
  known.screen = Screen::mesh;
  known.mesh_open = Percentage::percent(64);
  const UvBand through = field(known).at({0, 0, 0.2});
  EXPECT_NEAR(through.best, 6.4, 1e-4);
  // A reading taken below the mesh holds it already, but not the tilt.
  known.in_place = true;
  EXPECT_NEAR(field(known).at({0, 0, 0.2}).best, 10, 1e-4);
  const double a = pi / 4;  // 45 degrees from where the light seems to come: 0.574 against 0.640
  const double r = 0.24 / std::cos(a);
  const UvBand tilted = field(known).at({0, 0.24 * std::tan(a), 0.2});
  EXPECT_NEAR(tilted.best, 10 * 0.24 * 0.24 / (r * r) * std::cos(a) * 0.574 / 0.640, 5e-3);
}

TEST(LampField, AMeshOfWhichNothingIsKnown) {
  KnownLamp known = lamp(Emitter::compact, rows({{20, 10}, {36, 3.6}}));
  const UvBand open = field(known).at({0, 0, 0.2});
  known.screen = Screen::mesh;
  const LampField made = field(known);
  const UvBand guessed = made.at({0, 0, 0.2});
  // mesh_uv_loss: 20 to 50 %, its middle 35 %.
  EXPECT_NEAR(guessed.best, 6.5, 1e-4);
  EXPECT_NEAR(guessed.low, 0.5 * open.low, 1e-6);
  EXPECT_NEAR(guessed.high, 0.8 * open.high, 1e-6);
  EXPECT_THAT(made.notes(), Contains(HasSubstr("from 20 to 50 %")));
  known.screen = Screen::unknown;
  EXPECT_EQ(field(known).at({0, 0, 0.2}).low, 0);
  EXPECT_NEAR(field(known).at({0, 0, 0.2}).high, open.high, 1e-6);
}

TEST(LampField, BehindGlassNothingIsCountedAndItIsSaid) {
  KnownLamp known = lamp(Emitter::tube, rows({{30, 3}}));
  known.screen = Screen::closed;
  const LampField made = field(known);
  EXPECT_EQ(made.at({0, 0, 0.3}).high, 0);
  EXPECT_THAT(made.notes(), Contains(HasSubstr("glass")));
  known.in_place = true;  // a meter below the lid goes before the rule
  EXPECT_NEAR(field(known).at({0, 0, 0.3}).best, 3, 1e-9);
  EXPECT_THAT(field(known).notes(), Contains(HasSubstr("the reading is believed")));
}

TEST(LampField, NothingIsMadeUp) {
  EXPECT_FALSE(LampField::from(lamp(Emitter::tube, {})).ok());
  EXPECT_FALSE(LampField::from(lamp(Emitter::tube, rows({{30, 0}}))).ok());
  EXPECT_EQ(LampField::from(lamp(Emitter::spot, {})).problem().code, ProblemCode::missing);
}

TEST(LampField, RowsThatCannotBeOneLampAreSaidAndWidenTheBand) {
  const LampField good = field(lamp(Emitter::tube, rows({{20, 4}, {30, 2.3}, {45, 1.27}})));
  const LampField bad = field(lamp(Emitter::tube, rows({{20, 4}, {30, 7}, {45, 1.27}})));
  const UvBand a = good.at({0, 0, 0.3}), b = bad.at({0, 0, 0.3});
  EXPECT_GT(b.high / b.low, 1.5 * a.high / a.low);
  EXPECT_THAT(bad.notes(), Contains(HasSubstr("slip")));
  EXPECT_THAT(good.notes(), testing::Not(Contains(HasSubstr("slip"))));
}

TEST(LampField, WhatIsNotKnownOfTheOpticsIsSaid) {
  KnownLamp known = lamp(Emitter::tube, rows({{20, 4}, {30, 2.3}}));
  known.reflector = Answer::no;
  EXPECT_THAT(field(known).notes(), IsEmpty());
  known.reflector = Answer::unknown;
  const UvBand unsure = field(known).at({0, 0.2, 0.3});
  EXPECT_THAT(field(known).notes(), Contains(HasSubstr("reflector")));
  known.reflector = Answer::no;
  const UvBand sure = field(known).at({0, 0.2, 0.3});
  EXPECT_GT(unsure.high / unsure.low, sure.high / sure.low);
  known.length = {};
  EXPECT_THAT(field(known).notes(), Contains(HasSubstr("How long")));
  EXPECT_THAT(field(lamp(Emitter::flood, rows({{30, 3}}))).notes(), Contains(HasSubstr("beam")));
}

TEST(UvBand, TwoLampsAddUp) {
  const UvBand both = UvBand{3, 2, 5} + UvBand{1, 0.25, 2.5};
  EXPECT_NEAR(both.best, 4, 1e-12);
  EXPECT_NEAR(both.low, 4 - std::hypot(1, 0.75), 1e-12);
  EXPECT_NEAR(both.high, 4 + std::hypot(2, 1.5), 1e-12);
}

TEST(EmitterOf, TheKindsOfTheBook) {
  EXPECT_EQ(emitter_of(room::LampKind::tube_t5), Emitter::tube);
  EXPECT_EQ(emitter_of(room::LampKind::tube_t8), Emitter::tube);
  EXPECT_EQ(emitter_of(room::LampKind::led), Emitter::tube);
  EXPECT_EQ(emitter_of(room::LampKind::compact), Emitter::compact);
  EXPECT_EQ(emitter_of(room::LampKind::mercury_vapour), Emitter::flood);
  EXPECT_EQ(emitter_of(room::LampKind::metal_halide), Emitter::flood);
}

}  // namespace
}  // namespace warmside::light
