#include "safety/mains.h"

#include <algorithm>
#include <charconv>

#include "core/check.h"
#include "core/letters.h"
#include "safety/built_in_mains.h"
#include "species/care_rules.h"
#include "species/table.h"

namespace warmside::safety {
namespace {

/// A plain number above nothing.
std::optional<double> number(std::string_view text) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size() || !(value > 0) || value > 1e6) {
    return std::nullopt;
  }
  return value;
}

}  // namespace

Checked<std::vector<Mains>> read_mains(std::string_view csv) {
  constexpr const char* kFile = "mains.csv";
  std::vector<Mains> table;
  Problems problems;
  species::read_table(
      kFile, csv,
      {"country", "voltage_v", "voltage_high_pct", "continuous_share_pct", "continuous_h",
       "residual_current_ma", "status", "source", "note"},
      problems, [&](const std::vector<std::string_view>& f, int line) {
        Mains row;
        const auto refuse = [&](const char* field, const char* what, std::string_view found) {
          problems.push_back(
              {ProblemCode::bad_value, what, {kFile, line, field}, "", shown(found)});
        };
        const auto must = [&](const char* field, std::string_view text) {
          const auto value = number(text);
          if (!value) refuse(field, "no number", text);
          return value.value_or(0);
        };
        row.country = std::string(f[0]);
        if (row.country.size() != 2) refuse("country", "not two letters", f[0]);
        row.voltage_v = must("voltage_v", f[1]);
        row.voltage_high = Percentage::percent(must("voltage_high_pct", f[2]));
        if (f[3].empty() != f[4].empty()) {
          refuse("continuous_share_pct", "a share and the hours go together", f[3]);
        } else if (!f[3].empty()) {
          row.continuous_share = Percentage::percent(must("continuous_share_pct", f[3]));
          row.continuous_time = Duration::hours(must("continuous_h", f[4]));
        }
        row.residual_current_ma = must("residual_current_ma", f[5]);
        const auto trust = from_word<Trust>(f[6]);
        if (!trust) refuse("status", "no status", f[6]);
        row.trust = trust.value_or(Trust::common_practice);
        row.source = std::string(f[7]);
        row.note = std::string(f[8]);
        table.push_back(std::move(row));
      });
  if (!problems.empty()) return problems;
  return table;
}

std::span<const Mains> mains() {
  static const std::vector<Mains> table = [] {
    auto read = read_mains(data::mains_csv());
    WS_CHECK(read.ok());  // ./check reads the same file before it is built in
    return std::move(read).value();
  }();
  return table;
}

const Mains* mains_of(std::string_view country) {
  const std::string wanted = lower(country);
  for (const Mains& row : mains()) {
    if (lower(row.country) == wanted) return &row;
  }
  return nullptr;
}

ContinuousRule continuous_rule(const Mains* mains) {
  if (mains != nullptr && mains->continuous_share) {
    return {*mains->continuous_share, *mains->continuous_time, true,
            mains->source + ", " + std::string(word(mains->trust))};
  }
  const auto& rules = species::care_rules();
  const auto& share = rules.rule("continuous_load_share");
  return {rules.value<Percentage>(share.name), rules.value<Duration>("continuous_load_time"), false,
          share.source};
}

}  // namespace warmside::safety
