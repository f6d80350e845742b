#include "health/signs.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "health/appetite.h"
#include "health/droppings_and_sheds.h"
#include "health/mass_loss.h"
#include "health/quarantine.h"

namespace warmside::health {

std::vector<Sign> SignsOfDay::of(const room::AnimalDay& animal) {
  const room::Day& day = *day_;
  std::vector<Sign> signs;
  std::optional<MassTrend> mass;
  if (const auto weight = weights_.of(animal)) {
    signs.push_back(weight_sign(*weight, animal, day));
    const WeightReport& report = weight->report;
    if (report.trend != Trend::unknown) {
      mass = MassTrend{report.rate_pct_per_30d, report.rate_low, report.rate_high,
                       MassTrend::Lost{report.p_loss_over_5, report.p_loss_over_10}};
    }
  }
  if (const auto condition = conditions_.of(animal)) {
    if (auto sign = body_condition_sign(*condition, animal, day)) signs.push_back(std::move(*sign));
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
  SignsOfDay signs_of_day(day);
  std::vector<Finding> found;
  for (const room::AnimalDay& animal : day.animals) {
    auto finding = lost_by_rule(animal, day);
    for (const Sign& sign : signs_of_day.of(animal)) {
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
