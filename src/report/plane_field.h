#pragma once
// The values of a plane at nodes: at the middles of its rectangles and along its rim. The
// colours and the lines of equal value are both drawn from these, so that they agree.

#include <cstddef>
#include <limits>
#include <vector>

#include "report/climate_pictures.h"
#include "report/map_scale.h"

namespace warmside::report {

/// Where values are known along one axis: the middles of the rectangles, and both ends so
/// that nothing is left open at the rim.
struct Nodes {
  std::vector<double> at_m;       // ascending
  std::vector<std::size_t> cell;  // the row or column that holds each
  std::size_t size() const { return at_m.size(); }
};

/// A well-formed plane's values at nodes. At the rim they go on as straight lines from the
/// two middles before it, yet never beyond what occurs inside.
class Field {
 public:
  static constexpr std::size_t kAllCells = std::numeric_limits<std::size_t>::max();

  Nodes x, y;

  /// A plane of more rows or columns than `most_cells` is thinned to that.
  explicit Field(const Plane& plane, std::size_t most_cells = kAllCells);

  /// NaN: nothing there.
  double value(std::size_t row, std::size_t column) const {
    return values_[row * x.size() + column];
  }

 private:
  /// Both ends of a row or column: its values start at `first` and lie `stride` apart.
  void extend(const Nodes& nodes, std::size_t first, std::size_t stride);

  std::vector<double> values_;
  Extent inside_;
};

}  // namespace warmside::report
