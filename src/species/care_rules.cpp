#include "species/care_rules.h"

#include <algorithm>

#include "species/built_in_data.h"
#include "species/table.h"

namespace warmside::species {

Checked<CareRules> CareRules::read(std::string_view intervals_csv, std::string_view rules_csv) {
  CareRules table;
  Problems problems;
  const auto refuse = [&](const char* file, int line, const char* field, std::string what,
                          std::string_view found) {
    problems.push_back(
        {ProblemCode::bad_value, std::move(what), {file, line, field}, "", shown(found)});
  };
  read_table("care_intervals.csv", intervals_csv,
             {"task", "group", "situation", "interval", "status", "source", "note"}, problems,
             [&](const std::vector<std::string_view>& f, int line) {
               const char* file = "care_intervals.csv";
               const auto situation = from_word<Situation>(f[2]);
               const auto every = parse<Duration>(f[3]);
               const auto trust = from_word<Trust>(f[4]);
               if (f[1] != "any" && !from_word<Group>(f[1])) {
                 return refuse(file, line, "group", "unknown group", f[1]);
               }
               if (!situation) return refuse(file, line, "situation", "unknown", f[2]);
               if (!every) return refuse(file, line, "interval", every.problem().what, f[3]);
               if (!trust) return refuse(file, line, "status", "unknown", f[4]);
               table.intervals_.push_back({std::string(f[0]), std::string(f[1]), *situation, *every,
                                           *trust, std::string(f[5]), std::string(f[6])});
             });
  read_table("care_rules.csv", rules_csv, {"rule", "value", "status", "source", "note"}, problems,
             [&](const std::vector<std::string_view>& f, int line) {
               const auto trust = from_word<Trust>(f[2]);
               if (!trust) return refuse("care_rules.csv", line, "status", "unknown", f[2]);
               table.rules_.push_back({std::string(f[0]), std::string(f[1]), *trust,
                                       std::string(f[3]), std::string(f[4])});
             });
  if (!problems.empty()) return problems;
  std::sort(table.rules_.begin(), table.rules_.end(),
            [](const CareRule& a, const CareRule& b) { return a.name < b.name; });
  return table;
}

const CareInterval* CareRules::interval(std::string_view task, Group group,
                                        std::span<const Situation> holding) const {
  const auto row_for = [&](Situation situation) {
    const CareInterval* found = nullptr;
    for (const CareInterval& row : intervals_) {
      if (row.task != task || row.situation != situation) continue;
      if (row.group == word(group)) return &row;
      if (row.group == "any") found = &row;
    }
    return found;
  };
  const CareInterval* best = nullptr;
  for (const Situation situation : holding) {
    const CareInterval* row = row_for(situation);
    if (row != nullptr && (best == nullptr || row->every < best->every)) best = row;
  }
  return best != nullptr ? best : row_for(Situation::any);
}

const CareRule& CareRules::rule(std::string_view name) const {
  const auto at =
      std::lower_bound(rules_.begin(), rules_.end(), name,
                       [](const CareRule& r, std::string_view n) { return r.name < n; });
  WS_CHECK(at != rules_.end() && at->name == name);
  return *at;
}

const CareRules& care_rules() {
  static const CareRules table = [] {
    auto read = CareRules::read(data::care_intervals_csv(), data::care_rules_csv());
    WS_CHECK(read.ok());  // ./check reads the same files before they are built in
    return std::move(read).value();
  }();
  return table;
}

}  // namespace warmside::species
