#include "climate/stepper.h"

#include <Eigen/Sparse>
#include <cmath>

#include "core/check.h"

namespace warmside::climate {
namespace {

constexpr double kGamma = 0.29289321881345254;  // 1 - 1/sqrt(2), L-stable
/// Up to here dense factors are faster than sparse (tried on networks of this project).
constexpr int kMostDense = 150;
/// An error of vapour counts as one of temperature: by evaporation 1 g/m3 cools as 2 K less air do,
/// but wet surfaces are the fewer.
constexpr double kAsGood_k_m3_per_kg = 500;
/// Slopes serve while no temperature on which they depend has moved by more, nor vapour, nor the
/// share of its evaporation that a film lets pass.
constexpr double kMostMoved_k = 5;
constexpr double kMostMoved_kg_per_m3 = 2e-3;
/// Nor the difference that drives a stream of air by this and this share of it: near none at all
/// its slope is steep.
constexpr double kMostTurned_k = 0.5, kMostTurned = 0.5;
constexpr double kMostWetted = 0.2;
/// And for so many steps: where dew begins a slope jumps within a hair.
constexpr int kMostServed = 1000;
/// A factor that has served so often is worth its inverse, whose product is faster.
constexpr int kWorthInverse = 8;
/// How many slopes are kept, and for each how many lengths of steps.
constexpr std::size_t kMostSlopes = 16, kMostFactors = 10;
/// The clock is read this far after a moment, or before the end of a step: there a timer, a set
/// point or the weather may just turn, and rounding would choose the side.
constexpr double kInset_s = 1e-6;

}  // namespace

struct Stepper::Factor {
  double h = 0;
  int served = 0;
  bool dense = true, inverted = false;
  Eigen::PartialPivLU<Eigen::MatrixXd> lu;
  Eigen::MatrixXd inverse;
  Eigen::SparseLU<Eigen::SparseMatrix<double>> sparse;
  std::unique_ptr<Answer> answer;

  void solve(const Vector& right, Vector& k) {
    if (!dense) {
      k = sparse.solve(right);
      return;
    }
    if (!inverted && ++served > kWorthInverse) {
      inverse = lu.inverse();
      inverted = true;
    }
    if (inverted) {
      k.noalias() = inverse * right;
    } else {
      k = lu.solve(right);
    }
  }
};

/// The slopes at a state, and factors for the steps that were taken with them.
struct Stepper::Slopes {
  std::uint64_t kinks = 0;
  Vector at;
  int served = 0;
  std::vector<Equations::Entry> inner, outer, tally_outer;
  Eigen::SparseMatrix<double, Eigen::RowMajor> tally_inner;
  std::vector<std::unique_ptr<Factor>> factors;

  void outside_along(const Vector& outside, double scale, Vector& rate) const {
    rate.setZero(at.size());
    for (const Equations::Entry& e : outer) rate[e.row] += scale * e.value * outside[e.column];
  }
};

Stepper::Stepper(const Network& network, bool mean_duty, double start_second_of_day)
    : equations(network, {mean_duty, true, true}), start_second_of_day_(start_second_of_day) {
  y = equations.start();
  capacity = equations.capacity();
  // Conduction has the same slope at every temperature: nodes without other links, such as a mat's
  // under the substrate, may move as far as they like.
  std::vector<char> bends(network.nodes.size(), 0);
  const auto mark = [&](const auto& links) {
    for (const auto& link : links) {
      for (const int end : {link.a, link.b}) {
        if (end < network.node_count()) bends[static_cast<std::size_t>(end)] = 1;
      }
    }
  };
  mark(network.convections);
  mark(network.radiations);
  for (int i = 0; i < network.node_count(); ++i) {
    if (bends[static_cast<std::size_t>(i)] != 0) bent_.push_back(i);
  }
  for (const Convection& link : network.convections) {
    const bool inner = std::max(link.a, link.b) < network.node_count();
    if (link.air && inner) streams_.emplace_back(link.a, link.b);
  }
}
Stepper::~Stepper() = default;
Stepper::Stepper(Stepper&&) noexcept = default;

double Stepper::second_of_day(double time_s) const {
  return std::fmod(start_second_of_day_ + time_s, kDay_s);
}

void Stepper::set_clock(double time_s) {
  equations.set_clock(time_s + kInset_s, second_of_day(time_s + kInset_s));
  if (!air.there) return;
  auto& outside = equations.clock.outside;
  const double past_s = time_s - air.from_s;
  outside[0] = air.k + past_s * air.k_per_s;
  outside[equations.outside_vapour(0)] = air.kg_per_m3 + past_s * air.kg_per_m3_s;
}

double Stepper::mist(double time_s) {
  double sprayed = 0;
  const double second = second_of_day(time_s + kInset_s);
  for (const Misting& misting : equations.net().misting) {
    if (std::fabs(std::fmod(misting.second_of_day, kDay_s) - second) > 1e-3) continue;
    for (std::size_t w = 0; w < misting.parts.size(); ++w) {
      const int film = equations.film_state(static_cast<int>(w));
      if (film >= 0) y[film] += misting.kg * misting.parts[w];
    }
    sprayed += misting.kg;
  }
  return sprayed;
}

// --- slopes and factors ---

bool Stepper::near(const Slopes& slopes) const {
  if (slopes.kinks != equations.kinks(y)) return false;
  for (const int i : bent_) {
    if (std::fabs(y[i] - slopes.at[i]) > kMostMoved_k) return false;
  }
  for (const auto& [a, b] : streams_) {
    const double now = y[a] - y[b], then = slopes.at[a] - slopes.at[b];
    const double least = std::min(std::fabs(now), std::fabs(then));
    if (std::fabs(now - then) > kMostTurned_k + kMostTurned * least) return false;
  }
  for (std::size_t v = 0; v < equations.net().air.size(); ++v) {
    const int i = equations.vapour_state(static_cast<int>(v));
    if (std::fabs(y[i] - slopes.at[i]) > kMostMoved_kg_per_m3) return false;
  }
  for (std::size_t f = 0; f < equations.films().size(); ++f) {
    const int i = equations.films()[f];
    if (std::fabs(equations.wetted(f, y[i]) - equations.wetted(f, slopes.at[i])) > kMostWetted) {
      return false;
    }
  }
  return true;
}

void Stepper::make_slopes(Slopes& slopes) {
  equations.slopes(y, 0, entries_);
  const int n = equations.size();
  for (auto* list : {&slopes.inner, &slopes.outer, &slopes.tally_outer}) list->clear();
  std::vector<Eigen::Triplet<double>> tally_inner;
  for (Equations::Entry entry : entries_) {
    const bool inner = entry.column < n;
    if (!inner) entry.column -= n;
    if (entry.row < n) {
      (inner ? slopes.inner : slopes.outer).push_back(entry);
    } else if (inner) {
      tally_inner.emplace_back(entry.row - n, entry.column, entry.value);
    } else {
      entry.row -= n;
      slopes.tally_outer.push_back(entry);
    }
  }
  slopes.tally_inner.resize(equations.tally_size(), n);
  slopes.tally_inner.setFromTriplets(tally_inner.begin(), tally_inner.end());
  slopes.kinks = equations.kinks(y);
  slopes.at = y;
  slopes.served = 0;
  slopes.factors.clear();
}

Stepper::Slopes& Stepper::slopes_here() {
  for (std::size_t i = 0; i < kept_.size(); ++i) {
    if (!near(*kept_[i])) continue;
    std::rotate(kept_.begin(), kept_.begin() + static_cast<std::ptrdiff_t>(i),
                kept_.begin() + static_cast<std::ptrdiff_t>(i) + 1);
    if (++kept_.front()->served > kMostServed) make_slopes(*kept_.front());
    return *kept_.front();
  }
  if (kept_.size() < kMostSlopes) kept_.push_back(std::make_unique<Slopes>());
  std::rotate(kept_.begin(), kept_.end() - 1, kept_.end());
  make_slopes(*kept_.front());
  return *kept_.front();
}

Stepper::Factor& Stepper::factor_for(Slopes& slopes, double h) const {
  auto& factors = slopes.factors;
  for (std::size_t i = 0; i < factors.size(); ++i) {
    if (std::fabs(factors[i]->h - h) > 1e-9 * h) continue;
    if (i > 0) std::swap(factors[i], factors[i - 1]);  // the most used move to the front
    return *factors[i > 0 ? i - 1 : 0];
  }
  if (factors.size() >= kMostFactors) factors.pop_back();
  auto factor = std::make_unique<Factor>();
  factor->h = h;
  const int n = equations.size();
  factor->dense = n <= kMostDense;
  if (factor->dense) {
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(n, n);
    matrix.diagonal() = capacity;
    for (const Equations::Entry& e : slopes.inner) matrix(e.row, e.column) -= kGamma * h * e.value;
    factor->lu.compute(matrix);
  } else {
    std::vector<Eigen::Triplet<double>> triplets;
    for (int i = 0; i < n; ++i) triplets.emplace_back(i, i, capacity[i]);
    for (const Equations::Entry& e : slopes.inner) {
      triplets.emplace_back(e.row, e.column, -kGamma * h * e.value);
    }
    Eigen::SparseMatrix<double> matrix(n, n);
    matrix.setFromTriplets(triplets.begin(), triplets.end());
    factor->sparse.compute(matrix);
    WS_CHECK(factor->sparse.info() == Eigen::Success);
  }
  factors.push_back(std::move(factor));
  return *factors.back();
}

const Stepper::Answer& Stepper::answer(double h) {
  Slopes& slopes = slopes_here();
  Factor& factor = factor_for(slopes, h);
  if (factor.answer) return *factor.answer;
  factor.answer = std::make_unique<Answer>();
  Vector outside(equations.outside_size());
  for (int i = 0; i < 2; ++i) {
    outside.setZero();
    outside[i == 0 ? 0 : equations.outside_vapour(0)] = 1;
    slopes.outside_along(outside, kGamma, along_);
    factor.solve(along_, k1_);
    // f(y + h k1, t + h) moves by h A k1 + B = D k1 / gamma.
    factor.solve((1 / kGamma - 2) * capacity.cwiseProduct(k1_) - along_, k2_);
    factor.answer->y[i] = h * (1.5 * k1_ + 0.5 * k2_);
    Vector& tally = factor.answer->tally[i];
    tally.setZero(equations.tally_size());
    for (const Equations::Entry& e : slopes.tally_outer) {
      tally[e.row] += 0.5 * h * e.value * outside[e.column];
    }
    k2_ = h * k1_ + kGamma * h * (k1_ + k2_);
    tally += 0.5 * h * (slopes.tally_inner * k2_);
  }
  return *factor.answer;
}

// --- steps ---

void Stepper::begin() {
  equations.rates(y, f0_, g0_);
  if (given.size() > 0) f0_ += given;
  outside0_ = equations.clock.outside;
}

void Stepper::begin_after(Step& last) {
  f0_.swap(last.rate);
  g0_.swap(last.edge);
  outside0_.swap(last.outside);
}

double Stepper::step(double time_s, double to_event_s, Pace& pace, Step& out) {
  double h = pace.step(to_event_s);
  step(time_s, h, out);
  while (!pace.good(out.error_k, h)) {
    h = pace.shorter(h);
    step(time_s, h, out);
  }
  pace.taken(out.error_k, h);
  return h;
}

void Stepper::step(double time_s, double h, Step& out) {
  Slopes& slopes = slopes_here();
  Factor& factor = factor_for(slopes, h);
  const double inset_s = std::min(0.25 * h, 2 * kInset_s);
  set_clock(time_s + h - inset_s);
  const double scale = kGamma * h;
  outside_rate_ = (equations.clock.outside - outside0_) / h;
  slopes.outside_along(outside_rate_, scale, along_);
  factor.solve(f0_ + along_, k1_);
  middle_ = y + h * k1_;
  equations.rates(middle_, f1_, g1_);
  if (given.size() > 0) f1_ += given;
  factor.solve(f1_ - 2 * capacity.cwiseProduct(k1_) - along_, k2_);
  out.y = y + h * (1.5 * k1_ + 0.5 * k2_);
  k2_ += k1_;
  // The same formula for the tallies, whose own slopes are none: the outside's rates cancel.
  out.tally = 0.5 * h * (g0_ + g1_);
  out.tally += 0.5 * h * scale * (slopes.tally_inner * k2_);
  const int nodes = equations.net().node_count();
  const auto volumes = static_cast<Eigen::Index>(equations.net().air.size());
  out.error_k = 0.5 * h * k2_.head(nodes).cwiseAbs().maxCoeff();
  if (volumes > 0) {
    const auto vapour = k2_.segment(equations.vapour_state(0), volumes);
    out.error_k =
        std::max(out.error_k, kAsGood_k_m3_per_kg * 0.5 * h * vapour.cwiseAbs().maxCoeff());
  }
}

void Stepper::end(Step& step) {
  equations.rates(step.y, step.rate, step.edge);
  if (given.size() > 0) step.rate += given;
  step.outside = equations.clock.outside;
}

double Stepper::cubic(double a, double slope_a, double b, double slope_b, double u) {
  const double rise = b - a;
  return a + u * (slope_a +
                  u * (3 * rise - 2 * slope_a - slope_b + u * (slope_a + slope_b - 2 * rise)));
}

void Stepper::inside(const Step& step, double h, double u, Step& part) const {
  part.y.resize(y.size());
  for (Eigen::Index i = 0; i < y.size(); ++i) {
    const double c = h / capacity[i];
    part.y[i] = cubic(y[i], f0_[i] * c, step.y[i], step.rate[i] * c, u);
  }
  part.tally.resize(step.tally.size());
  for (Eigen::Index i = 0; i < step.tally.size(); ++i) {
    part.tally[i] = cubic(0, g0_[i] * h, step.tally[i], step.edge[i] * h, u);
  }
}

}  // namespace warmside::climate
