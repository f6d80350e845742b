#pragma once
// Who was exposed, or where something can have come from: for people and as JSON
// (docs/schema/trace.schema.json).

#include <string>

#include "hygiene/exposure.h"
#include "report/sheet.h"

namespace warmside::report {

std::string trace_as_text(const hygiene::Traced& traced, const hygiene::TraceQuestion& question,
                          const Zone& zone, const SheetStyle& style);
std::string trace_as_json(const hygiene::Traced& traced, const hygiene::TraceQuestion& question);

}  // namespace warmside::report
