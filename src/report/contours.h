#pragma once
// Lines of equal value, as of temperature, on a plane, by marching squares. This finds where they
// run, in metres; report/contour_drawing.h draws them and sets their numbers. Checked by:
// tests/unit/report/climate_pictures_test.cpp.

#include <vector>

#include "report/climate_pictures.h"
#include "report/shapes.h"

namespace warmside::report {

/// A line of equal value, in m. Greater values lie to its left.
struct Contour {
  std::vector<Point> points;
  bool closed = false;  // the last point joins the first
};

/// The lines where a well-formed plane has the value `level`, by marching squares between
/// the middles of the rectangles; they run on to the rim of the plane and end where nothing is.
/// A plane of more than 300 rows or columns is thinned to that first.
std::vector<Contour> contours_of(const Plane& plane, double level);

}  // namespace warmside::report
