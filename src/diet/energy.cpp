#include "diet/energy.h"

#include <fmt/format.h>

#include <cmath>

namespace warmside::diet {
namespace {

constexpr double kTissue_kj_per_g = 7;  // see corrected()
constexpr double kTissueLogSd = 0.4;

/// The log-sd of a log-normal with these tenth and ninetieth percentiles.
double log_sd_between(double low, double high) {
  return std::log(high / low) / (2 * kTenthPercentile);
}

Temperature middle_of(const Range<Temperature>& range) {
  return range.low + 0.5 * (range.high - range.low);
}

Result<Range<Temperature>> wanted(const species::Profile& profile, species::Key key) {
  if (const auto* range = profile.value<Range<Temperature>>(key)) return *range;
  return Problem{ProblemCode::missing,
                 fmt::format("the profile of {} does not say it", profile.id.text()),
                 {"", 0, std::string(species::key_info(key).name)},
                 "",
                 ""};
}

Problem refused(const char* field, const char* what, const char* expected) {
  return {ProblemCode::out_of_range, what, {"", 0, field}, expected, ""};
}

}  // namespace

Result<DayOfWarmth> assumed_day(const species::Profile& profile) {
  const auto warm = wanted(profile, species::Key::warm_side_air);
  if (!warm) return warm.problem();
  const auto cool = wanted(profile, species::Key::cool_side);
  if (!cool) return cool.problem();
  const auto night = wanted(profile, species::Key::night);
  if (!night) return night.problem();
  const auto* light = profile.value<Duration>(species::Key::photoperiod_summer);
  if (light == nullptr) {
    return Problem{ProblemCode::missing,
                   fmt::format("the profile of {} does not say it", profile.id.text()),
                   {"", 0, "photoperiod_summer"},
                   "",
                   ""};
  }
  if (!(*light >= Duration::hours(0) && *light <= Duration::hours(24))) {
    return refused("photoperiod_summer", "a day has no such hours of light", "0h to 24h");
  }
  const int lit_hours = static_cast<int>(std::lround(light->hours()));
  const int first_lit = 12 - (lit_hours + 1) / 2;
  DayOfWarmth day;
  day.low.fill(night->low);
  day.middle.fill(middle_of(*night));
  day.high.fill(night->high);
  for (int i = 0; i < lit_hours; ++i) {
    const auto hour = static_cast<std::size_t>(first_lit + i);
    day.low[hour] = middle_of(*cool);
    day.middle[hour] = middle_of(i % 2 == 0 ? *warm : *cool);
    day.high[hour] = middle_of(*warm);
  }
  day.assumed = fmt::format(
      "assumed from the care profile: {} h of light between {} and {} by turns, a night at {}",
      lit_hours, for_people(middle_of(*warm)), for_people(middle_of(*cool)),
      for_people(middle_of(*night)));
  return day;
}

Result<MetabolicRate> daily_rate(Group group, Mass mass, const HoursOfWarmth& hours) {
  Energy sum;
  MetabolicRate whole;
  for (const Temperature body : hours) {
    auto rate = metabolic_rate(group, mass, body);
    if (!rate) return rate.problem();
    sum += rate->per_day.middle / static_cast<double>(hours.size());
    whole = *rate;
  }
  whole.per_day = band_about(sum, whole.log_sd);
  return whole;
}

Multiplier multiplier(Stage stage) {
  switch (stage) {
    case Stage::maintenance:
      return {1.5, 2};
    case Stage::active:
      return {2, 3};
    case Stage::growth:
      return {2, 4};
    case Stage::breeding:
      return {2, 3};
    case Stage::convalescence:
      return {1.1, 1.3};
  }
  WS_CHECK(false);
}

Result<DailyNeed> daily_need(Group group, Mass mass, const DayOfWarmth& day, Stage stage) {
  const auto low = daily_rate(group, mass, day.low);
  if (!low) return low.problem();
  const auto middle = daily_rate(group, mass, day.middle);
  if (!middle) return middle.problem();
  const auto high = daily_rate(group, mass, day.high);
  if (!high) return high.problem();
  const Multiplier times = multiplier(stage);
  const double day_sd = log_sd_between(1, high->per_day.middle / low->per_day.middle);
  return DailyNeed{middle->per_day.middle * std::sqrt(times.low * times.high),
                   std::hypot(middle->log_sd, day_sd, log_sd_between(times.low, times.high))};
}

Result<NeedRatio> corrected(const NeedRatio& before, Energy predicted_per_day,
                            const FedPeriod& period) {
  WS_CHECK(before.log_sd > 0 && predicted_per_day > Energy::joules(0));
  if (!(period.length >= Duration::days(1) && period.length <= Duration::days(3650))) {
    return refused("length", "not a time over which an animal shows what it burns",
                   "1 day to 10 years, best three months or more");
  }
  if (!(period.eaten >= Energy::joules(0)) || !is_valid(period.eaten)) {
    return refused("eaten", "not an amount of food", "0kJ or more");
  }
  if (!(period.eaten_log_sd >= 0 && period.eaten_log_sd < 2)) {
    return refused("eaten_log_sd", "not a spread", "0 to 2");
  }
  if (!std::isfinite(period.gained.grams()) || !is_valid(period.gained_sd)) {
    return refused("gained", "not a change of mass", "grams, with a spread of 0g or more");
  }
  const double eaten_kj = period.eaten.kilojoules();
  const double stored_kj = kTissue_kj_per_g * period.gained.grams();
  const double burned_kj = eaten_kj - stored_kj;
  const double burned_sd_kj = std::hypot(eaten_kj * period.eaten_log_sd, stored_kj * kTissueLogSd,
                                         kTissue_kj_per_g * period.gained_sd.grams());
  if (!(burned_kj > burned_sd_kj)) {
    return refused("gained", "what was eaten and the change of mass do not tell what was burned",
                   "a longer time, or a change of mass that is small beside the food");
  }
  const double y = std::log(burned_kj / (predicted_per_day.kilojoules() * period.length.days()));
  const double sd = std::max(burned_sd_kj / burned_kj, 1e-6);
  const double precision = 1 / (before.log_sd * before.log_sd) + 1 / (sd * sd);
  return NeedRatio{(before.log_mean / (before.log_sd * before.log_sd) + y / (sd * sd)) / precision,
                   1 / std::sqrt(precision)};
}

DailyNeed corrected_need(const DailyNeed& predicted, const NeedRatio& ratio) {
  return {predicted.middle * std::exp(ratio.log_mean), ratio.log_sd};
}

}  // namespace warmside::diet
