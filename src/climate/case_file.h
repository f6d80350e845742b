#pragma once
// The case file: one enclosure for the climate computation, as text (TOML). docs/case-file.md
// describes it. Reading is strict, as for the room file: every problem is listed with its line.

#include <string>
#include <string_view>

#include "climate/enclosure_case.h"
#include "core/result.h"

namespace warmside::climate {

/// Reads and checks a case; what cannot be is refused with the line and what would be right. The
/// weather that it names is not read: see read_weather.
Checked<EnclosureCase> read_case_file(std::string_view text, const std::string& file_name);

/// The same case as text; reading it gives back an equal case (without its weather).
std::string write_case_file(const EnclosureCase& enclosure, UnitSystem units = UnitSystem::metric);

/// Outdoor air by the hour from a CSV table with the columns utc_time (RFC 3339), temp_c and
/// relative_humidity_pct, in order of time, at most 400,000 rows; other columns are passed over.
/// Hours that are missing, up to 48 in a row, are filled in straight lines; half hours are read.
Checked<Weather> read_weather(std::string_view csv, const std::string& file_name);

}  // namespace warmside::climate
