#pragma once
// Networks that other programs solve as well: ngspice (spice_check.py) and SUNDIALS CVODE
// (cvode_test.cpp). Between them they hold every kind of link, heater and clock.

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
};

/// Five networks, always the same ones.
std::vector<ClimateCase> climate_cases();

/// Our own solution of a case over a day: records every 60 s.
Course solve(const ClimateCase& one, double step_s);

/// Steps with which our own error is well below what is compared, s.
double fine_step_s(const ClimateCase& one);

}  // namespace warmside::climate
