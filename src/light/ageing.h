#pragma once
// How fast a UVB lamp fades, by the readings of a meter at one place: UVI = UVI0 exp(-t / tau). For
// the day on which a lamp is to be replaced. It knows nothing of a lamp that nobody has read, and
// of no cause but age: a lamp that was moved, a new meter or a dusty mesh look the same to it.
//
// ln UVI = a - k t is fitted by least squares with a prior on k: a keeper's first readings are too
// few to tell a rate. Readings that lie off the line of the others count less (Student's t with 4
// degrees of freedom, by iterated weights), so that one slip does not rule. k is not negative: no
// lamp grows stronger once it is burnt in.
//
// Equations and their sources: docs/models/light.md. Checked by: tests/unit/light/ageing_test.cpp.

#include <optional>
#include <span>
#include <vector>

#include "light/uv_field.h"

namespace warmside::light {

struct AgedReading {
  double day = 0;  // since any fixed day
  double uvi = 0;  // over 0; all at one place
};

/// What is known of a lamp's rate before it was read. Rates in 1/d.
struct AgeingPrior {
  /// 1/tau of the rule lamp_decay_time: one strong tube that halved in 180 days.
  double rate = 1.0 / 260;
  /// As wide as that tube lies from what keepers count on, a year to 70 % (rules lamp_life_t5 and
  /// uv_low_share): 1/260 - ln(1/0.7)/365.
  double rate_sd = 1.0 / 260 - 0.000977;
  /// Of one reading, as a logarithm: the place, the tilt and the warmth of the lamp differ. From
  /// memory, no source.
  double reading_sd = 0.1;
};
/// From the care rules.
AgeingPrior usual_ageing();

/// Days counted as in AgedReading::day; nothing: not before kFarthest_d.
struct DayBand {
  std::optional<double> best;
  std::optional<double> early;
  std::optional<double> late;
};

class Ageing {
 public:
  /// Readings in order of time. Null where there is none.
  static std::optional<Ageing> fit(std::span<const AgedReading> readings,
                                   const AgeingPrior& prior = usual_ageing());

  /// The days in which it falls to 1/e, 90 % band; high may be infinite.
  UvBand tau_d() const;
  /// UV index on a day by the fit, 90 % band.
  UvBand level(double day) const;
  /// Against the fit on another day, such as the first reading's.
  UvBand share(double day, double of_day) const;
  /// When it falls under a share of what it was on a day, or under a level, whichever comes first:
  /// the middle of what is likely and a 90 % band. A limit of 0 never holds.
  DayBand falls_below(double share, double of_day, double level) const;

  /// How much each reading counted, 1.25 at most: far under 1 for one that lies off the others.
  const std::vector<double>& weights() const { return weights_; }
  int readings() const { return static_cast<int>(weights_.size()); }
  double first_day() const { return first_day_; }
  double last_day() const { return last_day_; }
  /// Whether the readings say more than the prior: three or more over sixty days (our choice).
  bool informed() const { return readings() >= 3 && last_day_ - first_day_ >= 60; }

  static constexpr double kFarthest_d = 3650;  // after the last reading

 private:
  double rate_quantile(double p) const;

  std::vector<double> weights_;
  double first_day_ = 0, last_day_ = 0;
  double day0_ = 0;          // the mean day, for numbers' sake
  double a_ = 0, rate_ = 0;  // at day0_
  double a_variance_ = 0, covariance_ = 0, rate_variance_ = 0;
};

}  // namespace warmside::light
