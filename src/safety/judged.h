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

/// A finding of this module; the electrical caution is added to the advice.
Finding finding(When when, std::string_view kind, std::string subject, std::string headline,
                std::string evidence, std::string advice, std::string source = kNoSource);

/// "Skink table"; "the room" where there is none.
std::string place_of(const room::Room& room, const room::EnclosureId& id);

/// "a", "a and b", "a, b, c, d, e, f and 3 more".
std::string listed(const std::vector<std::string>& things);

/// "the power of a and b; the rating of c".
std::string questions_of(const std::vector<Gap>& gaps);

/// Whether a text holds one of some words.
template <class List>
bool names_any(std::string_view text, const List& words) {
  for (const std::string_view one : words) {
    if (text.find(one) != std::string_view::npos) return true;
  }
  return false;
}

}  // namespace warmside::safety
