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
  std::string output_file = "out.txt";  // where the simulator's control block writes, one column pair a node
  bool mean_duty = false;               // on/off thermostats as proportional ones, as in the solver
  double start_second_of_day = 0;
};

/// The whole deck with a transient analysis and a control block that writes every node.
std::string spice_netlist(const Network& network, const NetlistOptions& options = {});

}  // namespace warmside::climate
