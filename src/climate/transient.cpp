// The course of a network over hours or years.

#include <algorithm>
#include <cmath>
#include <numeric>

#include "climate/solver.h"
#include "climate/stepper.h"

namespace warmside::climate {
namespace {

using Eigen::VectorXd;

/// A step whose two formulas differ by more is halved, K, down to the shortest, s. The formula of
/// order 2 that goes on is far better than the difference.
constexpr double kLargestError_k = 0.05;
constexpr double kShortestStep_s = 0.5;

/// One run over time.
class Runner {
 public:
  Runner(const Network& network, const RunOptions& options)
      : net_(network),
        options_(options),
        stepper_(network, options.switching == Switching::mean_duty),
        equations_(stepper_.equations),
        real_(options.switching == Switching::real),
        heaters_(static_cast<int>(network.heaters.size())) {
    set_clock(0);
    // The clock must be set before sensors that lag can start where they feel.
    stepper_.y = equations_.start();
    start_ = stepper_.y;
    course_.duty.assign(network.heaters.size(), 0);
    course_.energy_j.assign(network.heaters.size(), 0);
    course_.switches.assign(network.heaters.size(), 0);
    course_.width = net_.node_count() + static_cast<int>(net_.sensors.size());
    total_.setZero(equations_.tally_size());
    settle_contacts();
  }

  Course go() {
    const double end = options_.hours * 3600;
    double next_progress = kDay_s;
    mist(0);
    while (time_ < end - 1e-9) {
      if (!have_rates_) set_rates();
      const double event = std::min(end, next_bend_s(net_, time_, second_of_day(time_)));
      advance(event);
      if (options_.progress && time_ >= next_progress) {
        next_progress += kDay_s;
        if (!options_.progress(time_ / end)) {
          course_.stopped = true;
          break;
        }
      }
    }
    finish();
    return std::move(course_);
  }

 private:
  static std::size_t at(int i) { return static_cast<std::size_t>(i); }

  double second_of_day(double time) const {
    return std::fmod(options_.start_second_of_day + time, kDay_s);
  }
  void set_clock(double time) { equations_.set_clock(time, second_of_day(time)); }

  /// Adds what is sprayed at this moment to the films. What is due at the very end is the next
  /// run's.
  void mist(double time) {
    if (time > options_.hours * 3600 - 1e-6) return;
    const double kg = stepper_.mist(second_of_day(time + 1e-6));
    course_.misted_kg += kg;
    if (kg > 0) have_rates_ = false;
  }

  // --- contacts ---

  bool switches(int h) const { return real_ && net_.heaters[at(h)].control == ControlKind::on_off; }

  void settle_contacts() {
    for (int h = 0; h < heaters_; ++h) {
      if (!switches(h)) continue;
      equations_.contact[at(h)] = equations_.sensor_k(net_.heaters[at(h)].sensor, stepper_.y) <
                                  equations_.clock.wanted_k[at(h)];
    }
  }
  /// How far a real thermostat's sensor is past the end of its band that would switch it; > 0:
  /// past.
  double past_band(int h, double sensor_k, double wanted_k) const {
    const double half = net_.heaters[at(h)].band_k / 2;
    return equations_.contact[at(h)] != 0 ? sensor_k - (wanted_k + half)
                                          : (wanted_k - half) - sensor_k;
  }
  void flip(int h) {
    equations_.contact[at(h)] = equations_.contact[at(h)] != 0 ? 0 : 1;
    ++course_.switches[at(h)];
    have_rates_ = false;
  }
  /// Moves contacts whose set point has jumped past their sensor; at the begin of a step.
  void move_contacts() {
    for (int h = 0; h < heaters_; ++h) {
      if (!switches(h)) continue;
      const double sensor = equations_.sensor_k(net_.heaters[at(h)].sensor, stepper_.y);
      if (past_band(h, sensor, equations_.clock.wanted_k[at(h)]) > 1e-4) flip(h);
    }
  }

  // --- steps ---

  /// Rates at the begin of the next step.
  void set_rates() {
    set_clock(time_ + 1e-6);
    move_contacts();
    equations_.rates(stepper_.y, f0_, g0_);
    outside0_ = equations_.clock.outside;
    wanted0_ = equations_.clock.wanted_k;
    have_rates_ = true;
  }

  struct Step {
    VectorXd y, tally;  // tally: integrals over the step
    double error_k = 0;
  };

  /// One step from the present state with the rates at its begin.
  void ros2(double h, Step& step) {
    stepper_.prepare(h);
    set_clock(time_ + h - inset_s(h));
    outside_rate_ = (equations_.clock.outside - outside0_) / h;
    right_ = f0_;
    tally1_ = g0_;
    stepper_.add_outside(outside_rate_, 1, right_, tally1_);
    stepper_.solve(right_, k1_, tally1_);
    middle_ = stepper_.y + h * k1_;
    equations_.rates(middle_, f1_, tally2_);
    right_ = f1_ - 2 * stepper_.capacity.cwiseProduct(k1_);
    tally2_ -= 2 * tally1_;
    stepper_.add_outside(outside_rate_, -1, right_, tally2_);
    stepper_.solve(right_, k2_, tally2_);
    step.y = stepper_.y + h * (1.5 * k1_ + 0.5 * k2_);
    step.tally = h * (1.5 * tally1_ + 0.5 * tally2_);
    step.error_k = 0.5 * h * (k1_ + k2_).head(net_.node_count()).cwiseAbs().maxCoeff();
  }

  /// Steps towards `event`, but no further than the first switching.
  void advance(double event) {
    double h = std::min({event - time_, longest_s_, options_.step_s});
    // Not a sliver before the event: two halves.
    if (event - time_ > h && event - time_ < 1.5 * h) h = (event - time_) / 2;
    ros2(h, step_);
    // A step too long for light nodes could settle on a false steady state, where k2 = -3 k1.
    while (step_.error_k > kLargestError_k && h > kShortestStep_s) {
      longest_s_ = h *= 0.5;
      ros2(h, step_);
    }
    if (step_.error_k < kLargestError_k / 4) longest_s_ = std::min(2 * longest_s_, options_.step_s);
    int switching = -1;
    const bool at_event = time_ + h >= event - 1e-9;
    // Rates at the end, from inside the step: for the cubic through it, and for the next step.
    const bool inside_wanted =
        real_ || (options_.record_every_s > 0 && next_record_s_ <= time_ + h + 1e-9);
    if (inside_wanted) {
      end_rates(h);
      switching = first_switching(h);
    }
    if (switching >= 0) {
      ros2(h, step_);
      end_rates(h);
    }
    record_inside(h);
    take(h);
    if (switching >= 0) flip(switching);
    if (at_event && switching < 0) {
      have_rates_ = false;
      mist(time_);
    } else if (inside_wanted && switching < 0) {
      f0_.swap(f_end_);
      g0_.swap(g_end_);
      outside0_ = equations_.clock.outside;
      wanted0_ = equations_.clock.wanted_k;
    } else {
      have_rates_ = false;
    }
  }

  void end_rates(double h) {
    set_clock(time_ + h - inset_s(h));
    equations_.rates(step_.y, f_end_, g_end_);
  }

  /// The heater that switches first within the step, with h shortened to its moment; -1: none does.
  int first_switching(double& h) {
    int found = -1;
    double first = h;
    for (int heater = 0; heater < heaters_; ++heater) {
      if (!switches(heater)) continue;
      const int sensor = net_.heaters[at(heater)].sensor;
      const double end = past_band(heater, equations_.sensor_k(sensor, step_.y),
                                   equations_.clock.wanted_k[at(heater)]);
      if (end <= 0) continue;
      // The cubic of the sensor through the step's ends, less the set point's straight line.
      const double a = equations_.sensor_k(sensor, stepper_.y);
      const double b = equations_.sensor_k(sensor, step_.y);
      const double slope_a =
          h * equations_.sensor_rate(sensor, f0_.cwiseQuotient(stepper_.capacity));
      const double slope_b =
          h * equations_.sensor_rate(sensor, f_end_.cwiseQuotient(stepper_.capacity));
      const double from = wanted0_[at(heater)], to = equations_.clock.wanted_k[at(heater)];
      double low = 0, high = 1;
      for (int i = 0; i < 40; ++i) {
        const double u = 0.5 * (low + high);
        const double value = hermite(a, slope_a, b, slope_b, u);
        (past_band(heater, value, from + u * (to - from)) > 0 ? high : low) = u;
      }
      if (found < 0 || high * h < first) {
        found = heater;
        first = high * h;
      }
    }
    h = std::max(first, 1e-6);
    return found;
  }

  static double hermite(double a, double slope_a, double b, double slope_b, double u) {
    const double rise = b - a, p2 = 3 * rise - 2 * slope_a - slope_b,
                 p3 = slope_a + slope_b - 2 * rise;
    return a + u * (slope_a + u * (p2 + u * p3));
  }

  /// Records whose moments lie in the step, on the cubic through its ends.
  void record_inside(double h) {
    if (options_.record_every_s <= 0) return;
    const double end = options_.hours * 3600;
    while (next_record_s_ <= std::min(time_ + h, end) + 1e-9) {
      const double u = std::clamp((next_record_s_ - time_) / h, 0.0, 1.0);
      at_u_.resize(stepper_.y.size());
      for (Eigen::Index i = 0; i < at_u_.size(); ++i) {
        const double c = h / stepper_.capacity[i];
        at_u_[i] = hermite(stepper_.y[i], f0_[i] * c, step_.y[i], f_end_[i] * c, u);
      }
      record(next_record_s_, at_u_, u);
      next_record_s_ += options_.record_every_s;
    }
  }

  void record(double time, const VectorXd& y, double u) {
    // Sensors that feel boundaries read them at this moment.
    if (!net_.sensors.empty() || !net_.heaters.empty()) {
      const auto end_outside = equations_.clock.outside;
      const auto end_wanted = equations_.clock.wanted_k;
      equations_.clock.outside = outside0_ + u * (end_outside - outside0_);
      for (std::size_t h = 0; h < end_wanted.size(); ++h) {
        equations_.clock.wanted_k[h] = wanted0_[h] + u * (end_wanted[h] - wanted0_[h]);
      }
      put_record(time, y);
      equations_.clock.outside = end_outside;
      equations_.clock.wanted_k = end_wanted;
    } else {
      put_record(time, y);
    }
  }

  void put_record(double time, const VectorXd& y) {
    course_.time_s.push_back(time);
    for (int i = 0; i < net_.node_count(); ++i) course_.temperature_k.push_back(y[i]);
    for (std::size_t s = 0; s < net_.sensors.size(); ++s) {
      course_.temperature_k.push_back(equations_.sensor_k(static_cast<int>(s), y));
    }
    for (std::size_t v = 0; v < net_.air.size(); ++v) {
      course_.vapour_kg_per_m3.push_back(y[equations_.vapour_state(static_cast<int>(v))]);
    }
    for (int h = 0; h < heaters_; ++h) course_.duty_now.push_back(equations_.duty(h, y));
  }

  /// Goes to the end of the step and counts what it moved.
  void take(double h) {
    double given = 0, out = 0, moved = 0, vapour_out = 0, water = 0;
    for (int i = 0; i < heaters_; ++i) {
      const double j = step_.tally[equations_.given_by(i)];
      course_.energy_j[at(i)] += j;
      given += j;
      moved += std::fabs(j);
    }
    for (int b = 0; b < static_cast<int>(net_.boundaries.size()); ++b) {
      out += step_.tally[equations_.heat_to(b)];
      moved += std::fabs(step_.tally[equations_.heat_to(b)]);
      vapour_out += step_.tally[equations_.vapour_to(b)];
      water += std::fabs(step_.tally[equations_.vapour_to(b)]);
    }
    const double evaporated = step_.tally[equations_.evaporated()];
    const double latent = kVapourHeat_j_per_kg * evaporated;
    worst_j_ = std::max(worst_j_, std::fabs(given - out - latent - stored_heat()));
    moved_j_ += moved + std::fabs(latent);
    const double film_in =
        -(evaporated - step_.tally[equations_.drawn()]) - step_.tally[equations_.run_off()];
    worst_kg_ = std::max({worst_kg_, std::fabs(evaporated - vapour_out - stored_vapour()),
                          std::fabs(film_in - stored_film())});
    moved_kg_ += water + std::fabs(evaporated);
    total_ += step_.tally;
    stepper_.y.swap(step_.y);
    time_ += h;
  }
  double stored_heat() const {
    const int n = net_.node_count();
    return stepper_.capacity.head(n).dot((step_.y - stepper_.y).head(n));
  }
  double stored_vapour() const {
    double sum = 0;
    for (int v = 0; v < static_cast<int>(net_.air.size()); ++v) {
      const int i = equations_.vapour_state(v);
      sum += stepper_.capacity[i] * (step_.y[i] - stepper_.y[i]);
    }
    return sum;
  }
  double stored_film() const {
    double sum = 0;
    for (const int i : equations_.films()) sum += step_.y[i] - stepper_.y[i];
    return sum;
  }

  void finish() {
    if (options_.record_every_s <= 0) put_record(time_, stepper_.y);
    for (int h = 0; h < heaters_; ++h) {
      const double most = net_.heaters[at(h)].power_w * time_;
      course_.duty[at(h)] = most > 0 ? course_.energy_j[at(h)] / most : 0;
    }
    const int n = net_.node_count();
    course_.end_k.assign(stepper_.y.data(), stepper_.y.data() + n);
    for (int v = 0; v < static_cast<int>(net_.air.size()); ++v) {
      course_.end_kg_per_m3.push_back(stepper_.y[equations_.vapour_state(v)]);
    }
    for (int b = 0; b < static_cast<int>(net_.boundaries.size()); ++b) {
      course_.lost_j += total_[equations_.heat_to(b)];
    }
    course_.stored_j = stepper_.capacity.head(n).dot((stepper_.y - start_).head(n));
    course_.evaporated_kg = total_[equations_.evaporated()];
    course_.drawn_kg = total_[equations_.drawn()];
    course_.run_off_kg += total_[equations_.run_off()];
    course_.heat_balance_error = worst_j_ / std::max(moved_j_, 1.0);
    course_.water_balance_error = worst_kg_ / std::max(moved_kg_, 1e-6);
  }

  const Network& net_;
  const RunOptions& options_;
  Stepper stepper_;
  Equations& equations_;
  bool real_;
  int heaters_;
  double time_ = 0, next_record_s_ = 0;
  double longest_s_ = 1e300;  // that the error allows now
  bool have_rates_ = false;
  VectorXd f0_, g0_, f_end_, g_end_, outside0_;
  std::vector<double> wanted0_;
  VectorXd start_, total_, right_, tally1_, tally2_, k1_, k2_, f1_, middle_, outside_rate_, at_u_;
  Step step_;
  double worst_j_ = 0, moved_j_ = 0, worst_kg_ = 0, moved_kg_ = 0;
  Course course_;
};

}  // namespace

Result<Course> run(const Network& network, const RunOptions& options) {
  if (const auto wrong = check(network); !wrong.empty()) {
    return Problem{
        ProblemCode::bad_value, "the network cannot be solved: " + wrong.front(), {}, "", ""};
  }
  if (!(options.hours > 0 && std::isfinite(options.hours)) ||
      !(options.step_s >= 0.1 && options.step_s <= 600) || !(options.record_every_s >= 0) ||
      !(options.start_second_of_day >= 0 && options.start_second_of_day <= kDay_s)) {
    return Problem{ProblemCode::out_of_range,
                   "a run that cannot be",
                   {},
                   "more than 0 hours in steps of 0.1 to 600 s, from a second of the day",
                   ""};
  }
  return Runner(network, options).go();
}

}  // namespace warmside::climate
