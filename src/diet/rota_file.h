#pragma once
// The rota file: foods, jars and animals as text (TOML), for a rota without a room book.
// docs/rota-file.md describes it. Reading is strict, as for the room file: every problem is listed
// with its line.

#include <string>
#include <string_view>

#include "core/result.h"
#include "diet/rota.h"

namespace warmside::diet {

/// Reads and checks a rota; what cannot be is refused with the line and what would be right. Needs
/// of energy that the file leaves to the program are those of diet/energy.h.
Checked<RotaProblem> read_rota_file(std::string_view text, const std::string& file_name);

}  // namespace warmside::diet
