#include "climate/mean_duty.h"

#include <Eigen/Dense>
#include <Eigen/Sparse>
#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>
#include <optional>

#include "climate/equations.h"
#include "climate/solver.h"

namespace warmside::climate {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;
using Complex = std::complex<double>;

/// Steps of the duty in the tables.
constexpr int kSteps = 64;
/// Modes of the network reduced to its heater, and the least gain of one that counts, of the band.
constexpr int kMostModes = 40;
constexpr double kLeastGain = 1e-5;
/// No cycle is longer, s.
constexpr double kLongest_s = 1e7;
/// How fast the law's loop answers, of the frequency of the cycle at half duty.
constexpr double kLoopSpeed = 1.0 / 3;
/// When the network may be made linear, s of the day: night, morning, noon and evening.
constexpr std::array kTimes_s{0.0, 21600.0, 43200.0, 64800.0};

/// Samples of a cycle while on and while off, and the duties at which it is sampled.
constexpr int kSamples = 8;
constexpr int kSampledDuties = 8;

struct Mode {
  Complex gain_k, rate_per_s;
  Eigen::VectorXcd shape;  // of the state where the sensor gains that
};

/// D y' = A y + P u near the steady state; films stay as they are.
struct Linear {
  Linear(const Network& network, const SteadyState& steady, double second_of_day)
      : equations(network, {false, true, false}), duty(steady.duty) {
    equations.set_clock(second_of_day, second_of_day);
    y = equations.start();
    for (std::size_t i = 0; i < steady.node_k.size(); ++i) {
      y[static_cast<Eigen::Index>(i)] = steady.node_k[i];
    }
    for (std::size_t v = 0; v < steady.vapour_kg_per_m3.size(); ++v) {
      y[equations.vapour_state(static_cast<int>(v))] = steady.vapour_kg_per_m3[v];
    }
    std::vector<Equations::Entry> slopes;
    equations.slopes(y, 0, slopes);
    const int n = equations.size();
    std::vector<Eigen::Triplet<double>> entries;
    for (const Equations::Entry& e : slopes) {
      if (e.row < n && e.column < n) entries.emplace_back(e.row, e.column, e.value);
    }
    Eigen::SparseMatrix<double> a(n, n);
    a.setFromTriplets(entries.begin(), entries.end());
    factors.compute(a);
    root = equations.capacity().cwiseSqrt();
    ok = factors.info() == Eigen::Success;
  }
  Equations equations;
  Eigen::SparseLU<Eigen::SparseMatrix<double>> factors;
  VectorXd y, root;
  std::vector<double> duty;  // at y
  bool ok = false;
};

/// The modes through which a sensor feels powers, by Arnoldi's method.
std::vector<Mode> modes_of(const Linear& linear, const VectorXd& power, int sensor) {
  // With x = D^(1/2) y and S = D^(1/2) A^-1 D^(1/2): S x' = x + S D^(-1/2) P u.
  const auto apply = [&](const VectorXd& x) -> VectorXd {
    const VectorXd right = linear.root.cwiseProduct(x);
    return linear.root.cwiseProduct(VectorXd(linear.factors.solve(right)));
  };
  const auto n = power.size();
  const auto most = std::min<Eigen::Index>(n, kMostModes);
  MatrixXd basis = MatrixXd::Zero(n, most + 1), h = MatrixXd::Zero(most + 1, most);
  const VectorXd first = apply(power.cwiseQuotient(linear.root));
  const double length = first.norm();
  basis.col(0) = first / length;
  Eigen::Index k = 0;
  while (k < most) {
    VectorXd next = apply(basis.col(k));
    const double whole = next.norm();
    for (int twice = 0; twice < 2; ++twice) {
      const VectorXd along = basis.leftCols(k + 1).transpose() * next;
      h.col(k).head(k + 1) += along;
      next -= basis.leftCols(k + 1) * along;
    }
    const double left = next.norm();
    ++k;
    if (left < 1e-10 * whole) break;
    h(k, k - 1) = left;
    basis.col(k) = next / left;
  }
  const Eigen::EigenSolver<MatrixXd> eigen(h.topLeftCorner(k, k));
  if (eigen.info() != Eigen::Success) return {};
  Eigen::VectorXcd start = Eigen::VectorXcd::Zero(k);
  start[0] = length;
  const Eigen::VectorXcd strength = eigen.eigenvectors().partialPivLu().solve(start);
  std::vector<Mode> modes;
  for (Eigen::Index i = 0; i < k; ++i) {
    const Complex rate = 1.0 / eigen.eigenvalues()[i];
    if (!(rate.real() < 0)) continue;
    const Eigen::VectorXcd of_basis = -strength[i] * eigen.eigenvectors().col(i);
    const VectorXd re = (basis.leftCols(k) * of_basis.real()).cwiseQuotient(linear.root);
    const VectorXd im = (basis.leftCols(k) * of_basis.imag()).cwiseQuotient(linear.root);
    modes.push_back({Complex(linear.equations.sensor_rate(sensor, re),
                             linear.equations.sensor_rate(sensor, im)),
                     rate, re + Complex(0, 1) * im});
  }
  return modes;
}

/// The two sums of mean_duty.h.
struct Cycle {
  double height_k = 0, over_mean_k = 0;
};
Cycle cycle_of(const std::vector<Mode>& modes, double duty, double period_s) {
  Complex height = 0, over = 0;
  for (const Mode& mode : modes) {
    const Complex on = std::exp(mode.rate_per_s * (duty * period_s));
    const Complex off = std::exp(mode.rate_per_s * ((1 - duty) * period_s));
    const Complex peak = (1.0 - on) / (1.0 - on * off);
    height += mode.gain_k * peak * (1.0 - off);
    over += mode.gain_k * (peak - duty);
  }
  return {height.real(), over.real()};
}

/// The period at which the cycle has the height of the band, sought from a guess.
double period_of(const std::vector<Mode>& modes, double duty, double band_k, double guess_s) {
  double low = guess_s, high = guess_s;
  while (low > 1e-3 && cycle_of(modes, duty, low).height_k > band_k) low *= 0.5;
  while (high < kLongest_s && cycle_of(modes, duty, high).height_k < band_k) high *= 2;
  for (int i = 0; i < 24; ++i) {
    const double middle = std::sqrt(low * high);
    (cycle_of(modes, duty, middle).height_k < band_k ? low : high) = middle;
  }
  return std::sqrt(low * high);
}

/// How far a cycle brings the sensor's mean from where the mean power alone would, since what the
/// nodes exchange bends with their temperatures: the mean imbalance over the cycle, through the
/// linear network. The network stands where the mean power is that of the cycle and the sensor
/// where it was, all boundaries being cooler or warmer for it.
double bent_k(Linear& linear, const std::vector<Mode>& modes, int sensor, double from_duty,
              double duty, double period_s) {
  Equations& equations = linear.equations;
  const int nodes = equations.net().node_count();
  VectorXd y = linear.y;
  Complex gain = 0;
  for (const Mode& mode : modes) {
    y += (duty - from_duty) * mode.shape.real();
    gain += mode.gain_k;
  }
  const double cooler = (duty - from_duty) * gain.real();
  const VectorXd outside = equations.clock.outside;
  y.head(nodes).array() -= cooler;
  equations.clock.outside.head(equations.outside_vapour(0)).array() -= cooler;

  // Samples closer after each switching: at u^2 of the time for even u.
  MatrixXd swing = MatrixXd::Zero(y.size(), 2 * kSamples);
  VectorXd weight(2 * kSamples);
  for (int k = 0; k < kSamples; ++k) {
    const double u = (k + 0.5) / kSamples;
    weight[k] = duty * 2 * u / kSamples;
    weight[kSamples + k] = (1 - duty) * 2 * u / kSamples;
  }
  for (const Mode& mode : modes) {
    const Complex on = std::exp(mode.rate_per_s * (duty * period_s));
    const Complex off = std::exp(mode.rate_per_s * ((1 - duty) * period_s));
    const Complex peak = (1.0 - on) / (1.0 - on * off);
    for (int k = 0; k < kSamples; ++k) {
      const double u = (k + 0.5) / kSamples, share = u * u * period_s;
      const Complex rise = 1.0 - (1.0 - peak * off) * std::exp(mode.rate_per_s * (duty * share));
      const Complex fall = peak * std::exp(mode.rate_per_s * ((1 - duty) * share));
      swing.col(k) += (mode.shape * rise).real();
      swing.col(kSamples + k) += (mode.shape * fall).real();
    }
  }
  const VectorXd mean = swing * weight;
  VectorXd still, rates, tally, bent = VectorXd::Zero(y.size());
  equations.rates(y, still, tally);
  for (int k = 0; k < 2 * kSamples; ++k) {
    equations.rates(y + swing.col(k) - mean, rates, tally);
    bent += weight[k] * (rates - still);
  }
  equations.clock.outside = outside;
  return -equations.sensor_rate(sensor, VectorXd(linear.factors.solve(bent)));
}

bool switch_together(const Heater& a, const Heater& b) {
  const auto same = [](const SetPoint::At& x, const SetPoint::At& y) {
    return x.second_of_day == y.second_of_day && x.value_k == y.value_k;
  };
  return b.control == ControlKind::on_off && a.sensor == b.sensor && a.band_k == b.band_k &&
         std::equal(a.set_point.points.begin(), a.set_point.points.end(),
                    b.set_point.points.begin(), b.set_point.points.end(), same);
}

MeanDuty law_of(Linear& linear, int index) {
  const Heater& heater = linear.equations.net().heaters[static_cast<std::size_t>(index)];
  VectorXd power = VectorXd::Zero(linear.equations.size());
  for (const Heater& other : linear.equations.net().heaters) {
    if (!switch_together(heater, other)) continue;
    for (const Share& share : other.shares) power[share.node] += other.power_w * share.part;
  }
  if (!(power.sum() > 0)) return {};
  const std::vector<Mode> all = modes_of(linear, power, heater.sensor);
  std::vector<Mode> modes;
  double gain = 0;
  for (const Mode& mode : all) {
    gain += mode.gain_k.real();
    if (std::abs(mode.gain_k) > kLeastGain * heater.band_k) {
      modes.push_back({mode.gain_k, mode.rate_per_s, {}});
    }
  }
  if (!(gain > heater.band_k * 1.001)) return {};
  MeanDuty law;
  law.settle_s = period_of(modes, 0.5, heater.band_k, 1000);
  law.mean_k.assign(kSteps + 1, 0);
  law.mean_k.front() = -heater.band_k / 2;
  law.mean_k.back() = heater.band_k / 2;
  double period = law.settle_s;
  std::vector<double> periods(kSteps + 1, period);
  for (std::size_t low = kSteps / 2; low > 0; --low) {
    // On and off change places: T(1 - d) = T(d), m(1 - d) = -m(d).
    const double duty = static_cast<double>(low) / kSteps;
    period = period_of(modes, duty, heater.band_k, period);
    law.mean_k[low] = heater.band_k / 2 - cycle_of(modes, duty, period).over_mean_k;
    law.mean_k[kSteps - low] = -law.mean_k[low];
    periods[low] = periods[kSteps - low] = period;
  }
  // The mean power alone has to bring the probe so much higher.
  constexpr std::size_t kApart = kSteps / kSampledDuties;
  double before = 0;
  for (std::size_t next = kApart; next <= kSteps; next += kApart) {
    const double after = next < kSteps ? bent_k(linear, all, heater.sensor,
                                                linear.duty[static_cast<std::size_t>(index)],
                                                static_cast<double>(next) / kSteps, periods[next])
                                       : 0;
    for (std::size_t i = 0; i < kApart; ++i) {
      const double u = static_cast<double>(i) / kApart;
      law.mean_k[next - kApart + i] -= before + u * (after - before);
    }
    before = after;
  }
  Complex answer = 0;
  const Complex frequency(0, kLoopSpeed * 2 * std::numbers::pi / law.settle_s);
  for (const Mode& mode : modes) answer += mode.gain_k / (1.0 - frequency / mode.rate_per_s);
  law.reach_k = std::abs(answer);
  return law;
}

}  // namespace

MeanDuty::Mean MeanDuty::mean(double z) const {
  const auto steps = static_cast<double>(mean_k.size() - 1);
  const double cell = std::clamp(std::floor(z * steps), 0.0, steps - 1);
  const auto i = static_cast<std::size_t>(cell);
  const double rise = mean_k[i + 1] - mean_k[i];
  return {mean_k[i] + (z * steps - cell) * rise, rise * steps};
}

std::vector<MeanDuty> mean_duties(const Network& network) {
  std::vector<MeanDuty> laws(network.heaters.size());
  const auto on_off = [](const Heater& heater) { return heater.control == ControlKind::on_off; };
  if (std::none_of(network.heaters.begin(), network.heaters.end(), on_off)) return laws;
  std::vector<std::pair<double, SteadyState>> steady;
  for (const double second_of_day : kTimes_s) {
    auto found = solve_steady(network, {.second_of_day = second_of_day});
    if (found) steady.emplace_back(second_of_day, std::move(*found));
  }
  // Each heater when its duty is nearest to a half.
  for (const auto& [second_of_day, state] : steady) {
    std::optional<Linear> linear;
    for (std::size_t h = 0; h < laws.size(); ++h) {
      if (!on_off(network.heaters[h])) continue;
      const auto off_half = [h](const SteadyState& one) { return std::fabs(one.duty[h] - 0.5); };
      const auto best = std::min_element(
          steady.begin(), steady.end(),
          [&](const auto& a, const auto& b) { return off_half(a.second) < off_half(b.second); });
      if (best->first != second_of_day) continue;
      if (!linear) linear.emplace(network, state, second_of_day);
      if (linear->ok) laws[h] = law_of(*linear, static_cast<int>(h));
    }
  }
  return laws;
}

}  // namespace warmside::climate
