#pragma once
// The chart of an animal's weights, as PNG and as SVG: its weighings, the mass of its empty body as
// the weight model smooths it with a band of 90 %, the mass against which a loss is judged, and
// below, in lanes over the same days, what was written of it: meals, sheds, illness and so on.
//
// Made for a phone: one column, large dark text on white. Nothing depends on colour: weighings that
// are not believed are crosses with words, the course is a line, the reference is dashed and bears
// its words, and each lane bears its name.
//
// It draws what it is given and knows nothing of animals, models or notebooks (animal_picture.h
// fills it). Fonts and equal bytes: as in climate_pictures.h. It is drawn by weight_drawing, by way
// of pen_internal.h.
// Checked by: tests/unit/report/weight_picture_test.cpp.

#include <optional>
#include <string>
#include <vector>

#include "core/quantity.h"
#include "core/result.h"
#include "core/time.h"
#include "report/picture.h"

namespace warmside::report {

/// Days of the chart count from the beginning of its first date; 0.5 is noon there.
struct WeightPicture {
  std::string title, subtitle;  // "Moss, crested gecko"; the verdict, a sentence
  Date first;                   // of the chart
  int days = 0;                 // from there, 1..5000

  struct Weighing {
    double day = 0;  // 0..days
    Mass mass;       // above 0, at most 1,000,000 kg
    bool believed = true;
  };
  std::vector<Weighing> weighings;  // at most 5000
  /// The smoothed mass at a moment, with its 90 % interval.
  struct Moment {
    double day = 0;  // 0..days, not falling
    Mass mass, low, high;
  };
  std::vector<Moment> course;  // at most 20000
  /// What the animal would weigh on the last day had it lost nothing.
  std::optional<Mass> reference;
  std::string reference_words;  // "46.6 g, had nothing been lost since 2026-08-23"

  /// How the events of a lane are drawn.
  enum class Shape { tick, dot, ring, triangle, diamond, egg, arrow };
  struct Bar {
    double from = 0, to = 0;  // 0..days
  };
  struct Lane {
    std::string name;  // "meals"
    Shape shape = Shape::tick;
    std::vector<double> events;  // 0..days, at most 5000
    std::vector<Bar> bars;       // at most 5000
    double known_from = 0;       // 0..days: before it nothing is said
  };
  std::vector<Lane> lanes;  // at most 20
  UnitSystem units = UnitSystem::metric;
};

/// The picture in a file format; its height follows from what is in it. width_px: as in picture.h.
/// Problem: nothing to draw (no weighing, course or lane), a day outside the chart, a mass that is
/// none, counts beyond those above. Throws MachineFailure when memory runs out.
Result<std::string> as_png(const WeightPicture& picture, int width_px = kPictureWidth_px);
/// The same, all lines. Carries its content in words as well, for readers that speak.
Result<std::string> as_svg(const WeightPicture& picture, int width_px = kPictureWidth_px);

}  // namespace warmside::report
