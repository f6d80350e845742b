#include "health/event_record.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "room/look_up.h"

namespace warmside::health {
namespace {

using room::Entry;
using room::EntryKind;

/// The longest of the rules brumation_fast_*: common practice, no source.
constexpr int kFastBeforeBrumation_d = 30;

/// From each `begin` to the first `end` after it; without one to the day after today. At most
/// `most_d` days where that is above 0.
void add_states(std::vector<Pause>& pauses, const room::AnimalDay& animal, const room::Day& day,
                EntryKind begin, EntryKind end, int most_d, std::string_view why) {
  const auto subject = room::subject_of(*animal.animal);
  const auto ends = day.history->all(subject, end);
  for (const Entry& entry : day.history->all(subject, begin)) {
    const auto ended =
        std::find_if(ends.begin(), ends.end(), [&](const Entry& e) { return e.at >= entry.at; });
    const Date from = day.date_of(entry);
    Date to = ended == ends.end() ? day.date + 1 : day.date_of(*ended);
    if (most_d > 0) to = std::min(to, from + most_d);
    pauses.push_back({from, to, why});
  }
}

}  // namespace

std::vector<Pause> brumations(const room::AnimalDay& animal, const room::Day& day) {
  std::vector<Pause> found;
  add_states(found, animal, day, EntryKind::brumation_started, EntryKind::brumation_ended, 0,
             "in brumation");
  return found;
}

std::vector<Pause> feeding_pauses(const room::AnimalDay& animal, const room::Day& day) {
  const auto subject = room::subject_of(*animal.animal);
  std::vector<Pause> pauses = brumations(animal, day);
  // Its gut was emptied before, from the last offer of food on.
  const std::size_t winters = pauses.size();
  for (std::size_t i = 0; i < winters; ++i) {
    const Date start = pauses[i].from;
    Date from = start - kFastBeforeBrumation_d;
    for (const EntryKind kind : {EntryKind::fed, EntryKind::refused}) {
      for (const Entry& offer : day.history->all(subject, kind)) {
        if (day.date_of(offer) < start) from = std::max(from, day.date_of(offer) + 1);
      }
    }
    if (from < start) pauses.push_back({from, start, "fasting before it"});
  }
  if (animal.profile.text(species::Key::feed_in_shed) == "no") {
    add_states(pauses, animal, day, EntryKind::in_shed, EntryKind::shed,
               species::care_rules().days("in_shed_believed") + 1, "in shed");
  }
  for (const Entry& entry : day.history->all(subject, EntryKind::regurgitated)) {
    const Date from = day.date_of(entry);
    pauses.push_back({from, from + species::care_rules().days("regurgitation_pause"),
                      "after a regurgitated meal"});
  }
  if (animal.ill_since) return pauses;  // no move explains what an illness may
  const auto settle = [&](Date from) {
    const Date to = from + species::care_rules().days("settling_in");
    for (const Entry& meal : day.history->all(subject, EntryKind::fed)) {
      if (day.date_of(meal) >= from && day.date_of(meal) < to) return;
    }
    pauses.push_back({from, to, "settling in"});
  };
  if (animal.animal->arrived) settle(*animal.animal->arrived);
  if (animal.quarantine_since) settle(*animal.quarantine_since);
  return pauses;
}

int days_counted(Date from, Date to, std::span<const Pause> pauses) {
  int counted = std::max(0, to - from);
  // Pauses overlap (a regurgitated meal while in shed), so they are walked in order.
  std::vector<Pause> inside;
  for (const Pause& pause : pauses) {
    const Pause part{std::max(pause.from, from + 1), std::min(pause.to, to + 1), pause.why};
    if (part.from < part.to) inside.push_back(part);
  }
  std::sort(inside.begin(), inside.end(),
            [](const Pause& a, const Pause& b) { return a.from < b.from; });
  Date covered = from + 1;
  for (const Pause& part : inside) {
    const Date begin = std::max(part.from, covered);
    if (part.to <= begin) continue;
    counted -= part.to - begin;
    covered = part.to;
  }
  return counted;
}

std::string reasons(Date from, Date to, std::span<const Pause> pauses) {
  std::string text;
  for (const Pause& pause : pauses) {
    const bool inside = std::max(pause.from, from + 1) < std::min(pause.to, to + 1);
    if (!inside || text.find(pause.why) != std::string::npos) continue;
    if (!text.empty()) text += ", ";
    text += pause.why;
  }
  return text;
}

std::vector<Date> refusal_days(const room::AnimalDay& animal, const room::Day& day) {
  const auto subject = room::subject_of(*animal.animal);
  std::vector<Date> days = days_of(day, day.history->all(subject, EntryKind::refused));
  const auto meals = day.history->all(subject, EntryKind::fed);
  const auto leftovers = day.history->all(subject, EntryKind::leftovers);
  for (const Entry& fed : meals) {
    if (room::share_left(fed, meals, leftovers, day) >= room::kNotEaten) {
      days.push_back(day.date_of(fed));
    }
  }
  std::sort(days.begin(), days.end());
  days.erase(std::unique(days.begin(), days.end()), days.end());
  return days;
}

std::vector<Date> days_of(const room::Day& day, std::span<const Entry* const> entries) {
  std::vector<Date> days;
  for (const Entry* entry : entries) {
    const Date date = day.date_of(*entry);
    if (days.empty() || days.back() != date) days.push_back(date);
  }
  return days;
}

std::vector<Date> days_of(const room::Day& day, std::span<const Entry> entries) {
  std::vector<const Entry*> pointers;
  for (const Entry& entry : entries) pointers.push_back(&entry);
  return days_of(day, pointers);
}

std::vector<PastGap> gaps_between(std::span<const Date> days, std::span<const Pause> pauses) {
  std::vector<PastGap> gaps;
  for (std::size_t i = 1; i < days.size(); ++i) {
    gaps.push_back({days[i - 1], days[i], std::max(1, days_counted(days[i - 1], days[i], pauses))});
  }
  return gaps;
}

JudgedGap judge_gap(std::span<const PastGap> gaps, Date open_began, int length,
                    const GapPrior& prior, const GapMemory& memory, double least_scale) {
  std::vector<Gap> weighed;
  for (const PastGap& gap : gaps) {
    weighed.push_back({static_cast<double>(gap.length),
                       gap_weight(open_began - gap.ended, open_began - gap.began, memory)});
  }
  JudgedGap judged{learn(prior, weighed, least_scale), 1};
  if (length > 0) {
    judged.chance =
        std::max(judged.model.survival(length), share_as_long(weighed, length, prior.worth_median));
  }
  return judged;
}

std::string compared_with(std::span<const PastGap> gaps, int length, std::string_view one,
                          std::string_view many) {
  if (gaps.empty()) return "";
  const auto as_long = std::count_if(gaps.begin(), gaps.end(),
                                     [&](const PastGap& gap) { return gap.length >= length; });
  if (as_long == 0) {
    return gaps.size() == 1 ? fmt::format("longer than its one {} before", one)
                            : fmt::format("longer than any of its {} {} before", gaps.size(), many);
  }
  return fmt::format("as long as {} of its {} before {}", as_long,
                     counted(static_cast<int>(gaps.size()), one, many),
                     as_long == 1 ? "was" : "were");
}

std::string how_seldom(double survival) {
  if (survival > 0.5) return "most gaps get this long";
  if (survival < 1e-3) return "fewer than 1 gap in 1000 gets this long";
  const double one_in = 1 / survival;
  // Two digits: the model is not better than that.
  const double step = one_in < 20 ? 1 : one_in < 100 ? 5 : one_in < 200 ? 10 : 50;
  return fmt::format("about 1 gap in {:.0f} gets this long", std::round(one_in / step) * step);
}

std::string counted(int n, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

std::string times(int n) {
  if (n == 1) return "once";
  return n == 2 ? "twice" : fmt::format("{} times", n);
}

std::string listed(std::span<const Date> days) {
  constexpr std::size_t kMost = 6;
  std::string text;
  const std::size_t first = days.size() > kMost ? days.size() - kMost : 0;
  for (std::size_t i = first; i < days.size(); ++i) {
    if (i > first) text += i + 1 == days.size() ? " and " : ", ";
    text += to_text(days[i]);
  }
  if (first > 0) text += fmt::format(" (and {} before)", times(static_cast<int>(first)));
  return text;
}

}  // namespace warmside::health
