#include "safety/findings.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <iterator>
#include <utility>

#include "safety/circuits.h"
#include "safety/fire.h"
#include "safety/heat_sources.h"
#include "safety/water_and_mains.h"

namespace warmside::safety {
namespace {

/// "the power of a and b; the rating of c".
std::string questions(const std::vector<Gap>& gaps) {
  std::vector<std::pair<std::string, std::vector<std::string>>> groups;
  for (const Gap& gap : gaps) {
    auto at = std::find_if(groups.begin(), groups.end(),
                           [&](const auto& group) { return group.first == gap.question; });
    if (at == groups.end()) at = groups.insert(at, {gap.question, {}});
    if (!gap.thing.empty()) at->second.push_back(gap.thing);
  }
  std::string text;
  for (const auto& [question, things] : groups) {
    text += (text.empty() ? "" : "; ") + question;
    if (!things.empty()) text += " " + listed(things);
  }
  return text;
}

Finding not_judged(const std::vector<Gap>& gaps) {
  return finding(
      When::good_to_know, "room", "room",
      "The room file does not say enough to judge all electricity and heat",
      "It does not say " + questions(gaps) + ". So these were not judged.",
      "Look, and write it into the room file; what is not known is not safe. Read powers "
      "and ratings off the labels, unplugged and cold.");
}

}  // namespace

std::vector<Finding> findings(const room::Day& day) {
  const Loads loads = loads_of(day);
  std::vector<Finding> found;
  std::vector<Gap> gaps;
  for (Judged& judged : std::array{judge_circuits(day, loads), judge_heat_sources(day),
                                   judge_water_and_mains(day, loads), judge_fire(day)}) {
    std::move(judged.findings.begin(), judged.findings.end(), std::back_inserter(found));
    std::move(judged.gaps.begin(), judged.gaps.end(), std::back_inserter(gaps));
  }
  if (!gaps.empty()) found.push_back(not_judged(gaps));
  return found;
}

}  // namespace warmside::safety
