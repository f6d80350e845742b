// View factors and gray exchange: computed check numbers, a double integral that shares nothing
// with the closed forms, and the identities that hold for any closed box.

#include "climate/radiation.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

namespace warmside::climate {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

/// The view factor by the definition, F = 1/A1 int int cos cos / (pi r^2), midpoint rule.
double view_by_integral(const Tile& from, const Tile& to, int steps) {
  struct Point {
    double x[3];
  };
  const auto point = [](const Tile& tile, double u, double v) {
    Point p{};
    const double flat[2] = {tile.low_m[0] + u * (tile.high_m[0] - tile.low_m[0]),
                            tile.low_m[1] + v * (tile.high_m[1] - tile.low_m[1])};
    int next = 0;
    for (int axis = 0; axis < 3; ++axis) {
      p.x[axis] = axis == tile.normal_axis ? tile.position_m : flat[next++];
    }
    return p;
  };
  double sum = 0;
  for (int i = 0; i < steps * steps; ++i) {
    const Point a = point(from, (i % steps + 0.5) / steps, (i / steps + 0.5) / steps);
    for (int j = 0; j < steps * steps; ++j) {
      const Point b = point(to, (j % steps + 0.5) / steps, (j / steps + 0.5) / steps);
      double r2 = 0;
      for (int axis = 0; axis < 3; ++axis) r2 += (b.x[axis] - a.x[axis]) * (b.x[axis] - a.x[axis]);
      const double towards = b.x[from.normal_axis] - a.x[from.normal_axis];
      const double back = a.x[to.normal_axis] - b.x[to.normal_axis];
      const double cos_a = from.faces_positive ? towards : -towards;
      const double cos_b = to.faces_positive ? back : -back;
      if (cos_a > 0 && cos_b > 0) sum += cos_a * cos_b / (std::numbers::pi * r2 * r2);
    }
  }
  return sum * to.area_m2() / std::pow(steps, 4);
}

/// The midpoint rule's error falls with the square of the step: two runs give a better value.
/// Across a common edge the integrand is singular, and the error falls with the step itself.
double view_by_integrals(const Tile& from, const Tile& to, bool touching) {
  const double coarse = view_by_integral(from, to, 16), fine = view_by_integral(from, to, 32);
  return touching ? 2 * fine - coarse : (4 * fine - coarse) / 3;
}

/// The six faces of a box, looking inwards: floor, lid, front, back, left, right.
std::vector<Tile> box(double x, double y, double z) {
  return {{2, true, 0, {0, 0}, {x, y}}, {2, false, z, {0, 0}, {x, y}},
          {1, true, 0, {0, 0}, {x, z}}, {1, false, y, {0, 0}, {x, z}},
          {0, true, 0, {0, 0}, {y, z}}, {0, false, x, {0, 0}, {y, z}}};
}

/// Splits each face at random lines.
std::vector<Tile> random_tiles(const std::vector<Tile>& faces, std::mt19937& random) {
  std::uniform_real_distribution<double> cut(0.1, 0.9);
  std::uniform_int_distribution<int> cuts(0, 2);
  std::vector<Tile> tiles;
  for (const Tile& face : faces) {
    std::vector<double> lines[2];
    for (int d = 0; d < 2; ++d) {
      lines[d] = {face.low_m[d], face.high_m[d]};
      for (int i = cuts(random); i > 0; --i) {
        lines[d].push_back(face.low_m[d] + cut(random) * (face.high_m[d] - face.low_m[d]));
      }
      std::sort(lines[d].begin(), lines[d].end());
    }
    for (std::size_t i = 0; i + 1 < lines[0].size(); ++i) {
      for (std::size_t j = 0; j + 1 < lines[1].size(); ++j) {
        Tile tile = face;
        tile.low_m[0] = lines[0][i];
        tile.high_m[0] = lines[0][i + 1];
        tile.low_m[1] = lines[1][j];
        tile.high_m[1] = lines[1][j + 1];
        tiles.push_back(tile);
      }
    }
  }
  return tiles;
}

VectorXd areas_of(const std::vector<Tile>& tiles) {
  VectorXd areas(static_cast<Eigen::Index>(tiles.size()));
  for (std::size_t i = 0; i < tiles.size(); ++i)
    areas[static_cast<Eigen::Index>(i)] = tiles[i].area_m2();
  return areas;
}

// Check numbers to six digits: closed forms (Howell C-11, C-14; Incropera table 13.2) and a
// numerical double integral in a script of its own agreed.
TEST(RadiationReference, ViewFactorsOfTheCatalogue) {
  EXPECT_NEAR(view_between_parallel(1, 1, 1), 0.199825, 6e-7);
  EXPECT_NEAR(view_across_corner(1, 1, 1), 0.200044, 6e-7);
  EXPECT_NEAR(view_between_parallel(0.9, 0.45, 0.45), 0.285875, 6e-7);
  EXPECT_NEAR(view_across_corner(0.45, 0.45, 0.9), 0.240636, 6e-7);
  EXPECT_NEAR(view_across_corner(0.9, 0.45, 0.45), 0.116426, 6e-7);
  EXPECT_NEAR(view_between_parallel(0.6, 0.45, 0.45), 0.237399, 6e-7);
  EXPECT_NEAR(view_across_corner(0.6, 0.45, 0.45), 0.162579, 6e-7);
  EXPECT_NEAR(view_between_parallel(2, 2, 1), 0.415253, 6e-7);
  EXPECT_NEAR(view_between_parallel(1, 1, 5), 0.012404, 6e-7);
}

/// Howell C-11, written out anew.
double parallel_closed_form(double a, double b, double c) {
  const double x = a / c, y = b / c, px = std::sqrt(1 + x * x), py = std::sqrt(1 + y * y);
  return 2 / (std::numbers::pi * x * y) *
         (std::log(px * py / std::sqrt(1 + x * x + y * y)) + x * py * std::atan(x / py) +
          y * px * std::atan(y / px) - x * std::atan(x) - y * std::atan(y));
}

/// Howell C-14, written out anew.
double corner_closed_form(double width, double height, double edge) {
  const double w = width / edge, h = height / edge, w2 = w * w, h2 = h * h, s2 = w2 + h2;
  const double a = (1 + w2) * (1 + h2) / (1 + s2), b = w2 * (1 + s2) / ((1 + w2) * s2),
               c = h2 * (1 + s2) / ((1 + h2) * s2);
  return 1 / (std::numbers::pi * w) *
         (w * std::atan(1 / w) + h * std::atan(1 / h) -
          std::sqrt(s2) * std::atan(1 / std::sqrt(s2)) +
          0.25 * (std::log(a) + w2 * std::log(b) + h2 * std::log(c)));
}

TEST(RadiationReference, CornerSumsEqualTheClosedForms) {
  std::mt19937 random(20261125);
  std::uniform_real_distribution<double> size(0.1, 2);
  for (int i = 0; i < 200; ++i) {
    const double a = size(random), b = size(random), c = size(random);
    EXPECT_NEAR(view_between_parallel(a, b, c), parallel_closed_form(a, b, c), 1e-11);
    EXPECT_NEAR(view_across_corner(a, b, c), corner_closed_form(a, b, c), 1e-11);
  }
}

// The definition, by quadrature. 2e-5: what two midpoint runs leave for tiles apart by at least a
// third of their size; 1e-3 with the singular common edge.
TEST(RadiationReference, ViewFactorsEqualADoubleIntegral) {
  const Tile floor{2, true, 0, {0, 0}, {0.9, 0.45}};
  EXPECT_NEAR(view_between(floor, {2, false, 0.45, {0, 0}, {0.9, 0.45}}),
              view_by_integrals(floor, {2, false, 0.45, {0, 0}, {0.9, 0.45}}, false), 2e-5);
  // Out of line, of other sizes, on the front and on the right.
  const Tile lamp{2, false, 0.40, {0.5, 0.1}, {0.8, 0.2}};
  const Tile pane{1, true, 0, {0.1, 0.2}, {0.3, 0.4}};
  const Tile end{0, false, 0.9, {0.2, 0.1}, {0.45, 0.5}};
  const Tile warm{2, true, 0, {0.3, 0.25}, {0.5, 0.4}};
  for (const Tile& to : {lamp, pane, end}) {
    EXPECT_NEAR(view_between(warm, to), view_by_integrals(warm, to, false), 2e-5);
    EXPECT_NEAR(view_between(to, warm), view_by_integrals(to, warm, false), 2e-5);
  }
  EXPECT_NEAR(view_between(pane, end), view_by_integrals(pane, end, false), 2e-5);
  const Tile whole_pane{1, true, 0, {0, 0}, {0.9, 0.45}};
  EXPECT_NEAR(view_between(floor, whole_pane), view_by_integrals(floor, whole_pane, true), 1e-3);
}

TEST(RadiationReference, TilesThatTurnTheirBacksSeeNothing) {
  const Tile floor{2, true, 0, {0, 0}, {1, 1}};
  EXPECT_EQ(view_between(floor, {2, true, 1, {0, 0}, {1, 1}}), 0);
  EXPECT_EQ(view_between(floor, {2, false, -1, {0, 0}, {1, 1}}), 0);
  EXPECT_EQ(view_between(floor, {2, false, 0, {2, 0}, {3, 1}}), 0);
}

// A small element under a disc sees R^2 / (R^2 + d^2); a polygon of many small squares stands for
// the disc of 0.1 m at 0.3 m: 0.1000.
TEST(RadiationReference, DiscAboveASmallElement) {
  const Tile element{2, true, 0, {-1e-4, -1e-4}, {1e-4, 1e-4}};
  const int n = 80;
  double sum = 0;
  for (int i = 0; i < n * n; ++i) {
    const double size = 0.2 / n;
    const double x = -0.1 + (i % n) * size, y = -0.1 + (i / n) * size;
    if (std::hypot(x + size / 2, y + size / 2) < 0.1) {
      sum += view_between(element, {2, false, 0.3, {x, y}, {x + size, y + size}});
    }
  }
  EXPECT_NEAR(sum, 0.1, 5e-4);
}

TEST(RadiationReference, BoxesInRandomTilesCloseAndReciprocate) {
  const unsigned seed = 20261125;
  SCOPED_TRACE(seed);
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> size(0.2, 1.5);
  for (int i = 0; i < 25; ++i) {
    const double x = size(random), y = size(random), z = size(random);
    const auto tiles = random_tiles(box(x, y, z), random);
    const MatrixXd views = view_matrix(tiles);
    const VectorXd areas = areas_of(tiles);
    EXPECT_GE(views.minCoeff(), 0);
    for (Eigen::Index r = 0; r < views.rows(); ++r) {
      EXPECT_NEAR(views.row(r).sum(), 1, 1e-9) << "tile " << r << " of box " << i;
      for (Eigen::Index c = 0; c < views.cols(); ++c) {
        EXPECT_NEAR(areas[r] * views(r, c), areas[c] * views(c, r), 1e-14);
        // Not by the matrix's own division but by the other direction's closed form.
        EXPECT_NEAR(
            views(r, c),
            view_between(tiles[static_cast<std::size_t>(r)], tiles[static_cast<std::size_t>(c)]),
            1e-10);
      }
    }
  }
}

// --- Exchange ---

/// Heat from each surface, W, from exchange areas.
VectorXd heat_from(const MatrixXd& exchange, const VectorXd& t_k) {
  VectorXd q = VectorXd::Zero(t_k.size());
  for (Eigen::Index i = 0; i < t_k.size(); ++i) {
    for (Eigen::Index j = 0; j < t_k.size(); ++j) {
      q[i] += kStefanBoltzmann * exchange(i, j) * (std::pow(t_k[i], 4) - std::pow(t_k[j], 4));
    }
  }
  return q;
}

/// The radiosity equations (Incropera 13.3): J = eps sigma T^4 + (1 - eps) F J.
VectorXd heat_by_radiosity(const MatrixXd& views, const VectorXd& areas, const VectorXd& emissivity,
                           const VectorXd& t_k) {
  const Eigen::Index n = t_k.size();
  const VectorXd emitted = kStefanBoltzmann * t_k.array().pow(4);
  const VectorXd reflected = VectorXd::Ones(n) - emissivity;
  const MatrixXd system = MatrixXd::Identity(n, n) - reflected.asDiagonal() * views;
  const VectorXd leaving = system.partialPivLu().solve(emissivity.cwiseProduct(emitted));
  return areas.cwiseProduct(leaving - views * leaving);
}

struct Shown {
  MatrixXd views;
  VectorXd areas, emissivity, t_k;
};
Shown shown_box() {
  const auto faces = box(0.9, 0.45, 0.45);
  Shown shown{view_matrix(faces), areas_of(faces), VectorXd(6), VectorXd(6)};
  shown.emissivity << 0.93, 0.90, 0.84, 0.84, 0.84, 0.84;
  shown.t_k << 35, 24, 23, 24, 24, 24;
  shown.t_k.array() += 273.15;
  return shown;
}

// Heat flows of a box, computed elsewhere by radiosity and by absorption factors; to 1e-5 W as
// shown.
TEST(RadiationReference, SixHeatFlowsOfABox) {
  const Shown shown = shown_box();
  const VectorXd q =
      heat_from(exchange_areas(shown.views, shown.areas, shown.emissivity), shown.t_k);
  const double want[] = {25.60328, -6.95640, -7.89173, -5.41479, -2.67018, -2.67018};
  for (int i = 0; i < 6; ++i) EXPECT_NEAR(q[i], want[i], 6e-6) << i;
  EXPECT_NEAR(q.sum(), 0, 1e-11);
}

TEST(RadiationReference, ExchangeEqualsRadiosityAndIsSymmetric) {
  std::mt19937 random(20261125);
  std::uniform_real_distribution<double> size(0.2, 1.5), gray(0.05, 1), warm(280, 330);
  for (int i = 0; i < 20; ++i) {
    const auto tiles = random_tiles(box(size(random), size(random), size(random)), random);
    const VectorXd areas = areas_of(tiles);
    const MatrixXd views = view_matrix(tiles);
    VectorXd emissivity(areas.size()), t_k(areas.size());
    for (Eigen::Index k = 0; k < areas.size(); ++k) {
      emissivity[k] = gray(random);
      t_k[k] = warm(random);
    }
    const MatrixXd exchange = exchange_areas(views, areas, emissivity);
    EXPECT_LT((exchange - exchange.transpose()).cwiseAbs().maxCoeff(), 1e-12);
    EXPECT_GE(exchange.minCoeff(), 0);
    // All that a surface emits is absorbed somewhere.
    EXPECT_LT((exchange.rowwise().sum() - areas.cwiseProduct(emissivity)).cwiseAbs().maxCoeff(),
              1e-9);
    const VectorXd q = heat_from(exchange, t_k);
    EXPECT_LT((q - heat_by_radiosity(views, areas, emissivity, t_k)).cwiseAbs().maxCoeff(), 1e-7);
    EXPECT_NEAR(q.sum(), 0, 1e-9);
  }
}

TEST(RadiationReference, BlackSurfacesExchangeByViewAlone) {
  const Shown shown = shown_box();
  const MatrixXd exchange = exchange_areas(shown.views, shown.areas, VectorXd::Ones(6));
  const MatrixXd by_view = shown.areas.asDiagonal() * shown.views;
  EXPECT_LT((exchange - by_view).cwiseAbs().maxCoeff(), 1e-15);
  // A surface that emits nothing takes no part.
  VectorXd emissivity = shown.emissivity;
  emissivity[1] = 0;
  EXPECT_EQ(exchange_areas(shown.views, shown.areas, emissivity).row(1).cwiseAbs().maxCoeff(), 0);
}

// Infinite plates, q = sigma (T1^4 - T2^4) / (1/e1 + 1/e2 - 1): 59.3398 W/m2 at 35 degC (0.93) and
// 23 degC (0.84). Two surfaces that see nothing but each other.
TEST(RadiationReference, InfiniteParallelPlates) {
  MatrixXd views(2, 2);
  views << 0, 1, 1, 0;
  VectorXd emissivity(2), t_k(2);
  emissivity << 0.93, 0.84;
  t_k << 308.15, 296.15;
  const MatrixXd exchange = exchange_areas(views, VectorXd::Ones(2), emissivity);
  EXPECT_NEAR(exchange(0, 1), 1 / (1 / 0.93 + 1 / 0.84 - 1), 1e-14);
  EXPECT_NEAR(heat_from(exchange, t_k)[0], 59.3398, 6e-5);
  // And a real gap that grows thin: the walls' share vanishes.
  const auto thin = box(1, 1, 1e-4);
  VectorXd walls = VectorXd::Constant(6, 0.5);
  walls.head(2) = emissivity;
  VectorXd all = VectorXd::Constant(6, 302.15);
  all.head(2) = t_k;
  const VectorXd q = heat_from(exchange_areas(view_matrix(thin), areas_of(thin), walls), all);
  EXPECT_NEAR(q[0], 59.3398, 0.02);
}

// Secant 6.259 W/m2K between 308.15 and 296.15 K (black), tangent 4 sigma T^3 = 6.257 at the mean.
TEST(RadiationReference, LinearCoefficient) {
  EXPECT_NEAR(4 * kStefanBoltzmann * std::pow(302.15, 3), 6.257, 5e-4);
  EXPECT_NEAR(kStefanBoltzmann * (std::pow(308.15, 4) - std::pow(296.15, 4)) / 12, 6.259, 5e-4);
}

}  // namespace
}  // namespace warmside::climate
