#pragma once
// A volume in what a keeper has at hand: spoons, cups, a syringe or a jug. Rounded up, never down,
// so that a disinfectant measured by it is not weaker than asked for.

#include <string>

#include "core/quantity.h"

namespace warmside::hygiene {

/// A volume as it can be measured.
struct Measured {
  Volume volume;      // what is then in the measure, not less than asked for
  std::string words;  // "3/4 cup + 1 tablespoon (6 1/2 fl oz)", "190 mL (12 3/4 tablespoons)"
};

/// us: teaspoons (1/768 US gallon) by quarters, tablespoons by halves, from 1/4 cup on quarter cups
/// and tablespoons, and fluid ounces. metric: 0.5 mL up to 20 mL, 1 mL up to 100, 5 mL up to 1 L,
/// 10 mL above; up to 250 mL also teaspoons of 5 mL or tablespoons of 15 mL by quarters, to the
/// nearest. volume: not negative.
/// Spoons of 5 and 15 mL and the US measures: trade definitions; the steps: common practice, no
/// source.
Measured in_measures(Volume volume, UnitSystem units);

}  // namespace warmside::hygiene
