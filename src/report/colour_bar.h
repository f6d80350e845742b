#pragma once
// The scale under the maps of a picture: its colours, its numbers, and the wanted ranges as
// brackets.

#include <vector>

#include "report/climate_pictures.h"
#include "report/map_scale.h"

namespace warmside::report {

class Pen;

/// Draws the scale below y; returns where it ends.
double draw_colour_bar(const Pen& pen, const std::vector<Band>& bands, const MapScale& scale,
                       double y);

}  // namespace warmside::report
