#pragma once
// What an enclosure is made of: the table data/materials.csv, built into the program.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/result.h"
#include "species/profile.h"

namespace warmside::climate {

struct Material {
  std::string name;  // as written in a construction: "glass"
  double density_kg_per_m3 = 0;
  double conductivity_w_per_m_k = 0;
  double conductivity_low_w_per_m_k = 0;  // the spread of the sources
  double conductivity_high_w_per_m_k = 0;
  double heat_capacity_j_per_kg_k = 0;
  double emissivity = 0;  // total hemispherical, long wave
  Trust trust = Trust::common_practice;
  std::string source;
  std::string note;
};

/// Reads the table; every bad row is a Problem: not a number, a conductivity outside 0.015..400
/// W/mK, a density outside 1..20000 kg/m3, a heat capacity outside 300..6000 J/kgK.
Checked<std::vector<Material>> read_materials(std::string_view csv);

/// The built-in table, by name.
std::span<const Material> materials();
/// Null when there is none of this name.
const Material* find_material(std::string_view name);

}  // namespace warmside::climate
