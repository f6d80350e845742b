#pragma once
// How much of each nutrient food should hold, by what the animal eats, and whether it surely does.
// Use it on a week of meals or more (diet/nutrients.h). It names a lack or an excess of the diet;
// it never says that an animal is ill, and it gives no doses.
//
// Wanted: MSD Veterinary Manual, "Recommended Nutrient Concentrations for Reptiles" (verified; the
// public page is flattened, the columns of two values are taken as carnivore and omnivore; figures
// for carnivores are minimums). Amounts in dry matter:
//                   carnivore      omnivore   herbivore
//     calcium %     0.8-1.1        1.0-1.5    1.4-2.0
//     phosphorus %  0.5-0.9        0.6-0.9    0.8-1.0
//     A, IU/kg      5,000-10,000   15,000     not given
//     D3, IU/kg     500-1,000      500-1,000  not given
//     E, IU/kg      200            200        not given
// Ca:P of 1 and more, best 1.5 to 2 (common practice). Limits are working caps from memory: calcium
// 2.5 %, vitamin D3 2,000 IU/kg, preformed vitamin A 30,000 IU/kg, which does not hold for what
// comes in whole prey: a diet of adult mice exceeds it by itself and carnivores bear it.

#include <optional>
#include <string_view>
#include <vector>

#include "diet/nutrients.h"

namespace warmside::diet {

enum class Nutrient {
  calcium,
  phosphorus,
  calcium_to_phosphorus,
  vitamin_d3,
  vitamin_a,
  vitamin_e
};

/// carnivore: whole prey, insects, water carnivores and microfauna alike.
enum class DietClass { carnivore, omnivore, herbivore };

/// From a profile's diet_class (docs/data.md); none for a word that is unknown.
std::optional<DietClass> diet_class_of(std::string_view profile_word);

/// What is wanted of one nutrient. Unit: "% of dry matter", "IU/kg of dry matter" or "Ca:P".
struct Target {
  Nutrient nutrient = Nutrient::calcium;
  std::string_view unit;
  Interval wanted = {0, 0};     // 0..0: nothing is asked for
  std::optional<double> limit;  // no more than this
  Trust trust = Trust::verified;
  std::string_view source;
};

struct Circumstances {
  DietClass diet = DietClass::carnivore;
  bool amphibian = false;    // vitamin A then by amphibian_retinol()
  bool uvb_in_zone = false;  // a lamp at the animal's UV zone: its skin makes vitamin D3, so none
                             // is asked of the food (MSD notes that UVB may meet the need)
};
std::vector<Target> targets_for(const Circumstances& circumstances);

/// enough: the wanted and not over the limit, whatever the true values inside their intervals.
/// unsure: it depends on them. unknown: it depends on something that nobody measured.
enum class Verdict { surely_enough, unsure, surely_too_little, surely_too_much, unknown };

/// `limited`: what the limit counts, for vitamin A less than what the need counts.
Verdict judge(Interval amount, Interval limited, const Target& target);

struct Judgement {
  Target target;
  Interval amount;  // in the target's unit
  Verdict verdict = Verdict::unknown;
};

/// Each target against what was eaten. Calcium is what oxalic acid leaves, but all of it for the
/// limit. Vitamin A is preformed, with between none and all of the carotenoids.
std::vector<Judgement> judge(const Nutrients& eaten, const Circumstances& circumstances);

/// Preformed vitamin A of an amphibian in a week. wanted: 0.4 ug for each g of its body kept Puerto
/// Rican crested toads free of squamous metaplasia (Coslik, Ward & McClements 2009, abstract,
/// verified; 1 IU is 0.3 ug of retinol). limit: ten times that (NRC 1987's rule, from memory). By
/// dry matter the same study fed 40,000 IU/kg, over the cap for reptiles.
struct WeeklyRetinol {
  double wanted_iu, limit_iu;
};
WeeklyRetinol amphibian_retinol(Mass body);

}  // namespace warmside::diet

namespace warmside {
template <>
struct Words<diet::Nutrient> {
  static constexpr std::array<std::string_view, 6> list{
      "calcium", "phosphorus", "calcium to phosphorus", "vitamin D3", "vitamin A", "vitamin E"};
};
template <>
struct Words<diet::DietClass> {
  static constexpr std::array<std::string_view, 3> list{"carnivore", "omnivore", "herbivore"};
};
template <>
struct Words<diet::Verdict> {
  static constexpr std::array<std::string_view, 5> list{
      "surely enough", "unsure", "surely too little", "surely too much", "unknown"};
};
}  // namespace warmside
