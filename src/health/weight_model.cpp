#include "health/weight_model.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace warmside::health {
namespace {

/// The smoother's weights settle by a fifth or less each time; it stops here in any case.
constexpr int kMostRounds = 20;
constexpr double kSettled = 1e-3;

double log_density(double x, double variance) {
  return -0.5 * (x * x / variance + std::log(2 * std::numbers::pi * variance));
}

WeightState stepped(WeightState state, const Weighing& weighing) {
  state.level += weighing.step;
  state.level_variance += weighing.step_variance;
  return state;
}

/// The state after a weighing of variance v.
WeightState told(const WeightState& before, double off, double variance) {
  const double sum = before.level_variance + variance;
  const double by_level = before.level_variance / sum, by_rate = before.covariance / sum;
  return {before.level + by_level * off, before.rate + by_rate * off,
          before.level_variance - by_level * before.level_variance,
          before.covariance - by_level * before.covariance,
          before.rate_variance - by_rate * before.covariance};
}

/// Both at their shares, as one Gaussian.
WeightState mixed(const WeightState& a, const WeightState& b, double share_b) {
  const double share_a = 1 - share_b, level = a.level - b.level, rate = a.rate - b.rate;
  const double spread = share_a * share_b;
  return {share_a * a.level + share_b * b.level, share_a * a.rate + share_b * b.rate,
          share_a * a.level_variance + share_b * b.level_variance + spread * level * level,
          share_a * a.covariance + share_b * b.covariance + spread * level * rate,
          share_a * a.rate_variance + share_b * b.rate_variance + spread * rate * rate};
}

double variance_of(const Weighing& weighing, const Motion& motion) {
  return motion.noise_sd * motion.noise_sd + weighing.variance;
}

struct Told {
  WeightState state;
  double log_likelihood = 0, oddness = 0;
};
Told tell(const WeightState& before, const Weighing& weighing, const Motion& motion) {
  if (!std::isfinite(weighing.variance)) return {before, 0, 0};
  const double off = weighing.log_mass - weighing.contents - before.level;
  const double variance = variance_of(weighing, motion);
  const double even = log_density(off, before.level_variance + variance);
  const WeightState plain = told(before, off, variance);
  if (!(motion.odd_share > 0)) return {plain, even, 0};
  const double wide = variance * motion.odd_factor * motion.odd_factor;
  const double odd = log_density(off, before.level_variance + wide);
  const double a = std::log1p(-motion.odd_share) + even, b = std::log(motion.odd_share) + odd;
  const double most = std::max(a, b);
  const double sum = most + std::log(std::exp(a - most) + std::exp(b - most));
  const double oddness = std::exp(b - sum);
  return {mixed(plain, told(before, off, wide), oddness), sum, oddness};
}

/// What a step of some days does to the state; see the header.
struct Move {
  double reach = 0, kept = 1;  // of r into l, and of r
  double level_variance = 0, covariance = 0, rate_variance = 0;
};
Move move_of(const Motion& motion, double days) {
  const double tau = motion.memory_days, rate_variance = motion.rate_sd * motion.rate_sd;
  const double kept = std::exp(-days / tau), lost = 1 - kept, twice_lost = 1 - kept * kept;
  return {tau * lost, kept,
          motion.wander_sd * motion.wander_sd * days +
              rate_variance * tau * (2 * days - tau * (4 * lost - twice_lost)),
          rate_variance * tau * lost * lost, rate_variance * twice_lost};
}
WeightState moved(const WeightState& from, const Move& by, double growth) {
  return {from.level + growth + by.reach * from.rate, by.kept * from.rate,
          from.level_variance + 2 * by.reach * from.covariance +
              by.reach * by.reach * from.rate_variance + by.level_variance,
          by.kept * (from.covariance + by.reach * from.rate_variance) + by.covariance,
          by.kept * by.kept * from.rate_variance + by.rate_variance};
}

}  // namespace

double log_likelihood(std::span<const Weighing> weighings, const Motion& motion,
                      const WeightState& start) {
  double sum = 0;
  WeightState state = start;
  double day = weighings.empty() ? 0 : weighings.front().day;
  for (const Weighing& weighing : weighings) {
    if (const double days = weighing.day - day; days > 0) {
      state = moved(state, move_of(motion, days), weighing.growth * days);
    }
    day = weighing.day;
    const Told now = tell(stepped(state, weighing), weighing, motion);
    sum += now.log_likelihood;
    state = now.state;
  }
  return sum;
}

WeightCourse smoothed(std::span<const Weighing> weighings, const Motion& motion,
                      const WeightState& start) {
  WeightCourse course;
  const std::size_t n = weighings.size();
  course.states.resize(n);
  course.oddness.assign(n, 0);
  course.level_with_last.assign(n, 0);
  if (n == 0) return course;
  std::vector<WeightState> before(n), after(n);
  std::vector<Move> moves(n);  // to each
  for (std::size_t i = 1; i < n; ++i) {
    moves[i] = move_of(motion, weighings[i].day - weighings[i - 1].day);
  }
  const double wide = motion.odd_factor * motion.odd_factor, log_wide = std::log(wide);
  for (int round = 0; round < kMostRounds; ++round) {
    WeightState state = start;
    for (std::size_t i = 0; i < n; ++i) {
      const Weighing& weighing = weighings[i];
      if (i > 0) {
        state = moved(state, moves[i], weighing.growth * (weighing.day - weighings[i - 1].day));
      }
      before[i] = stepped(state, weighing);
      if (round == 0) {
        // The filter itself, whose oddness is the first guess.
        const Told now = tell(before[i], weighing, motion);
        course.log_likelihood += now.log_likelihood;
        course.oddness[i] = now.oddness;
        state = now.state;
      } else if (std::isfinite(weighing.variance)) {
        const double off = weighing.log_mass - weighing.contents - before[i].level;
        state = told(before[i], off,
                     variance_of(weighing, motion) * std::exp(log_wide * course.oddness[i]));
      } else {
        state = before[i];
      }
      after[i] = state;
    }
    if (round == 0 && motion.odd_share > 0) continue;
    // Backwards: with G = P F' P(before)^-1 the smoothed state is after + G (next - before).
    course.states[n - 1] = after[n - 1];
    double with_last_level = after[n - 1].level_variance, with_last_rate = after[n - 1].covariance;
    course.level_with_last[n - 1] = with_last_level;
    for (std::size_t i = n - 1; i-- > 0;) {
      const WeightState &now = after[i], &ahead = before[i + 1], &next = course.states[i + 1];
      const double reach = moves[i + 1].reach, kept = moves[i + 1].kept;
      // P F': columns to l' and r'.
      const double ll = now.level_variance + reach * now.covariance;
      const double lr = kept * now.covariance;
      const double rl = now.covariance + reach * now.rate_variance;
      const double rr = kept * now.rate_variance;
      const double det =
          ahead.level_variance * ahead.rate_variance - ahead.covariance * ahead.covariance;
      const double g_ll = (ll * ahead.rate_variance - lr * ahead.covariance) / det;
      const double g_lr = (lr * ahead.level_variance - ll * ahead.covariance) / det;
      const double g_rl = (rl * ahead.rate_variance - rr * ahead.covariance) / det;
      const double g_rr = (rr * ahead.level_variance - rl * ahead.covariance) / det;
      const double d_level = next.level - ahead.level, d_rate = next.rate - ahead.rate;
      const double d_ll = next.level_variance - ahead.level_variance;
      const double d_lr = next.covariance - ahead.covariance;
      const double d_rr = next.rate_variance - ahead.rate_variance;
      WeightState& state_i = course.states[i];
      state_i.level = now.level + g_ll * d_level + g_lr * d_rate;
      state_i.rate = now.rate + g_rl * d_level + g_rr * d_rate;
      state_i.level_variance =
          now.level_variance + g_ll * g_ll * d_ll + 2 * g_ll * g_lr * d_lr + g_lr * g_lr * d_rr;
      state_i.covariance = now.covariance + g_ll * g_rl * d_ll +
                           (g_ll * g_rr + g_lr * g_rl) * d_lr + g_lr * g_rr * d_rr;
      state_i.rate_variance =
          now.rate_variance + g_rl * g_rl * d_ll + 2 * g_rl * g_rr * d_lr + g_rr * g_rr * d_rr;
      const double level = g_ll * with_last_level + g_lr * with_last_rate;
      with_last_rate = g_rl * with_last_level + g_rr * with_last_rate;
      with_last_level = level;
      course.level_with_last[i] = with_last_level;
    }
    if (!(motion.odd_share > 0)) break;
    double change = 0;
    for (std::size_t i = 0; i < n; ++i) {
      const Weighing& weighing = weighings[i];
      if (!std::isfinite(weighing.variance)) continue;
      const double off = weighing.log_mass - weighing.contents - course.states[i].level;
      const double squares =
          (off * off + course.states[i].level_variance) / variance_of(weighing, motion);
      const double odds = motion.odd_share / (1 - motion.odd_share) / motion.odd_factor *
                          std::exp(0.5 * squares * (1 - 1 / wide));
      const double oddness = std::isfinite(odds) ? odds / (1 + odds) : 1;
      change = std::max(change, std::fabs(oddness - course.oddness[i]));
      course.oddness[i] = oddness;
    }
    if (change < kSettled) break;
  }
  return course;
}

}  // namespace warmside::health
