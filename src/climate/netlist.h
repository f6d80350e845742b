#pragma once
// A thermal network as a netlist for a general circuit simulator, so that anyone can check the
// solver with a program that shares nothing with it: volts are degrees Celsius, amperes watts,
// farads joules per kelvin, ohms kelvins per watt; of vapour g/m3, g/s, m3, s/m3.
//
// Written for simulators of the SPICE family (checked with ngspice 39). Thermostats with a band
// become voltage-controlled switches, sensors that lag RC pairs, power laws, radiation and
// saturation behavioural sources; courses of boundaries and set points piecewise-linear sources;
// water that is sprayed a pulse of one second.

#include <string>

#include "climate/network.h"

namespace warmside::climate {

struct NetlistOptions {
  double hours = 24;
  double print_every_s = 60;
  double largest_step_s = 5;
  /// The simulator's "trtol": by how much it overestimates its own error of truncation. With 1 it
  /// takes the shortest steps; 7 is what it usually takes.
  double truncation_factor = 1;
  /// Where the control block writes: a line of names, then at each interval the time, every node
  /// and sensor, degC, the vapour of each air volume, g/m3, and each heater's energy since the
  /// start, Wh. The contacts of real on/off thermostats go to this name with ".contacts", at every
  /// step the simulator took.
  std::string output_file = "out.txt";
  bool mean_duty = false;  // on/off thermostats as proportional ones, as in steady states
  double start_second_of_day = 0;
};

/// The whole deck with a transient analysis and a control block that writes the files above. The
/// network must pass check(). In the deck n0, n1, ... are the nodes in their order, b the
/// boundaries, s the sensors, p and e the heaters' power and energy; their names are remarks. With
/// vapour, xn0 is that of node n0's air and mn0 the film on n0, g/m2.
/// Checked by: tests/reference/spice_check.py.
std::string spice_netlist(const Network& network, const NetlistOptions& options = {});

}  // namespace warmside::climate
