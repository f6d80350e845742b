#pragma once
// Long-wave radiation between the surfaces of a box: view factors of rectangles and the exchange
// between gray diffuse surfaces.
//
// Sources: view factors: Howell, A Catalog of Radiation Heat Transfer Configuration Factors, C-11
// and C-14; Incropera table 13.2. Exchange: Gebhart's absorption factors, which give the same as
// the radiosity equations (Incropera 13.3) with one matrix for a geometry. Checked by:
// tests/reference/radiation_test.cpp.

#include <Eigen/Dense>
#include <vector>

namespace warmside::climate {

inline constexpr double kStefanBoltzmann = 5.670374419e-8;  // W/m2K4, CODATA 2018, exact

/// From one rectangle a x b to the same rectangle opposite it at a distance; all in m, above 0.
double view_between_parallel(double a_m, double b_m, double gap_m);

/// From a rectangle of width `from_m` to one of height `to_m` at right angles to it, both along a
/// common edge of length `edge_m`.
double view_across_corner(double from_m, double to_m, double edge_m);

/// An axis-parallel rectangle in space, one side of it seen: the tile of a box's face.
struct Tile {
  int normal_axis = 2;  // 0, 1, 2: perpendicular to x, y or z
  bool faces_positive = true;
  double position_m = 0;     // on the normal axis
  double low_m[2] = {0, 0};  // on the two other axes, in order
  double high_m[2] = {0, 0};
  double area_m2() const { return (high_m[0] - low_m[0]) * (high_m[1] - low_m[1]); }
};

/// From one tile to another, by the closed forms for parallel and perpendicular rectangles in any
/// position (rectangle algebra of the catalogue's C-13 and C-16: the sum over corners of one
/// function). 0 where neither faces the other.
double view_between(const Tile& from, const Tile& to);

/// F(i, j): from tile i to tile j. The tiles must close a convex space; rows then sum to 1.
Eigen::MatrixXd view_matrix(const std::vector<Tile>& tiles);

/// The exchange areas of gray diffuse surfaces, m2: the heat from i to j is
/// sigma * X(i, j) * (T_i^4 - T_j^4). Symmetric. areas: m2, >0; emissivity: 0..1.
/// X = diag(A eps) (I - F diag(1 - eps))^-1 F diag(eps).
Eigen::MatrixXd exchange_areas(const Eigen::MatrixXd& views, const Eigen::VectorXd& areas_m2,
                               const Eigen::VectorXd& emissivity);

}  // namespace warmside::climate
