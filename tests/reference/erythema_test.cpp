// The erythema action spectrum and what is integrated with it.
// Weights: ISO/CIE 17166:2019 (the form with 140), evaluated to the digits shown; the table is that
// of its equations at those wavelengths, so that the tolerance is half a unit of the last digit.
// UVI = 40 m2/W times the weighted irradiance: WHO 2002, Global solar UV index; 75 mW/m2 is
// index 3.

#include "light/erythema.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

namespace warmside::light {
namespace {

using testing::HasSubstr;

Spectrum spectrum(std::vector<SpectrumRow> rows) {
  return {std::move(rows)};
}

Erythema of(std::vector<SpectrumRow> rows) {
  return erythema(spectrum(std::move(rows))).value();
}

TEST(Erythema, WeightsOfTheStandard) {
  const struct {
    double nm, weight, digit;
  } kTable[] = {{250, 1, 0},
                {280, 1, 0},
                {298, 1, 0},
                {300, 0.6486344, 5e-8},
                {305, 0.2197860, 5e-8},
                {310, 0.07447320, 5e-9},
                {311, 0.05997911, 5e-9},
                {313, 0.03890451, 5e-9},
                {315, 0.02523481, 5e-9},
                {320, 0.008550667, 5e-10},
                {328, 0.001513561, 5e-10},
                {340, 0.001, 1e-12},
                {365, 0.0004216965, 5e-11},
                {380, 0.0002511886, 5e-11},
                {400, 0.0001258925, 5e-11}};
  for (const auto& row : kTable) EXPECT_NEAR(erythemal_weight(row.nm), row.weight, row.digit);
  for (const double outside : {0.0, 249.9, 400.1, 550.0, std::nan("")}) {
    EXPECT_EQ(erythemal_weight(outside), 0) << outside;
  }
}

TEST(Erythema, TheTwoBranchesMeetAt328WithoutAStep) {
  // With 139 there would be a step of 3.4 % (10^0.015).
  const double below = erythemal_weight(328 - 1e-9), above = erythemal_weight(328 + 1e-9);
  EXPECT_NEAR(above / below, 1, 1e-8);
}

// Flat 1 W/m2/nm over 298..400 nm. Closed form: (1 - 10^(-0.094 30)) / (0.094 ln 10) +
// (10^(0.015 (140 - 328)) - 10^(0.015 (140 - 400))) / (0.015 ln 10) = 4.6131612 + 0.0401771.
TEST(Erythema, AFlatSpectrumInStepsOfAnySize) {
  for (const double step : {102.0, 34.0, 5.0, 1.0, 0.1}) {
    std::vector<SpectrumRow> rows;
    for (double nm = 298; nm < 400 - 1e-6; nm += step) rows.push_back({nm, 1});
    rows.push_back({400, 1});
    const Erythema made = of(rows);
    EXPECT_NEAR(made.erythemal_w_per_m2, 4.6533383, 1e-7) << step;
    EXPECT_NEAR(made.uvi, 186.1335, 1e-4) << step;
    EXPECT_NEAR(made.uvb_w_per_m2, 17, 1e-9) << step;  // 298 to 315
    EXPECT_TRUE(made.lower_bound);                     // nothing is said below 298
  }
}

TEST(Erythema, LampsAreCountedFrom250) {
  const Erythema made = of({{240, 2}, {410, 2}});
  EXPECT_NEAR(made.erythemal_w_per_m2, 2 * (48 + 4.6533383), 1e-6);
  EXPECT_NEAR(made.uvb_w_per_m2, 70, 1e-9);
  EXPECT_FALSE(made.lower_bound);
  EXPECT_EQ(made.covered_from_nm, 250);
  EXPECT_EQ(made.covered_to_nm, 400);
  EXPECT_EQ(made.note, "");
}

// 1 W/m2 in a narrow triangle has 40 s(nm) as its index, to the curvature of s within it: a
// triangle of half width h holds (g h)^2 / 12 more, g = 0.094 ln 10.
TEST(Erythema, ANarrowLine) {
  for (const double nm : {300.0, 305.0, 311.0, 313.0, 320.0}) {
    const double h = 0.05, g = 0.094 * std::log(10);
    const Erythema made = of({{nm - h, 0}, {nm, 1 / h}, {nm + h, 0}});
    EXPECT_NEAR(made.uvi / (40 * erythemal_weight(nm)), 1 + g * g * h * h / 12, 1e-9) << nm;
    EXPECT_FALSE(made.lower_bound);  // it falls to nothing at both ends
  }
  EXPECT_NEAR(of({{280 - 1e-3, 0}, {280, 1e3}, {280 + 1e-3, 0}}).uvi, 40, 1e-9);
}

// A straight line rising from 0 at 298 to 30 at 328: integral of (l - 298) 10^(-0.094 (l - 298))
// = 1/g^2 (1 - exp(-30 g) (1 + 30 g)), g = 0.094 ln 10 = 0.21644301.
TEST(Erythema, ALineThatRises) {
  const double g = 0.094 * std::log(10);
  const double closed = (1 - std::exp(-30 * g) * (1 + 30 * g)) / (g * g);
  EXPECT_NEAR(of({{298, 0}, {328, 30}, {328 + 1e-9, 0}}).erythemal_w_per_m2, closed, 1e-9);
}

TEST(Erythema, ScalesAndAddsUp) {
  const Erythema one = of({{290, 0.1}, {310, 0.4}, {400, 0}}),
                 two = of({{290, 0.2}, {310, 0.8}, {400, 0}});
  EXPECT_NEAR(two.uvi, 2 * one.uvi, 1e-12);
  EXPECT_NEAR(one.uvi, 40 * one.erythemal_w_per_m2, 1e-12);
  // Rows in between on the same lines change nothing.
  const Erythema finer = of({{290, 0.1}, {297, 0.205}, {310, 0.4}, {355, 0.2}, {400, 0}});
  EXPECT_NEAR(finer.uvi, one.uvi, 1e-12);
}

TEST(Erythema, WhatIsNotCoveredIsSaid) {
  const Erythema made = of({{300, 1}, {320, 1}});
  EXPECT_TRUE(made.lower_bound);
  EXPECT_TRUE(made.uvb_lower_bound);
  EXPECT_EQ(made.covered_from_nm, 300);
  EXPECT_EQ(made.covered_to_nm, 320);
  EXPECT_THAT(made.note, HasSubstr("300 to 320 nm"));
  EXPECT_THAT(made.note, HasSubstr("outside"));
  EXPECT_THAT(of({{290, 1}, {400, 1}}).note, HasSubstr("below"));
  const Erythema cut = of({{280, 1}, {380, 1}});
  EXPECT_THAT(cut.note, HasSubstr("above"));
  EXPECT_FALSE(cut.uvb_lower_bound);
  EXPECT_FALSE(of({{280, 1}, {400, 1}}).lower_bound);
  EXPECT_FALSE(of({{290, 0}, {300, 1}, {390, 0}}).lower_bound);
}

TEST(Erythema, NoUltravioletIsNoZero) {
  EXPECT_FALSE(erythema(spectrum({{400, 1}, {700, 1}})).ok());
  EXPECT_FALSE(erythema(spectrum({{200, 1}, {250, 1}})).ok());
  EXPECT_FALSE(erythema(spectrum({})).ok());
  EXPECT_FALSE(erythema(spectrum({{300, 1}})).ok());
}

TEST(ReadSpectrum, ReadsWhatSpreadsheetsWrite) {
  const auto read = read_spectrum(
      "\xEF\xBB\xBF# a "
      "lamp\r\nirradiance_w_per_m2_nm,more,wavelength_nm\r\n0.5,x,300\r\n1e-3,y,400.5\r\n",
      "lamp.csv");
  ASSERT_TRUE(read.ok());
  ASSERT_EQ(read->rows.size(), 2u);
  EXPECT_EQ(read->rows[0].wavelength_nm, 300);
  EXPECT_EQ(read->rows[1].irradiance_w_per_m2_nm, 1e-3);
}

TEST(ReadSpectrum, EveryBadRowIsNamed) {
  const std::string head = "wavelength_nm,irradiance_w_per_m2_nm\n";
  const struct {
    const char* rows;
    int line;
    const char* what;
  } kBad[] = {{"300,1\n300,2\n400,1\n", 3, "same wavelength twice"},
              {"300,1\n299,2\n", 3, "do not rise"},
              {"300,-1e-6\n310,1\n", 2, "less than nothing"},
              {"300,nan\n310,1\n", 2, "not a number"},
              {"300,inf\n310,1\n", 2, "not a number"},
              {"300,1e9\n310,1\n", 2, "more than any lamp"},
              {"0.3,1\n310,1\n", 2, "no wavelength"},
              {"300 nm,1\n310,1\n", 2, "not a number"},
              {"300\n310,1\n", 2, "too short"},
              {"300,1\n", 2, "too few rows"},
              {"", 1, "too few rows"}};
  for (const auto& bad : kBad) {
    const auto read = read_spectrum(head + bad.rows, "lamp.csv");
    ASSERT_FALSE(read.ok()) << bad.rows;
    const Problem& problem = read.problem().front();
    EXPECT_THAT(problem.what, HasSubstr(bad.what)) << bad.rows;
    EXPECT_EQ(problem.where.line, bad.line) << bad.rows;
    EXPECT_EQ(problem.where.file, "lamp.csv");
  }
  for (const char* text : {"", "wavelength,irradiance\n300,1\n310,1\n",
                           "wavelength_nm,wavelength_nm,irradiance_w_per_m2_nm\n300,300,1\n",
                           "wavelength_nm,\"irradiance_w_per_m2_nm\n"}) {
    EXPECT_FALSE(read_spectrum(text, "lamp.csv").ok()) << text;
  }
  // All that is wrong is said at once.
  EXPECT_EQ(read_spectrum(head + "300,-1\n310,x\n320,1\n", "l").problem().size(), 2u);
}

}  // namespace
}  // namespace warmside::light
