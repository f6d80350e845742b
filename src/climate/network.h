#pragma once
// A thermal network: nodes that hold heat, links that carry it, heaters that bring it, thermostats
// that switch them. An enclosure at any resolution becomes one of these (enclosure_network.h); the
// solver (solver.h), the netlist writer (netlist.h) and the independent checks all read the same
// struct, so they cannot disagree about what the case is.
//
// Inside, everything is plain SI: K, W, J/K, s. Heat from a to b is positive. With dT = T_a - T_b:
//     Conduction   q = G dT
//     Convection   q = k(dT) (dT^2 + 0.01 K^2)^(n/2) dT,   k(dT) = k_b + (k_a - k_b) s(dT),
//                  s(dT) = (1 + dT / (dT^2 + 0.01 K^2)^(1/2)) / 2
//     Radiation    q = sigma X (T_a^4 - T_b^4)
// The 0.01 K^2 keeps q smooth at dT = 0, where a power law has an infinite slope; at dT = 1 K it
// changes q by 0.2 %. k_a holds where a is warmer, k_b where b is (a warm floor stirs its air, a
// cool one does not).
//
// Where nodes hold air (AirVolume), vapour moves too, kg/s, with D = rho_a - rho_b:
//     links that are air       m = (q / dT) / C D           C: Network::air_heat_j_per_m3_k
//     wet and cold surfaces    m = g [(s + (1 - s) f) D+ + D-],   g = (q / dT) / (C Le^(2/3)),
//                              f = film / (film + 10 g/m2 A),  D = rho_sat(T_a) T_a/T_b - rho_b:
//                              the difference of pressures as vapour of the air's temperature
// D+ and D- are the parts of D above and below 0, smoothed over 0.01 g/m3. Each kg takes
// kVapourHeat_j_per_kg from the surface, or brings it as dew. Of a film what is above 100 g/m2 runs
// down, at a rate of 1/600 s.

#include <cstdint>
#include <string>
#include <vector>

namespace warmside::climate {

inline constexpr double kDay_s = 86400;
inline constexpr double kSmoothing_k2 = 0.01;
inline constexpr double kSmoothing_kg_per_m3 = 1e-5;
/// Heat of vaporisation at 25 degC, the same at every temperature here; 1.2 % less at 38 degC.
inline constexpr double kVapourHeat_j_per_kg = 2.442e6;
/// Le^(2/3) with Le = thermal diffusivity over that of vapour in air, 22.0e-6 / 25.05e-6 m2/s at
/// 25 degC (Marrero & Mason 1972 for the latter).
inline constexpr double kLewisPower = 0.9171;
/// A film of this much holds half of a surface's evaporation back. Common practice, no source.
inline constexpr double kHalfFilm_kg_per_m2 = 0.01;
/// More than this runs down, so fast. Common practice, no source.
inline constexpr double kMostFilm_kg_per_m2 = 0.1;
inline constexpr double kRunningDown_s = 600;

struct Node {
  std::string name;             // "substrate warm 1", unique
  double capacity_j_per_k = 0;  // > 0
  double start_k = 293.15;
};

/// A temperature that is given, not computed: room air, a shelf, the weather.
struct Boundary {
  std::string name;
  double value_k = 293.15;       // used when the schedule is empty
  std::vector<double> hourly_k;  // hour h holds from h to h+1 in a straight line to the next; wraps
  double vapour_kg_per_m3 = 0.0087;           // 20 degC at 50 %; used when the next is empty
  std::vector<double> hourly_kg_per_m3 = {};  // as hourly_k, of the same length
};

/// Ends of links: 0..nodes-1 are nodes, then the boundaries.
struct Conduction {
  int a = 0, b = 0;
  double w_per_k = 0;
  bool air = false;  // carried by moving air, which takes its vapour along
};
struct Convection {
  int a = 0, b = 0;
  double k_a = 0, k_b = 0;    // W/K^(1+n), see above
  double exponent = 1.0 / 3;  // n; 1/3 for surfaces, 1/2 for flow through openings
  bool air = false;           // carried by moving air, which takes its vapour along
};
struct Radiation {
  int a = 0, b = 0;
  double area_m2 = 0;  // X, the exchange area
};

/// A node that is air and holds vapour.
struct AirVolume {
  int node = 0;
  double volume_m3 = 0;  // > 0
  double start_kg_per_m3 = 0.0087;
};
/// A surface that gives vapour to air or takes it as dew, along its convection link.
struct WetSurface {
  int convection = 0;  // the link's index; its a is the surface, its b air
  double area_m2 = 0;
  double wet_share = 0;  // s above: kept wet from beneath, as by damp substrate or a dish
  /// Whether dew and mist lie on the rest as a film; else dew runs off at once. Wet surfaces of one
  /// node share one film.
  bool film = true;
};
/// Water sprayed once a day, as a film on surfaces.
struct Misting {
  double second_of_day = 0;
  double kg = 0;
  std::vector<double> parts;  // for each wet surface, none for those without film; they sum to 1
};

/// Where a share of a heater's power goes.
struct Share {
  int node = 0;
  double part = 0;  // of the power; the parts of a heater sum to 1
};

/// What a thermostat or named probe feels: a weighted mean of ends, followed with a lag.
struct Sensor {
  std::string name;
  std::vector<Share> feels;  // parts sum to 1
  double lag_s = 0;          // 0: at once
  /// What a temp gun sees: the mean of T^4, not of T. Cannot control a heater, has no lag.
  bool radiance = false;
};

enum class ControlKind { none, on_off, proportional };

/// A set point through the day: straight lines between the points; wraps at 24 h. One point: fixed.
struct SetPoint {
  struct At {
    double second_of_day = 0;
    double value_k = 0;
  };
  std::vector<At> points;  // in order of time, at least one
};

struct Heater {
  std::string name;
  double power_w = 0;
  std::vector<Share> shares;
  ControlKind control = ControlKind::none;
  int sensor = -1;  // index of its thermostat's sensor
  SetPoint set_point;
  double band_k = 1;     // on_off: between switching on and off; proportional: its band
  double on_from_s = 0;  // timer, second of the day; equal: always on
  double on_until_s = 0;
};

struct Network {
  std::vector<Node> nodes;
  std::vector<Boundary> boundaries;
  std::vector<Conduction> conductions;
  std::vector<Convection> convections;
  std::vector<Radiation> radiations;
  std::vector<Sensor> sensors;
  std::vector<Heater> heaters;
  double air_heat_j_per_m3_k = 1200;  // density times specific heat of the air that moves
  std::vector<AirVolume> air;         // empty: dry, no vapour anywhere
  std::vector<WetSurface> wet;
  std::vector<Misting> misting;

  int node_count() const { return static_cast<int>(nodes.size()); }
  int boundary_end(int boundary) const { return node_count() + boundary; }
};

/// What is wrong with a network, as sentences; empty when it can be solved. For builders and tests:
/// ends that do not exist, capacities of nothing, parts that do not sum to 1, a node that nothing
/// holds to any boundary.
std::vector<std::string> check(const Network& network);

/// Temperature of a boundary at a time since the start, s.
double boundary_k(const Boundary& boundary, double time_s);
/// The vapour in a boundary's air at a time since the start, s.
double boundary_kg_per_m3(const Boundary& boundary, double time_s);
/// Set point at a second of the day.
double set_point_k(const SetPoint& set_point, double second_of_day);
/// Whether a heater's timer lets it run at a second of the day.
bool timer_on(const Heater& heater, double second_of_day);

/// The first moment after time_s, at which the day's clock shows second_of_day, when a timer turns,
/// a set point bends, water is sprayed or the hourly course of a boundary bends. Boundaries before
/// `first_boundary` do not count. 1e300: never.
double next_bend_s(const Network& network, double time_s, double second_of_day,
                   std::size_t first_boundary = 0);

}  // namespace warmside::climate
