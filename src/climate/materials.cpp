#include "climate/materials.h"

#include <algorithm>
#include <charconv>

#include "climate/built_in_materials.h"
#include "species/table.h"

namespace warmside::climate {
namespace {

/// A column of numbers, where it goes and what it may be.
struct NumberColumn {
  const char* name;
  std::size_t index;
  double Material::*field;
  double lowest, highest;
};
constexpr NumberColumn kNumbers[] = {
    {"density_kg_per_m3", 1, &Material::density_kg_per_m3, 1, 20000},
    {"conductivity_w_per_m_k", 2, &Material::conductivity_w_per_m_k, 0.015, 400},
    {"conductivity_low_w_per_m_k", 3, &Material::conductivity_low_w_per_m_k, 0.015, 400},
    {"conductivity_high_w_per_m_k", 4, &Material::conductivity_high_w_per_m_k, 0.015, 400},
    {"heat_capacity_j_per_kg_k", 5, &Material::heat_capacity_j_per_kg_k, 300, 6000},
    {"emissivity", 6, &Material::emissivity, 0.01, 1},
};

}  // namespace

Checked<std::vector<Material>> read_materials(std::string_view csv) {
  std::vector<Material> table;
  Problems problems;
  species::read_table("materials.csv", csv,
                      {"material", "density_kg_per_m3", "conductivity_w_per_m_k",
                       "conductivity_low_w_per_m_k", "conductivity_high_w_per_m_k",
                       "heat_capacity_j_per_kg_k", "emissivity", "status", "source", "note"},
                      problems, [&](const std::vector<std::string_view>& f, int line) {
                        Material material;
                        material.name = std::string(f[0]);
                        const auto refuse = [&](const char* field, std::string_view found) {
                          problems.push_back({ProblemCode::out_of_range,
                                              "not a value that a material can have",
                                              {"materials.csv", line, field},
                                              "",
                                              shown(found)});
                        };
                        for (const NumberColumn& column : kNumbers) {
                          const std::string_view text = f[column.index];
                          double value = 0;
                          const auto [end, error] =
                              std::from_chars(text.data(), text.data() + text.size(), value);
                          if (error != std::errc{} || end != text.data() + text.size() ||
                              !(value >= column.lowest && value <= column.highest)) {
                            refuse(column.name, text);
                          }
                          material.*column.field = value;
                        }
                        const auto trust = from_word<Trust>(f[7]);
                        if (!trust) refuse("status", f[7]);
                        material.trust = trust.value_or(Trust::common_practice);
                        material.source = std::string(f[8]);
                        material.note = std::string(f[9]);
                        table.push_back(std::move(material));
                      });
  if (!problems.empty()) return problems;
  std::sort(table.begin(), table.end(),
            [](const Material& a, const Material& b) { return a.name < b.name; });
  return table;
}

std::span<const Material> materials() {
  static const std::vector<Material> table = [] {
    auto read = read_materials(data::materials_csv());
    WS_CHECK(read.ok());  // ./check reads the same file before it is built in
    return std::move(read).value();
  }();
  return table;
}

const Material* find_material(std::string_view name) {
  const auto table = materials();
  const auto at =
      std::lower_bound(table.begin(), table.end(), name,
                       [](const Material& m, std::string_view n) { return m.name < n; });
  return at != table.end() && at->name == name ? &*at : nullptr;
}

}  // namespace warmside::climate
