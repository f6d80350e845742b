#pragma once
// Natural convection: heat between a surface and still air, by published correlations. Air
// properties for them. Lengths that enter are said with each; all take and give plain SI numbers,
// since they are called in the inner loops of the solver and checked against worked examples.
//
// Ra = g beta |dT| L^3 / (nu alpha), properties at the film temperature, beta = 1/T_film.

#include <span>

namespace warmside::climate {

inline constexpr double kGravity = 9.80665;  // m/s2, standard (BIPM)

/// Dry air at 101325 Pa.
struct AirProperties {
  double density_kg_per_m3;
  double specific_heat_j_per_kg_k;
  double viscosity_m2_per_s;  // kinematic
  double conductivity_w_per_m_k;
  double diffusivity_m2_per_s;  // thermal
  double prandtl;
};

/// t_k: 270..350 K, else the nearest end. Linear between rows of a table computed from Lemmon &
/// Jacobsen 2004 (Int. J. Thermophys. 25:21; transport) and Lemmon et al. 2000 (heat capacity):
/// within 0.1 % of them between the rows.
AirProperties air_properties(double t_k);

/// Rayleigh number of a surface at t_surface_k in air at t_air_k over a length, m.
double rayleigh(double t_surface_k, double t_air_k, double length_m);

/// Nusselt numbers of plates, cylinders and layers; ra >= 0.
/// Vertical plate, all ra, over its height: Churchill & Chu 1975 (Int. J. Heat Mass Transfer
/// 18:1323); Incropera eq. 9.26.
double nusselt_vertical(double ra, double prandtl);
/// Vertical plate, laminar (ra <= 1e9): same paper; Incropera eq. 9.27.
double nusselt_vertical_laminar(double ra, double prandtl);
/// Horizontal plate, hot face up or cold face down, over area/perimeter: McAdams 1954; Incropera
/// eq. 9.30 (0.54 ra^1/4 to 1e7) and 9.31 (0.15 ra^1/3 above).
double nusselt_plate_unstable(double ra);
/// Horizontal plate, hot face down or cold face up, over area/perimeter: McAdams 1954; Incropera
/// 6th ed. eq. 9.32 (0.27 ra^1/4).
double nusselt_plate_stable(double ra);
/// Horizontal cylinder over its diameter, ra <= 1e12: Churchill & Chu 1975.
double nusselt_cylinder(double ra, double prandtl);
/// Sphere over its diameter, ra <= 1e11: Churchill 1983; Incropera eq. 9.35.
double nusselt_sphere(double ra, double prandtl);
/// Air layer heated from below over its depth, ra < 1e8: Hollands, Raithby & Konicek 1975.
double nusselt_layer_from_below(double ra);
/// Vertical cavity of aspect 10..40 over its gap, ra 1e4..1e7: MacGregor & Emery 1969.
double nusselt_tall_cavity(double ra, double prandtl, double aspect);

/// How a surface lies, for the room-surface coefficients below.
enum class Facing { vertical, up, down };

/// Coefficient between an inner surface of a box and its air: h = k |dT|^(1/3), W/m2K; k from:
/// vertical: Churchill & Chu 1975 over the wall's height, met at 3 K in air of 300 K (within 7 % of
///   it from 1 to 10 K on 0.2 to 1 m);
/// horizontal, unstable (warm floor, cool lid): Hollands, Raithby & Konicek 1975 for a layer of the
///   box's height heated from below, shared by two equal films, met at 5 K across;
/// horizontal, stable (cool floor, warm lid): 0.76, Walton 1983 (TARP) after ASHRAE.
/// A surface that faces up is unstable when warmer than the air, one that faces down when colder.
/// For whole rooms Walton gives 1.31 (vertical) and 1.52 (unstable), 10 to 25 % less.
/// height_m: of the box, > 0.
double surface_factor(Facing facing, bool surface_warmer, double height_m);

}  // namespace warmside::climate
