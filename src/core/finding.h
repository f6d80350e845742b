#pragma once
// A finding: something a module noticed and a keeper should know. Every module reports in this
// one form, and the round lays them out. A finding never holds a diagnosis or a dose.

#include <string>
#include <vector>

namespace warmside {

/// How soon it matters. The order of the enumerators is the order on the page.
enum class When { now, today, this_week, good_to_know };

/// "now", "today", "this week", "good to know".
const char* name_of(When when);

struct Finding {
  When when = When::good_to_know;
  std::string subject_kind;  // "animal", "enclosure", "heater", ..., "room"
  std::string subject;       // its id
  std::string headline;      // one sentence
  std::string evidence;      // the numbers, with units and dates
  std::string advice;        // what to do, with the usual caution where it could hurt
  std::string source;        // of the rule, or "common practice, no source"
  std::string module;        // who noticed: "health", "climate", ...
  bool operator==(const Finding&) const = default;
};

/// Most urgent first; then by module, subject and headline, so that the same room always reads
/// the same.
void sort_findings(std::vector<Finding>& findings);

}  // namespace warmside
