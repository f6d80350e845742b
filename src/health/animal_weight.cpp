#include "health/animal_weight.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace warmside::health {
namespace {

using room::Entry;
using room::EntryKind;

constexpr double kDay_ms = 86'400'000;
constexpr const char* kSource =
    "weight model (docs/models/health.md); loss over 10 % fast or 20 % slowly: see a vet (public "
    "veterinary summary)";

double day_of(const Entry& entry) {
  return static_cast<double>(entry.at.unix_ms()) / kDay_ms;
}

double end_of(const room::Day& day) {
  return static_cast<double>(day.history->until().unix_ms()) / kDay_ms;
}

/// What a group's weighings are like. Noise: from the figures of data/care_rules.csv
/// (weighing_noise_*), less for snakes, whose meals are known; growth: Gompertz's constant of a
/// youngster, 1/day; a meal: what it adds at first, and how long two thirds of it stay, days.
/// Common practice, no source.
struct GroupHabits {
  double noise, growth_per_day, meal, meal_days;
};
GroupHabits habits_of(Group group) {
  switch (group) {
    case Group::snake:
      return {0.035, 0.003, 0.12, 4};
    case Group::lizard:
      return {0.03, 0.005, 0.02, 2};
    case Group::chelonian:
      return {0.04, 0.0008, 0.02, 3};
    case Group::frog:
      return {0.04, 0.006, 0.03, 2};
    case Group::salamander:
      return {0.035, 0.004, 0.03, 2};
    case Group::other:
      break;
  }
  return {0.04, 0, 0, 1};
}
/// How well a meal's remains are known, as a share of them, and meals older than this are gone.
constexpr double kMealSpread = 0.5, kMealGone_days = 21;

/// Eggs, as a change of ln mass; a month of brumation, and how well it is known. Common practice,
/// no source; of tortoises at most 1 % a month (public care pages).
constexpr double kEggs = -0.15, kEggsSpread = 0.10;
constexpr double kBrumationTortoise = 0.01, kBrumationOther = 0.025, kBrumationSpread = 0.5;

KindOfAnimal kind_of(const room::AnimalDay& animal) {
  KindOfAnimal kind;
  const GroupHabits habits = habits_of(animal.profile.group);
  kind.usual.noise_sd = habits.noise;
  const auto* adult = animal.profile.value<Range<Mass>>(species::Key::adult_mass);
  if (animal.young && adult != nullptr) {
    kind.growth_per_day = habits.growth_per_day;
    kind.adult_g = std::sqrt(adult->low.grams() * adult->high.grams());
  }
  return kind;
}

struct Read {
  Weights weights;
  std::vector<const Entry*> entries;  // as they were given
};

Read read(const room::AnimalDay& animal, const room::Day& day) {
  const auto subject = room::subject_of(*animal.animal);
  const GroupHabits habits = habits_of(animal.profile.group);
  const auto meals = day.history->all(subject, EntryKind::fed);
  Read out;
  std::vector<Weighed> weighed;
  for (const Entry& entry : day.history->all(subject, EntryKind::weighed)) {
    Weighed one{day_of(entry), entry.mass->grams(), 0, 0};
    double remains = 0;
    const auto after = std::upper_bound(meals.begin(), meals.end(), entry.at,
                                        [](Instant at, const Entry& meal) { return at < meal.at; });
    for (auto meal = after; meal != meals.begin();) {
      --meal;
      const double past = one.day - day_of(*meal);
      if (past > kMealGone_days) break;
      remains += habits.meal * std::exp(-past / habits.meal_days);
    }
    one.contents = std::log1p(remains);
    one.contents_variance = std::pow(kMealSpread * one.contents, 2);
    weighed.push_back(one);
    out.entries.push_back(&entry);
  }
  std::vector<KnownStep> steps;
  for (const Entry& eggs : day.history->all(subject, EntryKind::laid_eggs)) {
    steps.push_back({day_of(eggs), kEggs, kEggsSpread * kEggsSpread});
  }
  if (animal.brumating_since && !weighed.empty()) {
    const double latest = weighed.back().day;
    const double months =
        (latest -
         static_cast<double>(day.zone.start_of(*animal.brumating_since).unix_ms()) / kDay_ms) /
        30;
    const double a_month =
        animal.profile.group == Group::chelonian ? kBrumationTortoise : kBrumationOther;
    if (months > 0) {
      steps.push_back(
          {latest, -a_month * months, std::pow(kBrumationSpread * a_month * months, 2)});
    }
  }
  out.weights = weights_of(weighed, steps, kind_of(animal));
  return out;
}

}  // namespace

const Motion& WeightsOfDay::motion_of(const room::AnimalDay& animal) {
  const Group group = animal.profile.group;
  if (!motions_.contains(group)) {
    std::vector<Weights> all;
    for (const room::AnimalDay& other : day_->animals) {
      if (other.profile.group != group || other.animal->count != 1) continue;
      all.push_back(read(other, *day_).weights);
    }
    motions_[group] = fitted(all, kind_of(animal));
  }
  return motions_[group];
}

std::optional<AnimalWeight> WeightsOfDay::of(const room::AnimalDay& animal) {
  if (animal.animal->count != 1) return std::nullopt;
  const Read own = read(animal, *day_);
  if (own.weights.weighings.empty()) return std::nullopt;
  auto report = report_of(own.weights, kind_of(animal), motion_of(animal), end_of(*day_));
  if (!report) return std::nullopt;
  AnimalWeight weight{std::move(*report), {}};
  for (const Suspect& suspect : own.weights.suspects) {
    weight.left_out.push_back({own.entries[suspect.index], suspect.why});
  }
  return weight;
}

std::vector<MassAt> WeightsOfDay::course(const room::AnimalDay& animal, Instant from) {
  if (animal.animal->count != 1) return {};
  const Weights own = read(animal, *day_).weights;
  if (own.weighings.empty()) return {};
  const double begin =
      std::max(static_cast<double>(from.unix_ms()) / kDay_ms, own.weighings.front().day);
  const double end = std::max(end_of(*day_), own.weighings.back().day);
  std::vector<double> days;
  for (double day = begin; day < end; ++day) days.push_back(day);
  for (const Weighing& weighing : own.weighings) {
    if (weighing.day >= begin) days.push_back(weighing.day);
  }
  days.push_back(end);
  std::sort(days.begin(), days.end());
  return course_of(own, kind_of(animal), motion_of(animal), days);
}

Sign weight_sign(const AnimalWeight& weight, const room::AnimalDay& animal, const room::Day& day) {
  const UnitSystem units = day.room->info.units;
  const WeightReport& report = weight.report;
  const auto instant = [](double at) {
    return Instant::unix_ms(static_cast<std::int64_t>(at * kDay_ms));
  };
  const std::string since = to_text(day.zone.date_of(instant(report.since_day)));
  const auto lost = [&] { return 100 * (1 - report.mass_g / report.reference_g); };
  Sign sign;
  sign.source = kSource;
  sign.evidence = reasons_of(report, since, units);
  for (const auto& left : weight.left_out) {
    sign.evidence +=
        fmt::format(" Not believed: {} on {}, {}.", for_people(*left.entry->mass, units),
                    to_text(day.date_of(*left.entry)), left.why);
  }
  if (animal.brumating_since) {
    sign.evidence += fmt::format(" It has been in brumation since {}, and some loss is expected.",
                                 to_text(*animal.brumating_since));
  }
  switch (report.trend) {
    case Trend::lost:
      sign.response = Response::call_vet;
      sign.says = fmt::format("has lost {:.0f} % since {}", lost(), since);
      sign.advice =
          "Weigh it again before its next meal, on the same scale. If the loss stands, call a "
          "veterinarian with reptile or amphibian experience and take the list of weighings along.";
      break;
    case Trend::slipping:
      sign.response = Response::weigh_again;
      sign.says = fmt::format("is slipping, {:.0f} % since {}", lost(), since);
      sign.advice =
          "Weigh it within a week, before a meal, on the same scale, and again a week later. Look "
          "at its food, warmth and droppings. If it goes on, or it seems ill, call a veterinarian "
          "with reptile or amphibian experience.";
      break;
    case Trend::not_growing:
      sign.response = Response::weigh_again;
      sign.says = "does not grow as expected";
      sign.advice =
          "Weigh it within a week, before a meal. Look at its food and warmth. If it goes on, or "
          "it "
          "seems ill, call a veterinarian with reptile or amphibian experience.";
      break;
    case Trend::unknown:
      sign.says = "has too few weighings for a trend";
      break;
    case Trend::gaining:
      sign.says = "is gaining";
      break;
    case Trend::steady:
      sign.says = "is steady";
      break;
  }
  sign.for_vet = fmt::format("{} on {}; 90 % interval {} to {}; {:+.1f} % in 30 days; {} on {}.",
                             for_people(Mass::grams(report.mass_g), units), to_text(day.date),
                             for_people(Mass::grams(report.low_g), units),
                             for_people(Mass::grams(report.high_g), units), report.rate_pct_per_30d,
                             for_people(Mass::grams(report.reference_g), units), since);
  return sign;
}

}  // namespace warmside::health
