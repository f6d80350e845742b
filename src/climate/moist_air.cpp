#include "climate/moist_air.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace warmside::climate {
namespace {

// The two branches meet at the triple point, so the switch stands there and not at 0 degC.
constexpr double kTriplePoint_k = 273.16;
// Added up as Temperature::celsius does: 173.15 itself lies one bit above -100 degC.
constexpr double kLowest_k = -100 + kIcePoint_k;
constexpr double kHighest_k = 200 + kIcePoint_k;

/// ln(p/Pa) = c1/T + c2 + c3 T + c4 T^2 + c5 T^3 + c6 T^4 + c7 ln T (ASHRAE 2017 ch. 1 eq. 5, 6).
struct Branch {
  double c1, c2, c3, c4, c5, c6, c7;
  double log_pressure(double t) const {
    return c1 / t + c2 + t * (c3 + t * (c4 + t * (c5 + t * c6))) + c7 * std::log(t);
  }
  double log_slope(double t) const {
    return -c1 / (t * t) + c3 + t * (2 * c4 + t * (3 * c5 + t * 4 * c6)) + c7 / t;
  }
};
constexpr Branch kIce{-5.6745359e3, 6.3925247,      -9.6778430e-3, 6.2215701e-7,
                      2.0747825e-9, -9.4840240e-13, 4.1635019};
constexpr Branch kWater{-5.8002206e3,  1.3914993, -4.8640239e-2, 4.1764768e-5,
                        -1.4452093e-8, 0,         6.5459673};

const Branch& branch(double t_k) {
  return t_k < kTriplePoint_k ? kIce : kWater;
}

Problem out_of_range(const char* field, const char* what, const char* expected) {
  return {ProblemCode::out_of_range, what, {"", 0, field}, expected, ""};
}

/// The temperature at which vapour of this pressure saturates. Newton on ln p, whose slope is
/// smooth; the bracket keeps it inside the formula's range.
double dew_point_k(double vapour_pa) {
  const double wanted = std::log(vapour_pa);
  double low = kLowest_k, high = kHighest_k, t = 290;
  for (int i = 0; i < 100; ++i) {
    const double error = branch(t).log_pressure(t) - wanted;
    (error > 0 ? high : low) = t;
    double next = t - error / branch(t).log_slope(t);
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    if (std::fabs(next - t) < 1e-10) return next;
    t = next;
  }
  return t;
}

/// Humidity ratio of air at t whose wet bulb is t_wet (eq. 33 above 0 degC, eq. 35 below).
double ratio_from_wet_bulb(double t_k, double t_wet_k, double pressure_pa) {
  const double saturated = saturation_pressure_pa(t_wet_k);
  const double ws = kMolarMassRatio * saturated / (pressure_pa - saturated);
  const double t = t_k - kIcePoint_k, wet = t_wet_k - kIcePoint_k;
  if (wet >= 0) {
    return ((2501 - 2.326 * wet) * ws - 1.006 * (t - wet)) / (2501 + 1.86 * t - 4.186 * wet);
  }
  return ((2830 - 0.24 * wet) * ws - 1.006 * (t - wet)) / (2830 + 1.86 * t - 2.1 * wet);
}

double wet_bulb_k(double t_k, double dew_k, double ratio, double pressure_pa) {
  double low = std::min(dew_k, t_k), high = t_k;
  while (high - low > 1e-9) {
    const double middle = 0.5 * (low + high);
    (ratio_from_wet_bulb(t_k, middle, pressure_pa) > ratio ? high : low) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

double saturation_pressure_pa(double t_k) {
  return std::exp(branch(t_k).log_pressure(t_k));
}

double saturation_slope_pa_per_k(double t_k) {
  return saturation_pressure_pa(t_k) * branch(t_k).log_slope(t_k);
}

SaturatedVapour saturated_vapour(double t_k) {
  constexpr double kFrom_k = 213.15, kStep_k = 0.25;
  constexpr std::size_t kRows = 800;
  static const std::vector<SaturatedVapour> table = [] {
    std::vector<SaturatedVapour> rows;
    for (std::size_t i = 0; i <= kRows; ++i) {
      const double t = kFrom_k + kStep_k * static_cast<double>(i);
      const double density = saturation_pressure_pa(t) / (kVapourGasConstant * t);
      rows.push_back({density, density * (branch(t).log_slope(t) - 1 / t)});
    }
    return rows;
  }();
  const double place = std::clamp((t_k - kFrom_k) / kStep_k, 0.0, kRows - 1e-9);
  const auto i = static_cast<std::size_t>(place);
  const double u = place - static_cast<double>(i);
  const SaturatedVapour &a = table[i], &b = table[i + 1];
  // Cubic Hermite between the rows.
  const double rise = b.kg_per_m3 - a.kg_per_m3;
  const double c1 = kStep_k * a.kg_per_m3_k, c2 = kStep_k * b.kg_per_m3_k;
  const double p2 = 3 * rise - 2 * c1 - c2, p3 = c1 + c2 - 2 * rise;
  return {a.kg_per_m3 + u * (c1 + u * (p2 + u * p3)), (c1 + u * (2 * p2 + 3 * u * p3)) / kStep_k};
}

double vaporisation_heat_j_per_kg(double t_k) {
  return 2.501e6 - 2361 * (t_k - kIcePoint_k);
}

Result<Pressure> saturation_pressure(Temperature t) {
  if (!(t.kelvin() >= kLowest_k && t.kelvin() <= kHighest_k)) {
    return out_of_range("temperature", "outside what the formula covers", "-100C to 200C");
  }
  return Pressure::pascals(saturation_pressure_pa(t.kelvin()));
}

Result<MoistAir> moist_air(Temperature t, Percentage humidity, Pressure pressure) {
  const auto saturated = saturation_pressure(t);
  if (!saturated) return saturated.problem();
  if (!(humidity.share() > 0 && humidity.share() <= 1)) {
    return out_of_range("humidity", "not a relative humidity", "more than 0% and at most 100%");
  }
  const double p = pressure.pascals();
  const double vapour = humidity.share() * saturated->pascals();
  if (!(p <= 1e6) || !(p > vapour)) {
    return out_of_range("pressure", "not a pressure that holds this vapour",
                        "above the vapour's own and at most 10bar");
  }
  MoistAir air;
  air.saturation_pressure = *saturated;
  air.vapour_pressure = Pressure::pascals(vapour);
  air.humidity_ratio = kMolarMassRatio * vapour / (p - vapour);
  const double t_k = t.kelvin(), t_c = t_k - kIcePoint_k;
  const double dew_k = dew_point_k(vapour);
  air.dew_point = Temperature::kelvin(dew_k);
  air.wet_bulb = Temperature::kelvin(wet_bulb_k(t_k, dew_k, air.humidity_ratio, p));
  air.enthalpy_j_per_kg = 1000 * (1.006 * t_c + air.humidity_ratio * (2501 + 1.86 * t_c));
  air.volume_m3_per_kg = kDryAirGasConstant * t_k * (1 + 1.607858 * air.humidity_ratio) / p;
  air.density_kg_per_m3 = (1 + air.humidity_ratio) / air.volume_m3_per_kg;
  air.vapour_density_kg_per_m3 = vapour / (kVapourGasConstant * t_k);
  return air;
}

Result<Pressure> standard_pressure(Length altitude) {
  const double z = altitude.metres();
  if (!(z >= -5000 && z <= 11000)) {
    return out_of_range("altitude", "outside the standard atmosphere's lowest layer",
                        "-5000m to 11000m");
  }
  return Pressure::pascals(101325 * std::pow(1 - 2.25577e-5 * z, 5.2559));
}

}  // namespace warmside::climate
