#include "report/animal_food.h"

#include <fmt/format.h>

#include <algorithm>

#include "diet/feeding_advice.h"
#include "diet/past_diet.h"
#include "round/feeding.h"

namespace warmside::report {
namespace {

constexpr std::size_t kNeedLabel = 14;

/// Everything that the part says, computed once.
struct FoodOfAnimal {
  diet::PastDiet past;
  std::optional<diet::AnimalNeed> need;
  std::string no_need;  // why there is none
  std::optional<diet::EnergyVerdict> eaten_verdict;
  std::optional<diet::YearOfMeals> year;  // of the habit's only meal
  std::vector<const diet::Food*> prey;
  diet::PlantMix mix;
};

/// Plants of the table that it was offered lately or that are in store.
std::vector<const diet::Food*> plants_at_hand(const room::AnimalDay& animal, const room::Day& day,
                                              const diet::Pantry& pantry) {
  std::vector<const diet::Food*> plants;
  const auto add = [&](const diet::Match& match) {
    if (match.food != nullptr && match.food->kind == diet::FoodKind::plant &&
        diet::find_food(match.food->id) != nullptr &&
        std::find(plants.begin(), plants.end(), match.food) == plants.end()) {
      plants.push_back(match.food);
    }
  };
  for (const auto& meal :
       diet::meals_offered(animal, day, day.date - diet::kDaysOfHabit, day.date + 1)) {
    for (const diet::Course& course : meal.courses) add(pantry.match(course.item));
  }
  for (const room::Supply& supply : day.room->supplies) add(pantry.match(supply));
  return plants;
}

FoodOfAnimal food_of(const room::AnimalDay& animal, const room::Day& day,
                     const diet::Pantry& pantry) {
  FoodOfAnimal food;
  food.past = diet::past_diet(animal, day, pantry);
  const auto need = diet::need_of(animal, day, pantry, round::known_of(animal, day, true));
  if (need) {
    food.need = *need;
    if (!food.past.judgements.empty()) {
      food.eaten_verdict =
          diet::judge_energy(food.past.energy_kj * (1.0 / diet::kDaysOfPast), need->need.per_day());
    }
    const auto every = diet::feeding_interval_d(animal);
    const auto advice = diet::feeding_advice(animal, day, pantry, day.date);
    if (advice.always && every) {
      food.year = diet::year_of(advice.meal_kj, *every, need->need);
    }
  } else {
    food.no_need = need.problem().what;
  }
  const std::string_view eats = animal.profile.text(species::Key::diet_class);
  if (eats.starts_with("whole_prey")) food.prey = diet::prey_that_fits(animal);
  const auto diet_class = diet::diet_class_of(eats);
  if (diet_class && *diet_class != diet::DietClass::carnivore) {
    food.mix = diet::mix_of(animal, plants_at_hand(animal, day, pantry));
  }
  return food;
}

std::string number(double x) {
  return x >= 100 ? fmt::format("{:.0f}", x) : fmt::format("{:.2g}", x);
}

std::string range_text(const diet::Interval& amount) {
  if (!amount.known()) return fmt::format("at least {}", number(amount.low));
  return fmt::format("{} to {}", number(amount.low), number(amount.high));
}

std::string wanted_text(const diet::Target& target) {
  std::string text;
  if (target.wanted.low > 0) text = fmt::format("wanted {} or more", number(target.wanted.low));
  if (target.limit) {
    text += fmt::format("{}at most {}", text.empty() ? "" : ", ", number(*target.limit));
  }
  return text;
}

std::string names_of(const std::vector<const diet::Food*>& foods) {
  std::string text;
  for (const diet::Food* food : foods) {
    text += fmt::format("{}{}", text.empty() ? "" : "; ", food->name);
  }
  return text;
}

Json band(const diet::EnergyBand& need) {
  return {{"low", need.low.kilojoules()},
          {"middle", need.middle.kilojoules()},
          {"high", need.high.kilojoules()}};
}

Json bounds(const diet::Interval& amount) {
  return {{"low", amount.low}, {"high", amount.known() ? Json(amount.high) : Json(nullptr)}};
}

Json names_json(const std::vector<const diet::Food*>& foods) {
  Json json = Json::array();
  for (const diet::Food* food : foods) json.push_back(food->name);
  return json;
}

}  // namespace

void put_food(const room::AnimalDay& animal, const room::Day& day, Sheet& sheet) {
  const diet::Pantry pantry(*day.room);
  const FoodOfAnimal food = food_of(animal, day, pantry);
  sheet.heading("Food");
  if (food.need) {
    const auto per_day = food.need->need.per_day();
    sheet.row("need",
              fmt::format("{} kJ a day, four times in five between {} and {}; {}{}",
                          number(per_day.middle.kilojoules()), number(per_day.low.kilojoules()),
                          number(per_day.high.kilojoules()), word(food.need->stage),
                          food.need->corrected ? ", corrected by its own meals and mass" : ""),
              kNeedLabel);
    sheet.row("warmth", food.need->warmth, kNeedLabel);
  } else {
    sheet.row("need", "not known: " + food.no_need, kNeedLabel);
  }
  if (food.eaten_verdict) {
    sheet.row("eaten",
              fmt::format("{} kJ a day in four weeks: {}",
                          range_text(food.past.energy_kj * (1.0 / diet::kDaysOfPast)),
                          word(*food.eaten_verdict)),
              kNeedLabel);
  }
  if (food.year) {
    sheet.row("a year of it",
              fmt::format("{} kJ for a need of {} to {}: {}", range_text(food.year->eaten_kj),
                          number(food.year->need.low.kilojoules()),
                          number(food.year->need.high.kilojoules()), word(food.year->verdict)),
              kNeedLabel);
  }
  for (const diet::Judgement& judged : food.past.judgements) {
    const std::string wanted = wanted_text(judged.target);
    if (wanted.empty()) continue;
    const bool off = judged.verdict == diet::Verdict::surely_too_little ||
                     judged.verdict == diet::Verdict::surely_too_much;
    sheet.line(fmt::format("{}: {}; {} {}, {}", word(judged.target.nutrient), word(judged.verdict),
                           range_text(judged.amount), judged.target.unit, wanted),
               2, 2, off ? Tone::urgent : Tone::plain);
  }
  if (food.past.judgements.empty()) {
    sheet.line("Too few meals in the notebook to judge its minerals and vitamins.", 2);
  }
  if (!food.prey.empty()) sheet.row("prey that fits", names_of(food.prey), kNeedLabel);
  if (!food.mix.plants.empty()) {
    sheet.row("greens, equal",
              fmt::format("{} (Ca:P {})", names_of(food.mix.plants),
                          range_text(food.mix.calcium_to_phosphorus)),
              kNeedLabel);
  }
  sheet.line(
      "This judges the food by tables and labels, not the animal; where its weight says otherwise, "
      "the weight is right.",
      2, 0, Tone::faint);
}

Json food_json(const room::AnimalDay& animal, const room::Day& day) {
  const diet::Pantry pantry(*day.room);
  const FoodOfAnimal food = food_of(animal, day, pantry);
  Json json{{"need_kj_per_day", nullptr},
            {"need_unknown", nullptr},
            {"stage", nullptr},
            {"warmth", nullptr},
            {"corrected", false},
            {"energy_verdict", nullptr},
            {"year", nullptr}};
  if (food.need) {
    json["need_kj_per_day"] = band(food.need->need.per_day());
    json["stage"] = word(food.need->stage);
    json["warmth"] = food.need->warmth;
    json["corrected"] = food.need->corrected;
  } else {
    json["need_unknown"] = food.no_need;
  }
  json["eaten_kj_per_day"] = bounds(food.past.energy_kj * (1.0 / diet::kDaysOfPast));
  if (food.eaten_verdict) json["energy_verdict"] = word(*food.eaten_verdict);
  if (food.year) {
    json["year"] = {{"eaten_kj", bounds(food.year->eaten_kj)},
                    {"need_kj", band(food.year->need)},
                    {"verdict", word(food.year->verdict)}};
  }
  json["nutrients"] = Json::array();
  for (const diet::Judgement& judged : food.past.judgements) {
    json["nutrients"].push_back(
        {{"nutrient", word(judged.target.nutrient)},
         {"unit", judged.target.unit},
         {"amount", bounds(judged.amount)},
         {"wanted", judged.target.wanted.low},
         {"limit", judged.target.limit ? Json(*judged.target.limit) : Json(nullptr)},
         {"verdict", word(judged.verdict)},
         {"source", judged.target.source}});
  }
  json["prey_that_fits"] = names_json(food.prey);
  json["greens"] = names_json(food.mix.plants);
  return json;
}

}  // namespace warmside::report
