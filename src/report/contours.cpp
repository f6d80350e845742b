#include "report/contours.h"

#include <array>
#include <cmath>
#include <cstddef>
#include <limits>

#include "report/plane_field.h"

namespace warmside::report {
namespace {

/// Marching squares. Every edge between two nodes has a number; a line through a square goes from
/// the edge where the way round the square (anticlockwise) leaves the high side to the edge where
/// it comes back to it. In the neighbour the same edge plays the other part, so lines join up.
class Tracer {
 public:
  Tracer(const Field& field, double level)
      : field_(field), level_(level), next_(2 * field.x.size() * field.y.size(), kNone) {}

  std::vector<Contour> lines() {
    for (std::size_t row = 0; row + 1 < field_.y.size(); ++row)
      for (std::size_t column = 0; column + 1 < field_.x.size(); ++column) cross(row, column);
    std::vector<bool> entered(next_.size(), false);
    for (const std::size_t edge : next_)
      if (edge != kNone) entered[edge] = true;
    std::vector<Contour> lines;
    for (const bool closed : {false, true})  // first from the open ends, then what is left
      for (std::size_t edge = 0; edge < next_.size(); ++edge)
        if (next_[edge] != kNone && (closed || !entered[edge]))
          lines.push_back(follow(edge, closed));
    return lines;
  }

 private:
  static constexpr std::size_t kNone = std::numeric_limits<std::size_t>::max();

  std::size_t across(std::size_t row, std::size_t column) const {
    return row * field_.x.size() + column;
  }
  std::size_t upward(std::size_t row, std::size_t column) const {
    return field_.x.size() * field_.y.size() + across(row, column);
  }

  void cross(std::size_t row, std::size_t column) {
    const std::array<double, 4> corner{field_.value(row, column), field_.value(row, column + 1),
                                       field_.value(row + 1, column + 1),
                                       field_.value(row + 1, column)};
    const double middle = (corner[0] + corner[1] + corner[2] + corner[3]) / 4;
    if (std::isnan(middle)) return;
    const std::array<std::size_t, 4> edge{across(row, column), upward(row, column + 1),
                                          across(row + 1, column), upward(row, column)};
    const auto high = [&](std::size_t k) { return corner[k % 4] >= level_; };
    for (std::size_t k = 0; k < 4; ++k) {
      if (!high(k) || high(k + 1)) continue;
      // Back by the nearest edge that returns to the high side; in a saddle the middle decides
      // which of two that is.
      std::size_t back = (k + 1) % 4;
      const bool saddle = high(k + 2) && !high(k + 3);
      if (saddle && middle < level_) back = (k + 3) % 4;
      while (!saddle && !(!high(back) && high(back + 1))) back = (back + 1) % 4;
      next_[edge[k]] = edge[back];
    }
  }

  Contour follow(std::size_t edge, bool closed) {
    Contour line{{}, closed};
    while (edge != kNone) {
      const std::size_t after = next_[edge];
      if (closed && after == kNone) break;  // round once
      line.points.push_back(place(edge));
      next_[edge] = kNone;
      edge = after;
    }
    return line;
  }

  Point place(std::size_t edge) const {
    const bool up = edge >= field_.x.size() * field_.y.size();
    const std::size_t node = up ? edge - field_.x.size() * field_.y.size() : edge;
    const std::size_t row = node / field_.x.size(), column = node % field_.x.size();
    const double from = field_.value(row, column);
    const double to = up ? field_.value(row + 1, column) : field_.value(row, column + 1);
    const double part = (level_ - from) / (to - from);
    const double x = field_.x.at_m[column], y = field_.y.at_m[row];
    return up ? Point{x, y + part * (field_.y.at_m[row + 1] - y)}
              : Point{x + part * (field_.x.at_m[column + 1] - x), y};
  }

  const Field& field_;
  double level_;
  std::vector<std::size_t> next_;  // the edge that follows each edge along a line
};

constexpr std::size_t kMostNodes = 300;  // finer than can be seen at 3 px each

}  // namespace

std::vector<Contour> contours_of(const Plane& plane, double level) {
  const Field field(plane, kMostNodes);
  return Tracer(field, level).lines();
}

}  // namespace warmside::report
