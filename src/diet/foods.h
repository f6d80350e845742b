#pragma once
// What foods hold: the table data/foods.csv, built into the program. Use it to reckon a meal
// (diet/nutrients.h). Values are as fed, and as thin as their sources: insects' minerals are mostly
// remembered, prey's vitamin D3 is not known. Each group of values has its own trust and source.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/quantity.h"
#include "core/result.h"
#include "diet/interval.h"
#include "room/records.h"
#include "species/profile.h"

namespace warmside::diet {

using room::FoodKind;

/// published: metabolisable energy as in the analysis. factors: from protein and fat at 3.5 and 8.5
/// kcal/g. human: what a human gets of a plant (Atwater), which no tortoise is.
enum class EnergyBasis { published, factors, human };

struct Provenance {
  Trust trust = Trust::common_practice;
  std::string source;  // keys of docs/sources.bib, or "common practice, no source"
  bool operator==(const Provenance&) const = default;
};

/// One food. A group of values has a provenance when at least one of them is known.
struct Food {
  std::string id;    // "cricket_house_adult"
  std::string name;  // "house cricket"
  std::string scientific_name;
  FoodKind kind = FoodKind::invertebrate;
  std::string stage;  // "adult", "pup (4 g)", "raw"

  Interval water_pct;
  Interval energy_kcal_per_100g;  // metabolisable
  std::optional<EnergyBasis> energy_basis;
  Interval protein_pct, fat_pct, ash_pct;
  std::optional<Provenance> composition;

  Interval calcium_mg_per_kg, phosphorus_mg_per_kg;
  std::optional<Provenance> minerals;

  Interval retinol_iu_per_kg;     // preformed vitamin A
  Interval carotenoid_iu_per_kg;  // provitamin, at the rate of humans; amphibians and many
                                  // insect-eaters make little of it
  Interval vitamin_d3_iu_per_kg;
  Interval vitamin_e_iu_per_kg;  // not in the table: only of the keeper's own foods
  std::optional<Provenance> vitamins;

  Interval oxalic_acid_g_per_100g;
  std::optional<Provenance> oxalate;

  bool goitrogenic = false;
  std::optional<Range<Mass>> piece_mass;  // of one animal
  std::optional<Provenance> piece;
  std::string note;
};

/// Reads the table. Every bad row is a Problem with its line: a field that is no number, range or
/// limit of detection, a value that no food can have, low above high, parts that make more than the
/// whole, an unknown word, values without provenance or provenance without values, a second food of
/// the same id.
Checked<std::vector<Food>> read_foods(std::string_view csv);

/// The built-in table, by id.
std::span<const Food> foods();
/// Null when there is none of this id.
const Food* find_food(std::string_view id);

}  // namespace warmside::diet

namespace warmside {
template <>
struct Words<diet::EnergyBasis> {
  static constexpr std::array<std::string_view, 3> list{"published", "factors", "human"};
};
}  // namespace warmside
