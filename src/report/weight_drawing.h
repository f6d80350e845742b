#pragma once
// The chart of an animal's weights: a plot of masses over days and lanes of events below it.

#include "report/weight_picture.h"

namespace warmside::report {

class Pen;

/// Draws plot, dates, lanes and legend below y; returns where they end.
double draw_weights(const Pen& pen, const WeightPicture& picture, double y);

}  // namespace warmside::report
