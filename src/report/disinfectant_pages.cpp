#include "report/disinfectant_pages.h"

#include <fmt/format.h>

#include <algorithm>

#include "core/letters.h"
#include "hygiene/disinfectant_care.h"
#include "report/json_parts.h"

namespace warmside::report {
namespace {

using hygiene::CareTopic;
using hygiene::DisinfectantCare;
using hygiene::DisinfectantFact;
using hygiene::Organism;

constexpr int kLabelWidth = 16;

/// One ingredient with its rows.
struct Disinfectant {
  std::string_view ingredient;
  std::vector<std::string> names;
  std::vector<const DisinfectantFact*> facts;
  std::vector<Organism> reached, not_reached;  // by any row of it; by none
};

Disinfectant gathered(std::string_view ingredient) {
  Disinfectant found{ingredient, {}, {}, {}, {}};
  for (const DisinfectantFact& fact : hygiene::disinfectants()) {
    if (fact.ingredient != ingredient) continue;
    found.names = fact.names;
    found.facts.push_back(&fact);
  }
  for (std::size_t i = 0; i < hygiene::kOrganisms; ++i) {
    const auto organism = static_cast<Organism>(i);
    const bool reached =
        std::any_of(found.facts.begin(), found.facts.end(), [&](const DisinfectantFact* fact) {
          return std::find(fact->works_on.begin(), fact->works_on.end(), organism) !=
                 fact->works_on.end();
        });
    (reached ? found.reached : found.not_reached).push_back(organism);
  }
  return found;
}

std::vector<Disinfectant> matching(std::string_view text) {
  std::vector<Disinfectant> found;
  for (const DisinfectantFact& fact : hygiene::disinfectants()) {
    const bool known = std::any_of(found.begin(), found.end(), [&](const Disinfectant& d) {
      return d.ingredient == fact.ingredient;
    });
    if (known) continue;
    std::string all = fact.ingredient;
    for (const std::string& name : fact.names) all += " " + name;
    if (lower(all).find(lower(text)) != std::string::npos)
      found.push_back(gathered(fact.ingredient));
  }
  return found;
}

std::string listed(const std::vector<Organism>& organisms) {
  std::string text;
  for (const Organism organism : organisms) {
    text += fmt::format("{}{}", text.empty() ? "" : ", ", word(organism));
  }
  return text.empty() ? "nothing" : text;
}

Json words_json(const std::vector<Organism>& organisms) {
  Json list = Json::array();
  for (const Organism organism : organisms) list.push_back(word(organism));
  return list;
}

std::string trust_of(Trust trust, const std::string& source) {
  return trust == Trust::common_practice ? fmt::format("[{}]", source)
                                         : fmt::format("[{}: {}]", word(trust), source);
}

std::string strength_of(const DisinfectantFact& fact, UnitSystem units) {
  return fact.heat ? for_people(*fact.heat, units) : for_people(*fact.strength);
}

std::string joined(const std::vector<std::string>& names) {
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : ", ") + name;
  return text;
}

}  // namespace

std::string disinfectant_as_text(const DisinfectantFact& fact, UnitSystem units,
                                 const SheetStyle& style) {
  const Disinfectant found = gathered(fact.ingredient);
  Sheet sheet(style);
  sheet.line(fmt::format("{} (in the notebook: {})", found.ingredient, joined(found.names)), 0, 0,
             Tone::strong);
  sheet.line(
      "At these strengths and times on surfaces that were cleaned first; more of either counts as "
      "well. The label goes first. Whether it worked, nobody can see.",
      2, 0, Tone::faint);
  for (const DisinfectantFact* row : found.facts) {
    std::string text = fmt::format("works on {}", listed(row->works_on));
    if (!row->fails_on.empty()) text += fmt::format("; fails on {}", listed(row->fails_on));
    text += "  " + trust_of(row->trust, row->source);
    if (!row->note.empty()) text += fmt::format(" {}.", row->note);
    sheet.row(fmt::format("{}, {} min", strength_of(*row, units), row->minutes), text, kLabelWidth);
  }
  sheet.row("not shown for", listed(found.not_reached), kLabelWidth);
  if (std::find(found.not_reached.begin(), found.not_reached.end(), Organism::oocysts) !=
      found.not_reached.end()) {
    sheet.row("",
              "For oocysts (Cryptosporidium, coccidia): heat, 18 h of ammonia, strong peroxide, "
              "or throw it away.",
              kLabelWidth);
  }
  for (const DisinfectantCare* care : hygiene::care_of(found.ingredient)) {
    const std::string hours =
        care->keeps ? fmt::format("{:g} h. ", care->keeps->hours()) : std::string();
    sheet.row(word(care->topic),
              fmt::format("{}{}  {}", hours, care->text, trust_of(care->trust, care->source)),
              kLabelWidth);
  }
  return sheet.text();
}

std::string disinfectant_as_json(const DisinfectantFact& fact) {
  const Disinfectant found = gathered(fact.ingredient);
  const auto keeps = hygiene::mixture_keeps(found.ingredient);
  Json json{{"disinfectant", found.ingredient},
            {"names", found.names},
            {"facts", Json::array()},
            {"not_shown_for", words_json(found.not_reached)},
            {"keeps_h", keeps ? Json(keeps->hours()) : Json(nullptr)},
            {"care", Json::array()}};
  for (const DisinfectantFact* row : found.facts) {
    json["facts"].push_back(
        {{"strength_pct", row->strength ? Json(row->strength->percent()) : Json(nullptr)},
         {"temperature_c", row->heat ? Json(row->heat->celsius()) : Json(nullptr)},
         {"minutes", row->minutes},
         {"works_on", words_json(row->works_on)},
         {"fails_on", words_json(row->fails_on)},
         {"status", word(row->trust)},
         {"source", row->source},
         {"note", row->note}});
  }
  for (const DisinfectantCare* care : hygiene::care_of(found.ingredient)) {
    json["care"].push_back({{"topic", word(care->topic)},
                            {"text", care->text},
                            {"status", word(care->trust)},
                            {"source", care->source},
                            {"note", care->note}});
  }
  return dumped(json);
}

std::string disinfectant_list_as_text(std::string_view text, const SheetStyle& style) {
  Sheet sheet(style);
  for (const Disinfectant& found : matching(text)) {
    sheet.row(found.ingredient, listed(found.reached), 30, 0);
  }
  return sheet.text();
}

std::string disinfectant_list_as_json(std::string_view text) {
  Json list = Json::array();
  for (const Disinfectant& found : matching(text)) {
    list.push_back({{"disinfectant", found.ingredient},
                    {"names", found.names},
                    {"works_on", words_json(found.reached)}});
  }
  return dumped({{"disinfectants", std::move(list)}});
}

}  // namespace warmside::report
