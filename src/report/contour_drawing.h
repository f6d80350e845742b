#pragma once
// The lines of equal value on one map: which values get a line, how it looks, and where its numbers
// stand. Where a line runs is found by report/contours.h.

#include <string>
#include <vector>

#include "report/climate_pictures.h"
#include "report/contours.h"
#include "report/map_scale.h"
#include "report/pen_internal.h"
#include "report/shapes.h"

namespace warmside::report {

/// A contour on the page, measured along its length.
struct Track {
  std::vector<Point> points;
  std::vector<double> way;  // from the start
  bool closed = false;
  double length() const { return way.back(); }
  Point at(double along) const;  // the nearer end outside 0..length()
};

/// An edge of a preferred range, or a round number, as a level on the maps.
struct Level {
  double value;
  enum Kind { round, lower_edge, upper_edge } kind = round;
  std::string name;  // of the range
};

/// The lines of one level on a map; a plane may hold several.
struct Contours {
  Level level;
  std::vector<Track> tracks;
};

/// What stands on a map already: numbers keep off it, and rather off the outlines.
struct Ground {
  Box frame;
  std::vector<Box> taken, outlines;
};

/// For one map: first the lines, then the marks and their names, and last the numbers, which need
/// to know where those stand.
class ContourDrawing {
 public:
  ContourDrawing(const Pen& pen, const MapScale& scale) : pen_(pen), scale_(scale) {}

  /// Draws the lines of a plane, thin ones below heavy ones, and returns them.
  /// range: of the plane's values.
  std::vector<Contours> lines(const Plane& plane, const Extent& range,
                              const std::vector<Band>& bands, const Frame& frame) const;

  /// The numbers on the lines; those of heavy lines, which come first, choose their place first.
  void numbers(const std::vector<Contours>& all, Ground ground) const;

 private:
  std::vector<Level> levels(const Extent& range, const std::vector<Band>& bands) const;
  void trace(const Track& track) const;
  void line(const Track& track, const Level& level) const;
  void number(const Track& track, const Level& level, Ground& ground) const;
  bool place_number(const Track& track, double from, double to, const std::string& words,
                    Weight weight, Ground& ground) const;

  const Pen& pen_;
  const MapScale& scale_;
};

}  // namespace warmside::report
