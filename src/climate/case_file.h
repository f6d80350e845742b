#pragma once
// The case file: one enclosure for the climate computation, as text (TOML). docs/case-file.md
// describes it. Reading is strict, as for the room file: every problem is listed with its line.

#include <string>
#include <string_view>

#include "climate/enclosure_case.h"
#include "core/result.h"

namespace warmside::climate {

/// Reads and checks a case; what cannot be is refused with the line and what would be right.
Checked<EnclosureCase> read_case_file(std::string_view text, const std::string& file_name);

}  // namespace warmside::climate
