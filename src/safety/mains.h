#pragma once
// What the mains of a country are like: the table data/mains.csv, built into the program. Use it
// to judge what circuits and strips carry (loads.h). It is a rule of thumb from memory, no copy of
// a code: the local code and a licensed electrician go first, and a country that is not in the
// table is unknown, with words of its own, never taken for another.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/quantity.h"
#include "core/result.h"
#include "species/profile.h"

namespace warmside::safety {

struct Mains {
  std::string country;  // "NO", ISO 3166
  double voltage_v = 0;
  Percentage voltage_high;  // how far over that the supply may lie
  /// Of a breaker's rating, for what runs `continuous_time` or longer; none: no rule known to us.
  std::optional<Percentage> continuous_share;
  std::optional<Duration> continuous_time;
  double residual_current_ma = 0;  // at which an RCD (GFCI) for people trips
  Trust trust = Trust::common_practice;
  std::string source, note;
};

/// Reads the table; every bad row is a Problem with its line.
Checked<std::vector<Mains>> read_mains(std::string_view csv);
std::span<const Mains> mains();
/// The mains of a country, in capital or small letters. Null: not in the table.
const Mains* mains_of(std::string_view country);

/// The share of its rating that may go to what runs for hours, and how sure that is.
struct ContinuousRule {
  Percentage share;
  Duration time;
  bool rule = false;   // the country's rule; else a rule of thumb
  std::string source;  // for a finding
};
/// `mains`: null for an unknown country.
ContinuousRule continuous_rule(const Mains* mains);

}  // namespace warmside::safety
