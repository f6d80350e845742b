#pragma once
// What the table of foods (data/foods.csv) says, for people and for programs: the list, and one
// food with the trust and the source of each group of its values. Values are as fed.

#include <string>
#include <string_view>

#include "diet/foods.h"
#include "report/sheet.h"

namespace warmside::report {

std::string food_as_text(const diet::Food& food, UnitSystem units, const SheetStyle& style);
std::string food_as_json(const diet::Food& food);

/// The foods whose names contain `text`; all when it is empty. As text empty when there is none.
std::string food_list_as_text(std::string_view text, const SheetStyle& style);
std::string food_list_as_json(std::string_view text);

}  // namespace warmside::report
