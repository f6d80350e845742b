#include "room/check_result.h"

#include <fmt/format.h>

namespace warmside::room {

CheckResult result_of(const Entry& check) {
  const std::string_view item = check.item;
  for (const Outcome outcome : {Outcome::negative, Outcome::positive}) {
    const std::string ending = fmt::format(": {}", word(outcome));
    if (item.size() > ending.size() && item.ends_with(ending)) {
      return {item.substr(0, item.size() - ending.size()), outcome};
    }
  }
  return {item, std::nullopt};
}

std::string checked_item(std::string_view what, Outcome outcome) {
  return fmt::format("{}: {}", what, word(outcome));
}

std::vector<Sample> samples_of(std::span<const Entry> checks, std::string_view what) {
  std::vector<Sample> samples;
  for (const Entry& check : checks) {
    const CheckResult result = result_of(check);
    if (result.what != what) continue;
    if (!result.outcome) {
      samples.push_back({&check, nullptr, std::nullopt});
      continue;
    }
    auto open = samples.rbegin();
    while (open != samples.rend() && open->answer != nullptr) ++open;
    if (open == samples.rend()) {
      samples.push_back({&check, &check, result.outcome});
    } else {
      open->answer = &check;
      open->outcome = result.outcome;
    }
  }
  return samples;
}

}  // namespace warmside::room
