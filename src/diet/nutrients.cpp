#include "diet/nutrients.h"

#include <cmath>

namespace warmside::diet {
namespace {

constexpr double kCalciumBoundByOxalicAcid = 40.08 / 90.03;  // g/g, molar masses
constexpr double kKilojoulesPerKilocalorie = 4.184;

constexpr double kGutLoadHours = 24;
constexpr Interval kFullGutLoad{0.4 / 0.17, 7};

constexpr double kSurestFactor = 1.2, kRememberedFactor = 2, kHumanEnergyFactor = 1.5;

constexpr Interval Nutrients::*kParts[] = {
    &Nutrients::eaten_g,       &Nutrients::dry_matter_g,    &Nutrients::energy_kj,
    &Nutrients::calcium_mg,    &Nutrients::phosphorus_mg,   &Nutrients::oxalic_acid_mg,
    &Nutrients::vitamin_d3_iu, &Nutrients::prey_retinol_iu, &Nutrients::retinol_iu,
    &Nutrients::carotenoid_iu, &Nutrients::vitamin_e_iu};

Interval widened(Interval amount, double factor) {
  if (amount.low == 0) return amount;
  return {amount.low / factor, amount.high * factor};
}

Interval believed(Interval amount, const std::optional<Provenance>& provenance,
                  double remembered = kRememberedFactor) {
  if (!provenance || provenance->trust == Trust::keeper) return amount;
  const bool seen = provenance->trust == Trust::verified ||
                    provenance->trust == Trust::verified_secondary ||
                    provenance->trust == Trust::derived;
  return widened(amount, seen ? kSurestFactor : remembered);
}

Interval dry_matter_share(const Food& food) {
  const Interval dry = less(Interval::exactly(1), food.water_pct * 0.01);
  const Interval share = believed(dry, food.composition, kSurestFactor);
  return {share.low, std::min(1.0, share.high)};  // whatever the water, it is at most all
}

Interval energy_kj_per_g(const Food& food) {
  const Interval kcal = food.energy_basis == EnergyBasis::human
                            ? widened(food.energy_kcal_per_100g, kHumanEnergyFactor)
                            : believed(food.energy_kcal_per_100g, food.composition, kSurestFactor);
  return kcal * (kKilojoulesPerKilocalorie / 100);
}

Nutrients of_food(const Serving& serving) {
  const Food& food = *serving.food;
  const double grams = serving.mass.grams();
  const double per_kg = grams / 1000;
  Nutrients n;
  n.eaten_g = Interval::exactly(grams);
  n.dry_matter_g = dry_matter_share(food) * grams;
  n.energy_kj = energy_kj_per_g(food) * grams;
  n.calcium_mg = believed(food.calcium_mg_per_kg, food.minerals) * per_kg;
  if (serving.gut_load) n.calcium_mg = n.calcium_mg * gut_load_factor(*serving.gut_load);
  n.phosphorus_mg = believed(food.phosphorus_mg_per_kg, food.minerals) * per_kg;
  n.oxalic_acid_mg = believed(food.oxalic_acid_g_per_100g, food.oxalate) * (10 * grams);
  n.vitamin_d3_iu = believed(food.vitamin_d3_iu_per_kg, food.vitamins) * per_kg;
  (food.kind == FoodKind::vertebrate ? n.prey_retinol_iu : n.retinol_iu) =
      believed(food.retinol_iu_per_kg, food.vitamins) * per_kg;
  n.carotenoid_iu = believed(food.carotenoid_iu_per_kg, food.vitamins) * per_kg;
  n.vitamin_e_iu = believed(food.vitamin_e_iu_per_kg, food.vitamins) * per_kg;
  return n;
}

}  // namespace

Nutrients operator+(const Nutrients& a, const Nutrients& b) {
  Nutrients sum;
  for (const auto part : kParts) sum.*part = a.*part + b.*part;
  return sum;
}

Nutrients operator*(const Nutrients& a, double times) {
  Nutrients product;
  for (const auto part : kParts) product.*part = a.*part * times;
  return product;
}

Interval Nutrients::available_calcium_mg() const {
  return less(calcium_mg, oxalic_acid_mg * kCalciumBoundByOxalicAcid);
}

Interval Nutrients::calcium_to_phosphorus() const {
  return ratio(available_calcium_mg(), phosphorus_mg);
}

Supplement usual_supplement(room::SupplementKind kind) {
  const Interval none = Interval::exactly(0), unknown = Interval::unknown();
  switch (kind) {
    // Calcium carbonate is 40.04 % calcium (stoichiometry); products 35 to 40 %.
    case room::SupplementKind::calcium:
      return {{0.35, 0.4004}, none, none, none, none};
    case room::SupplementKind::calcium_d3:
      return {{0.35, 0.38}, {5, 400}, none, none, none};
    case room::SupplementKind::multivitamin:
      return {{0, 0.25}, {0, 25}, none, unknown, unknown};
    case room::SupplementKind::multivitamin_retinol:
      return {{0, 0.25}, {10, 25}, {50, 250}, unknown, unknown};
    case room::SupplementKind::other:
      return {{0, 0.4004}, unknown, unknown, unknown, unknown};
  }
  WS_CHECK(false);
}

Interval dust_at_first_g_per_g(Coat coat) {
  return coat == Coat::well ? Interval{0.026, 0.030} : Interval{0.005, 0.010};
}

Interval dust_left_g_per_g(Interval at_first_g_per_g, Duration since) {
  WS_CHECK(since >= Duration::hours(0));
  return at_first_g_per_g * Interval{std::exp2(-since.hours() / kShortDustHalfLife_h),
                                     std::exp2(-since.hours() / kLongDustHalfLife_h)};
}

Nutrients nutrients_of_powder(const Supplement& powder, Interval grams) {
  Nutrients n;
  n.eaten_g = grams;
  n.dry_matter_g = grams;
  n.calcium_mg = powder.calcium_g_per_g * grams * 1000;
  n.vitamin_d3_iu = powder.vitamin_d3_iu_per_g * grams;
  n.retinol_iu = powder.retinol_iu_per_g * grams;
  n.carotenoid_iu = powder.carotenoid_iu_per_g * grams;
  n.vitamin_e_iu = powder.vitamin_e_iu_per_g * grams;
  return n;
}

Interval dust_needed_g_per_g(const Food& food, const Supplement& supplement, double wanted_ratio) {
  const Interval calcium = believed(food.calcium_mg_per_kg, food.minerals);
  const Interval phosphorus = believed(food.phosphorus_mg_per_kg, food.minerals);
  const Interval lacking_g_per_g = less(phosphorus * wanted_ratio, calcium) * 1e-6;
  return ratio(lacking_g_per_g, supplement.calcium_g_per_g);
}

Interval gut_load_factor(const GutLoad& load) {
  WS_CHECK(load.fed >= Duration::hours(0) && load.since >= Duration::hours(0));
  const double filled = std::min(1.0, load.fed.hours() / kGutLoadHours);
  const double kept = std::max(0.0, 1 - load.since.hours() / kGutLoadHours);
  return {1 + (kFullGutLoad.low - 1) * filled * kept, 1 + (kFullGutLoad.high - 1) * filled * kept};
}

Nutrients nutrients_of(const Serving& serving) {
  WS_CHECK(serving.food != nullptr && serving.mass >= Mass::grams(0));
  const Nutrients food = of_food(serving);
  if (!serving.dust) return food;
  const Interval on_it = dust_left_g_per_g(serving.dust->at_first_g_per_g, serving.dust->since);
  return food + nutrients_of_powder(serving.dust->supplement, on_it * serving.mass.grams());
}

}  // namespace warmside::diet
