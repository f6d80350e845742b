// The weight model's filter and smoother against a dense Gaussian computation that shares nothing
// with them: the covariances of an integrated Ornstein-Uhlenbeck process in closed form, all
// weighings at once.

#include "health/weight_model.h"

#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <vector>

namespace warmside::health {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double kNever = std::numeric_limits<double>::infinity();

struct Scene {
  Motion motion;
  WeightState start;
  std::vector<Weighing> weighings;
};

/// Irregular weighings, some on one day, with contents, growth and steps, none odd.
Scene scene(unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> unit(0, 1);
  std::normal_distribution<double> normal;
  Scene out;
  out.motion = {0.0002 + 0.002 * unit(random),
                30 + 300 * unit(random),
                0.004 * unit(random),
                0.02 * unit(random),
                0,
                4};
  out.start = {6, 0, 0.2 + unit(random), 0, out.motion.rate_sd * out.motion.rate_sd};
  double day = 100 * unit(random);
  const int count = 1 + static_cast<int>(40 * unit(random));
  for (int i = 0; i < count; ++i) {
    Weighing one;
    one.day = day;
    one.log_mass = 6 + 0.3 * normal(random);
    one.contents = 0.05 * unit(random);
    one.variance = unit(random) < 0.1 ? kNever : std::pow(0.01 + 0.05 * unit(random), 2);
    one.growth = 0.002 * unit(random);
    if (unit(random) < 0.1) one.step = -0.2, one.step_variance = 0.01;
    out.weighings.push_back(one);
    if (unit(random) > 0.1) day += std::pow(10, 2 * unit(random) - 0.5);
  }
  return out;
}

/// Mean and covariance of (l, r) at all weighings before any is told, l first.
struct Dense {
  VectorXd mean;
  MatrixXd covariance;
};
Dense dense(const Scene& s) {
  const auto n = static_cast<Eigen::Index>(s.weighings.size());
  const double tau = s.motion.memory_days, rate = s.motion.rate_sd * s.motion.rate_sd;
  const auto day = [&](Eigen::Index i) {
    return s.weighings[static_cast<std::size_t>(i)].day - s.weighings[0].day;
  };
  const auto decay = [tau](double t) { return std::exp(-t / tau); };
  Dense out{VectorXd::Zero(2 * n), MatrixXd::Zero(2 * n, 2 * n)};
  double level = s.start.level;
  VectorXd steps = VectorXd::Zero(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Weighing& one = s.weighings[static_cast<std::size_t>(i)];
    if (i > 0) level += one.growth * (day(i) - day(i - 1));
    level += one.step;
    out.mean[i] = level;
    steps[i] = (i > 0 ? steps[i - 1] : 0) + one.step_variance;
  }
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = 0; j < n; ++j) {
      const double a = day(i), b = day(j), first = std::min(a, b), apart = std::fabs(a - b);
      out.covariance(n + i, n + j) = rate * decay(apart);
      out.covariance(i, j) =
          s.start.level_variance + s.motion.wander_sd * s.motion.wander_sd * first +
          steps[std::min(i, j)] +
          rate * tau * (2 * first - tau * (1 - decay(a) - decay(b) + decay(apart)));
      // l at a with r at b.
      const double with = b >= a ? (1 - decay(a)) * decay(b - a) : 2 - decay(b) - decay(a - b);
      out.covariance(i, n + j) = out.covariance(n + j, i) = rate * tau * with;
    }
  }
  return out;
}

class WeightModelReference : public testing::TestWithParam<unsigned> {};
INSTANTIATE_TEST_SUITE_P(Seeds, WeightModelReference, testing::Range(1u, 61u));

TEST_P(WeightModelReference, AsADenseGaussian) {
  const Scene s = scene(GetParam());
  const Dense all = dense(s);
  const auto n = static_cast<Eigen::Index>(s.weighings.size());
  std::vector<Eigen::Index> told;
  for (Eigen::Index i = 0; i < n; ++i) {
    if (std::isfinite(s.weighings[static_cast<std::size_t>(i)].variance)) told.push_back(i);
  }
  const auto m = static_cast<Eigen::Index>(told.size());
  MatrixXd seen = MatrixXd::Zero(m, m), with = MatrixXd::Zero(2 * n, m);
  VectorXd off(m);
  for (Eigen::Index a = 0; a < m; ++a) {
    const Weighing& one = s.weighings[static_cast<std::size_t>(told[static_cast<std::size_t>(a)])];
    const Eigen::Index i = told[static_cast<std::size_t>(a)];
    off[a] = one.log_mass - one.contents - all.mean[i];
    with.col(a) = all.covariance.col(i);
    for (Eigen::Index b = 0; b < m; ++b) {
      seen(a, b) = all.covariance(i, told[static_cast<std::size_t>(b)]);
    }
    seen(a, a) += one.variance + s.motion.noise_sd * s.motion.noise_sd;
  }
  const Eigen::LDLT<MatrixXd> factors(seen);
  const VectorXd solved = factors.solve(off);
  const double log_likelihood_dense =
      -0.5 * (off.dot(solved) + factors.vectorD().array().log().sum() +
              static_cast<double>(m) * std::log(2 * std::numbers::pi));
  const VectorXd mean = all.mean + with * solved;
  const MatrixXd covariance = all.covariance - with * factors.solve(with.transpose());

  const WeightCourse course = smoothed(s.weighings, s.motion, s.start);
  const double scale = 1 + std::fabs(log_likelihood_dense);
  EXPECT_NEAR(course.log_likelihood, log_likelihood_dense, 1e-9 * scale);
  EXPECT_NEAR(log_likelihood(s.weighings, s.motion, s.start), log_likelihood_dense, 1e-9 * scale);
  for (Eigen::Index i = 0; i < n; ++i) {
    const WeightState& state = course.states[static_cast<std::size_t>(i)];
    EXPECT_NEAR(state.level, mean[i], 1e-9);
    EXPECT_NEAR(state.rate, mean[n + i], 1e-9);
    EXPECT_NEAR(state.level_variance, covariance(i, i), 1e-9);
    EXPECT_NEAR(state.covariance, covariance(i, n + i), 1e-9);
    EXPECT_NEAR(state.rate_variance, covariance(n + i, n + i), 1e-9);
    EXPECT_NEAR(course.level_with_last[static_cast<std::size_t>(i)], covariance(i, n - 1), 1e-9);
    // 90 % interval of the mass, as a share of it.
    EXPECT_NEAR(1.644853627 * std::sqrt(state.level_variance),
                1.644853627 * std::sqrt(covariance(i, i)), 1e-9);
  }
}

// What the mixture gives for a single weighing, by hand.
TEST(WeightModel, OneOddWeighing) {
  const Motion motion{0.001, 100, 0.001, 0, 0.05, 4};
  const WeightState start{6, 0, 0.01, 0, 1e-6};
  for (const double y : {6.0, 6.1, 6.5, 5.0}) {
    const Weighing one{0, y, 0, 4e-4, 0, 0, 0};
    const auto density = [&](double variance) {
      return std::exp(-0.5 * (y - 6) * (y - 6) / variance) /
             std::sqrt(2 * std::numbers::pi * variance);
    };
    const double even = 0.95 * density(0.01 + 4e-4), odd = 0.05 * density(0.01 + 64e-4);
    EXPECT_NEAR(log_likelihood({&one, 1}, motion, start), std::log(even + odd), 1e-12);
  }
}

// A weighing ten times too high is given up, and the course stays.
TEST(WeightModel, GivesUpAnOddWeighing) {
  const Motion motion{0.0005, 120, 0.002, 0, 0.05, 4};
  std::vector<Weighing> weighings;
  for (int i = 0; i < 12; ++i) weighings.push_back({30.0 * i, 6, 0, 4e-4, 0, 0, 0});
  weighings[7].log_mass += 0.5;
  const WeightCourse course = smoothed(weighings, motion, {6, 0, 1, 0, 2.5e-7});
  EXPECT_GT(course.oddness[7], 0.999);
  EXPECT_LT(course.oddness[6], 0.1);
  EXPECT_NEAR(course.states[7].level, 6, 0.02);
  Motion believing = motion;
  believing.odd_share = 0;
  EXPECT_GT(smoothed(weighings, believing, {6, 0, 1, 0, 2.5e-7}).states[7].level, 6.05);
}

}  // namespace
}  // namespace warmside::health
