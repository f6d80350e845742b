#pragma once
// The page of a picture as a file: whatever draws on a page becomes a PNG, or an SVG that carries
// its content in words. Only report/*.cpp includes this.

#include <functional>
#include <optional>
#include <string>

#include "core/problem.h"
#include "core/result.h"
#include "report/pen_internal.h"

namespace warmside::report {

/// What is to be drawn.
struct Page {
  /// Draws below the upper margin and returns where it ends, without the lower margin.
  /// fineness: pixels of an image inside for each of the page.
  std::function<double(const Pen& pen, double fineness)> draw;
  std::string title, words;  // of the SVG, for readers that speak; any bytes
};

std::optional<Problem> trouble_in_width(int width_px);

/// Both ask for a width without trouble. Equal pages give equal bytes.
std::string page_as_png(const Page& page, int width_px);
std::string page_as_svg(const Page& page, int width_px);

}  // namespace warmside::report
