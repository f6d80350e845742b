#include "climate/radiation.h"

#include <cmath>
#include <numbers>

namespace warmside::climate {
namespace {

/// One corner's share for parallel rectangles (Howell C-13): dx, dy between corners, z the gap.
double parallel_corner(double dx, double dy, double z) {
  const double a = std::sqrt(dx * dx + z * z), b = std::sqrt(dy * dy + z * z);
  return dy * a * std::atan2(dy, a) + dx * b * std::atan2(dx, b) -
         0.5 * z * z * std::log(dx * dx + dy * dy + z * z);
}

/// One corner's share for rectangles at right angles (Howell C-16): x and xi are the distances of
/// the corners from the line in which the planes meet, d their distance along it.
double corner_corner(double x, double xi, double d) {
  const double s2 = x * x + xi * xi, s = std::sqrt(s2), r2 = s2 + d * d;
  if (r2 <= 0) return 0;
  return d * s * std::atan2(d, s) - 0.25 * (s2 - d * d) * std::log(r2);
}

/// Sum over the four ends of two intervals with the signs of a double difference.
template <class Function>
double over_corners(const double (&a)[2], const double (&b)[2], const double (&c)[2],
                    const double (&d)[2], Function corner) {
  double sum = 0;
  for (int i = 0; i < 16; ++i) {
    const int ia = i & 1, ib = (i >> 1) & 1, ic = (i >> 2) & 1, id = (i >> 3) & 1;
    const double sign = (ia + ib + ic + id) % 2 == 0 ? 1 : -1;
    sum += sign * corner(a[ia], b[ib], c[ic], d[id]);
  }
  return sum;
}

double parallel_view(const Tile& from, const Tile& to) {
  const double z = std::fabs(to.position_m - from.position_m);
  const double x[2] = {from.low_m[0], from.high_m[0]}, y[2] = {from.low_m[1], from.high_m[1]};
  const double xi[2] = {to.low_m[0], to.high_m[0]}, eta[2] = {to.low_m[1], to.high_m[1]};
  const double sum = over_corners(x, y, xi, eta, [&](double px, double py, double pxi, double pe) {
    return parallel_corner(px - pxi, py - pe, z);
  });
  return sum / (2 * std::numbers::pi * from.area_m2());
}

/// Index into low_m/high_m of an axis on a tile.
int slot(const Tile& tile, int axis) {
  int index = 0;
  for (int a = 0; a < axis; ++a) index += a != tile.normal_axis;
  return index;
}

double corner_view(const Tile& from, const Tile& to) {
  const int along = 3 - from.normal_axis - to.normal_axis;  // the axis both share
  // Distances from the line in which the two planes meet.
  const int fs = slot(from, to.normal_axis), ts = slot(to, from.normal_axis);
  const double x[2] = {std::fabs(from.low_m[fs] - to.position_m),
                       std::fabs(from.high_m[fs] - to.position_m)};
  const double xi[2] = {std::fabs(to.low_m[ts] - from.position_m),
                        std::fabs(to.high_m[ts] - from.position_m)};
  const int fa = slot(from, along), ta = slot(to, along);
  const double y[2] = {from.low_m[fa], from.high_m[fa]}, eta[2] = {to.low_m[ta], to.high_m[ta]};
  const double sum = over_corners(x, xi, y, eta, [](double px, double pxi, double py, double pe) {
    return corner_corner(px, pxi, py - pe);
  });
  return std::fabs(sum) / (2 * std::numbers::pi * from.area_m2());
}

}  // namespace

double view_between_parallel(double a_m, double b_m, double gap_m) {
  const Tile below{2, true, 0, {0, 0}, {a_m, b_m}};
  const Tile above{2, false, gap_m, {0, 0}, {a_m, b_m}};
  return view_between(below, above);
}

double view_across_corner(double from_m, double to_m, double edge_m) {
  const Tile floor{2, true, 0, {0, 0}, {from_m, edge_m}};
  const Tile wall{0, true, 0, {0, 0}, {edge_m, to_m}};
  return view_between(floor, wall);
}

double view_between(const Tile& from, const Tile& to) {
  if (from.normal_axis == to.normal_axis) {
    const bool towards = from.faces_positive != to.faces_positive &&
                         (to.position_m > from.position_m) == from.faces_positive &&
                         to.position_m != from.position_m;
    return towards ? parallel_view(from, to) : 0;
  }
  return corner_view(from, to);
}

Eigen::MatrixXd view_matrix(const std::vector<Tile>& tiles) {
  const auto n = static_cast<Eigen::Index>(tiles.size());
  Eigen::MatrixXd views = Eigen::MatrixXd::Zero(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    for (Eigen::Index j = i + 1; j < n; ++j) {
      const Tile& a = tiles[static_cast<std::size_t>(i)];
      const Tile& b = tiles[static_cast<std::size_t>(j)];
      views(i, j) = view_between(a, b);
      views(j, i) = views(i, j) * a.area_m2() / b.area_m2();  // reciprocity
    }
  }
  return views;
}

Eigen::MatrixXd exchange_areas(const Eigen::MatrixXd& views, const Eigen::VectorXd& areas_m2,
                               const Eigen::VectorXd& emissivity) {
  const Eigen::Index n = views.rows();
  const Eigen::VectorXd reflected = Eigen::VectorXd::Ones(n) - emissivity;
  const Eigen::MatrixXd struck = views * emissivity.asDiagonal();
  // The first tiles that see none of each other, as those of one flat floor, are eliminated by
  // hand: what is left to factorise is small however fine the floor is.
  Eigen::Index m = 0;
  while (m < n && views.row(m).head(m + 1).isZero(0)) ++m;
  const Eigen::Index rest = n - m;
  const auto to_rest = views.topRightCorner(m, rest) * reflected.tail(rest).asDiagonal();
  const auto from_rest = views.bottomLeftCorner(rest, m) * reflected.head(m).asDiagonal();
  Eigen::MatrixXd absorbed(n, n);
  const Eigen::MatrixXd system =
      Eigen::MatrixXd::Identity(rest, rest) -
      views.bottomRightCorner(rest, rest) * reflected.tail(rest).asDiagonal() - from_rest * to_rest;
  absorbed.bottomRows(rest) =
      system.partialPivLu().solve(struck.bottomRows(rest) + from_rest * struck.topRows(m));
  absorbed.topRows(m) = struck.topRows(m) + to_rest * absorbed.bottomRows(rest);
  return areas_m2.cwiseProduct(emissivity).asDiagonal() * absorbed;
}

}  // namespace warmside::climate
