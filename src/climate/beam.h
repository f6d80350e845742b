#pragma once
// What a lamp, emitter or panel throws down: a lobe cos^exponent of the angle from straight down.
//
// A smooth lobe stands for any reflector; rings and hot spots are not modelled.
// Checked by: tests/reference/operative_test.cpp.

#include <array>
#include <vector>

#include "climate/radiation.h"

namespace warmside::climate {

/// Radiation that a heater throws down into the box, from places in it.
struct Beam {
  int heater = 0;
  std::vector<std::array<double, 3>> from_m;  // x, y, z; an equal share from each
  double exponent = 1;
  double power_w = 0;  // that comes into the box at a duty of 1
  /// Nearer than this a row of places would show as single lamps; the beam is taken from this far.
  double nearest_m = 0.01;
  bool visible = false;  // light, of which skin takes less than of heat rays
  /// W/m2 at a point on a plane that faces the beam, at a duty of 1.
  double facing_w_per_m2(double x_m, double y_m, double z_m) const;
};

/// The exponent of a lobe that throws half of its radiation within an angle of straight down, rad,
/// below pi/2: the share within a is 1 - cos(a)^(exponent + 1). At least 0, an even half space.
double lobe_exponent(double half_angle);

/// Integral over a tile of cos^exponent(down) cos(tile) / r^2 seen from a point, by points of the
/// tile 1 to 4 cm apart.
double lobe_on_tile(const Tile& tile, double x_m, double y_m, double z_m, double exponent);

}  // namespace warmside::climate
