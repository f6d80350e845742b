#include "report/colour_bar.h"

#include <cairo.h>

#include <algorithm>
#include <cstddef>
#include <string>

#include "report/clean_text.h"
#include "report/pen_internal.h"

namespace warmside::report {
namespace {

/// The wanted ranges as brackets with their names, in as many rows as keep them apart.
template <class At>
double brackets(const Pen& pen, const std::vector<Band>& all, const Unit& unit, At at, double y) {
  constexpr double kRow = 62, kWidest = 700;
  std::vector<double> row_ends;
  std::vector<Band> bands = all;
  std::stable_sort(bands.begin(), bands.end(),
                   [](const Band& a, const Band& b) { return a.low < b.low; });
  for (const Band& band : bands) {
    const double left = at(band.low), right = at(band.high);
    const Weight weight = band.preferred ? Weight::bold : Weight::normal;
    const std::string words =
        with_range(pen.fitted(clean(band.name), kWidest, kSmall, weight), band, unit);
    const double width = pen.width(words, kSmall, weight);
    const double start = std::clamp((left + right - width) / 2, kMargin, kPage - kMargin - width);
    std::size_t row = 0;
    while (row < row_ends.size() && row_ends[row] + 28 > std::min(left, start)) ++row;
    if (row == row_ends.size()) row_ends.push_back(0);
    row_ends[row] = std::max(right, start + width);
    const double top = y + static_cast<double>(row) * kRow;
    pen.ink(kInk);
    cairo_t* cr = pen.cairo();
    cairo_move_to(cr, left, top);
    cairo_line_to(cr, left, top + 14);
    cairo_line_to(cr, right, top + 14);
    cairo_line_to(cr, right, top);
    pen.stroke(band.preferred ? 7 : 3);
    pen.text(start, top + 14 + 8 + kSmall, words, kSmall, weight);
  }
  return y + static_cast<double>(row_ends.size()) * kRow;
}

}  // namespace

double draw_colour_bar(const Pen& pen, const std::vector<Band>& bands, const MapScale& scale,
                       double y) {
  const bool uv = scale.unit.measure == Measure::uv_index;
  const std::string name = scale.unit.name();
  const std::string beyond = std::string(uv ? "stronger" : "hotter") + " places: the last colour";
  y = draw_heading(pen, y, uv ? name : "Scale, " + name, scale.cut ? beyond : "");
  const Box bar{kMargin, y, kPage - 2 * kMargin, 40};
  cairo_pattern_t* run = cairo_pattern_create_linear(bar.x, 0, bar.right(), 0);
  constexpr int kStops = 64;
  for (int i = 0; i <= kStops; ++i) {
    const Colour colour = scale.colour_at(static_cast<double>(i) / kStops);
    cairo_pattern_add_color_stop_rgb(run, static_cast<double>(i) / kStops, colour.red, colour.green,
                                     colour.blue);
  }
  cairo_t* cr = pen.cairo();
  cairo_set_source(cr, run);
  cairo_pattern_destroy(run);
  pen.rectangle(bar);
  cairo_fill(cr);
  pen.ink(kInk);
  pen.rectangle(bar);
  pen.stroke(3);
  const auto at = [&](double value) { return bar.x + scale.share(value) * bar.width; };
  for (const double value : scale.numbers(scale.range, 12)) {
    const double x = at(value);
    pen.line({x, bar.bottom()}, {x, bar.bottom() + 9}, 3);
    pen.text_centred({x, bar.bottom() + 28}, number_text(scale.unit.shown(value)), kSmall);
  }
  return brackets(pen, bands, scale.unit, at, bar.bottom() + 56) + kPartGap;
}

}  // namespace warmside::report
