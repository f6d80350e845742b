#pragma once
// How often each recurring task falls due when the keeper has set nothing else, and the single
// numbers that rules of care use. Both are tables of data/ with a source or "common practice" in
// every row; docs/data.md explains them.

#include <initializer_list>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/quantity.h"
#include "core/result.h"
#include "species/profile.h"

namespace warmside::species {

/// What a task is due under. More than one can hold at once.
enum class Situation { any, quarantine, juvenile, brumation, observation, humid, in_shed };

struct CareInterval {
  std::string task;   // "spot_clean"
  std::string group;  // a word of Group, or "any"
  Situation situation = Situation::any;
  Duration every;
  Trust trust = Trust::common_practice;
  std::string source;
  std::string note;
};

struct CareRule {
  std::string name;
  std::string value;  // text; quantities with their unit
  Trust trust = Trust::common_practice;
  std::string source;
  std::string note;
};

class CareRules {
 public:
  static Checked<CareRules> read(std::string_view intervals_csv, std::string_view rules_csv);

  /// The row that holds: a named situation goes before `any`, then a named group before "any"; of
  /// several situations that hold, the shortest interval. Null: the task does not fall due.
  const CareInterval* interval(std::string_view task, Group group,
                               std::span<const Situation> holding) const;
  /// A rule that must be there: asking for one that is not is our mistake.
  const CareRule& rule(std::string_view name) const;
  /// The rule's value as a quantity; our mistake if it is something else.
  template <Quantity Q>
  Q value(std::string_view name) const {
    return *parse<Q>(rule(name).value);
  }
  /// The rule's time in whole days.
  int days(std::string_view name) const { return static_cast<int>(value<Duration>(name).days()); }

  std::span<const CareInterval> intervals() const { return intervals_; }
  std::span<const CareRule> rules() const { return rules_; }

 private:
  std::vector<CareInterval> intervals_;
  std::vector<CareRule> rules_;  // by name
};

/// The tables built into the program.
const CareRules& care_rules();

}  // namespace warmside::species

namespace warmside {
template <>
struct Words<species::Situation> {
  static constexpr std::array<std::string_view, 7> list{
      "any", "quarantine", "juvenile", "brumation", "observation", "humid", "in_shed"};
};
}  // namespace warmside
