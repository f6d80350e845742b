#pragma once
// The food part of an animal's page: what it needs, what it ate in four weeks, what would fit.

#include "report/json_parts.h"
#include "report/sheet.h"
#include "room/day.h"

namespace warmside::report {

void put_food(const room::AnimalDay& animal, const room::Day& day, Sheet& sheet);
/// Its shape: docs/schema/animal.schema.json, food.
Json food_json(const room::AnimalDay& animal, const room::Day& day);

}  // namespace warmside::report
