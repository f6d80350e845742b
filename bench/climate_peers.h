#pragma once
// Two programs beside which the climate solver is measured: SUNDIALS CVODE and ngspice.

#include <string>
#include <vector>

#include "climate/network.h"

namespace warmside::bench {

/// What a run by another program came to.
struct PeerRun {
  double took_s = 0;    // on the clock
  double energy_j = 0;  // of heater 0
  int switches = 0;     // of heater 0
  long steps = 0;       // that it took
  bool ok = false;
};

struct CvodeSettings {
  double hours = 24;
  double relative_tolerance = 1e-6;
  bool analytic_slopes = true;  // the Jacobian written out; else by difference quotients
  bool mean_duty = false;       // the thermostat as a proportional one; else with root finding
  double record_every_s = 0;    // interpolated at these moments; 0: nothing
};
/// CVODE (BDF, dense Newton) on our own right-hand side, so that only the methods differ: variable
/// order and step, contacts by root finding and a fresh start at each switching. It runs through
/// the bends of hourly boundaries by its own control of the error. Networks whose heaters have no
/// timers and fixed set points, without misting.
PeerRun run_cvode(const climate::Network& network, const CvodeSettings& settings);

struct NgspiceSettings {
  double hours = 24;
  double largest_step_s = 60;
  double record_every_s = 60;
  /// In place of the deck's own, which ask for more than is compared here. chgtol: with the usual
  /// 1e-14 a film that is nearly dry holds its steps under 3 s.
  std::string options = "method=trap trtol=7 reltol=1e-4 abstol=1e-6 vntol=1e-6 chgtol=1";
};
/// ngspice on the exported netlist, as a process of its own, in a folder of its own. Not ok where
/// there is no ngspice.
PeerRun run_ngspice(const climate::Network& network, const NgspiceSettings& settings);

}  // namespace warmside::bench
