#pragma once
// What the weight model says of the animals of a plain file, for people and as JSON
// (docs/schema/health_weights.schema.json).

#include <string>
#include <vector>

#include "health/weights_file.h"
#include "report/sheet.h"

namespace warmside::report {

std::string weights_as_text(const std::vector<health::JudgedAnimal>& animals, UnitSystem units,
                            const SheetStyle& style);
std::string weights_as_json(const std::vector<health::JudgedAnimal>& animals);

}  // namespace warmside::report
