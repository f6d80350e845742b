#pragma once
// Solves a thermal network: the steady state, and the course over hours or years.
//
// Method in time: ROS2 (Verwer, Spee, Blom & Hundsdorfer 1999, SIAM J. Sci. Comput. 20:1456), a
// Rosenbrock scheme of order 2 with gamma = 1 - 1/sqrt(2), L-stable, used as a W-method: two solves
// a step, the factors serve many steps. Heat and water that cross the edge are integrated by the
// same formula, so the balances close to rounding. Real switching: the moment at which a probe
// crosses its band is found on the cubic through the step's ends. Mean duty: the law of
// mean_duty.h, at a fraction of the cost; the energy of a mat's year comes within 0.02 %, within
// 0.5 % near full power, where the real cycle locks to the day; that of bare heaters in air, whose
// cycle is many kelvin, within about 1.5 %, and about 2 % where the set point moves by some kelvin
// each day.
//
// Method of the steady state, where on/off thermostats act as proportional ones of the same band:
// damped Newton; large networks by symmetric factors near the slopes.
//
// Checked by: tests/reference/network_test.cpp (exact solutions), tests/reference/spice_check.py
// (ngspice), tests/reference/cvode_test.cpp (SUNDIALS CVODE with root finding).

#include <functional>
#include <string>
#include <vector>

#include "climate/network.h"
#include "core/result.h"

namespace warmside::climate {

struct SteadyOptions {
  double second_of_day = 43200;  // for timers, set points and boundaries with a course; noon
  int most_iterations = 60;      // 1..1000
  double tolerance_w = 1e-9;     // of the largest imbalance at a node; or 1e-9 of all heat lost
  /// Every heater at full power whatever its thermostat says: a stuck contact.
  bool stuck_on = false;
  /// Temperatures from which to seek, per node; empty: the nodes' own starts.
  std::vector<double> guess_k = {};
};

struct SteadyState {
  std::vector<double> node_k;
  std::vector<double> sensor_k;
  std::vector<double> duty;              // per heater, 0..1
  std::vector<double> vapour_kg_per_m3;  // per air volume
  double power_w = 0;                    // of all heaters
  double lost_w = 0;                     // to all boundaries
  double evaporated_kg_per_s = 0;        // from all liquid, less dew
  double drawn_kg_per_s = 0;             // of it from beneath: what has to be poured
  double run_off_kg_per_s = 0;           // dew that runs down
  int iterations = 0;
  /// |power - lost - latent| against the larger of power and the heat that passes between
  /// boundaries.
  double heat_balance_error = -1;  // -1: not computed
  /// |evaporated - carried out| against the water that moves.
  double water_balance_error = -1;
};

/// A network that does not converge is a Problem that names the node with the largest imbalance.
Result<SteadyState> solve_steady(const Network& network, const SteadyOptions& options = {});

enum class Switching { real, mean_duty };

struct RunOptions {
  double hours = 24;           // > 0
  double step_s = 60;          // largest step, 0.1..3600; shortened to meet timers and the hour,
                               // and where temperatures run too fast for it
  double record_every_s = 60;  // 0: only the end
  Switching switching = Switching::real;
  double start_second_of_day = 0;
  /// Called each simulated day with the share done; false asks to stop.
  std::function<bool(double)> progress = {};
};

struct Course {
  std::vector<double> time_s;  // of the records
  // temperature_k[k * width + i]: at record k; i runs over nodes, then sensors.
  std::vector<double> temperature_k;
  int width = 0;
  std::vector<double> vapour_kg_per_m3;  // [k * air volumes + v]
  std::vector<double> duty_now;          // [k * heaters + h]: at record k
  std::vector<double> duty;              // mean over the run, per heater
  std::vector<double> energy_j;          // per heater
  std::vector<int> switches;             // on -> off or off -> on, per heater
  std::vector<double> end_k;             // nodes
  std::vector<double> end_kg_per_m3;     // air volumes
  double lost_j = 0;                     // to all boundaries
  double stored_j = 0;                   // gained by the nodes
  /// The largest |given - lost - stored| over any step, against the heat moved in the run.
  double heat_balance_error = -1;
  double evaporated_kg = 0;  // from all liquid, less dew
  double drawn_kg = 0;       // of it from beneath: what had to be poured
  double misted_kg = 0;
  double run_off_kg = 0;
  /// The same for water: the largest |evaporated - carried out - stored in air|, and of the films.
  double water_balance_error = -1;
  bool stopped = false;  // on request
};

Result<Course> run(const Network& network, const RunOptions& options = {});

}  // namespace warmside::climate
