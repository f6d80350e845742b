#pragma once
// A rota, for people and as JSON (docs/schema/diet_rota.schema.json).

#include <string>
#include <vector>

#include "diet/rota.h"
#include "report/sheet.h"

namespace warmside::report {

/// An animal of the room that is on no rota, and why.
struct NotOnRota {
  std::string animal, why;
};

std::string rota_as_text(const diet::RotaProblem& problem, const diet::RotaAnswer& answer,
                         const std::vector<NotOnRota>& left_out, const SheetStyle& style);
std::string rota_as_json(const diet::RotaProblem& problem, const diet::RotaAnswer& answer,
                         const std::vector<NotOnRota>& left_out);

}  // namespace warmside::report
