#include "diet/unsuitable.h"

#include <algorithm>

#include "diet/built_in_unsuitable_foods.h"
#include "diet/pantry.h"
#include "species/table.h"

namespace warmside::diet {
namespace {

constexpr const char* kFile = "unsuitable_foods.csv";
const std::vector<std::string_view> kColumns{"words",  "groups", "diet",   "rule",
                                             "reason", "status", "source", "note"};

/// The words of a list that is parted by "; ".
std::vector<std::string_view> listed(std::string_view text) {
  std::vector<std::string_view> parts;
  while (!text.empty()) {
    const auto end = std::min(text.find("; "), text.size());
    parts.push_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 2, text.size()));
  }
  return parts;
}

}  // namespace

Checked<std::vector<UnsuitableFood>> read_unsuitable_foods(std::string_view csv) {
  std::vector<UnsuitableFood> foods;
  Problems problems;
  species::read_table(kFile, csv, kColumns, problems, [&](const auto& fields, int line) {
    UnsuitableFood food;
    const auto refuse = [&](const char* column, std::string what, std::string_view found) {
      problems.push_back(
          {ProblemCode::bad_value, std::move(what), {kFile, line, column}, "", std::string(found)});
    };
    food.words = food_words(fields[0]);
    if (food.words.empty()) refuse("words", "no words to find it by", fields[0]);
    if (fields[1] != "any") {
      for (const std::string_view name : listed(fields[1])) {
        const auto group = from_word<Group>(name);
        if (!group) refuse("groups", "no such group", name);
        if (group) food.groups.push_back(*group);
      }
      if (food.groups.empty()) refuse("groups", "neither any nor a group", fields[1]);
    }
    if (fields[2] != "any" && !(food.diet = from_word<DietClass>(fields[2]))) {
      refuse("diet", "no such diet", fields[2]);
    }
    const auto rule = from_word<FoodRule>(fields[3]);
    if (!rule) refuse("rule", "no such rule", fields[3]);
    food.rule = rule.value_or(FoodRule::never);
    food.reason = fields[4];
    const auto trust = from_word<Trust>(fields[5]);
    if (food.reason.empty()) refuse("reason", "must be given", "");
    if (!trust || fields[6].empty()) refuse("status", "no provenance", fields[5]);
    food.provenance = {trust.value_or(Trust::common_practice), std::string(fields[6])};
    foods.push_back(std::move(food));
  });
  if (!problems.empty()) return problems;
  return foods;
}

std::span<const UnsuitableFood> unsuitable_foods() {
  static const std::vector<UnsuitableFood> table = [] {
    auto read = read_unsuitable_foods(data::unsuitable_foods_csv());
    WS_CHECK(read.ok());
    return *std::move(read);
  }();
  return table;
}

const UnsuitableFood* unsuitable(std::string_view item, Group group,
                                 const std::optional<DietClass>& diet) {
  const auto said = food_words(item);
  for (const UnsuitableFood& food : unsuitable_foods()) {
    const bool named =
        std::includes(said.begin(), said.end(), food.words.begin(), food.words.end());
    const bool in_group = food.groups.empty() || std::find(food.groups.begin(), food.groups.end(),
                                                           group) != food.groups.end();
    if (named && in_group && (!food.diet || food.diet == diet)) return &food;
  }
  return nullptr;
}

}  // namespace warmside::diet
