#pragma once
// Moist air: what temperature, humidity and pressure say about vapour, dew point, wet bulb and
// heat content. For dew on glass, misting, evaporation, and `warmside calc air`.
//
// Ideal mixture of dry air and water vapour without the enhancement factor, which would change the
// humidity ratio by about 0.5 %, far inside a hygrometer's error.
// Source of all equations: ASHRAE Handbook - Fundamentals 2017, ch. 1, after Hyland & Wexler 1983,
// with the equation numbers given below.
// Checked by: tests/reference/moist_air_test.cpp (tables 2 and 3 of the same chapter).

#include "core/quantity.h"
#include "core/result.h"

namespace warmside::climate {

inline constexpr double kDryAirGasConstant = 287.042;  // J/(kg K), ASHRAE 2017 ch. 1 eq. 1
inline constexpr double kVapourGasConstant = 461.524;  // J/(kg K), eq. 2: 8314.472 / 18.015268
inline constexpr double kMolarMassRatio = 0.621945;    // vapour to dry air, eq. 20
inline constexpr double kIcePoint_k = Temperature::kIcePoint_k;

/// Vapour pressure of saturated air over ice (below 0.01 degC) or water (eq. 5 and 6).
/// t: -100..200 degC, else out_of_range. The formula's own error is under 300 ppm.
Result<Pressure> saturation_pressure(Temperature t);

/// The same for solvers: kelvin in, pascal out, no check. Use it inside -100..200 degC only.
double saturation_pressure_pa(double t_k);
/// Its slope, Pa/K.
double saturation_slope_pa_per_k(double t_k);

/// Vapour in a cubic metre of saturated air and its slope with temperature, for solvers: read from
/// a table of the formula between -60 and 140 degC (the nearest end beyond it), within 1e-7 of it.
struct SaturatedVapour {
  double kg_per_m3 = 0;
  double kg_per_m3_k = 0;
};
SaturatedVapour saturated_vapour(double t_k);

/// Everything about one state of moist air.
struct MoistAir {
  Pressure saturation_pressure;
  Pressure vapour_pressure;
  double humidity_ratio = 0;     // kg vapour per kg dry air (eq. 20)
  Temperature dew_point;         // by inverting the saturation pressure
  Temperature wet_bulb;          // thermodynamic, eq. 33 and 35
  double enthalpy_j_per_kg = 0;  // per kg dry air, zero at 0 degC (eq. 30)
  double volume_m3_per_kg = 0;   // per kg dry air (eq. 26)
  double density_kg_per_m3 = 0;  // of the mixture (eq. 11)
  double vapour_density_kg_per_m3 = 0;
};

/// t: -100..200 degC; humidity: more than 0 and at most 100 %; pressure: above the vapour's, up to
/// 10 bar. Else out_of_range with the field's name.
Result<MoistAir> moist_air(Temperature t, Percentage humidity,
                           Pressure pressure = Pressure::pascals(101325));

/// Pressure of the standard atmosphere at an altitude, -5000..11000 m (eq. 3); else out_of_range.
Result<Pressure> standard_pressure(Length altitude);

/// Heat of vaporisation of water, J/kg: 2501 - 2.361 t kJ/kg, t in degC, 0..60 degC.
/// Source: standard linear fit to steam tables; from memory, within 0.1 % there.
double vaporisation_heat_j_per_kg(double t_k);

}  // namespace warmside::climate
