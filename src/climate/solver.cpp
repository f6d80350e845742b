#include "climate/solver.h"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <Eigen/Sparse>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "climate/radiation.h"

namespace warmside::climate {
namespace {

using Eigen::VectorXd;

constexpr double kDay_s = 86400;
constexpr double kGamma = 0.29289321881345254;  // 1 - 1/sqrt(2)
/// Up to here dense factorisation is faster than sparse (measured, docs/performance.md).
constexpr int kMostDense = 150;
/// A step whose two formulas differ by more is halved, K, down to the shortest, s. The formula of
/// order 2 that goes on is far better than the difference.
constexpr double kLargestError_k = 0.05;
constexpr double kShortestStep_s = 0.5;

/// What a heater gives at a sensor temperature, as a share of its power, and d duty / d T.
struct Duty {
  double value = 0;
  double slope = 0;
};

/// Which part of its law a proportional thermostat goes by. The steady state is sought with each on
/// one piece of it, since Newton's method may leap to and fro across the corners for ever.
enum class Piece { all, line, full, none };

Duty proportional_duty(const Heater& heater, double sensor_k, double wanted_k,
                       Piece piece = Piece::all) {
  const double d = (wanted_k + heater.band_k / 2 - sensor_k) / heater.band_k;
  if (piece == Piece::none || (piece == Piece::all && d <= 0)) return {0, 0};
  if (piece == Piece::full || (piece == Piece::all && d >= 1)) return {1, 0};
  return {d, -1 / heater.band_k};
}

/// The right-hand side and its derivatives at one time and state. The state is the nodes'
/// temperatures, then those of the sensors that lag.
class Equations {
 public:
  Equations(const Network& network, bool mean_duty, bool lags = true)
      : net_(network),
        mean_duty_(mean_duty),
        contact_(network.heaters.size(), 1),
        piece_(network.heaters.size(), Piece::all) {
    for (const Sensor& sensor : net_.sensors) {
      state_of_sensor_.push_back(lags && sensor.lag_s > 0 ? size_++ + net_.node_count() : -1);
    }
    size_ += net_.node_count();
    boundary_.resize(net_.boundaries.size());
  }

  int size() const { return size_; }
  const Network& net() const { return net_; }
  bool stuck_on = false;
  /// Contacts of real on/off thermostats, 0 or 1.
  std::vector<int>& contact() { return contact_; }
  std::vector<Piece>& piece() { return piece_; }

  /// Whether the power of a heater depends on its sensor in degrees, not just on or off.
  bool graded(int h) const {
    const ControlKind control = net_.heaters[at(h)].control;
    return control == ControlKind::proportional || (control == ControlKind::on_off && mean_duty_);
  }
  /// Where a graded heater's law stands by itself, from its line drawn on beyond the corners.
  Piece piece_by_sensor(int h, const VectorXd& y) const {
    const Heater& heater = net_.heaters[at(h)];
    const double d = proportional_duty(heater, sensor_k(heater.sensor, y),
                                       set_point_k(heater.set_point, second_of_day_), Piece::line)
                         .value;
    return d >= 1 ? Piece::full : d <= 0 ? Piece::none : Piece::line;
  }

  double sensor_k(int sensor, const VectorXd& y) const {
    const int state = state_of_sensor_[at(sensor)];
    return state >= 0 ? y[state] : felt_k(net_.sensors[at(sensor)], y);
  }
  double felt_k(const Sensor& sensor, const VectorXd& y) const {
    double t = 0;
    for (const Share& share : sensor.feels) t += share.part * end_k(share.node, y);
    return t;
  }

  void set_time(double time_s, double second_of_day) {
    for (std::size_t b = 0; b < boundary_.size(); ++b) {
      boundary_[b] = boundary_k(net_.boundaries[b], time_s);
    }
    second_of_day_ = std::fmod(second_of_day, kDay_s);
  }

  /// Duty of a heater now. Real on/off thermostats go by their contact.
  Duty duty(int h, const VectorXd& y) const {
    const Heater& heater = net_.heaters[at(h)];
    if (!timer_on(heater, second_of_day_)) return {0, 0};
    if (heater.control == ControlKind::none || stuck_on) return {1, 0};
    if (heater.control == ControlKind::on_off && !mean_duty_) {
      return {static_cast<double>(contact_[at(h)]), 0};
    }
    return proportional_duty(heater, sensor_k(heater.sensor, y),
                             set_point_k(heater.set_point, second_of_day_), piece_[at(h)]);
  }

  /// What leaves to the boundaries, W, and what heaters give, W.
  struct Totals {
    double lost_w = 0;
    std::vector<double> given_w;
  };

  /// Heat into each node, W, then the sensors' rates, K/s.
  void heat(const VectorXd& y, VectorXd& out, Totals& totals) const {
    out.setZero(size_);
    totals.lost_w = 0;
    totals.given_w.assign(net_.heaters.size(), 0);
    const int n = net_.node_count();
    const auto move = [&](int a, int b, double q) {
      if (a < n) out[a] -= q;
      if (b < n) out[b] += q;
      if (a >= n) totals.lost_w -= q;
      if (b >= n) totals.lost_w += q;
    };
    for (const Conduction& link : net_.conductions) {
      move(link.a, link.b, link.w_per_k * (end_k(link.a, y) - end_k(link.b, y)));
    }
    for (const Convection& link : net_.convections) {
      move(link.a, link.b, convection_flow(link, end_k(link.a, y) - end_k(link.b, y)).q_w);
    }
    for (const Radiation& link : net_.radiations) {
      const double a = end_k(link.a, y), b = end_k(link.b, y);
      move(link.a, link.b, kStefanBoltzmann * link.area_m2 * (a * a + b * b) * (a + b) * (a - b));
    }
    for (std::size_t h = 0; h < net_.heaters.size(); ++h) {
      const Heater& heater = net_.heaters[h];
      const double power = heater.power_w * duty(static_cast<int>(h), y).value;
      totals.given_w[h] = power;
      for (const Share& share : heater.shares) out[share.node] += power * share.part;
    }
    for (std::size_t s = 0; s < net_.sensors.size(); ++s) {
      const int state = state_of_sensor_[s];
      if (state < 0) continue;
      out[state] = (felt_k(net_.sensors[s], y) - y[state]) / net_.sensors[s].lag_s;
    }
  }

  /// Calls put(row, column, d heat[row] / d y[column]) for each term; terms add up. lost(column, d)
  /// and given(h, column, d) for the totals.
  template <class Put, class Lost, class Given>
  void slopes(const VectorXd& y, Put put, Lost lost, Given given) const {
    const int n = net_.node_count();
    const auto link_slopes = [&](int a, int b, double by_a, double by_b) {
      // q = q(T_a, T_b), by_a = dq/dT_a, by_b = dq/dT_b
      if (a < n) {
        put(a, a, -by_a);
        if (b < n) put(a, b, -by_b);
      }
      if (b < n) {
        put(b, b, by_b);
        if (a < n) put(b, a, by_a);
      }
      if (a >= n && b < n) lost(b, -by_b);
      if (b >= n && a < n) lost(a, by_a);
    };
    for (const Conduction& link : net_.conductions) {
      link_slopes(link.a, link.b, link.w_per_k, -link.w_per_k);
    }
    for (const Convection& link : net_.convections) {
      const double slope = convection_flow(link, end_k(link.a, y) - end_k(link.b, y)).slope_w_per_k;
      link_slopes(link.a, link.b, slope, -slope);
    }
    for (const Radiation& link : net_.radiations) {
      const double k = 4 * kStefanBoltzmann * link.area_m2;
      const double a = end_k(link.a, y), b = end_k(link.b, y);
      link_slopes(link.a, link.b, k * a * a * a, -k * b * b * b);
    }
    for (std::size_t h = 0; h < net_.heaters.size(); ++h) {
      // A slope of 0 is put as well: the sparse factors rely on one pattern.
      if (!graded(static_cast<int>(h))) continue;
      const Heater& heater = net_.heaters[h];
      const double slope = heater.power_w * duty(static_cast<int>(h), y).slope;
      const auto by_column = [&](int column, double part) {
        if (column < 0) return;
        given(static_cast<int>(h), column, slope * part);
        for (const Share& share : heater.shares) put(share.node, column, slope * part * share.part);
      };
      const int state = state_of_sensor_[at(heater.sensor)];
      if (state >= 0) {
        by_column(state, 1);
      } else {
        for (const Share& share : net_.sensors[at(heater.sensor)].feels) {
          by_column(share.node < n ? share.node : -1, share.part);
        }
      }
    }
    for (std::size_t s = 0; s < net_.sensors.size(); ++s) {
      const int state = state_of_sensor_[s];
      if (state < 0) continue;
      const double rate = 1 / net_.sensors[s].lag_s;
      put(state, state, -rate);
      for (const Share& share : net_.sensors[s].feels) {
        if (share.node < n) put(state, share.node, rate * share.part);
      }
    }
  }

  double capacity(int i) const {
    return i < net_.node_count() ? net_.nodes[at(i)].capacity_j_per_k : 1;
  }

 private:
  static std::size_t at(int i) { return static_cast<std::size_t>(i); }
  double end_k(int end, const VectorXd& y) const {
    return end < net_.node_count() ? y[end] : boundary_[at(end - net_.node_count())];
  }

  const Network& net_;
  bool mean_duty_;
  std::vector<int> contact_;
  std::vector<Piece> piece_;
  std::vector<int> state_of_sensor_;
  std::vector<double> boundary_;
  double second_of_day_ = 0;
  int size_ = 0;
};

/// Factorises (D - scale * J) with D a diagonal, dense or sparse by size, and solves with it.
class Factors {
 public:
  explicit Factors(int size) : size_(size), dense_(size <= kMostDense) {
    if (dense_) matrix_.setZero(size, size);
  }

  template <class Slopes>
  bool compute(const VectorXd& diagonal, double scale, Slopes slopes) {
    if (dense_) {
      matrix_.setZero();
      matrix_.diagonal() = diagonal;
      slopes([&](int r, int c, double d) { matrix_(r, c) -= scale * d; });
      dense_lu_.compute(matrix_);
      return true;
    }
    entries_.clear();
    for (int i = 0; i < size_; ++i) entries_.emplace_back(i, i, diagonal[i]);
    slopes([&](int r, int c, double d) { entries_.emplace_back(r, c, -scale * d); });
    sparse_.resize(size_, size_);
    sparse_.setFromTriplets(entries_.begin(), entries_.end());
    if (!analysed_) sparse_lu_.analyzePattern(sparse_);
    analysed_ = true;
    sparse_lu_.factorize(sparse_);
    return sparse_lu_.info() == Eigen::Success;
  }
  VectorXd solve(const VectorXd& rhs) {
    return dense_ ? VectorXd(dense_lu_.solve(rhs)) : VectorXd(sparse_lu_.solve(rhs));
  }

 private:
  int size_;
  bool dense_;
  bool analysed_ = false;
  Eigen::MatrixXd matrix_;
  Eigen::PartialPivLU<Eigen::MatrixXd> dense_lu_;
  std::vector<Eigen::Triplet<double>> entries_;
  Eigen::SparseMatrix<double> sparse_;
  Eigen::SparseLU<Eigen::SparseMatrix<double>> sparse_lu_;
};

Result<Network> usable(const Network& network) {
  const auto wrong = check(network);
  if (wrong.empty()) return network;
  return Problem{
      ProblemCode::bad_value, "the network cannot be solved: " + wrong.front(), {}, "", ""};
}

}  // namespace

// --- Steady state: damped Newton on one piece of each thermostat's law, until the pieces fit ---

Result<SteadyState> solve_steady(const Network& network, const SteadyOptions& options) {
  if (auto good = usable(network); !good) return good.problem();
  Equations equations(network, true, false);
  equations.stuck_on = options.stuck_on;
  equations.set_time(options.second_of_day, options.second_of_day);
  const int n = equations.size();
  VectorXd y(n), heat(n);
  for (int i = 0; i < n; ++i) y[i] = network.nodes[static_cast<std::size_t>(i)].start_k;
  Factors factors(n);
  Equations::Totals totals;
  SteadyState state;
  int worst = 0;
  const auto largest = [&] { return heat.cwiseAbs().maxCoeff(&worst); };
  const auto newton = [&] {
    equations.heat(y, heat, totals);
    // A little capacity at first keeps the first steps from leaping; it fades with the imbalance.
    double damping = 1;
    for (; state.iterations < options.most_iterations; ++state.iterations) {
      const double before = largest();
      if (before < options.tolerance_w) break;
      const VectorXd diagonal = VectorXd::Constant(n, damping > 1e-3 ? damping : 0);
      if (!factors.compute(diagonal, 1, [&](auto put) {
            equations.slopes(
                y, put, [](int, double) {}, [](int, int, double) {});
          })) {
        break;
      }
      VectorXd step = factors.solve(heat);
      const double longest = step.cwiseAbs().maxCoeff();
      if (longest > 50) step *= 50 / longest;
      const VectorXd old = y;
      double factor = 1;
      for (int halving = 0; halving < 12; ++halving, factor *= 0.5) {
        y = old + factor * step;
        equations.heat(y, heat, totals);
        if (largest() < before || largest() < options.tolerance_w) break;
      }
      damping = factor == 1 ? damping * 0.1 : std::min(damping * 10 + 1e-3, 10.0);
    }
  };
  const auto heaters = static_cast<int>(network.heaters.size());
  for (int h = 0; h < heaters; ++h) {
    if (equations.graded(h)) equations.piece()[static_cast<std::size_t>(h)] = Piece::line;
  }
  bool fits = false;
  for (int round = 0; round < 10 + 4 * heaters && !fits; ++round) {
    newton();
    fits = true;
    for (int h = 0; h < heaters; ++h) {
      if (!equations.graded(h)) continue;
      Piece& piece = equations.piece()[static_cast<std::size_t>(h)];
      const Piece wanted = equations.piece_by_sensor(h, y);
      if (piece == wanted) continue;
      piece = wanted;
      fits = false;
      if (round >= 10) break;  // one at a time, lest two change places for ever
    }
  }
  const double left = largest();
  if (!fits || !(left < std::max(options.tolerance_w, 1e-9 * (1 + std::fabs(totals.lost_w))))) {
    return Problem{
        ProblemCode::out_of_range,
        fmt::format("no steady state found in {} iterations; {:.3g} W are left at {}",
                    state.iterations, left, network.nodes[static_cast<std::size_t>(worst)].name),
        {},
        "",
        ""};
  }
  state.node_k.assign(y.data(), y.data() + network.node_count());
  for (std::size_t s = 0; s < network.sensors.size(); ++s) {
    state.sensor_k.push_back(equations.felt_k(network.sensors[s], y));
  }
  for (std::size_t h = 0; h < network.heaters.size(); ++h) {
    state.duty.push_back(equations.duty(static_cast<int>(h), y).value);
    state.power_w += totals.given_w[h];
  }
  state.lost_w = totals.lost_w;
  state.heat_balance_error = std::fabs(state.power_w - state.lost_w) /
                             std::max({state.power_w, std::fabs(state.lost_w), 1.0});
  return state;
}

// --- The course in time: ROS2 ---

namespace {

/// One run over time.
class Runner {
 public:
  Runner(const Network& network, const RunOptions& options)
      : net_(network),
        options_(options),
        equations_(network, options.switching == Switching::mean_duty),
        size_(equations_.size()),
        factors_(size_),
        heaters_(network.heaters.size()) {
    y_.resize(size_);
    for (int i = 0; i < net_.node_count(); ++i) y_[i] = net_.nodes[at(i)].start_k;
    set_clock(0);
    for (std::size_t s = 0, state = at(net_.node_count()); s < net_.sensors.size(); ++s) {
      if (net_.sensors[s].lag_s > 0) {
        y_[static_cast<Eigen::Index>(state++)] = equations_.felt_k(net_.sensors[s], y_);
      }
    }
    capacity_.resize(size_);
    for (int i = 0; i < size_; ++i) capacity_[i] = equations_.capacity(i);
    course_.duty.assign(heaters_, 0);
    course_.energy_j.assign(heaters_, 0);
    course_.switches.assign(heaters_, 0);
    course_.width = net_.node_count() + static_cast<int>(net_.sensors.size());
    real_ = options.switching == Switching::real;
    start_ = y_;
    settle_contacts();
  }

  Course go() {
    const double end = options_.hours * 3600;
    double next_record = 0, next_progress = kDay_s, time = 0;
    double moved_j = 0;
    double worst_j = 0;
    while (true) {
      if (options_.record_every_s > 0 && time >= next_record - 1e-9) {
        record(time);
        next_record += options_.record_every_s;
      }
      if (time >= end - 1e-9) break;
      double until = std::min(end, time + options_.step_s);
      if (options_.record_every_s > 0) until = std::min(until, next_record);
      until = std::min(until, next_event(time));
      time = step_to(time, until, moved_j, worst_j);
      if (options_.progress && time >= next_progress) {
        next_progress += kDay_s;
        if (!options_.progress(time / end)) {
          course_.stopped = true;
          break;
        }
      }
    }
    if (options_.record_every_s <= 0) record(time);
    for (std::size_t h = 0; h < heaters_; ++h) {
      const double most = net_.heaters[h].power_w * time;
      course_.duty[h] = most > 0 ? course_.energy_j[h] / most : 0;
    }
    course_.end_k.assign(y_.data(), y_.data() + net_.node_count());
    course_.stored_j = stored(y_, start_);
    course_.heat_balance_error = worst_j / std::max(moved_j, 1.0);
    return std::move(course_);
  }

 private:
  static std::size_t at(int i) { return static_cast<std::size_t>(i); }

  double second_of_day(double time) const {
    return std::fmod(options_.start_second_of_day + time, kDay_s);
  }

  double stored(const VectorXd& now, const VectorXd& before) const {
    double sum = 0;
    for (int i = 0; i < net_.node_count(); ++i) sum += capacity_[i] * (now[i] - before[i]);
    return sum;
  }

  void record(double time) {
    course_.time_s.push_back(time);
    for (int i = 0; i < net_.node_count(); ++i) course_.temperature_k.push_back(y_[i]);
    for (std::size_t s = 0; s < net_.sensors.size(); ++s) {
      course_.temperature_k.push_back(equations_.sensor_k(static_cast<int>(s), y_));
    }
  }

  /// The next moment at which a timer switches, a set point bends or the weather's line bends.
  double next_event(double time) const {
    double next = 1e300;
    const double now = second_of_day(time);
    const auto of_day = [&](double second) {
      double ahead = second - now;
      if (ahead <= 1e-6) ahead += kDay_s;
      next = std::min(next, time + ahead);
    };
    for (const Heater& heater : net_.heaters) {
      if (heater.on_from_s != heater.on_until_s) {
        of_day(heater.on_from_s);
        of_day(heater.on_until_s);
      }
      if (heater.set_point.points.size() > 1) {
        for (const auto& point : heater.set_point.points) of_day(point.second_of_day);
      }
    }
    for (const Boundary& boundary : net_.boundaries) {
      if (boundary.hourly_k.empty()) continue;
      next = std::min(next, (std::floor(time / 3600 + 1e-9) + 1) * 3600);
    }
    return next;
  }

  /// The clock is read this far inside a step: at its ends a timer, a set point or the weather may
  /// just turn, and rounding would choose the side.
  static double inset_s(double h) { return std::min(0.25 * h, 1e-6); }

  /// How far a real thermostat's sensor is past the end of its band that would switch it; > 0:
  /// past.
  double past_band(int h, const VectorXd& y, double time) const {
    const Heater& heater = net_.heaters[at(h)];
    const double sensor = equations_.sensor_k(heater.sensor, y);
    const double wanted = set_point_k(heater.set_point, second_of_day(time));
    return contact_[at(h)] != 0 ? sensor - (wanted + heater.band_k / 2)
                                : (wanted - heater.band_k / 2) - sensor;
  }

  bool switches(int h) const { return real_ && net_.heaters[at(h)].control == ControlKind::on_off; }

  void settle_contacts() {
    contact_.assign(heaters_, 0);
    for (int h = 0; h < static_cast<int>(heaters_); ++h) {
      if (!switches(h)) continue;
      const Heater& heater = net_.heaters[at(h)];
      contact_[at(h)] =
          equations_.sensor_k(heater.sensor, y_) < set_point_k(heater.set_point, second_of_day(0));
    }
    equations_.contact() = contact_;
  }

  struct Step {
    VectorXd y;
    double error_k = 0;  // against the embedded formula of order 1, y + h k1
    double lost_j = 0;
    std::vector<double> given_j;
  };

  /// One ROS2 step from the present state. Within it the clock parts (timers, set points, weather)
  /// run in straight lines, since steps end at every bend.
  Step ros2(double time, double h) {
    const double inset = inset_s(h), nudge = std::min(h, 1.0) * 0.5;
    // The partial derivative with time, from inside the step so that no bend is crossed.
    set_clock(time + inset + nudge);
    equations_.heat(y_, ft_, totals_t_);
    set_clock(time + inset);
    equations_.heat(y_, f0_, totals0_);
    ft_ = (ft_ - f0_) / nudge;
    lost_slope_.setZero(size_);
    given_slopes_.clear();
    factors_.compute(capacity_, kGamma * h, [&](auto put) {
      equations_.slopes(
          y_, put, [&](int column, double d) { lost_slope_[column] += d; },
          [&](int heater, int column, double d) {
            given_slopes_.push_back({heater, column, d});
          });
    });
    const VectorXd k1 = factors_.solve(f0_ + kGamma * h * ft_);
    middle_ = y_ + h * k1;
    set_clock(time + h - inset);
    equations_.heat(middle_, f1_, totals1_);
    const VectorXd k2 = factors_.solve(f1_ - kGamma * h * ft_ - 2 * capacity_.cwiseProduct(k1));
    Step step;
    step.y = y_ + 1.5 * h * k1 + 0.5 * h * k2;
    step.error_k = 0.5 * h * (k1 + k2).cwiseAbs().maxCoeff();
    // The same formula for what was lost and given: the balance then closes to rounding.
    const auto integral = [&](double g0, double g1, double gt, double by_k1, double by_k2) {
      const double z1 = g0 + kGamma * h * (by_k1 + gt);
      const double z2 = g1 + kGamma * h * (by_k2 - gt) - 2 * z1;
      return h * (1.5 * z1 + 0.5 * z2);
    };
    step.lost_j =
        integral(totals0_.lost_w, totals1_.lost_w, (totals_t_.lost_w - totals0_.lost_w) / nudge,
                 lost_slope_.dot(k1), lost_slope_.dot(k2));
    step.given_j.assign(heaters_, 0);
    for (std::size_t i = 0; i < heaters_; ++i) {
      double by_k1 = 0, by_k2 = 0;
      for (const GivenSlope& slope : given_slopes_) {
        if (slope.heater != static_cast<int>(i)) continue;
        by_k1 += slope.d * k1[slope.column];
        by_k2 += slope.d * k2[slope.column];
      }
      step.given_j[i] =
          integral(totals0_.given_w[i], totals1_.given_w[i],
                   (totals_t_.given_w[i] - totals0_.given_w[i]) / nudge, by_k1, by_k2);
    }
    return step;
  }

  void set_clock(double time) { equations_.set_time(time, second_of_day(time)); }

  /// Moves every contact whose sensor is past its band.
  void move_contacts(double time) {
    for (int h = 0; h < static_cast<int>(heaters_); ++h) {
      if (!switches(h) || past_band(h, y_, time) <= 0) continue;
      contact_[at(h)] = 1 - contact_[at(h)];
      ++course_.switches[at(h)];
    }
    equations_.contact() = contact_;
  }

  /// Steps towards `until`, but no further than the first switching; returns the time reached.
  double step_to(double time, double until, double& moved_j, double& worst_j) {
    double h = std::min(until - time, longest_s_);
    move_contacts(time + inset_s(h));  // after a set point that jumped
    Step step = ros2(time, h);
    // A step too long for light nodes could settle on a false steady state, where k2 = -3 k1.
    while (step.error_k > kLargestError_k && h > kShortestStep_s) {
      longest_s_ = h *= 0.5;
      step = ros2(time, h);
    }
    longest_s_ = std::min(2 * longest_s_, options_.step_s);
    // The first contact to move decides; its moment is found by the secant on the band's end.
    for (int heater = 0; heater < static_cast<int>(heaters_); ++heater) {
      double high_past = switches(heater) ? past_band(heater, step.y, time + h - inset_s(h)) : -1;
      if (high_past <= 0) continue;
      double low = 0, low_past = past_band(heater, y_, time + inset_s(h)), high = h;
      for (int i = 0; i < 20 && high - low > 1e-3 && high_past > 1e-7; ++i) {
        double middle = low + (high - low) * (-low_past) / (high_past - low_past);
        middle = std::clamp(middle + 1e-4 * (high - low), low + 1e-4, high);
        Step shorter = ros2(time, middle);
        const double past = past_band(heater, shorter.y, time + middle);
        if (past > 0) {
          high = middle;
          high_past = past;
          step = std::move(shorter);
        } else {
          low = middle;
          low_past = past;
        }
      }
      h = high;
    }
    const double given = std::accumulate(step.given_j.begin(), step.given_j.end(), 0.0);
    worst_j = std::max(worst_j, std::fabs(given - step.lost_j - stored(step.y, y_)));
    moved_j += std::fabs(given) + std::fabs(step.lost_j);
    for (std::size_t i = 0; i < heaters_; ++i) course_.energy_j[i] += step.given_j[i];
    course_.lost_j += step.lost_j;
    y_ = std::move(step.y);
    move_contacts(time + h - inset_s(h));
    return time + h;
  }

  struct GivenSlope {
    int heater, column;
    double d;
  };

  const Network& net_;
  const RunOptions& options_;
  Equations equations_;
  int size_;
  Factors factors_;
  std::size_t heaters_;
  bool real_ = false;
  double longest_s_ = 1e300;  // that the error allows now
  VectorXd y_, start_, capacity_, f0_, f1_, ft_, middle_, lost_slope_;
  Equations::Totals totals0_, totals1_, totals_t_;
  std::vector<GivenSlope> given_slopes_;
  std::vector<int> contact_;
  Course course_;
};

}  // namespace

Result<Course> run(const Network& network, const RunOptions& options) {
  if (auto good = usable(network); !good) return good.problem();
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
