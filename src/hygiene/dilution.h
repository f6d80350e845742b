#pragma once
// Mixing a disinfectant from a stronger stock: how much stock, how much water.

#include "core/quantity.h"
#include "core/result.h"

namespace warmside::hygiene {

struct Dilution {
  Volume stock;
  Volume water;
};

/// C1 V1 = C2 V2, volumes taken as adding up (good for watery solutions; strong alcohol shrinks by
/// up to 4 %). stock, target: share of active ingredient by volume or mass, both the same way,
/// 0 < target <= stock <= 100 %. volume: of the mixture, more than nothing. Else out_of_range.
Result<Dilution> dilute(Percentage stock, Percentage target, Volume volume);

}  // namespace warmside::hygiene
