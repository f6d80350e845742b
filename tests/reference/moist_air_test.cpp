// Moist air against published tables and against equations of another origin.
//
// The handbook's pages were not at hand. Its printed numbers were read in the test suite of the
// open library PsychroLib 2.5 (MIT), which quotes ASHRAE Handbook - Fundamentals 2017, ch. 1,
// tables 1 to 3 and the chapter's first example; said with each block.

#include "climate/moist_air.h"

#include <gtest/gtest.h>

#include <cmath>

namespace warmside::climate {
namespace {

constexpr double kSeaLevel_pa = 101325;
constexpr double kAltitude_pa = 95461;  // 500 m, which the suite uses throughout

void expect_close(double got, double want, double relative, const char* what) {
  EXPECT_NEAR(got, want, std::fabs(want) * relative) << what;
}

double saturation_at_c(double t_c) {
  return saturation_pressure(Temperature::celsius(t_c)).value().pascals();
}

MoistAir air_at(double t_c, double humidity, double pressure_pa = kSeaLevel_pa) {
  return moist_air(Temperature::celsius(t_c), Percentage::share(humidity),
                   Pressure::pascals(pressure_pa))
      .value();
}

/// Air of a given vapour pressure.
MoistAir air_of_vapour(double t_c, double vapour_pa, double pressure_pa) {
  return air_at(t_c, vapour_pa / saturation_at_c(t_c), pressure_pa);
}

/// Air of a given humidity ratio; eq. 20 solved for the vapour pressure.
MoistAir air_of_ratio(double t_c, double ratio, double pressure_pa) {
  return air_of_vapour(t_c, ratio * pressure_pa / (kMolarMassRatio + ratio), pressure_pa);
}

/// Air of a given wet bulb, by bisection on the humidity: the wet bulb rises with it.
MoistAir air_of_wet_bulb(double t_c, double wet_c, double pressure_pa) {
  double low = 1e-6, high = 1;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (air_at(t_c, middle, pressure_pa).wet_bulb.celsius() > wet_c ? high : low) = middle;
  }
  return air_at(t_c, low, pressure_pa);
}

// Table 3 (water at saturation), as quoted. 3e-4: the formula's own stated error is 300 ppm; the
// first row is printed to two decimals only.
TEST(MoistAirReference, SaturationPressureOfAshraeTable3) {
  EXPECT_NEAR(saturation_at_c(-60), 1.08, 0.01);
  constexpr double kRows[][2] = {{-20, 103.24}, {-5, 401.74},  {5, 872.6},
                                 {25, 3169.7},  {50, 12351.3}, {100, 101418.0}};
  for (const auto& [t_c, pa] : kRows) expect_close(saturation_at_c(t_c), pa, 3e-4, "pws");
}

// Table 2 (moist air at saturation, 101325 Pa), as quoted. The table holds the enhancement factor,
// which this model leaves out: about 0.45 % in the ratio near 25 degC, 0.6 % at 50 degC.
TEST(MoistAirReference, SaturatedAirOfAshraeTable2) {
  expect_close(air_at(25, 1).humidity_ratio, 0.020173, 5e-3, "ratio 25");
  expect_close(air_at(50, 1).humidity_ratio, 0.086863, 1e-2, "ratio 50");
  expect_close(air_at(-20, 1).humidity_ratio, 0.0006373, 1e-2, "ratio -20");
  expect_close(air_at(5, 1).humidity_ratio, 0.005425, 5e-3, "ratio 5");
  expect_close(air_at(25, 1).enthalpy_j_per_kg, 76504, 1e-2, "enthalpy 25");
  expect_close(air_at(5, 1).enthalpy_j_per_kg, 18639, 1e-2, "enthalpy 5");
  // The ideal mixture's own value, worked by hand from eq. 20 with the 3169.7 Pa above:
  // 0.621945 * 3169.7 / (101325 - 3169.7) = 0.0200842; so the 0.5 % is not slack.
  expect_close(air_at(25, 1).humidity_ratio, 0.0200842, 3.5e-4, "ideal ratio 25");
}

// Spreadsheet results quoted by the same suite: equations 20, 33, 35, 30, 26 and 11, the same as
// ours. 3e-4 where a saturation pressure enters.
TEST(MoistAirReference, SpreadsheetRows) {
  expect_close(air_of_vapour(30, 3169.7, kAltitude_pa).humidity_ratio, 0.0213603998047487, 1e-6,
               "ratio from vapour pressure");
  expect_close(air_of_wet_bulb(30, 25, kAltitude_pa).humidity_ratio, 0.0192281274241096, 3e-4,
               "ratio from wet bulb");
  expect_close(air_of_wet_bulb(-1, -5, kAltitude_pa).humidity_ratio, 0.00120399819933844, 3e-4,
               "ratio from wet bulb below freezing");
  EXPECT_NEAR(air_at(7, 0.61, 100000).wet_bulb.celsius(), 3.92667433781955, 1e-3);
  const MoistAir air = air_of_ratio(30, 0.02, kAltitude_pa);
  EXPECT_NEAR(air.humidity_ratio, 0.02, 1e-14);
  expect_close(air.enthalpy_j_per_kg, 81316, 3e-4, "enthalpy");
  expect_close(air.volume_m3_per_kg, 0.940855374352943, 3e-4, "volume");
  expect_close(air.density_kg_per_m3, 1.08411986348219, 3e-4, "density");
}

// Example 1 of the chapter: 40 degC, wet bulb 20 degC, sea level. The printed answers were read off
// a chart, hence half of the last printed digit and a little more.
TEST(MoistAirReference, AshraeExample1) {
  const MoistAir air = air_of_wet_bulb(40, 20, kSeaLevel_pa);
  EXPECT_NEAR(air.humidity_ratio, 0.0065, 1.5e-4);
  EXPECT_NEAR(air.dew_point.celsius(), 7, 0.5);
  EXPECT_NEAR(air.vapour_pressure / air.saturation_pressure, 0.14, 0.005);
  EXPECT_NEAR(air.enthalpy_j_per_kg, 56700, 100);
  EXPECT_NEAR(air.volume_m3_per_kg, 0.896, 5e-4);
}

// Computed by a second implementation of the same equations (a script of its own, saturation
// pressure checked by the IAPWS equation below). Half of the last digit shown.
TEST(MoistAirReference, TerrariumRows) {
  struct Row {
    double t_c, humidity, vapour_pa, ratio, dew_c, wet_c, enthalpy_kj, volume, density, vapour_g;
  };
  constexpr Row kRows[] = {
      {20, 0.50, 1169.40, 0.007262, 9.272, 13.784, 38.552, 0.84016, 1.19890, 8.643},
      {25, 0.50, 1584.61, 0.009881, 13.864, 17.889, 50.322, 0.85804, 1.17696, 11.516},
      {28, 0.70, 2647.54, 0.016687, 22.017, 23.686, 70.771, 0.87601, 1.16058, 19.049},
      {32, 0.30, 1427.56, 0.008888, 12.268, 19.391, 54.949, 0.87681, 1.15064, 10.137},
      {40, 0.20, 1476.69, 0.009198, 12.783, 22.032, 63.929, 0.90024, 1.12104, 10.218}};
  for (const Row& row : kRows) {
    const MoistAir air = air_at(row.t_c, row.humidity);
    EXPECT_NEAR(air.vapour_pressure.pascals(), row.vapour_pa, 0.0051) << row.t_c;
    EXPECT_NEAR(air.humidity_ratio, row.ratio, 5.1e-7) << row.t_c;
    EXPECT_NEAR(air.dew_point.celsius(), row.dew_c, 5.1e-4) << row.t_c;
    EXPECT_NEAR(air.wet_bulb.celsius(), row.wet_c, 5.1e-4) << row.t_c;
    EXPECT_NEAR(air.enthalpy_j_per_kg / 1000, row.enthalpy_kj, 5.1e-4) << row.t_c;
    EXPECT_NEAR(air.volume_m3_per_kg, row.volume, 5.1e-6) << row.t_c;
    EXPECT_NEAR(air.density_kg_per_m3, row.density, 5.1e-6) << row.t_c;
    // The rows took 461.52 J/(kg K) for vapour, the header 461.524: 9e-6 of the value.
    EXPECT_NEAR(air.vapour_density_kg_per_m3 * 1000, row.vapour_g, 5.1e-4 + 9e-6 * row.vapour_g)
        << row.t_c;
  }
}

/// Saturation over water after Wagner & Pruss 2002 (auxiliary equation 2.5 of IAPWS-95). Constants
/// from memory; they give the triple point and the rows below, computed elsewhere.
double iapws_water_pa(double t_k) {
  const double x = 1 - t_k / 647.096;
  const double sum = -7.85951783 * x + 1.84408259 * std::pow(x, 1.5) - 11.7866497 * x * x * x +
                     22.6807411 * std::pow(x, 3.5) - 15.9618719 * std::pow(x, 4) +
                     1.80122502 * std::pow(x, 7.5);
  return 22.064e6 * std::exp(647.096 / t_k * sum);
}

/// Sublimation pressure of ice, IAPWS R14-08 (2011). Constants from memory; checked by the
/// release's own verification value, 8.94735 Pa at 230 K.
double iapws_ice_pa(double t_k) {
  const double theta = t_k / 273.16;
  const double sum = -21.2144006 * std::pow(theta, 0.00333333333) +
                     27.3203819 * std::pow(theta, 1.20666667) -
                     6.10598130 * std::pow(theta, 1.70333333);
  return 611.657 * std::exp(sum / theta);
}

// An equation of another origin. 3e-4 again: anything tighter would test the fit, not the physics.
TEST(MoistAirReference, SaturationPressureAgreesWithIapws) {
  constexpr double kRows[][2] = {{5, 872.530},   {10, 1228.112}, {20, 2339.194}, {25, 3169.824},
                                 {30, 4246.920}, {35, 5629.057}, {40, 7385.110}, {50, 12352.479}};
  for (const auto& [t_c, pa] : kRows) {
    expect_close(iapws_water_pa(t_c + 273.15), pa, 2e-6, "the equation itself");
    expect_close(saturation_at_c(t_c), pa, 3e-4, "water");
    EXPECT_LT(saturation_at_c(t_c), pa) << "Hyland & Wexler lies 0.005 to 0.022 % lower";
  }
  EXPECT_NEAR(iapws_ice_pa(230), 8.94735, 5e-6);
  for (double t_c = -40; t_c <= -5; t_c += 5) {
    expect_close(saturation_at_c(t_c), iapws_ice_pa(t_c + 273.15), 4e-4, "ice");
  }
}

// Magnus form after Alduchov & Eskridge 1996 and its computed departures from ours.
TEST(MoistAirReference, MagnusFormDepartsAsComputed) {
  constexpr double kRows[][2] = {{10, -0.16}, {20, -0.23}, {30, -0.22}, {40, -0.12}};
  for (const auto& [t_c, percent] : kRows) {
    const double magnus = 610.94 * std::exp(17.625 * t_c / (243.04 + t_c));
    EXPECT_NEAR(100 * (magnus / saturation_at_c(t_c) - 1), percent, 0.0051) << t_c;
  }
}

// Table 1 (standard atmosphere), as quoted, to whole pascals.
TEST(MoistAirReference, StandardAtmosphereOfAshraeTable1) {
  constexpr double kRows[][2] = {{0, 101325}, {500, 95461}, {1000, 89875}, {4000, 61640}};
  for (const auto& [metres, pa] : kRows) {
    EXPECT_NEAR(standard_pressure(Length::metres(metres)).value().pascals(), pa, 1) << metres;
  }
}

// Steam tables (IAPWS-IF97), from memory, kJ/kg. 0.1 % as the header says.
TEST(MoistAirReference, VaporisationHeatOfSteamTables) {
  constexpr double kRows[][2] = {{0.01, 2500.9}, {25, 2441.7}, {40, 2406.0}, {60, 2357.7}};
  for (const auto& [t_c, kj] : kRows) {
    expect_close(vaporisation_heat_j_per_kg(t_c + 273.15), 1000 * kj, 1e-3, "heat");
  }
}

// --- What must hold whatever the tables say ---

TEST(MoistAirReference, IceAndWaterMeetAtTheTriplePoint) {
  const double below = saturation_pressure_pa(273.16 - 1e-9);
  const double above = saturation_pressure_pa(273.16 + 1e-9);
  expect_close(below, above, 1e-5, "the two branches");
  expect_close(above, 611.657, 3e-4, "triple point, IAPWS");
}

TEST(MoistAirReference, SlopeIsTheDerivative) {
  for (double t_k = 180; t_k < 470; t_k += 7) {
    const double step = 1e-3;
    const double by_difference =
        (saturation_pressure_pa(t_k + step) - saturation_pressure_pa(t_k - step)) / (2 * step);
    expect_close(saturation_slope_pa_per_k(t_k), by_difference, 1e-7, "slope");
  }
}

TEST(MoistAirReference, DewPointAndWetBulbRoundTrips) {
  for (double t_c = -30; t_c <= 60; t_c += 3) {
    for (double humidity : {0.01, 0.2, 0.5, 0.8, 0.99, 1.0}) {
      const MoistAir air = air_at(t_c, humidity);
      // Saturation at the dew point is the vapour's pressure.
      expect_close(saturation_pressure_pa(air.dew_point.kelvin()), air.vapour_pressure.pascals(),
                   1e-9, "dew point");
      // Equation 33 or 35 at the wet bulb gives the ratio back. The two meet with a jump at 0 degC,
      // where no wet bulb fits exactly.
      const double wet_c = air.wet_bulb.celsius();
      const double ws = air_at(wet_c, 1).humidity_ratio;
      const double ratio = wet_c >= 0 ? ((2501 - 2.326 * wet_c) * ws - 1.006 * (t_c - wet_c)) /
                                            (2501 + 1.86 * t_c - 4.186 * wet_c)
                                      : ((2830 - 0.24 * wet_c) * ws - 1.006 * (t_c - wet_c)) /
                                            (2830 + 1.86 * t_c - 2.1 * wet_c);
      if (std::fabs(wet_c) > 1e-6) {
        EXPECT_NEAR(ratio, air.humidity_ratio, 1e-9) << t_c;
      }
      EXPECT_LE(air.dew_point.kelvin(), air.wet_bulb.kelvin() + 1e-6);
      EXPECT_LE(air.wet_bulb.kelvin(), t_c + 273.15 + 1e-6);
    }
    const MoistAir full = air_at(t_c, 1);
    EXPECT_NEAR(full.dew_point.celsius(), t_c, 1e-6);
    EXPECT_NEAR(full.wet_bulb.celsius(), t_c, 1e-5);
  }
}

TEST(MoistAirReference, RefusesWhatItDoesNotCover) {
  const double nan = std::nan("");
  const auto refused_field = [](double t_c, double humidity, double pressure_pa) {
    const auto result = moist_air(Temperature::celsius(t_c), Percentage::share(humidity),
                                  Pressure::pascals(pressure_pa));
    if (result) return std::string("accepted");
    EXPECT_EQ(result.problem().code, ProblemCode::out_of_range);
    EXPECT_NE(result.problem().expected, "");
    return result.problem().where.field;
  };
  EXPECT_EQ(refused_field(-100.1, 0.5, kSeaLevel_pa), "temperature");
  EXPECT_EQ(refused_field(200.1, 0.5, 1e6), "temperature");
  EXPECT_EQ(refused_field(nan, 0.5, kSeaLevel_pa), "temperature");
  EXPECT_EQ(refused_field(25, 0, kSeaLevel_pa), "humidity");
  EXPECT_EQ(refused_field(25, -0.1, kSeaLevel_pa), "humidity");
  EXPECT_EQ(refused_field(25, 1.0001, kSeaLevel_pa), "humidity");
  EXPECT_EQ(refused_field(25, nan, kSeaLevel_pa), "humidity");
  EXPECT_EQ(refused_field(25, 0.5, 0), "pressure");
  EXPECT_EQ(refused_field(25, 0.5, 1500), "pressure");  // less than the vapour's own 1585 Pa
  EXPECT_EQ(refused_field(25, 0.5, 1.1e6), "pressure");
  EXPECT_EQ(refused_field(25, 0.5, nan), "pressure");
  EXPECT_EQ(refused_field(25, 0.5, kSeaLevel_pa), "accepted");
  EXPECT_EQ(refused_field(-100, 1, kSeaLevel_pa), "accepted");
  EXPECT_FALSE(saturation_pressure(Temperature::celsius(-100.1)).ok());
  EXPECT_FALSE(saturation_pressure(Temperature::celsius(200.1)).ok());
  EXPECT_FALSE(standard_pressure(Length::metres(-5001)).ok());
  EXPECT_FALSE(standard_pressure(Length::metres(11001)).ok());
  EXPECT_FALSE(standard_pressure(Length::metres(nan)).ok());
}

}  // namespace
}  // namespace warmside::climate
