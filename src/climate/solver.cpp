#include "climate/solver.h"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <Eigen/Sparse>
#include <algorithm>
#include <cmath>

#include "climate/equations.h"
#include "climate/moist_air.h"

namespace warmside::climate {
namespace {

using Eigen::VectorXd;

/// Up to here the slopes are factorised as they are, densely.
constexpr int kMostDenseSlopes = 150;
/// Radiation between two ends that exchange less than this share of what either exchanges with all
/// stays out of the factors of large networks.
constexpr double kSmallShare = 2e-3;
/// A node with more slopes than this, as air and walls have, belongs to the border of them.
constexpr int kManySlopes = 40;
/// Factors serve while a step leaves less than this share of the imbalance.
constexpr double kServes = 0.25;
/// Thermostats are looked at when no node is further out of balance, or after so many steps: on a
/// piece of its law that does not hold, a heater may have to give a power that leads far away.
constexpr double kFirst_w = 1e-3;
constexpr int kFirstIterations = 8;
/// So many whole steps in a row may lead uphill, to so many times the least imbalance.
constexpr int kTrusted = 3;
constexpr double kUphill = 30;

/// Newton's steps: x with -J x = rates, or nearly. Small networks: dense factors of the slopes.
/// Large ones: the many nodes with few neighbours, whose slopes are symmetric, are factorised once;
/// air, walls, vapour and thermostats are a small border, taken as it is at every step.
class Steps {
 public:
  Steps(const Equations& equations, int size) : equations_(equations), size_(size) {}

  bool exact() const { return size_ <= kMostDenseSlopes; }

  /// Dense factors of `slopes`, with a little conductance to where each node is, and for vapour the
  /// flow of air that carries as much heat.
  void compute_dense(const std::vector<Equations::Entry>& slopes, double damping) {
    const Network& net = equations_.net();
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Identity(size_, size_) * damping;
    matrix.diagonal().tail(size_ - net.node_count()) /= net.air_heat_j_per_m3_k;
    for (const Equations::Entry& e : slopes) {
      if (e.row < size_ && e.column < size_) matrix(e.row, e.column) -= e.value;
    }
    dense_.compute(matrix);
  }

  /// New factors of the inside. False when they fail.
  bool compute_inside(const std::vector<Equations::Entry>& slopes) {
    choose_border(slopes);
    std::vector<Eigen::Triplet<double>> entries;
    entries.reserve(2 * slopes.size());
    const auto inside = static_cast<Eigen::Index>(inside_count_);
    const auto border = static_cast<Eigen::Index>(border_count_);
    Eigen::MatrixXd to_border = Eigen::MatrixXd::Zero(inside, border);
    each_slope(slopes, [&](int row, int column, double value) {
      if (row < inside_count_ && column < inside_count_) {
        entries.emplace_back(row, column, -0.5 * value);
        entries.emplace_back(column, row, -0.5 * value);
      } else if (row < inside_count_) {
        to_border(row, column - inside_count_) -= value;
      }
    });
    Eigen::SparseMatrix<double> matrix(inside, inside);
    matrix.setFromTriplets(entries.begin(), entries.end());
    inside_.compute(matrix);
    if (inside_.info() != Eigen::Success) return false;
    solved_border_ = to_border;
    // Without columns Eigen would count from a null pointer.
    if (border_count_ > 0) solved_border_ = inside_.solve(to_border);
    return true;
  }

  /// The border as it is now.
  void compute_border(const std::vector<Equations::Entry>& slopes) {
    const auto border = static_cast<Eigen::Index>(border_count_);
    from_inside_.setZero(border, static_cast<Eigen::Index>(inside_count_));
    Eigen::MatrixXd corner = Eigen::MatrixXd::Zero(border, border);
    each_slope(slopes, [&](int row, int column, double value) {
      if (row < inside_count_) return;
      if (column < inside_count_) {
        from_inside_(row - inside_count_, column) -= value;
      } else {
        corner(row - inside_count_, column - inside_count_) -= value;
      }
    });
    for (int i = 0; i < heaters(); ++i) corner.diagonal()[border - 1 - i] += 1;
    border_.compute(corner - from_inside_ * solved_border_);
  }

  VectorXd solve(const VectorXd& rates) const {
    if (exact()) return dense_.solve(rates);
    VectorXd right = VectorXd::Zero(inside_count_ + border_count_);
    for (int i = 0; i < size_; ++i) right[place_[static_cast<std::size_t>(i)]] = rates[i];
    const VectorXd inside = inside_.solve(right.head(inside_count_));
    const VectorXd border = border_.solve(right.tail(border_count_) - from_inside_ * inside);
    right.head(inside_count_) = inside - solved_border_ * border;
    right.tail(border_count_) = border;
    VectorXd x(size_);
    for (int i = 0; i < size_; ++i) x[i] = right[place_[static_cast<std::size_t>(i)]];
    return x;
  }

 private:
  int heaters() const { return static_cast<int>(equations_.net().heaters.size()); }

  void choose_border(const std::vector<Equations::Entry>& slopes) {
    if (!place_.empty()) return;
    std::vector<int> count(static_cast<std::size_t>(size_), 0);
    for (const Equations::Entry& e : slopes) {
      if (e.row < size_ && e.column < size_) ++count[static_cast<std::size_t>(e.row)];
    }
    const auto on_border = [&](int i) {
      return i >= equations_.net().node_count() || count[static_cast<std::size_t>(i)] > kManySlopes;
    };
    place_.resize(static_cast<std::size_t>(size_));
    for (int i = 0; i < size_; ++i) {
      if (!on_border(i)) place_[static_cast<std::size_t>(i)] = inside_count_++;
    }
    for (int i = 0; i < size_; ++i) {
      if (on_border(i)) place_[static_cast<std::size_t>(i)] = inside_count_ + border_count_++;
    }
    border_count_ += heaters();  // what each heater gives is an unknown of its own
  }

  /// Slopes by their places. A heater's power p stands between its sensor and the nodes it warms:
  /// the rows of what heaters give tell p's slopes, and the nodes' rows take p by its shares in
  /// place of the slopes by the sensor.
  template <class Put>
  void each_slope(const std::vector<Equations::Entry>& slopes, Put put) const {
    for (const Equations::Entry& e : slopes) {
      if (e.column >= size_) continue;
      const int column = place_[static_cast<std::size_t>(e.column)];
      if (e.row < size_) {
        if (!e.by_thermostat) put(place_[static_cast<std::size_t>(e.row)], column, e.value);
      } else if (e.row >= size_ + equations_.given_by(0)) {
        put(of_heater(e.row - size_ - equations_.given_by(0)), column, e.value);
      }
    }
    for (int h = 0; h < heaters(); ++h) {
      if (!equations_.graded(h)) continue;
      for (const Share& share : equations_.net().heaters[static_cast<std::size_t>(h)].shares) {
        put(place_[static_cast<std::size_t>(share.node)], of_heater(h), share.part);
      }
    }
  }
  int of_heater(int h) const { return inside_count_ + border_count_ - heaters() + h; }

  const Equations& equations_;
  int size_;
  Eigen::PartialPivLU<Eigen::MatrixXd> dense_;
  std::vector<int> place_;  // of each state: inside first, then the border
  int inside_count_ = 0, border_count_ = 0;
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> inside_;
  Eigen::MatrixXd solved_border_, from_inside_;
  Eigen::PartialPivLU<Eigen::MatrixXd> border_;
};

/// Seeks the state in which nothing changes.
class Seeker {
 public:
  Seeker(const Network& network, const SteadyOptions& options)
      : options_(options),
        equations_(network, {true, false, false}),
        size_(equations_.size()),
        steps_(equations_, size_) {
    equations_.stuck_on = options.stuck_on;
    equations_.set_clock(options.second_of_day, options.second_of_day);
    y_ = equations_.start();
    if (options.guess_k.size() == network.nodes.size()) {
      for (int i = 0; i < network.node_count(); ++i) {
        y_[i] = options.guess_k[static_cast<std::size_t>(i)];
      }
    }
  }

  Result<SteadyState> seek() {
    const auto heaters = static_cast<int>(equations_.net().heaters.size());
    for (int h = 0; h < heaters; ++h) {
      if (equations_.graded(h)) equations_.piece[static_cast<std::size_t>(h)] = Piece::line;
    }
    // Ends of their laws, full power and none, on which heaters were found not to stand.
    std::vector<char> not_full(static_cast<std::size_t>(heaters), 0), not_none = not_full;
    bool fits = false;
    for (int round = 0; round < 10 + 4 * heaters; ++round) {
      bool open = false;
      for (int h = 0; h < heaters; ++h) {
        const auto i = static_cast<std::size_t>(h);
        open = open || (equations_.graded(h) && !(not_full[i] && not_none[i]));
      }
      // Which piece of each thermostat's law holds shows long before the last digit does.
      const double first_w = std::max(kFirst_w, options_.tolerance_w);
      const bool last = fits || heaters == 0;
      newton(last ? options_.tolerance_w : first_w,
             last || !open ? options_.most_iterations : kFirstIterations);
      const bool settled = imbalance() < first_w;
      fits = true;
      for (int h = 0; h < heaters; ++h) {
        if (!equations_.graded(h) || options_.stuck_on) continue;
        const auto i = static_cast<std::size_t>(h);
        Piece& piece = equations_.piece[i];
        const Piece wanted = equations_.piece_by_sensor(h, y_);
        if (piece == wanted) continue;
        fits = false;
        if (settled && piece == Piece::full) not_full[i] = 1;
        if (settled && piece == Piece::none) not_none[i] = 1;
        const bool refuted = wanted == Piece::full   ? not_full[i] != 0
                             : wanted == Piece::none ? not_none[i] != 0
                                                     : false;
        // Not back to an end that a settled state has refuted on the word of one that is not; and
        // from one end to the other by way of the line, where most answers lie.
        if (piece == Piece::line && refuted && !settled) continue;
        piece = piece == Piece::line ? wanted : Piece::line;
        next_ = Renew::border;
        if (round >= 10) break;  // one at a time, lest two change places for ever
      }
      if (fits && last) break;
    }
    const double left = imbalance();
    double lost = 0;
    for (int b = 0; b < static_cast<int>(equations_.net().boundaries.size()); ++b) {
      lost += tally_[equations_.heat_to(b)];
    }
    if (!fits || !(left < std::max(options_.tolerance_w, 1e-9 * (1 + std::fabs(lost))))) {
      return not_found(left);
    }
    return state();
  }

 private:
  /// The largest imbalance of a row, W; of vapour by its heat.
  double imbalance() {
    const int nodes = equations_.net().node_count();
    double worst = 0;
    for (int i = 0; i < size_; ++i) {
      const double x = std::fabs(rate_[i]) * (i < nodes ? 1 : kVapourHeat_j_per_kg);
      if (!(x <= worst)) {
        worst = x;
        worst_ = i;
      }
    }
    return worst;
  }

  enum class Renew { nothing, border, all };

  /// Factors for the next step; of a large network only what has to be new.
  bool renew(double damping) {
    if (!steps_.exact() && next_ == Renew::nothing) return true;
    equations_.slopes(y_, steps_.exact() ? 0 : kSmallShare, slopes_);
    if (steps_.exact()) {
      steps_.compute_dense(slopes_, damping);
      return true;
    }
    if (next_ == Renew::all && !steps_.compute_inside(slopes_)) return false;
    steps_.compute_border(slopes_);
    return true;
  }

  void newton(double tolerance_w, int most_iterations) {
    equations_.rates(y_, rate_, tally_);
    // A little conductance to where each node is keeps the first steps from leaping; it fades.
    double damping = 1;
    double before = imbalance(), best = before;
    VectorXd best_y = y_;
    int trust = kTrusted;
    const int until = std::min(options_.most_iterations, iterations_ + most_iterations);
    for (; iterations_ < until && before >= tolerance_w; ++iterations_) {
      if (!renew(damping > 1e-3 ? damping : 0)) return;
      VectorXd step = steps_.solve(rate_);
      const double longest = step.head(equations_.net().node_count()).cwiseAbs().maxCoeff();
      if (longest > 50) step *= 50 / longest;
      const VectorXd old = y_;
      double factor = 1, after = 0;
      const auto go = [&] {
        y_ = old + factor * step;
        equations_.rates(y_, rate_, tally_);
        after = imbalance();
      };
      go();
      // A few whole steps may lead uphill on their way to a better place (Chamberlain et al. 1982).
      const bool trusted = steps_.exact() && trust > 0 && after < kUphill * best;
      if (!(after < before) && trusted) {
        --trust;
      } else {
        for (int halving = 0; halving < 11 && !(after < before || after < tolerance_w); ++halving) {
          factor *= 0.5;
          go();
        }
        if (!(after < before) && steps_.exact()) {
          // At a kink, as where dew begins, no part of the step helps: the whole one goes past it.
          // It is damped by then, and where it does no great harm the next one less.
          factor = 1;
          go();
          if (!(after < 1.1 * before)) factor = 0;
        }
      }
      if (after < best) {
        best = after;
        best_y = y_;
        trust = kTrusted;
      } else if (trust == 0 && steps_.exact()) {  // it did not: back, and step by step
        y_ = best_y;
        equations_.rates(y_, rate_, tally_);
        after = imbalance();
        trust = -1;
        factor = 0;
      }
      damping = factor == 1 ? damping * 0.1 : std::min(damping * 10 + 1e-3, 10.0);
      // Factors that no longer serve are made anew where we are now, the border's first.
      const Renew last = next_;
      next_ = after < kServes * before ? Renew::nothing
              : last == Renew::nothing ? Renew::border
              : last == Renew::border  ? Renew::all
                                       : Renew::border;
      before = after;
    }
  }

  Problem not_found(double left) const {
    const Network& net = equations_.net();
    const std::string where =
        worst_ < net.node_count()
            ? net.nodes[static_cast<std::size_t>(worst_)].name
            : "the vapour of " +
                  net
                      .nodes[static_cast<std::size_t>(
                          net.air[static_cast<std::size_t>(worst_ - equations_.vapour_state(0))]
                              .node)]
                      .name;
    return {ProblemCode::out_of_range,
            fmt::format("no steady state found in {} iterations; {:.3g} W are left at {}",
                        iterations_, left, where),
            {},
            "",
            ""};
  }

  SteadyState state() {
    const Network& net = equations_.net();
    SteadyState state;
    state.iterations = iterations_;
    state.node_k.assign(y_.data(), y_.data() + net.node_count());
    for (std::size_t s = 0; s < net.sensors.size(); ++s) {
      state.sensor_k.push_back(equations_.felt_k(static_cast<int>(s), y_));
    }
    for (std::size_t v = 0; v < net.air.size(); ++v) {
      state.vapour_kg_per_m3.push_back(y_[equations_.vapour_state(static_cast<int>(v))]);
    }
    for (std::size_t h = 0; h < net.heaters.size(); ++h) {
      state.duty.push_back(equations_.duty(static_cast<int>(h), y_));
      state.power_w += tally_[equations_.given_by(static_cast<int>(h))];
    }
    double carried = 0, passed = 0, water = 0;
    for (int b = 0; b < static_cast<int>(net.boundaries.size()); ++b) {
      state.lost_w += tally_[equations_.heat_to(b)];
      passed = std::max(passed, std::fabs(tally_[equations_.heat_to(b)]));
      carried += tally_[equations_.vapour_to(b)];
      water = std::max(water, std::fabs(tally_[equations_.vapour_to(b)]));
    }
    state.evaporated_kg_per_s = tally_[equations_.evaporated()];
    state.drawn_kg_per_s = tally_[equations_.drawn()];
    state.run_off_kg_per_s = tally_[equations_.run_off()];
    const double latent = kVapourHeat_j_per_kg * state.evaporated_kg_per_s;
    state.heat_balance_error =
        std::fabs(state.power_w - state.lost_w - latent) / std::max({state.power_w, passed, 1.0});
    state.water_balance_error = net.air.empty()
                                    ? 0
                                    : std::fabs(state.evaporated_kg_per_s - carried) /
                                          std::max({water, std::fabs(state.drawn_kg_per_s), 1e-9});
    return state;
  }

  const SteadyOptions& options_;
  Equations equations_;
  int size_;
  Steps steps_;
  Renew next_ = Renew::all;
  int iterations_ = 0;
  int worst_ = 0;
  VectorXd y_, rate_, tally_;
  std::vector<Equations::Entry> slopes_;
};

}  // namespace

Result<SteadyState> solve_steady(const Network& network, const SteadyOptions& options) {
  if (const auto wrong = check(network); !wrong.empty()) {
    return Problem{
        ProblemCode::bad_value, "the network cannot be solved: " + wrong.front(), {}, "", ""};
  }
  return Seeker(network, options).seek();
}

}  // namespace warmside::climate
