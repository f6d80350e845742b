#pragma once
// How an animal's mass moves, as a state-space model for weighings at irregular times.
//
// The state: l, the logarithm of the empty body's mass, ln g, and r, how much faster it grows than
// expected, 1/day, which drifts and forgets (an Ornstein-Uhlenbeck process):
//     dl = (u + r) dt + s_l dW        u: the growth expected at this size, 1/day
//     dr = -r/tau dt + s_r sqrt(2/tau) dW'
// Over a step of t days, with f = exp(-t/tau), exactly:
//     l' = l + u t + tau (1 - f) r + noise,   r' = f r + noise
//     var l = s_l^2 t + s_r^2 tau (2 t - tau (4 (1 - f) - (1 - f^2))),
//     cov   = s_r^2 tau (1 - f)^2,            var r = s_r^2 (1 - f^2)
// A weighing is y = l + c + e: c what gut and bladder are expected to hold, e of the variance
// v = s^2 + its own, and in a share of weighings, when they hold what nobody noted, of v k^2.
//
// The filter takes each weighing as a mixture of both and goes on with the mixture's mean and
// variance, which gives the likelihood. The smoother gives each weighing the weight that its
// distance from the smoothed course leaves it, again until nothing changes, and is then the exact
// Gaussian smoother (Rauch, Tung & Striebel 1965) for these weights. With a share of 0 both are the
// Kalman filter and its smoother. Checked by: tests/reference/weight_model_test.cpp (a dense
// Gaussian computation, irregular times) and tests/reference/statsmodels_check.py (statsmodels).

#include <array>
#include <span>
#include <vector>

namespace warmside::health {

/// A moment at which the mass is of interest.
struct Weighing {
  double day = 0;       // since any beginning, not falling
  double log_mass = 0;  // ln g
  double contents = 0;  // c
  double variance = 0;  // on top of the kind's own; infinite: no weighing, only a moment
  double growth = 0;    // u from the weighing before to this one, 1/day
  double step = 0;      // a known step of l at this moment: its mean and variance
  double step_variance = 0;
};

/// Of the motion and of the noise; a kind of animal shares them.
struct Motion {
  double rate_sd = 0.0008;   // s_r, 1/day
  double memory_days = 120;  // tau
  double wander_sd = 0.001;  // s_l, 1/sqrt(day)
  double noise_sd = 0.03;    // s, of ln mass
  double odd_share = 0.05;   // of weighings
  double odd_factor = 4;     // k
};

/// A Gaussian of (l, r).
struct WeightState {
  double level = 0, rate = 0;
  double level_variance = 0, covariance = 0, rate_variance = 0;
};

struct WeightCourse {
  double log_likelihood = 0;        // of the filter
  std::vector<WeightState> states;  // smoothed, one for each weighing
  std::vector<double> oddness;      // 0..1, how likely each was one of the odd ones
  /// cov(l at i, l at the last), smoothed.
  std::vector<double> level_with_last;
};

/// `start` holds just before the first weighing. Throws nothing; empty weighings give nothing.
double log_likelihood(std::span<const Weighing> weighings, const Motion& motion,
                      const WeightState& start);
WeightCourse smoothed(std::span<const Weighing> weighings, const Motion& motion,
                      const WeightState& start);

}  // namespace warmside::health
