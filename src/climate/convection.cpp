#include "climate/convection.h"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace warmside::climate {
namespace {

struct Row {
  double t_k, density, specific_heat, viscosity, conductivity, diffusivity, prandtl;
};
// Lemmon & Jacobsen 2004, Lemmon et al. 2000; dry air at 101325 Pa.
constexpr Row kAir[] = {
    {280, 1.2610, 1006.1, 13.92e-6, 24.88e-3, 19.61e-6, 0.7100},
    {285, 1.2388, 1006.2, 14.37e-6, 25.26e-3, 20.27e-6, 0.7093},
    {290, 1.2174, 1006.3, 14.83e-6, 25.64e-3, 20.93e-6, 0.7086},
    {295, 1.1967, 1006.5, 15.29e-6, 26.01e-3, 21.60e-6, 0.7079},
    {300, 1.1767, 1006.6, 15.75e-6, 26.38e-3, 22.27e-6, 0.7072},
    {305, 1.1574, 1006.8, 16.22e-6, 26.75e-3, 22.96e-6, 0.7066},
    {310, 1.1387, 1007.0, 16.70e-6, 27.12e-3, 23.65e-6, 0.7060},
    {315, 1.1205, 1007.3, 17.18e-6, 27.49e-3, 24.36e-6, 0.7055},
    {320, 1.1030, 1007.5, 17.67e-6, 27.85e-3, 25.06e-6, 0.7049},
    {330, 1.0695, 1008.1, 18.66e-6, 28.58e-3, 26.51e-6, 0.7039},
    {340, 1.0380, 1008.7, 19.67e-6, 29.29e-3, 27.98e-6, 0.7029},
};

/// (c / Pr)^(9/16) as it stands in the forms of Churchill.
double prandtl_term(double c, double prandtl) {
  return 1 + std::pow(c / prandtl, 9.0 / 16.0);
}

double positive(double x) {
  return std::max(x, 0.0);
}

}  // namespace

AirProperties air_properties(double t_k) {
  const auto above = std::lower_bound(std::begin(kAir), std::end(kAir), t_k,
                                      [](const Row& row, double t) { return row.t_k < t; });
  const Row& high = above == std::end(kAir)     ? *std::prev(above)
                    : above == std::begin(kAir) ? *std::next(above)
                                                : *above;
  const Row& low = *std::prev(&high);
  const double t = std::clamp(t_k, 270.0, 350.0);  // the end rows carry on in a straight line
  const double f = (t - low.t_k) / (high.t_k - low.t_k);
  const auto mix = [f](double a, double b) { return a + f * (b - a); };
  return {mix(low.density, high.density),         mix(low.specific_heat, high.specific_heat),
          mix(low.viscosity, high.viscosity),     mix(low.conductivity, high.conductivity),
          mix(low.diffusivity, high.diffusivity), mix(low.prandtl, high.prandtl)};
}

double rayleigh(double t_surface_k, double t_air_k, double length_m) {
  const double film = 0.5 * (t_surface_k + t_air_k);
  const AirProperties air = air_properties(film);
  return kGravity / film * std::fabs(t_surface_k - t_air_k) * length_m * length_m * length_m /
         (air.viscosity_m2_per_s * air.diffusivity_m2_per_s);
}

double nusselt_vertical(double ra, double prandtl) {
  const double root =
      0.825 + 0.387 * std::pow(ra, 1.0 / 6.0) / std::pow(prandtl_term(0.492, prandtl), 8.0 / 27.0);
  return root * root;
}

double nusselt_vertical_laminar(double ra, double prandtl) {
  return 0.68 + 0.670 * std::pow(ra, 0.25) / std::pow(prandtl_term(0.492, prandtl), 4.0 / 9.0);
}

double nusselt_plate_unstable(double ra) {
  return ra <= 1e7 ? 0.54 * std::pow(ra, 0.25) : 0.15 * std::cbrt(ra);
}

double nusselt_plate_stable(double ra) {
  return 0.27 * std::pow(ra, 0.25);
}

double nusselt_cylinder(double ra, double prandtl) {
  const double root =
      0.60 + 0.387 * std::pow(ra, 1.0 / 6.0) / std::pow(prandtl_term(0.559, prandtl), 8.0 / 27.0);
  return root * root;
}

double nusselt_sphere(double ra, double prandtl) {
  return 2 + 0.589 * std::pow(ra, 0.25) / std::pow(prandtl_term(0.469, prandtl), 4.0 / 9.0);
}

double nusselt_layer_from_below(double ra) {
  if (ra <= 0) return 1;
  return 1 + 1.44 * positive(1 - 1708 / ra) + positive(std::cbrt(ra / 5830) - 1);
}

double nusselt_tall_cavity(double ra, double prandtl, double aspect) {
  return 0.42 * std::pow(ra, 0.25) * std::pow(prandtl, 0.012) * std::pow(aspect, -0.3);
}

double surface_factor(Facing facing, bool surface_warmer, double height_m) {
  constexpr double kMean_k = 300, kMet_k = 3;
  const AirProperties air = air_properties(kMean_k);
  if (facing == Facing::vertical) {
    const double ra = rayleigh(kMean_k + kMet_k / 2, kMean_k - kMet_k / 2, height_m);
    return nusselt_vertical(ra, air.prandtl) * air.conductivity_w_per_m_k / height_m /
           std::cbrt(kMet_k);
  }
  const bool unstable = (facing == Facing::up) == surface_warmer;
  if (!unstable) return 0.76;
  // Two equal films in series carry what the layer does.
  constexpr double kAcross_k = 5;
  const double ra = rayleigh(kMean_k + kAcross_k / 2, kMean_k - kAcross_k / 2, height_m);
  return 2 * nusselt_layer_from_below(ra) * air.conductivity_w_per_m_k / height_m /
         std::cbrt(kAcross_k / 2);
}

}  // namespace warmside::climate
