#pragma once
// What an animal feels: the operative temperature, at which a body of its shape and colour without
// metabolism or evaporation would settle at a place (Gates 1980, Biophysical Ecology, ch. 12;
// Bakken 1992, Am. Zool. 32:194). It weighs air, the radiation from all sides, the beam of lamps
// and what the body lies on by how well each passes heat to it:
//
//     T_e = [(1 - a)(h_c T_air + h_r T_rad) + a h_k T_ground + alpha S / 4] /
//           [(1 - a)(h_c + h_r) + a h_k]
//
// a: share of the skin that touches the ground; S: the beam on a plane facing it, of which a
// rounded body takes a quarter over its whole skin; h_r = 4 eps sigma T^3. Standing for reptiles
// and amphibians in still air; evaporation from a wet skin is left out, so a frog is cooler than
// this. How good the enclosure is for an animal that thermoregulates: d_e, the mean distance of
// these temperatures from the preferred range (Hertz, Huey & Stevenson 1993, Am. Nat. 142:796).
// Checked by: tests/reference/operative_test.cpp.

#include <vector>

#include "climate/enclosure_network.h"
#include "core/quantity.h"

namespace warmside::climate {

/// The body that feels.
struct Body {
  Mass mass = Mass::grams(100);
  bool slender = false;  // a snake or legless lizard: a cylinder 30 times as long as thick
};

/// One state of an enclosure: temperatures of its network's nodes and of the boundaries, K, and the
/// duty of each heater.
struct State {
  std::vector<double> node_k;
  std::vector<double> boundary_k;
  std::vector<double> duty;
};

/// The solid angle of an axis-parallel rectangle from a point, sr; 0 from its own plane.
double solid_angle(const Tile& tile, double x_m, double y_m, double z_m);

class OperativeField {
 public:
  /// Both must outlive the field.
  OperativeField(const EnclosureNetwork& enclosure, const State& state, const Body& body);

  /// On the ground or on what lies there, at a cell of the floor, K.
  double on_floor_k(int cell) const;
  /// On a perch, away from walls, K; z above 0.
  double on_perch_k(double x_m, double y_m, double z_m) const;
  /// Coefficients of this body, W/m2K.
  double air_coefficient() const { return air_w_per_m2_k_; }

 private:
  double end_k(int end) const;
  double surface_fourth(const Surface& surface) const;
  double air_k(double x_m, double z_m) const;
  double felt_k(double x_m, double y_m, double z_m, double contact, double ground_k,
                double radiant_k) const;

  const EnclosureNetwork& enclosure_;
  const State& state_;
  double air_w_per_m2_k_ = 4, radius_m_ = 0.03;
  std::vector<double> fourth_;  // per surface, of what shows of it, K^4
};

/// Share of the temperatures inside a range and their mean distance from it, K, weighed by area.
struct ThermalQuality {
  double inside_share = 0;
  double distance_k = 0;  // d_e
};
ThermalQuality thermal_quality(const std::vector<double>& t_k, const std::vector<double>& weight,
                               const Range<Temperature>& preferred);

/// The floor's cells with their areas, in order.
struct FloorField {
  std::vector<double> t_k, area_m2;
};
FloorField floor_field(const EnclosureNetwork& enclosure, const State& state, const Body& body);

}  // namespace warmside::climate
