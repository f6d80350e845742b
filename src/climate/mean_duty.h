#pragma once
// What an on/off thermostat gives on average, for runs that do not follow each switching.
//
// Its heater on and off in turn, for a share d of the time, makes the probe a cycle of the height
// of the thermostat's band b about a mean that is not the set point: where the probe lags it swings
// past the band's ends, past the lower one more where the heater is mostly on. For the network's
// linear response to the heater the cycle is known exactly (Hamel; Tsypkin 1984, Relay Control
// Systems, Cambridge University Press; both from memory). With the response a sum of modes, of gain
// g_i, K, and rate r_i < 0, 1/s, and the period T,
//     probe when it goes off - probe when it goes on
//                                  = sum g_i (1 - e^(r_i d T)) (1 - e^(r_i (1-d) T)) / (1 - e^(r_i
//                                  T))
//     probe when it goes off - mean = sum g_i [(1 - e^(r_i d T)) / (1 - e^(r_i T)) - d]
// The first is b, which gives T(d); the second then gives the mean, m(d) over the set point.
//
// m(d) may rise and fall, so d cannot be read off the probe alone. The law has a state z, the duty
// of late:
//     d = z + (set point + m(z) - probe) / w, at least 0 and at most 1
//     dz/dt = (d - z) / tau
// It rests where probe = set point + m(d), as real cycles do on average. At z = 0 and 1 it leaves
// no power and full power where a contact would: m(0) = -b/2, m(1) = b/2. w and tau only shape how
// it comes to rest. tau is the period at half duty; w lets the loop through the network answer at a
// third of that frequency. With w = b and m(z) = b/2 - b z it is the proportional law of the band.
//
// Against real switching (docs/performance.md): what remains is the bend of the network within a
// cycle, some 0.05 % of the energy, and thermostats that spend much of the day at full power or
// none.

#include <vector>

#include "climate/network.h"

namespace warmside::climate {

/// The law of one thermostat with its heaters in their network.
struct MeanDuty {
  double reach_k = 0;          // w
  double settle_s = 0;         // tau
  std::vector<double> mean_k;  // m at equal steps of z from 0 to 1

  struct Mean {
    double value_k = 0, slope_k = 0;
  };
  /// m(z), in straight lines between the steps.
  Mean mean(double z) const;
};

/// For each heater; without steps for those that have no on/off thermostat and for those too weak
/// to move their probe through its band. The network is taken as linear about its steady state at
/// noon, contacts of other thermostats and films as still.
std::vector<MeanDuty> mean_duties(const Network& network);

}  // namespace warmside::climate
