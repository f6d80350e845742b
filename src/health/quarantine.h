#pragma once
// Quarantine progress: for an animal in quarantine, how many days are done, what restarted them,
// which tests, checks and signs of health are there and which are open. Computed from the notebook
// on one day; docs/models/health.md has the rules and their sources.
//
// The program never ends a quarantine. When all is met it offers the sign-off, which is the
// keeper's, and the keeper may also sign off early. It makes no diagnosis: "negative" means that a
// test did not find what it looked for.
//
// It does not judge whether a test was the right one, does not know treatments, and counts only
// results that are written as data (room/check_result.h), not words in notes.

#include <optional>
#include <string>
#include <vector>

#include "core/time.h"
#include "health/sign.h"
#include "room/day.h"

namespace warmside::health {

/// What made the days begin again.
enum class RestartReason { illness, positive_test, newcomer, move };

struct Restart {
  Date on;
  RestartReason reason = RestartReason::illness;
  std::string says;  // "ill: wheezing", "berta joined it in corner"
};

/// What a quarantine asks for.
enum class Need { days, well, faecal, cryptosporidium, test, mites, shed_or_mass, feeding };

/// met; open: not enough yet; failed: the latest result speaks against it.
enum class Standing { met, open, failed };

struct Requirement {
  Need need = Need::days;
  std::string what;  // "3 negative faecal samples"
  Standing standing = Standing::open;
  int wanted = 0;
  int have = 0;               // never above wanted
  std::vector<Date> counted;  // days of the entries that count, oldest first
  std::string detail;         // what is missing or was passed over, for people; may be empty
  Trust trust = Trust::common_practice;
  std::string source;
};

struct Quarantine {
  /// When it began: quarantine_started, or else the arrival. Empty: not in quarantine, and nothing
  /// else here means anything.
  std::optional<Date> began;
  bool presumed = false;  // nobody jotted its beginning: it stands on the arrival alone
  /// Whether the notebook shows that somebody follows it: it was jotted, or has a check from its
  /// days. One that nobody follows is taken for over some time after its days.
  bool followed = true;
  std::vector<Restart> restarts;  // after the first day, oldest first
  Date clock_since;               // the latest restart, or the beginning
  int days_wanted = 0;
  /// What the days wanted become once the tests on which they depend are negative.
  std::optional<int> days_if_negative;
  std::string days_depend_on;             // those tests: "arenavirus and nidovirus"
  int days_done = 0;                      // whole days since the clock began, at most days_wanted
  int days_left = 0;                      // never below zero
  Date earliest_end;                      // clock_since + days_wanted
  std::vector<Requirement> requirements;  // the days first

  bool holds() const { return began.has_value(); }
  /// Whether the sign-off is offered. Ending it is the keeper's.
  bool all_met() const;
  /// What is not met, in words: "1 of 3 negative faecal samples; 20 days".
  std::string open_in_words() const;
};

/// The quarantine the animal is in on the day. Empty (holds() is false) when it is in none: its
/// keeper signed it off, it never had one, or a presumed one is long over: the days and
/// quarantine_result_shown more have passed since it restarted last, and the notebook has no check
/// for mites and no sample from its days.
/// The clock: illness or a positive test of its own or of an animal in quarantine in the same
/// enclosure; another animal that joins its group in quarantine; a move into the enclosure or group
/// of another in quarantine. A group: all enclosures in which somebody is in quarantine, except
/// that two whose `place` is written and differs are apart, unless they are in one rack. Two of
/// which the room does not say where they stand are one group: the rule says "in the room".
Quarantine quarantine_of(const room::AnimalDay& animal, const room::Day& day);

/// Puts into AnimalDay::quarantine_since the quarantines that nobody has jotted: newcomers are in
/// it for as long as quarantine_of() holds. Do it once, before the day is judged.
void presume_quarantines(room::Day& day);

/// A quarantine that was signed off not more than quarantine_result_shown ago, as it stood at that
/// moment.
struct EndedQuarantine {
  Date ended;
  Quarantine then;
};
std::optional<EndedQuarantine> ended_quarantine_of(const room::AnimalDay& animal,
                                                   const room::Day& day);

/// "0 of 90 days done, 90 left, until 2027-02-23 at the earliest; open: ...".
std::string progress_line(const Quarantine& quarantine);
/// "signed off on 2026-11-20 with all met", "... with open: ...".
std::string ended_line(const EndedQuarantine& ended);

/// What is worth saying: the sign-off is offered; it was ended with something open; it began again
/// in the last week; a test was positive; the days of one that nobody follows are over.
std::vector<Sign> quarantine_signs(const room::AnimalDay& animal, const room::Day& day);

}  // namespace warmside::health

namespace warmside {
template <>
struct Words<health::RestartReason> {
  static constexpr std::array<std::string_view, 4> list{"illness", "positive test", "newcomer",
                                                        "move"};
};
template <>
struct Words<health::Need> {
  static constexpr std::array<std::string_view, 8> list{
      "days", "well",  "faecal samples", "Cryptosporidium",
      "test", "mites", "shed or mass",   "feeding"};
};
template <>
struct Words<health::Standing> {
  static constexpr std::array<std::string_view, 3> list{"met", "open", "failed"};
};
}  // namespace warmside
