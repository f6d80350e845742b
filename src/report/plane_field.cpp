#include "report/plane_field.h"

#include <algorithm>
#include <cmath>

namespace warmside::report {
namespace {

Nodes nodes_along(const std::vector<double>& edges, std::size_t most_cells) {
  const std::size_t cells = edges.size() - 1, kept = std::min(cells, most_cells);
  Nodes nodes{{edges.front()}, {0}};
  for (std::size_t k = 0; k < kept; ++k) {
    const std::size_t cell = (2 * k + 1) * cells / (2 * kept);  // all of them, or evenly chosen
    nodes.at_m.push_back((edges[cell] + edges[cell + 1]) / 2);
    nodes.cell.push_back(cell);
  }
  nodes.at_m.push_back(edges.back());
  nodes.cell.push_back(cells - 1);
  return nodes;
}

}  // namespace

Field::Field(const Plane& plane, std::size_t most_cells)
    : x(nodes_along(plane.x_edges_m, most_cells)), y(nodes_along(plane.y_edges_m, most_cells)) {
  const std::size_t columns = plane.x_edges_m.size() - 1;
  values_.reserve(x.size() * y.size());
  for (const std::size_t row : y.cell)
    for (const std::size_t column : x.cell) values_.push_back(plane.value[row * columns + column]);
  inside_.add(values_);
  for (std::size_t row = 0; row < y.size(); ++row) extend(x, row * x.size(), 1);
  for (std::size_t column = 0; column < x.size(); ++column) extend(y, column, x.size());
}

void Field::extend(const Nodes& nodes, std::size_t first, std::size_t stride) {
  const std::size_t last = nodes.size() - 1;
  if (last < 3) return;  // one rectangle
  const auto end = [&](std::size_t rim, std::size_t near, std::size_t far) {
    const double beyond =
        (nodes.at_m[rim] - nodes.at_m[near]) / (nodes.at_m[near] - nodes.at_m[far]);
    const double at_near = values_[first + near * stride];
    const double value = at_near + beyond * (at_near - values_[first + far * stride]);
    if (std::isnan(value)) return;
    values_[first + rim * stride] = std::clamp(value, inside_.low, inside_.high);
  };
  end(0, 1, 2);
  end(last, last - 1, last - 2);
}

}  // namespace warmside::report
