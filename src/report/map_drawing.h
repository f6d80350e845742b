#pragma once
// The maps of a picture: colours, lines of equal value (report/contour_drawing.h), what
// stands there with its name, and rulers.

#include "report/climate_pictures.h"
#include "report/map_scale.h"

namespace warmside::report {

class Pen;

/// Draws the plan and the section, if any, each with its UV map, one under the other below y, and
/// the note on UV; returns where they end.
/// fineness: pixels of a map's image for each of the page.
double draw_maps(const Pen& pen, const ClimatePicture& picture, const MapScales& scales,
                 double fineness, double y);

}  // namespace warmside::report
