#pragma once
// What a meal brings: energy, dry matter, minerals and vitamins of the foods, of what they were
// filled with (gut-load) and of the powder that is still on them (dust). Add up the meals of a week
// before judging them (diet/targets.h): one well dusted meal alone is always too much.
//
// Every amount is an interval, wide where the sources are thin. What nobody measured stays unknown.
// Checked by: tests/unit/diet/nutrients_test.cpp (worked dusting table, decay, oxalate).

#include <optional>

#include "diet/foods.h"
#include "room/records.h"

namespace warmside::diet {

/// What was eaten. Starts as nothing; meals add with +.
struct Nutrients {
  Interval eaten_g = Interval::exactly(0);  // food and dust
  Interval dry_matter_g = Interval::exactly(0);
  Interval energy_kj = Interval::exactly(0);  // metabolisable
  Interval calcium_mg = Interval::exactly(0);
  Interval phosphorus_mg = Interval::exactly(0);
  Interval oxalic_acid_mg = Interval::exactly(0);
  Interval vitamin_d3_iu = Interval::exactly(0);
  Interval prey_retinol_iu = Interval::exactly(0);  // preformed vitamin A of whole vertebrates
  Interval retinol_iu = Interval::exactly(0);       // of all else: insects, powders
  Interval carotenoid_iu = Interval::exactly(0);    // at the rate of humans
  Interval vitamin_e_iu = Interval::exactly(0);

  friend Nutrients operator+(const Nutrients& a, const Nutrients& b);
  friend Nutrients operator*(const Nutrients& a, double times);

  /// Calcium that oxalic acid does not bind. A gram of the acid can bind 0.445 g (40.08/90.03).
  Interval available_calcium_mg() const;
  /// Ca:P by mass, of the available calcium.
  Interval calcium_to_phosphorus() const;
};

/// A powder. All are taken to be free of phosphorus, as a label must say.
struct Supplement {
  Interval calcium_g_per_g;
  Interval vitamin_d3_iu_per_g, retinol_iu_per_g, carotenoid_iu_per_g, vitamin_e_iu_per_g;
};

/// What a jar of this kind may hold when nobody has read its label: the span of products, common
/// practice without a source, and wide (vitamin D3: 5 to 400 IU/g). The label goes before it. Of
/// `other` nothing is known, not even how much calcium.
Supplement usual_supplement(room::SupplementKind kind);

/// How thick the powder lies when the prey leaves the tub. g of powder to a g of prey:
/// well 0.026..0.030 (use 0.027), derived from Schlegel et al. 2005: 10 % of powder thrown on
/// raised a cricket's calcium 27 times; light 0.005..0.010, common practice.
enum class Coat { light, well };
Interval dust_at_first_g_per_g(Coat coat);

/// What is still on after a time, 0 or more: half is lost in 2.7 h, or in 1 h or 4 h. Derived from
/// a remembered figure: Ca:P above 1:1 for about 5.5 h (Michaels, Antwis & Preziosi 2014).
inline constexpr double kDustHalfLife_h = 2.7, kShortDustHalfLife_h = 1, kLongDustHalfLife_h = 4;
Interval dust_left_g_per_g(Interval at_first_g_per_g, Duration since);

/// What so much powder brings.
Nutrients nutrients_of_powder(const Supplement& powder, Interval grams);

/// Powder that must stay on so that the prey has this Ca:P, g/g; nothing where it has it already.
/// Unknown above where the food's minerals or the powder's calcium are not known.
Interval dust_needed_g_per_g(const Food& food, const Supplement& supplement, double wanted_ratio);

/// How many times an insect's own calcium it holds after eating a high-calcium feed for `fed` and
/// then nothing of it for `since`. After 24 h at once: 2.35 (Bah-Nelson et al. 2021: Ca:P 0.17 to
/// 0.4) to 7 times (Schlegel et al. 2005: 3 to 7 in 48 h); 24 h later all is lost (Bah-Nelson).
/// Rise and fall between are taken as even: a guess.
struct GutLoad {
  Duration fed, since;
};
Interval gut_load_factor(const GutLoad& load);

struct Dusting {
  Supplement supplement;
  Interval at_first_g_per_g;
  Duration since;  // from tub to mouth
};

/// One kind of food in a meal. The mass is taken as known: of pieces, count times their mass.
struct Serving {
  const Food* food = nullptr;  // must be there
  Mass mass;
  std::optional<Dusting> dust;
  std::optional<GutLoad> gut_load;
};

/// Values of the table are widened by how far they can be trusted: by a factor of 1.2 up and down
/// (two sets of analyses of four insects differ by up to 1.22 in dry matter and 1.08 in
/// phosphorus), remembered or customary minerals and vitamins by 2 (calcium: 1.1 to 3.7), energies
/// of plants as humans get them by 1.5 (no source). Not widened: the keeper's own, and what begins
/// at nothing, for a limit of detection is a bound already.
Nutrients nutrients_of(const Serving& serving);

}  // namespace warmside::diet

namespace warmside {
template <>
struct Words<diet::Coat> {
  static constexpr std::array<std::string_view, 2> list{"light", "well"};
};
}  // namespace warmside
