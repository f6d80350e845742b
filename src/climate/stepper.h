#pragma once
// The inside of the solvers: one network's share of a step in time, for a network alone
// (transient.cpp) and for many that share a room (room_run.cpp).
//
// ROS2 as a W-method (Verwer, Spee, Blom & Hundsdorfer 1999): with D the capacities and A any
// matrix near the slopes,
//     (D - gamma h A) k1 = f(y, t)                 + gamma h B b'
//     (D - gamma h A) k2 = f(y + h k1, t + h) - 2 D k1 - gamma h B b'
//     y' = y + h (3 k1 + k2) / 2
// It keeps order 2 whatever A is, so the slopes and their factors serve many steps; they are made
// anew when a heater enters or leaves the line of its law and when the state has moved. What
// crosses the edge is integrated by the same formula with the same A, so balances close to
// rounding.

#include <Eigen/Dense>
#include <algorithm>
#include <memory>

#include "climate/equations.h"

namespace warmside::climate {

inline constexpr double kGamma = 0.29289321881345254;  // 1 - 1/sqrt(2), L-stable

/// The clock is read this far inside a step of h: at its ends a timer, a set point or the weather
/// may just turn, and rounding would choose the side.
inline double inset_s(double h) {
  return std::min(0.25 * h, 1e-6);
}

class Stepper {
 public:
  using Vector = Eigen::VectorXd;
  Stepper(const Network& network, bool mean_duty);
  ~Stepper();
  Stepper(Stepper&&) noexcept;

  Equations equations;
  Vector y;         // the state
  Vector capacity;  // D

  /// Adds what is sprayed when the day's clock shows this second to the films; returns it, kg.
  double mist(double second_of_day);

  /// Makes slopes and factors ready for steps of h from y; cheap when they still serve.
  /// hub: outside columns whose rates are not given but sought, -1: none; see solve().
  void prepare(double h, int hub_heat = -1, int hub_vapour = -1);

  /// One stage: k with (D - gamma h A) k = right. Tally rates: gamma h times the slopes of the
  /// tallies along k.
  void solve(const Vector& right, Vector& k, Vector& tally) const;
  /// Adds gamma h times the slopes along rates b' of the outside, to state rates and tallies.
  void add_outside(const Vector& rate, double sign, Vector& right, Vector& tally) const;

  /// With hub columns: k and its tallies per unit rate of each of them.
  const Vector& by_hub(int column) const;
  const Vector& tally_by_hub(int column) const;

 private:
  struct Factor;
  void make_slopes();
  Factor& factor_for(double h);

  std::vector<Equations::Entry> slopes_, inner_, outer_, tally_inner_, tally_outer_;
  std::uint64_t kinks_ = 0;
  Vector slopes_at_;
  int slopes_age_ = -1;
  std::vector<std::unique_ptr<Factor>> factors_;
  Factor* now_ = nullptr;
};

}  // namespace warmside::climate
