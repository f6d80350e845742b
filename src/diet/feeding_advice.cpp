#include "diet/feeding_advice.h"

#include <fmt/format.h>

#include <algorithm>

#include "diet/unsuitable.h"

namespace warmside::diet {
namespace {

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

std::vector<Course> last_courses(const room::AnimalDay& animal, const room::Day& day, Date on) {
  const auto meals = meals_offered(animal, day, on - kDaysOfHabit, on);
  return meals.empty() ? std::vector<Course>{} : meals.back().courses;
}

}  // namespace

Advice feeding_advice(const room::AnimalDay& animal, const room::Day& day, const Pantry& pantry,
                      Date on, const std::optional<Choice>& choice) {
  const UnitSystem units = day.room->info.units;
  Advice advice;
  advice.limits = animal.profile.text(species::Key::meal_rule);
  std::optional<Choice> made = choice;
  std::vector<Course> courses;
  bool always = false;
  if (!made) {
    const Habits habits(animal, day, on);
    made = habits.due(on);
    always = made && habits.only_one();
    if (!made) courses = last_courses(animal, day, on);
  }
  if (made) courses = made->courses;
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
      advice.courses.push_back(course);
      if (jar == nullptr || !may_be_used(*jar, day.date)) advice.courses.back().jar = {};
    }
    if (is_frozen(match)) advice.thaw.push_back({match.supply, course.count.value_or(1)});
    meal_kj += energy_kj(course, match);
    matches.push_back(match);
  }
  if (advice.what.empty()) return advice;
  advice.meal_kj = meal_kj;
  advice.always = always;
  if (choice && advice.preparation.empty()) {
    const bool whole_prey = std::all_of(matches.begin(), matches.end(), [](const Match& match) {
      return match.food != nullptr && match.food->kind == FoodKind::vertebrate;
    });
    advice.preparation = (whole_prey ? "chosen " : "no powder, ") + choice->why;
  }
  if (!made) advice.what = "last time " + advice.what;
  if (courses.size() == 1) advice.amount = amount_words(animal, courses.front(), matches.front());
  if (!rule_fits(advice.limits, matches)) advice.limits.clear();
  if (!advice.thaw.empty()) add(advice.preparation, kThawed);
  return advice;
}

}  // namespace warmside::diet
