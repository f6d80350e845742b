#pragma once
// A thermal network as a netlist for a general circuit simulator, so that anyone can check the
// solver with a program that shares nothing with it: volts are degrees Celsius, amperes watts,
// farads joules per kelvin, ohms kelvins per watt.
//
// Written for simulators of the SPICE family (checked with ngspice 39). Thermostats with a band
// become voltage-controlled switches, sensors that lag RC pairs, power laws and radiation
// behavioural sources; courses of boundaries and set points piecewise-linear sources.

#include <string>

#include "climate/network.h"

namespace warmside::climate {

struct NetlistOptions {
  double hours = 24;
  double print_every_s = 60;
  double largest_step_s = 5;
  /// Where the control block writes: a line of names, then at each interval the time, every node
  /// and sensor, degC, and each heater's energy since the start, Wh. The contacts of real on/off
  /// thermostats go to this name with ".contacts", at every step the simulator took.
  std::string output_file = "out.txt";
  bool mean_duty = false;  // on/off thermostats as proportional ones, as in the solver
  double start_second_of_day = 0;
};

/// The whole deck with a transient analysis and a control block that writes the files above. The
/// network must pass check(). In the deck n0, n1, ... are the nodes in their order, b the
/// boundaries, s the sensors, p and e the heaters' power and energy; their names are remarks.
/// Checked by: tests/reference/spice_check.py.
std::string spice_netlist(const Network& network, const NetlistOptions& options = {});

}  // namespace warmside::climate
