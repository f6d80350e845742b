#include "light/ageing.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "species/care_rules.h"

namespace warmside::light {
namespace {

constexpr double kFreedom = 4;  // of Student's t: common practice for robust lines
constexpr double kZ90 = 1.6448536269514722;
constexpr int kIterations = 50;
constexpr double kNever = std::numeric_limits<double>::infinity();

double normal_below(double z) {
  return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}

/// Inverse of normal_below: P. J. Acklam's rational functions (2003, from memory; relative error
/// 1.2e-9), which tests/unit/light/ageing_test.cpp checks through the bands.
double normal_quantile(double p) {
  constexpr double kTail = 0.02425;
  p = std::clamp(p, 1e-300, 1 - 1e-16);
  const auto tail = [](double q) {
    return (((((-7.784894002430293e-3 * q - 3.223964580411365e-1) * q - 2.400758277161838) * q -
              2.549732539343734) *
                 q +
             4.374664141464968) *
                q +
            2.938163982698783) /
           ((((7.784695709041462e-3 * q + 3.224671290700398e-1) * q + 2.445134137142996) * q +
             3.754408661907416) *
                q +
            1);
  };
  if (p < kTail) return tail(std::sqrt(-2 * std::log(p)));
  if (p > 1 - kTail) return -tail(std::sqrt(-2 * std::log(1 - p)));
  const double q = p - 0.5, r = q * q;
  return (((((-39.69683028665376 * r + 220.9460984245205) * r - 275.9285104469687) * r +
            138.3577518672690) *
               r -
           30.66479806614716) *
              r +
          2.506628277459239) *
         q /
         (((((-54.47609879822406 * r + 161.5858368580409) * r - 155.6989798598866) * r +
            66.80131188771972) *
               r -
           13.28068155288572) *
              r +
          1);
}

/// The value under which a share p of the weight lies. `values` come with equal weights.
double quantile(std::vector<double>& values, double p) {
  const auto at = static_cast<std::size_t>(p * static_cast<double>(values.size()));
  const auto nth = values.begin() + static_cast<std::ptrdiff_t>(std::min(at, values.size() - 1));
  std::nth_element(values.begin(), nth, values.end());
  return *nth;
}

}  // namespace

AgeingPrior usual_ageing() {
  const auto& rules = species::care_rules();
  const double decay_d = rules.value<Duration>("lamp_decay_time").days();
  const double life_d = parse_range<Duration>(rules.rule("lamp_life_t5").value).value().low.days();
  const double low_share = rules.value<Percentage>("uv_low_share").share();
  AgeingPrior prior;
  prior.rate = 1 / decay_d;
  prior.rate_sd = std::abs(1 / decay_d - std::log(1 / low_share) / life_d);
  return prior;
}

std::optional<Ageing> Ageing::fit(std::span<const AgedReading> readings, const AgeingPrior& prior) {
  if (readings.empty()) return std::nullopt;
  Ageing made;
  const std::size_t n = readings.size();
  made.weights_.assign(n, 1);
  made.first_day_ = readings.front().day;
  made.last_day_ = readings.back().day;
  for (const AgedReading& r : readings) made.day0_ += r.day / static_cast<double>(n);

  double sd = prior.reading_sd;
  std::vector<double> y(n), t(n);
  for (std::size_t i = 0; i < n; ++i) {
    y[i] = std::log(readings[i].uvi);
    t[i] = readings[i].day - made.day0_;
  }
  for (int iteration = 0; iteration < kIterations; ++iteration) {
    // y = a - k t with k ~ N(rate, rate_sd^2): normal equations in units of the reading's variance.
    const double variance = sd * sd;
    double aa = 0, ak = 0, kk = 1 / (prior.rate_sd * prior.rate_sd), ya = 0,
           yk = prior.rate / (prior.rate_sd * prior.rate_sd);
    for (std::size_t i = 0; i < n; ++i) {
      const double w = made.weights_[i] / variance;
      aa += w;
      ak -= w * t[i];
      kk += w * t[i] * t[i];
      ya += w * y[i];
      yk -= w * t[i] * y[i];
    }
    const double determinant = aa * kk - ak * ak;
    made.a_ = (kk * ya - ak * yk) / determinant;
    made.rate_ = (aa * yk - ak * ya) / determinant;
    made.a_variance_ = kk / determinant;
    made.covariance_ = -ak / determinant;
    made.rate_variance_ = aa / determinant;
    if (n < 3) break;  // of two nobody can say which is off
    double change = 0;
    std::vector<double> off(n);
    for (std::size_t i = 0; i < n; ++i) {
      const double residual = y[i] - (made.a_ - made.rate_ * t[i]);
      off[i] = std::abs(residual);
      const double weight = (kFreedom + 1) / (kFreedom + residual * residual / variance);
      change = std::max(change, std::abs(weight - made.weights_[i]));
      made.weights_[i] = weight;
    }
    // A keeper's hand that is less steady than the usual widens everything; the median keeps one
    // slip from doing so (1.4826: of a normal).
    if (n >= 6) sd = std::max(prior.reading_sd, 1.4826 * quantile(off, 0.5));
    if (change < 1e-10) break;
  }
  return made;
}

double Ageing::rate_quantile(double p) const {
  const double sd = std::sqrt(rate_variance_);
  const double below_nothing = normal_below(-rate_ / sd);
  return std::max(rate_ + sd * normal_quantile(below_nothing + p * (1 - below_nothing)), 0.0);
}

UvBand Ageing::tau_d() const {
  const auto tau = [&](double p) {
    const double rate = rate_quantile(p);
    return rate > 0 ? 1 / rate : kNever;
  };
  return {tau(0.5), tau(0.95), tau(0.05)};
}

UvBand Ageing::level(double day) const {
  const double t = day - day0_;
  const double middle = a_ - rate_ * t;
  const double sd =
      std::sqrt(std::max(a_variance_ - 2 * t * covariance_ + t * t * rate_variance_, 0.0));
  return {std::exp(middle), std::exp(middle - kZ90 * sd), std::exp(middle + kZ90 * sd)};
}

UvBand Ageing::share(double day, double of_day) const {
  const double days = day - of_day;
  return {std::exp(-rate_quantile(0.5) * days), std::exp(-rate_quantile(0.95) * days),
          std::exp(-rate_quantile(0.05) * days)};
}

DayBand Ageing::falls_below(double share, double of_day, double level) const {
  // Over the middles of equal slices of k and, for each k, of a: its mean given k, and its spread.
  constexpr int kRates = 100, kLevels = 20;
  const double slope = covariance_ / rate_variance_;
  const double a_sd = std::sqrt(std::max(a_variance_ - covariance_ * slope, 0.0));
  static const std::vector<double> kNormals = [] {
    std::vector<double> made;
    for (int j = 0; j < kLevels; ++j) made.push_back(normal_quantile((j + 0.5) / kLevels));
    return made;
  }();
  const double log_level = level > 0 ? std::log(level) : 0;
  std::vector<double> days;
  days.reserve(static_cast<std::size_t>(kRates) * kLevels);
  for (int i = 0; i < kRates; ++i) {
    const double rate = rate_quantile((i + 0.5) / kRates);
    for (const double z : kNormals) {
      const double a = a_ + slope * (rate - rate_) + a_sd * z;
      double day = kNever;
      if (share > 0 && rate > 0) day = of_day + std::log(1 / share) / rate;
      if (level > 0) {
        const double above = a - log_level;
        if (above <= 0 || rate > 0) {
          day = std::min(day, rate > 0 ? std::max(day0_ + above / rate, first_day_) : first_day_);
        }
      }
      days.push_back(day);
    }
  }
  const auto day_at = [&](double p) -> std::optional<double> {
    const double day = quantile(days, p);
    if (day > last_day_ + kFarthest_d) return std::nullopt;
    return day;
  };
  return {day_at(0.5), day_at(0.05), day_at(0.95)};
}

}  // namespace warmside::light
