#include "health/appetite.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "core/check.h"
#include "health/event_record.h"

namespace warmside::health {
namespace {

using room::AnimalDay;
using room::Day;
using room::Entry;
using room::EntryKind;
using species::Key;

// Every constant of this block: common practice, no source.

/// The feeding interval of the profile weighs as much as two meals of the animal's own. A factor of
/// exp(0.5) = 1.6 above or below it is nothing special; that spread weighs as much as six gaps.
constexpr double kPriorSpread = 0.5;
constexpr double kPriorMeals = 2;
constexpr double kPriorSpreadMeals = 6;
/// Last year's meals count half. At the same time of the year they count (1 + 0.6) / (1 - 0.6) = 4
/// times as much as half a year apart: many animals fast every winter.
constexpr GapMemory kMemory{365, 0.6};
/// The keeper decides when food is offered, so that an animal fed by the clock looks more regular
/// than it is. At this least scale one meal passed over (a gap twice the usual, 1 in 10) is
/// nothing, two in a row are 1 in 40.
constexpr double kLeastScale = 0.55;

/// A gap that one in so many gets as long as.
constexpr double kSeldom = 0.10;     // watch
constexpr double kRare = 0.02;       // weigh again
constexpr double kVeryRare = 0.001;  // call the vet, if food was refused often enough
constexpr int kRefusalsForVet = 3;
/// However regular an animal fed daily is, a few days without food are no matter for a vet.
constexpr int kLeastFastForVet_d = 10;

/// A fasting animal holds its mass while even the low end of its rate is above this loss, and falls
/// when even the high end is below: each is said wrongly 1 time in 20.
constexpr double kHeldLoss_pct_per_30d = 2;
/// Weighed every two weeks, the rate of a month is not known to 2 %. A grown snake also holds its
/// mass while it is likelier than not to have lost less than 5 % in all, and 19 times in 20 less
/// than 10 %, if it was weighed in these days.
constexpr double kHeldChanceOver5 = 0.5, kHeldChanceOver10 = 0.05;
constexpr int kHeldWeighing_d = 30;
/// However unclear the rate, an animal that is likelier than not to have lost 10 % in all falls; of
/// one that has lost 5 % nine times in ten it is said.
constexpr double kFallenChanceOver10 = 0.5, kLostChanceOver5 = 0.9;

/// An animal leaves food at one meal in ten, which weighs as much as five meals of its own; fewer
/// meals in a row than this say nothing.
constexpr double kLeavesUsually = 0.1, kLeavesWorth = 5;
constexpr int kLeastLeftovers = 3;

/// Prey this many times the top of the profile's meal is told.
constexpr double kMealTolerance = 1.5;
/// It is told while the meal is being digested and until the next one is chosen.
constexpr int kPreyTold_d = 14;
/// A weighing this old says how heavy the animal was at a meal.
constexpr int kWeighingBelieved_d = 60;

constexpr const char* kGapSource =
    "gaps between meals, log-normal, from the profile's feeding interval and the animal's own "
    "record (docs/models/health.md); limits common practice, no source";

enum class Mass30 { unknown, held, unclear, falling };

/// may_fast: what it has lost in all counts where the rate is unclear.
Mass30 judged(const std::optional<MassTrend>& mass, bool may_fast) {
  if (!mass) return Mass30::unknown;
  WS_CHECK(mass->low_pct_per_30d <= mass->rate_pct_per_30d &&
           mass->rate_pct_per_30d <= mass->high_pct_per_30d);
  if (mass->low_pct_per_30d > -kHeldLoss_pct_per_30d) return Mass30::held;
  if (mass->high_pct_per_30d < -kHeldLoss_pct_per_30d) return Mass30::falling;
  if (mass->lost && mass->lost->p_over_10 >= kFallenChanceOver10) return Mass30::falling;
  if (may_fast && mass->lost && mass->lost->p_over_5 < kHeldChanceOver5 &&
      mass->lost->p_over_10 < kHeldChanceOver10) {
    return Mass30::held;
  }
  return Mass30::unclear;
}

std::string mass_words(const MassTrend& mass) {
  std::string text = fmt::format("{:+.1f} % in 30 days ({:+.1f} to {:+.1f})", mass.rate_pct_per_30d,
                                 mass.low_pct_per_30d, mass.high_pct_per_30d);
  if (mass.lost) {
    text += fmt::format(
        "; the chance that more than 5 % is lost is {:.0f} %, that more than 10 % is lost {:.0f} %",
        100 * mass.lost->p_over_5, 100 * mass.lost->p_over_10);
  }
  return text;
}

int rule_count(std::string_view rule) {
  return std::stoi(species::care_rules().rule(rule).value);
}

/// "2 x adult mouse", "gecko slurry powder", or empty.
std::string food_of(const Entry& meal) {
  if (meal.item.empty()) return "";
  return meal.count && *meal.count > 1 ? fmt::format("{} x {}", *meal.count, meal.item) : meal.item;
}

/// One animal's meals on one day.
class Judge {
 public:
  Judge(const AnimalDay& animal, const Day& day, const std::optional<MassTrend>& mass,
        const species::Fact& interval)
      : animal_(animal),
        day_(day),
        subject_(room::subject_of(*animal.animal)),
        mass_(mass),
        interval_(interval),
        meals_(room::accepted_meals(animal, day)) {}

  std::vector<Sign> signs() {
    const bool explained = judge_regurgitation();
    judge_prey_size();
    judge_leftovers();
    if (animal_.brumating_since) {
      signs_.push_back(in_brumation());
    } else if (!explained) {
      judge_streak();
    }
    return std::move(signs_);
  }

 private:
  Sign in_brumation() const {
    Sign sign;
    sign.says = fmt::format("has been in brumation since {} and is not fed",
                            to_text(*animal_.brumating_since));
    sign.evidence = "In brumation no meals are expected.";
    sign.for_vet = fmt::format("In brumation since {}.", to_text(*animal_.brumating_since));
    sign.source = "common practice, no source";
    return sign;
  }

  // --- meals that came up again ---

  /// Whether nothing needs to be said of the days without a meal: in the pause after it, or while
  /// it is for the vet and no meal was kept since.
  bool judge_regurgitation() {
    std::vector<Date> dates;
    for (const Date date : days_of(day_, day_.history->all(subject_, EntryKind::regurgitated))) {
      if (day_.date - date < species::care_rules().days("regurgitation_window"))
        dates.push_back(date);
    }
    if (dates.empty()) return false;
    const Date latest = dates.back();
    const int kept = static_cast<int>(std::count_if(
        meals_.begin(), meals_.end(), [&](const Entry* m) { return day_.date_of(*m) > latest; }));
    const Date offer = latest + species::care_rules().days("regurgitation_pause");
    const bool pausing = kept == 0 && day_.date < offer;
    if (kept >= rule_count("regurgitation_kept_meals")) return false;
    const int count = static_cast<int>(dates.size());
    const bool often = count >= rule_count("regurgitation_referral_count");
    if (!often && kept > 0) return false;
    Sign sign;
    sign.response = often ? Response::call_vet : Response::watch;
    sign.says = often ? fmt::format("has regurgitated {} in {}", times(count),
                                    counted(latest - dates.front(), "day", "days"))
                      : fmt::format("regurgitated its meal {}",
                                    pausing ? "and rests until " + to_text(offer)
                                            : "on " + to_text(latest));
    sign.evidence = fmt::format("Regurgitated on {}.", listed(dates));
    if (kept > 0) {
      sign.evidence += fmt::format(" It has kept {} since.", counted(kept, "meal", "meals"));
    }
    const int share = static_cast<int>(
        species::care_rules().value<Percentage>("regurgitation_prey_share").share() * 100 + 0.5);
    std::string next;
    if (kept == 0) {
      next = fmt::format("{}Then a meal of {} % of the usual size.",
                         pausing ? fmt::format("No food before {}. ", to_text(offer)) : "", share);
    }
    sign.advice = often ? fmt::format("Call {}, whether it seems well or not. {}", kVet, next)
                        : fmt::format(
                              "{} Leave it in peace and check the warm side. A second time "
                              "is a matter for {}.",
                              next, kVet);
    while (sign.advice.ends_with(' ')) sign.advice.pop_back();
    sign.for_vet = fmt::format("Regurgitated on {}. {} kept since.", listed(dates),
                               counted(kept, "meal", "meals"));
    sign.source =
        "rules regurgitation_referral_count, regurgitation_window and "
        "regurgitation_pause: common practice, no source";
    signs_.push_back(std::move(sign));
    return pausing || (often && kept == 0);
  }

  // --- prey against mass ---

  /// The weighing nearest before the end of the meal's day. Null: none that says how heavy it was.
  const Entry* weighed_before(const Entry& meal) const {
    const Entry* found = nullptr;
    for (const Entry& weighing : day_.history->all(subject_, EntryKind::weighed)) {
      const int before = day_.date_of(meal) - day_.date_of(weighing);
      if (before >= 0 && before <= kWeighingBelieved_d) found = &weighing;
    }
    return found;
  }

  void judge_prey_size() {
    if (animal_.animal->count != 1) return;  // nobody knows who ate it
    // A lizard's salad is no prey.
    if (!animal_.profile.text(Key::diet_class).starts_with("whole_prey")) return;
    const Entry* meal = day_.history->latest(subject_, EntryKind::fed);
    const species::Fact* usual =
        animal_.profile.find(animal_.young ? Key::meal_share_juvenile : Key::meal_share_adult);
    if (meal == nullptr || !meal->mass || usual == nullptr) return;
    if (day_.date - day_.date_of(*meal) > kPreyTold_d) return;
    const Entry* weighing = weighed_before(*meal);
    if (weighing == nullptr) return;
    const auto& range = std::get<Range<Percentage>>(usual->value);
    const double share = *meal->mass / *weighing->mass;
    if (!(share > range.high.share() * kMealTolerance)) return;
    const UnitSystem units = day_.room->info.units;
    Sign sign;
    sign.response = Response::watch;
    sign.says = fmt::format("was fed {:.0f} % of its mass", share * 100);
    sign.evidence =
        fmt::format("{} on {}, against {} on {}. The profile's meal is {} ({}).",
                    for_people(*meal->mass, units), to_text(day_.date_of(*meal)),
                    for_people(*weighing->mass, units), to_text(day_.date_of(*weighing)),
                    for_people(range, units), word(usual->trust));
    sign.advice =
        "Leave it in peace on the warm side until it is digested. Smaller prey next time: "
        "big prey comes up again more easily.";
    sign.for_vet = fmt::format("Last prey {} on {}, mass {} on {}.", for_people(*meal->mass, units),
                               to_text(day_.date_of(*meal)), for_people(*weighing->mass, units),
                               to_text(day_.date_of(*weighing)));
    sign.source = "meal share of the profile; more than 1.5 times it: common practice, no source";
    signs_.push_back(std::move(sign));
  }

  // --- food left lying ---

  /// Meals in a row of which something was left: seldom, for an animal that usually eats up.
  void judge_leftovers() {
    const auto meals = day_.history->all(subject_, EntryKind::fed);
    int before = 0, left_before = 0;
    std::vector<Date> in_a_row;
    for (auto meal = meals.rbegin(); meal != meals.rend(); ++meal) {
      const bool left = room::share_left(*meal, day_) > 0;
      if (before == 0 && left) {
        in_a_row.insert(in_a_row.begin(), day_.date_of(*meal));
      } else {
        ++before;
        left_before += left ? 1 : 0;
      }
    }
    const int row = static_cast<int>(in_a_row.size());
    if (row < kLeastLeftovers) return;
    const double usual = (left_before + kLeavesUsually * kLeavesWorth) / (before + kLeavesWorth);
    if (std::pow(usual, row) > kRare) return;
    const bool falls = mass_state() == Mass30::falling;
    Sign sign;
    sign.response = falls ? Response::weigh_again : Response::watch;
    sign.says = fmt::format("left food lying at {} meals in a row", row);
    sign.evidence = fmt::format("Leftovers of the meals on {}; of the {} before at {}.",
                                listed(in_a_row), counted(before, "meal", "meals"), left_before);
    if (mass_) sign.evidence += fmt::format(" Mass {}.", mass_words(*mass_));
    sign.advice = fmt::format(
        "Offer less at a time and take out what is left: live prey can bite, dead food spoils. "
        "Check the warm side.{}",
        falls ? fmt::format(" Weigh it by {}; if it has lost mass, call {}.",
                            to_text(day_.date + kWeighAgain_d), kVet)
              : "");
    sign.for_vet = fmt::format("Food left on {}.", listed(in_a_row));
    sign.source = "leftovers noted, against its own habit: common practice, no source";
    signs_.push_back(std::move(sign));
  }

  // --- days without a meal ---

  void judge_streak() {
    const std::vector<Date> eaten = days_of(day_, meals_);
    refusals_.clear();
    for (const Date date : refusal_days(animal_, day_)) {
      // Refused and later taken on one day is a meal.
      if (eaten.empty() || date > eaten.back()) refusals_.push_back(date);
    }
    if (eaten.empty() && refusals_.empty()) {
      signs_.push_back(nothing_known());
      return;
    }
    const Date began = eaten.empty() ? refusals_.front() : eaten.back();
    pauses_ = feeding_pauses(animal_, day_);
    gaps_ = gaps_between(eaten, pauses_);
    const GapPrior prior{std::get<Duration>(interval_.value).days(), kPriorSpread, kPriorMeals,
                         kPriorSpreadMeals};
    days_ = day_.date - began;
    counted_ = days_counted(began, day_.date, pauses_);
    const JudgedGap judged = judge_gap(gaps_, began, counted_, prior, kMemory, kLeastScale);
    model_ = judged.model;
    chance_ = judged.chance;
    signs_.push_back(streak(eaten.empty()));
  }

  Sign nothing_known() const {
    Sign sign;
    sign.says = "has no meal and no refusal in the notebook";
    sign.evidence = fmt::format("Nothing is known of how often it eats; the profile says {} ({}).",
                                every(), word(interval_.trust));
    sign.advice = "Write down every meal and every refusal.";
    sign.source = kGapSource;
    return sign;
  }

  std::string every() const {
    const auto days = static_cast<int>(std::get<Duration>(interval_.value).days() + 0.5);
    return days == 1 ? "every day" : fmt::format("every {} days", days);
  }

  /// Why it is no wonder that it does not eat today. Empty: no reason is known.
  std::string reason() const {
    if (animal_.in_shed_since && animal_.profile.text(Key::feed_in_shed) == "no") {
      return fmt::format("has been in shed since {}: no food until it has shed",
                         to_text(*animal_.in_shed_since));
    }
    if (animal_.ill_since) return "";
    // A newcomer that has eaten has settled.
    const int settling_d = species::care_rules().days("settling_in");
    for (const auto& since : {animal_.quarantine_since, animal_.animal->arrived}) {
      if (!since || day_.date - *since >= settling_d) continue;
      const bool ate = std::any_of(meals_.begin(), meals_.end(), [&](const Entry* meal) {
        return day_.date_of(*meal) >= *since;
      });
      if (!ate) {
        return fmt::format("has been settling in since {} and has eaten nothing yet",
                           to_text(*since));
      }
    }
    return "";
  }

  Response response() const {
    if (chance_ > kSeldom) return Response::change_nothing;
    const Mass30 mass = mass_state();
    const int refused = static_cast<int>(refusals_.size());
    if (refused == 0) {
      return mass == Mass30::falling ? Response::weigh_again : Response::watch;
    }
    if (fasts_in_peace()) return Response::change_nothing;
    if (chance_ > kRare) {
      return mass == Mass30::falling ? Response::weigh_again : Response::watch;
    }
    if (mass == Mass30::falling) return Response::call_vet;
    if (grown_snake()) return Response::weigh_again;
    const bool long_fast =
        chance_ <= kVeryRare && refused >= kRefusalsForVet && counted_ >= kLeastFastForVet_d;
    return long_fast && mass != Mass30::held ? Response::call_vet : Response::weigh_again;
  }

  Mass30 mass_state() const {
    const bool weighed_lately = animal_.weighing != nullptr &&
                                day_.date - day_.date_of(*animal_.weighing) <= kHeldWeighing_d;
    return judged(mass_, grown_snake() && weighed_lately);
  }

  /// Grown snakes may fast for as long as they hold their mass.
  bool fasts_in_peace() const {
    return grown_snake() && !refusals_.empty() && mass_state() == Mass30::held;
  }
  bool grown_snake() const { return animal_.profile.group == Group::snake && !animal_.young; }

  Sign streak(bool never_ate) const {
    Sign sign;
    const std::string why = reason();
    sign.response = why.empty() ? response() : Response::change_nothing;
    const int refused = static_cast<int>(refusals_.size());
    const bool usual = sign.response == Response::change_nothing;
    sign.says = says(never_ate, usual, why);
    sign.evidence = evidence(never_ate);
    sign.advice = advice(sign.response, refused);
    if (never_ate) {
      sign.for_vet =
          fmt::format("No meal in the notebook; first refusal {}.", to_text(refusals_.front()));
    } else {
      sign.for_vet = last_meal();
    }
    if (refused > 0) sign.for_vet += fmt::format(" Refused on {}.", listed(refusals_));
    sign.for_vet += fmt::format(" Usual gap {}.", counted(usual_days(), "day", "days"));
    if (mass_) sign.for_vet += fmt::format(" Mass {}.", mass_words(*mass_));
    sign.source = kGapSource;
    return sign;
  }

  std::string says(bool never_ate, bool usual, const std::string& why) const {
    if (!why.empty()) return why;
    const int refused = static_cast<int>(refusals_.size());
    if (days_ == 0 && !never_ate) return "has eaten today";
    if (usual && refused == 0) {
      return fmt::format("ate {} ago", counted(days_, "day", "days"));
    }
    std::string text = fmt::format("has eaten nothing for {}", counted(days_, "day", "days"));
    if (refused > 0) text += fmt::format(" and refused {}", times(refused));
    const std::string compared = compared_with(gaps_, counted_);
    if (!compared.empty()) text += ", " + compared;
    return text;
  }

  int usual_days() const { return std::max(1, static_cast<int>(model_.median() + 0.5)); }

  std::string last_meal() const {
    const std::string food = food_of(*meals_.back());
    return fmt::format("Last meal {}{}{}.", to_text(day_.date_of(*meals_.back())),
                       food.empty() ? "" : ": ", food);
  }

  std::string evidence(bool never_ate) const {
    std::string text = never_ate ? "No meal in the notebook." : last_meal();
    if (!refusals_.empty()) text += fmt::format(" Refused on {}.", listed(refusals_));
    if (counted_ < days_) {
      const int left_out = days_ - counted_;
      text += counted_ == 0
                  ? fmt::format(" None of the {} counts: ", counted(days_, "day", "days"))
                  : fmt::format(" {} of the {} {} not count: ", left_out,
                                counted(days_, "day", "days"), left_out == 1 ? "does" : "do");
      text += reasons(day_.date - days_, day_.date, pauses_) + ".";
    }
    text += fmt::format(" Its usual gap is {} ({}; the profile says {}, {}); {}.",
                        counted(usual_days(), "day", "days"),
                        gaps_.empty() ? "no gap of its own yet"
                                      : counted(model_.gaps, "gap", "gaps") + " of its own",
                        every(), word(interval_.trust), how_seldom(chance_));
    switch (mass_state()) {
      case Mass30::unknown:
        text += " Whether it holds its mass is not known.";
        break;
      case Mass30::held:
        text += fmt::format(" Its mass holds: {}.", mass_words(*mass_));
        break;
      case Mass30::unclear:
        text += fmt::format(" {}: {}.",
                            mass_->lost && mass_->lost->p_over_5 >= kLostChanceOver5
                                ? "It has lost mass"
                                : "Whether it holds its mass is not clear",
                            mass_words(*mass_));
        break;
      case Mass30::falling:
        text += fmt::format(" Its mass falls: {}.", mass_words(*mass_));
        break;
    }
    return text;
  }

  std::string advice(Response response, int refused) const {
    if (chance_ <= kSeldom && fasts_in_peace() && response == Response::change_nothing) {
      return "Leave it in peace and offer food as usual: a grown snake with a steady mass may fast "
             "for weeks, a royal python for months. Weigh it every two weeks.";
    }
    if (response == Response::change_nothing) return "";
    std::string text;
    if (refused == 0) {
      text = "The notebook has no refusal since. Offer food and write down whether it is taken.";
      if (animal_.profile.text(Key::brumation) != "none" &&
          !animal_.profile.text(Key::brumation).empty()) {
        text += " If you empty its gut for brumation, this is meant.";
      }
    } else {
      text = "Check the temperatures and the hides, and offer food in peace.";
    }
    if (response == Response::weigh_again) {
      text += fmt::format(" Weigh it by {}; if it has lost mass, call {}.",
                          to_text(day_.date + kWeighAgain_d), kVet);
    } else if (response == Response::call_vet) {
      text += fmt::format(" Call {}.", kVet);
    }
    return text;
  }

  const AnimalDay& animal_;
  const Day& day_;
  const room::Subject subject_;
  const std::optional<MassTrend>& mass_;
  const species::Fact& interval_;
  const std::vector<const Entry*> meals_;  // that stayed down
  std::vector<Date> refusals_;             // since the last of them
  std::vector<Pause> pauses_;
  std::vector<PastGap> gaps_;
  GapModel model_;
  int days_ = 0;     // since the last meal
  int counted_ = 0;  // of these, those in no pause
  double chance_ = 1;
  std::vector<Sign> signs_;
};

}  // namespace

std::vector<Sign> appetite(const AnimalDay& animal, const Day& day, std::optional<MassTrend> mass) {
  const species::Fact* interval =
      animal.profile.find(animal.young ? Key::feed_interval_juvenile : Key::feed_interval_adult);
  if (interval == nullptr) return {};
  if (animal.animal->count != 1) mass.reset();
  return Judge(animal, day, mass, *interval).signs();
}

}  // namespace warmside::health
