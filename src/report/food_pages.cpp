#include "report/food_pages.h"

#include <fmt/format.h>

#include <algorithm>

#include "core/letters.h"
#include "report/json_parts.h"

namespace warmside::report {
namespace {

using diet::Food;
using diet::Interval;

struct Value {
  std::string_view label, json;
  Interval Food::*field;
  std::string_view unit;
};
/// Values that share one provenance.
struct FoodGroup {
  std::string_view name;
  std::optional<diet::Provenance> Food::*provenance;
  std::vector<Value> values;
};
const std::vector<FoodGroup>& groups() {
  static const std::vector<FoodGroup> all{
      {"composition",
       &Food::composition,
       {{"water", "water_pct", &Food::water_pct, "%"},
        {"energy", "energy_kcal_per_100g", &Food::energy_kcal_per_100g, "kcal/100 g"},
        {"protein", "protein_pct", &Food::protein_pct, "%"},
        {"fat", "fat_pct", &Food::fat_pct, "%"},
        {"ash", "ash_pct", &Food::ash_pct, "%"}}},
      {"minerals",
       &Food::minerals,
       {{"calcium", "calcium_mg_per_kg", &Food::calcium_mg_per_kg, "mg/kg"},
        {"phosphorus", "phosphorus_mg_per_kg", &Food::phosphorus_mg_per_kg, "mg/kg"}}},
      {"vitamins",
       &Food::vitamins,
       {{"retinol", "retinol_iu_per_kg", &Food::retinol_iu_per_kg, "IU/kg"},
        {"carotenoids", "carotenoid_iu_per_kg", &Food::carotenoid_iu_per_kg, "IU/kg"},
        {"vitamin D3", "vitamin_d3_iu_per_kg", &Food::vitamin_d3_iu_per_kg, "IU/kg"}}},
      {"oxalate",
       &Food::oxalate,
       {{"oxalic acid", "oxalic_acid_g_per_100g", &Food::oxalic_acid_g_per_100g, "g/100 g"}}}};
  return all;
}

std::string text_of(Interval amount) {
  if (!amount.known()) return "not known";
  if (amount.low == amount.high) return fmt::format("{:g}", amount.low);
  if (amount.low == 0) return fmt::format("at most {:g}", amount.high);
  return fmt::format("{:g} to {:g}", amount.low, amount.high);
}

Json json_of(Interval amount) {
  if (!amount.known()) return nullptr;
  return {{"low", amount.low}, {"high", amount.high}};
}

std::string trust_of(const diet::Provenance& provenance) {
  return provenance.trust == Trust::common_practice
             ? fmt::format("[{}]", provenance.source)
             : fmt::format("[{}: {}]", word(provenance.trust), provenance.source);
}

std::vector<const Food*> foods_matching(std::string_view text) {
  std::vector<const Food*> found;
  for (const Food& food : diet::foods()) {
    const std::string all = lower(fmt::format("{} {} {} {} {}", food.id, food.name,
                                              food.scientific_name, food.stage, word(food.kind)));
    if (all.find(lower(text)) != std::string::npos) found.push_back(&food);
  }
  return found;
}

std::string named(const Food& food) {
  return fmt::format("{}{}{}", food.name, food.stage.empty() ? "" : ", ", food.stage);
}

}  // namespace

std::string food_as_text(const Food& food, UnitSystem units, const SheetStyle& style) {
  constexpr int kWidth = 16;
  Sheet sheet(style);
  sheet.line(fmt::format("{}{} ({})", named(food),
                         food.scientific_name.empty() ? "" : ", " + food.scientific_name, food.id),
             0, 0, Tone::strong);
  sheet.line("As fed. Foods differ with what they ate, their age and their season.", 2, 0,
             Tone::faint);
  for (const FoodGroup& group : groups()) {
    const auto& provenance = food.*group.provenance;
    for (const Value& value : group.values) {
      const Interval amount = food.*value.field;
      sheet.row(value.label,
                amount.known() && provenance
                    ? fmt::format("{} {}  {}", text_of(amount), value.unit, trust_of(*provenance))
                    : std::string("not known"),
                kWidth);
    }
  }
  if (food.piece_mass && food.piece) {
    sheet.row("one weighs",
              fmt::format("{}  {}", for_people(*food.piece_mass, units), trust_of(*food.piece)),
              kWidth);
  }
  if (food.goitrogenic) sheet.row("goitrogenic", "yes", kWidth);
  if (!food.note.empty()) sheet.row("note", food.note, kWidth);
  return sheet.text();
}

std::string food_as_json(const Food& food) {
  Json json{
      {"food", food.id},         {"name", food.name},   {"scientific_name", food.scientific_name},
      {"kind", word(food.kind)}, {"stage", food.stage}, {"groups", Json::array()}};
  for (const FoodGroup& group : groups()) {
    const auto& provenance = food.*group.provenance;
    Json values = Json::object();
    for (const Value& value : group.values)
      values[std::string(value.json)] = json_of(food.*value.field);
    json["groups"].push_back(
        {{"group", group.name},
         {"status", provenance ? Json(word(provenance->trust)) : Json(nullptr)},
         {"source", provenance ? Json(provenance->source) : Json(nullptr)},
         {"values", std::move(values)}});
  }
  json["piece_mass_g"] = food.piece_mass ? Json{{"low", food.piece_mass->low.grams()},
                                                {"high", food.piece_mass->high.grams()}}
                                         : Json(nullptr);
  json["goitrogenic"] = food.goitrogenic;
  json["note"] = food.note;
  return json.dump(2) + "\n";
}

std::string food_list_as_text(std::string_view text, const SheetStyle& style) {
  Sheet sheet(style);
  for (const Food* food : foods_matching(text)) {
    sheet.row(food->id, fmt::format("{} ({})", named(*food), word(food->kind)), 24, 0);
  }
  return sheet.text();
}

std::string food_list_as_json(std::string_view text) {
  Json list = Json::array();
  for (const Food* food : foods_matching(text)) {
    list.push_back({{"food", food->id},
                    {"name", food->name},
                    {"stage", food->stage},
                    {"kind", word(food->kind)}});
  }
  return Json{{"foods", std::move(list)}}.dump(2) + "\n";
}

}  // namespace warmside::report
