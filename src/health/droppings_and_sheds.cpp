#include "health/droppings_and_sheds.h"

#include <fmt/format.h>

#include <algorithm>
#include <string>

#include "health/event_record.h"

namespace warmside::health {
namespace {

using room::AnimalDay;
using room::Day;
using room::Entry;
using room::EntryKind;
using room::Subject;

// Every constant of this block: common practice, no source.

/// Profiles do not say how often a species sheds, so what is expected of its group weighs as much
/// as one gap of the animal's own. Growth and warmth change it by a factor of exp(0.6) = 1.8.
constexpr GapPrior kShedPrior{0, 0.6, 1, 4};  // the median is the group's
constexpr GapMemory kShedMemory{365, 0};      // growth slows: last year's sheds count half
constexpr std::size_t kLeastShedGaps = 3;     // before a shed can be overdue
constexpr double kLeastShedScale = 0.3;
/// Droppings are looked for at the spot clean, not all the time.
constexpr GapPrior kDroppingsPrior{0, 0.6, 1, 4};
constexpr GapMemory kDroppingsMemory{180, 0};
constexpr std::size_t kLeastDroppings = 3;
constexpr double kLeastDroppingsScale = 0.5;

/// A gap that one in so many gets as long as. Droppings are easily missed, so they are rarer.
constexpr double kSeldomSheds = 0.10;         // sheds: watch
constexpr double kRareDroppings = 0.02;       // watch
constexpr double kVeryRareDroppings = 0.005;  // twice the rule's meals, and food refused: vet
/// After this long a shed that was never written down is forgotten.
constexpr int kForgotten_d = 60;
/// Two stuck sheds among the last so many.
constexpr std::size_t kLookedBack = 3;

constexpr const char* kHumid = "Offer a humid hide and check the humidity.";

/// The rule's name for this animal's group; empty where sheds are not judged.
std::string for_group(std::string_view rule, Group group) {
  return group == Group::snake || group == Group::lizard ? fmt::format("{}_{}", rule, word(group))
                                                         : "";
}

bool is_stuck(const Entry& shed) {
  return shed.item.find("stuck") != std::string::npos;
}

class ShedJudge {
 public:
  ShedJudge(const AnimalDay& animal, const Day& day)
      : animal_(animal),
        day_(day),
        subject_(room::subject_of(*animal.animal)),
        sheds_(day.history->all(subject_, EntryKind::shed)) {}

  std::vector<Sign> signs() {
    judge_stuck();
    if (!judge_in_shed()) judge_overdue();
    return std::move(signs_);
  }

 private:
  void judge_stuck() {
    if (sheds_.empty()) return;
    const Entry& latest = sheds_.back();
    const auto checks = day_.history->all(subject_, EntryKind::checked);
    const bool checked = std::any_of(checks.begin(), checks.end(), [&](const Entry& check) {
      return check.item == "shed" && check.at >= latest.at;
    });
    if (is_stuck(latest) && !checked) signs_.push_back(stuck(latest));
    std::vector<Date> stuck_days;
    const auto last = sheds_.last(std::min(kLookedBack, sheds_.size()));
    for (const Entry& shed : last) {
      if (is_stuck(shed)) stuck_days.push_back(day_.date_of(shed));
    }
    if (stuck_days.size() >= 2) signs_.push_back(stuck_again(stuck_days, last.size()));
  }

  Sign stuck(const Entry& shed) const {
    const Date date = day_.date_of(shed);
    const int days = day_.date - date;
    const int referral_d = species::care_rules().days("stuck_shed_referral");
    Sign sign;
    sign.response = days >= referral_d ? Response::call_vet : Response::watch;
    sign.says = fmt::format("has had a stuck shed since {}", to_text(date));
    sign.evidence = fmt::format("Noted on {}: {}. {} ago, and no check of the shed since.",
                                to_text(date), shed.item, counted(days, "day", "days"));
    sign.advice =
        fmt::format("Look at eyes, toes and tail tip and write down the check. {} ", kHumid);
    sign.advice += days >= referral_d
                       ? fmt::format("If any of it is still on, call {}. Do not pull.", kVet)
                       : fmt::format(
                             "Do not pull: what is still on {} after the shed, or on eyes "
                             "or toes, is for {}.",
                             counted(referral_d, "day", "days"), kVet);
    sign.for_vet = fmt::format("Shed on {}, noted as {}. No later check in the notebook.",
                               to_text(date), shed.item);
    sign.source = "rule stuck_shed_referral: common practice, no source";
    return sign;
  }

  Sign stuck_again(std::span<const Date> stuck_days, std::size_t of) const {
    Sign sign;
    sign.response = Response::watch;
    sign.says = fmt::format("had {} of its last {} sheds stuck", stuck_days.size(), of);
    sign.evidence = fmt::format("Stuck on {}.", listed(stuck_days));
    sign.advice = fmt::format("{} If the next one is stuck too, ask {}.", kHumid, kVet);
    sign.for_vet = fmt::format("Sheds stuck on {}.", listed(stuck_days));
    sign.source = "common practice, no source";
    return sign;
  }

  /// Whether it is in shed, or was said to be and nobody wrote down the end.
  bool judge_in_shed() {
    const Entry* dull = day_.history->latest(subject_, EntryKind::in_shed);
    if (dull == nullptr || (!sheds_.empty() && sheds_.back().at >= dull->at)) return false;
    // Dull skin noted again and again is one shed: it began with the first since the last shed.
    const Entry* first = dull;
    for (const Entry& entry : day_.history->all(subject_, EntryKind::in_shed)) {
      const bool same = sheds_.empty() || entry.at > sheds_.back().at;
      if (same && day_.date_of(*dull) - day_.date_of(entry) < kForgotten_d) {
        first = &entry;
        break;
      }
    }
    const Date began = day_.date_of(*first);
    const int days = day_.date - began;
    if (days >= kForgotten_d) return false;
    std::vector<PastGap> gaps = lengths_in_shed();
    GapPrior prior = kShedPrior;
    prior.median = species::care_rules().days(for_group("in_shed_length", animal_.profile.group));
    const auto [model, chance] = judge_gap(gaps, began, days, prior, kShedMemory, kLeastShedScale);
    if (chance > kSeldomSheds) return true;
    Sign sign;
    sign.response = Response::watch;
    sign.says = fmt::format("has been in shed for {}", counted(days, "day", "days"));
    const std::string compared = compared_with(gaps, days, "shed", "sheds");
    if (!compared.empty()) sign.says += ", " + compared;
    sign.evidence = fmt::format(
        "In shed since {}, no shed written down. It usually takes {:.0f} days, "
        "from {} and {} d for {}s (common practice); {}.",
        to_text(began), model.median(),
        gaps.empty() ? "none of its own" : counted(model.gaps, "shed", "sheds") + " of its own",
        prior.median, word(animal_.profile.group), how_seldom(chance));
    sign.advice = fmt::format(
        "If it has shed, write it down. Else look at eyes and toes in good light. {} Do not pull; "
        "if the skin stays dull or comes off in parts only, ask {}.",
        kHumid, kVet);
    sign.for_vet = fmt::format("In shed since {}, {}; usually {:.0f}.", to_text(began),
                               counted(days, "day", "days"), model.median());
    sign.source =
        "days in shed, log-normal, from its group and its own record "
        "(docs/models/health.md); limits common practice, no source";
    signs_.push_back(std::move(sign));
    return true;
  }

  /// From the first note of dull skin to the shed.
  std::vector<PastGap> lengths_in_shed() const {
    std::vector<PastGap> lengths;
    const auto dull = day_.history->all(subject_, EntryKind::in_shed);
    auto next = dull.begin();
    for (const Entry& shed : sheds_) {
      const Entry* first = nullptr;
      for (; next != dull.end() && next->at <= shed.at; ++next) {
        if (first == nullptr) first = &*next;
      }
      if (first == nullptr) continue;
      const Date began = day_.date_of(*first), ended = day_.date_of(shed);
      // A longer one is two sheds with the end of the first not written down.
      if (ended - began < kForgotten_d)
        lengths.push_back({began, ended, std::max(1, ended - began)});
    }
    return lengths;
  }

  void judge_overdue() {
    if (animal_.brumating_since) return;
    const std::vector<Date> days = days_of(day_, sheds_);
    const std::vector<Pause> asleep = brumations(animal_, day_);  // nothing grows in it
    const std::vector<PastGap> gaps = gaps_between(days, asleep);
    if (gaps.size() < kLeastShedGaps) return;
    GapPrior prior = kShedPrior;
    prior.median = species::care_rules().days(for_group("shed_interval", animal_.profile.group));
    const int counted_d = days_counted(days.back(), day_.date, asleep);
    const auto [model, chance] =
        judge_gap(gaps, days.back(), counted_d, prior, kShedMemory, kLeastShedScale);
    if (chance > kSeldomSheds) return;
    Sign sign;
    sign.response = Response::watch;
    sign.says = fmt::format("has no shed written down for {}, {}",
                            counted(day_.date - days.back(), "day", "days"),
                            compared_with(gaps, counted_d));
    sign.evidence =
        fmt::format("Last shed on {}. Its usual gap is {:.0f} days, from {} of its own; {}.",
                    to_text(days.back()), model.median(), counted(model.gaps, "gap", "gaps"),
                    how_seldom(chance));
    sign.advice =
        "Look whether it has shed unseen and write it down. A grown or lean animal sheds less "
        "often; look at its weight.";
    sign.for_vet =
        fmt::format("Last shed {}, usual gap {:.0f} days.", to_text(days.back()), model.median());
    sign.source =
        "gaps between sheds, log-normal, from its group and its own record "
        "(docs/models/health.md); limits common practice, no source";
    signs_.push_back(std::move(sign));
  }

  const AnimalDay& animal_;
  const Day& day_;
  const Subject subject_;
  const std::span<const Entry> sheds_;
  std::vector<Sign> signs_;
};

}  // namespace

std::vector<Sign> sheds(const AnimalDay& animal, const Day& day) {
  if (animal.animal->count != 1) return {};
  if (for_group("shed_interval", animal.profile.group).empty()) return {};
  return ShedJudge(animal, day).signs();
}

std::vector<Sign> droppings(const AnimalDay& animal, const Day& day) {
  if (animal.animal->count != 1 || animal.brumating_since) return {};
  const Subject subject = room::subject_of(*animal.animal);
  const std::vector<Date> passed = days_of(day, day.history->all(subject, EntryKind::droppings));
  if (passed.size() < kLeastDroppings) return {};
  const std::vector<Date> eaten = days_of(day, room::accepted_meals(animal, day));
  // Meals from one day to the day before another: what is passed on the day of a meal is of an
  // earlier one.
  const auto meals_between = [&](Date from, Date to) {
    return static_cast<int>(std::count_if(eaten.begin(), eaten.end(),
                                          [&](Date meal) { return meal >= from && meal < to; }));
  };
  std::vector<PastGap> gaps;
  for (std::size_t i = 1; i < passed.size(); ++i) {
    const int meals = meals_between(passed[i - 1], passed[i]);
    gaps.push_back({passed[i - 1], passed[i], std::max(1, meals)});
  }
  const std::string rule = animal.profile.group == Group::snake ? "meals_without_droppings_snake"
                                                                : "meals_without_droppings";
  const int many = std::stoi(species::care_rules().rule(rule).value);
  const int meals = meals_between(passed.back(), day.date);
  if (meals < many) return {};
  GapPrior prior = kDroppingsPrior;
  prior.median = many / 2.0;  // so that `many` is seldom where nothing is known
  const auto [model, chance] =
      judge_gap(gaps, passed.back(), meals, prior, kDroppingsMemory, kLeastDroppingsScale);
  if (chance > kRareDroppings) return {};
  std::vector<Date> refused;
  for (const Date date : refusal_days(animal, day)) {
    if (!eaten.empty() && date > eaten.back()) refused.push_back(date);
  }
  const int days = day.date - passed.back();
  const int usual = std::max(1, static_cast<int>(model.median() + 0.5));
  const bool call = chance <= kVeryRareDroppings && meals >= 2 * many && !refused.empty();
  Sign sign;
  sign.response = call ? Response::call_vet : Response::watch;
  sign.says =
      fmt::format("has no droppings written down for {} and {}{}", counted(meals, "meal", "meals"),
                  counted(days, "day", "days"), call ? ", and now refuses food" : "");
  sign.evidence = fmt::format(
      "Last droppings on {}, {} since. Its usual gap is {} {}, from {} of its own; {}.",
      to_text(passed.back()), counted(meals, "meal", "meals"), usual, usual == 1 ? "meal" : "meals",
      counted(model.gaps, "gap", "gaps"), how_seldom(chance));
  if (!refused.empty()) sign.evidence += fmt::format(" Refused on {}.", listed(refused));
  sign.advice =
      call ? fmt::format("If nothing was passed unseen, call {}.", kVet)
           : fmt::format(
                 "Look for droppings in the whole enclosure and write them down. Check the "
                 "warm side and the water. If it strains, swells or stops eating, call {}.",
                 kVet);
  sign.for_vet = fmt::format("Last droppings {}; {} since, the last on {}.", to_text(passed.back()),
                             counted(meals, "meal", "meals"), to_text(eaten.back()));
  if (!refused.empty()) sign.for_vet += fmt::format(" Refused on {}.", listed(refused));
  sign.source = fmt::format(
      "rule {} and gaps between droppings in meals, log-normal, from its own "
      "record (docs/models/health.md); limits common practice, no source",
      rule);
  return {std::move(sign)};
}

}  // namespace warmside::health
