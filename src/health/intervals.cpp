#include "health/intervals.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "core/check.h"

namespace warmside::health {
namespace {

/// The continued fraction of the incomplete beta function (Abramowitz & Stegun 1964, eq. 26.5.8),
/// by Lentz's method. It converges fast for x < (a + 1) / (a + b + 2).
double beta_fraction(double x, double a, double b) {
  constexpr double kTiny = 1e-300;  // in place of a zero divisor
  constexpr double kEnough = 1e-15;
  constexpr int kMostTerms = 10'000;  // about the root of the greater of a and b are needed
  const auto not_zero = [](double value) { return std::abs(value) < kTiny ? kTiny : value; };
  double c = 1;
  double d = 1 / not_zero(1 - (a + b) * x / (a + 1));
  double value = d;
  for (int m = 1; m <= kMostTerms; ++m) {
    const double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / not_zero(1 + even * d);
    c = not_zero(1 + even / c);
    value *= d * c;
    const double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / not_zero(1 + odd * d);
    c = not_zero(1 + odd / c);
    value *= d * c;
    if (std::abs(d * c - 1) < kEnough) break;
  }
  return value;
}

/// I_x(a, b), the regularised incomplete beta function; 0 <= x <= 1. y: 1 - x, exactly.
double incomplete_beta(double x, double y, double a, double b) {
  if (x <= 0) return 0;
  if (y <= 0) return 1;
  const double front = std::exp(std::lgamma(a + b) - std::lgamma(a) - std::lgamma(b) +
                                a * std::log(x) + b * std::log(y));
  if (x < (a + 1) / (a + b + 2)) return front * beta_fraction(x, a, b) / a;
  return 1 - front * beta_fraction(y, b, a) / b;
}

}  // namespace

double student_survival(double t, double freedom) {
  WS_CHECK(freedom > 0);
  // The squares of very large values would overflow; their tail is 0 to every digit.
  if (std::abs(t) > 1e100) return t > 0 ? 0 : 1;
  const double sum = freedom + t * t;
  const double tail = 0.5 * incomplete_beta(freedom / sum, t * t / sum, freedom / 2, 0.5);
  return t >= 0 ? tail : 1 - tail;
}

double gap_weight(int ago_d, int apart_d, const GapMemory& memory) {
  WS_CHECK(memory.half_life_d > 0 && memory.season >= 0 && memory.season < 1);
  const double fading = std::exp2(-std::max(0, ago_d) / memory.half_life_d);
  const double angle = 2 * std::numbers::pi * apart_d / 365.25;
  return fading * (1 + memory.season * std::cos(angle)) / (1 + memory.season);
}

double GapModel::survival(double length) const {
  if (!(length > 0)) return 1;
  return student_survival((std::log(length) - location) / scale, freedom);
}

double GapModel::survival_given(double length, double open) const {
  if (length <= open) return 1;
  const double now = survival(open);
  return now > 0 ? survival(length) / now : 0;
}

double GapModel::median() const {
  return std::exp(location);
}

GapModel learn(const GapPrior& prior, std::span<const Gap> gaps, double least_scale) {
  WS_CHECK(prior.median > 0 && prior.spread > 0 && prior.worth_median > 0 &&
           prior.worth_spread > 0 && least_scale >= 0);
  GapModel model;
  double sum = 0;
  for (const Gap& gap : gaps) {
    WS_CHECK(gap.length > 0 && gap.weight >= 0 && gap.weight <= 1);
    model.weight += gap.weight;
    sum += gap.weight * std::log(gap.length);
    ++model.gaps;
  }
  const double expected = std::log(prior.median);
  const double mean = model.weight > 0 ? sum / model.weight : expected;
  double squares = 0;
  for (const Gap& gap : gaps) {
    const double off = std::log(gap.length) - mean;
    squares += gap.weight * off * off;
  }
  const double worth = prior.worth_median + model.weight;
  const double off = mean - expected;
  model.freedom = prior.worth_spread + model.weight;
  model.location = (prior.worth_median * expected + model.weight * mean) / worth;
  const double variance = (prior.worth_spread * prior.spread * prior.spread + squares +
                           prior.worth_median * model.weight / worth * off * off) /
                          model.freedom;
  model.scale = std::max(least_scale, std::sqrt(variance * (1 + 1 / worth)));
  return model;
}

double share_as_long(std::span<const Gap> gaps, double length, double worth) {
  WS_CHECK(worth > 0);
  double as_long = 0, all = worth;
  for (const Gap& gap : gaps) {
    all += gap.weight;
    if (gap.length >= length) as_long += gap.weight;
  }
  return as_long / all;
}

}  // namespace warmside::health
