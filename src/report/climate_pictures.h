#pragma once
// Pictures of the warmth and the UV in an enclosure, as PNG and as SVG: a map of the floor, a map
// of a section, under each the UV index of the same places, the scales with the wanted ranges, and
// the temperatures through a day. An animal takes warmth and UV at one place, so both maps have one
// size and bear the same marks.
//
// Made for a phone: one column, large dark text on white. Nothing depends on colour: lines of equal
// value carry their numbers ("30°", "UV 2"), the edges of the preferred ranges are heavy lines with
// small ticks that point inwards, and the lines of a day differ in their dashes and bear their
// names.
//
// It draws what it is given and knows nothing of enclosures or models. The text is drawn in the
// font DejaVu Sans; letters that it lacks appear as boxes, and text that runs from right to left
// is not set properly. Equal input gives equal bytes on one machine.
//
// Colours, units and numbers are in report/map_scale.h, the lines of equal value in
// report/contours.h. The parts of a picture are drawn by map_drawing, contour_drawing, colour_bar
// and day_drawing, by way of pen_internal.h.
// Checked by: tests/unit/report/climate_pictures_test.cpp.

#include <optional>
#include <string>
#include <vector>

#include "core/quantity.h"
#include "report/picture.h"

namespace warmside::report {

/// Values on a grid of rectangles; no edges and no values: left out of the picture.
/// On the picture x runs to the right and y upwards, both to the same scale. Between the middles of
/// the rectangles the value is drawn as running evenly (bilinear).
struct Plane {
  std::vector<double> x_edges_m;  // ascending, one more than columns; -100..100
  std::vector<double> y_edges_m;  // ascending, one more than rows; row 0 is the lowest
  std::vector<double> value;     // [row * columns + column], degC, -100..200, or UV index, 0..1000;
                                 // NaN: nothing there
  std::string title;             // "Floor, seen from above"
  std::string x_label, y_label;  // "left to right"; the unit is added
};

/// Such a plane is left out of the picture.
inline bool is_empty(const Plane& plane) {
  return plane.x_edges_m.empty() && plane.y_edges_m.empty() && plane.value.empty();
}

/// A thing on a plane. With a size: its outline, dashed. Without: a probe, a cross at the place.
/// What lies outside the plane is drawn at the nearest edge.
struct Mark {
  double x_m = 0, y_m = 0;  // the left lower corner, or the place of the probe
  double width_m = 0, height_m = 0;
  std::string name;
};

/// A wanted range, such as 32 to 36 degC for basking or UV index 2.9 to 7.4. The numbers are added
/// to the name.
struct Band {
  std::string name;          // "basking"
  double low = 0, high = 0;  // degC or UV index, as the maps it is for
  bool preferred = false;    // its edges are drawn on the maps
};

/// Temperatures through a day; no hours and no lines: left out of the picture.
struct DayStrip {
  struct Line {
    std::string name;
    std::vector<double> value_c;  // one for each hour, degC; NaN: unknown, a gap
  };
  std::string title = "Through the day";
  std::vector<double> hour;  // ascending, 0..24
  std::vector<Line> lines;   // at most 6
  std::vector<Band> bands;   // shaded
};

/// Such a day is left out of the picture.
inline bool is_empty(const DayStrip& day) {
  return day.hour.empty() && day.lines.empty();
}

/// All of one picture. The colours span the temperatures of both maps and the bands, so that a
/// colour means the same in both; those of the UV index start at 0 and are others.
struct ClimatePicture {
  std::string title, subtitle;
  Plane plan;
  std::vector<Mark> plan_marks;  // at most 50
  Plane section;
  std::vector<Mark> section_marks;
  std::vector<Band> bands;  // at most 8
  DayStrip day;
  /// Where the colours end, degC: hotter places, as close under a lamp, take the last one.
  std::optional<double> hottest_colour_c;

  /// UV index; a title like "UV on the floor". Each covers the same place as the heat map above it,
  /// where there is one; its grid may be another. A picture without them is the same to the byte
  /// whatever the fields below hold.
  Plane uv_plan, uv_section;
  /// On the UV maps only, beside the marks of the heat maps: lamps, places of readings; at most 50.
  std::vector<Mark> uv_plan_marks, uv_section_marks;
  std::vector<Band> uv_bands;  // at most 8; as of a Ferguson zone
  /// Below the UV maps: what the numbers rest on, how wide they may be off, and the usual caution.
  std::string uv_note;
  /// Where the colours of UV end: stronger places, as close under a lamp, take the last one.
  std::optional<double> strongest_uv_colour;

  UnitSystem units = UnitSystem::metric;
};

inline bool has_heat_map(const ClimatePicture& picture) {
  return !is_empty(picture.plan) || !is_empty(picture.section);
}
inline bool has_uv_map(const ClimatePicture& picture) {
  return !is_empty(picture.uv_plan) || !is_empty(picture.uv_section);
}

/// The picture in a file format; its height follows from what is in it.
/// width_px: as in report/picture.h.
/// Problem: edges that do not ascend, counts that do not match, a number that is none, more than
/// 4 million rectangles in a plane, a UV map of another place than its heat map, nothing to draw.
/// Throws MachineFailure when memory runs out.
Result<std::string> as_png(const ClimatePicture& picture, int width_px = kPictureWidth_px);
/// The same; the maps inside are images of fixed fineness, all else is lines. Carries its content
/// in words as well, for readers that speak.
Result<std::string> as_svg(const ClimatePicture& picture, int width_px = kPictureWidth_px);

}  // namespace warmside::report
