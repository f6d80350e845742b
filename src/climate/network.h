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

#include <cstdint>
#include <string>
#include <vector>

namespace warmside::climate {

inline constexpr double kSmoothing_k2 = 0.01;

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
};

/// Ends of links: 0..nodes-1 are nodes, then the boundaries.
struct Conduction {
  int a = 0, b = 0;
  double w_per_k = 0;
};
struct Convection {
  int a = 0, b = 0;
  double k_a = 0, k_b = 0;    // W/K^(1+n), see above
  double exponent = 1.0 / 3;  // n; 1/3 for surfaces, 1/2 for flow through openings
};
struct Radiation {
  int a = 0, b = 0;
  double area_m2 = 0;  // X, the exchange area
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

  int node_count() const { return static_cast<int>(nodes.size()); }
  int boundary_end(int boundary) const { return node_count() + boundary; }
};

/// What is wrong with a network, as sentences; empty when it can be solved. For builders and tests:
/// ends that do not exist, capacities of nothing, parts that do not sum to 1, a node that nothing
/// holds to any boundary.
std::vector<std::string> check(const Network& network);

/// Temperature of a boundary at a time since the start, s.
double boundary_k(const Boundary& boundary, double time_s);
/// Set point at a second of the day.
double set_point_k(const SetPoint& set_point, double second_of_day);
/// Whether a heater's timer lets it run at a second of the day.
bool timer_on(const Heater& heater, double second_of_day);

/// Heat through a convection link and its slope d q / d (T_a - T_b).
struct Flow {
  double q_w = 0;
  double slope_w_per_k = 0;
};
Flow convection_flow(const Convection& link, double dt_k);

}  // namespace warmside::climate
