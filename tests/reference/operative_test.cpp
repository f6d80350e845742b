// Operative temperatures: limits that hold for any body, the beam against the worked figures of a
// lamp, solid angles against the sphere, the thermal index against a case by hand.

#include "climate/operative.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "climate/case_file.h"
#include "climate/enclosure_climate.h"

namespace warmside::climate {
namespace {

constexpr double kPi = std::numbers::pi;

EnclosureCase box(const std::string& more = "") {
  const std::string text = R"(
[enclosure]
length = "90cm"
width = "45cm"
height = "45cm"
[faces]
front = "glass 4mm"
back = "plywood 12mm"
left = "plywood 12mm"
right = "plywood 12mm"
top = "plywood 12mm"
bottom = "plywood 12mm"
[substrate]
kind = "sand"
depth = "3cm"
[room]
temperature = "25C"
)" + more;
  auto read = read_case_file(text, "box.toml");
  EXPECT_TRUE(read) << (read ? "" : to_line(read.problem().front()));
  return *read;
}

/// All nodes and boundaries at one temperature.
State even(const EnclosureNetwork& enclosure, double t_k, double duty = 0) {
  return {std::vector<double>(enclosure.network.nodes.size(), t_k),
          std::vector<double>(enclosure.network.boundaries.size(), t_k),
          std::vector<double>(enclosure.network.heaters.size(), duty)};
}

TEST(OperativeReference, SolidAnglesCloseTheSphere) {
  const EnclosureNetwork enclosure = build_network(box(), map_resolution());
  for (const double x : {0.02, 0.3, 0.45, 0.88}) {
    for (const double z : {0.01, 0.2, 0.44}) {
      double sum = 0;
      for (const Surface& surface : enclosure.surfaces) {
        sum += solid_angle(surface.tile, x, 0.2, z);
      }
      EXPECT_NEAR(sum, 4 * kPi, 1e-9) << x << " " << z;
    }
  }
  // A square seen from half its side above its middle is a sixth of the sphere (one face of a
  // cube).
  const Tile square{2, true, 0, {-0.5, -0.5}, {0.5, 0.5}};
  EXPECT_NEAR(solid_angle(square, 0, 0, 0.5), 4 * kPi / 6, 1e-12);
  EXPECT_EQ(solid_angle(square, 3, 0, 0), 0);
}

// Where everything has one temperature, so has every body, whatever its size and place.
TEST(OperativeReference, OneTemperatureIsFeltAsItself) {
  const EnclosureNetwork enclosure = build_network(box(), map_resolution());
  const State state = even(enclosure, 301.15);
  for (const Body& body : {Body{Mass::grams(3), false}, Body{Mass::kilograms(2), true}}) {
    const OperativeField field(enclosure, state, body);
    EXPECT_NEAR(field.on_floor_k(0), 301.15, 1e-9);
    EXPECT_NEAR(field.on_floor_k(enclosure.floor_count / 2), 301.15, 1e-9);
    EXPECT_NEAR(field.on_perch_k(0.3, 0.2, 0.3), 301.15, 1e-9);
  }
}

// Between air and surfaces by their coefficients: on a perch T_e = (0.9 (h_c T_a + h_r T_r) + 0.1
// h_k T_m) / (0.9 (h_c + h_r) + 0.1 h_k), T_m their mean; h_r = 4 eps sigma T^3 at the mean (Bakken
// 1992).
TEST(OperativeReference, WeighsAirAgainstRadiation) {
  const EnclosureNetwork enclosure = build_network(box(), map_resolution());
  State state = even(enclosure, 305.15);
  for (const AirZone& zone : enclosure.air) {
    state.node_k[static_cast<std::size_t>(zone.node)] = 295.15;
  }
  const Body body{Mass::grams(100), false};
  const OperativeField field(enclosure, state, body);
  const double mean = 300.15, radiative = 4 * 0.96 * kStefanBoltzmann * std::pow(mean, 3);
  EXPECT_NEAR(radiative, 5.89, 0.01);
  const double h_c = field.air_coefficient();
  EXPECT_GT(h_c, 2.5);
  EXPECT_LT(h_c, 6);  // a body of 6 cm in still air
  const double expected = (0.9 * (h_c * 295.15 + radiative * 305.15) + 0.1 * 30 * mean) /
                          (0.9 * (h_c + radiative) + 0.1 * 30);
  EXPECT_NEAR(field.on_perch_k(0.45, 0.2, 0.25), expected, 1e-6);
  // Small bodies follow the air more closely: h_c rises as size falls.
  const OperativeField small(enclosure, state, {Mass::grams(2), false});
  EXPECT_GT(small.air_coefficient(), h_c);
  EXPECT_LT(small.on_perch_k(0.45, 0.2, 0.25), field.on_perch_k(0.45, 0.2, 0.25));
}

// A lamp of 100 W that shines 60 % down: 106 W/m2 at 0.3 m if even over the half space, 212 W/m2 on
// the axis of a cosine lobe. Source: P/(2 pi r^2) and P/(pi r^2), computed.
TEST(OperativeReference, BeamOfALamp) {
  Beam beam;
  beam.from_m = {{0.3, 0.2, 0.4}};
  beam.power_w = 60;
  beam.exponent = 0;
  EXPECT_NEAR(beam.facing_w_per_m2(0.3, 0.2, 0.1), 106.1, 0.1);
  EXPECT_NEAR(beam.facing_w_per_m2(0.3 + 0.3, 0.2, 0.4 - 1e-6), 106.1, 0.1);
  beam.exponent = 1;
  EXPECT_NEAR(beam.facing_w_per_m2(0.3, 0.2, 0.1), 212.2, 0.1);
  EXPECT_EQ(beam.facing_w_per_m2(0.3, 0.2, 0.41), 0);  // nothing upwards
  // All of it passes a sphere about the lamp: the integral of a lobe over the lower half is its
  // power.
  beam.exponent = 3.7;
  double sum = 0;
  const int n = 2000;
  for (int i = 0; i < n; ++i) {
    const double angle = 0.5 * kPi * (i + 0.5) / n;
    const double e =
        beam.facing_w_per_m2(0.3 + 0.2 * std::sin(angle), 0.2, 0.4 - 0.2 * std::cos(angle));
    sum += e * 2 * kPi * 0.04 * std::sin(angle) * 0.5 * kPi / n;
  }
  EXPECT_NEAR(sum, 60, 1e-3);
}

// The share that a lamp throws on the floor straight below agrees with its beam: irradiance of the
// cell against the closed form, within what the cells' points allow.
TEST(OperativeReference, BeamAndNetworkAgree) {
  const EnclosureNetwork enclosure = build_network(box(R"(
[[heater]]
name = "lamp"
kind = "lamp"
power = "50W"
x = "45cm"
y = "22cm"
z = "40cm"
beam_deg = 60
)"),
                                                   map_resolution());
  const Heater& lamp = enclosure.network.heaters.front();
  const Beam& beam = enclosure.beams.front();
  for (int c = 0; c < enclosure.floor_count; ++c) {
    const Surface& cell = enclosure.surfaces[static_cast<std::size_t>(c)];
    const double x = 0.5 * (cell.tile.low_m[0] + cell.tile.high_m[0]);
    const double y = 0.5 * (cell.tile.low_m[1] + cell.tile.high_m[1]);
    const double r = std::hypot(x - 0.45, y - 0.22, 0.4);
    const double expected = beam.facing_w_per_m2(x, y, 0) * 0.4 / r;
    double found = 0;
    for (const Share& share : lamp.shares) {
      if (share.node == cell.floor_node) found = share.part * lamp.power_w / cell.tile.area_m2();
    }
    EXPECT_NEAR(found, expected, 0.02 * beam.facing_w_per_m2(0.45, 0.22, 0)) << x << " " << y;
  }
}

// d_e by hand: places at 24, 28, 30 and 35 degC, areas 1, 2, 1, 1, preferred 27 to 31: distances 3,
// 0, 0 and 4, so d_e = 7/5 K and three fifths are inside (Hertz, Huey & Stevenson 1993).
TEST(OperativeReference, ThermalIndex) {
  const auto quality = thermal_quality({297.15, 301.15, 303.15, 308.15}, {1, 2, 1, 1},
                                       {Temperature::celsius(27), Temperature::celsius(31)});
  EXPECT_NEAR(quality.distance_k, 1.4, 1e-9);
  EXPECT_NEAR(quality.inside_share, 0.6, 1e-12);
  const auto nowhere =
      thermal_quality({}, {}, {Temperature::celsius(27), Temperature::celsius(31)});
  EXPECT_EQ(nowhere.distance_k, 0);
}

// A bare probe in a beam reads high, a shielded one does not; and a temp gun set to the surface's
// own emissivity reads the surface, one set higher reads low where the surroundings are cooler.
TEST(OperativeReference, ProbesReadAsTheyAreUsed) {
  const auto climate = steady_climate(box(R"(
[[heater]]
name = "lamp"
kind = "lamp"
power = "50W"
x = "25cm"
y = "22cm"
z = "40cm"
[[probe]]
name = "bare"
kind = "bare"
x = "25cm"
y = "22cm"
z = "3cm"
[[probe]]
name = "shielded"
x = "25cm"
y = "22cm"
z = "3cm"
[[probe]]
name = "surface"
kind = "surface"
x = "25cm"
y = "22cm"
z = "0cm"
[[probe]]
name = "gun at 0.90"
kind = "temp gun"
x = "25cm"
y = "22cm"
z = "0cm"
emissivity = 0.90
[[probe]]
name = "gun at 0.98"
kind = "temp gun"
x = "25cm"
y = "22cm"
z = "0cm"
emissivity = 0.98
[[probe]]
name = "strip"
kind = "stick-on"
x = "10cm"
y = "0cm"
z = "20cm"
[[probe]]
name = "glass"
kind = "surface"
x = "10cm"
y = "0cm"
z = "20cm"
)"));
  ASSERT_TRUE(climate) << climate.problem().what;
  const auto at = [&](const std::string& name) {
    for (const auto& probe : climate->probes) {
      if (probe.name == name) return probe.t.k - 273.15;
    }
    ADD_FAILURE() << name;
    return 0.0;
  };
  // Without the beam it would read half the air, half the surfaces by area.
  double around = 0, area = 0;
  for (const Surface& surface : climate->enclosure.surfaces) {
    const double a = surface.tile.area_m2();
    around += a * (climate->state.node_k[static_cast<std::size_t>(surface.main_node())] - 273.15);
    area += a;
  }
  EXPECT_GT(at("bare"), 0.5 * (at("shielded") + around / area) + 1);
  EXPECT_NEAR(at("gun at 0.90"), at("surface"), 1e-6);  // sand: 0.90 in data/materials.csv
  EXPECT_LT(at("gun at 0.98"), at("surface") - 0.5);
  EXPECT_GT(at("strip"), at("glass"));  // the air is warmer than the glass
  EXPECT_LT(at("strip"), at("glass") + 0.3 * (at("shielded") - at("glass")) + 0.5);
}

}  // namespace
}  // namespace warmside::climate
