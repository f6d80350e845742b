#pragma once
// Why there is no rota, and what would help. Inside of the rota.

#include "diet/rota_blocks_internal.h"

namespace warmside::diet {

/// Whether every window of the animal can be fed by itself.
bool can_be_fed(const RotaProblem& problem, std::size_t animal);

/// What is short in the animal's windows that cannot be fed.
std::vector<RotaShortage> shortages_of(const RotaProblem& problem, std::size_t animal,
                                       const std::vector<const Block*>& failing);

/// The foods of which there is too little for a rota, though each animal alone can be fed.
std::vector<RotaShortage> stock_shortages(const RotaProblem& problem,
                                          const std::vector<Block>& blocks);

}  // namespace warmside::diet
