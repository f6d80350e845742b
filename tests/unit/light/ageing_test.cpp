// How lamps fade: closed forms of the fit, and how often its bands hold on lamps that fade by the
// model with noise from a fixed seed.

#include "light/ageing.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace warmside::light {
namespace {

/// Readings that follow UVI0 exp(-t / tau).
std::vector<AgedReading> fading(double uvi0, double tau_d, std::initializer_list<double> days) {
  std::vector<AgedReading> made;
  for (const double day : days) made.push_back({day, uvi0 * std::exp(-day / tau_d)});
  return made;
}

Ageing fit(const std::vector<AgedReading>& readings) {
  return Ageing::fit(readings).value();
}

// Five-Minute Veterinary Consult (fmvc_reptile): a strong tube, 50 uW/cm2 new and 25 after 6 months
// at the same place. ln 2 = 180 / tau gives tau = 259.7 d, which is the prior's middle as well.
TEST(Ageing, HalvedInHalfAYear) {
  const Ageing made = fit({{0, 50}, {180, 25}});
  EXPECT_NEAR(made.tau_d().best, 260, 3);
  EXPECT_LT(made.tau_d().low, 230);
  EXPECT_GT(made.tau_d().high, 300);
}

TEST(Ageing, ThePriorIsThatOfTheCareRules) {
  const AgeingPrior prior = usual_ageing();
  EXPECT_NEAR(prior.rate, 1.0 / 260, 1e-12);                               // lamp_decay_time
  EXPECT_NEAR(prior.rate_sd, 1.0 / 260 - std::log(1 / 0.7) / 365, 1e-12);  // lamp_life_t5, 70 %
  EXPECT_NEAR(AgeingPrior().rate_sd, prior.rate_sd, 1e-6);
}

TEST(Ageing, ManyExactReadingsGiveTheirOwnRate) {
  for (const double tau : {150.0, 400.0, 1200.0}) {
    std::vector<AgedReading> readings;
    for (int i = 0; i <= 24; ++i) readings.push_back({30.0 * i, 5 * std::exp(-30.0 * i / tau)});
    const Ageing made = fit(readings);
    EXPECT_NEAR(1 / made.tau_d().best, 1 / tau, 5e-5) << tau;
    // The day of 70 %: tau ln(1/0.7) after the first.
    EXPECT_NEAR(*made.falls_below(0.7, 0, 0).best, tau * std::log(1 / 0.7),
                0.05 * tau * std::log(1 / 0.7));
    EXPECT_NEAR(made.level(360).best, 5 * std::exp(-360 / tau), 0.05);
    EXPECT_NEAR(made.share(360, 0).best, std::exp(-360 / tau), 0.02);
  }
}

// One reading tells the level, not the rate: the middle is that of the prior cut off at nothing.
TEST(Ageing, ASingleReadingLeavesAWideBand) {
  const Ageing made = fit({{100, 3}});
  EXPECT_NEAR(made.level(100).best, 3, 1e-9);
  EXPECT_NEAR(made.level(100).high / 3, std::exp(1.645 * 0.1), 1e-3);
  EXPECT_FALSE(made.informed());
  const DayBand days = made.falls_below(0.7, 100, 0);
  EXPECT_LT(*days.early, 100 + 60);
  EXPECT_GT(days.late.value_or(1e9), 100 + 365);
  EXPECT_GT(*days.best, *days.early);
}

// With a prior far from nothing the rate after one reading is normal: mean m, standard deviation s.
// z(0.95) = 1.6448536 (any table of the normal distribution).
TEST(Ageing, QuantilesOfTheNormalDistribution) {
  const AgeingPrior prior{0.01, 0.001, 0.1};
  const UvBand tau = Ageing::fit(std::vector<AgedReading>{{0, 3}}, prior)->tau_d();
  EXPECT_NEAR(1 / tau.best, 0.01, 1e-10);
  EXPECT_NEAR(1 / tau.low, 0.01 + 1.6448536e-3, 1e-9);
  EXPECT_NEAR(1 / tau.high, 0.01 - 1.6448536e-3, 1e-9);
}

TEST(Ageing, NoReadingsNoFit) {
  EXPECT_FALSE(Ageing::fit({}).has_value());
}

// One reading with the decimal point or the place wrong does not rule.
TEST(Ageing, ASlipCountsLittle) {
  auto readings = fading(4, 800, {0, 30, 60, 90, 120, 150, 180, 210, 240, 270, 300});
  const double without = fit(readings).tau_d().best;
  readings[10].uvi *= 0.3;
  const Ageing made = fit(readings);
  EXPECT_LT(made.weights()[10], 0.1);
  EXPECT_GT(made.weights()[5], 1);
  EXPECT_NEAR(made.tau_d().best / without, 1, 0.25);
  readings[10].uvi = readings[9].uvi;
  EXPECT_GT(fit(readings).weights()[10], 1);
}

TEST(Ageing, ReadingsThatRiseGiveNoDay) {
  const Ageing made = fit({{0, 2}, {60, 2.2}, {120, 2.45}, {180, 2.7}, {240, 3}, {300, 3.3}});
  EXPECT_GE(made.tau_d().best, 1500);
  EXPECT_LE(made.share(300, 0).high, 1);  // nothing grows stronger
  const DayBand days = made.falls_below(0.7, 0, 0);
  EXPECT_FALSE(days.late.has_value());
  EXPECT_GT(days.best.value_or(1e9), 600);
}

TEST(Ageing, ALevelThatComesFirst) {
  const auto readings = fading(4, 400, {0, 30, 60, 90, 120, 150, 180});
  const Ageing made = fit(readings);
  // 70 % at 143 d; index 3.5 at 400 ln(4/3.5) = 53 d; index 2 at 277 d.
  EXPECT_NEAR(*made.falls_below(0.7, 0, 3.5).best, 53, 15);
  EXPECT_NEAR(*made.falls_below(0.7, 0, 2).best, 143, 20);
  EXPECT_NEAR(*made.falls_below(0, 0, 2).best, 277, 35);
  // Both bands are ordered.
  const DayBand days = made.falls_below(0.7, 0, 2);
  EXPECT_LT(*days.early, *days.best);
  EXPECT_LT(*days.best, *days.late);
}

TEST(Ageing, TheUnitOfTheReadingsDoesNotMatter) {
  auto readings = fading(4, 400, {0, 35, 61, 99, 120});
  readings[2].uvi *= 1.07;
  const double tau = fit(readings).tau_d().best;
  for (AgedReading& r : readings) {
    r.uvi *= 50;
    r.day += 20000;
  }
  EXPECT_NEAR(fit(readings).tau_d().best, tau, 1e-6 * tau);
}

// 2,000 lamps whose rate comes from the prior (cut off at nothing), read monthly with an error of
// 10 %: the true day of 70 % lies in a 90 % band nine times in ten. Of 2,000 the share has a
// standard error of 0.7 %; the weights against slips cost a little more.
TEST(Ageing, TheBandOfDaysHoldsNineInTen) {
  for (const int n : {3, 6, 12}) {
    std::mt19937_64 random(20261125);
    std::normal_distribution<double> normal(0, 1);
    const AgeingPrior prior = usual_ageing();
    int held = 0;
    const int lamps = 2000;
    for (int lamp = 0; lamp < lamps; ++lamp) {
      double rate = -1;
      while (rate <= 0) rate = prior.rate + prior.rate_sd * normal(random);
      std::vector<AgedReading> readings;
      for (int i = 0; i < n; ++i) {
        readings.push_back({30.0 * i, 3 * std::exp(-rate * 30 * i + 0.1 * normal(random))});
      }
      const DayBand days = fit(readings).falls_below(0.7, 0, 0);
      const double truth = std::log(1 / 0.7) / rate;
      const bool late_enough = !days.late || truth <= *days.late;
      const bool early_enough = days.early && truth >= *days.early;
      held += late_enough && early_enough ? 1 : 0;
    }
    EXPECT_GE(held, 0.87 * lamps) << n << " readings, seed 20261125";
    EXPECT_LE(held, 0.93 * lamps) << n << " readings, seed 20261125";
  }
}

}  // namespace
}  // namespace warmside::light
