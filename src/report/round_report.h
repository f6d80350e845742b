#pragma once
// Today's round for people (a sheet) and for programs (JSON, docs/schema/today.schema.json).

#include <string>

#include "report/sheet.h"
#include "round/round.h"

namespace warmside::report {

std::string round_as_text(const round::Round& round, const SheetStyle& style);
/// One JSON object and a line break.
std::string round_as_json(const round::Round& round);

}  // namespace warmside::report
