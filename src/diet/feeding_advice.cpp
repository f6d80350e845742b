#include "diet/feeding_advice.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "diet/unsuitable.h"

namespace warmside::diet {
namespace {

using room::Entry;
using room::EntryKind;

Course course_of(const Entry& entry) {
  Course course;
  course.item = entry.item;
  course.count = entry.count;
  course.mass = entry.mass;
  if (entry.target && entry.target->kind == room::SubjectKind::jar) {
    course.jar = room::JarId::trusted(entry.target->id);
  }
  return course;
}

/// Everything offered on one day. Refused food was a choice too.
struct Offer {
  Date date;
  std::vector<Course> courses;
};

/// From `from` to the day before `to`.
std::vector<Offer> offers_between(const room::AnimalDay& animal, const room::Day& day, Date from,
                                  Date to) {
  const auto subject = room::subject_of(*animal.animal);
  std::map<Date, std::vector<Course>> by_date;
  for (const EntryKind kind : {EntryKind::fed, EntryKind::refused}) {
    for (const Entry& entry : day.history->all(subject, kind)) {
      const Date date = day.date_of(entry);
      if (date >= from && date < to && !entry.item.empty()) {
        by_date[date].push_back(course_of(entry));
      }
    }
  }
  std::vector<Offer> offers;
  for (auto& [date, courses] : by_date) offers.push_back({date, std::move(courses)});
  return offers;
}

/// What makes two offers the same meal: foods and jars, not counts.
std::string key_of(const Offer& offer) {
  std::vector<std::string> parts;
  for (const Course& course : offer.courses) {
    std::string part;
    for (const std::string& word : food_words(course.item)) part += word + " ";
    parts.push_back(part + "/" + course.jar.text());
  }
  std::sort(parts.begin(), parts.end());
  std::string key;
  for (const std::string& part : parts) key += part + "|";
  return key;
}

/// The median gap of a steady habit, else nothing.
std::optional<int> steady_gap(const std::vector<Date>& dates) {
  if (std::ssize(dates) < kLeastTimes) return std::nullopt;
  std::vector<int> gaps;
  for (std::size_t i = 1; i < dates.size(); ++i) gaps.push_back(dates[i] - dates[i - 1]);
  std::vector<int> sorted = gaps;
  std::sort(sorted.begin(), sorted.end());
  const int median = sorted[(sorted.size() - 1) / 2];
  const auto steady = std::count_if(
      gaps.begin(), gaps.end(), [&](int gap) { return 2 * gap >= median && gap <= 2 * median; });
  return 4 * steady >= 3 * std::ssize(gaps) ? std::optional(median) : std::nullopt;
}

bool may_be_used(const room::Jar& jar, Date date) {
  return room::in_use(jar, date) && (!jar.expires || *jar.expires >= date);
}

std::string jar_words(const room::Jar& jar) {
  return fmt::format("{} ({})", jar.id.text(),
                     jar.label.empty() ? std::string(word(jar.contents)) : jar.label);
}

void add(std::string& text, const std::string& part) {
  if (part.empty()) return;
  if (!text.empty()) text += "; ";
  text += part;
}

std::string piece_words(const Course& course, const Match& match, UnitSystem units) {
  if (!course.count || !match.piece_g().known()) return "";
  const Interval grams = match.piece_g();
  const bool one = grams.low == grams.high;
  return one ? fmt::format(" (about {}{})", for_people(Mass::grams(grams.low), units),
                           *course.count == 1 ? "" : " each")
             : fmt::format(
                   " ({}{})",
                   for_people(Range<Mass>{Mass::grams(grams.low), Mass::grams(grams.high)}, units),
                   *course.count == 1 ? "" : " each");
}

bool is_frozen(const Match& match) {
  return match.supply != nullptr && match.supply->kind == room::SupplyKind::frozen_prey;
}

std::string dust_words(const Course& course, const room::Day& day, const std::string& why) {
  if (course.jar.empty()) return "";
  const room::Jar* jar = room::find(day.room->jars, course.jar);
  if (jar == nullptr) return "";
  if (!may_be_used(*jar, day.date)) {
    return fmt::format("not from {}, which is past its date or thrown away", jar->id.text());
  }
  return fmt::format("dust the {} from {}{}{}", course.item, jar_words(*jar),
                     why.empty() ? "" : ", ", why);
}

constexpr const char* kThawed =
    "thawed overnight in the refrigerator (if not taken out yesterday, thaw today and feed "
    "tomorrow), warmed in a bag in warm water; never refreeze";

/// Where the meal surely lies outside the profile's share of the animal's mass.
std::string amount_words(const room::AnimalDay& animal, const Course& course, const Match& match) {
  const auto portion = portion_of(animal, match);
  if (!portion || !course.count || !portion->piece_g.known()) return "";
  const Interval meal = portion->piece_g * *course.count;
  const bool more = meal.low > portion->mass.high.grams();
  const bool less_of_it = meal.high < portion->mass.low.grams();
  if (portion->too_large) {
    std::string smaller;
    for (const Food* food : prey_that_fits(animal)) {
      smaller += fmt::format("{}{}", smaller.empty() ? ", such as " : " or ", food->name);
    }
    return fmt::format("one alone is more than the profile's share: smaller prey{}",
                       match.food->kind == FoodKind::vertebrate ? smaller : "");
  }
  if (!more && !less_of_it) return "";
  return fmt::format("{} than the profile's share, which is {} of these", more ? "more" : "less",
                     portion->fewest == portion->most
                         ? std::to_string(portion->most)
                         : fmt::format("{} to {}", portion->fewest, portion->most));
}

/// A rule about insects is none for mice or greens.
bool rule_fits(const std::string& rule, const std::vector<Match>& matches) {
  if (!rule.starts_with("each insect")) return true;
  return std::any_of(matches.begin(), matches.end(), [](const Match& match) {
    return match.food == nullptr || match.food->kind == FoodKind::invertebrate;
  });
}

Interval energy_kj(const Course& course, const Match& match) {
  if (match.food == nullptr) return Interval::unknown();
  Serving gram;
  gram.food = match.food;
  gram.mass = Mass::grams(1);
  const Interval grams = course.mass    ? Interval::exactly(course.mass->grams())
                         : course.count ? match.piece_g() * *course.count
                                        : Interval::unknown();
  return nutrients_of(gram).energy_kj * grams;
}

bool is_only_meal(const room::AnimalDay& animal, const room::Day& day, Date on) {
  const auto offers = offers_between(animal, day, on - kDaysOfHabit, on);
  return std::all_of(offers.begin(), offers.end(),
                     [&](const Offer& offer) { return key_of(offer) == key_of(offers.front()); });
}

std::vector<Course> last_courses(const room::AnimalDay& animal, const room::Day& day, Date on) {
  const auto offers = offers_between(animal, day, on - kDaysOfHabit, on);
  return offers.empty() ? std::vector<Course>{} : offers.back().courses;
}

}  // namespace

std::string course_text(const Course& course, UnitSystem units) {
  if (course.count) return fmt::format("{} x {}", *course.count, course.item);
  if (course.mass) return fmt::format("{} of {}", for_people(*course.mass, units), course.item);
  return course.item;
}

std::optional<Choice> habit_of(const room::AnimalDay& animal, const room::Day& day, Date on) {
  const auto offers = offers_between(animal, day, on - kDaysOfHabit, on);
  std::map<std::string, std::vector<const Offer*>> meals;
  for (const Offer& offer : offers) meals[key_of(offer)].push_back(&offer);
  struct Habit {
    const Offer* last;
    int gap, past_due;
  };
  std::optional<Habit> due;
  for (const auto& entry : meals) {
    const std::vector<const Offer*>& times = entry.second;
    std::vector<Date> dates;
    for (const Offer* offer : times) dates.push_back(offer->date);
    const auto gap = steady_gap(dates);
    if (!gap) continue;
    const Habit habit{times.back(), *gap, (on - times.back()->date) - *gap};
    if (!due || habit.past_due > due->past_due ||
        (habit.past_due == due->past_due && habit.gap > due->gap)) {
      due = habit;
    }
  }
  if (!due) return std::nullopt;
  Choice choice;
  choice.courses = due->last->courses;
  choice.why = fmt::format("as you do about every {}, last {}",
                           due->gap == 1 ? std::string("day") : fmt::format("{} days", due->gap),
                           to_text(due->last->date));
  return choice;
}

Advice feeding_advice(const room::AnimalDay& animal, const room::Day& day, const Pantry& pantry,
                      Date on, const std::optional<Choice>& choice) {
  const UnitSystem units = day.room->info.units;
  Advice advice;
  advice.limits = animal.profile.text(species::Key::meal_rule);
  const std::optional<Choice> made = choice ? choice : habit_of(animal, day, on);
  const std::vector<Course> courses = made ? made->courses : last_courses(animal, day, on);
  const auto diet = diet_class_of(animal.profile.text(species::Key::diet_class));
  std::vector<Match> matches;
  Interval meal_kj = Interval::exactly(0);
  for (const Course& course : courses) {
    const UnsuitableFood* bad = unsuitable(course.item, animal.profile.group, diet);
    if (bad != nullptr && bad->rule == FoodRule::never) continue;  // not to be advised again
    const Match match = pantry.match(course.item);
    if (!advice.what.empty()) advice.what += " and ";
    advice.what += course_text(course, units) + piece_words(course, match, units);
    if (made) {
      add(advice.preparation, dust_words(course, day, made->why));
      const room::Jar* jar = room::find(day.room->jars, course.jar);
      if (jar != nullptr && may_be_used(*jar, day.date)) advice.jars.push_back(jar->id);
    }
    if (is_frozen(match)) advice.thaw.push_back({match.supply, course.count.value_or(1)});
    meal_kj += energy_kj(course, match);
    matches.push_back(match);
  }
  if (advice.what.empty()) return advice;
  advice.meal_kj = meal_kj;
  advice.always = !choice && made && is_only_meal(animal, day, on);
  if (!made) advice.what = "last time " + advice.what;
  if (courses.size() == 1) advice.amount = amount_words(animal, courses.front(), matches.front());
  if (!rule_fits(advice.limits, matches)) advice.limits.clear();
  if (!advice.thaw.empty()) add(advice.preparation, kThawed);
  return advice;
}

}  // namespace warmside::diet
