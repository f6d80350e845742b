#include "diet/meals.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "diet/unsuitable.h"

namespace warmside::diet {
namespace {

using species::Key;

constexpr double kDaysOfYear = 365;
constexpr double kBestCalciumToPhosphorus = 1.5;

double middle(Interval amount) {
  return amount.low > 0 ? std::sqrt(amount.low * amount.high) : amount.high / 2;
}

std::optional<Mass> own_mass(const room::AnimalDay& animal) {
  if (animal.weighing == nullptr || animal.animal->count != 1) return std::nullopt;
  return animal.weighing->mass;
}

const species::Fact* share_of(const room::AnimalDay& animal) {
  return animal.profile.find(animal.young ? Key::meal_share_juvenile : Key::meal_share_adult);
}

Interval calcium_to_phosphorus(const std::vector<const Food*>& plants) {
  Nutrients sum;
  for (const Food* food : plants) {
    Serving serving;
    serving.food = food;
    serving.mass = Mass::grams(100);
    sum = sum + nutrients_of(serving);
  }
  return sum.calcium_to_phosphorus();
}

/// The record as one period, or nothing where a meal's energy is unknown.
std::optional<FedPeriod> period_of(const room::AnimalDay& animal, const room::Day& day,
                                   const Pantry& pantry, const MassChange& change) {
  FedPeriod period;
  period.length = Duration::days(change.to - change.from);
  period.gained = change.gained;
  period.gained_sd = change.gained_sd;
  for (const Eaten& course : eaten_since(animal, day, pantry, change.from)) {
    if (day.date_of(*course.entry) >= change.to) continue;
    if (course.match.food == nullptr || !course.grams.known()) return std::nullopt;
    Serving one;
    one.food = course.match.food;
    one.mass = Mass::grams(1);
    const Interval kj = nutrients_of(one).energy_kj * course.grams;
    if (!kj.known()) return std::nullopt;
    period.eaten += Energy::kilojoules(middle(kj));
  }
  return period;
}

}  // namespace

Stage stage_of(const room::AnimalDay& animal) {
  if (animal.ill_since) return Stage::convalescence;
  if (animal.young) return Stage::growth;
  return animal.animal->breeding ? Stage::breeding : Stage::maintenance;
}

Result<AnimalNeed> need_of(const room::AnimalDay& animal, const room::Day& day,
                           const Pantry& pantry, const KnownElsewhere& elsewhere) {
  const auto mass = own_mass(animal);
  if (!mass) {
    return Problem{
        ProblemCode::missing,
        animal.animal->count == 1 ? "it has never been weighed" : "a group that is not told apart",
        {},
        "a mass of its own",
        ""};
  }
  DayOfWarmth warmth;
  if (elsewhere.warmth) {
    warmth = *elsewhere.warmth;
  } else {
    const auto assumed = assumed_day(animal.profile);
    if (!assumed) return assumed.problem();
    warmth = *assumed;
  }
  AnimalNeed result;
  result.stage = stage_of(animal);
  result.warmth = warmth.assumed;
  const auto need = daily_need(animal.profile.group, *mass, warmth, result.stage);
  if (!need) return need.problem();
  result.need = *need;
  const auto& change = elsewhere.mass_change;
  if (!change || change->to - change->from < kLeastRecord_d) return result;
  if (const auto period = period_of(animal, day, pantry, *change)) {
    const auto ratio = corrected(NeedRatio::before(*need), need->middle, *period);
    if (ratio) {
      result.need = corrected_need(*need, *ratio);
      result.corrected = true;
    }
  }
  return result;
}

std::optional<int> feeding_interval_d(const room::AnimalDay& animal) {
  const auto* interval = animal.profile.value<Duration>(animal.young ? Key::feed_interval_juvenile
                                                                     : Key::feed_interval_adult);
  if (interval == nullptr) return std::nullopt;
  return std::max(1, static_cast<int>(std::lround(interval->days())));
}

std::optional<Portion> portion_of(const room::AnimalDay& animal, const Match& match) {
  const species::Fact* share = share_of(animal);
  const auto mass = own_mass(animal);
  if (share == nullptr || !mass || match.food == nullptr) return std::nullopt;
  const auto& range = std::get<Range<Percentage>>(share->value);
  Portion portion;
  portion.mass = {*mass * range.low.share(), *mass * range.high.share()};
  portion.trust = share->trust;
  portion.piece_g = match.piece_g();
  if (match.food->kind == FoodKind::plant || !portion.piece_g.known()) return portion;
  const double piece_g = middle(portion.piece_g);
  const double fewest = std::ceil(portion.mass.low.grams() / piece_g);
  const double most = std::floor(portion.mass.high.grams() / piece_g);
  portion.too_large = portion.piece_g.low > portion.mass.high.grams();
  // Between two whole numbers: the nearer one, and one at least.
  const double nearest = std::max(
      1.0, std::round(middle({portion.mass.low.grams(), portion.mass.high.grams()}) / piece_g));
  portion.fewest = static_cast<int>(fewest <= most && most >= 1 ? std::max(1.0, fewest) : nearest);
  portion.most = static_cast<int>(fewest <= most && most >= 1 ? most : nearest);
  return portion;
}

std::vector<const Food*> prey_that_fits(const room::AnimalDay& animal) {
  std::vector<const Food*> fitting;
  for (const Food& food : foods()) {
    if (food.kind != FoodKind::vertebrate) continue;
    const auto portion = portion_of(animal, {&food, nullptr, {}});
    if (portion && !portion->too_large && portion->fewest >= 1 && portion->fewest <= kMostPieces &&
        middle(portion->piece_g) <= portion->mass.high.grams()) {
      fitting.push_back(&food);
    }
  }
  std::stable_sort(fitting.begin(), fitting.end(), [](const Food* a, const Food* b) {
    return a->piece_mass->low < b->piece_mass->low;
  });
  return fitting;
}

PlantMix mix_of(const room::AnimalDay& animal, const std::vector<const Food*>& plants) {
  const auto diet = diet_class_of(animal.profile.text(Key::diet_class));
  PlantMix mix;
  for (const Food* food : plants) {
    if (food->kind == FoodKind::plant &&
        unsuitable(food->name, animal.profile.group, diet) == nullptr) {
      mix.plants.push_back(food);
    }
  }
  if (mix.plants.empty()) return mix;
  const auto worst = [](const std::vector<const Food*>& of) {
    return calcium_to_phosphorus(of).low;
  };
  // Drop the plant without which the mix is best, as long as it needs it; variety is worth more
  // than a better ratio beyond the wanted one.
  while (mix.plants.size() > 1 && worst(mix.plants) < kBestCalciumToPhosphorus) {
    std::vector<const Food*> best = mix.plants;
    for (std::size_t i = 0; i < mix.plants.size(); ++i) {
      std::vector<const Food*> without = mix.plants;
      without.erase(without.begin() + static_cast<std::ptrdiff_t>(i));
      if (worst(without) > worst(best)) best = std::move(without);
    }
    if (best.size() == mix.plants.size()) break;
    mix.plants = std::move(best);
  }
  mix.calcium_to_phosphorus = calcium_to_phosphorus(mix.plants);
  return mix;
}

EnergyVerdict judge_energy(Interval eaten_kj, const EnergyBand& need) {
  if (eaten_kj.low > kMuch * need.high.kilojoules()) return EnergyVerdict::surely_too_much;
  if (eaten_kj.high < need.low.kilojoules()) return EnergyVerdict::surely_too_little;
  if (eaten_kj.low >= need.high.kilojoules()) return EnergyVerdict::surely_enough;
  return eaten_kj.known() ? EnergyVerdict::unsure : EnergyVerdict::unknown;
}

YearOfMeals year_of(Interval meal_kj, int every_d, const DailyNeed& need) {
  WS_CHECK(every_d >= 1);
  YearOfMeals year;
  year.eaten_kj = meal_kj * (kDaysOfYear / every_d);
  const EnergyBand day = need.per_day();
  year.need = {day.low * kDaysOfYear, day.middle * kDaysOfYear, day.high * kDaysOfYear};
  year.verdict = judge_energy(year.eaten_kj, year.need);
  return year;
}

}  // namespace warmside::diet
