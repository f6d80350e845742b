#include "climate/operative.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "climate/convection.h"
#include "core/check.h"

namespace warmside::climate {
namespace {

// Long-wave emissivity of skin, Tracy 1982 and Gates 1980, from memory; what it takes of light, a
// middle of the 0.7 to 0.9 that Gates gives for reptiles, from memory.
constexpr double kSkin = 0.96, kLightTaken = 0.8;
/// Skin on the ground and on a perch, and how well it passes heat to it. Common practice, no
/// source.
constexpr double kFloorContact = 0.3, kPerchContact = 0.1, kContact_w_per_m2_k = 30;
/// Body density, and length over thickness of a slender body. Common practice, no source.
constexpr double kDensity_kg_per_m3 = 1000, kSlender = 30;
/// Difference between body and air for the natural convection about it.
constexpr double kMet_k = 2;

}  // namespace

double solid_angle(const Tile& tile, double x_m, double y_m, double z_m) {
  const double p[3] = {x_m, y_m, z_m};
  const double d = std::fabs(p[tile.normal_axis] - tile.position_m);
  if (d < 1e-9) return 0;
  const int first = tile.normal_axis == 0 ? 1 : 0, second = tile.normal_axis == 2 ? 1 : 2;
  const auto corner = [&](double u, double v) {
    return std::atan(u * v / (d * std::sqrt(u * u + v * v + d * d)));
  };
  const double u[2] = {tile.low_m[0] - p[first], tile.high_m[0] - p[first]};
  const double v[2] = {tile.low_m[1] - p[second], tile.high_m[1] - p[second]};
  return corner(u[1], v[1]) - corner(u[0], v[1]) - corner(u[1], v[0]) + corner(u[0], v[0]);
}

OperativeField::OperativeField(const EnclosureNetwork& enclosure, const State& state,
                               const Body& body)
    : enclosure_(enclosure), state_(state) {
  const double volume = body.mass.kilograms() / kDensity_kg_per_m3;
  const double pi = std::numbers::pi;
  const double thick =
      body.slender ? std::cbrt(4 * volume / (pi * kSlender)) : std::cbrt(6 * volume / pi);
  radius_m_ = thick / 2;
  const AirProperties air = air_properties(300);
  const double ra = rayleigh(300 + kMet_k / 2, 300 - kMet_k / 2, thick);
  const double nusselt =
      body.slender ? nusselt_cylinder(ra, air.prandtl) : nusselt_sphere(ra, air.prandtl);
  air_w_per_m2_k_ = nusselt * air.conductivity_w_per_m_k / thick;
  for (const Surface& surface : enclosure.surfaces) fourth_.push_back(surface_fourth(surface));
}

double OperativeField::end_k(int end) const {
  const int n = enclosure_.network.node_count();
  if (end < 0) end = enclosure_.room;  // through a mesh
  return end < n ? state_.node_k[static_cast<std::size_t>(end)]
                 : state_.boundary_k[static_cast<std::size_t>(end - n)];
}

double OperativeField::surface_fourth(const Surface& surface) const {
  double sum = 0;
  for (const Part& part : surface.parts) sum += part.share * std::pow(end_k(part.node), 4);
  return sum;
}

double OperativeField::air_k(double x_m, double z_m) const {
  const AirZone* nearest = nullptr;
  for (const AirZone& zone : enclosure_.air) {
    nearest = &zone;
    if (x_m <= zone.x_high_m && z_m <= zone.z_high_m) break;
  }
  WS_CHECK(nearest != nullptr);
  return end_k(nearest->node);
}

double OperativeField::felt_k(double x_m, double y_m, double z_m, double contact, double ground_k,
                              double radiant_k) const {
  const double air = air_k(x_m, z_m);
  const double radiative = 4 * kSkin * kStefanBoltzmann * std::pow(0.5 * (radiant_k + air), 3);
  double beam = 0;
  for (const Beam& one : enclosure_.beams) {
    beam += one.facing_w_per_m2(x_m, y_m, z_m) * (one.visible ? kLightTaken : kSkin) *
            state_.duty[static_cast<std::size_t>(one.heater)];
  }
  const double open = 1 - contact;
  return (open * (air_w_per_m2_k_ * air + radiative * radiant_k) +
          contact * kContact_w_per_m2_k * ground_k + beam / 4) /
         (open * (air_w_per_m2_k_ + radiative) + contact * kContact_w_per_m2_k);
}

double OperativeField::on_floor_k(int cell) const {
  const Surface& here = enclosure_.surfaces[static_cast<std::size_t>(cell)];
  const double x = 0.5 * (here.tile.low_m[0] + here.tile.high_m[0]);
  const double y = 0.5 * (here.tile.low_m[1] + here.tile.high_m[1]);
  const double ground = end_k(here.main_node());
  // From so near the ground fills what the walls and lid leave of the sphere, and most of that is
  // the cell itself.
  double seen = 0, sum = 0;
  for (std::size_t s = static_cast<std::size_t>(enclosure_.floor_count); s < fourth_.size(); ++s) {
    const double angle = solid_angle(enclosure_.surfaces[s].tile, x, y, radius_m_);
    seen += angle;
    sum += angle * fourth_[s];
  }
  const double whole = 4 * std::numbers::pi;
  sum += (whole - seen) * std::pow(ground, 4);
  return felt_k(x, y, radius_m_, kFloorContact, ground, std::pow(sum / whole, 0.25));
}

double OperativeField::on_perch_k(double x_m, double y_m, double z_m) const {
  double seen = 0, sum = 0;
  for (std::size_t s = 0; s < fourth_.size(); ++s) {
    const double angle = solid_angle(enclosure_.surfaces[s].tile, x_m, y_m, z_m);
    seen += angle;
    sum += angle * fourth_[s];
  }
  const double radiant = std::pow(sum / seen, 0.25);
  // A perch is at the temperature of the air and radiation about it.
  return felt_k(x_m, y_m, z_m, kPerchContact, 0.5 * (radiant + air_k(x_m, z_m)), radiant);
}

ThermalQuality thermal_quality(const std::vector<double>& t_k, const std::vector<double>& weight,
                               const Range<Temperature>& preferred) {
  ThermalQuality quality;
  const double low = preferred.low.kelvin(), high = preferred.high.kelvin();
  double whole = 0;
  for (std::size_t i = 0; i < t_k.size(); ++i) {
    const double distance = std::max({low - t_k[i], t_k[i] - high, 0.0});
    quality.distance_k += weight[i] * distance;
    if (distance == 0) quality.inside_share += weight[i];
    whole += weight[i];
  }
  if (whole > 0) {
    quality.distance_k /= whole;
    quality.inside_share /= whole;
  }
  return quality;
}

FloorField floor_field(const EnclosureNetwork& enclosure, const State& state, const Body& body) {
  const OperativeField field(enclosure, state, body);
  FloorField out;
  for (int cell = 0; cell < enclosure.floor_count; ++cell) {
    out.t_k.push_back(field.on_floor_k(cell));
    out.area_m2.push_back(enclosure.surfaces[static_cast<std::size_t>(cell)].tile.area_m2());
  }
  return out;
}

}  // namespace warmside::climate
