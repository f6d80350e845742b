#pragma once
// A value against the range that an animal wants: inside, edging or outside. What a thermometer, a
// UV meter or a computation says is judged by this one rule.

#include "core/quantity.h"

namespace warmside::room {

/// Edging: inside, but within a tenth of the range's width of an end (our own choice).
enum class Standing { inside, edging, outside };

/// "inside", "edging", "outside".
constexpr const char* word_for(Standing standing) {
  switch (standing) {
    case Standing::inside:
      return "inside";
    case Standing::edging:
      return "edging";
    case Standing::outside:
      break;
  }
  return "outside";
}

/// For any linear quantity or a Temperature.
template <class Q>
Standing standing(Q value, const Range<Q>& range) {
  if (!range.contains(value)) return Standing::outside;
  const auto margin = (range.high - range.low) * 0.1;
  return value - range.low < margin || range.high - value < margin ? Standing::edging
                                                                   : Standing::inside;
}

}  // namespace warmside::room
