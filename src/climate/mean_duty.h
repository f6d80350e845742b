#pragma once
// What an on/off thermostat gives on average, for runs that do not follow each switching.
//
// A heater that is on for a share d of the time takes the probe through a cycle of the height of
// the thermostat's band b. Its mean is not the set point: a probe that lags swings past the ends of
// the band, furthest past the lower one where the heater is mostly on. In a linear network the
// cycle is known exactly (Hamel; Tsypkin 1984, Relay Control Systems, Cambridge University Press;
// both from memory). With the network's answer to the heater a sum of modes, each of gain g, K, and
// rate r < 0, 1/s, and with the period T,
//     probe at off - probe at on = sum g (1 - e^(r d T)) (1 - e^(r (1-d) T)) / (1 - e^(r T)) = b
//     probe at off - mean        = sum g [(1 - e^(r d T)) / (1 - e^(r T)) - d]
// The first gives T(d), the second the mean over the set point, m(d) = b/2 - (probe at off - mean).
//
// The network is not quite linear. A cycle's mean power brings the probe elsewhere than the same
// power held still, since radiation and convection bend: by the mean over the cycle of what the
// bends add to the rates, through the linear network. m(d) is less by that.
//
// m(d) falls over most duties and rises near 0 and 1, so d cannot be read off the probe alone. The
// law has a state z, the duty of late:
//     d = z + (set point + m(z) - probe) / w, at least 0 and at most 1
//     dz/dt = (d - z) / tau
// It rests where probe = set point + m(d). At z = 0 and 1 it stands at no power and at full power
// until the probe passes the end of the band, as a contact does: m(0) = -b/2, m(1) = b/2. w and tau
// only shape how it comes to rest: tau is T(1/2), and w lets the loop through the network answer at
// a third of that frequency.

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
/// to move their probe through its band. The network is taken about its steady state at that time
/// of the day, of four, at which the heater's duty is nearest to a half; contacts of other
/// thermostats and films stay as they are.
std::vector<MeanDuty> mean_duties(const Network& network);

}  // namespace warmside::climate
