#pragma once
// Taking chlorine and chloramine out of tap water with sodium thiosulfate, and the ammonia that
// chloramine leaves behind. For planning a dose beside the label of a conditioner and a test strip;
// it knows nothing of what else is in the water, and gives no dose for an animal.
// docs/models/hygiene.md has the equations.

#include <optional>

#include "core/quantity.h"
#include "core/result.h"

namespace warmside::hygiene {

/// Molar masses, g/mol, of the standard atomic weights (IUPAC, from memory): Na 22.990, S 32.06,
/// O 15.999, H 1.008, Cl 35.453, N 14.007.
inline constexpr double kThiosulfatePentahydrate_g_per_mol = 248.18;  // Na2S2O3 . 5 H2O
inline constexpr double kThiosulfateAnhydrous_g_per_mol = 158.11;     // Na2S2O3
inline constexpr double kChlorine_g_per_mol = 70.906;                 // Cl2
inline constexpr double kAmmonia_g_per_mol = 17.031;                  // NH3
inline constexpr double kNitrogen_g_per_mol = 14.007;

/// Un-ionised ammonia above this is taken to harm amphibians, mg NH3 in a litre. From memory.
inline constexpr double kAmphibianAmmoniaLimit_mg_per_l = 0.02;

struct TapWater {
  Volume volume;                   // more than nothing, at most 100 m3
  double chlorine_mg_per_l = 0;    // free chlorine, 0..20
  double chloramine_mg_per_l = 0;  // as Cl2, as tests and waterworks give it, 0..20
  std::optional<double> ph;        // 4..11; with it the temperature, 0..50 degC
  std::optional<Temperature> temperature;
};

/// The ammonia that is un-ionised at the water's pH and temperature.
struct UnionisedAmmonia {
  double pka = 0;
  double share = 0;     // 0..1, of all ammonia
  double mg_per_l = 0;  // NH3
  bool above_amphibian_limit = false;
};

struct Dechlorination {
  Mass chlorine;  // all of it, as Cl2
  /// Sodium thiosulfate pentahydrate if all goes to tetrathionate: the dose, since it is the
  /// greatest of the three. And to sulfate and sulfur, and wholly to sulfate.
  Mass pentahydrate, pentahydrate_to_sulfur, pentahydrate_to_sulfate;
  Mass anhydrous;                // instead of the dose of pentahydrate
  double ammonia_mg_per_l = 0;   // NH3 that the chloramine leaves
  double nitrogen_mg_per_l = 0;  // the same as N
  std::optional<UnionisedAmmonia> unionised;
};

/// Problem out_of_range: a value outside the range that TapWater gives; missing: pH without
/// temperature or temperature without pH.
Result<Dechlorination> dechlorinate(const TapWater& water);

/// The share of ammonia that is un-ionised in fresh water: 1 / (1 + 10^(pKa - pH)) with
/// pKa = 0.09018 + 2729.92 / T. ph: 0..14. Source: Emerson et al. 1975, from memory.
double unionised_share(double ph, Temperature temperature);

}  // namespace warmside::hygiene
