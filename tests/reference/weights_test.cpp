// The weight model as it is used: how often its intervals hold, on data that it would make itself
// and on data that it would not; what it makes of slips, growth and known steps.

#include "health/weights.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <functional>
#include <random>
#include <sstream>
#include <string>

namespace warmside::health {
namespace {

using Random = std::mt19937;

double normal(Random& random) {
  return std::normal_distribution<double>()(random);
}
double uniform(Random& random, double low, double high) {
  return std::uniform_real_distribution<double>(low, high)(random);
}

/// Two years of weighings about a month apart, with what was true at each.
struct Simulated {
  std::vector<Weighed> weighed;
  std::vector<double> level;
};
/// `course`: ln mass day by day from a start; `noise`: of ln mass.
Simulated simulated(Random& random, const std::function<double(int day)>& course,
                    const std::function<double()>& noise) {
  Simulated out;
  double next = uniform(random, 0, 30);
  for (int day = 0; day < 730; ++day) {
    const double level = course(day);
    if (day < next) continue;
    out.level.push_back(level);
    out.weighed.push_back({static_cast<double>(day), std::exp(level + noise()), 0, 0});
    next += uniform(random, 20, 40);
  }
  return out;
}

using Maker = std::function<Simulated(Random&)>;

/// The shares of true masses inside the 90 % intervals, at every weighing and at the last one.
struct Coverage {
  double all = 0, last = 0;
};
Coverage coverage(const Maker& make) {
  constexpr int kAnimals = 400;
  Random random(20261125);
  const KindOfAnimal kind;
  std::vector<Simulated> simulated;
  std::vector<Weights> all;
  for (int i = 0; i < kAnimals; ++i) {
    simulated.push_back(make(random));
    all.push_back(weights_of(simulated.back().weighed, {}, kind));
  }
  const Motion motion = fitted(all, kind);
  double inside = 0, count = 0, inside_last = 0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const auto& one = simulated[i];
    // Slips are for other tests: nothing here is far enough off to be left out.
    EXPECT_EQ(all[i].weighings.size(), one.weighed.size());
    const auto report = report_of(all[i], kind, motion, one.weighed.back().day).value();
    for (std::size_t k = 0; k < report.level.size(); ++k) {
      inside += std::fabs(one.level[k] - report.level[k]) < 1.6448536 * report.level_sd[k];
      ++count;
    }
    inside_last +=
        std::exp(one.level.back()) > report.low_g && std::exp(one.level.back()) < report.high_g;
  }
  return {inside / count, inside_last / kAnimals};
}

void expect_ninety(const char* what, const Maker& make) {
  const Coverage found = coverage(make);
  std::printf("  %s: %.3f of all, %.3f of the last\n", what, found.all, found.last);
  EXPECT_GT(found.all, 0.85) << what;
  EXPECT_LT(found.all, 0.95) << what;
  EXPECT_GT(found.last, 0.85) << what;
  EXPECT_LT(found.last, 0.95) << what;
}

TEST(WeightsReference, IntervalsHoldOnTheModelsOwnData) {
  expect_ninety("its own", [](Random& random) {
    double level = 6 + 0.3 * normal(random), rate = 0.0007 * normal(random);
    const double keep = std::exp(-1.0 / 120);
    return simulated(
        random,
        [&, level, rate](int) mutable {
          rate = keep * rate + 0.0007 * std::sqrt(1 - keep * keep) * normal(random);
          return level += rate + 0.001 * normal(random);
        },
        [&] { return 0.03 * (uniform(random, 0, 1) < 0.05 ? 4 : 1) * normal(random); });
  });
}

TEST(WeightsReference, IntervalsHoldOnDataOfOtherModels) {
  // A mass that wanders without any trend, and noise of Student's t with three degrees of freedom.
  expect_ninety("wandering, t noise", [](Random& random) {
    std::student_t_distribution<double> t(3);
    double level = 6 + 0.3 * normal(random);
    return simulated(
        random, [&, level](int) mutable { return level += 0.004 * normal(random); },
        [&, t]() mutable { return 0.02 * t(random); });
  });
  // A mass that goes with the season, and noise that is even between two bounds.
  expect_ninety("seasons, even noise", [](Random& random) {
    const double size = uniform(random, 0, 0.06), phase = uniform(random, 0, 6.28);
    const double level = 4 + 0.3 * normal(random);
    return simulated(
        random, [=](int day) { return level + size * std::sin(6.283185 * day / 365 + phase); },
        [&] { return uniform(random, -0.05, 0.05); });
  });
  // A third lose 12 % within two months, and noise of Laplace.
  expect_ninety("sudden losses, Laplace noise", [](Random& random) {
    const bool loses = uniform(random, 0, 1) < 1.0 / 3;
    const double begin = uniform(random, 100, 600), level = 6 + 0.3 * normal(random);
    return simulated(
        random,
        [=](int day) {
          return level + (loses ? -0.128 * std::clamp((day - begin) / 60, 0.0, 1.0) : 0.0);
        },
        [&] {
          const double u = uniform(random, -0.5, 0.5);
          return -0.02 * std::copysign(std::log1p(-2 * std::fabs(u)), u);
        });
  });
}

std::vector<Weighed> monthly(std::initializer_list<double> masses) {
  std::vector<Weighed> weighed;
  for (const double mass : masses) {
    weighed.push_back({30.0 * static_cast<double>(weighed.size()), mass, 0, 0});
  }
  return weighed;
}
WeightReport last_report(const std::vector<Weighed>& weighed, const KindOfAnimal& kind,
                         std::span<const KnownStep> steps = {}) {
  const Weights weights = weights_of(weighed, steps, kind);
  return report_of(weights, kind, kind.usual, weighed.back().day).value();
}

TEST(Weights, AKnownStepIsNoLoss) {
  const auto weighed = monthly({80, 81, 80, 82, 81, 82, 66, 66, 67});
  EXPECT_EQ(last_report(weighed, {}).trend, Trend::lost);
  const KnownStep eggs{175, -0.2, 0.01};
  const WeightReport report = last_report(weighed, {}, {&eggs, 1});
  EXPECT_EQ(report.trend, Trend::steady);
  EXPECT_LT(report.p_loss_over_10, 0.5);
}

// Gompertz growth: a youngster of a tenth of its adult mass is expected to gain.
TEST(Weights, AYoungsterThatMerelyStopsGrowingIsNoticed) {
  KindOfAnimal kind;
  kind.growth_per_day = 0.003;
  kind.adult_g = 600;
  std::vector<double> masses{40};
  std::vector<Weighed> grows, stops;
  double mass = 40;
  for (int i = 0; i < 14; ++i) {
    grows.push_back({30.0 * i, mass, 0, 0});
    stops.push_back({30.0 * i, i < 8 ? mass : stops[7].mass_g, 0, 0});
    mass = 600 * std::exp(std::log(mass / 600) * std::exp(-0.003 * 30));
  }
  EXPECT_LT(last_report(grows, kind).p_loss_over_5, 0.05);
  EXPECT_GE(last_report(stops, kind).trend, Trend::not_growing);
  EXPECT_EQ(last_report(stops, KindOfAnimal{}).trend, Trend::steady);
}

TEST(Weights, FewWeighingsSayLittle) {
  EXPECT_FALSE(report_of(weights_of({}, {}, {}), {}, {}, 0));
  EXPECT_EQ(last_report(monthly({80}), {}).trend, Trend::unknown);
  const WeightReport two = last_report(monthly({80, 60}), {});
  EXPECT_EQ(two.trend, Trend::unknown);
  EXPECT_GT(two.high_g / two.low_g, 1.05);
  // The order in which they were written does not matter.
  auto turned = monthly({80, 81, 70, 69, 68});
  const double p = last_report(turned, {}).p_loss_over_10;
  std::reverse(turned.begin(), turned.end());
  const Weights weights = weights_of(turned, {}, {});
  EXPECT_EQ(report_of(weights, {}, {}, 120)->p_loss_over_10, p);
}

// --- real weights ---

struct Chick {
  std::string name;
  int diet = 0;
  std::vector<Weighed> weighed;
  bool early() const { return weighed.back().day < 21; }  // its series ends before the trial does
};
/// The chick growth trial of Crowder & Hand 1990, diets 1 and 2 (tests/data/README.md).
std::vector<Chick> chicks() {
  std::ifstream in(std::string(WARMSIDE_SOURCE) + "/tests/data/chick_weights_diet12.csv");
  std::vector<Chick> out;
  for (std::string line; std::getline(in, line);) {
    if (!line.starts_with("chick-")) continue;
    std::replace(line.begin(), line.end(), ',', ' ');
    std::istringstream row(line);
    std::string name;
    double day = 0, mass_g = 0;
    int diet = 0;
    row >> name >> day >> mass_g >> diet;
    if (out.empty() || out.back().name != name) out.push_back({name, diet, {}});
    out.back().weighed.push_back({day, mass_g, 0, 0});
  }
  return out;
}

/// Gompertz growth by least squares of the steps from weighing to weighing, on a grid.
KindOfAnimal growth_of(const std::vector<Chick>& grown) {
  KindOfAnimal best;
  double least = 1e300;
  for (double growth = 0.01; growth < 0.3; growth += 0.002) {
    for (double adult_g = 100; adult_g < 3000; adult_g *= 1.03) {
      double squares = 0;
      for (const Chick& chick : grown) {
        for (std::size_t i = 1; i < chick.weighed.size(); ++i) {
          const Weighed &from = chick.weighed[i - 1], &to = chick.weighed[i];
          const double left = std::log(adult_g / from.mass_g);
          const double kept = std::exp(-growth * (to.day - from.day));
          squares += std::pow(std::log(to.mass_g / adult_g) + left * kept, 2);
        }
      }
      if (squares >= least) continue;
      least = squares;
      best.growth_per_day = growth;
      best.adult_g = adult_g;
    }
  }
  return best;
}

// Chicks of diet 1 whose series ends early must be judged worse at their last weighing than those
// that live to the end. Growth and parameters come from diet 2 alone, of which none ends early.
TEST(WeightsReference, ChicksThatEndEarlyAreJudgedWorse) {
  std::vector<Chick> judged, others;
  for (Chick& chick : chicks()) (chick.diet == 1 ? judged : others).push_back(std::move(chick));
  ASSERT_EQ(judged.size(), 20u);
  ASSERT_EQ(others.size(), 10u);
  KindOfAnimal kind = growth_of(others);
  // Three weeks, not years: trends that last two of them, of some per cent a day.
  kind.usual = {0.02, 15, 0.005, 0.02, 0.05, 4};
  std::vector<Weights> learned;
  for (const Chick& chick : others) learned.push_back(weights_of(chick.weighed, {}, kind));
  const Motion motion = fitted(learned, kind);
  std::vector<double> early, late;
  for (const Chick& chick : judged) {
    const auto report =
        report_of(weights_of(chick.weighed, {}, kind), kind, motion, chick.weighed.back().day);
    (chick.early() ? early : late).push_back(report->p_loss_over_10);
  }
  ASSERT_EQ(early.size(), 4u);
  double worse = 0;
  for (const double a : early) {
    for (const double b : late) worse += a > b ? 1 : a == b ? 0.5 : 0;
  }
  const double area = worse / static_cast<double>(early.size() * late.size());
  std::printf("  chicks: area under the ROC curve %.3f, of %zu and %zu\n", area, early.size(),
              late.size());
  EXPECT_GT(area, 0.8);
}

}  // namespace
}  // namespace warmside::health
