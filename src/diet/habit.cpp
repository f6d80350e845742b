#include "diet/habit.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

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

}  // namespace

std::string course_text(const Course& course, UnitSystem units) {
  if (course.count) return fmt::format("{} x {}", *course.count, course.item);
  if (course.mass) return fmt::format("{} of {}", for_people(*course.mass, units), course.item);
  return course.item;
}

std::vector<OfferedMeal> meals_offered(const room::AnimalDay& animal, const room::Day& day,
                                       Date from, Date to) {
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
  std::vector<OfferedMeal> meals;
  for (auto& [date, courses] : by_date) meals.push_back({date, std::move(courses)});
  return meals;
}

std::string menu_key(const OfferedMeal& meal, bool with_jars) {
  std::vector<std::string> parts;
  for (const Course& course : meal.courses) {
    std::string part;
    for (const std::string& word : food_words(course.item)) part += word + " ";
    parts.push_back(with_jars ? part + "/" + course.jar.text() : part);
  }
  std::sort(parts.begin(), parts.end());
  std::string key;
  for (const std::string& part : parts) key += part + "|";
  return key;
}

Habits::Habits(const room::AnimalDay& animal, const room::Day& day, Date before) {
  const auto meals = meals_offered(animal, day, before - kDaysOfHabit, before);
  std::map<std::string, std::vector<const OfferedMeal*>> menus;
  for (const OfferedMeal& meal : meals) menus[menu_key(meal, true)].push_back(&meal);
  menus_ = menus.size();
  for (const auto& [key, times] : menus) {
    std::vector<Date> dates;
    for (const OfferedMeal* meal : times) dates.push_back(meal->date);
    if (const auto gap = steady_gap(dates)) {
      habits_.push_back({times.back()->courses, *gap, times.back()->date});
    }
  }
}

std::optional<std::size_t> Habits::index_due(Date on) const {
  std::optional<std::size_t> due;
  int most = 0;
  for (std::size_t i = 0; i < habits_.size(); ++i) {
    const int past_due = (on - habits_[i].last) - habits_[i].gap_d;
    if (!due || past_due > most || (past_due == most && habits_[i].gap_d > habits_[*due].gap_d)) {
      due = i;
      most = past_due;
    }
  }
  return due;
}

std::optional<Choice> Habits::due(Date on) const {
  const auto index = index_due(on);
  if (!index) return std::nullopt;
  const Habit& habit = habits_[*index];
  return Choice{habit.courses, fmt::format("as you do about every {}, last {}",
                                           habit.gap_d == 1 ? std::string("day")
                                                            : fmt::format("{} days", habit.gap_d),
                                           to_text(habit.last))};
}

void Habits::offer(Date on) {
  if (const auto index = index_due(on)) habits_[*index].last = on;
}

}  // namespace warmside::diet
