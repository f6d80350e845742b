#include "climate/beam.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace warmside::climate {

double Beam::facing_w_per_m2(double x_m, double y_m, double z_m) const {
  double sum = 0;
  for (const auto& from : from_m) {
    const double dx = x_m - from[0], dy = y_m - from[1], dz = z_m - from[2];
    const double r2 = std::max(dx * dx + dy * dy + dz * dz, 1e-8);
    const double down = -dz / std::sqrt(r2);
    if (down > 0) sum += std::pow(down, exponent) / std::max(r2, nearest_m * nearest_m);
  }
  return power_w * (exponent + 1) / (2 * std::numbers::pi) * sum /
         static_cast<double>(from_m.size());
}

double lobe_exponent(double half_angle) {
  return std::max(std::log(0.5) / std::log(std::cos(half_angle)) - 1, 0.0);
}

double lobe_on_tile(const Tile& tile, double x_m, double y_m, double z_m, double exponent) {
  const double span0 = tile.high_m[0] - tile.low_m[0], span1 = tile.high_m[1] - tile.low_m[1];
  const int n0 = std::clamp(static_cast<int>(std::lround(span0 / 0.01 - 1e-6)), 2, 24);
  const int n1 = std::clamp(static_cast<int>(std::lround(span1 / 0.01 - 1e-6)), 2, 24);
  double sum = 0;
  for (int i = 0; i < n0; ++i) {
    for (int j = 0; j < n1; ++j) {
      const double u = tile.low_m[0] + span0 * (i + 0.5) / n0;
      const double v = tile.low_m[1] + span1 * (j + 0.5) / n1;
      double p[3];
      p[tile.normal_axis] = tile.position_m;
      p[tile.normal_axis == 0 ? 1 : 0] = u;
      p[tile.normal_axis == 2 ? 1 : 2] = v;
      const double towards[3] = {p[0] - x_m, p[1] - y_m, p[2] - z_m};
      const double r2 = std::max(
          towards[0] * towards[0] + towards[1] * towards[1] + towards[2] * towards[2], 1e-4);
      const double r = std::sqrt(r2), down = -towards[2] / r;
      const double facing = -towards[tile.normal_axis] / r * (tile.faces_positive ? 1 : -1);
      if (down > 0 && facing > 0) sum += std::pow(down, exponent) * facing / r2;
    }
  }
  return sum * span0 * span1 / (n0 * n1);
}

}  // namespace warmside::climate
