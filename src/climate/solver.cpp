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
using Entry = Equations::Entry;

/// Up to here the slopes are factorised as they are, densely.
constexpr int kMostDense = 150;
/// Radiation between two ends that exchange less than this share of what either exchanges with all
/// stays out of the factors of large networks.
constexpr double kSmallShare = 2e-3;

/// Gives Newton's steps: x with (damping I - J) x = heat, or nearly.
class Steps {
 public:
  Steps(const Equations& equations, int size) : equations_(equations), size_(size) {}

  bool exact() const { return size_ <= kMostDense; }

  /// New factors from slopes of the state's rows and columns.
  bool compute(const std::vector<Entry>& slopes, double damping) {
    if (exact()) {
      Eigen::MatrixXd matrix = Eigen::MatrixXd::Identity(size_, size_) * damping;
      for (const Entry& e : slopes) {
        if (e.row < size_ && e.column < size_) matrix(e.row, e.column) -= e.value;
      }
      dense_.compute(matrix);
      return true;
    }
    return compute_symmetric(slopes, damping);
  }

  /// The step, in the state's own units.
  VectorXd solve(const VectorXd& right) {
    if (exact()) return dense_.solve(right);
    // Sherman, Morrison & Woodbury for the thermostats, which are not symmetric.
    VectorXd x = symmetric_.solve(row_scale_.cwiseProduct(right));
    if (columns_.cols() > 0) {
      const VectorXd felt = rows_.transpose() * x;
      x -= solved_columns_ * capacitance_.solve(felt);
    }
    return scale_.cwiseProduct(x);
  }

 private:
  /// Scales vapour so that the coupling by evaporation is symmetric but for the spread of the
  /// saturation slope, and drops what is left of asymmetry: temperatures count as they are, vapour
  /// in units of `unit_`, its rows in W by the heat of vaporisation.
  bool compute_symmetric(const std::vector<Entry>& slopes, double damping) {
    const int nodes = equations_.net().node_count();
    const int heaters = static_cast<int>(equations_.net().heaters.size());
    scale_ = VectorXd::Ones(size_);
    if (size_ > nodes) {
      const double unit = saturated_vapour(298.15).kg_per_m3_k;
      scale_.tail(size_ - nodes).setConstant(unit);
    }
    row_scale_ = VectorXd::Ones(size_);
    row_scale_.tail(size_ - nodes).setConstant(kVapourHeat_j_per_kg);
    columns_.setZero(size_, heaters);
    rows_.setZero(size_, heaters);
    for (int h = 0; h < heaters; ++h) {
      if (!equations_.graded(h)) continue;
      const Heater& heater = equations_.net().heaters[static_cast<std::size_t>(h)];
      for (const Share& share : heater.shares) columns_(share.node, h) += share.part;
    }
    std::vector<Eigen::Triplet<double>> entries;
    for (int i = 0; i < size_; ++i) entries.emplace_back(i, i, damping);
    const auto put = [&](int row, int column, double slope) {
      const double value = -slope * row_scale_[row] * scale_[column];
      entries.emplace_back(row, column, 0.5 * value);
      entries.emplace_back(column, row, 0.5 * value);
    };
    for (const Entry& e : slopes) {
      if (e.row < size_ && e.column < size_) put(e.row, e.column, e.value);
      // The rows of what heaters give tell the slopes by their sensors.
      const int h = e.row - size_ - equations_.given_by(0);
      if (h >= 0 && h < heaters && e.column < size_) rows_(e.column, h) -= e.value;
    }
    // The same terms stand in the rows of the nodes; they are not symmetric and are taken out.
    for (int h = 0; h < heaters; ++h) {
      for (int c = 0; c < size_; ++c) {
        for (int r = 0; r < size_ && rows_(c, h) != 0; ++r) {
          if (columns_(r, h) != 0) put(r, c, columns_(r, h) * rows_(c, h));
        }
      }
    }
    rows_ = scale_.asDiagonal() * rows_;
    Eigen::SparseMatrix<double> matrix(size_, size_);
    matrix.setFromTriplets(entries.begin(), entries.end());
    if (!analysed_) symmetric_.analyzePattern(matrix);
    analysed_ = true;
    symmetric_.factorize(matrix);
    if (symmetric_.info() != Eigen::Success) return false;
    if (heaters > 0) {
      solved_columns_ = symmetric_.solve(columns_);
      const Eigen::MatrixXd small =
          Eigen::MatrixXd::Identity(heaters, heaters) + rows_.transpose() * solved_columns_;
      capacitance_.compute(small);
    }
    return true;
  }

  const Equations& equations_;
  int size_;
  Eigen::PartialPivLU<Eigen::MatrixXd> dense_;
  bool analysed_ = false;
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> symmetric_;
  VectorXd scale_, row_scale_;
  Eigen::MatrixXd columns_, rows_, solved_columns_;
  Eigen::PartialPivLU<Eigen::MatrixXd> capacitance_;
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
    bool fits = false;
    for (int round = 0; round < 10 + 4 * heaters && !fits; ++round) {
      newton();
      fits = true;
      for (int h = 0; h < heaters; ++h) {
        if (!equations_.graded(h) || options_.stuck_on) continue;
        Piece& piece = equations_.piece[static_cast<std::size_t>(h)];
        const Piece wanted = equations_.piece_by_sensor(h, y_);
        if (piece == wanted) continue;
        piece = wanted;
        fits = false;
        have_factors_ = false;
        if (round >= 10) break;  // one at a time, lest two change places for ever
      }
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

  void newton() {
    equations_.rates(y_, rate_, tally_);
    // A little conductance to where each node is keeps the first steps from leaping; it fades.
    double damping = steps_.exact() ? 1 : 0;
    double before = imbalance();
    for (; iterations_ < options_.most_iterations && before >= options_.tolerance_w;
         ++iterations_) {
      if (!have_factors_ || steps_.exact()) {
        equations_.slopes(y_, steps_.exact() ? 0 : kSmallShare, slopes_);
        if (!steps_.compute(slopes_, damping > 1e-3 ? damping : 0)) return;
        have_factors_ = true;
      }
      VectorXd step = steps_.solve(rate_);
      const double longest = step.head(equations_.net().node_count()).cwiseAbs().maxCoeff();
      if (longest > 50) step *= 50 / longest;
      const VectorXd old = y_;
      double factor = 1, after = 0;
      for (int halving = 0; halving < 12; ++halving, factor *= 0.5) {
        y_ = old + factor * step;
        equations_.rates(y_, rate_, tally_);
        after = imbalance();
        if (after < before || after < options_.tolerance_w) break;
      }
      damping = factor == 1 ? damping * 0.1 : std::min(damping * 10 + 1e-3, 10.0);
      // Factors that no longer serve are made anew where we are now.
      if (after > 0.3 * before) have_factors_ = false;
      before = after;
    }
  }

  Problem not_found(double left) const {
    const Network& net = equations_.net();
    const std::string where =
        worst_ < net.node_count()
            ? net.nodes[static_cast<std::size_t>(worst_)].name
            : "the vapour of " +
                  net.nodes[static_cast<std::size_t>(
                                net.air[static_cast<std::size_t>(
                                            worst_ - equations_.vapour_state(0))]
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
    state.water_balance_error =
        net.air.empty() ? 0
                        : std::fabs(state.evaporated_kg_per_s - carried) /
                              std::max({water, std::fabs(state.drawn_kg_per_s), 1e-9});
    return state;
  }

  const SteadyOptions& options_;
  Equations equations_;
  int size_;
  Steps steps_;
  bool have_factors_ = false;
  int iterations_ = 0;
  int worst_ = 0;
  VectorXd y_, rate_, tally_;
  std::vector<Entry> slopes_;
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
