#include "health/weights.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>

namespace warmside::health {
namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr double kZ90 = 1.6448536269514722;
/// How far back the reference lies at most, days. Common practice, no source.
constexpr double kYear_days = 365;
/// Of the growth expected so much has to come: what is expected is known to a factor of two. Common
/// practice, no source.
constexpr double kGrowthDue = 0.5;
/// A loss began where this share of it was lost. Common practice, no source.
constexpr double kBegun = 0.1;
/// Two weighings closer than this are one, days.
constexpr double kMinute_days = 1.0 / 1440;
/// How well the first mass is known before it is weighed: within an e-fold.
constexpr double kStartVariance = 1;
/// A weighing this far from those around it, in ln mass, is a slip of pen or scale: a factor of 2.
const double kSlip = std::log(2.0);
/// Weighings that are enough for the parameters of a kind: three numbers to a few per cent. Common
/// practice, no source.
constexpr std::size_t kEnough = 4000;

double normal_cdf(double z) {
  return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}

WeightState start_of(const Weights& weights, const Motion& motion) {
  const double first = weights.weighings.empty() ? 0 : weights.weighings.front().log_mass;
  return {first, 0, kStartVariance, 0, motion.rate_sd * motion.rate_sd};
}

/// The motion of one animal: the less is known of its growth, the more of it is expected.
Motion motion_of(const Weights& weights, const Motion& of_kind) {
  double grown = 0;
  for (std::size_t i = 1; i < weights.weighings.size(); ++i) {
    grown +=
        weights.weighings[i].growth * (weights.weighings[i].day - weights.weighings[i - 1].day);
  }
  Motion motion = of_kind;
  motion.rate_sd *= weights.restless;
  if (grown > 0) {
    const double days = weights.weighings.back().day - weights.weighings.front().day;
    motion.rate_sd = std::hypot(motion.rate_sd, (1 - kGrowthDue) * grown / days);
  }
  return motion;
}

double growth_at(const KindOfAnimal& kind, double log_mass, double days) {
  if (!(kind.growth_per_day > 0) || !(days > 0)) return 0;
  const double left = std::max(0.0, std::log(kind.adult_g) - log_mass);
  return left * (1 - std::exp(-kind.growth_per_day * days)) / days;
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// A sudden change: of what size, in ln mass, and how likely between two weighings. Common
/// practice, no source.
constexpr double kSudden = 0.15, kSuddenShare = 0.01;
/// At most so many of them.
constexpr int kMostSudden = 3;

/// Whether a weighing looks odd, and one of the next two in the same way.
bool begins_a_change(const std::vector<Weighing>& weighings, const WeightCourse& course,
                     std::size_t i) {
  const auto off = [&](std::size_t k) { return weighings[k].log_mass - course.states[k].level; };
  if (!(course.oddness[i] > 0.5)) return false;
  for (std::size_t k = i + 1; k < std::min(i + 3, weighings.size()); ++k) {
    if (course.oddness[k] > 0.5 && (off(k) > 0) == (off(i) > 0)) return true;
  }
  return false;
}

/// Weighings that look odd one by one, but agree with each other, are a sudden change: where taking
/// them for one makes all weighings likelier by more than it is unlikely itself, the mass may step.
void allow_sudden_changes(std::vector<Weighing>& weighings, const Motion& motion,
                          const WeightState& start) {
  for (int found = 0; found < kMostSudden; ++found) {
    const WeightCourse course = smoothed(weighings, motion, start);
    double best = course.log_likelihood - std::log(kSuddenShare), size = 0;
    Weighing* where = nullptr;
    for (std::size_t i = 1; i < weighings.size(); ++i) {
      if (!begins_a_change(weighings, course, i)) continue;
      const double leap = weighings[i].log_mass - weighings[i - 1].log_mass;
      const double variance = std::max(kSudden * kSudden, leap * leap);
      weighings[i].step_variance += variance;
      const double value = log_likelihood(weighings, motion, start);
      weighings[i].step_variance -= variance;
      if (value <= best) continue;
      best = value;
      where = &weighings[i];
      size = variance;
    }
    if (where == nullptr) break;
    where->step_variance += size;
  }
}

/// The course of an animal at its weighings and at further days, which ascend.
struct CourseOfAnimal {
  std::vector<Weighing> moments;
  WeightCourse course;  // at each
};
CourseOfAnimal course_at(const Weights& weights, const KindOfAnimal& kind, const Motion& of_kind,
                         std::span<const double> days) {
  const Motion motion = motion_of(weights, of_kind);
  const WeightState start = start_of(weights, motion);
  std::vector<Weighing> weighings = weights.weighings;
  allow_sudden_changes(weighings, motion, start);
  CourseOfAnimal out;
  auto day = days.begin();
  const auto pass_until = [&](double until, double growth) {
    for (; day != days.end() && *day < until; ++day) {
      if (!out.moments.empty()) out.moments.push_back({*day, 0, 0, kNever, growth, 0, 0});
    }
  };
  for (const Weighing& weighing : weighings) {
    pass_until(weighing.day, weighing.growth);
    out.moments.push_back(weighing);
  }
  if (!weighings.empty() && !days.empty()) {
    const Weighing& latest = weighings.back();
    pass_until(kNever, growth_at(kind, latest.log_mass - latest.contents,
                                 std::max(days.back() - latest.day, 1.0)));
  }
  out.course = smoothed(out.moments, motion, start);
  return out;
}

MassAt mass_at(double day, const WeightState& state) {
  const double half = kZ90 * std::sqrt(state.level_variance);
  return {day, std::exp(state.level), std::exp(state.level - half), std::exp(state.level + half)};
}

// What counts as what. The first three were set by simulation (bench/health_bench): at a chance of
// 90 % of more than 5 % lost a healthy animal weighed monthly is called slipping once in four
// years, and at 90 % of more than 10 % called much lost once in fifteen.
constexpr double kSlipping = 0.9, kLost = 0.9, kLostFifth = 0.5;
/// Weighings that are enough to say anything, and the growth below which none is missed. Common
/// practice, no source.
constexpr int kFewest = 3;
constexpr double kGrowing_pct_per_30d = 2;

Trend trend_of(const WeightReport& report) {
  if (report.believed < kFewest) return Trend::unknown;
  const bool lost = report.p_loss_over_10 >= kLost || report.p_loss_over_20 >= kLostFifth;
  if (lost || report.p_loss_over_5 >= kSlipping) {
    // Against growth that was due the mass itself need not have fallen.
    if (report.expected_pct_per_30d > 0 && report.rate_pct_per_30d > -1) return Trend::not_growing;
    return lost ? Trend::lost : Trend::slipping;
  }
  return report.rate_low > 0 ? Trend::gaining : Trend::steady;
}

/// The factor by which a slip changes a mass: a point misplaced, or another unit read.
struct Slip {
  double factor;
  const char* words;
};
constexpr std::array kSlips{Slip{10, "ten times"},
                            Slip{0.1, "a tenth"},
                            Slip{100, "a hundred times"},
                            Slip{0.01, "a hundredth"},
                            Slip{1000, "a thousand times"},
                            Slip{0.001, "a thousandth"},
                            Slip{28.35, "28 times, as if ounces were grams,"},
                            Slip{1 / 28.35, "a 28th, as if grams were ounces,"}};

}  // namespace

Weights weights_of(std::span<const Weighed> weighed, std::span<const KnownStep> steps,
                   const KindOfAnimal& kind) {
  Weights out;
  std::vector<std::size_t> order(weighed.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return weighed[a].day < weighed[b].day; });
  std::erase_if(order, [&](std::size_t i) {
    if (std::isfinite(weighed[i].mass_g) && weighed[i].mass_g > 0) return false;
    out.suspects.push_back({i, "not a mass"});
    return true;
  });
  // Two in one minute: the later written one counts where they agree, neither where they differ.
  std::vector<std::size_t> kept;
  for (std::size_t k = 0; k < order.size(); ++k) {
    const Weighed& one = weighed[order[k]];
    const bool twin = k + 1 < order.size() && weighed[order[k + 1]].day - one.day < kMinute_days;
    const bool was_twin = k > 0 && one.day - weighed[order[k - 1]].day < kMinute_days;
    const auto differs = [&](std::size_t other) {
      return std::fabs(std::log(one.mass_g / weighed[other].mass_g)) > 0.01;
    };
    if ((twin && differs(order[k + 1])) || (was_twin && differs(order[k - 1]))) {
      out.suspects.push_back({order[k], "two weighings in one minute, which differ"});
    } else if (!twin) {
      kept.push_back(order[k]);
    }
  }
  // Far from the median of the two before and the two after: a slip, unless a neighbour agrees.
  std::vector<char> slipped(kept.size(), 0);
  for (std::size_t k = 0; k < kept.size() && kept.size() >= 3; ++k) {
    const double own = std::log(weighed[kept[k]].mass_g);
    std::vector<double> around;
    bool believed = false;
    for (std::size_t j = k >= 2 ? k - 2 : 0; j < std::min(k + 3, kept.size()); ++j) {
      if (j == k) continue;
      around.push_back(std::log(weighed[kept[j]].mass_g));
      // Only the next one confirms it: one between the two that disagrees speaks against both.
      believed |= (j + 1 == k || j == k + 1) && std::fabs(around.back() - own) < kSlip;
    }
    const double off = own - median(around);
    if (believed || std::fabs(off) < kSlip) continue;
    std::string why = fmt::format("{:.2g} times what the weighings around it say", std::exp(off));
    for (const Slip& slip : kSlips) {
      if (std::fabs(off - std::log(slip.factor)) > 0.2) continue;
      why = fmt::format("{} what the weighings around it say", slip.words);
    }
    out.suspects.push_back({kept[k], std::move(why)});
    slipped[k] = 1;
  }
  for (std::size_t k = 0; k < kept.size(); ++k) {
    if (slipped[k] != 0) continue;
    const Weighed& one = weighed[kept[k]];
    // A scale that shows whole steps is off by up to half of one, evenly.
    const double rounding = one.step_g * one.step_g / 12 / (one.mass_g * one.mass_g);
    Weighing next{
        one.day, std::log(one.mass_g), one.contents, one.contents_variance + rounding, 0, 0, 0};
    if (!out.weighings.empty()) {
      const Weighing& last = out.weighings.back();
      next.growth = growth_at(kind, last.log_mass - last.contents, next.day - last.day);
      for (const KnownStep& step : steps) {
        if (step.day <= last.day || step.day > next.day) continue;
        next.step += step.mean;
        next.step_variance += step.variance;
      }
    }
    out.weighings.push_back(next);
  }
  return out;
}

double step_of(double mass_g, std::span<const double> scales) {
  static constexpr std::array kUsual{1.0, 0.1, 0.01};  // common practice, no source
  const std::span<const double> steps = scales.empty() ? std::span<const double>(kUsual) : scales;
  double coarsest = 0, finest = kNever;
  for (const double step : steps) {
    if (!(step > 0)) continue;
    finest = std::min(finest, step);
    const double times = mass_g / step;
    if (std::fabs(times - std::round(times)) < 1e-6 * times) coarsest = std::max(coarsest, step);
  }
  if (coarsest > 0) return coarsest;
  return std::isfinite(finest) ? finest : 0;
}

Motion fitted(std::span<const Weights> animals, const KindOfAnimal& kind) {
  // Every n-th animal, if there are more weighings than are needed.
  std::size_t count = 0;
  for (const Weights& animal : animals) count += animal.weighings.size();
  const std::size_t every = std::max<std::size_t>(1, count / kEnough);
  // How far from their priors' medians, in standard deviations: rate, wander, noise.
  using Point = std::array<double, 3>;
  const auto with = [&](const Point& at) {
    Motion motion = kind.usual;
    motion.rate_sd *= std::pow(kind.rate_sd_factor, at[0]);
    motion.wander_sd *= std::pow(kind.wander_sd_factor, at[1]);
    motion.noise_sd *= std::pow(kind.noise_sd_factor, at[2]);
    return motion;
  };
  const auto worth = [&](const Point& at) {
    const Motion of_kind = with(at);
    double sum = -0.5 * (at[0] * at[0] + at[1] * at[1] + at[2] * at[2]);
    for (std::size_t i = 0; i < animals.size(); i += every) {
      const Motion motion = motion_of(animals[i], of_kind);
      sum += log_likelihood(animals[i].weighings, motion, start_of(animals[i], motion));
    }
    return sum;
  };
  // A search along the axes by steps that are halved: the hill is smooth.
  Point at{};
  double best = worth(at);
  for (double step = 2; step > 0.1;) {
    const double before = best;
    for (double& place : at) {
      const double here = place;
      double chosen = here;
      for (const double there : {here + step, here - step}) {
        place = there;
        if (const double value = worth(at); value > best) {
          best = value;
          chosen = there;
        }
      }
      place = chosen;
    }
    if (!(best > before)) step /= 2;
  }
  return with(at);
}

std::optional<WeightReport> report_of(const Weights& weights, const KindOfAnimal& kind,
                                      const Motion& of_kind, double day) {
  if (weights.weighings.empty()) return std::nullopt;
  const std::array until{std::max(day, weights.weighings.back().day)};
  const auto [weighings, course] = course_at(weights, kind, of_kind, until);
  const std::size_t last = weights.weighings.size();
  const double growth = weighings[last].growth;
  const WeightState& now = course.states[last];

  WeightReport report;
  report.day = weighings[last].day;
  const MassAt mass = mass_at(report.day, now);
  report.mass_g = mass.mass_g;
  report.low_g = mass.low_g;
  report.high_g = mass.high_g;
  const auto in_30_days = [](double rate) { return 100 * std::expm1(30 * rate); };
  const double rate_half = kZ90 * std::sqrt(now.rate_variance);
  report.rate_pct_per_30d = in_30_days(growth + now.rate);
  report.rate_low = in_30_days(growth + now.rate - rate_half);
  report.rate_high = in_30_days(growth + now.rate + rate_half);
  report.expected_pct_per_30d = in_30_days(growth);

  // The highest of the year before, with the growth and the steps since.
  std::size_t best = last;
  std::vector<double> dues(last + 1, 0);
  double due = 0, most = now.level;
  for (std::size_t i = last; i-- > 0;) {
    const Weighing& after = weighings[i + 1];
    due += kGrowthDue * after.growth * (after.day - weighings[i].day) + after.step;
    if (report.day - weighings[i].day > kYear_days) break;
    dues[i] = due;
    const double level = course.states[i].level + due;
    if (level <= most) continue;
    most = level;
    best = i;
  }
  const double best_due = dues[best];
  // It began when the animal last stood all but there.
  std::size_t began = best;
  for (std::size_t i = best; i < last; ++i) {
    if (most - course.states[i].level - dues[i] < kBegun * (most - now.level)) began = i;
  }
  const WeightState& then = course.states[best];
  const double lost = now.level - then.level - best_due;
  const double variance = best == last ? 0
                                       : std::max(0.0, now.level_variance + then.level_variance -
                                                           2 * course.level_with_last[best]);
  const auto p_over = [&](double share) {
    if (best == last) return 0.0;
    return normal_cdf((std::log1p(-share) - lost) / std::sqrt(variance + 1e-12));
  };
  report.p_loss_over_5 = p_over(0.05);
  report.p_loss_over_10 = p_over(0.10);
  report.p_loss_over_20 = p_over(0.20);
  report.reference_g = std::exp(then.level + best_due);
  report.since_day = weighings[began].day;
  for (std::size_t i = 0; i < last; ++i) {
    report.level.push_back(course.states[i].level);
    report.level_sd.push_back(std::sqrt(course.states[i].level_variance));
  }
  report.believed = static_cast<int>(last);
  report.trend = trend_of(report);
  return report;
}

std::vector<MassAt> course_of(const Weights& weights, const KindOfAnimal& kind,
                              const Motion& of_kind, std::span<const double> days) {
  const CourseOfAnimal found = course_at(weights, kind, of_kind, days);
  std::vector<MassAt> masses;
  for (std::size_t i = 0; i < found.moments.size(); ++i) {
    if (std::isfinite(found.moments[i].variance)) continue;  // a weighing
    masses.push_back(mass_at(found.moments[i].day, found.course.states[i]));
  }
  return masses;
}

std::string reasons_of(const WeightReport& report, const std::string& since, UnitSystem units) {
  const auto shown = [&](double mass_g) { return for_people(Mass::grams(mass_g), units); };
  const auto percent = [](double p) { return fmt::format("{:.0f} %", 100 * p); };
  std::string text = fmt::format("{} ({} to {}), {:+.1f} % in 30 days ({:+.1f} to {:+.1f} %)",
                                 shown(report.mass_g), shown(report.low_g), shown(report.high_g),
                                 report.rate_pct_per_30d, report.rate_low, report.rate_high);
  if (report.expected_pct_per_30d > kGrowing_pct_per_30d) {
    text += fmt::format(", {:+.1f} % of growth expected", report.expected_pct_per_30d);
  }
  text += fmt::format("; of {} weighings. ", report.believed);
  if (report.believed >= kFewest && report.p_loss_over_5 > 0.05) {
    text += fmt::format(
        "Against {}, where it last stood on {}: the chance that more than 5 % is lost is {}, that "
        "more than 10 % is lost {}, that more than 20 % is lost {}. ",
        shown(report.reference_g), since, percent(report.p_loss_over_5),
        percent(report.p_loss_over_10), percent(report.p_loss_over_20));
  }
  text.pop_back();
  return text;
}

}  // namespace warmside::health
