// The course of a network over hours or years.

#include <algorithm>
#include <cmath>
#include <numeric>

#include "climate/solver.h"
#include "climate/stepper.h"

namespace warmside::climate {
namespace {

using Eigen::VectorXd;

/// How far the two formulas of a step may differ, K, and the shortest step, s. The formula of
/// order 2 that goes on is far better than the difference.
constexpr double kLargestError_k = 0.05;
constexpr double kShortestStep_s = 0.5;

/// One run over time.
class Runner {
 public:
  Runner(const Network& network, const RunOptions& options)
      : net_(network),
        options_(options),
        stepper_(network, options.switching == Switching::mean_duty, options.start_second_of_day),
        equations_(stepper_.equations),
        real_(options.switching == Switching::real),
        heaters_(static_cast<int>(network.heaters.size())),
        pace_(options.step_s, kShortestStep_s, kLargestError_k) {
    stepper_.set_clock(0);
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
      const double event = std::min(end, next_bend_s(net_, time_, stepper_.second_of_day(time_)));
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

  /// Adds what is sprayed at this moment to the films. What is due at the very end is the next
  /// run's.
  void mist(double time) {
    if (time > options_.hours * 3600 - 1e-6) return;
    const double kg = stepper_.mist(time);
    course_.misted_kg += kg;
    if (kg > 0) have_rates_ = false;
  }

  // --- contacts ---

  bool switches(int h) const { return real_ && net_.heaters[at(h)].control == ControlKind::on_off; }

  void settle_contacts() {
    for (int h = 0; h < heaters_; ++h) {
      if (!switches(h)) continue;
      equations_.contact[at(h)] =
          equations_.sensor_k(net_.heaters[at(h)].sensor, stepper_.y) < equations_.wanted_k(h);
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
      if (past_band(h, sensor, equations_.wanted_k(h)) > 1e-4) flip(h);
    }
  }

  // --- steps ---

  /// Rates at the begin of the next step.
  void set_rates() {
    stepper_.set_clock(time_);
    move_contacts();
    stepper_.begin();
    have_rates_ = true;
  }

  /// Steps towards `event`, but no further than the first switching.
  void advance(double event) {
    // A step too long for light nodes could settle on a false steady state, where k2 = -3 k1.
    const double h = stepper_.step(time_, event - time_, pace_, step_);
    const bool at_event = time_ + h >= event - 1e-9;
    const bool inside_wanted =
        real_ || (options_.record_every_s > 0 && next_record_s_ <= time_ + h + 1e-9);
    Switch first;
    if (inside_wanted) {
      stepper_.end(step_);
      first = first_switching(h);
      record_inside(h, first.u);
    }
    if (first.heater >= 0) {
      stepper_.inside(step_, h, first.u, part_);
      take(part_, first.u * h);
      flip(first.heater);
      return;
    }
    take(step_, h);
    if (at_event || !inside_wanted) {
      have_rates_ = false;
      if (at_event) mist(time_);
    } else {
      stepper_.begin_after(step_);
    }
  }

  /// The heater that switches first within a step and at which share of it; -1: none does.
  struct Switch {
    int heater = -1;
    double u = 1;
  };
  Switch first_switching(double h) const {
    Switch first;
    for (int heater = 0; heater < heaters_; ++heater) {
      if (!switches(heater)) continue;
      const int sensor = net_.heaters[at(heater)].sensor;
      const double a = equations_.sensor_k(sensor, stepper_.y);
      const double b = equations_.sensor_k(sensor, step_.y);
      const double from = stepper_.outside()[equations_.outside_set_point(heater)];
      const double to = equations_.wanted_k(heater);
      if (past_band(heater, b, to) <= 0) continue;
      // The cubic of the sensor through the step's ends, less the set point's straight line.
      const double slope_a =
          h * equations_.sensor_rate(sensor, stepper_.rate().cwiseQuotient(stepper_.capacity));
      const double slope_b =
          h * equations_.sensor_rate(sensor, step_.rate.cwiseQuotient(stepper_.capacity));
      double low = 0, high = 1;
      for (int i = 0; i < 40; ++i) {
        const double u = 0.5 * (low + high);
        const double value = Stepper::cubic(a, slope_a, b, slope_b, u);
        (past_band(heater, value, from + u * (to - from)) > 0 ? high : low) = u;
      }
      // Not at once again, which rounding could ask for.
      high = std::max(high, std::min(1.0, 1e-6 / h));
      if (first.heater < 0 || high < first.u) first = {heater, high};
    }
    return first;
  }

  /// Records whose moments lie in the first share of the step.
  void record_inside(double h, double share) {
    if (options_.record_every_s <= 0) return;
    const double end = options_.hours * 3600;
    while (next_record_s_ <= std::min(time_ + share * h, end) + 1e-9) {
      const double u = std::clamp((next_record_s_ - time_) / h, 0.0, 1.0);
      stepper_.inside(step_, h, u, part_);
      record(next_record_s_, part_.y, u);
      next_record_s_ += options_.record_every_s;
    }
  }

  void record(double time, const VectorXd& y, double u) {
    // Sensors that feel boundaries read them at this moment.
    const VectorXd end = equations_.clock.outside, &from = stepper_.outside();
    equations_.clock.outside = from + u * (end - from);
    put_record(time, y);
    equations_.clock.outside = end;
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

  /// Goes to the end of a step of h and counts what it moved.
  void take(Stepper::Step& step, double h) {
    double given = 0, out = 0, moved = 0, vapour_out = 0, water = 0;
    for (int i = 0; i < heaters_; ++i) {
      const double j = step.tally[equations_.given_by(i)];
      course_.energy_j[at(i)] += j;
      given += j;
      moved += std::fabs(j);
    }
    for (int b = 0; b < static_cast<int>(net_.boundaries.size()); ++b) {
      out += step.tally[equations_.heat_to(b)];
      moved += std::fabs(step.tally[equations_.heat_to(b)]);
      vapour_out += step.tally[equations_.vapour_to(b)];
      water += std::fabs(step.tally[equations_.vapour_to(b)]);
    }
    const double evaporated = step.tally[equations_.evaporated()];
    const double latent = kVapourHeat_j_per_kg * evaporated;
    worst_j_ = std::max(worst_j_, std::fabs(given - out - latent - stored_heat(step)));
    moved_j_ += moved + std::fabs(latent);
    const double film_in =
        -(evaporated - step.tally[equations_.drawn()]) - step.tally[equations_.run_off()];
    worst_kg_ = std::max({worst_kg_, std::fabs(evaporated - vapour_out - stored_vapour(step)),
                          std::fabs(film_in - stored_film(step))});
    moved_kg_ += water + std::fabs(evaporated);
    total_ += step.tally;
    stepper_.y.swap(step.y);
    time_ += h;
  }
  double stored_heat(const Stepper::Step& step) const {
    const int n = net_.node_count();
    return stepper_.capacity.head(n).dot((step.y - stepper_.y).head(n));
  }
  double stored_vapour(const Stepper::Step& step) const {
    double sum = 0;
    for (int v = 0; v < static_cast<int>(net_.air.size()); ++v) {
      const int i = equations_.vapour_state(v);
      sum += stepper_.capacity[i] * (step.y[i] - stepper_.y[i]);
    }
    return sum;
  }
  double stored_film(const Stepper::Step& step) const {
    double sum = 0;
    for (const int i : equations_.films()) sum += step.y[i] - stepper_.y[i];
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
  Pace pace_;
  double time_ = 0, next_record_s_ = 0;
  bool have_rates_ = false;
  VectorXd start_, total_;
  Stepper::Step step_, part_;
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
      !(options.step_s >= 0.1 && options.step_s <= 3600) || !(options.record_every_s >= 0) ||
      !(options.start_second_of_day >= 0 && options.start_second_of_day <= kDay_s)) {
    return Problem{ProblemCode::out_of_range,
                   "a run that cannot be",
                   {},
                   "more than 0 hours in steps of 0.1 to 3600 s, from a second of the day",
                   ""};
  }
  return Runner(network, options).go();
}

}  // namespace warmside::climate
