#pragma once
// The rota of a file, for people and as JSON (docs/schema/diet_rota.schema.json).

#include <string>

#include "diet/rota.h"
#include "report/sheet.h"

namespace warmside::report {

std::string rota_as_text(const diet::RotaProblem& problem, const diet::RotaAnswer& answer,
                         const SheetStyle& style);
std::string rota_as_json(const diet::RotaProblem& problem, const diet::RotaAnswer& answer);

}  // namespace warmside::report
