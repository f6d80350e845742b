#include "health/animal_weight.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "health/event_record.h"

namespace warmside::health {
namespace {

using room::Entry;
using room::EntryKind;

constexpr double kDay_ms = 86'400'000;
constexpr const char* kModelSource =
    "weight model (docs/models/health.md); loss over 10 % fast or 20 % slowly: see a vet (public "
    "veterinary summary)";

double day_of(const Entry& entry) {
  return static_cast<double>(entry.at.unix_ms()) / kDay_ms;
}

/// The last moment of the history; its end is the beginning of the next day.
double end_of(const room::Day& day) {
  return static_cast<double>(day.history->until().unix_ms() - 1) / kDay_ms;
}

/// What a group's weighings are like. Noise: from the figures of data/care_rules.csv
/// (weighing_noise_*), less for snakes, whose meals are known; growth: Gompertz's constant of a
/// youngster, 1/day; a meal whose mass nobody wrote down: what share of the body it adds at first,
/// and how long two thirds of any meal stay, days. Common practice, no source.
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
/// How well a meal's remains are known, as a share of them; what droppings leave of it; and meals
/// older than this are gone. Common practice, no source.
constexpr double kMealSpread = 0.5, kLeftByDroppings = 0.4, kMealGone_days = 21;
/// No animal holds more food than this share of its body; a greater mass is a slip of the pen.
constexpr double kMostMeal = 0.6;

/// Eggs or young, as a change of ln mass, and how well it is known; a grown female's rate varies
/// more than others', since eggs ripen; a shed takes skin and water, which are soon made good, and
/// most that are no snakes eat it. Common practice, no source.
constexpr double kEggs = -0.15, kEggsSpread = 0.10, kFemaleRestless = 1.3;
constexpr double kSnakeShedSpread = 0.01, kOtherShedSpread = 0.005;
/// Lost in a month of brumation, and how well that is known, as a share of it: of chelonians the
/// most that is allowed them (rule brumation_loss_tortoise_month), of others common practice.
constexpr double kBrumationOther = 0.025, kBrumationSpread = 0.5, kMonth_days = 30;

/// The smallest steps of the room's scales, g; none where no scale is written down.
std::vector<double> scale_steps(const room::Room& room) {
  std::vector<double> steps;
  for (const room::Instrument& instrument : room.instruments) {
    if (instrument.kind != room::InstrumentKind::scale || !instrument.resolution) continue;
    steps.push_back(instrument.resolution->grams());
  }
  return steps;
}

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

/// What reads an animal's notebook for the model.
class Reader {
 public:
  Reader(const room::AnimalDay& animal, const room::Day& day)
      : animal_(animal),
        day_(day),
        subject_(room::subject_of(*animal.animal)),
        habits_(habits_of(animal.profile.group)),
        weighings_(day.history->all(subject_, EntryKind::weighed)),
        meals_(room::accepted_meals(animal, day)),
        droppings_(days_of(day, day.history->all(subject_, EntryKind::droppings))) {}

  Weights weights() const {
    Weights found = weights_of(weighed(), steps(), kind_of(animal_));
    if (animal_.animal->sex == room::Sex::female && !animal_.young) {
      found.restless = kFemaleRestless;
    }
    return found;
  }

  /// The entry of a weighing, by its place among those given to the model.
  const Entry& entry(std::size_t index) const { return weighings_[index]; }

  std::vector<BelievedWeighing> believed() const {
    const std::vector<Suspect> suspects = weights().suspects;
    std::vector<BelievedWeighing> found;
    for (std::size_t i = 0; i < weighings_.size(); ++i) {
      const bool suspect = std::any_of(suspects.begin(), suspects.end(),
                                       [&](const Suspect& s) { return s.index == i; });
      if (suspect) continue;
      const Entry& entry = weighings_[i];
      found.push_back({&entry, *entry.mass * (1 / (1 + remains_at(entry)))});
    }
    return found;
  }

 private:
  std::vector<Weighed> weighed() const {
    const std::vector<double> scales = scale_steps(*day_.room);
    std::vector<Weighed> found;
    for (const Entry& entry : weighings_) {
      Weighed one{day_of(entry), entry.mass->grams(), 0, 0, 0};
      one.step_g = step_of(one.mass_g, scales);
      one.contents = std::log1p(remains_at(entry));
      one.contents_variance = std::pow(kMealSpread * one.contents, 2);
      found.push_back(one);
    }
    return found;
  }

  /// What is left of the meals before a weighing, as a share of the body.
  double remains_at(const Entry& weighing) const {
    double remains = 0;
    for (auto meal = meals_.rbegin(); meal != meals_.rend(); ++meal) {
      const double past = day_of(weighing) - day_of(**meal);
      if (past <= 0) continue;
      if (past > kMealGone_days) break;
      const double share =
          (*meal)->mass ? std::min(kMostMeal, *(*meal)->mass / *weighing.mass) : habits_.meal;
      remains += share * (1 - room::share_left(**meal, day_)) *
                 std::exp(-past / habits_.meal_days) *
                 std::pow(kLeftByDroppings, droppings_between(**meal, weighing));
    }
    return remains;
  }

  /// Days with droppings after the day of a meal and up to that of a weighing.
  double droppings_between(const Entry& meal, const Entry& weighing) const {
    const auto first = std::upper_bound(droppings_.begin(), droppings_.end(), day_.date_of(meal));
    const auto last = std::upper_bound(first, droppings_.end(), day_.date_of(weighing));
    return static_cast<double>(last - first);
  }

  std::vector<KnownStep> steps() const {
    std::vector<KnownStep> found;
    for (const Entry& eggs : day_.history->all(subject_, EntryKind::laid_eggs)) {
      found.push_back({day_of(eggs), kEggs, kEggsSpread * kEggsSpread});
    }
    const double skin = animal_.profile.group == Group::snake ? kSnakeShedSpread : kOtherShedSpread;
    for (const Entry& shed : day_.history->all(subject_, EntryKind::shed)) {
      found.push_back({day_of(shed), 0, skin * skin});
    }
    add_brumations(found);
    return found;
  }

  /// The loss that is allowed in each brumation, a share of it before each weighing.
  void add_brumations(std::vector<KnownStep>& found) const {
    const double a_month =
        animal_.profile.group == Group::chelonian
            ? species::care_rules().value<Percentage>("brumation_loss_tortoise_month").share()
            : kBrumationOther;
    for (const Pause& winter : brumations(animal_, day_)) {
      const double begin = start_of(winter.from), end = start_of(winter.to);
      double before = begin;
      for (const Entry& weighing : weighings_) {
        const double day = day_of(weighing);
        const double asleep = std::min(day, end) - before;
        if (asleep <= 0) continue;
        const double loss = a_month * asleep / kMonth_days;
        found.push_back({day, -loss, std::pow(kBrumationSpread * loss, 2)});
        before += asleep;
      }
    }
  }

  double start_of(Date date) const {
    return static_cast<double>(day_.zone.start_of(date).unix_ms()) / kDay_ms;
  }

  const room::AnimalDay& animal_;
  const room::Day& day_;
  const room::Subject subject_;
  const GroupHabits habits_;
  const std::span<const Entry> weighings_;
  const std::vector<const Entry*> meals_;  // that stayed down, oldest first
  const std::vector<Date> droppings_;      // days, oldest first
};

}  // namespace

std::vector<BelievedWeighing> believed_weighings(const room::AnimalDay& animal,
                                                 const room::Day& day) {
  return Reader(animal, day).believed();
}

const Motion& WeightsOfDay::motion_of(const room::AnimalDay& animal) {
  const Group group = animal.profile.group;
  if (!motions_.contains(group)) {
    std::vector<Weights> all;
    for (const room::AnimalDay& other : day_->animals) {
      if (other.profile.group != group || other.animal->count != 1) continue;
      all.push_back(Reader(other, *day_).weights());
    }
    motions_[group] = fitted(all, kind_of(animal));
  }
  return motions_[group];
}

std::optional<AnimalWeight> WeightsOfDay::of(const room::AnimalDay& animal) {
  if (animal.animal->count != 1) return std::nullopt;
  const Reader reader(animal, *day_);
  const Weights own = reader.weights();
  if (own.weighings.empty()) return std::nullopt;
  auto report = report_of(own, kind_of(animal), motion_of(animal), end_of(*day_));
  if (!report) return std::nullopt;
  AnimalWeight weight{std::move(*report), {}};
  for (const Suspect& suspect : own.suspects) {
    weight.left_out.push_back({&reader.entry(suspect.index), suspect.why});
  }
  return weight;
}

std::vector<MassAt> WeightsOfDay::course(const room::AnimalDay& animal, Instant from) {
  if (animal.animal->count != 1) return {};
  const Weights own = Reader(animal, *day_).weights();
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
  sign.source = kModelSource;
  sign.evidence = reasons_of(report, since, units);
  for (const auto& left : weight.left_out) {
    sign.evidence +=
        fmt::format(" Not believed: {} on {}, {}.", for_people(*left.entry->mass, units),
                    to_text(day.date_of(*left.entry)), left.why);
  }
  if (!weight.left_out.empty()) {
    sign.evidence += " It is believed once another weighing agrees; a slip is for striking out.";
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
      sign.advice = fmt::format(
          "Weigh it again by {}, before a meal, on the same scale, and a week later. Look at its "
          "food, warmth and droppings. If it goes on, or it seems ill, call a veterinarian with "
          "reptile or amphibian experience.",
          to_text(day.date + kWeighAgain_d));
      break;
    case Trend::not_growing:
      sign.response = Response::weigh_again;
      sign.says = "does not grow as expected";
      sign.advice = fmt::format(
          "Weigh it again by {}, before a meal. Look at its food and warmth. If it goes on, or it "
          "seems ill, call a veterinarian with reptile or amphibian experience.",
          to_text(day.date + kWeighAgain_d));
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
