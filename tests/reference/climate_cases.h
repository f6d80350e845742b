#pragma once
// Networks that other programs solve as well: ngspice (spice_check.py) and SUNDIALS CVODE
// (cvode_test.cpp). Between them they hold every kind of link, heater, clock, sensor and way of
// water: five written by hand, two enclosures from case files (tests/data/cases).

#include <string>
#include <vector>

#include "climate/network.h"
#include "climate/solver.h"

namespace warmside::climate {

struct ClimateCase {
  std::string name;
  Network network;
  double start_second_of_day = 0;
  /// Whether a contact opens and closes: then moments drift between programs, and energy,
  /// switchings and envelopes are compared instead of points.
  bool switched = false;
  /// Steps with which our own error, and that of the circuit simulator, are well below what is
  /// compared, s.
  double fine_step_s = 5, circuit_step_s = 5;
};

/// Seven networks, always the same ones.
std::vector<ClimateCase> climate_cases();

/// Our own solution of a case over a day.
Course solve(const ClimateCase& one, double step_s, double record_every_s = 60);

}  // namespace warmside::climate
