#include "health/signs.h"

#include <algorithm>
#include <iterator>

#include "health/animal_weight.h"
#include "health/appetite.h"
#include "health/droppings_and_sheds.h"
#include "health/quarantine.h"

namespace warmside::health {

std::vector<Sign> signs_of(const room::AnimalDay& animal, const room::Day& day) {
  std::vector<Sign> signs;
  std::optional<MassTrend> mass;
  if (const auto weight = weight_of(animal, day)) {
    signs.push_back(weight_sign(*weight, animal, day));
    const WeightReport& report = weight->report;
    if (report.trend != Trend::unknown) {
      mass = MassTrend{report.rate_pct_per_30d, report.rate_low, report.rate_high};
    }
  }
  const auto add = [&](std::vector<Sign> more) {
    std::move(more.begin(), more.end(), std::back_inserter(signs));
  };
  add(appetite(animal, day, mass));
  add(sheds(animal, day));
  add(droppings(animal, day));
  add(quarantine_signs(animal, day));
  std::stable_sort(signs.begin(), signs.end(),
                   [](const Sign& a, const Sign& b) { return a.response > b.response; });
  return signs;
}

}  // namespace warmside::health
