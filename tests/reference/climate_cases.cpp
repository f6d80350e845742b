#include "reference/climate_cases.h"

#include <array>
#include <cmath>
#include <fstream>
#include <random>
#include <sstream>
#include <stdexcept>

#include "climate/case_file.h"
#include "climate/enclosure_network.h"

namespace warmside::climate {
namespace {

constexpr double kZero_k = 273.15;
constexpr double kWall_h = 1.31, kUnstable_h = 1.52, kStable_h = 0.76;

/// Substrate and air, all linear: the exact course is known (network_test.cpp).
ClimateCase two_nodes() {
  Network net;
  net.nodes = {{"substrate", 25000, kZero_k + 20}, {"air", 4000, kZero_k + 20}};
  net.boundaries = {{"room", kZero_k + 20, {}}};
  net.conductions = {{0, 1, 3}, {1, 2, 6}};
  net.heaters = {{"mat", 20, {{0, 1}}, ControlKind::none, -1, {}, 1, 0, 0}};
  return {"two_nodes", net, 0, false};
}

/// A vivarium of 0.9 x 0.45 x 0.45 m with a warm and a cool half: per half the mat's or lower
/// substrate, the upper substrate, air and walls, and one lid, hide and pane; 11 nodes. Convection
/// with unlike sides, radiation, flow between the halves and through the lid's vents.
Network two_zones(double power_w) {
  enum {
    warm_bed,
    warm_top,
    warm_air,
    warm_wall,
    cool_bed,
    cool_top,
    cool_air,
    cool_wall,
    lid,
    hide,
    pane,
    room
  };
  Network net;
  constexpr std::array<double, 11> kCapacity = {6000, 9000, 500,  3500, 6000, 9000,
                                                500,  3500, 5000, 1500, 2500};
  constexpr std::array<const char*, 11> kNames = {"warm bed", "warm top", "warm air", "warm wall",
                                                  "cool bed", "cool top", "cool air", "cool wall",
                                                  "lid",      "hide",     "pane"};
  for (std::size_t i = 0; i < kNames.size(); ++i) {
    net.nodes.push_back({kNames[i], kCapacity[i], kZero_k + 22});
  }
  net.boundaries = {{"room", kZero_k + 22, {}}};
  net.conductions = {
      {warm_bed, warm_top, 2.0}, {cool_bed, cool_top, 2.0}, {warm_bed, cool_bed, 0.1},
      {warm_top, cool_top, 0.1}, {warm_bed, room, 0.5},     {cool_bed, room, 0.5},
      {warm_wall, room, 0.6},    {cool_wall, room, 0.6},    {lid, room, 1.2},
      {pane, room, 1.5},         {hide, warm_top, 0.3}};
  net.convections = {{warm_top, warm_air, 0.2 * kUnstable_h, 0.2 * kStable_h, 1.0 / 3},
                     {cool_top, cool_air, 0.2 * kUnstable_h, 0.2 * kStable_h, 1.0 / 3},
                     {warm_wall, warm_air, 0.3 * kWall_h, 0.3 * kWall_h, 1.0 / 3},
                     {cool_wall, cool_air, 0.3 * kWall_h, 0.3 * kWall_h, 1.0 / 3},
                     {lid, warm_air, 0.2 * kStable_h, 0.2 * kUnstable_h, 1.0 / 3},
                     {lid, cool_air, 0.2 * kStable_h, 0.2 * kUnstable_h, 1.0 / 3},
                     {hide, warm_air, 0.05 * kWall_h, 0.05 * kWall_h, 1.0 / 3},
                     {pane, cool_air, 0.2 * kWall_h, 0.2 * kWall_h, 1.0 / 3},
                     {warm_air, cool_air, 2.0, 2.0, 0.5},
                     {warm_air, room, 0.35, 0.35, 0.5},
                     {cool_air, room, 0.2, 0.2, 0.5}};
  net.radiations = {{warm_top, lid, 0.06},   {warm_top, warm_wall, 0.08}, {warm_top, pane, 0.04},
                    {cool_top, lid, 0.06},   {cool_top, cool_wall, 0.08}, {cool_top, pane, 0.04},
                    {hide, warm_wall, 0.02}, {lid, pane, 0.03},           {pane, room, 0.3}};
  net.heaters = {
      {"mat", power_w, {{warm_bed, 0.9}, {warm_top, 0.1}}, ControlKind::none, -1, {}, 1, 0, 0}};
  return net;
}

/// 32 nodes joined at random by 31 conductions, 24 convections and 36 radiation links; two of them
/// touch the room, two the floor of the house.
ClimateCase thirty_two() {
  std::mt19937 random(20261125);
  // Not std::uniform_..._distribution: its course is the library's own affair.
  const auto unit = [&] { return static_cast<double>(random()) / 4294967296.0; };
  const auto below = [&](int most) { return static_cast<int>(unit() * most); };
  Network net;
  const int n = 32;
  for (int i = 0; i < n; ++i) {
    net.nodes.push_back(
        {"node " + std::to_string(i), 300 * std::pow(60, unit()), kZero_k + 18 + 6 * unit()});
  }
  net.boundaries = {{"room", kZero_k + 21, {}}, {"house floor", kZero_k + 17, {}}};
  for (int i = 1; i < n; ++i) net.conductions.push_back({below(i), i, 0.3 + 2 * unit()});
  for (int i = 0; i < 24; ++i) {
    const int a = below(n);
    const int b = i < 6 ? net.boundary_end(0) : (a + 1 + below(n - 1)) % n;
    net.convections.push_back({a, b, 0.1 + 0.6 * unit(), 0.1 + 0.6 * unit(), 1.0 / 3});
  }
  for (int i = 0; i < 36; ++i) {
    const int a = below(n);
    const int b = i < 4 ? net.boundary_end(i % 2) : (a + 1 + below(n - 1)) % n;
    net.radiations.push_back({a, b, 0.01 + 0.1 * unit()});
  }
  net.conductions.push_back({0, net.boundary_end(1), 0.8});
  net.conductions.push_back({5, net.boundary_end(1), 0.4});
  net.heaters = {{"mat", 25, {{3, 0.7}, {4, 0.3}}, ControlKind::none, -1, {}, 1, 0, 0},
                 {"panel", 30, {{11, 0.4}, {19, 0.6}}, ControlKind::none, -1, {}, 1, 0, 0}};
  return {"thirty_two", net, 0, false};
}

/// The vivarium under a panel that warms air and ground, with an on/off thermostat whose probe
/// hangs in the warm air and lags: some hundred switchings a day.
ClimateCase hysteresis() {
  Network net = two_zones(60);
  net.sensors = {{"probe", {{1, 0.3}, {2, 0.7}}, 20}};
  Heater& panel = net.heaters[0];
  panel.name = "panel";
  panel.shares = {{1, 0.3}, {2, 0.5}, {8, 0.2}};
  panel.control = ControlKind::on_off;
  panel.sensor = 0;
  panel.set_point = {{{0, kZero_k + 28}}};
  panel.band_k = 1;
  return {"hysteresis", net, 0, true, 2, 0.125};
}

/// Weather by the hour, a night set point with ramps, a lamp on a timer; starts at 05:00.
ClimateCase day_and_night() {
  Network net = two_zones(45);
  for (int h = 0; h < 24; ++h) {
    net.boundaries[0].hourly_k.push_back(kZero_k + 21 + 3 * std::sin(0.2618 * h) + 0.4 * (h % 3));
  }
  net.sensors = {{"probe", {{1, 0.6}, {2, 0.3}, {net.boundary_end(0), 0.1}}, 60},
                 {"gun", {{1, 1}}, 0}};
  Heater& mat = net.heaters[0];
  mat.control = ControlKind::proportional;
  mat.sensor = 0;
  mat.set_point = {
      {{25200, kZero_k + 24}, {27000, kZero_k + 29}, {72000, kZero_k + 29}, {75600, kZero_k + 24}}};
  mat.band_k = 2;
  net.heaters.push_back({"lamp",
                         25,
                         {{1, 0.5}, {9, 0.2}, {8, 0.1}, {2, 0.2}},
                         ControlKind::none,
                         -1,
                         {},
                         1,
                         8 * 3600,
                         20 * 3600});
  return {"day_and_night", net, 5 * 3600, false};
}

/// An enclosure of tests/data/cases, as it is solved for years.
ClimateCase enclosure(const std::string& name, bool switched, double circuit_step_s) {
  const std::string path = std::string(WARMSIDE_SOURCE) + "/tests/data/cases/" + name + ".toml";
  std::ostringstream text;
  text << std::ifstream(path).rdbuf();
  const auto found = read_case_file(text.str(), path);
  if (!found) throw std::runtime_error(path + ": " + found.problem().front().what);
  return {name, build_network(*found, zonal_resolution()).network, 0, switched, 1, circuit_step_s};
}

}  // namespace

std::vector<ClimateCase> climate_cases() {
  return {two_nodes(),
          {"two_zones", two_zones(30), 0, false},
          thirty_two(),
          hysteresis(),
          day_and_night(),
          enclosure("mat_tank", true, 1),
          enclosure("frog_terrarium", false, 5)};
}

Course solve(const ClimateCase& one, double step_s, double record_every_s) {
  RunOptions options;
  options.hours = 24;
  options.step_s = step_s;
  options.record_every_s = record_every_s;
  options.start_second_of_day = one.start_second_of_day;
  return run(one.network, options).value();
}

}  // namespace warmside::climate
