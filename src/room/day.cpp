#include "room/day.h"

namespace warmside::room {
namespace {

/// Long enough for every series a module reads: the readings of a week, however often they are
/// taken, what hands touched today and yesterday, a month of tools and disinfections, a
/// quarantine's checks, moves and restarts of a year (health/quarantine.h), the weighings of a year
/// (health/weights.h) with some before it, the lengths that go with them, the meals of a year and
/// of the winter before it, in which an animal may have fasted, two years of sheds, eggs and
/// brumations.
constexpr Recall kRecall[] = {
    {EntryKind::weighed, 2, 430},
    {EntryKind::measured, 2, 430},
    {EntryKind::laid_eggs, 2, 800},
    {EntryKind::fed, 3, 460},
    {EntryKind::refused, 3, 460},
    {EntryKind::leftovers, 1, 460},
    {EntryKind::regurgitated, 2, 460},
    {EntryKind::in_shed, 1, 800},
    {EntryKind::shed, 4, 800},
    {EntryKind::droppings, 1, 460},
    {EntryKind::watered, 1, 2},
    {EntryKind::spot_cleaned, 1, 2},
    {EntryKind::full_cleaned, 1, 2},
    {EntryKind::misted, 1},
    {EntryKind::reading, 24, 8},
    {EntryKind::uv_reading, 24, 731},
    {EntryKind::moved, 8, 366},
    {EntryKind::quarantine_started, 4, 366},
    {EntryKind::quarantine_ended, 4, 366},
    {EntryKind::brumation_started, 1, 800},
    {EntryKind::brumation_ended, 1, 800},
    {EntryKind::ill, 4, 366},
    {EntryKind::recovered, 4, 366},
    {EntryKind::checked, 24, 366},
    {EntryKind::tested, 1},
    {EntryKind::used, 4, 30},
    {EntryKind::disinfected, 4, 30},
    {EntryKind::opened, 1},
    {EntryKind::replaced, 1},
    {EntryKind::done, 1},
    {EntryKind::note, 1, 8},
};

constexpr int kDaysOfYear = 365;

/// The day on which a state began that has not ended since.
std::optional<Date> since(const Day& day, const Subject& subject, EntryKind begin, EntryKind end) {
  const Entry* entry = day.history->latest_of(subject, {begin, end});
  if (entry == nullptr || entry->kind != begin) return std::nullopt;
  return day.date_of(*entry);
}

AnimalDay state_of(const Day& day, const Animal& animal) {
  const auto& rules = species::care_rules();
  const Subject subject = subject_of(animal);
  AnimalDay state;
  state.animal = &animal;
  state.profile = profile_of(*day.room, animal);
  state.home = home_of(animal, *day.history);
  state.ill_since = since(day, subject, EntryKind::ill, EntryKind::recovered);
  state.brumating_since =
      since(day, subject, EntryKind::brumation_started, EntryKind::brumation_ended);
  state.in_shed_since = since(day, subject, EntryKind::in_shed, EntryKind::shed);
  // A shed that nobody wrote down must not stop the feeding for ever.
  if (state.in_shed_since && day.date - *state.in_shed_since > rules.days("in_shed_believed")) {
    state.in_shed_since.reset();
  }
  state.quarantine_since =
      since(day, subject, EntryKind::quarantine_started, EntryKind::quarantine_ended);
  state.weighing = day.history->latest(subject, EntryKind::weighed);
  const int age_days = animal.born ? day.date - *animal.born : kDaysOfYear;
  // An old animal that has grown thin is no youngster.
  const bool grown = animal.born && age_days >= rules.value<Duration>("grown_age").days();
  const auto* adult = state.profile.value<Range<Mass>>(species::Key::adult_mass);
  if (state.weighing != nullptr && adult != nullptr && animal.count == 1) {
    state.young = !grown && *state.weighing->mass <
                                adult->low * rules.value<Percentage>("adult_share_of_mass").share();
  } else {
    state.young = age_days < kDaysOfYear;
  }
  state.hatchling = age_days < rules.value<Duration>("hatchling_age").days();
  return state;
}

}  // namespace

std::vector<species::Situation> AnimalDay::situations() const {
  using species::Situation;
  std::vector<Situation> holding;
  if (quarantine_since) holding.push_back(Situation::quarantine);
  if (young) holding.push_back(Situation::juvenile);
  if (brumating_since) holding.push_back(Situation::brumation);
  if (in_shed_since) holding.push_back(Situation::in_shed);
  const auto* humidity = profile.value<Range<Percentage>>(species::Key::humidity);
  // 100 % means that the animal lives in water, where nothing is misted.
  if (humidity != nullptr && humidity->low >= Percentage::percent(60) &&
      humidity->low < Percentage::percent(100)) {
    holding.push_back(Situation::humid);
  }
  return holding;
}

std::vector<const AnimalDay*> Day::animals_in(const EnclosureId& enclosure) const {
  std::vector<const AnimalDay*> found;
  for (const AnimalDay& animal : animals) {
    if (animal.home == enclosure) found.push_back(&animal);
  }
  return found;
}

EnclosureId home_at(const Day& day, const Animal& animal, Instant at) {
  EnclosureId home = animal.enclosure;
  for (const Entry& move : day.history->all(subject_of(animal), EntryKind::moved)) {
    if (move.at <= at && move.target) home = EnclosureId::trusted(move.target->id);
  }
  return home;
}

std::span<const Recall> recalled_for_a_day() {
  return kRecall;
}

Day make_day(const Room& room, const History& history, Date date) {
  Day day;
  day.room = &room;
  day.history = &history;
  day.date = date;
  if (const auto zone = Zone::named(room.info.zone)) day.zone = *zone;
  for (const Animal& animal : room.animals) {
    if (is_here(animal, date)) day.animals.push_back(state_of(day, animal));
  }
  return day;
}

}  // namespace warmside::room
