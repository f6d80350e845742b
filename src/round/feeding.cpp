#include "round/feeding.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "climate/computed.h"
#include "diet/past_diet.h"
#include "health/animal_weight.h"
#include "room/eaten.h"
#include "round/tasks.h"

namespace warmside::round {
namespace {

using room::AnimalDay;
using room::Day;
using room::Entry;
using room::EntryKind;
using species::Key;

/// Pauses after which food is offered again, and what to mind then.
void pause_feeding(const AnimalDay& animal, const Day& day, Recurrence& recurrence,
                   std::string& pause) {
  const room::Subject subject = room::subject_of(*animal.animal);
  const auto not_before = [&](Date date) {
    if (!recurrence.not_before || *recurrence.not_before < date) recurrence.not_before = date;
  };
  if (const Entry* woke = day.history->latest(subject, EntryKind::brumation_ended)) {
    not_before(day.date_of(*woke));
  }
  if (animal.profile.text(Key::feed_in_shed) == "no") {
    if (const Entry* shed = day.history->latest(subject, EntryKind::shed)) {
      not_before(day.date_of(*shed));
    }
  }
  const Entry* regurgitated = day.history->latest(subject, EntryKind::regurgitated);
  if (regurgitated == nullptr) return;
  const Entry* fed = day.history->latest(subject, EntryKind::fed);
  if (fed != nullptr && fed->at > regurgitated->at) return;
  const Date when = day.date_of(*regurgitated);
  not_before(when + whole_days(species::care_rules().value<Duration>("regurgitation_pause")));
  pause = fmt::format(
      "; half-size prey, since it regurgitated on {} (common practice); twice is a matter for a "
      "veterinarian",
      to_text(when));
}

std::optional<diet::MassChange> mass_change(const AnimalDay& animal, const Day& day) {
  constexpr int kDaysOfYear = 365;
  constexpr double kGainSd_share = 0.03;  // of both weighings: common practice, no source
  auto weighings = health::believed_weighings(animal, day);
  std::erase_if(weighings, [&](const auto& weighing) {
    return day.date - day.date_of(*weighing.entry) > kDaysOfYear;
  });
  if (weighings.size() < 2) return std::nullopt;
  const auto& first = weighings.front();
  const auto& last = weighings.back();
  return diet::MassChange{day.date_of(*first.entry), day.date_of(*last.entry),
                          last.empty - first.empty, last.empty * kGainSd_share};
}

std::optional<diet::DayOfWarmth> computed_warmth(const AnimalDay& animal, const Day& day) {
  const room::Enclosure* home = room::find(day.room->enclosures, animal.home);
  if (home == nullptr) return std::nullopt;
  const auto outlook = climate::enclosure_outlook(day, *home, false);
  if (!outlook) return std::nullopt;
  diet::DayOfWarmth warmth;
  for (std::size_t hour = 0; hour < warmth.low.size(); ++hour) {
    const Range<Temperature>& ends = outlook->ends[hour];
    warmth.low[hour] = ends.low;
    warmth.high[hour] = ends.high;
    warmth.middle[hour] = ends.low + (ends.high - ends.low) / 2;
  }
  warmth.assumed = "between the cool end and the warm end of its enclosure, as computed";
  return warmth;
}

/// What its food of four weeks surely lacks or has too much of. Phosphorus is not fed for
/// (diet/findings.h).
std::vector<std::string> off_in(const diet::PastDiet& past) {
  std::vector<std::string> off;
  for (const diet::Judgement& judged : past.judgements) {
    if (judged.target.nutrient == diet::Nutrient::phosphorus) continue;
    if (judged.verdict == diet::Verdict::surely_too_little) {
      off.push_back(fmt::format("too little {}", word(judged.target.nutrient)));
    } else if (judged.verdict == diet::Verdict::surely_too_much) {
      off.push_back(fmt::format("too much {}", word(judged.target.nutrient)));
    }
  }
  return off;
}

/// Whether there are meals enough to know what the keeper gives, and none of them is a habit. Twice
/// the meals that make a habit: common practice, no source.
bool chooses_freely(const AnimalDay& animal, const Day& day, Date on) {
  const auto meals = diet::meals_offered(animal, day, on - diet::kDaysOfHabit, on);
  return std::ssize(meals) >= 2 * diet::kLeastTimes && !diet::Habits(animal, day, on).due(on);
}

}  // namespace

std::optional<Feeding> next_feeding(const AnimalDay& animal, const Day& day) {
  if (animal.brumating_since) return std::nullopt;
  if (animal.in_shed_since && animal.profile.text(Key::feed_in_shed) == "no") return std::nullopt;
  const Key key = animal.young ? Key::feed_interval_juvenile : Key::feed_interval_adult;
  const species::Fact* interval = animal.profile.find(key);
  if (interval == nullptr) return std::nullopt;
  Feeding feeding;
  feeding.interval_days = whole_days(std::get<Duration>(interval->value));
  int every = feeding.interval_days;
  Recurrence recurrence;
  const Entry* offered = day.history->latest_of(room::subject_of(*animal.animal),
                                                {EntryKind::fed, EntryKind::refused});
  std::string last = "no meal in the notebook";
  if (offered != nullptr) {
    recurrence.last_done = day.date_of(*offered);
    last = fmt::format("last fed {}", to_text(*recurrence.last_done));
    const bool refused = offered->kind == EntryKind::refused;
    if (refused || room::share_left(*offered, day) >= room::kNotEaten) {
      last = fmt::format("{} on {}", refused ? "refused" : "left lying",
                         to_text(*recurrence.last_done));
      const double share = species::care_rules().value<Percentage>("refusal_retry_share").share();
      last += fmt::format(", {} without a refusal", every_words(every));
      every = std::max(1, static_cast<int>(std::ceil(every * share)));
    }
  }
  pause_feeding(animal, day, recurrence, feeding.pause);
  feeding.every_days = recurrence.every_days = every;
  feeding.due = next_due(recurrence, day.date);
  feeding.reason = fmt::format("{}, {}; {}, {}", every_words(every), last,
                               animal.young ? "young" : "adult", word(interval->trust));
  return feeding;
}

diet::KnownElsewhere known_of(const AnimalDay& animal, const Day& day, bool climate) {
  return {climate ? computed_warmth(animal, day) : std::nullopt, mass_change(animal, day)};
}

diet::Diner diner_of(const AnimalDay& animal, const Day& day, const Feeding& feeding) {
  diet::Diner diner;
  diner.animal = &animal;
  for (Date date = std::max(feeding.due.date, day.date); date < day.date + diet::kDaysOfRota;
       date = date + feeding.interval_days) {
    diner.feeding_days.push_back(date);
  }
  diner.elsewhere = known_of(animal, day, true);
  return diner;
}

std::vector<diet::Diner> diners_of(const Day& day) {
  std::vector<diet::Diner> diners;
  for (const AnimalDay& animal : day.animals) {
    if (const auto feeding = next_feeding(animal, day)) {
      diners.push_back(diner_of(animal, day, *feeding));
    }
  }
  return diners;
}

std::optional<diet::Choice> meal_by_rota(const AnimalDay& animal, const Day& day,
                                         const diet::Pantry& pantry, const Feeding& feeding) {
  if (!feeding.pause.empty()) return std::nullopt;
  const auto off = off_in(diet::past_diet(animal, day, pantry));
  const Date on = std::max(feeding.due.date, day.date);
  if (off.empty() && !chooses_freely(animal, day, on)) return std::nullopt;
  const diet::RoomRota rota = diet::room_rota(day, pantry, {diner_of(animal, day, feeding)});
  if (rota.animals.empty() || !diet::check(rota.problem).empty()) return std::nullopt;
  const diet::RotaAnswer answer = diet::solve_rota(rota.problem);
  if (!answer.plan) return std::nullopt;
  return rota.choice_of(
      answer.plan->meals.front(),
      off.empty()
          ? std::string("by its needs of four weeks, since no habit is steady")
          : fmt::format("by its needs of four weeks: what it ate held {}", fmt::join(off, ", ")));
}

}  // namespace warmside::round
