#include "diet/targets.h"

#include <algorithm>
#include <array>

namespace warmside::diet {
namespace {

constexpr std::string_view kTable =
    "MSD Veterinary Manual, Recommended Nutrient Concentrations for Reptiles";
constexpr std::string_view kPercent = "% of dry matter", kIuPerKg = "IU/kg of dry matter";
constexpr Interval kNotGiven{0, 0};

// Working caps, from memory; see the header. D3: the lower end of 2,000 to 2,500.
constexpr double kCalciumLimit_pct = 2.5;
constexpr double kVitaminD3Limit_iu_per_kg = 2000;
constexpr double kRetinolLimit_iu_per_kg = 30000;

/// A row of the table, by DietClass.
using ByDiet = std::array<Interval, 3>;
constexpr ByDiet kCalcium{Interval{0.8, 1.1}, Interval{1.0, 1.5}, Interval{1.4, 2.0}};
constexpr ByDiet kPhosphorus{Interval{0.5, 0.9}, Interval{0.6, 0.9}, Interval{0.8, 1.0}};
constexpr ByDiet kVitaminA{Interval{5000, 10000}, Interval{15000, 15000}, kNotGiven};
constexpr ByDiet kVitaminD3{Interval{500, 1000}, Interval{500, 1000}, kNotGiven};
constexpr ByDiet kVitaminE{Interval{200, 200}, Interval{200, 200}, kNotGiven};

Interval in_dry_matter(Interval amount, const Nutrients& eaten, double per) {
  return ratio(amount, eaten.dry_matter_g) * per;
}

/// What counts toward a need and what toward its limit, in the target's unit.
struct Counted {
  Interval amount, limited;
};

Counted counted(Nutrient nutrient, const Nutrients& n) {
  const auto percent = [&](Interval mg) { return in_dry_matter(mg, n, 0.1); };
  const auto iu_per_kg = [&](Interval iu) { return in_dry_matter(iu, n, 1000); };
  const auto both = [](Interval amount) { return Counted{amount, amount}; };
  switch (nutrient) {
    case Nutrient::calcium:
      return {percent(n.available_calcium_mg()), percent(n.calcium_mg)};
    case Nutrient::phosphorus:
      return both(percent(n.phosphorus_mg));
    case Nutrient::calcium_to_phosphorus:
      return both(n.calcium_to_phosphorus());
    case Nutrient::vitamin_d3:
      return both(iu_per_kg(n.vitamin_d3_iu));
    case Nutrient::vitamin_a: {
      const Interval made{0, n.carotenoid_iu.high};
      return {iu_per_kg(n.retinol_iu + n.prey_retinol_iu + made), iu_per_kg(n.retinol_iu)};
    }
    case Nutrient::vitamin_e:
      return both(iu_per_kg(n.vitamin_e_iu));
  }
  WS_CHECK(false);
}

}  // namespace

std::optional<DietClass> diet_class_of(std::string_view profile_word) {
  constexpr std::string_view kCarnivores[] = {
      "whole_prey",       "whole_prey_fish_worm", "insectivore", "insectivore_vertebrate",
      "insectivore_worm", "carnivore_aquatic",    "microfauna"};
  constexpr std::string_view kOmnivores[] = {"frugivore_insectivore", "omnivore",
                                             "omnivore_frugivore", "omnivore_aquatic"};
  const auto in = [&](const auto& words) {
    return std::find(std::begin(words), std::end(words), profile_word) != std::end(words);
  };
  if (in(kCarnivores)) return DietClass::carnivore;
  if (in(kOmnivores)) return DietClass::omnivore;
  if (profile_word == "herbivore") return DietClass::herbivore;
  return std::nullopt;
}

std::vector<Target> targets_for(const Circumstances& circumstances) {
  const auto wanted = [&](const ByDiet& row) {
    return row[static_cast<std::size_t>(circumstances.diet)];
  };
  std::vector<Target> targets{
      {Nutrient::calcium, kPercent, wanted(kCalcium), kCalciumLimit_pct, Trust::verified, kTable},
      {Nutrient::phosphorus, kPercent, wanted(kPhosphorus), std::nullopt, Trust::verified, kTable},
      {Nutrient::calcium_to_phosphorus,
       "Ca:P",
       {1, 2},
       std::nullopt,
       Trust::common_practice,
       "common practice, no source"},
      {Nutrient::vitamin_d3, kIuPerKg, circumstances.uvb_in_zone ? kNotGiven : wanted(kVitaminD3),
       kVitaminD3Limit_iu_per_kg, Trust::verified, kTable},
      {Nutrient::vitamin_e, kIuPerKg, wanted(kVitaminE), std::nullopt, Trust::verified, kTable}};
  if (!circumstances.amphibian) {
    targets.push_back({Nutrient::vitamin_a, kIuPerKg, wanted(kVitaminA), kRetinolLimit_iu_per_kg,
                       Trust::verified, kTable});
  }
  return targets;
}

Verdict judge(Interval amount, Interval limited, const Target& target) {
  if (target.limit && limited.low > *target.limit) return Verdict::surely_too_much;
  if (amount.high < target.wanted.low) return Verdict::surely_too_little;
  const bool enough = amount.low >= target.wanted.low;
  const bool within = !target.limit || limited.high <= *target.limit;
  if (enough && within) return Verdict::surely_enough;
  if ((!enough && !amount.known()) || (!within && !limited.known())) return Verdict::unknown;
  return Verdict::unsure;
}

std::vector<Judgement> judge(const Nutrients& eaten, const Circumstances& circumstances) {
  std::vector<Judgement> judgements;
  for (const Target& target : targets_for(circumstances)) {
    const Counted part = counted(target.nutrient, eaten);
    judgements.push_back({target, part.amount, judge(part.amount, part.limited, target)});
  }
  return judgements;
}

WeeklyRetinol amphibian_retinol(Mass body) {
  constexpr double kWanted_ug_per_g = 0.4, kUgPerIu = 0.3, kNrcRule = 10;
  const double wanted_iu = body.grams() * kWanted_ug_per_g / kUgPerIu;
  return {wanted_iu, kNrcRule * wanted_iu};
}

}  // namespace warmside::diet
