#pragma once
// Points and boxes: on a plane in metres, y upwards, or on the page of a picture, y downwards; and
// the frame that leads from one to the other. Knows nothing of drawing.

#include <algorithm>
#include <cmath>
#include <vector>

namespace warmside::report {

struct Point {
  double x = 0, y = 0;
};

inline double distance(Point a, Point b) {
  return std::hypot(b.x - a.x, b.y - a.y);
}

/// On the page: (x, y) is its upper left corner.
struct Box {
  double x = 0, y = 0, width = 0, height = 0;
  double right() const { return x + width; }
  double bottom() const { return y + height; }
  Point middle() const { return {x + width / 2, y + height / 2}; }
  bool overlaps(const Box& other) const {
    return x < other.right() && other.x < right() && y < other.bottom() && other.y < bottom();
  }
  bool contains(const Box& other) const {
    return x <= other.x && y <= other.y && other.right() <= right() && other.bottom() <= bottom();
  }
  Box grown(double by) const { return {x - by, y - by, width + 2 * by, height + 2 * by}; }
  static Box around(Point middle, double width, double height) {
    return {middle.x - width / 2, middle.y - height / 2, width, height};
  }
  Box moved_into(const Box& frame) const {
    return {std::max(frame.x, std::min(x, frame.right() - width)),
            std::max(frame.y, std::min(y, frame.bottom() - height)), width, height};
  }
};

inline bool overlaps_any(const Box& box, const std::vector<Box>& others) {
  return std::any_of(others.begin(), others.end(),
                     [&](const Box& other) { return other.overlaps(box); });
}

/// A plane's place on the page.
struct Frame {
  Box box;
  double left_m, bottom_m, px_per_m_x, px_per_m_y;
  Point at(Point metres) const {
    return {box.x + (metres.x - left_m) * px_per_m_x,
            box.bottom() - (metres.y - bottom_m) * px_per_m_y};
  }
};

}  // namespace warmside::report
