// What the weight model makes of a series, for statsmodels_check.py: reads from standard input the
// motion (rate_sd memory_days wander_sd noise_sd odd_share odd_factor), the start (level rate and
// the three variances) and the weighings (day log_mass contents variance growth step
// step_variance), prints the likelihood and then for each weighing level, rate, level_variance,
// covariance, rate_variance.

#include <fmt/format.h>

#include <iostream>

#include "health/weight_model.h"

int main() {
  using namespace warmside::health;
  Motion motion;
  WeightState start;
  std::cin >> motion.rate_sd >> motion.memory_days >> motion.wander_sd >> motion.noise_sd >>
      motion.odd_share >> motion.odd_factor >> start.level >> start.rate >> start.level_variance >>
      start.covariance >> start.rate_variance;
  std::vector<Weighing> weighings;
  for (Weighing w; std::cin >> w.day >> w.log_mass >> w.contents >> w.variance >> w.growth >>
                   w.step >> w.step_variance;) {
    weighings.push_back(w);
  }
  const WeightCourse course = smoothed(weighings, motion, start);
  fmt::print("{:.17g}\n", course.log_likelihood);
  for (const WeightState& s : course.states) {
    fmt::print("{:.17g} {:.17g} {:.17g} {:.17g} {:.17g}\n", s.level, s.rate, s.level_variance,
               s.covariance, s.rate_variance);
  }
  return 0;
}
