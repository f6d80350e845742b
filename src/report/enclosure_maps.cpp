#include "report/enclosure_maps.h"

#include <cmath>

#include "climate/case_from_room.h"
#include "report/enclosure_picture.h"
#include "report/json_parts.h"

namespace warmside::report {
namespace {

constexpr double kHour = 14;  // of the heat maps

/// What both maps of a plane show, and then what only that of UV does.
std::vector<Mark> together(std::vector<Mark> both, const std::vector<Mark>& of_uv) {
  both.insert(both.end(), of_uv.begin(), of_uv.end());
  return both;
}

/// JSON has no NaN: nothing there is null.
Json values_json(const std::vector<double>& values) {
  Json list = Json::array();
  for (const double value : values) {
    list.push_back(std::isnan(value) ? Json(nullptr) : Json(value));
  }
  return list;
}

Json grid_json(const Plane& plane) {
  if (is_empty(plane)) return nullptr;
  return {{"x_edges_m", plane.x_edges_m},       {"y_edges_m", plane.y_edges_m},
          {"values", values_json(plane.value)}, {"title", plane.title},
          {"x_label", plane.x_label},           {"y_label", plane.y_label}};
}

Json marks_json(const std::vector<Mark>& marks) {
  Json list = Json::array();
  for (const Mark& mark : marks) {
    list.push_back({{"name", mark.name},
                    {"x_m", mark.x_m},
                    {"y_m", mark.y_m},
                    {"width_m", mark.width_m},
                    {"height_m", mark.height_m}});
  }
  return list;
}

Json bands_json(const std::vector<Band>& bands) {
  Json list = Json::array();
  for (const Band& band : bands) {
    list.push_back({{"name", band.name},
                    {"low", band.low},
                    {"high", band.high},
                    {"preferred", band.preferred}});
  }
  return list;
}

Json day_json(const DayStrip& day) {
  Json lines = Json::array();
  for (const DayStrip::Line& line : day.lines) {
    lines.push_back({{"name", line.name}, {"values_c", values_json(line.value_c)}});
  }
  return {{"hours", day.hour}, {"lines", std::move(lines)}};
}

Json maps_json(const ClimatePicture& picture, const std::vector<std::string>& assumed,
               const std::string& why_not) {
  return {{"computed", why_not.empty()},
          {"why_not", why_not},
          {"heat_plan", grid_json(picture.plan)},
          {"heat_section", grid_json(picture.section)},
          {"uv_plan", grid_json(picture.uv_plan)},
          {"uv_section", grid_json(picture.uv_section)},
          {"plan_marks", marks_json(together(picture.plan_marks, picture.uv_plan_marks))},
          {"section_marks", marks_json(together(picture.section_marks, picture.uv_section_marks))},
          {"heat_bands", bands_json(picture.bands)},
          {"uv_bands", bands_json(picture.uv_bands)},
          {"uv_note", picture.uv_note},
          {"day", day_json(picture.day)},
          {"assumed", assumed}};
}

}  // namespace

std::string enclosure_maps_as_json(const room::Day& day, const room::Enclosure& enclosure) {
  const auto made = climate::case_from_room(day, enclosure);
  if (!made) return dumped(maps_json({}, {}, to_line(made.problem())));
  const auto picture = enclosure_picture(enclosure, day, kHour);
  if (!picture) return dumped(maps_json({}, made->assumed, to_line(picture.problem())));
  return dumped(maps_json(*picture, made->assumed, ""));
}

}  // namespace warmside::report
