#include "report/climate_pictures.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

#include "core/problem.h"
#include "report/clean_text.h"
#include "report/colour_bar.h"
#include "report/day_drawing.h"
#include "report/drawn_page.h"
#include "report/map_drawing.h"
#include "report/map_scale.h"
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
  if (plane.value.size() != columns * rows)
    return problem(ProblemCode::bad_value, field + ".value",
                   "the count of temperatures does not match the edges",
                   fmt::format("{} ({} columns, {} rows)", columns * rows, columns, rows));
  for (const double value : plane.value) {
    if (!std::isnan(value) && !is_temperature(value))
      return problem(ProblemCode::out_of_range, field + ".value", "a temperature is out of range",
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
    if (!is_temperature(band.low) || !is_temperature(band.high))
      return problem(ProblemCode::out_of_range, field, "a temperature is out of range",
                     "-100 to 200 degC");
    if (band.high < band.low)
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
  if (auto trouble = trouble_in_width(width_px)) return trouble;
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
    if (!is_empty(*plane)) span(plane->title, plane->value);
  for (const Band& band : picture.bands)
    add("Wanted: " + with_range(clean(band.name), band, unit) + " " + unit.name());
  for (const DayStrip::Line& line : picture.day.lines)
    span(picture.day.title + ", " + line.name, line.value_c);
  return words;
}

/// The page of a picture, which must outlive it.
Page page_of(const ClimatePicture& picture, const MapScale& scale) {
  const auto draw = [&picture, scale](const Pen& pen, double fineness) {
    double y = draw_titles(pen, picture.title, picture.subtitle, kMargin);
    y = draw_maps(pen, picture, scale, fineness, y);
    if (!is_empty(picture.plan) || !is_empty(picture.section))
      y = draw_colour_bar(pen, picture.bands, scale, y);
    if (!is_empty(picture.day)) y = draw_day(pen, picture.day, scale, y);
    return y - kPartGap;
  };
  return {draw, picture.title, in_words(picture, scale.unit)};
}

}  // namespace

Result<std::string> as_png(const ClimatePicture& picture, int width_px) {
  if (auto trouble = trouble_in(picture, width_px)) return *trouble;
  return page_as_png(page_of(picture, scale_of(picture)), width_px);
}

Result<std::string> as_svg(const ClimatePicture& picture, int width_px) {
  if (auto trouble = trouble_in(picture, width_px)) return *trouble;
  return page_as_svg(page_of(picture, scale_of(picture)), width_px);
}

}  // namespace warmside::report
