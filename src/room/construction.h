#pragma once
// What one face of an enclosure is made of, from the inside out: "glass 4mm", "cork 20mm + pvc
// 10mm", "mesh 1mm". A value of its own, since the climate computation and the keeper's room file
// both speak of it.

#include <string>
#include <string_view>
#include <vector>

#include "core/quantity.h"
#include "core/result.h"

namespace warmside::room {

struct Layer {
  std::string material;  // small letters, digits, spaces, '_' and '-'; 1 to 32
  Length thickness;      // more than nothing, at most 10 m
  bool operator==(const Layer&) const = default;
};

struct Construction {
  std::vector<Layer> layers;  // inside first; at least one
  bool operator==(const Construction&) const = default;
};

/// Reads "material thickness", joined by '+', the thickness as in parse<Length> ("4mm", "4 mm").
/// At most 12 layers.
Result<Construction> parse_construction(std::string_view text);
std::string to_text(const Construction& construction, UnitSystem units = UnitSystem::metric);

}  // namespace warmside::room
