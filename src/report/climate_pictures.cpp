#include "report/climate_pictures.h"

#include <cairo-svg.h>
#include <cairo.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string_view>
#include <utility>

#include "core/check.h"
#include "core/problem.h"
#include "report/clean_text.h"
#include "report/colour_bar.h"
#include "report/day_drawing.h"
#include "report/heat_scale.h"
#include "report/map_drawing.h"
#include "report/pen_internal.h"

namespace warmside::report {
namespace {

constexpr std::size_t kMostCells = 4'000'000;
constexpr std::size_t kMostHours = 100'000;
constexpr std::size_t kMostMarks = 50;
constexpr std::size_t kMostBands = 8;
constexpr double kColdest_c = -100, kHottest_c = 200;
constexpr double kFarthest_m = 100, kSmallest_m = 0.001;

// ---- Input: is it fit to draw? ------------------------------------------------------------------

using Trouble = std::optional<Problem>;

Problem problem(ProblemCode code, std::string field, std::string what, std::string expected) {
  return {code, std::move(what), {"", 0, std::move(field)}, std::move(expected), ""};
}

bool within(double value, double low, double high) {
  return value >= low && value <= high;  // false for NaN
}

Trouble trouble_in_edges(const std::vector<double>& edges, const std::string& field) {
  if (edges.size() < 2)
    return problem(ProblemCode::missing, field, "a plane needs edges on both sides",
                   "2 edges or more");
  for (std::size_t i = 0; i < edges.size(); ++i) {
    if (!within(edges[i], -kFarthest_m, kFarthest_m))
      return problem(ProblemCode::out_of_range, field, "an edge is not a length", "-100 to 100 m");
    if (i > 0 && edges[i] <= edges[i - 1])
      return problem(ProblemCode::bad_value, field, "the edges do not ascend",
                     "each greater than the one before");
  }
  if (edges.back() - edges.front() < kSmallest_m)
    return problem(ProblemCode::out_of_range, field, "the plane is too small to draw",
                   "1 mm or more");
  return {};
}

bool is_temperature(double value_c) {
  return within(value_c, kColdest_c, kHottest_c);
}

Trouble trouble_in_plane(const Plane& plane, const std::string& field) {
  if (is_empty(plane)) return {};
  if (auto trouble = trouble_in_edges(plane.x_edges_m, field + ".x_edges_m")) return trouble;
  if (auto trouble = trouble_in_edges(plane.y_edges_m, field + ".y_edges_m")) return trouble;
  const std::size_t columns = plane.x_edges_m.size() - 1, rows = plane.y_edges_m.size() - 1;
  if (columns > kMostCells / rows)
    return problem(ProblemCode::out_of_range, field, "the plane has too many rectangles",
                   "at most 4000000");
  if (plane.value_c.size() != columns * rows)
    return problem(ProblemCode::bad_value, field + ".value_c",
                   "the count of temperatures does not match the edges",
                   fmt::format("{} ({} columns, {} rows)", columns * rows, columns, rows));
  for (const double value : plane.value_c) {
    if (!std::isnan(value) && !is_temperature(value))
      return problem(ProblemCode::out_of_range, field + ".value_c", "a temperature is out of range",
                     "-100 to 200 degC, or NaN");
  }
  return {};
}

Trouble trouble_in_marks(const std::vector<Mark>& marks, const std::string& field) {
  if (marks.size() > kMostMarks)
    return problem(ProblemCode::out_of_range, field, "too many marks", "at most 50");
  for (const Mark& mark : marks) {
    if (!within(mark.x_m, -kFarthest_m, kFarthest_m) ||
        !within(mark.y_m, -kFarthest_m, kFarthest_m))
      return problem(ProblemCode::out_of_range, field, "a mark is at no place", "-100 to 100 m");
    if (!within(mark.width_m, 0, kFarthest_m) || !within(mark.height_m, 0, kFarthest_m))
      return problem(ProblemCode::out_of_range, field, "a mark has no possible size", "0 to 100 m");
  }
  return {};
}

Trouble trouble_in_bands(const std::vector<Band>& bands, const std::string& field) {
  if (bands.size() > kMostBands)
    return problem(ProblemCode::out_of_range, field, "too many ranges", "at most 8");
  for (const Band& band : bands) {
    if (!is_temperature(band.low_c) || !is_temperature(band.high_c))
      return problem(ProblemCode::out_of_range, field, "a temperature is out of range",
                     "-100 to 200 degC");
    if (band.high_c < band.low_c)
      return problem(ProblemCode::bad_value, field, "a range ends below its start",
                     "low, then high");
  }
  return {};
}

Trouble trouble_in_day(const DayStrip& day) {
  if (is_empty(day)) return {};
  if (day.hour.size() < 2 || day.hour.size() > kMostHours)
    return problem(ProblemCode::out_of_range, "day.hour", "the count of hours cannot be drawn",
                   "2 to 100000");
  for (std::size_t i = 0; i < day.hour.size(); ++i) {
    if (!within(day.hour[i], 0, 24))
      return problem(ProblemCode::out_of_range, "day.hour", "an hour is not of the day", "0 to 24");
    if (i > 0 && day.hour[i] <= day.hour[i - 1])
      return problem(ProblemCode::bad_value, "day.hour", "the hours do not ascend",
                     "each greater than the one before");
  }
  if (day.lines.empty() || day.lines.size() > kMostLines)
    return problem(ProblemCode::out_of_range, "day.lines", "the count of lines cannot be drawn",
                   "1 to 6");
  for (const DayStrip::Line& line : day.lines) {
    if (line.value_c.size() != day.hour.size())
      return problem(ProblemCode::bad_value, "day.lines",
                     "the count of temperatures does not match the hours",
                     fmt::format("{}", day.hour.size()));
    for (const double value : line.value_c) {
      if (!std::isnan(value) && !is_temperature(value))
        return problem(ProblemCode::out_of_range, "day.lines", "a temperature is out of range",
                       "-100 to 200 degC, or NaN");
    }
  }
  return {};
}

Trouble trouble_in(const ClimatePicture& picture, int width_px) {
  if (width_px < 200 || width_px > 8000)
    return problem(ProblemCode::out_of_range, "width_px", "the picture cannot be so wide",
                   "200 to 8000");
  if (is_empty(picture.plan) && is_empty(picture.section) && is_empty(picture.day))
    return problem(ProblemCode::missing, "", "there is nothing to draw", "a map or a day");
  Trouble trouble = trouble_in_plane(picture.plan, "plan");
  if (!trouble) trouble = trouble_in_plane(picture.section, "section");
  if (!trouble) trouble = trouble_in_marks(picture.plan_marks, "plan_marks");
  if (!trouble) trouble = trouble_in_marks(picture.section_marks, "section_marks");
  if (!trouble) trouble = trouble_in_bands(picture.bands, "bands");
  if (!trouble) trouble = trouble_in_day(picture.day);
  if (!trouble) trouble = trouble_in_bands(picture.day.bands, "day.bands");
  return trouble;
}

// ---- Layout -------------------------------------------------------------------------------------

double draw_titles(const Pen& pen, const ClimatePicture& picture, double y) {
  const auto lines = [&](const std::string& text, double size, Weight weight, Colour colour,
                         int most) {
    for (const std::string& line :
         pen.wrapped(clean(text), kPage - 2 * kMargin, size, weight, most)) {
      pen.ink(colour);
      y += size * 1.25;
      pen.text(kMargin, y - size * 0.25, line, size, weight);
    }
  };
  lines(picture.title, kTitle, Weight::bold, kInk, 2);
  lines(picture.subtitle, kText, Weight::normal, kFaint, 5);
  return picture.title.empty() && picture.subtitle.empty() ? y : y + 28;
}

/// Draws everything and returns the height it took.
/// map_fineness: pixels of a map's image for each of the page.
double draw(const ClimatePicture& picture, const HeatScale& scale, const Surface& surface,
            double page_scale, double map_fineness) {
  const Pen pen(surface);
  cairo_scale(pen.cairo(), page_scale, page_scale);
  pen.ink(kPaper);
  cairo_paint(pen.cairo());
  double y = draw_titles(pen, picture, kMargin);
  y = draw_maps(pen, picture, scale, map_fineness, y);
  if (!is_empty(picture.plan) || !is_empty(picture.section))
    y = draw_colour_bar(pen, picture.bands, scale, y);
  if (!is_empty(picture.day)) y = draw_day(pen, picture.day, scale, y);
  pen.check();
  return y - kPartGap + kMargin;
}

// ---- Files --------------------------------------------------------------------------------------

/// Drawn once on a single pixel.
double page_height(const ClimatePicture& picture, const HeatScale& scale) {
  const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_ARGB32, 1, 1));
  return std::ceil(draw(picture, scale, surface, 1, 0.01));
}

cairo_status_t append(void* text, const unsigned char* bytes, unsigned int count) {
  static_cast<std::string*>(text)->append(reinterpret_cast<const char*>(bytes), count);
  return CAIRO_STATUS_SUCCESS;
}

/// Cairo numbers surfaces and images through the life of the process; here they count from 0, so
/// that equal pictures are equal files.
std::string renumbered(const std::string& svg) {
  std::string out;
  std::vector<std::string> met;
  std::size_t copied = 0;
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  for (std::size_t at = svg.find_first_of("\"#"); at != std::string::npos;
       at = svg.find_first_of("\"#", at + 1)) {
    for (const std::string_view kind : {"surface", "image"}) {
      const std::size_t number = at + 1 + kind.size();
      if (svg.compare(at + 1, kind.size(), kind) != 0 || !is_digit(svg[number])) continue;
      std::size_t end = number;
      while (is_digit(svg[end])) ++end;
      const std::string name = svg.substr(at + 1, end - at - 1);
      const auto known = std::find(met.begin(), met.end(), name);
      out.append(svg, copied, number - copied).append(fmt::format("{}", known - met.begin()));
      if (known == met.end()) met.push_back(name);
      copied = end;
    }
  }
  return out.append(svg, copied);
}

/// What the picture shows, in words.
std::string in_words(const ClimatePicture& picture, const Unit& unit) {
  std::string words = clean(picture.subtitle);
  const auto add = [&](const std::string& sentence) {
    words += (words.empty() ? "" : "\n") + sentence;
  };
  const auto span = [&](const std::string& name, const std::vector<double>& values) {
    Extent range;
    range.add(values);
    add(clean(name) + ": " +
        (range.empty() ? "no temperature" : unit.exact_range_text(range.low, range.high)));
  };
  for (const Plane* plane : {&picture.plan, &picture.section})
    if (!is_empty(*plane)) span(plane->title, plane->value_c);
  for (const Band& band : picture.bands)
    add("Wanted: " + with_range(clean(band.name), band, unit) + " " + unit.name());
  for (const DayStrip::Line& line : picture.day.lines)
    span(picture.day.title + ", " + line.name, line.value_c);
  return words;
}

}  // namespace

Result<std::string> as_png(const ClimatePicture& picture, int width_px) {
  if (auto trouble = trouble_in(picture, width_px)) return *trouble;
  const HeatScale scale = scale_of(picture);
  const double times = width_px / kPage;
  const int height_px = static_cast<int>(std::ceil(page_height(picture, scale) * times));
  const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width_px, height_px));
  draw(picture, scale, surface, times, times);
  std::string png;
  const cairo_status_t status = cairo_surface_write_to_png_stream(surface.get(), append, &png);
  if (status != CAIRO_STATUS_SUCCESS)
    throw MachineFailure(fmt::format("cannot write a PNG: {}", cairo_status_to_string(status)));
  return png;
}

Result<std::string> as_svg(const ClimatePicture& picture, int width_px) {
  if (auto trouble = trouble_in(picture, width_px)) return *trouble;
  const HeatScale scale = scale_of(picture);
  const double times = width_px / kPage;
  std::string svg;
  {
    const Surface surface(cairo_svg_surface_create_for_stream(
        append, &svg, width_px, std::ceil(page_height(picture, scale) * times)));
    cairo_svg_surface_set_document_unit(surface.get(), CAIRO_SVG_UNIT_PX);
    draw(picture, scale, surface, times, 1);
    cairo_surface_finish(surface.get());
    surface.check();
  }
  svg = renumbered(svg);
  const std::size_t start = svg.find("<svg ");
  const std::size_t inside = start == std::string::npos ? start : svg.find('>', start);
  WS_CHECK(inside != std::string::npos);
  svg.insert(inside + 1, "\n<title>" + escaped(clean(picture.title)) + "</title>\n<desc>" +
                             escaped(in_words(picture, scale.unit)) + "</desc>");
  svg.insert(start + 5, "role=\"img\" ");
  return svg;
}

}  // namespace warmside::report
