#include "diet/past_diet.h"

#include <algorithm>
#include <map>

#include "room/eaten.h"

namespace warmside::diet {
namespace {

using room::Entry;

constexpr double kHoursUntilEaten = 2;

Interval grams_of(const Entry& entry, const Match& match, double share) {
  if (entry.mass) return Interval::exactly(entry.mass->grams() * share);
  if (entry.count) return match.piece_g() * (*entry.count * share);
  return Interval::unknown();
}

/// Nutrients of a course whose mass lies at `at` (0 low, 1 high).
Nutrients nutrients_at(const Eaten& course, double at) {
  const Food nothing_known;
  Serving serving;
  serving.food = course.match.food == nullptr ? &nothing_known : course.match.food;
  serving.mass = Mass::grams(course.grams.low + (course.grams.high - course.grams.low) * at);
  if (course.jar != nullptr) {
    serving.dust = Dusting{supplement_of(*course.jar), dust_when_eaten_g_per_g(serving.food->kind),
                           Duration::hours(0)};
  }
  return nutrients_of(serving);
}

/// "At least nothing, at most anything" of all.
Nutrients anything() {
  const Interval u = Interval::unknown();
  return {u, u, u, u, u, u, u, u, u, u, u};
}

Verdict together(Verdict a, Verdict b) {
  if (a == b) return a;
  return a == Verdict::unknown || b == Verdict::unknown ? Verdict::unknown : Verdict::unsure;
}

Judgement together(const Judgement& a, const Judgement& b) {
  Judgement both = a;
  both.amount = {std::min(a.amount.low, b.amount.low), std::max(a.amount.high, b.amount.high)};
  both.verdict = together(a.verdict, b.verdict);
  return both;
}

/// Preformed vitamin A of an amphibian, or of a group of them, in a week.
std::optional<Judgement> weekly_retinol(const room::AnimalDay& animal, const Nutrients& eaten,
                                        int days) {
  if (!is_amphibian(animal.profile.group) || animal.weighing == nullptr) return std::nullopt;
  // A group is weighed together and its mean written down.
  const WeeklyRetinol want = amphibian_retinol(*animal.weighing->mass * animal.animal->count);
  Judgement judgement;
  judgement.target = {Nutrient::vitamin_a,
                      "IU a week",
                      {want.wanted_iu, want.wanted_iu},
                      want.limit_iu,
                      Trust::verified_secondary,
                      "Coslik, Ward & McClements 2009 (abstract)"};
  const double weeks = days / 7.0;
  const Interval retinol = (eaten.retinol_iu + eaten.prey_retinol_iu) * (1 / weeks);
  const Interval made{0, eaten.carotenoid_iu.high / weeks};
  judgement.amount = retinol + made;
  judgement.verdict = judge(judgement.amount, retinol, judgement.target);
  return judgement;
}

}  // namespace

Interval dust_when_eaten_g_per_g(FoodKind kind) {
  const double light = dust_at_first_g_per_g(Coat::light).low;
  const double thick = dust_at_first_g_per_g(Coat::well).high;
  if (kind == FoodKind::plant) return {light, thick};  // leaves do not groom themselves
  const Interval left =
      dust_left_g_per_g(Interval::exactly(light), Duration::hours(kHoursUntilEaten));
  return {left.low, thick};
}

Supplement supplement_of(const room::Jar& jar) {
  Supplement supplement = usual_supplement(jar.contents);
  const auto lay_over = [](Interval& usual, const std::optional<double>& label) {
    if (label) usual = Interval::exactly(*label);
  };
  if (jar.calcium) supplement.calcium_g_per_g = Interval::exactly(jar.calcium->share());
  lay_over(supplement.vitamin_d3_iu_per_g, jar.vitamin_d3_iu_per_g);
  lay_over(supplement.retinol_iu_per_g, jar.retinol_iu_per_g);
  lay_over(supplement.carotenoid_iu_per_g, jar.carotenoid_iu_per_g);
  lay_over(supplement.vitamin_e_iu_per_g, jar.vitamin_e_iu_per_g);
  return supplement;
}

bool has_label(const room::Jar& jar) {
  switch (jar.contents) {
    case room::SupplementKind::calcium:
      return true;  // what it holds hardly differs
    case room::SupplementKind::calcium_d3:
      return jar.vitamin_d3_iu_per_g.has_value();
    case room::SupplementKind::multivitamin:
    case room::SupplementKind::multivitamin_retinol:
    case room::SupplementKind::other:
      return jar.calcium && jar.vitamin_d3_iu_per_g && jar.retinol_iu_per_g;
  }
  WS_CHECK(false);
}

std::vector<Eaten> eaten_since(const room::AnimalDay& animal, const room::Day& day,
                               const Pantry& pantry, Date from) {
  const auto subject = room::subject_of(*animal.animal);
  const auto meals = day.history->all(subject, room::EntryKind::fed);
  const auto leftovers = day.history->all(subject, room::EntryKind::leftovers);
  std::vector<Eaten> eaten;
  for (const Entry* entry : room::accepted_meals(animal, day)) {
    if (day.date_of(*entry) < from) continue;
    Eaten course;
    course.entry = entry;
    course.match = pantry.match(entry->item);
    course.share = 1 - room::share_left(*entry, meals, leftovers, day);
    course.grams = grams_of(*entry, course.match, course.share);
    if (entry->target && entry->target->kind == room::SubjectKind::jar) {
      course.jar = room::find(day.room->jars, room::JarId::trusted(entry->target->id));
    }
    eaten.push_back(std::move(course));
  }
  return eaten;
}

std::vector<Nutrients> corners_of(const std::vector<Eaten>& eaten) {
  std::map<const Food*, unsigned> bit_of;  // the foods whose mass has a range
  for (const Eaten& course : eaten) {
    if (course.grams.known() && course.grams.low < course.grams.high) {
      const auto next = std::min<unsigned>(static_cast<unsigned>(bit_of.size()), kMostCorners - 1);
      bit_of.try_emplace(course.match.food, next);
    }
  }
  const unsigned bits = std::min<unsigned>(static_cast<unsigned>(bit_of.size()), kMostCorners);
  std::vector<Nutrients> corners(std::size_t{1} << bits);
  for (unsigned corner = 0; corner < corners.size(); ++corner) {
    for (const Eaten& course : eaten) {
      if (!course.grams.known()) {
        corners[corner] = corners[corner] + anything();
        continue;
      }
      const auto at = bit_of.find(course.match.food);
      const bool high = at != bit_of.end() && (corner >> at->second & 1U) != 0;
      corners[corner] = corners[corner] + nutrients_at(course, high ? 1 : 0);
    }
  }
  return corners;
}

bool has_uvb(const room::AnimalDay& animal, const room::Day& day) {
  return !animal.home.empty() &&
         std::any_of(day.room->lamps.begin(), day.room->lamps.end(), [&](const room::Lamp& lamp) {
           return lamp.uvb && lamp.enclosure == animal.home && room::in_use(lamp, day.date);
         });
}

std::optional<Circumstances> circumstances_of(const room::AnimalDay& animal, const room::Day& day) {
  const auto diet = diet_class_of(animal.profile.text(species::Key::diet_class));
  if (!diet) return std::nullopt;
  return Circumstances{*diet, is_amphibian(animal.profile.group), has_uvb(animal, day)};
}

PastDiet past_diet(const room::AnimalDay& animal, const room::Day& day, const Pantry& pantry) {
  PastDiet past;
  past.eaten = eaten_since(animal, day, pantry, day.date - kDaysOfPast);
  if (past.eaten.empty()) return past;
  const auto corners = corners_of(past.eaten);
  past.energy_kj = corners.front().energy_kj;
  for (const Nutrients& corner : corners) {
    past.energy_kj = {std::min(past.energy_kj.low, corner.energy_kj.low),
                      std::max(past.energy_kj.high, corner.energy_kj.high)};
  }
  const auto circumstances = circumstances_of(animal, day);
  const int days = day.date - day.date_of(*past.eaten.front().entry);
  if (!circumstances || days < kLeastDays || std::ssize(past.eaten) < kLeastMeals) return past;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    std::vector<Judgement> here = judge(corners[i], *circumstances);
    if (const auto retinol = weekly_retinol(animal, corners[i], kDaysOfPast)) {
      here.push_back(*retinol);
    }
    for (std::size_t k = 0; k < here.size(); ++k) {
      if (i == 0) {
        past.judgements.push_back(here[k]);
      } else {
        past.judgements[k] = together(past.judgements[k], here[k]);
      }
    }
  }
  return past;
}

}  // namespace warmside::diet
