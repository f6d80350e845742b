#include "report/rota_report.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "report/json_parts.h"
#include "room/look_up.h"

namespace warmside::report {
namespace {

using diet::RotaAnswer;
using diet::RotaProblem;

constexpr const char* kFeedingCaution =
    "A plan of meals from tables and labels, no dose and no diagnosis. Needs are kept by best "
    "estimates; \"unsure\" means that the sources do not tell. An animal that does not eat, loses "
    "mass or seems ill is for a veterinarian with reptile or amphibian experience.";

std::string date_of(const RotaProblem& problem, int day) {
  return to_text(problem.first_day + day);
}

std::string animal_of(const RotaProblem& problem, std::size_t animal) {
  return problem.animals[animal].name;
}

std::string amount_text(const diet::Interval& amount) {
  if (!amount.known()) return fmt::format("at least {:.3g}", amount.low);
  return fmt::format("{:.3g} to {:.3g}", amount.low, amount.high);
}

std::string wanted_text(const diet::Target& target) {
  std::string text;
  if (target.wanted.low > 0) text = fmt::format("wanted {:g}", target.wanted.low);
  if (target.limit) {
    text += fmt::format("{}no more than {:g}", text.empty() ? "" : ", ", *target.limit);
  }
  return text + " " + std::string(target.unit);
}

/// What a jar holds that food may lack.
std::string serves(const diet::RotaJar& jar) {
  std::vector<std::string> words;
  const auto add = [&](const diet::Interval& amount, const char* word) {
    if (amount.low > 0 || (amount.known() && amount.high > 0)) words.emplace_back(word);
  };
  add(jar.supplement.calcium_g_per_g, "calcium");
  add(jar.supplement.vitamin_d3_iu_per_g, "vitamin D3");
  add(jar.supplement.retinol_iu_per_g, "vitamin A");
  add(jar.supplement.vitamin_e_iu_per_g, "vitamin E");
  return fmt::format("{}", fmt::join(words, ", "));
}

/// What is not known of a food or jar, and for whom that leaves which needs and limits open.
struct NotKnown {
  std::set<std::string> nutrients, animals;
};

void put_unknown(const RotaProblem& problem, const RotaAnswer& answer, Sheet& sheet) {
  if (answer.unknown.empty()) return;
  sheet.heading("Not known");
  std::map<std::string, NotKnown> of;
  for (const diet::RotaUnknown& unknown : answer.unknown) {
    NotKnown& one = of[unknown.because];
    one.nutrients.emplace(word(unknown.nutrient));
    one.animals.insert(animal_of(problem, unknown.animal));
  }
  for (const auto& [because, what] : of) {
    sheet.line(fmt::format("How much {} there is in {}: so it cannot be judged for {}.",
                           fmt::join(what.nutrients, ", "), because, fmt::join(what.animals, ", ")),
               0, 2);
  }
  for (const std::size_t jar : answer.set_aside) {
    sheet.line(fmt::format("The jar {} is left out: enter its label.", problem.jars[jar].name), 0,
               2, Tone::urgent);
  }
}

std::string shortage_text(const RotaProblem& problem, const diet::RotaShortage& shortage) {
  const std::string who = shortage.animal ? animal_of(problem, *shortage.animal) + ": " : "";
  return fmt::format("{}{}, {} to {}: {:.3g} {} off at best", who, shortage.need,
                     date_of(problem, shortage.first_day),
                     date_of(problem, shortage.first_day + shortage.days - 1), shortage.shortfall,
                     shortage.unit);
}

Json shortage_json(const RotaProblem& problem, const diet::RotaShortage& shortage) {
  const Json animal = shortage.animal ? Json(animal_of(problem, *shortage.animal)) : Json(nullptr);
  return {{"animal", animal},
          {"first_day", date_of(problem, shortage.first_day)},
          {"days", shortage.days},
          {"need", shortage.need},
          {"unit", shortage.unit},
          {"shortfall", shortage.shortfall},
          {"smallest_change", shortage.smallest_change},
          {"helps", shortage.changed.has_value()}};
}

void put_days(Sheet& sheet, const RotaProblem& problem, const diet::RotaPlan& plan) {
  int day = -1;
  for (const diet::RotaMeal& meal : plan.meals) {
    if (meal.day != day) {
      day = meal.day;
      std::set<std::string> open;
      for (const diet::RotaMeal& other : plan.meals) {
        if (other.day == day && other.jar) open.insert(problem.jars[*other.jar].name);
      }
      sheet.line(fmt::format("{}  {}", date_of(problem, day),
                             open.empty() ? "no jar" : fmt::format("{}", fmt::join(open, ", "))),
                 0, 0, Tone::strong);
    }
    sheet.row(animal_of(problem, meal.animal),
              fmt::format("{} {}{}", meal.pieces, problem.foods[meal.food].name,
                          meal.jar ? ", " + problem.jars[*meal.jar].name : ""),
              24);
  }
}

void put_needs(Sheet& sheet, const RotaProblem& problem, const diet::RotaPlan& plan) {
  for (std::size_t a = 0; a < problem.animals.size(); ++a) {
    // Windows of one verdict are told once, with the widest amounts.
    std::vector<std::pair<std::string, std::pair<diet::Interval, int>>> lines;
    for (const diet::RotaTotal& total : plan.totals) {
      if (total.animal != a || (problem.animals[a].whole_prey && problem.animals[a].jars.empty())) {
        continue;
      }
      for (const diet::Judgement& judged : total.judged) {
        if (judged.target.wanted.low <= 0 && !judged.target.limit) continue;  // nothing is asked
        const std::string key = fmt::format("{}: {}, {}", word(judged.target.nutrient),
                                            word(judged.verdict), wanted_text(judged.target));
        const auto at = std::find_if(lines.begin(), lines.end(),
                                     [&](const auto& line) { return line.first == key; });
        if (at == lines.end()) {
          lines.push_back({key, {judged.amount, 1}});
        } else {
          auto& [amount, windows] = at->second;
          amount = {std::min(amount.low, judged.amount.low),
                    std::max(amount.high, judged.amount.high)};
          ++windows;
        }
      }
    }
    if (lines.empty()) continue;
    sheet.line(animal_of(problem, a), 0, 0, Tone::strong);
    for (const auto& [key, told] : lines) {
      sheet.line(fmt::format("{}; gets {}{}", key, amount_text(told.first),
                             told.second > 1 ? fmt::format(" ({} weeks)", told.second) : ""),
                 2, 2);
    }
  }
}

void put_stock(Sheet& sheet, const RotaProblem& problem, const diet::RotaPlan& plan) {
  for (std::size_t f = 0; f < problem.foods.size(); ++f) {
    int pieces = 0;
    for (const diet::RotaMeal& meal : plan.meals) {
      if (meal.food == f) pieces += meal.pieces;
    }
    if (pieces == 0) continue;
    const auto& stock = problem.foods[f].stock;
    sheet.row(problem.foods[f].name,
              stock ? fmt::format("{} of the {} in stock", pieces, *stock)
                    : fmt::format("{} to have at hand", pieces),
              24);
  }
}

void put_said(const char* heading, const std::vector<SaidOfAnimal>& said, Sheet& sheet) {
  if (said.empty()) return;
  sheet.heading(heading);
  for (const SaidOfAnimal& one : said) {
    sheet.line(fmt::format("{}: {}.", one.animal, one.what), 2, 2);
  }
}

Json said_json(const std::vector<SaidOfAnimal>& said) {
  Json json = Json::array();
  for (const SaidOfAnimal& one : said) {
    json.push_back({{"animal", one.animal}, {"what", one.what}});
  }
  return json;
}

}  // namespace

RotaOfRoom rota_of_room(const diet::RoomRota& rota, const room::Room& room) {
  const auto named = [&](const std::vector<diet::AboutAnimal>& all) {
    std::vector<SaidOfAnimal> said;
    for (const diet::AboutAnimal& one : all) {
      said.push_back({room::called(*room::find(room.animals, one.animal)), one.what});
    }
    return said;
  };
  return {named(rota.left_out), named(rota.cannot_be_met)};
}

std::string rota_as_text(const RotaProblem& problem, const RotaAnswer& answer,
                         const RotaOfRoom& room, const SheetStyle& style) {
  Sheet sheet(style);
  if (answer.plan) {
    const diet::RotaPlan& plan = *answer.plan;
    sheet.heading("Meals");
    put_days(sheet, problem, plan);
    sheet.heading("Why these jars");
    std::map<std::size_t, std::pair<std::set<int>, int>> used;
    for (const diet::RotaMeal& meal : plan.meals) {
      if (!meal.jar) continue;
      used[*meal.jar].first.insert(meal.day);
      ++used[*meal.jar].second;
    }
    for (const auto& [jar, how] : used) {
      sheet.row(problem.jars[jar].name,
                fmt::format("for {}: opened on {} days for {} meals", serves(problem.jars[jar]),
                            how.first.size(), how.second),
                24);
    }
    if (used.empty()) sheet.line("No jar is needed.", 2);
    sheet.heading("Food");
    put_stock(sheet, problem, plan);
    sheet.heading("Needs, by what the sources allow to say");
    put_needs(sheet, problem, plan);
    sheet.blank();
    const double gap = plan.cost > 0 ? 100 * (plan.cost - plan.bound) / plan.cost : 0;
    sheet.line(gap < 1e-4
                   ? fmt::format("Cost {:.2f}: no rota is cheaper, proven.", plan.cost)
                   : fmt::format("Cost {:.2f}; no rota costs less than {:.2f}, proven: this one is "
                                 "within {:.1f} % of the best.",
                                 plan.cost, plan.bound, gap));
  } else {
    sheet.line("There is no rota that keeps every need.", 0, 0, Tone::urgent);
    for (const auto& shortage : answer.shortages) {
      sheet.line(shortage_text(problem, shortage), 0, 2);
      sheet.line("Smallest change: " + shortage.smallest_change + ".", 2, 2);
    }
  }
  put_unknown(problem, answer, sheet);
  put_said("Cannot be met with what is in the room", room.cannot_be_met, sheet);
  put_said("Not on this rota", room.left_out, sheet);
  sheet.blank();
  sheet.line(kFeedingCaution, 0, 0, Tone::faint);
  return sheet.text();
}

std::string rota_as_json(const RotaProblem& problem, const RotaAnswer& answer,
                         const RotaOfRoom& room) {
  Json json{{"feasible", answer.plan.has_value()}};
  const auto bounds = [](const diet::Interval& amount) {
    return Json{{"low", amount.low}, {"high", amount.known() ? Json(amount.high) : Json(nullptr)}};
  };
  if (answer.plan) {
    Json days = Json::array();
    for (const auto& meal : answer.plan->meals) {
      days.push_back({{"date", date_of(problem, meal.day)},
                      {"animal", animal_of(problem, meal.animal)},
                      {"food", problem.foods[meal.food].name},
                      {"count", meal.pieces},
                      {"jar", meal.jar ? Json(problem.jars[*meal.jar].name) : Json(nullptr)}});
    }
    Json totals = Json::array();
    for (const auto& total : answer.plan->totals) {
      Json needs = Json::array();
      for (const auto& judged : total.judged) {
        needs.push_back({{"nutrient", word(judged.target.nutrient)},
                         {"unit", judged.target.unit},
                         {"amount", bounds(judged.amount)},
                         {"wanted", judged.target.wanted.low},
                         {"limit", judged.target.limit ? Json(*judged.target.limit) : nullptr},
                         {"verdict", word(judged.verdict)},
                         {"source", judged.target.source}});
      }
      Json one{{"animal", animal_of(problem, total.animal)},
               {"first_day", date_of(problem, total.first_day)},
               {"days", total.days},
               {"meals", total.meals},
               {"energy_kj", bounds(total.eaten.energy_kj)}};
      if (total.energy_need) {
        one["energy_need_kj"] = {{"low", total.energy_need->low.kilojoules()},
                                 {"high", total.energy_need->high.kilojoules()}};
      }
      one["needs"] = std::move(needs);
      totals.push_back(std::move(one));
    }
    json["days"] = std::move(days);
    json["totals"] = std::move(totals);
    json["cost"] = answer.plan->cost;
    json["bound"] = answer.plan->bound;
  } else {
    // The first, as one object; what else is short beside it.
    Json first, also = Json::array();
    for (const auto& shortage : answer.shortages) {
      Json one = shortage_json(problem, shortage);
      if (first.is_null()) {
        first = std::move(one);
      } else {
        also.push_back(std::move(one));
      }
    }
    first["also"] = std::move(also);
    json["infeasible"] = std::move(first);
  }
  Json unknown = Json::array();
  for (const auto& one : answer.unknown) {
    unknown.push_back({{"animal", animal_of(problem, one.animal)},
                       {"nutrient", word(one.nutrient)},
                       {"limit", one.limit},
                       {"because", one.because}});
  }
  json["unknown"] = std::move(unknown);
  Json aside = Json::array();
  for (const std::size_t jar : answer.set_aside) aside.push_back(problem.jars[jar].name);
  json["set_aside"] = std::move(aside);
  json["left_out"] = said_json(room.left_out);
  json["cannot_be_met"] = said_json(room.cannot_be_met);
  return dumped(json);
}

}  // namespace warmside::report
