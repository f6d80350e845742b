#include "report/enclosure_picture.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "climate/computed.h"
#include "light/enclosure_uv.h"
#include "report/climate_report.h"

namespace warmside::report {
namespace {

constexpr double kCell_m = 0.03;
constexpr double kMostOfColour = 1.2;  // times the highest wanted: where the colours end

/// The same stretch in cells of at most kCell_m.
std::vector<double> fine(const std::vector<double>& edges) {
  const double low = edges.front(), whole = edges.back() - low;
  const int n = std::clamp(static_cast<int>(std::ceil(whole / kCell_m)), 4, 80);
  std::vector<double> out;
  for (int i = 0; i <= n; ++i) out.push_back(low + whole * i / n);
  return out;
}

/// The plane of a heat map, to be filled with UV.
Plane like(const Plane& heat, const char* title) {
  Plane plane;
  plane.title = title;
  plane.x_label = heat.x_label;
  plane.y_label = heat.y_label;
  plane.x_edges_m = fine(heat.x_edges_m);
  plane.y_edges_m = fine(heat.y_edges_m);
  return plane;
}

std::string band_text(const light::UvBand& band) {
  return fmt::format("UV index {:.1f} ({:.1f} to {:.1f})", band.best, band.low, band.high);
}

std::string note_on(const light::EnclosureUv& uv) {
  std::string note = fmt::format(
      "Never look into a UV lamp. All UVB lamps on, on a surface that faces up. At the basking "
      "place of {}: {}{}.",
      uv.under->lamp->id.text(), band_text(*uv.basking), uv.incomplete ? " or more" : "");
  for (const light::LampUv& lamp : uv.lamps) {
    note += fmt::format(" {}: {}.", lamp.lamp->id.text(), lamp.rests_on);
  }
  return note + " Computed; a meter is right.";
}

/// Lamps that the heat maps do not show, as those on a closed lid.
void add_lamps(const light::EnclosureUv& uv, ClimatePicture& picture) {
  for (const light::LampUv& lamp : uv.lamps) {
    const std::string& name = lamp.lamp->id.text();
    const bool shown = std::any_of(picture.plan_marks.begin(), picture.plan_marks.end(),
                                   [&](const Mark& mark) { return mark.name == name; });
    if (shown || !lamp.place) continue;
    const double span = lamp.place->span.metres(), left = lamp.place->from_left.metres() - span / 2;
    picture.uv_plan_marks.push_back({left, lamp.place->from_front.metres(), span, 0, name});
    picture.uv_section_marks.push_back({left, lamp.place->above_floor.metres(), span, 0, name});
  }
}

void add_uv(const light::EnclosureUv& uv, const room::Enclosure& enclosure,
            ClimatePicture& picture) {
  picture.uv_plan = like(picture.plan, "UV on the floor");
  picture.uv_section = like(picture.section, "UV in the section");
  picture.uv_plan.value =
      light::uv_plan(uv, picture.uv_plan.x_edges_m, picture.uv_plan.y_edges_m, 0);
  // The plane of the heat map: half way back.
  picture.uv_section.value =
      light::uv_section(uv, picture.uv_section.x_edges_m, picture.uv_section.y_edges_m,
                        0.5 * enclosure.width->metres());
  double strongest = *std::max_element(picture.uv_plan.value.begin(), picture.uv_plan.value.end());
  for (const light::WantedUv& wanted : uv.wanted) {
    if (!wanted.strongest) continue;
    Band band{fmt::format("zone {} basking", wanted.zone), wanted.strongest->low.index(),
              wanted.strongest->high.index(), true};
    strongest = std::max(strongest, kMostOfColour * band.high);
    const bool known =
        std::any_of(picture.uv_bands.begin(), picture.uv_bands.end(),
                    [&](const Band& one) { return one.name == band.name && one.low == band.low; });
    if (!known) picture.uv_bands.push_back(std::move(band));
  }
  picture.strongest_uv_colour = strongest;
  add_lamps(uv, picture);
  picture.uv_note = note_on(uv);
}

}  // namespace

Result<ClimatePicture> enclosure_picture(const room::Enclosure& enclosure, const room::Day& day,
                                         double hour) {
  const auto made = climate::case_from_room(day, enclosure);
  if (!made) return made.problem();
  const climate::DayQuestion wanted = climate::wanted_warmth(day, enclosure);
  PictureQuestion question;
  question.hour = hour;
  question.body = wanted.body;
  question.preferred = wanted.preferred;
  auto picture = climate_picture(made->enclosure, question, day.room->info.units);
  if (!picture) return picture;
  const light::EnclosureUv uv = light::enclosure_uv(day, enclosure);
  if (uv.basking) {
    add_uv(uv, enclosure, *picture);
  } else if (!uv.lamps.empty()) {
    picture->subtitle += " The UV of its lamps is not known: no reading and no data sheet.";
  }
  return picture;
}

}  // namespace warmside::report
