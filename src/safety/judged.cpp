#include "safety/judged.h"

#include <algorithm>
#include <utility>

namespace warmside::safety {

Finding finding(When when, std::string_view kind, std::string subject, std::string headline,
                std::string evidence, std::string advice, std::string source) {
  constexpr const char* kElectricalCaution =
      " Local code goes first; anything behind a plug is for a licensed electrician.";
  return {when,
          std::string(kind),
          std::move(subject),
          std::move(headline),
          std::move(evidence),
          std::move(advice) + kElectricalCaution,
          std::move(source),
          "safety"};
}

std::string place_of(const room::Room& room, const room::EnclosureId& id) {
  const room::Enclosure* enclosure = room::find(room.enclosures, id);
  return enclosure == nullptr ? "the room" : room::called(*enclosure);
}

std::string listed(const std::vector<std::string>& things) {
  constexpr std::size_t kMostNamed = 6;
  const std::size_t named = std::min(things.size(), kMostNamed);
  std::string text;
  for (std::size_t i = 0; i < named; ++i) {
    text += (i == 0 ? "" : i + 1 == things.size() ? " and " : ", ") + things[i];
  }
  if (things.size() > named) text += " and " + std::to_string(things.size() - named) + " more";
  return text;
}

std::string questions_of(const std::vector<Gap>& gaps) {
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

}  // namespace warmside::safety
