#pragma once
// The inside of the solvers: one network's way through time, for a network alone (transient.cpp)
// and for many that share a room (room_run.cpp).
//
// ROS2 as a W-method (Verwer, Spee, Blom & Hundsdorfer 1999): with D the capacities and A any
// matrix near the slopes,
//     (D - gamma h A) k1 = f(y, t)                 + gamma h B b'
//     (D - gamma h A) k2 = f(y + h k1, t + h) - 2 D k1 - gamma h B b'
//     y' = y + h (3 k1 + k2) / 2
// It keeps order 2 whatever A is, so the slopes and their factors serve many steps; those of
// earlier states are kept for when the network comes back to them, as it does every day. What
// crosses the edge is integrated by the same formula with the same A, so balances close to
// rounding. Within a step everything runs on the cubic through its ends, which keeps them too.

#include <Eigen/Dense>
#include <algorithm>
#include <memory>

#include "climate/equations.h"

namespace warmside::climate {

/// The length of the next step, from how good the last ones were: the longest one, or its half,
/// its quarter and so on, so that few factors serve many steps.
class Pace {
 public:
  /// A step whose two formulas differ by more than `largest_error_k` is taken anew with half its
  /// length, down to `shortest_s`.
  Pace(double longest_s, double shortest_s, double largest_error_k)
      : longest_s_(longest_s), shortest_s_(shortest_s), largest_error_k_(largest_error_k) {}

  /// For a way that ends at the next event.
  double step(double to_event_s) const {
    const double h = std::min(to_event_s, allowed_s_);
    // Not a sliver before the event: two halves.
    return to_event_s > h && to_event_s < 1.5 * h ? to_event_s / 2 : h;
  }
  /// Whether a step of h may stand.
  bool good(double error_k, double h) const {
    return error_k <= largest_error_k_ || h <= shortest_s_;
  }
  /// Another length for one that may not.
  double shorter(double h) {
    while (allowed_s_ > 0.6 * h) allowed_s_ /= 2;
    return allowed_s_;
  }
  void taken(double error_k, double h) {
    if (error_k < largest_error_k_ / 4 && h > 0.9 * allowed_s_) {
      allowed_s_ = std::min(2 * allowed_s_, longest_s_);
    }
  }

 private:
  double longest_s_, shortest_s_, largest_error_k_;
  double allowed_s_ = longest_s_;  // now
};

class Stepper {
 public:
  using Vector = Eigen::VectorXd;
  Stepper(const Network& network, bool mean_duty, double start_second_of_day);
  ~Stepper();
  Stepper(Stepper&&) noexcept;

  Equations equations;
  Vector y;         // the state
  Vector capacity;  // D
  Vector given;     // rates that come from elsewhere, on top of the network's own; often none

  /// The air that stands in place of boundary 0, if any: a straight course from a moment on.
  struct Air {
    bool there = false;
    double from_s = 0;
    double k = 0, k_per_s = 0;
    double kg_per_m3 = 0, kg_per_m3_s = 0;
  } air;

  double second_of_day(double time_s) const;
  /// Sets the equations' clock to what holds just after a moment.
  void set_clock(double time_s);

  /// Adds what is sprayed at this moment to the films; returns it, kg.
  double mist(double time_s);

  struct Step {
    Vector y, tally;     // at its end; what crossed the edge in it
    Vector rate, edge;   // rates of both at its end, where end() was called
    Vector outside;      // what was outside at its end
    double error_k = 0;  // how far its two formulas differ
  };
  /// Rates at y, for the steps that begin here, by the clock as it stands.
  void begin();
  /// The begin of a step that goes on where `last` ended without a bend.
  void begin_after(Step& last);
  /// A good step from y at time_s towards an event; returns its length and leaves the clock just
  /// before its end.
  double step(double time_s, double to_event_s, Pace& pace, Step& out);
  /// The same of a given length, good or not.
  void step(double time_s, double h, Step& out);
  /// The rates at the end of a step, by the clock as it stands.
  void end(Step& step);
  /// What was reached at a share u of a step of h whose end() is known; state and tally.
  void inside(const Step& step, double h, double u, Step& part) const;
  /// A value of which only its ends and its slopes times h there are known.
  static double cubic(double a, double slope_a, double b, double slope_b, double u);

  const Vector& rate() const { return f0_; }  // at the begin
  const Vector& outside() const { return outside0_; }

  /// How the state and the tallies at the end of a step of h answer when what boundary 0 shows, its
  /// temperature (0) or its vapour (1), ends higher by 1 after a straight course: by the step's own
  /// formula along the slopes.
  struct Answer {
    Vector y[2], tally[2];
  };
  const Answer& answer(double h);

 private:
  struct Factor;
  struct Slopes;
  Slopes& slopes_here();
  Factor& factor_for(Slopes& slopes, double h) const;
  void make_slopes(Slopes& slopes);
  bool near(const Slopes& slopes) const;

  double start_second_of_day_;
  std::vector<int> bent_;  // nodes with links whose slope changes with temperature
  std::vector<std::pair<int, int>> streams_;   // nodes between which air moves
  std::vector<std::unique_ptr<Slopes>> kept_;  // the latest used first
  Vector f0_, g0_, outside0_;
  Vector along_, k1_, k2_, f1_, g1_, middle_, outside_rate_;
  std::vector<Equations::Entry> entries_;
};

}  // namespace warmside::climate
