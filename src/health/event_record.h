#pragma once
// What the notebook tells of one animal's meals, sheds and droppings, in the form in which the
// models of gaps (intervals.h) want it: dates, gaps between them, days that do not count, and the
// words in which a gap is told to people. It judges nothing.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "health/intervals.h"
#include "room/day.h"
#include "room/eaten.h"

namespace warmside::health {

/// The days from `from` to the day before `to`, and why they do not count: "in shed".
struct Pause {
  Date from;
  Date to;
  std::string_view why;
};

/// The animal's brumations. One that holds today ends tomorrow.
std::vector<Pause> brumations(const room::AnimalDay& animal, const room::Day& day);

/// Days on which the animal is not expected to eat: brumation, and up to 30 days before it without
/// an offer of food; in shed where the profile says no food in shed (at most rule
/// in_shed_believed); the pause after a regurgitated meal (rule
/// regurgitation_pause); settling in (rule settling_in), if it took nothing in those days and is
/// not ill. What holds today ends tomorrow.
std::vector<Pause> feeding_pauses(const room::AnimalDay& animal, const room::Day& day);

/// Days after `from` up to and with `to` that lie in no pause.
int days_counted(Date from, Date to, std::span<const Pause> pauses);

/// "in shed, in brumation": why days after `from` up to and with `to` do not count, each reason
/// once.
std::string reasons(Date from, Date to, std::span<const Pause> pauses);

/// The days on which food was refused or left lying, each once, oldest first.
std::vector<Date> refusal_days(const room::AnimalDay& animal, const room::Day& day);

/// The days of entries, each once, oldest first.
std::vector<Date> days_of(const room::Day& day, std::span<const room::Entry> entries);
std::vector<Date> days_of(const room::Day& day, std::span<const room::Entry* const> entries);

/// The time between an event and the next.
struct PastGap {
  Date began;
  Date ended;
  int length = 1;  // days that count, at least 1; or meals, for droppings
};
std::vector<PastGap> gaps_between(std::span<const Date> days, std::span<const Pause> pauses);

/// How seldom a gap gets as long as the open one.
struct JudgedGap {
  GapModel model;
  double chance = 1;  // the greater of the model's survival and the share of own gaps as long
};
/// length: of the open gap so far, which began on a day; weights by gap_weight.
JudgedGap judge_gap(std::span<const PastGap> gaps, Date open_began, int length,
                    const GapPrior& prior, const GapMemory& memory, double least_scale);

/// "longer than any of its 23 gaps before", "as long as 2 of its 23 gaps before were", or empty
/// where there is none. one, many: what the gaps are.
std::string compared_with(std::span<const PastGap> gaps, int length, std::string_view one = "gap",
                          std::string_view many = "gaps");
/// "about 1 gap in 40 gets this long".
std::string how_seldom(double survival);
/// "1 day", "5 days".
std::string counted(int n, std::string_view one, std::string_view many);
/// "once", "twice", "3 times".
std::string times(int n);
/// "2026-10-01, 2026-10-15 and 2026-10-29"; of more than six the last six, and how many before.
std::string listed(std::span<const Date> days);

}  // namespace warmside::health
