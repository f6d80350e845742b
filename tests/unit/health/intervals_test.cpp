// The model of gaps. Values of the tables from scipy 1.10.1, the call beside each; they stand in
// for printed tables of Student's t, which have fewer digits.

#include "health/intervals.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace warmside::health {
namespace {

TEST(StudentSurvival, IsThatOfScipy) {
  struct Case {
    double t, freedom, survival;  // scipy.stats.t.sf(t, freedom)
  };
  constexpr Case kCases[] = {
      {0, 3, 0.5},
      {1, 1, 0.25},
      {2.132, 4, 0.0499913863695707},
      {-1.5, 7.5, 0.912759714706768},
      {3, 38, 0.00237316610851694},
      {12, 6, 1.01537030976866e-05},
      {40, 2.5, 7.09781714524669e-05},
      {2, 1000, 0.0228851732466258},
      {0.001, 5, 0.499620393386099},
  };
  for (const Case& c : kCases) {
    // lgamma and the continued fraction lose two or three digits of sixteen.
    EXPECT_NEAR(student_survival(c.t, c.freedom), c.survival, 1e-12 * c.survival + 1e-15)
        << c.t << " with " << c.freedom;
  }
}

TEST(StudentSurvival, OfTheUncommonIsNoSurprise) {
  EXPECT_EQ(student_survival(1e200, 3), 0);
  EXPECT_EQ(student_survival(-1e200, 3), 1);
  EXPECT_EQ(student_survival(INFINITY, 3), 0);
  EXPECT_EQ(student_survival(-INFINITY, 3), 1);
  // With one degree of freedom: 1/2 - atan(t) / pi (the Cauchy distribution).
  for (const double t : {-30.0, -1.0, 0.3, 2.0, 500.0}) {
    EXPECT_NEAR(student_survival(t, 1), 0.5 - std::atan(t) / M_PI, 1e-13) << t;
  }
}

TEST(GapWeight, FadesAndFollowsTheSeason) {
  EXPECT_DOUBLE_EQ(gap_weight(0, 0, {365, 0}), 1);
  EXPECT_DOUBLE_EQ(gap_weight(365, 200, {365, 0}), 0.5);
  EXPECT_DOUBLE_EQ(gap_weight(730, 0, {365, 0.6}), 0.25);
  // Half a year apart: (1 - 0.6) / (1 + 0.6) = 1/4 of the same time of the year.
  EXPECT_NEAR(gap_weight(0, 183, {365, 0.6}), 0.25, 1e-4);
  EXPECT_NEAR(gap_weight(0, 365, {365, 0.6}), 1, 1e-4);
  EXPECT_DOUBLE_EQ(gap_weight(-3, 0, {365, 0}), 1);
}

constexpr GapPrior kPython{14, 0.5, 2, 6};
constexpr GapPrior kGecko{2, 0.5, 2, 6};

// The predictive survival by integrating over mean and variance, without the closed form:
//   x = log(gaps); g(mu, v) = norm.pdf(mu, log(median), sqrt(v / 2)) *
//       invgamma.pdf(v, 3, scale=3 * 0.5**2) * prod(norm.pdf(x, mu, sqrt(v)) ** weight)
//   integral of g * norm.sf(log(length), mu, sqrt(v)) / integral of g,
// scipy.integrate.quad twice over, epsrel 1e-10.
TEST(GapModel, IsTheIntegralOverMeanAndSpread) {
  EXPECT_NEAR(learn(kPython, {}).survival(49), 0.043375284061775835, 1e-9);
  const std::vector<Gap> python{{14}, {15}, {28}};
  EXPECT_NEAR(learn(kPython, python).survival(49), 0.02748252106387471, 1e-9);
  const std::vector<Gap> gecko{{2, 1}, {2, 0.9}, {3, 0.8}, {2, 0.7}, {1, 0.6}, {4, 0.5}};
  EXPECT_NEAR(learn(kGecko, gecko).survival(7), 0.015303807053593634, 1e-9);
}

TEST(GapModel, KnowsOnWhatItRests) {
  const GapModel nothing = learn(kPython, {});
  EXPECT_EQ(nothing.gaps, 0);
  EXPECT_EQ(nothing.weight, 0);
  EXPECT_DOUBLE_EQ(nothing.median(), 14);
  const GapModel some = learn(kPython, std::vector<Gap>{{28, 1}, {28, 0.5}, {28, 0.5}});
  EXPECT_EQ(some.gaps, 3);
  EXPECT_DOUBLE_EQ(some.weight, 2);
  EXPECT_DOUBLE_EQ(some.freedom, 8);
  // Two gaps of 28 against a prior worth two of 14: their geometric mean.
  EXPECT_NEAR(some.median(), std::sqrt(14.0 * 28.0), 1e-12);
}

TEST(GapModel, AnOpenGapIsJudgedByWhatIsLeft) {
  const GapModel model = learn(kPython, {});
  EXPECT_EQ(model.survival(0), 1);
  EXPECT_EQ(model.survival(-3), 1);
  EXPECT_NEAR(model.survival(14), 0.5, 1e-12);
  EXPECT_EQ(model.survival_given(20, 30), 1);
  EXPECT_NEAR(model.survival_given(60, 30), model.survival(60) / model.survival(30), 1e-15);
  EXPECT_GT(model.survival_given(60, 30), model.survival(60));
}

TEST(GapModel, ALeastScaleHoldsAgainstTheClock) {
  const std::vector<Gap> clockwork(40, Gap{14, 1});
  EXPECT_LT(learn(kPython, clockwork).scale, 0.25);
  EXPECT_EQ(learn(kPython, clockwork, 0.55).scale, 0.55);
  // One meal passed over: ln 2 / 0.55 = 1.260, scipy.stats.t.sf(1.260, 46) = 0.1070.
  EXPECT_NEAR(learn(kPython, clockwork, 0.55).survival(28), 0.1070, 1e-4);
}

TEST(ShareAsLong, IsTheOwnShareByWeight) {
  const std::vector<Gap> gaps{{10, 1}, {14, 1}, {126, 0.5}};
  EXPECT_DOUBLE_EQ(share_as_long(gaps, 84, 2), 0.5 / 4.5);
  EXPECT_DOUBLE_EQ(share_as_long(gaps, 126, 2), 0.5 / 4.5);
  EXPECT_EQ(share_as_long(gaps, 127, 2), 0);
  EXPECT_EQ(share_as_long({}, 1, 2), 0);
}

TEST(GapModel, RefusesNonsense) {
  EXPECT_DEATH(learn({0, 0.5, 2, 6}, {}), "median");
  EXPECT_DEATH(learn({14, 0, 2, 6}, {}), "spread");
  EXPECT_DEATH(learn(kPython, std::vector<Gap>{{0, 1}}), "length");
  EXPECT_DEATH(learn(kPython, std::vector<Gap>{{3, 1.5}}), "weight");
  EXPECT_DEATH(share_as_long({}, 1, 0), "worth");
  EXPECT_DEATH(gap_weight(1, 1, {0, 0}), "half_life");
  EXPECT_DEATH(gap_weight(1, 1, {365, 1}), "season");
}

}  // namespace
}  // namespace warmside::health
