#pragma once
// The temperatures through a day, as lines that differ in their dashes and bear their names, over
// the wanted ranges.

#include <cstddef>

#include "report/climate_pictures.h"
#include "report/map_scale.h"

namespace warmside::report {

class Pen;

constexpr std::size_t kMostLines = 6;  // as many as there are dashes to tell them apart

/// Draws the day of the picture below y; returns where it ends.
double draw_day(const Pen& pen, const DayStrip& day, const MapScale& scale, double y);

}  // namespace warmside::report
