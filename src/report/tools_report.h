#pragma once
// Whose tools are whose and how many would keep the room separated: for people and as JSON
// (docs/schema/tools.schema.json).

#include <set>
#include <string>

#include "report/sheet.h"
#include "room/day.h"

namespace warmside::report {

/// `watched`: animals under observation (round/round.h).
std::string tools_as_text(const room::Day& day, const std::set<room::AnimalId>& watched,
                          const SheetStyle& style);
std::string tools_as_json(const room::Day& day, const std::set<room::AnimalId>& watched);

}  // namespace warmside::report
