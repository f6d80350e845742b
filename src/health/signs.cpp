#include "health/signs.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "health/appetite.h"
#include "health/droppings_and_sheds.h"
#include "health/mass_loss.h"
#include "health/quarantine.h"

namespace warmside::health {

AnimalHealth HealthOfDay::of(const room::AnimalDay& animal) {
  const room::Day& day = *day_;
  AnimalHealth found{weights_.of(animal), conditions_.of(animal), {}};
  std::optional<MassTrend> mass;
  if (found.weight) {
    found.signs.push_back(weight_sign(*found.weight, animal, day));
    const WeightReport& report = found.weight->report;
    if (report.trend != Trend::unknown) {
      mass = MassTrend{report.rate_pct_per_30d, report.rate_low, report.rate_high,
                       MassTrend::Lost{report.p_loss_over_5, report.p_loss_over_10}};
    }
  }
  const auto add = [&](auto more) {
    std::move(more.begin(), more.end(), std::back_inserter(found.signs));
  };
  if (found.condition) {
    if (auto sign = body_condition_sign(*found.condition, animal, day)) {
      found.signs.push_back(std::move(*sign));
    }
  }
  add(appetite(animal, day, mass));
  add(sheds(animal, day));
  add(droppings(animal, day));
  add(quarantine_signs(animal, day));
  std::stable_sort(found.signs.begin(), found.signs.end(),
                   [](const Sign& a, const Sign& b) { return a.response > b.response; });
  return found;
}

namespace {

When when_of(Response response) {
  switch (response) {
    case Response::call_vet:
      return When::today;
    case Response::weigh_again:
      return When::this_week;
    case Response::watch:
    case Response::change_nothing:
      break;
  }
  return When::good_to_know;
}

}  // namespace

std::vector<Finding> findings(const room::Day& day) {
  HealthOfDay health_of_day(day);
  std::vector<Finding> found;
  for (const room::AnimalDay& animal : day.animals) {
    auto finding = lost_by_rule(animal, day);
    for (const Sign& sign : health_of_day.of(animal).signs) {
      if (sign.response == Response::change_nothing && !sign.offers) continue;
      if (!finding) {
        finding = Finding{when_of(sign.response),
                          "animal",
                          animal.animal->id.text(),
                          fmt::format("{} {}", room::called(*animal.animal), sign.says),
                          sign.evidence,
                          sign.advice,
                          sign.source,
                          "health"};
      } else {
        finding->evidence += fmt::format(" It {}: {}", sign.says, sign.evidence);
      }
      if (sign.response == Response::call_vet && !sign.for_vet.empty()) {
        finding->advice += fmt::format(" Tell them: {}", sign.for_vet);
      }
    }
    if (finding) found.push_back(std::move(*finding));
  }
  return found;
}

}  // namespace warmside::health
