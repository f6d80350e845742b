#pragma once
// How long the gaps between events of one animal are: meals, sheds, droppings. The species tells
// what to expect before anything is known, the animal's own gaps teach the rest, and the answer is
// how seldom a gap gets as long as the present one. Equations: docs/models/health.md.
//
// Gaps are taken as log-normal. A fast is a multiple of the usual gap, for a gecko fed every other
// day as for a python fed every other week, so that the logarithm puts both on one scale; and with
// a prior for mean and spread together (normal and inverse gamma) the predictive distribution is a
// Student t in closed form. A gamma distribution would need a sum or a sampler for its shape, and
// its tail is too thin for animals that fast.
//
// A length has no unit here: days for meals, meals for droppings.
//
// The open gap is censored: it is at least as long as it is now. It is what is judged, so it
// teaches nothing; taken in, a long fast would excuse itself.

#include <span>

namespace warmside::health {

/// P(T >= t) of Student's t. freedom: degrees of freedom, above 0.
/// Source: Abramowitz & Stegun 1964, eq. 26.7.1 with 26.5.27 (the incomplete beta function).
/// Checked by: tests/unit/health/intervals_test.cpp against scipy.
double student_survival(double t, double freedom);

/// What is expected of an animal of which nothing is known.
struct GapPrior {
  double median = 0;        // of its gaps; above 0
  double spread = 0;        // standard deviation of the gap's natural logarithm; above 0
  double worth_median = 0;  // how many own gaps weigh as much as `median`; above 0
  double worth_spread = 0;  // and as much as `spread`; above 0
};

/// A gap that has ended.
struct Gap {
  double length = 0;  // above 0
  double weight = 1;  // 0 to 1: how much it says of the present
};

/// How fast the past fades, and whether the season counts.
struct GapMemory {
  double half_life_d = 365;  // a gap this old counts half; above 0
  double season = 0;         // 0: every season alike; to below 1: the same time of the year counts
                             // (1 + season) / (1 - season) times as much as the opposite time
};
/// 2^(-ago / half life) * (1 + season * cos(2 pi * apart / 365.25)) / (1 + season).
/// ago_d: days from the end of the gap to the beginning of the open one, 0 or more; apart_d: days
/// between the beginnings of the two. Common practice, no source.
double gap_weight(int ago_d, int apart_d, const GapMemory& memory);

/// What the record says of the next gap: the logarithm of its length is `location` plus `scale`
/// times a Student t with `freedom` degrees of freedom.
struct GapModel {
  double location = 0;
  double scale = 0;
  double freedom = 0;
  int gaps = 0;       // of the animal's own
  double weight = 0;  // their weights together

  /// P(gap >= length). 1 for lengths of 0 and below.
  double survival(double length) const;
  /// P(gap >= length) of a gap that has lasted `open` already; 1 for length <= open.
  double survival_given(double length, double open) const;
  /// Half of the gaps are longer. The mean of such a gap is infinite and is not asked for: fasts
  /// are so long that no number of gaps settles it.
  double median() const;
};

/// The posterior predictive distribution. Weights enter as powers of the likelihood, which keeps
/// the closed form; with all weights 1 and the prior true, survival() at a new gap is uniform.
/// least_scale: `scale` is never below; 0: no limit. Use it where a rhythm that is not the
/// animal's, such as the keeper's feeding days, makes gaps look more regular than they are.
/// Source: Gelman et al., Bayesian Data Analysis, 3rd ed. 2013, section 3.3 (from memory; derived
/// again in docs/models/health.md); power likelihood: common practice, no source.
GapModel learn(const GapPrior& prior, std::span<const Gap> gaps, double least_scale = 0);

/// The share of gaps at least this long, by weight, beside `worth` gaps that are not. One
/// log-normal cannot hold both feeding and fasting; this is what keeps a fast that an animal is
/// known for from being called rarer than it has been. Not calibrated: take the greater of this and
/// survival(). worth: above 0. Common practice, no source.
double share_as_long(std::span<const Gap> gaps, double length, double worth);

}  // namespace warmside::health
