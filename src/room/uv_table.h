#pragma once
// What a lamp's data sheet, or a keeper's meter, says of its UV index at distances straight under
// it: "20cm 4.1UVI + 30cm 2.2UVI". A value of its own, since the room file and the UV computation
// both speak of it.

#include <string>
#include <string_view>
#include <vector>

#include "core/quantity.h"
#include "core/result.h"

namespace warmside::room {

struct UvRow {
  Length distance;  // from the lamp's face; more than nothing, at most 10 m
  UvIndex uvi;      // 0 to 1000, without mesh or glass between
  bool operator==(const UvRow&) const = default;
};

struct UvTable {
  std::vector<UvRow> rows;  // nearest first, no distance twice; 1 to 12
  bool operator==(const UvTable&) const = default;

  /// Reads "distance UV-index", joined by '+', in any order.
  static Result<UvTable> parse(std::string_view text);
  std::string text(UnitSystem units) const;
};

}  // namespace warmside::room
