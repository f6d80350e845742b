#include "report/tools_report.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "hygiene/tools.h"
#include "report/page_parts.h"

namespace warmside::report {
namespace {

using hygiene::Disinfection;
using hygiene::Organism;
using hygiene::ServiceClass;
using hygiene::ToolNeed;
using hygiene::ToolPlan;
using hygiene::ToolSet;

constexpr const char* kCleanFirst =
    "Clean first: dirt makes every disinfectant weak. The label goes before this page. Rinse, and "
    "dry; rinse what touches amphibians with dechlorinated water until nothing is left. Never mix "
    "bleach with ammonia or acid.";
constexpr const char* kSource =
    "Source: own tools in quarantine, or disinfected before reuse: aza2007 (docs/sources.bib); the "
    "rest common practice, no source.";

std::vector<Disinfection> between(const ToolSet& set) {
  return hygiene::disinfections_against(hygiene::everyday_organisms(set.groups));
}
std::vector<Disinfection> against_oocysts() {
  constexpr Organism kOocysts[] = {Organism::oocysts};
  return hygiene::disinfections_against(kOocysts);
}

/// "sodium hypochlorite 0.1 %, 1 min".
std::string words_of(const Disinfection& with, UnitSystem units) {
  return fmt::format(
      "{} {}, {} ({})", with.ingredient,
      with.heat ? for_people(*with.heat, units) : fmt::format("{:.3g} %", with.strength->percent()),
      with.minutes < 120 ? fmt::format("{} min", with.minutes)
                         : fmt::format("{} h", (with.minutes + 59) / 60),
      word(with.trust));
}
std::string words_of(const std::vector<Disinfection>& list, UnitSystem units) {
  std::string text;
  for (const Disinfection& with : list) {
    text += fmt::format("{}{}", text.empty() ? "" : "; or ", words_of(with, units));
  }
  return text;
}

bool shares_nothing(const ToolSet& set) {
  return set.service_class == ServiceClass::observation || set.service_class == ServiceClass::sick;
}

/// Whether the tools of a set go from enclosure to enclosure, and after what.
std::string sharing_words(const ToolSet& set, UnitSystem units) {
  if (shares_nothing(set)) return "Shares nothing: its own, or disposable ones.";
  if (set.enclosures.size() == 1) return "Its own: no other enclosure may share with it.";
  const auto with = between(set);
  if (with.empty()) {
    return "No disinfectant of the table reaches all that matters here: own tools for each.";
  }
  return fmt::format("May be shared after each: {}.", words_of(with, units));
}

std::string groups_of(const ToolSet& set) {
  std::string text;
  for (const Group group : set.groups)
    text += fmt::format("{}{}", text.empty() ? "" : ", ", word(group));
  return text;
}

std::string title_of(const ToolSet& set) {
  return fmt::format("{}; {}{}", groups_of(set), word(set.service_class),
                     set.service_class == ServiceClass::quarantine && set.since
                         ? " since " + to_text(*set.since)
                         : "");
}

std::string mark_words(const ToolSet& set) {
  return set.marked ? fmt::format("marked {}", set.mark) : fmt::format("mark it {}", set.mark);
}

template <class Ids>
std::string listed(const Ids& ids) {
  std::string text;
  for (const auto& id : ids) text += fmt::format("{}{}", text.empty() ? "" : ", ", id.text());
  return text;
}

std::string need_words(const ToolNeed& need) {
  std::vector<std::string> parts;
  parts.push_back(need.shared == 0 ? fmt::format("{} there", need.there.size())
                                   : fmt::format("{} there, {} of them nobody's", need.there.size(),
                                                 need.shared));
  parts.push_back(fmt::format("{} sets need one", need.wanted_by.size()));
  std::string text = fmt::format("{}", fmt::join(parts, "; "));
  if (need.without.empty()) return text + "; none is missing";
  std::vector<std::size_t> numbers;
  for (const std::size_t set : need.without) numbers.push_back(set + 1);
  text += fmt::format("; sets without: {}", fmt::join(numbers, ", "));
  if (need.shared > 0) text += "; give each of nobody's to one of them, disinfected first";
  text += need.missing() > 0 ? fmt::format("; get {}", need.missing()) : "; none is missing";
  return text;
}

Json disinfection_json(const std::vector<Disinfection>& list) {
  Json json = Json::array();
  for (const Disinfection& with : list) {
    json.push_back(
        {{"ingredient", with.ingredient},
         {"strength_pct", with.strength ? Json(with.strength->percent()) : Json(nullptr)},
         {"temperature_c", with.heat ? Json(with.heat->celsius()) : Json(nullptr)},
         {"minutes", with.minutes},
         {"trust", word(with.trust)}});
  }
  return json;
}

/// Empty where the set shares nothing.
Json sharing_json(const ToolSet& set) {
  return shares_nothing(set) || set.enclosures.size() == 1 ? Json::array()
                                                           : disinfection_json(between(set));
}

template <class Ids>
Json ids_json(const Ids& ids) {
  Json json = Json::array();
  for (const auto& id : ids) json.push_back(id.text());
  return json;
}

}  // namespace

std::string tools_as_text(const room::Day& day, const std::set<room::AnimalId>& watched,
                          const SheetStyle& style) {
  const UnitSystem units = day.room->info.units;
  const ToolPlan plan = hygiene::tool_plan(day, watched);
  Sheet sheet(style);
  sheet.line(fmt::format("{}: tools on {}", day.room->info.name, to_text(day.date)), 0, 0,
             Tone::strong);
  sheet.heading("The fewest sets that keep the room separated");
  if (plan.sets.empty()) sheet.line("No animals live in an enclosure.", 2);
  int number = 0;
  for (const ToolSet& set : plan.sets) {
    sheet.line(fmt::format("{}. {}: {}", ++number, title_of(set), listed(set.enclosures)), 2, 3,
               Tone::strong);
    sheet.line(mark_words(set) + ". " + sharing_words(set, units), 5);
  }
  sheet.heading("Kind by kind");
  for (const ToolNeed& need : plan.kinds) sheet.row(word(need.kind), need_words(need), 14);
  sheet.row("bowl", "each stays in its enclosure", 14);
  sheet.heading("With every disinfection");
  sheet.line(kCleanFirst, 2, 2);
  sheet.line(fmt::format("Cryptosporidium and coccidia: only {}; otherwise throw the tool away. "
                         "A suspicion is for a veterinarian.",
                         words_of(against_oocysts(), units)),
             2, 2);
  sheet.line(kSource, 2, 2, Tone::faint);
  return sheet.text();
}

std::string tools_as_json(const room::Day& day, const std::set<room::AnimalId>& watched) {
  const ToolPlan plan = hygiene::tool_plan(day, watched);
  Json json{{"date", to_text(day.date)}, {"room", day.room->info.name}};
  json["sets"] = Json::array();
  for (const ToolSet& set : plan.sets) {
    Json groups = Json::array();
    for (const Group group : set.groups) groups.push_back(word(group));
    json["sets"].push_back({{"mark", set.mark},
                            {"marked", set.marked},
                            {"class", word(set.service_class)},
                            {"groups", std::move(groups)},
                            {"enclosures", ids_json(set.enclosures)},
                            {"disinfect", sharing_json(set)}});
  }
  json["kinds"] = Json::array();
  for (const ToolNeed& need : plan.kinds) {
    Json there = Json::array();
    for (const room::Tool* tool : need.there) {
      there.push_back({{"tool", tool->id.text()},
                       {"enclosure", id_or_null(tool->enclosure)},
                       {"mark", tool->mark}});
    }
    json["kinds"].push_back({{"kind", word(need.kind)},
                             {"there", std::move(there)},
                             {"needed", need.wanted_by.size()},
                             {"missing", need.missing()},
                             {"sets_without", need.without}});
  }
  json["oocysts"] = disinfection_json(against_oocysts());
  json["cautions"] = {kCleanFirst};
  json["source"] = kSource;
  return dumped(json);
}

void put_tools(const room::Enclosure& enclosure, const PageInput& input, Sheet& sheet) {
  const ToolPlan plan = hygiene::tool_plan(*input.day, input.round->watched);
  const ToolSet* set = plan.set_of(enclosure.id);
  if (set == nullptr) return;
  sheet.heading("Tools");
  const auto own = [&](const room::Tool* tool) { return tool->enclosure == enclosure.id; };
  std::string has, lacks;
  const auto number = static_cast<std::size_t>(set - plan.sets.data());
  for (const ToolNeed& need : plan.kinds) {
    const auto& wanted_by = need.wanted_by;
    if (std::find(wanted_by.begin(), wanted_by.end(), number) == wanted_by.end()) continue;
    const bool any = std::any_of(need.there.begin(), need.there.end(), own);
    std::string& list = any ? has : lacks;
    list += fmt::format("{}{}", list.empty() ? "" : ", ", word(need.kind));
  }
  if (!has.empty()) sheet.row("its own", has, 20);
  if (!lacks.empty()) sheet.row("none of its own", lacks, 20);
  std::vector<room::EnclosureId> others = set->enclosures;
  std::erase(others, enclosure.id);
  if (!others.empty()) sheet.row("may share with", listed(others), 20);
  sheet.line(sharing_words(*set, input.day->room->info.units) +
                 " Whatever may be shared: `warmside tools`.",
             2, 2, Tone::faint);
}

Json tools_json(const room::Enclosure& enclosure, const PageInput& input) {
  const ToolPlan plan = hygiene::tool_plan(*input.day, input.round->watched);
  const ToolSet* set = plan.set_of(enclosure.id);
  if (set == nullptr) return nullptr;
  std::vector<room::EnclosureId> others = set->enclosures;
  std::erase(others, enclosure.id);
  return {{"mark", set->mark},
          {"marked", set->marked},
          {"shared_with", ids_json(others)},
          {"disinfect", sharing_json(*set)}};
}

}  // namespace warmside::report
