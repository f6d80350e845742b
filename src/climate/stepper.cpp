#include "climate/stepper.h"

#include <Eigen/Sparse>
#include <algorithm>
#include <cmath>

#include "core/check.h"

namespace warmside::climate {
namespace {

/// Up to here dense factors are faster than sparse (measured, docs/performance.md).
constexpr int kMostDense = 150;
/// Slopes are made anew after so many steps, or when a temperature has moved by so much.
constexpr int kMostSteps = 144;
constexpr double kMostMoved_k = 1.5;
/// A factor that has served so often is worth its inverse, whose product is faster.
constexpr int kWorthInverse = 20;
/// Lengths of steps whose factors are kept.
constexpr std::size_t kMostFactors = 10;

}  // namespace

struct Stepper::Factor {
  double h = 0;
  int served = 0;
  bool dense = true, inverted = false;
  Eigen::PartialPivLU<Eigen::MatrixXd> lu;
  Eigen::MatrixXd inverse;
  Eigen::SparseLU<Eigen::SparseMatrix<double>> sparse;
  int hub_heat = -1, hub_vapour = -1;
  Vector by_hub[2], tally_by_hub[2];
};

Stepper::Stepper(const Network& network, bool mean_duty)
    : equations(network, {mean_duty, true, true}) {
  y = equations.start();
  capacity = equations.capacity();
}
Stepper::~Stepper() = default;
Stepper::Stepper(Stepper&&) noexcept = default;

double Stepper::mist(double second_of_day) {
  double sprayed = 0;
  for (const Misting& misting : equations.net().misting) {
    if (std::fabs(std::fmod(misting.second_of_day, kDay_s) - second_of_day) > 1e-3) continue;
    for (std::size_t w = 0; w < misting.parts.size(); ++w) {
      const int film = equations.film_state(static_cast<int>(w));
      if (film >= 0) y[film] += misting.kg * misting.parts[w];
    }
    sprayed += misting.kg;
  }
  return sprayed;
}

void Stepper::make_slopes() {
  equations.slopes(y, 0, slopes_);
  const int n = equations.size();
  inner_.clear();
  outer_.clear();
  tally_inner_.clear();
  tally_outer_.clear();
  for (const Equations::Entry& entry : slopes_) {
    auto& list = entry.row < n ? (entry.column < n ? inner_ : outer_)
                               : (entry.column < n ? tally_inner_ : tally_outer_);
    list.push_back(entry);
  }
  for (auto* list : {&tally_inner_, &tally_outer_}) {
    for (Equations::Entry& entry : *list) entry.row -= n;
  }
  for (auto* list : {&outer_, &tally_outer_}) {
    for (Equations::Entry& entry : *list) entry.column -= n;
  }
  kinks_ = equations.kinks(y);
  slopes_at_ = y;
  slopes_age_ = 0;
  factors_.clear();
  now_ = nullptr;
}

Stepper::Factor& Stepper::factor_for(double h) {
  for (const auto& factor : factors_) {
    if (std::fabs(factor->h - h) <= 1e-9 * h) return *factor;
  }
  if (factors_.size() >= kMostFactors) factors_.erase(factors_.begin());
  auto factor = std::make_unique<Factor>();
  factor->h = h;
  const int n = equations.size();
  factor->dense = n <= kMostDense;
  if (factor->dense) {
    Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(n, n);
    matrix.diagonal() = capacity;
    for (const Equations::Entry& e : inner_) matrix(e.row, e.column) -= kGamma * h * e.value;
    factor->lu.compute(matrix);
  } else {
    std::vector<Eigen::Triplet<double>> entries;
    for (int i = 0; i < n; ++i) entries.emplace_back(i, i, capacity[i]);
    for (const Equations::Entry& e : inner_) {
      entries.emplace_back(e.row, e.column, -kGamma * h * e.value);
    }
    Eigen::SparseMatrix<double> matrix(n, n);
    matrix.setFromTriplets(entries.begin(), entries.end());
    factor->sparse.compute(matrix);
    WS_CHECK(factor->sparse.info() == Eigen::Success);
  }
  factors_.push_back(std::move(factor));
  return *factors_.back();
}

void Stepper::prepare(double h, int hub_heat, int hub_vapour) {
  const auto nodes = equations.net().node_count();
  const bool fresh = slopes_age_ >= 0 && slopes_age_ < kMostSteps && kinks_ == equations.kinks(y) &&
                     (y - slopes_at_).head(nodes).cwiseAbs().maxCoeff() < kMostMoved_k;
  if (!fresh) make_slopes();
  ++slopes_age_;
  now_ = &factor_for(h);
  if (now_->dense && !now_->inverted && ++now_->served > kWorthInverse) {
    now_->inverse = now_->lu.inverse();
    now_->inverted = true;
  }
  if (hub_heat < 0 || now_->hub_heat >= 0) return;
  now_->hub_heat = hub_heat;
  now_->hub_vapour = hub_vapour;
  Vector rate = Vector::Zero(equations.outside_size());
  for (int i = 0; i < 2; ++i) {
    rate.setZero();
    rate[i == 0 ? hub_heat : hub_vapour] = 1;
    Vector right = Vector::Zero(equations.size());
    Vector along = Vector::Zero(equations.tally_size());
    add_outside(rate, 1, right, along);
    now_->tally_by_hub[i] = along;
    Vector tally = Vector::Zero(equations.tally_size());
    solve(right, now_->by_hub[i], tally);
    now_->tally_by_hub[i] += tally;
  }
}

void Stepper::solve(const Vector& right, Vector& k, Vector& tally) const {
  if (!now_->dense) {
    k = now_->sparse.solve(right);
  } else if (now_->inverted) {
    k.noalias() = now_->inverse * right;
  } else {
    k = now_->lu.solve(right);
  }
  const double scale = kGamma * now_->h;
  for (const Equations::Entry& e : tally_inner_) tally[e.row] += scale * e.value * k[e.column];
}

void Stepper::add_outside(const Vector& rate, double sign, Vector& right, Vector& tally) const {
  const double scale = sign * kGamma * now_->h;
  for (const Equations::Entry& e : outer_) right[e.row] += scale * e.value * rate[e.column];
  for (const Equations::Entry& e : tally_outer_) tally[e.row] += scale * e.value * rate[e.column];
}

const Stepper::Vector& Stepper::by_hub(int column) const {
  return now_->by_hub[column];
}
const Stepper::Vector& Stepper::tally_by_hub(int column) const {
  return now_->tally_by_hub[column];
}

}  // namespace warmside::climate
