#pragma once
// The one layer over Cairo: surfaces, strokes and text, and the measures of the page of a picture.
// Only report/*.cpp includes this. What is drawn where is up to map_drawing.h, contour_drawing.h,
// colour_bar.h, day_drawing.h and weight_drawing.h.

#include <cairo.h>

#include <cstddef>
#include <memory>
#include <string>
#include <vector>

#include "report/map_scale.h"
#include "report/picture.h"
#include "report/shapes.h"

namespace warmside::report {

// The page is laid out at 1080 px; all that is drawn is in these.
constexpr double kPage = kPictureWidth_px, kMargin = 40;
constexpr double kPartGap = 44;  // under each map, the scale and the day
constexpr double kTitle = 46, kHeading = 34, kText = 28, kSmall = 26;

/// Where Cairo draws. Throws MachineFailure when there is none to be had.
struct Surface {
  std::unique_ptr<cairo_surface_t, decltype(&cairo_surface_destroy)> owned;
  explicit Surface(cairo_surface_t* surface) : owned(surface, &cairo_surface_destroy) { check(); }
  cairo_surface_t* get() const { return owned.get(); }
  void check() const;
};

enum class Weight { normal, bold };

/// A thin layer over Cairo: colours, text, strokes.
class Pen {
 public:
  explicit Pen(const Surface& surface);

  cairo_t* cairo() const { return cr_; }

  /// Throws MachineFailure when something could not be drawn.
  void check() const;

  void ink(const Colour& colour, double opacity = 1) const;
  void dashes(const std::vector<double>& lengths) const;
  void stroke(double width) const;
  void line(Point from, Point to, double width) const;
  void rectangle(const Box& box) const;
  void fill(const Box& box, const Colour& colour, double opacity = 1) const;

  double width(const std::string& text, double size, Weight weight = Weight::normal) const;
  /// The text's left end at x, its base line at y.
  void text(double x, double y, const std::string& text, double size,
            Weight weight = Weight::normal) const;
  void text_centred(Point middle, const std::string& words, double size,
                    Weight weight = Weight::normal) const;
  void text_right(double right, double y, const std::string& words, double size) const;
  /// Words on a map, small, on lighter ground.
  void label(const Box& box, const std::string& words, Weight weight) const;

  /// As much of a text as fits, with an ellipsis where something is cut.
  std::string fitted(const std::string& text, double room, double size,
                     Weight weight = Weight::normal) const;
  /// The text over at most `most` lines, broken at blanks.
  std::vector<std::string> wrapped(const std::string& text, double room, double size, Weight weight,
                                   std::size_t most) const;

  static constexpr double kHalfCapital = 0.365;  // of the font's size: DejaVu's capitals are 0.73

 private:
  void font(double size, Weight weight) const;
  void plate(const Box& box) const;  // the ground of a label

  std::unique_ptr<cairo_t, decltype(&cairo_destroy)> owned_;
  cairo_t* cr_;
};

/// The name of a mark or a band, and where it stands.
struct PlacedName {
  Box box;
  std::string words;
};

/// Title and subtitle of a picture below y; returns where what follows begins.
double draw_titles(const Pen& pen, const std::string& title, const std::string& subtitle, double y);

/// A note below y that belongs to what stands above it; returns where what follows begins.
double draw_note(const Pen& pen, const std::string& note, double y);

/// The heading of a part below y, with a note on the right; returns where it ends.
double draw_heading(const Pen& pen, double y, const std::string& title, const std::string& note);

}  // namespace warmside::report
