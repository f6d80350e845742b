#include "hygiene/disinfections.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <string>
#include <tuple>

#include "core/letters.h"
#include "hygiene/disinfectant_care.h"
#include "hygiene/disinfectants.h"
#include "hygiene/findings.h"
#include "room/look_up.h"

namespace warmside::hygiene {
namespace {

using room::Day;
using room::Entry;
using room::EntryKind;
using room::Subject;
using room::SubjectKind;

constexpr std::size_t kMostShown = 3;

/// The disinfections of the last week, latest first.
std::vector<const Entry*> recent(const Day& day) {
  const Instant since = day.zone.start_of(day.date - kNewsDays);
  std::vector<Subject> things{Subject{}};
  for (const auto& tool : day.room->tools) things.push_back({SubjectKind::tool, tool.id.text()});
  for (const auto& home : day.room->enclosures) things.push_back(room::subject_of(home));
  std::vector<const Entry*> entries;
  for (const Subject& thing : things) {
    for (const Entry& entry : day.history->all(thing, EntryKind::disinfected)) {
      if (entry.at >= since) entries.push_back(&entry);
    }
  }
  std::sort(entries.begin(), entries.end(), [](const Entry* a, const Entry* b) {
    return std::tie(b->at, b->id) < std::tie(a->at, a->id);
  });
  return entries;
}

/// "tub 2026-03-09 18:00: no contact time; ...", what(entry) after each.
template <class What>
std::string listed(const Day& day, const std::vector<const Entry*>& entries, What what) {
  std::string text;
  for (std::size_t i = 0; i < std::min(entries.size(), kMostShown); ++i) {
    text += fmt::format("{}{} {}: {}", i == 0 ? "" : "; ", entries[i]->subject.id,
                        day.zone.wall_text(entries[i]->at), what(*entries[i]));
  }
  if (entries.size() > kMostShown)
    text += fmt::format("; and {} more", entries.size() - kMostShown);
  return text + ".";
}

std::optional<Finding> worth_nothing(const Day& day, std::vector<const Entry*> entries) {
  const auto why = [](const Entry& entry) {
    return coverage_of(entry.item, entry.count).counts_for_nothing();
  };
  std::erase_if(entries, [&](const Entry* entry) { return why(*entry).empty(); });
  if (entries.empty()) return std::nullopt;
  const Subject& latest = entries.front()->subject;
  const bool mixed = std::any_of(entries.begin(), entries.end(), [](const Entry* entry) {
    return coverage_of(entry->item, entry->count).mixed;
  });
  return Finding{
      mixed ? When::today : When::good_to_know,
      std::string(word(latest.kind)),
      latest.id,
      entries.size() == 1 ? fmt::format("The disinfection of {} counts for nothing", latest.id)
                          : fmt::format("{} disinfections count for nothing", entries.size()),
      listed(day, entries, why),
      "Write with what, how strong and how many minutes it stayed wet, such as "
      "`--with \"bleach 0.1%\" --minutes 10`; `warmside disinfectants` lists what the "
      "program knows. The label goes first. Never two disinfectants at once, and no acid: the "
      "gas can kill.",
      "data/disinfectants.csv; what is unknown cuts no way: common practice, no source",
      "hygiene"};
}

std::optional<Finding> too_old(const Day& day, const room::Supply& supply,
                               std::vector<const Entry*> entries) {
  const auto mixed_before = [&](Instant at) -> const Entry* {
    const Entry* latest = nullptr;
    for (const Entry& note :
         day.history->all({SubjectKind::supply, supply.id.text()}, EntryKind::note)) {
      if (note.at <= at && lower(note.note).starts_with("mixed")) latest = &note;
    }
    return latest;
  };
  const auto age = [&](const Entry& entry) { return entry.at - mixed_before(entry.at)->at; };
  std::erase_if(entries, [&](const Entry* entry) {
    const Entry* mixed = mixed_before(entry->at);
    if (mixed == nullptr) return true;
    std::string_view ingredient = ingredient_in(mixed->note);
    if (ingredient.empty()) ingredient = ingredient_in(room::called(supply));
    const auto keeps = mixture_keeps(ingredient);
    return !keeps || ingredient_in(entry->item) != ingredient || age(*entry) <= *keeps;
  });
  if (entries.empty()) return std::nullopt;
  return Finding{
      When::this_week,
      "supply",
      supply.id.text(),
      fmt::format("{} was used when its mixture was too old", room::called(supply)),
      listed(day, entries,
             [&](const Entry& entry) {
               return fmt::format("{} after it was mixed", for_people(age(entry)));
             }),
      "Pour it away and mix fresh; disinfect again what matters. Write it down when you mix: "
      "`warmside jot note " +
          supply.id.text() + " mixed`. `warmside calc dilute` says how much.",
      "how long a mixture keeps: data/disinfectant_care.csv (bleach: cdc_bleach)",
      "hygiene"};
}

}  // namespace

std::vector<Finding> disinfection_findings(const Day& day) {
  const std::vector<const Entry*> entries = recent(day);
  std::vector<Finding> found;
  for (const room::Supply& supply : day.room->supplies) {
    if (supply.kind != room::SupplyKind::disinfectant) continue;
    if (auto old = too_old(day, supply, entries)) found.push_back(std::move(*old));
  }
  if (auto nothing = worth_nothing(day, entries)) found.push_back(std::move(*nothing));
  return found;
}

}  // namespace warmside::hygiene
