#pragma once
// Foods that should not be fed, or not as a staple: the table data/unsuitable_foods.csv, built into
// the program. It goes by the words in the notebook, so that a food nobody has analysed is found
// too. It says what should not be fed, never that an animal is poisoned: that is for a
// veterinarian.

#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/result.h"
#include "diet/foods.h"
#include "diet/targets.h"

namespace warmside::diet {

/// not_staple: not in more than kMostOfCourses of the courses.
enum class FoodRule { never, not_staple };
constexpr double kMostOfCourses = 0.25;  // common practice, no source

struct UnsuitableFood {
  std::set<std::string> words;    // as food_words() makes them; all must be there
  std::vector<Group> groups;      // empty: any
  std::optional<DietClass> diet;  // none: any
  FoodRule rule = FoodRule::never;
  std::string reason;
  Provenance provenance;
};

/// Reads the table. Every bad row is a Problem with its line.
Checked<std::vector<UnsuitableFood>> read_unsuitable_foods(std::string_view csv);

/// The built-in table.
std::span<const UnsuitableFood> unsuitable_foods();

/// The first row that holds for what this animal ate, or null.
const UnsuitableFood* unsuitable(std::string_view item, Group group,
                                 const std::optional<DietClass>& diet);

}  // namespace warmside::diet

namespace warmside {
template <>
struct Words<diet::FoodRule> {
  static constexpr std::array<std::string_view, 2> list{"never", "not_staple"};
};
}  // namespace warmside
