// Vapour, wet surfaces, dew and films of the thermal network against exact solutions, and what must
// hold of water in any network. Heat without moisture: network_test.cpp.
//
// Exact numbers follow from the laws at the top of network.h by the derivation beside each test.
// The heat and water balances are looked at in every run and every steady state.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <random>
#include <stdexcept>

#include "climate/moist_air.h"
#include "climate/network.h"
#include "climate/solver.h"

namespace warmside::climate {
namespace {

constexpr double kZero_k = 273.15;
constexpr double kBalance = 1e-9;  // of heat, and in time of water
/// Of water in a steady state: that is sought to 1e-9 W at every node and volume of air, which is
/// 4e-16 kg/s of vapour; a film of dew that hardly falls moves no more than some thousand times as
/// much.
constexpr double kSteadyWater = 1e-6;
/// Conductance that holds a node at a boundary, against some mW/K of all others here.
constexpr double kHeld_w_per_k = 1e4;

/// Vapour of air by the formula itself, not by the solver's table of it.
double vapour_at(double t_k, double humidity = 1) {
  return humidity * saturation_pressure_pa(t_k) / (kVapourGasConstant * t_k);
}

/// Vapour at a wet surface as vapour of the air's temperature: the same pressure.
double at_surface(double surface_k, double air_k) {
  return saturation_pressure_pa(surface_k) / (kVapourGasConstant * air_k);
}

int add_boundary(Network& net, double t_k, double kg_per_m3) {
  Boundary boundary;
  boundary.name = "b" + std::to_string(net.boundaries.size());
  boundary.value_k = t_k;
  boundary.vapour_kg_per_m3 = kg_per_m3;
  net.boundaries.push_back(boundary);
  return net.boundary_end(static_cast<int>(net.boundaries.size()) - 1);
}

SteadyState steady(const Network& net) {
  auto state = solve_steady(net);
  if (!state) throw std::runtime_error(to_line(state.problem()));  // fails the test alone
  EXPECT_GE(state->heat_balance_error, 0);
  EXPECT_LT(state->heat_balance_error, kBalance);
  EXPECT_GE(state->water_balance_error, 0);
  EXPECT_LT(state->water_balance_error, kSteadyWater);
  return std::move(*state);
}

/// What lies on surfaces as film at the end of a run, kg.
double lies_kg(const Course& run) {
  return run.misted_kg - (run.evaporated_kg - run.drawn_kg) - run.run_off_kg;
}

Course course(const Network& net, const RunOptions& options) {
  auto result = run(net, options);
  if (!result) throw std::runtime_error(to_line(result.problem()));
  EXPECT_GE(result->heat_balance_error, 0);
  EXPECT_LT(result->heat_balance_error, kBalance);
  EXPECT_GE(result->water_balance_error, 0);
  EXPECT_LT(result->water_balance_error, kBalance);
  double given = 0;
  for (double e : result->energy_j) given += e;
  const double latent = kVapourHeat_j_per_kg * result->evaporated_kg;
  const double moved = std::fabs(given) + std::fabs(result->lost_j) + std::fabs(latent) + 1;
  EXPECT_NEAR(given - result->lost_j - latent, result->stored_j, 1e-8 * moved);
  // The last of a film may be overshot by the scheme's own error: of what was misted at most 2e-4
  // in steps of a minute, 1.2 % in steps of ten (the worst of 400 random networks).
  EXPECT_GE(lies_kg(*result),
            -1e-12 - 1e-9 * std::fabs(result->evaporated_kg) - 2e-4 * result->misted_kg);
  return std::move(*result);
}

double order(double coarse, double fine) {
  return std::log2(std::fabs(coarse / fine));
}

/// The x between low and high at which a rising f passes 0.
double root_of(const std::function<double(double)>& f, double low, double high) {
  for (int i = 0; i < 200; ++i) {
    const double middle = 0.5 * (low + high);
    (f(middle) < 0 ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

// --- Vapour carried by air ---

/// A box of air, 0.9 x 0.45 x 0.45 m, moist, in a drier room.
Network moist_box(double changes_per_h) {
  Network net;
  const double volume = 0.9 * 0.45 * 0.45;
  net.nodes = {{"air", 220, kZero_k + 22}};
  net.air = {{0, volume, 0.0170}};
  const int room = add_boundary(net, kZero_k + 22, 0.0087);
  net.conductions = {{0, room, net.air_heat_j_per_m3_k * volume * changes_per_h / 3600, true}};
  return net;
}

// V d(rho)/dt = -Q (rho - rho_room): rho = rho_room + (rho_0 - rho_room) exp(-n t), n: air changes.
TEST(MoistureReference, ALeakDriesABoxExponentially) {
  const Course run = course(moist_box(0.7), {.hours = 6, .step_s = 10, .record_every_s = 1800});
  ASSERT_EQ(run.vapour_kg_per_m3.size(), run.time_s.size());
  for (std::size_t k = 0; k < run.time_s.size(); ++k) {
    const double want = 0.0087 + 0.0083 * std::exp(-0.7 * run.time_s[k] / 3600);
    EXPECT_NEAR(run.vapour_kg_per_m3[k], want, 1e-9);
  }
  EXPECT_EQ(run.evaporated_kg, 0);
  EXPECT_NEAR(run.end_k[0], kZero_k + 22, 1e-12);  // and no heat moves
}

TEST(MoistureReference, VapourConvergesWithOrderTwo) {
  double error[4];
  for (int i = 0; i < 4; ++i) {
    const Course run =
        course(moist_box(12), {.hours = 0.2, .step_s = 80.0 / (1 << i), .record_every_s = 0});
    error[i] = run.end_kg_per_m3[0] - (0.0087 + 0.0083 * std::exp(-12 * 0.2));
  }
  for (int i = 0; i < 3; ++i) EXPECT_NEAR(order(error[i], error[i + 1]), 2, 0.2) << i;
}

// With vents the flow is (q / dT) / C = k dT^(1/2) / C, here held at dT = 6 K by a heater that
// gives just what leaves. The smoothing of dT is that of the law of convection, which
// network_test.cpp checks.
TEST(MoistureReference, VentsDryABoxByTheirOwnFlow) {
  Network net = moist_box(0);
  const Convection vents{0, net.boundary_end(0), 0.9, 0.9, 0.5, true};
  net.conductions.clear();
  net.convections = {vents};
  net.nodes[0].start_k += 6;
  const double q = vents.k_a * std::pow(36.01, vents.exponent / 2) * 6;
  net.heaters.push_back({"mat", q, {{0, 1}}, ControlKind::none, -1, {}, 1, 0, 0});
  const Course run = course(net, {.hours = 1, .step_s = 1, .record_every_s = 600});
  const double rate = q / 6 / net.air_heat_j_per_m3_k / net.air[0].volume_m3;
  EXPECT_NEAR(rate, 0.9 * std::sqrt(6) / 1200 / 0.18225, 2e-4 * rate);
  for (std::size_t k = 0; k < run.time_s.size(); ++k) {
    EXPECT_NEAR(run.vapour_kg_per_m3[k], 0.0087 + 0.0083 * std::exp(-rate * run.time_s[k]), 1e-8);
  }
}

// The room's own vapour in a straight line from hour to hour: rho' = n (r(t) - rho) with r = a + b
// t gives rho = r(t) - b/n + (rho_0 - a + b/n) exp(-n t).
TEST(MoistureReference, ARoomThatGrowsMoist) {
  Network net = moist_box(2);
  net.boundaries[0].hourly_k = {kZero_k + 22, kZero_k + 22, kZero_k + 22};
  net.boundaries[0].hourly_kg_per_m3 = {0.006, 0.010, 0.014};
  const Course run = course(net, {.hours = 2, .step_s = 10, .record_every_s = 900});
  for (std::size_t k = 0; k < run.time_s.size(); ++k) {
    const double t = run.time_s[k] / 3600, slope = 0.004 / 2;
    const double want = 0.006 + 0.004 * t - slope + (0.0170 - 0.006 + slope) * std::exp(-2 * t);
    EXPECT_NEAR(run.vapour_kg_per_m3[k], want, 1e-8);
  }
}

// --- Wet surfaces ---

/// A surface and a volume of air, both held, with a film coefficient that does not depend on dT.
struct Pan {
  Network net;
  double flow_m3_per_s = 0;  // g: vapour from the surface for each kg/m3
};
Pan pan(double surface_k, double air_k, double humidity, double area_m2, double h_w_per_m2_k,
        double wet_share, bool film) {
  Pan out;
  Network& net = out.net;
  net.nodes = {{"surface", 100, surface_k}, {"air", 1, air_k}};
  net.air = {{1, 0.001, vapour_at(air_k, humidity)}};
  const int below = add_boundary(net, surface_k, 0.0087);
  const int around = add_boundary(net, air_k, vapour_at(air_k, humidity));
  net.conductions = {{0, below, kHeld_w_per_k}, {1, around, kHeld_w_per_k, true}};
  net.convections = {{0, 1, h_w_per_m2_k * area_m2, h_w_per_m2_k * area_m2, 0}};
  net.wet = {{0, area_m2, wet_share, film}};
  out.flow_m3_per_s = h_w_per_m2_k * area_m2 / (net.air_heat_j_per_m3_k * kLewisPower);
  return out;
}

// Water and air of 25 degC, RH 60 %: 60.9, 76.2 and 106.6 g/(h m2) for h_c 2.0, 2.5 and 3.5 W/m2K
// by the analogy of heat and mass transfer, h_m = h_c / (rho cp Le^(2/3)) with the diffusivity of
// vapour by Marrero & Mason 1972 (numbers computed from that formula). Within 1 %: the density and
// diffusivity of air behind those three and behind kLewisPower differ by that much. The rule for
// swimming pools (ASHRAE HVAC Applications 2011, p. 5.6, activity 0.5) gives 91.4, in their midst.
TEST(MoistureReference, WaterInTheOpenEvaporatesByTheLewisAnalogy) {
  constexpr double kRows[][2] = {{2.0, 60.9}, {2.5, 76.2}, {3.5, 106.6}};
  for (const auto& [h, grams] : kRows) {
    Pan one = pan(kZero_k + 25, kZero_k + 25, 0.60, 1e-3, h, 1, false);
    one.net.air_heat_j_per_m3_k = 1192;  // dry air of 25 degC, 1 atm (Lemmon & Jacobsen 2004)
    const SteadyState state = steady(one.net);
    EXPECT_NEAR(state.drawn_kg_per_s * 3.6e6 / 1e-3, grams, 0.01 * grams);
    EXPECT_EQ(state.drawn_kg_per_s, state.evaporated_kg_per_s);
    // The law itself: g (rho_sat - rho_air).
    const double law = h * 1e-3 / (1192 * kLewisPower) * 0.4 * vapour_at(kZero_k + 25);
    EXPECT_NEAR(state.drawn_kg_per_s, law, 1e-5 * law);
  }
}

// A dish in a box that leaks, at one temperature: V rho' = g (rho_sat - rho) - Q (rho - rho_room),
// an exponential with the rate (g + Q) / V towards the mean of both by their flows.
TEST(MoistureReference, ADishMoistensABoxExponentially) {
  // A hundredth of a vivarium, so that the heat it takes cools the dish by no more than 1e-6 K.
  const double volume = 0.0018, area = 3e-4;
  Network net;
  net.nodes = {{"air", 2, kZero_k + 22}, {"dish", 15, kZero_k + 22}};
  net.air = {{0, volume, 0.0087}};
  const int around = add_boundary(net, kZero_k + 22, 0.0087);
  const double q = volume * 1.5 / 3600;
  net.conductions = {{0, around, net.air_heat_j_per_m3_k * q, true},
                     {0, around, kHeld_w_per_k},  // of heat alone
                     {1, around, kHeld_w_per_k}};
  net.convections = {{1, 0, 3 * area, 3 * area, 0}};
  net.wet = {{0, area, 1, false}};
  const double g = 3 * area / (net.air_heat_j_per_m3_k * kLewisPower);
  const double wet = vapour_at(kZero_k + 22), room = 0.0087;
  const double end = (g * wet + q * room) / (g + q), rate = (g + q) / volume;
  EXPECT_NEAR(steady(net).vapour_kg_per_m3[0], end, 1e-6 * end);
  const Course run = course(net, {.hours = 3, .step_s = 5, .record_every_s = 600});
  for (std::size_t k = 0; k < run.time_s.size(); ++k) {
    EXPECT_NEAR(run.vapour_kg_per_m3[k], end + (room - end) * std::exp(-rate * run.time_s[k]),
                1e-6 * end);
  }
  // What came from the dish is what went into the air and out of the box.
  const double t = 3 * 3600;
  const double drawn = g * ((wet - end) * t - (room - end) * (1 - std::exp(-rate * t)) / rate);
  EXPECT_NEAR(run.drawn_kg, drawn, 1e-5 * drawn);
}

// A wet surface that exchanges heat and vapour with air alone comes to rest where
//     g L (p_sat(T) - p_air) / (R_v T_air) = h (T_air - T),  g = h / (C Le^(2/3)),
// whatever h is. Solved here by bisection, with the formula of saturation and not the solver's
// table.
//
// The psychrometric wet bulb is where the air itself would come to, saturated with all heat coming
// from itself: (W_sat(T) - W) L(T) = c_p (T_air - T), W kg/kg (ASHRAE 2017 ch. 1 eq. 33 but for
// terms of a per cent). It is the same relation with Le = 1, with the heat of vaporisation at T and
// C of the moist air; so the surface is colder, by the factor of about 0.917 x 2.46/2.44 x
// 1200/1190 on the right hand. (Moving air and radiation take away most of that difference from a
// real wet bulb.)
TEST(MoistureReference, AWetSurfaceSettlesNearTheWetBulb) {
  struct Row {
    double air_c, humidity, psychrometric_c;
  };
  // Wet bulbs: ASHRAE Fundamentals 2017, ch. 1, eq. 33, as in moist_air_test.cpp.
  constexpr Row kRows[] = {{25, 0.50, 17.889},
                           {20, 0.50, 13.784},
                           {32, 0.30, 19.391},
                           {28, 0.70, 23.686},
                           {40, 0.20, 22.032}};
  for (const Row& row : kRows) {
    const double air_k = kZero_k + row.air_c, vapour = vapour_at(air_k, row.humidity);
    Network net;
    net.nodes = {{"wet", 100, air_k - 5}, {"air", 1, air_k}};
    net.air = {{1, 0.001, vapour}};
    const int around = add_boundary(net, air_k, vapour);
    net.conductions = {{1, around, kHeld_w_per_k, true}};
    const double area = 1e-4, h = 4;
    net.convections = {{0, 1, h * area, h * area, 0}};
    net.wet = {{0, area, 1, false}};
    const SteadyState state = steady(net);
    EXPECT_NEAR(state.node_k[1], air_k, 1e-6);  // the air is held
    /// Where the balance closes for a Lewis number, a heat of vaporisation and a heat of the air.
    const auto rest = [&](double lewis_power, auto vaporisation, double air_heat) {
      return root_of(
          [&](double t) {
            return (at_surface(t, air_k) - vapour) * vaporisation(t) -
                   air_heat * lewis_power * (air_k - t);
          },
          kZero_k, air_k);
    };
    const double want = rest(
        kLewisPower, [](double) { return kVapourHeat_j_per_kg; }, net.air_heat_j_per_m3_k);
    EXPECT_NEAR(state.node_k[0], want, 1e-6);

    const auto air =
        moist_air(Temperature::celsius(row.air_c), Percentage::percent(100 * row.humidity));
    ASSERT_TRUE(air.ok());
    EXPECT_NEAR(air->wet_bulb.celsius(), row.psychrometric_c, 1e-3);
    const double colder = row.psychrometric_c - (state.node_k[0] - kZero_k);
    EXPECT_GT(colder, 0);
    EXPECT_LT(colder, 0.3);
    // With those reasons taken away nothing is left of it but what vapour adds to the volume of
    // air: W = 0.622 p / (P - p) against p / P, here up to 0.15 K the other way.
    const double moist_heat = (1006 + 1860 * air->humidity_ratio) / air->volume_m3_per_kg;
    const double same = rest(1, vaporisation_heat_j_per_kg, moist_heat) - kZero_k;
    EXPECT_GE(same, row.psychrometric_c);
    EXPECT_LT(same, row.psychrometric_c + 0.15);
  }
}

// --- Dew ---

// Air of 25 degC at 50 %: dew point 13.864 degC (ASHRAE 2017 ch. 1 eq. 5 and 6 inverted). A surface
// half a kelvin above it stays dry to a thousandth of what half a kelvin below it gathers: there
// dew falls by the law g (p_air - p_sat) / (R_v T_air). At the dew point itself the smoothing
// leaves g times half of kSmoothing_kg_per_m3, 0.014 K of dew point. Comparing densities of vapour
// at two temperatures, as the solver once did, put the dew point 0.6 K too low here.
TEST(MoistureReference, DewBeginsAtTheDewPoint) {
  const double dew_point_k = kZero_k + 13.864, air_k = kZero_k + 25;
  const double air = vapour_at(air_k, 0.5);
  for (const bool film : {false, true}) {
    const auto dew = [&](double surface_k, double& g) {
      const Pan one = pan(surface_k, air_k, 0.5, 1e-3, 3, 0, film);
      g = one.flow_m3_per_s;
      const SteadyState state = steady(one.net);
      EXPECT_EQ(state.drawn_kg_per_s, 0);
      EXPECT_NEAR(state.run_off_kg_per_s, -state.evaporated_kg_per_s, 1e-15);
      return state.run_off_kg_per_s;
    };
    double g = 0;
    const double below = dew(dew_point_k - 0.5, g);
    EXPECT_NEAR(below, g * (air - at_surface(dew_point_k - 0.5, air_k)), 1e-3 * below);
    EXPECT_LT(dew(dew_point_k + 0.5, g), 1e-3 * below);
    EXPECT_GE(dew(dew_point_k + 0.5, g), 0);
    EXPECT_NEAR(dew(dew_point_k, g), g * kSmoothing_kg_per_m3 / 2, 0.05 * g * kSmoothing_kg_per_m3);
    const double deep = dew(kZero_k + 5, g);
    EXPECT_NEAR(deep, g * (air - at_surface(kZero_k + 5, air_k)), 1e-4 * deep);
  }
}

// A surface that cools from 20 to 10 degC in an hour passes that dew point after 0.6136 h; what it
// has gathered by any time is the integral of the law from there on.
TEST(MoistureReference, ACoolingSurfaceGathersDewFromTheDewPointOn) {
  const double air_k = kZero_k + 25, air = vapour_at(air_k, 0.5);
  Pan one = pan(kZero_k + 20, kZero_k + 25, 0.5, 1e-3, 3, 0, true);
  one.net.boundaries[0].hourly_k = {kZero_k + 20, kZero_k + 10, kZero_k + 10};
  one.net.nodes[0].capacity_j_per_k = 1;  // follows its boundary within 1e-4 s
  const auto gathered = [&](double hours) {
    return -course(one.net, {.hours = hours, .step_s = 2, .record_every_s = 0}).evaporated_kg;
  };
  const auto law = [&](double hours) {
    double sum = 0;
    const int parts = 20000;
    for (int i = 0; i < parts; ++i) {
      const double t = hours * (i + 0.5) / parts;
      sum += std::max(0.0, air - at_surface(kZero_k + 20 - 10 * t, air_k));
    }
    return one.flow_m3_per_s * sum * hours * 3600 / parts;
  };
  EXPECT_LT(gathered(0.59), 2e-3 * law(0.7));
  EXPECT_NEAR(gathered(0.7), law(0.7), 5e-3 * law(0.7));
  EXPECT_NEAR(gathered(1), law(1), 1e-3 * law(1));
}

// Dew brings its heat: a pane whose cold side gives 6 W/m2K to the outside and whose warm side
// takes 3 W/m2K from the air stands warmer for the dew on it, by the balance of the three.
TEST(MoistureReference, DewWarmsWhatItFallsOn) {
  const double air_k = kZero_k + 25, area = 1e-3;
  Pan one = pan(kZero_k + 2, air_k, 0.6, area, 3, 0, false);
  one.net.conductions[0].w_per_k = 6 * area;
  const SteadyState state = steady(one.net);
  const double want = root_of(
      [&](double t) {
        const double dew = std::max(0.0, vapour_at(air_k, 0.6) - at_surface(t, air_k));
        return 6 * area * (t - kZero_k - 2) - 3 * area * (air_k - t) -
               one.flow_m3_per_s * dew * kVapourHeat_j_per_kg;
      },
      kZero_k, air_k);
  EXPECT_NEAR(state.node_k[0], want, 2e-5);
  const double dry = (6 * 2 + 3 * 25) / 9.0;
  EXPECT_GT(state.node_k[0] - kZero_k, dry + 1);
}

// --- Films ---

/// The film left after a time when it dries by x' = -e x / (x + h), e the rate of a thick one: x +
/// h ln x falls in a straight line.
double drying(double film_kg, double half_kg, double rate_kg_per_s, double time_s) {
  const double line = film_kg + half_kg * std::log(film_kg) - rate_kg_per_s * time_s;
  return root_of([&](double x) { return x + half_kg * std::log(x) - line; }, 1e-30, film_kg);
}

TEST(MoistureReference, AFilmDriesByItsLaw) {
  const double area = 1e-3, mist = 0.05 * area;
  Pan one = pan(kZero_k + 25, kZero_k + 25, 0.5, area, 3, 0, true);
  one.net.misting = {{3600, mist, {1}}};
  const double rate = one.flow_m3_per_s * 0.5 * vapour_at(kZero_k + 25);
  for (const double hours : {0.5, 1.0, 2.0, 4.0, 8.0}) {
    const Course run = course(
        one.net, {.hours = hours, .step_s = 5, .record_every_s = 0, .start_second_of_day = 3600});
    EXPECT_NEAR(run.misted_kg, mist, 1e-15);
    EXPECT_EQ(run.drawn_kg, 0);
    const double left = drying(mist, kHalfFilm_kg_per_m2 * area, rate, hours * 3600);
    EXPECT_NEAR(lies_kg(run), left, 1e-5 * mist) << hours;
    EXPECT_NEAR(run.run_off_kg, 0, 1e-6 * mist);
  }
}

TEST(MoistureReference, FilmsConvergeWithOrderTwo) {
  // Thin, so that the slopes serve from begin to end: where they are made anew the error leaps.
  const double area = 1e-3, mist = 0.009 * area;
  Pan one = pan(kZero_k + 25, kZero_k + 25, 0.5, area, 3, 0, true);
  one.net.misting = {{0, mist, {1}}};
  const double rate = one.flow_m3_per_s * 0.5 * vapour_at(kZero_k + 25);
  const double want = drying(mist, kHalfFilm_kg_per_m2 * area, rate, 900);
  double error[3];
  for (int i = 0; i < 3; ++i) {
    const Course run =
        course(one.net, {.hours = 0.25, .step_s = 75.0 / (1 << i), .record_every_s = 0});
    error[i] = lies_kg(run) - want;
  }
  EXPECT_NEAR(order(error[0], error[1]), 2, 0.3);
  EXPECT_NEAR(order(error[1], error[2]), 2, 0.3);
}

// Two surfaces of one node share one film; each dries it into its own air.
TEST(MoistureReference, SurfacesOfOneNodeShareTheirFilm) {
  const double a = 1e-3, b = 3e-3, mist = 2e-4;
  Pan one = pan(kZero_k + 25, kZero_k + 25, 0.5, a, 3, 0, true);
  Network& net = one.net;
  net.nodes.push_back({"air beyond", 1, kZero_k + 25});
  for (Conduction& link : net.conductions) ++link.b;  // boundaries have moved up by one
  const int beyond = add_boundary(net, kZero_k + 25, vapour_at(kZero_k + 25, 0.8));
  net.conductions.push_back({2, beyond, kHeld_w_per_k, true});
  net.air.push_back({2, 0.001, vapour_at(kZero_k + 25, 0.8)});
  net.convections.push_back({0, 2, 2 * b, 2 * b, 0});
  net.wet.push_back({1, b, 0, true});
  net.misting = {{0, mist, {0.9, 0.1}}};  // where it was sprayed makes no difference
  const double c = net.air_heat_j_per_m3_k * kLewisPower;
  const double rate = (3 * a * 0.5 + 2 * b * 0.2) / c * vapour_at(kZero_k + 25);
  const Course run = course(net, {.hours = 3, .step_s = 5, .record_every_s = 0});
  const double left = drying(mist, kHalfFilm_kg_per_m2 * (a + b), rate, 3 * 3600);
  EXPECT_NEAR(lies_kg(run), left, 2e-5 * mist);
}

// Of more than 100 g/m2 the rest runs down within ten minutes or so (common practice, no source):
// in saturated air the excess falls as exp(-t / 600 s).
TEST(MoistureReference, AThickFilmRunsDown) {
  const double area = 1e-3, mist = 0.5 * area;
  Pan one = pan(kZero_k + 25, kZero_k + 25, 1, area, 3, 0, true);
  one.net.misting = {{0, mist, {1}}};
  for (const double seconds : {300.0, 900.0, 3600.0}) {
    const Course run = course(one.net, {.hours = seconds / 3600, .step_s = 2, .record_every_s = 0});
    EXPECT_NEAR(run.run_off_kg, 0.4 * area * (1 - std::exp(-seconds / 600)), 1e-5 * mist);
    EXPECT_NEAR(run.evaporated_kg, 0, 1e-5 * mist);
  }
}

// A run of a day that begins at the moment of misting holds it once, and one of n days n times.
TEST(MoistureReference, EachDayIsMistedOnce) {
  Pan one = pan(kZero_k + 25, kZero_k + 25, 0.5, 1e-3, 3, 0, true);
  one.net.misting = {{28800, 1e-5, {1}}, {72000, 2e-5, {1}}};
  for (const double start : {0.0, 28800.0, 40000.0, 72000.0}) {
    for (const int days : {1, 3}) {
      const Course run = course(
          one.net,
          {.hours = 24.0 * days, .step_s = 300, .record_every_s = 0, .start_second_of_day = start});
      EXPECT_NEAR(run.misted_kg, days * 3e-5, 1e-12) << start << " " << days;
    }
  }
}

// --- What must hold for any network ---

/// Bodies in two to four volumes of moist air, some wet, some that hold films.
Network random_moist(std::mt19937& random, bool films, bool wet) {
  std::uniform_real_distribution<double> unit(0, 1);
  const auto below = [&](int most) { return static_cast<int>(unit(random) * most); };
  Network net;
  const int volumes = 2 + below(3), bodies = 3 + below(5);
  for (int i = 0; i < volumes; ++i) {
    net.nodes.push_back({"air " + std::to_string(i), 40 + 200 * unit(random), 295});
    net.air.push_back({i, 0.03 + 0.1 * unit(random), 0.005 + 0.01 * unit(random)});
  }
  for (int i = 0; i < bodies; ++i) {
    net.nodes.push_back({"body " + std::to_string(i), 300 + 5000 * unit(random), 295});
  }
  // Drawn in a statement of its own: of two draws in one call each compiler makes another first.
  const double room_vapour = 0.004 + 0.008 * unit(random);
  const int room = add_boundary(net, 293 + 5 * unit(random), room_vapour);
  const int cold = add_boundary(net, 275 + 15 * unit(random), 0.004);
  for (int i = 0; i < volumes; ++i) {
    net.conductions.push_back({i, room, 0.02 + 0.1 * unit(random), true});
    if (i > 0) {
      net.conductions.push_back({i, i - 1, 0.1 * unit(random), true});
      net.convections.push_back({i, i - 1, 2 * unit(random), unit(random), 0.5, true});
    }
  }
  for (int i = 0; i < bodies; ++i) {
    const int body = volumes + i;
    net.conductions.push_back({body, below(3) == 0 ? cold : room, 0.1 + 0.5 * unit(random)});
    for (int v = 0; v < volumes; ++v) {
      if (v != i % volumes && below(3) > 0) continue;
      const double area = 0.02 + 0.1 * unit(random);
      net.convections.push_back({body, v, 2 * area, area, 1.0 / 3});
      const double share = !wet || below(2) == 0 ? 0 : unit(random);
      net.wet.push_back({static_cast<int>(net.convections.size()) - 1, area, share, films});
    }
  }
  net.heaters.push_back(
      {"mat", 15 * unit(random), {{volumes, 1}}, ControlKind::none, -1, {}, 1, 0, 0});
  return net;
}

class RandomMoisture : public testing::TestWithParam<unsigned> {
 protected:
  std::mt19937 random{GetParam()};
};
INSTANTIATE_TEST_SUITE_P(Seeds, RandomMoisture, testing::Range(1u, 31u));

TEST_P(RandomMoisture, SteadyStateIsWhereALongRunEnds) {
  const Network net = random_moist(random, false, true);
  const SteadyState state = steady(net);
  const Course run = course(net, {.hours = 24 * 30, .step_s = 600, .record_every_s = 0});
  for (std::size_t i = 0; i < net.nodes.size(); ++i) {
    EXPECT_NEAR(run.end_k[i], state.node_k[i], 1e-5);
  }
  for (std::size_t v = 0; v < net.air.size(); ++v) {
    EXPECT_NEAR(run.end_kg_per_m3[v], state.vapour_kg_per_m3[v], 1e-8);
  }
}

// A film that has grown as thick as it can lets all further dew run off, and one that has dried
// gives nothing: so films, too, end where the steady state, which knows none, has dew run off at
// once. Within 0.02 K: in the smoothing's 0.01 g/m3 about the dew point a film may both take and
// give, g * 1e-5 kg/m3 * L = 0.05 W/m2 at most, against some W/m2K.
TEST_P(RandomMoisture, FilmsEndWhereTheSteadyStateIs) {
  const Network net = random_moist(random, true, true);
  const SteadyState state = steady(net);
  const Course run = course(net, {.hours = 24 * 60, .step_s = 600, .record_every_s = 0});
  for (std::size_t i = 0; i < net.nodes.size(); ++i) {
    EXPECT_NEAR(run.end_k[i], state.node_k[i], 0.02);
  }
  for (std::size_t v = 0; v < net.air.size(); ++v) {
    EXPECT_NEAR(run.end_kg_per_m3[v], state.vapour_kg_per_m3[v], 3e-5);
  }
}

TEST_P(RandomMoisture, WhatIsMistedEvaporatesRunsOffOrLies) {
  Network net = random_moist(random, true, false);
  net.boundaries[1].value_k = net.boundaries[0].value_k;  // nothing cold: no dew
  for (Boundary& b : net.boundaries) b.vapour_kg_per_m3 = vapour_at(b.value_k, 0.3);
  for (AirVolume& volume : net.air) volume.start_kg_per_m3 = vapour_at(293, 0.3);
  net.misting = {{6 * 3600, 0.2, std::vector<double>(net.wet.size(), 1.0)}};
  for (double& part : net.misting[0].parts) part /= static_cast<double>(net.wet.size());
  double before = 1e300;
  for (const double hours : {0.5, 2.0, 6.0, 23.0}) {
    const Course run = course(
        net, {.hours = hours, .step_s = 60, .record_every_s = 0, .start_second_of_day = 6 * 3600});
    EXPECT_NEAR(run.misted_kg, 0.2, 1e-12);
    EXPECT_EQ(run.drawn_kg, 0);
    EXPECT_LT(lies_kg(run), before);  // it only dries
    before = lies_kg(run);
  }
  // Without another misting all of it is gone in the end.
  Network dry = net;
  dry.misting[0].kg = 0.001;
  const Course one = course(
      dry, {.hours = 23.9, .step_s = 60, .record_every_s = 0, .start_second_of_day = 6 * 3600});
  EXPECT_LT(lies_kg(one), 0.3 * 0.001);
}

// Moisture leaves the dry network as it was: where all surfaces are dry and above the dew point.
TEST_P(RandomMoisture, DryAirChangesNothing) {
  Network net = random_moist(random, true, false);
  for (Boundary& b : net.boundaries) b.vapour_kg_per_m3 = 0.0005;
  for (AirVolume& volume : net.air) volume.start_kg_per_m3 = 0.0005;
  Network dry = net;
  dry.air.clear();
  dry.wet.clear();
  const SteadyState a = steady(net), b = steady(dry);
  for (std::size_t i = 0; i < net.nodes.size(); ++i) EXPECT_NEAR(a.node_k[i], b.node_k[i], 1e-4);
  const Course x = course(net, {.hours = 6, .step_s = 60, .record_every_s = 0});
  const Course y = course(dry, {.hours = 6, .step_s = 60, .record_every_s = 0});
  for (std::size_t i = 0; i < net.nodes.size(); ++i) EXPECT_NEAR(x.end_k[i], y.end_k[i], 1e-4);
}

// Vapour lies between the driest of boundaries and coldest of surfaces, and the wettest of both.
TEST_P(RandomMoisture, NoVapourLeavesItsBounds) {
  const Network net = random_moist(random, false, true);
  const SteadyState state = steady(net);
  double low = net.boundaries[0].vapour_kg_per_m3, high = low;
  for (double t_k : state.node_k) {
    low = std::min(low, vapour_at(t_k));
    high = std::max(high, vapour_at(t_k));
  }
  for (double rho : state.vapour_kg_per_m3) {
    EXPECT_GE(rho, low - kSmoothing_kg_per_m3);
    EXPECT_LE(rho, high + kSmoothing_kg_per_m3);
  }
}

// --- Refusals ---

TEST(MoistureReference, BadMoistureIsRefused) {
  Network good = pan(kZero_k + 25, kZero_k + 25, 0.5, 1e-3, 3, 0, true).net;
  good.misting = {{0, 0.1, {1}}};
  ASSERT_TRUE(check(good).empty()) << check(good).front();
  const auto refused = [&](const char* what, auto spoil) {
    Network bad = good;
    spoil(bad);
    EXPECT_FALSE(check(bad).empty()) << what;
    EXPECT_FALSE(solve_steady(bad).ok()) << what;
    EXPECT_FALSE(run(bad, {.hours = 0.1}).ok()) << what;
  };
  const double nan = std::nan("");
  refused("air in no node", [](Network& n) { n.air[0].node = 7; });
  refused("air in a boundary", [](Network& n) { n.air[0].node = 2; });
  refused("air twice", [](Network& n) { n.air.push_back(n.air[0]); });
  refused("no volume", [](Network& n) { n.air[0].volume_m3 = 0; });
  refused("volume NaN", [&](Network& n) { n.air[0].volume_m3 = nan; });
  refused("vapour negative", [](Network& n) { n.air[0].start_kg_per_m3 = -0.001; });
  refused("vapour NaN", [&](Network& n) { n.air[0].start_kg_per_m3 = nan; });
  refused("boundary's vapour NaN", [&](Network& n) { n.boundaries[0].vapour_kg_per_m3 = nan; });
  refused("boundary's hours NaN", [&](Network& n) { n.boundaries[0].hourly_kg_per_m3 = {nan}; });
  refused("air flows into a body", [](Network& n) { n.convections[0].air = true; });
  refused("air without heat", [](Network& n) { n.air_heat_j_per_m3_k = 0; });
  refused("air heat NaN", [&](Network& n) { n.air_heat_j_per_m3_k = nan; });
  refused("wet without convection", [](Network& n) { n.wet[0].convection = 1; });
  refused("wet the wrong way round",
          [](Network& n) { std::swap(n.convections[0].a, n.convections[0].b); });
  refused("wet of no area", [](Network& n) { n.wet[0].area_m2 = 0; });
  refused("wetter than wet", [](Network& n) { n.wet[0].wet_share = 1.1; });
  refused("wet share NaN", [&](Network& n) { n.wet[0].wet_share = nan; });
  refused("mist on other surfaces", [](Network& n) { n.misting[0].parts = {0.5, 0.5}; });
  refused("half of the mist", [](Network& n) { n.misting[0].parts = {0.5}; });
  refused("mist of less than nothing", [](Network& n) { n.misting[0].kg = -1; });
  refused("mist NaN", [&](Network& n) { n.misting[0].kg = nan; });
  refused("mist beyond the day", [](Network& n) { n.misting[0].second_of_day = 90000; });
  refused("mist where no film lies", [](Network& n) { n.wet[0].film = false; });
}

}  // namespace
}  // namespace warmside::climate
