#pragma once
// How an entry "checked" writes a result as data: its item ends in ": negative" or ": positive"
// ("mites: negative", "faecal sample: positive"). Without that ending the check was done, or the
// sample taken, and its result is not known, whatever the note says; older entries are of this
// kind.
//
// A laboratory answers days after the sample was taken, and the notebook is ink: the answer is an
// entry of its own. samples_of() joins it to the sample.

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "core/words.h"
#include "room/entry.h"

namespace warmside::room {

/// negative: what was looked for was not found.
enum class Outcome { negative, positive };

struct CheckResult {
  std::string_view what;  // points into the entry: "mites"
  std::optional<Outcome> outcome;
};

/// The parts of a check's item. The ending is read as it is written in notebook.md, in small
/// letters; anything else is part of `what`.
CheckResult result_of(const Entry& check);

/// The item of a check with its result.
std::string checked_item(std::string_view what, Outcome outcome);

/// One sample: when it was taken and what came of it.
struct Sample {
  const Entry* taken = nullptr;
  const Entry* answer = nullptr;  // null: not known yet; may be the same entry as `taken`
  std::optional<Outcome> outcome;
};

/// The samples among `checks` (oldest first, of one animal) whose `what` is exactly this, by the
/// moment they were taken. A result answers the latest sample before it that has no answer yet, so
/// that of two answers on one day each finds its own; without such a sample it is one itself.
std::vector<Sample> samples_of(std::span<const Entry> checks, std::string_view what);

}  // namespace warmside::room

namespace warmside {
template <>
struct Words<room::Outcome> {
  static constexpr std::array<std::string_view, 2> list{"negative", "positive"};
};
}  // namespace warmside
