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

/// What values can be.
struct Possible {
  double low, high;
  const char *wrong, *expected, *name;  // in words
  bool holds(double value) const { return within(value, low, high); }
  Problem trouble(const std::string& field, const char* or_none = "") const {
    return problem(ProblemCode::out_of_range, field, wrong, std::string(expected) + or_none);
  }
};
constexpr Possible kTemperature{-100, 200, "a temperature is out of range", "-100 to 200 degC",
                                "temperatures"};
// The sun reaches about 20 (WHO, Global Solar UV Index, 2002, from memory); right at a lamp it can
// be many times that.
constexpr Possible kUvIndex{0, 1000, "a UV index is out of range", "0 to 1000", "values"};

Trouble trouble_in_plane(const Plane& plane, const Possible& possible, const std::string& field) {
  if (is_empty(plane)) return {};
  if (auto trouble = trouble_in_edges(plane.x_edges_m, field + ".x_edges_m")) return trouble;
  if (auto trouble = trouble_in_edges(plane.y_edges_m, field + ".y_edges_m")) return trouble;
  const std::size_t columns = plane.x_edges_m.size() - 1, rows = plane.y_edges_m.size() - 1;
  if (columns > kMostCells / rows)
    return problem(ProblemCode::out_of_range, field, "the plane has too many rectangles",
                   "at most 4000000");
  if (plane.value.size() != columns * rows)
    return problem(ProblemCode::bad_value, field + ".value",
                   fmt::format("the count of {} does not match the edges", possible.name),
                   fmt::format("{} ({} columns, {} rows)", columns * rows, columns, rows));
  for (const double value : plane.value) {
    if (!std::isnan(value) && !possible.holds(value))
      return possible.trouble(field + ".value", ", or NaN");
  }
  return {};
}

/// A map of UV is compared with the heat map above it place by place.
Trouble trouble_in_pair(const Plane& heat, const Plane& uv, const std::string& field) {
  if (is_empty(heat) || is_empty(uv)) return {};
  const auto same_ends = [](const std::vector<double>& a, const std::vector<double>& b) {
    return std::fabs(a.front() - b.front()) < kSmallest_m &&
           std::fabs(a.back() - b.back()) < kSmallest_m;
  };
  if (same_ends(heat.x_edges_m, uv.x_edges_m) && same_ends(heat.y_edges_m, uv.y_edges_m)) return {};
  return problem(ProblemCode::bad_value, field, "the map of UV covers another place",
                 "the same first and last edges as those of the heat map");
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

Trouble trouble_in_bands(const std::vector<Band>& bands, const Possible& possible,
                         const std::string& field) {
  if (bands.size() > kMostBands)
    return problem(ProblemCode::out_of_range, field, "too many ranges", "at most 8");
  for (const Band& band : bands) {
    if (!possible.holds(band.low) || !possible.holds(band.high)) return possible.trouble(field);
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
      if (!std::isnan(value) && !kTemperature.holds(value))
        return kTemperature.trouble("day.lines", ", or NaN");
    }
  }
  return {};
}

Trouble trouble_in(const ClimatePicture& picture, int width_px) {
  if (auto trouble = trouble_in_width(width_px)) return trouble;
  if (!has_heat_map(picture) && !has_uv_map(picture) && is_empty(picture.day))
    return problem(ProblemCode::missing, "", "there is nothing to draw", "a map or a day");
  Trouble trouble = trouble_in_plane(picture.plan, kTemperature, "plan");
  if (!trouble) trouble = trouble_in_plane(picture.section, kTemperature, "section");
  if (!trouble) trouble = trouble_in_marks(picture.plan_marks, "plan_marks");
  if (!trouble) trouble = trouble_in_marks(picture.section_marks, "section_marks");
  if (!trouble) trouble = trouble_in_bands(picture.bands, kTemperature, "bands");
  if (!trouble) trouble = trouble_in_plane(picture.uv_plan, kUvIndex, "uv_plan");
  if (!trouble) trouble = trouble_in_plane(picture.uv_section, kUvIndex, "uv_section");
  if (!trouble) trouble = trouble_in_pair(picture.plan, picture.uv_plan, "uv_plan");
  if (!trouble) trouble = trouble_in_pair(picture.section, picture.uv_section, "uv_section");
  if (!trouble) trouble = trouble_in_marks(picture.uv_plan_marks, "uv_plan_marks");
  if (!trouble) trouble = trouble_in_marks(picture.uv_section_marks, "uv_section_marks");
  if (!trouble) trouble = trouble_in_bands(picture.uv_bands, kUvIndex, "uv_bands");
  if (!trouble) trouble = trouble_in_day(picture.day);
  if (!trouble) trouble = trouble_in_bands(picture.day.bands, kTemperature, "day.bands");
  return trouble;
}

/// What the picture shows, in words.
std::string in_words(const ClimatePicture& picture, const MapScales& scales) {
  const Unit &heat = scales.heat.unit, &uv = scales.uv.unit;
  std::string words = clean(picture.subtitle, kLongestParagraph);
  const auto add = [&](const std::string& sentence) {
    words += (words.empty() ? "" : "\n") + sentence;
  };
  const auto span = [&](const std::string& name, const std::vector<double>& values,
                        const Unit& unit) {
    Extent range;
    range.add(values);
    add(clean(name) + ": " + unit.extent_text(range));
  };
  const auto map = [&](const Plane& plane, const Unit& unit) {
    if (!is_empty(plane)) span(plane.title, plane.value, unit);
  };
  map(picture.plan, heat);
  map(picture.uv_plan, uv);
  map(picture.section, heat);
  map(picture.uv_section, uv);
  for (const Band& band : picture.bands)
    add("Wanted: " + with_range(clean(band.name), band, heat) + " " + heat.name());
  if (has_uv_map(picture)) {
    for (const Band& band : picture.uv_bands)
      add(std::string("Wanted ") + uv.name() + ": " + with_range(clean(band.name), band, uv));
    if (!picture.uv_note.empty()) add(clean(picture.uv_note, kLongestParagraph));
  }
  for (const DayStrip::Line& line : picture.day.lines)
    span(picture.day.title + ", " + line.name, line.value_c, heat);
  return words;
}

/// The page of a picture, which must outlive it.
Page page_of(const ClimatePicture& picture) {
  const MapScales scales = scales_of(picture);
  const auto draw = [&picture, scales](const Pen& pen, double fineness) {
    double y = draw_titles(pen, picture.title, picture.subtitle, kMargin);
    y = draw_maps(pen, picture, scales, fineness, y);
    if (has_heat_map(picture)) y = draw_colour_bar(pen, picture.bands, scales.heat, y);
    if (has_uv_map(picture)) y = draw_colour_bar(pen, picture.uv_bands, scales.uv, y);
    if (!is_empty(picture.day)) y = draw_day(pen, picture.day, scales.heat, y);
    return y - kPartGap;
  };
  return {draw, picture.title, in_words(picture, scales)};
}

}  // namespace

Result<std::string> as_png(const ClimatePicture& picture, int width_px) {
  if (auto trouble = trouble_in(picture, width_px)) return *trouble;
  return page_as_png(page_of(picture), width_px);
}

Result<std::string> as_svg(const ClimatePicture& picture, int width_px) {
  if (auto trouble = trouble_in(picture, width_px)) return *trouble;
  return page_as_svg(page_of(picture), width_px);
}

}  // namespace warmside::report
