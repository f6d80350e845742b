#pragma once
// How much energy an animal burns: the standard metabolic rate of its group at its mass and body
// temperature, and what wild reptiles burn in the field. Use it as the ground of a feeding plan and
// for `warmside calc energy`; the need of a day in an enclosure is diet/energy.h.
//
// No equation knows one animal: measured animals lie within about a factor of two of it. So every
// rate is a band, and an animal's own weight history goes before it (diet/energy.h).
//
//   snake, lizard  Andrews & Pough 1985, eq. 2, as quoted in published code (verified secondary):
//                  mL O2/h = 0.013 M^0.80 10^(0.038 T) 10^(0.14 S), M in g, T in degC;
//                  S = 0 standard, 1 resting. 20.1 J per mL of oxygen.
//   chelonian      0.7 of that: three measured turtles lie at 0.28 to 0.71 of it and one at 2.4
//   frog,          Gillooly et al. 2001, amphibian form, as in the source of the R package TrenchR
//   salamander     (verified): W = exp(16.68 - 5760/(T + 273.15)) M^0.75 / 60, M in g, T in degC
//
// Checked by: tests/reference/metabolic_rate_test.cpp (printed values, 30 measured animals).

#include <optional>
#include <string_view>

#include "core/quantity.h"
#include "core/result.h"
#include "species/profile.h"

namespace warmside::diet {

/// Energy of one day. Of animals like this one, one in ten lies below `low` and one in ten above
/// `high`.
struct EnergyBand {
  Energy low, middle, high;
};

inline constexpr double kTenthPercentile = 1.2816;  // of the normal distribution, below its mean

/// The band about `middle` whose logarithm has this standard deviation: middle
/// exp(-+kTenthPercentile sd).
EnergyBand band_about(Energy middle, double log_sd);

/// standard: fasted, in the part of the day in which it rests. resting: fasted and still, in the
/// part in which it is active; 1.38 times as much by Andrews & Pough, no different by Gillooly.
enum class Phase { standard, resting };

struct MetabolicRate {
  EnergyBand per_day;
  double log_sd = 0;        // of what animals burn about the equation, ln
  std::string_view source;  // of the equation, for people
  std::string_view spread;  // where log_sd comes from
  Trust trust = Trust::verified_secondary;
};

/// group: any but `other` (bad_value). mass: 0.01 g..500 kg; temperature of the body: 0..45 degC;
/// else out_of_range. These bounds are ours and wide; the animals measured had 0.33 g..3.5 kg.
Result<MetabolicRate> metabolic_rate(Group group, Mass mass, Temperature body,
                                     Phase phase = Phase::standard);

/// What a free-living reptile burns in a day, all its activity and its weather within:
/// kJ/day = 0.196 M^0.889, M in g. Use it as a ceiling for a keeper's animal, which walks less.
/// mass as above. Nothing for amphibians and `other`: no equation for them is known to us.
/// Source: Nagy, Girard & Brown 1999; slope verified (abstract), factor from memory.
std::optional<Energy> field_energy_per_day(Group group, Mass mass);
inline constexpr std::string_view kFieldSource =
    "Nagy, Girard & Brown 1999, all reptiles (slope verified, factor from memory)";

/// The veterinary rule of thumb: 10 kcal/day times (mass in KILOGRAMS)^0.75. It knows no
/// temperature and agrees with resting reptiles near 33 to 37 degC. The same rule stands in print
/// as "10 G^0.75 kJ/day" with grams, 42.5 times too much for 1 kg; a Mass leaves no room for that.
/// Source: summary page of veterinary literature (public_vet_summary), verified.
Energy veterinary_need_per_day(Mass mass);

}  // namespace warmside::diet
