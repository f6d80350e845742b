#pragma once
// What one theme of safety noticed and what it could not judge, and the words that its findings
// share. The themes hand this to findings.h, which makes one finding of all that is not known.

#include <string>
#include <string_view>
#include <vector>

#include "core/finding.h"
#include "room/day.h"

namespace warmside::safety {

/// Something that the room file does not say, "the power of" "lamp-skink". Gaps with the same
/// question are named together.
struct Gap {
  std::string question;
  std::string thing;  // empty: the question says it all
};

struct Judged {
  std::vector<Finding> findings;
  std::vector<Gap> gaps;
};

inline constexpr const char* kNoSource = "common practice, no source";

/// The electrical caution is added to the advice.
inline Finding finding(When when, std::string_view kind, std::string subject, std::string headline,
                       std::string evidence, std::string advice, std::string source = kNoSource) {
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

/// "Skink table"; "the room" where there is none.
inline std::string place_of(const room::Room& room, const room::EnclosureId& id) {
  const room::Enclosure* enclosure = room::find(room.enclosures, id);
  return enclosure == nullptr ? "the room" : room::called(*enclosure);
}

/// Whether a text holds one of some words.
template <class List>
bool names_any(std::string_view text, const List& words) {
  for (const std::string_view one : words) {
    if (text.find(one) != std::string_view::npos) return true;
  }
  return false;
}

/// "a", "a and b", "a, b and 3 more".
inline std::string listed(const std::vector<std::string>& things) {
  constexpr std::size_t kMostNamed = 6;
  const std::size_t named = things.size() > kMostNamed ? kMostNamed : things.size();
  std::string text;
  for (std::size_t i = 0; i < named; ++i) {
    text += (i == 0 ? "" : i + 1 == things.size() ? " and " : ", ") + things[i];
  }
  if (things.size() > named) text += " and " + std::to_string(things.size() - named) + " more";
  return text;
}

}  // namespace warmside::safety
