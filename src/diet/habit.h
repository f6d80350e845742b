#pragma once
// What a keeper is used to give an animal: the meals of its notebook, and those among them that
// come again and again at steady gaps. What was refused was offered too.

#include <optional>
#include <string>
#include <vector>

#include "diet/pantry.h"
#include "room/day.h"

namespace warmside::diet {

/// One food of a meal with the jar that it is dusted from.
struct Course {
  std::string item;
  std::optional<int> count;
  std::optional<Mass> mass;
  room::JarId jar;  // empty: not dusted
};

/// "2 x adult mouse": count or mass and food.
std::string course_text(const Course& course, UnitSystem units);

/// The courses of one meal and why just these.
struct Choice {
  std::vector<Course> courses;
  std::string why;  // "as you do about every 10 days, last 2026-11-15"
};

/// Everything offered on one day.
struct OfferedMeal {
  Date date;
  std::vector<Course> courses;
};
/// From `from` to the day before `to`, oldest first.
std::vector<OfferedMeal> meals_offered(const room::AnimalDay& animal, const room::Day& day,
                                       Date from, Date to);

/// The words of a meal's foods, in whatever order they were jotted: one text for one menu. Counts
/// do not matter; jars only where `with_jars` is set.
std::string menu_key(const OfferedMeal& meal, bool with_jars);

/// A meal that came kLeastTimes times in kDaysOfHabit days, three of four gaps between half and
/// twice their median, is a habit: foods and jars, with the counts of the last time.
class Habits {
 public:
  /// From the notebook before a day.
  Habits(const room::AnimalDay& animal, const room::Day& day, Date before);

  /// The meal that habit would bring on a day: the one that is longest past its median gap, of two
  /// the rarer. None without a habit.
  std::optional<Choice> due(Date on) const;
  /// As if due(on) had been offered on that day.
  void offer(Date on);
  /// These days knew one menu and no other; true without any meal.
  bool only_one() const { return menus_ <= 1; }

 private:
  struct Habit {
    std::vector<Course> courses;
    int gap_d;
    Date last;
  };
  std::optional<std::size_t> index_due(Date on) const;
  std::vector<Habit> habits_;
  std::size_t menus_ = 0;
};
constexpr int kDaysOfHabit = 90, kLeastTimes = 3;

}  // namespace warmside::diet
