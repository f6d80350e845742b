#include "hygiene/findings.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "hygiene/disinfections.h"
#include "hygiene/transfers.h"
#include "room/look_up.h"

namespace warmside::hygiene {
namespace {

using room::Day;
using room::Entry;
using room::EntryKind;
using room::Subject;
using room::SubjectKind;

constexpr std::size_t kMostWaysShown = 3;  // pieces of evidence of one finding

/// Of more that one animal reached the page says one thing. Common practice, no source.
constexpr std::size_t kMostPatients = 5;

constexpr const char* kQuarantineSource =
    "quarantined animals after the residents, with tools of their own or disinfected before reuse; "
    "days that begin again: AZA 2007 standards as quoted on a public page (aza2007); observation "
    "and "
    "the days shown: common practice, no source";
constexpr const char* kCleaning =
    "Clean it first, then disinfect for the label's time, rinse and let dry; gloves, open air, no "
    "animal in it.";

std::string called(const Day& day, const Subject& subject) {
  if (subject.kind == SubjectKind::animal) {
    const auto* animal = room::find(day.room->animals, room::AnimalId::trusted(subject.id));
    if (animal != nullptr) return room::called(*animal);
  } else if (subject.kind == SubjectKind::enclosure) {
    const auto* enclosure =
        room::find(day.room->enclosures, room::EnclosureId::trusted(subject.id));
    if (enclosure != nullptr) return room::called(*enclosure);
  }
  return subject.id;
}

/// "tub tub-shared".
std::string called(const room::Tool& tool) {
  return fmt::format("{} {}", word(tool.kind), tool.id.text());
}

std::string_view state_of(const Household& household) {
  return household.service_class == ServiceClass::sick ? "is noted as ill" : "is in quarantine";
}

/// "Garnet, who is in quarantine", of one that has a most exposed animal.
std::string exposed_one(const Household& household) {
  return fmt::format("{}, who {}", room::called(*household.most_exposed->animal),
                     state_of(household));
}

bool is_news(const Day& day, const Transfer& transfer) {
  return day.date - day.zone.date_of(transfer.at) <= kNewsDays;
}

/// "The tub t: Garnet 2026-11-16 18:02, Juniper 2026-11-17 18:05, no disinfection between".
std::string evidence_of(const Day& day, const Transfer& transfer) {
  const std::string from = called(day, transfer.from_subject),
                    to = called(day, transfer.to_subject);
  const std::string at = day.zone.wall_text(transfer.at);
  switch (transfer.way) {
    case Way::leftovers:
      return fmt::format("Leftovers of {} given to {} {}", from, to, at);
    case Way::enclosure:
      return transfer.at >= day.history->until()
                 ? fmt::format("{} lives with {}", to, from)
                 : fmt::format("{} was in one enclosure with {} until or from {}", to, from, at);
    case Way::hands:
      return fmt::format("{} {}, {} {}", from, day.zone.wall_text(*transfer.from_at), to, at);
    default:
      break;
  }
  std::string text = fmt::format("The {}: ", called(*transfer.tool));
  text += transfer.from_at ? fmt::format("{} {}", from, day.zone.wall_text(*transfer.from_at))
                           : fmt::format("belongs to {}", from);
  text += fmt::format(", {} {}, no disinfection between", to, at);
  for (const std::string& why : transfer.passed_over) text += "; " + why;
  return text;
}

/// The latest few.
std::string evidence_of(const Day& day, const std::vector<const Transfer*>& ways) {
  std::string text;
  for (std::size_t i = 0; i < std::min(ways.size(), kMostWaysShown); ++i) {
    text += (i == 0 ? "" : "; ") + evidence_of(day, *ways[ways.size() - 1 - i]);
  }
  if (ways.size() > kMostWaysShown)
    text += fmt::format("; and {} more", ways.size() - kMostWaysShown);
  text += ".";
  return text;
}

/// Whom a transfer from quarantine or illness reached: the animal, or one that lives there.
Subject reached(const Transfer& transfer) {
  if (transfer.to_subject.kind == SubjectKind::animal || transfer.to.animals.empty()) {
    return transfer.to_subject;
  }
  return room::subject_of(*transfer.to.animals.front()->animal);
}

/// others: how many more were reached; then the finding is about the one it came from.
Finding broken(const Day& day, const std::vector<const Transfer*>& ways, std::size_t others = 0) {
  const Transfer& last = *ways.back();
  const Subject subject =
      others > 0 ? room::subject_of(*last.from.most_exposed->animal) : reached(last);
  const std::string name =
      called(day, reached(last)) + (others > 0 ? fmt::format(" and {} more", others) : "");
  const std::string source = exposed_one(last.from);
  const std::string source_name = room::called(*last.from.most_exposed->animal);
  Finding finding;
  finding.when = is_news(day, last) ? When::today : When::this_week;
  finding.subject_kind = word(subject.kind);
  finding.subject = subject.id;
  switch (last.way) {
    case Way::leftovers:
      finding.headline = fmt::format("{} was given the leftovers of {}", name, source);
      break;
    case Way::enclosure:
      finding.headline = fmt::format("{} shared an enclosure with {}", name, source);
      break;
    default:
      finding.headline = fmt::format("{} had the {} after {}", name, called(*last.tool), source);
      break;
  }
  finding.evidence = evidence_of(day, ways);
  const bool sick = last.from.service_class == ServiceClass::sick;
  finding.advice = fmt::format(
      "Take {} as under observation until {}: after the healthy, own tools, nothing shared.", name,
      sick ? source_name + " is well again" : source_name + "'s quarantine is signed off");
  if (!sick && *last.from.most_exposed->quarantine_since <= day.zone.date_of(last.at)) {
    finding.advice +=
        fmt::format(" The days of that quarantine begin again: `warmside jot quarantine {}`.",
                    last.from.most_exposed->animal->id.text());
  }
  if (last.tool != nullptr)
    finding.advice += fmt::format(" The {}: {}", word(last.tool->kind), kCleaning);
  finding.advice +=
      " If it looks ill or eats less, ask a veterinarian with reptile or amphibian experience.";
  finding.source = kQuarantineSource;
  finding.module = "hygiene";
  return finding;
}

Finding shared_tool(const Day& day, const std::vector<const Transfer*>& ways) {
  const Transfer& last = *ways.back();
  const bool exposed = std::any_of(ways.begin(), ways.end(), [](const Transfer* transfer) {
    return transfer->from.most_exposed != nullptr || transfer->to.most_exposed != nullptr;
  });
  const std::string id = last.tool->id.text();
  return {exposed ? When::today : When::this_week,
          "tool",
          id,
          fmt::format("The {} went from {} to {} without a disinfection", called(*last.tool),
                      called(day, last.from_subject), called(day, last.to_subject)),
          evidence_of(day, ways),
          fmt::format("{} Or give each enclosure its own. Write it down with strength and minutes, "
                      "so that it counts: `warmside jot disinfected {} --with \"bleach 0.1%\" "
                      "--minutes 10`.",
                      kCleaning, id),
          "a tool is disinfected before it goes on: AZA 2007 standards as quoted on a public page "
          "(aza2007) for quarantine; among residents common practice, no source",
          "hygiene"};
}

Finding passed_on_leftovers(const Day& day, const Transfer& transfer) {
  const bool exposed = transfer.to.most_exposed != nullptr;
  return {exposed ? When::today : When::this_week,
          "enclosure",
          transfer.to.id,
          fmt::format("{} was given the leftovers of {}", called(day, transfer.to_subject),
                      called(day, transfer.from_subject)),
          evidence_of(day, {&transfer}),
          "Throw leftovers away: uneaten prey of one animal never goes to another.",
          "general care pages (public_care_pages)",
          "hygiene"};
}

Finding unwashed(const Day& day, const std::vector<const Transfer*>& ways) {
  const Transfer& first = *ways.front();
  std::set<std::string> reached_ids;
  for (const Transfer* transfer : ways) reached_ids.insert(transfer->to.id);
  const std::string others =
      reached_ids.size() > 1 ? fmt::format(" and {} more", reached_ids.size() - 1) : "";
  const auto* enclosure = room::find(day.room->enclosures, room::EnclosureId::trusted(first.to.id));
  const bool vulnerable = day.room->info.vulnerable_person == room::Answer::yes;
  return {
      When::today,
      enclosure != nullptr ? "enclosure" : std::string(word(first.to_subject.kind)),
      first.to.id,
      fmt::format("{}{} came after {}, by the same hands", called(day, first.to_subject), others,
                  exposed_one(first.from)),
      evidence_of(day, {ways.rbegin(), ways.rend()}),  // the first of the day first
      "Serve quarantine and the ill last, in the order of the round. To go back up the list on "
      "one day, wash hands with soap and change the overgarment first; if you did, all is well: "
      "the notebook only shows the times." +
          std::string(vulnerable ? " Someone under 5, over 65 or with weak immunity lives here: "
                                   "wash them before you touch anything of the home."
                                 : ""),
      "quarantined animals only after the residents: AZA 2007 standards as quoted on a public "
      "page (aza2007); half an hour between: common practice, no source",
      "hygiene"};
}

}  // namespace

std::vector<Finding> findings(const Day& day) {
  using Ways = std::vector<const Transfer*>;
  const std::vector<Transfer> transfers = transfers_of(day);
  std::map<std::string, std::map<Subject, Ways>> breaks;  // from whom, to whom
  std::map<const room::Tool*, Ways> shared;
  std::vector<Finding> found;
  for (const Transfer& transfer : transfers) {
    if (transfer.is_uphill()) {
      breaks[transfer.from.most_exposed->animal->id.text()][reached(transfer)].push_back(&transfer);
    } else if (!is_news(day, transfer)) {
      continue;
    } else if (transfer.tool != nullptr) {
      shared[transfer.tool].push_back(&transfer);
    } else {
      found.push_back(passed_on_leftovers(day, transfer));
    }
  }
  for (const auto& [source, exposed] : breaks) {
    Ways all;
    for (const auto& [subject, ways] : exposed) {
      if (exposed.size() <= kMostPatients) found.push_back(broken(day, ways));
      all.insert(all.end(), ways.begin(), ways.end());
    }
    if (exposed.size() <= kMostPatients) continue;
    std::stable_sort(all.begin(), all.end(),
                     [](const Transfer* a, const Transfer* b) { return a->at < b->at; });
    found.push_back(broken(day, all, exposed.size() - 1));
  }
  for (const auto& [tool, ways] : shared) found.push_back(shared_tool(day, ways));
  const std::vector<Transfer> hands = hands_of(day);
  std::map<Date, Ways> by_day;
  for (const Transfer& transfer : hands) by_day[day.zone.date_of(transfer.at)].push_back(&transfer);
  for (const auto& [date, ways] : by_day) found.push_back(unwashed(day, ways));
  for (Finding& finding : disinfection_findings(day)) found.push_back(std::move(finding));
  return found;
}

}  // namespace warmside::hygiene
