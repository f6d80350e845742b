#pragma once
// The UV of an enclosure, as a part of its page.

#include "report/json_parts.h"
#include "report/sheet.h"
#include "room/day.h"

namespace warmside::report {

/// Heading and rows: each UVB lamp, the basking place, what the animals want. Nothing where there
/// is neither a UVB lamp nor an animal that wants UV.
void put_uv(const room::Enclosure& enclosure, const room::Day& day, Sheet& sheet);
Json uv_json(const room::Enclosure& enclosure, const room::Day& day);

}  // namespace warmside::report
