#include "core/finding.h"

#include <algorithm>
#include <tuple>

namespace warmside {

const char* name_of(When when) {
  switch (when) {
    case When::now:
      return "now";
    case When::today:
      return "today";
    case When::this_week:
      return "this week";
    case When::good_to_know:
      return "good to know";
  }
  return "good to know";
}

void sort_findings(std::vector<Finding>& findings) {
  std::stable_sort(findings.begin(), findings.end(), [](const Finding& a, const Finding& b) {
    return std::tie(a.when, a.module, a.subject_kind, a.subject, a.headline) <
           std::tie(b.when, b.module, b.subject_kind, b.subject, b.headline);
  });
}

}  // namespace warmside
