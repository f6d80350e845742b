#include "safety/findings.h"

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

Finding not_judged(const std::vector<Gap>& gaps) {
  return finding(
      When::good_to_know, "room", "room",
      "The room file does not say enough to judge all electricity and heat",
      "It does not say " + questions_of(gaps) + ". So these were not judged.",
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
