#include "hygiene/water.h"

#include <cmath>

namespace warmside::hygiene {
namespace {

double pka_of_ammonia(Temperature temperature) {
  return 0.09018 + 2729.92 / temperature.kelvin();
}

/// Moles of thiosulfate to one of Cl2, by what it is oxidised to:
/// 2 S2O3(2-) + Cl2 -> S4O6(2-) + 2 Cl-
constexpr double kToTetrathionate = 2;
/// S2O3(2-) + Cl2 + H2O -> SO4(2-) + S + 2 Cl- + 2 H+
constexpr double kToSulfur = 1;
/// S2O3(2-) + 4 Cl2 + 5 H2O -> 2 SO4(2-) + 8 Cl- + 10 H+
constexpr double kToSulfate = 0.25;

}  // namespace

double unionised_share(double ph, Temperature temperature) {
  return 1 / (1 + std::pow(10, pka_of_ammonia(temperature) - ph));
}

Result<Dechlorination> dechlorinate(const TapWater& water) {
  const auto refuse = [](const char* field, const char* what, const char* expected) {
    return Problem{ProblemCode::out_of_range, what, {"", 0, field}, expected, ""};
  };
  const auto within = [](double value, double low, double high) {
    return value >= low && value <= high;
  };
  if (!(water.volume > Volume::litres(0)) || !within(water.volume.litres(), 0, 1e5)) {
    return refuse("volume", "not a volume of water", "more than 0L and at most 100000L");
  }
  if (!within(water.chlorine_mg_per_l, 0, 20)) {
    return refuse("chlorine", "not what tap water holds", "0 to 20 mg/L");
  }
  if (!within(water.chloramine_mg_per_l, 0, 20)) {
    return refuse("chloramine", "not what tap water holds", "0 to 20 mg/L, as Cl2");
  }
  if (water.ph.has_value() != water.temperature.has_value()) {
    return Problem{ProblemCode::missing,
                   "the un-ionised share needs both pH and temperature",
                   {"", 0, water.ph ? "temp" : "ph"},
                   "both or neither",
                   ""};
  }
  if (water.ph && !within(*water.ph, 4, 11)) return refuse("ph", "not the pH of water", "4 to 11");
  if (water.temperature && !within(water.temperature->celsius(), 0, 50)) {
    return refuse("temp", "outside what the equation covers", "0C to 50C");
  }
  Dechlorination found;
  found.chlorine = Mass::milligrams((water.chlorine_mg_per_l + water.chloramine_mg_per_l) *
                                    water.volume.litres());
  const auto thiosulfate = [&](double moles, double g_per_mol) {
    return found.chlorine * (moles * g_per_mol / kChlorine_g_per_mol);
  };
  found.pentahydrate = thiosulfate(kToTetrathionate, kThiosulfatePentahydrate_g_per_mol);
  found.pentahydrate_to_sulfur = thiosulfate(kToSulfur, kThiosulfatePentahydrate_g_per_mol);
  found.pentahydrate_to_sulfate = thiosulfate(kToSulfate, kThiosulfatePentahydrate_g_per_mol);
  found.anhydrous = thiosulfate(kToTetrathionate, kThiosulfateAnhydrous_g_per_mol);
  // NH2Cl holds as much nitrogen as Cl2 equivalents: one mole of NH3 for each.
  const double mmol_per_l = water.chloramine_mg_per_l / kChlorine_g_per_mol;
  found.ammonia_mg_per_l = mmol_per_l * kAmmonia_g_per_mol;
  found.nitrogen_mg_per_l = mmol_per_l * kNitrogen_g_per_mol;
  if (water.ph) {
    UnionisedAmmonia free;
    free.pka = pka_of_ammonia(*water.temperature);
    free.share = unionised_share(*water.ph, *water.temperature);
    free.mg_per_l = free.share * found.ammonia_mg_per_l;
    free.above_amphibian_limit = free.mg_per_l > kAmphibianAmmoniaLimit_mg_per_l;
    found.unionised = free;
  }
  return found;
}

}  // namespace warmside::hygiene
