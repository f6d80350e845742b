#include "report/climate_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "climate/moist_air.h"
#include "report/json_parts.h"

namespace warmside::report {
namespace {

using climate::ClimateCourse;
using climate::EnclosureCase;
using climate::RoomClimate;
using climate::SteadyClimate;

constexpr double kJoulesPerKwh = 3.6e6;
/// The colours end so far above the warmest floor and wanted range.
constexpr double kClearOfHottest_k = 4;
constexpr double kNoPlace_c = 120;
constexpr const char* kComputed =
    "Computed, not measured: check with your own thermometers before an animal depends on it, and "
    "keep a thermostat on every heater. Follow makers' labels and local code; wiring is for a "
    "licensed electrician.";

double celsius(double k) {
  return k - climate::kIcePoint_k;
}
std::string degrees(double k, UnitSystem units) {
  return for_people(Temperature::kelvin(k), units);
}
std::string title_of(const EnclosureCase& enclosure) {
  return enclosure.size.name.empty() ? "The enclosure" : enclosure.size.name;
}
bool has_band(const climate::Banded& t) {
  return t.high_k - t.low_k > 0.05;
}
std::string banded(const climate::Banded& t, UnitSystem units) {
  if (!has_band(t)) return degrees(t.k, units);
  return fmt::format("{} ({} to {})", degrees(t.k, units), degrees(t.low_k, units),
                     degrees(t.high_k, units));
}

Json json_of(const climate::Banded& t) {
  return {
      {"temperature_c", celsius(t.k)}, {"low_c", celsius(t.low_k)}, {"high_c", celsius(t.high_k)}};
}

/// What the numbers are worth.
void put_trust(double heat_error, double water_error, Sheet& sheet) {
  sheet.line(kComputed, 0, 2, Tone::faint);
  sheet.line(fmt::format("Heat balances to {:.0e} at every step, water to {:.0e}.", heat_error,
                         water_error),
             0, 2, Tone::faint);
}

/// "left, low" of a zone of air.
std::string place_words(const EnclosureCase& enclosure, const SteadyClimate::Air& air) {
  const double x = 0.5 * (air.x_low_m + air.x_high_m), z = 0.5 * (air.z_low_m + air.z_high_m);
  return fmt::format("{}, {}", x < 0.5 * enclosure.size.length.metres() ? "left" : "right",
                     z < 0.5 * enclosure.size.height.metres() ? "low" : "high");
}

}  // namespace

std::string steady_as_text(const EnclosureCase& enclosure, const SteadyClimate& climate,
                           UnitSystem units, const SheetStyle& style) {
  Sheet sheet(style);
  sheet.heading(title_of(enclosure) + ", settled");
  sheet.row("room", degrees(climate.room_k, units));
  bool bands = false;
  for (const auto& probe : climate.probes) {
    sheet.row(probe.name, banded(probe.t, units));
    bands |= has_band(probe.t);
  }
  sheet.blank();
  for (const auto& face : climate.faces) {
    const bool even = face.highest_k - face.lowest_k < 0.05;
    sheet.row(face.name,
              even ? degrees(face.mean_k, units)
                   : fmt::format("{} to {}, mean {}", degrees(face.lowest_k, units),
                                 degrees(face.highest_k, units), degrees(face.mean_k, units)));
  }
  for (const auto& air : climate.air) {
    sheet.row("air " + place_words(enclosure, air),
              fmt::format("{}, {:.0f} % humidity", banded(air.t, units), 100 * air.humidity));
    bands |= has_band(air.t);
  }
  sheet.blank();
  for (const auto& heater : climate.heaters) {
    sheet.row(heater.name,
              fmt::format("on {:.0f} % of the time, {:.1f} W", 100 * heater.duty, heater.power_w));
  }
  if (climate.heaters.size() != 1) sheet.row("together", fmt::format("{:.1f} W", climate.power_w));
  if (climate.water_kg_per_day > 5e-4) {
    sheet.row("water", fmt::format("{} a day leave dish and substrate",
                                   for_people(Volume::litres(climate.water_kg_per_day), units)));
  }
  if (climate.dew_kg_per_day > 1e-3) {
    sheet.row("dew", fmt::format("{} a day run down cold glass",
                                 for_people(Volume::litres(climate.dew_kg_per_day), units)));
  }
  sheet.blank();
  if (bands) {
    sheet.line(
        "In brackets: with half and with twice the air through the mesh lid, which is not known "
        "better.",
        0, 2, Tone::faint);
  }
  sheet.line(kComputed, 0, 2, Tone::faint);
  sheet.line(fmt::format("{} unknowns; heat balances to {:.0e}, water to {:.0e}.", climate.unknowns,
                         climate.heat_balance_error, climate.water_balance_error),
             0, 2, Tone::faint);
  return sheet.text();
}

std::string steady_as_json(const EnclosureCase& enclosure, const SteadyClimate& climate) {
  Json json{{"name", enclosure.size.name}, {"room_c", celsius(climate.room_k)}};
  Json probes = Json::object(), band = Json::object(), surfaces = Json::object();
  for (const auto& probe : climate.probes) {
    probes[probe.name] = celsius(probe.t.k);
    band[probe.name] = {celsius(probe.t.low_k), celsius(probe.t.high_k)};
  }
  for (const auto& face : climate.faces) {
    surfaces[face.name] = {{"mean_c", celsius(face.mean_k)},
                           {"lowest_c", celsius(face.lowest_k)},
                           {"highest_c", celsius(face.highest_k)}};
  }
  Json air = Json::array();
  for (const auto& zone : climate.air) {
    Json one{{"x_m", {zone.x_low_m, zone.x_high_m}}, {"z_m", {zone.z_low_m, zone.z_high_m}}};
    one.update(json_of(zone.t));
    one["humidity_pct"] = 100 * zone.humidity;
    air.push_back(std::move(one));
  }
  Json heaters = Json::array();
  for (const auto& heater : climate.heaters) {
    heaters.push_back({{"name", heater.name}, {"duty", heater.duty}, {"power_w", heater.power_w}});
  }
  json["probes"] = std::move(probes);
  json["probe_band_c"] = std::move(band);
  json["surfaces"] = std::move(surfaces);
  json["air"] = std::move(air);
  json["heaters"] = std::move(heaters);
  json["power_w"] = climate.power_w;
  json["water_kg_per_day"] = climate.water_kg_per_day;
  json["dew_kg_per_day"] = climate.dew_kg_per_day;
  json["unknowns"] = climate.unknowns;
  json["heat_balance_error"] = climate.heat_balance_error;
  json["water_balance_error"] = climate.water_balance_error;
  return dumped(json);
}

std::string course_as_text(const EnclosureCase& enclosure, const ClimateCourse& course,
                           UnitSystem units, const SheetStyle& style) {
  Sheet sheet(style);
  const double hours = course.time_s.empty() ? 0 : course.time_s.back() / 3600;
  sheet.heading(fmt::format("{}, {:g} hours", title_of(enclosure), std::round(hours * 100) / 100));
  // What it settled to: the second half.
  const std::size_t from = course.time_s.size() / 2;
  for (std::size_t p = 0; p < course.probe_names.size(); ++p) {
    const auto& series = course.probe_k[p];
    const auto [low, high] =
        std::minmax_element(series.begin() + static_cast<std::ptrdiff_t>(from), series.end());
    sheet.row(course.probe_names[p],
              fmt::format("{} to {} in the second half, {} at the end", degrees(*low, units),
                          degrees(*high, units), degrees(series.back(), units)));
  }
  if (!course.humidity.empty()) {
    const auto [low, high] = std::minmax_element(
        course.humidity.begin() + static_cast<std::ptrdiff_t>(from), course.humidity.end());
    sheet.row("humidity",
              fmt::format("{:.0f} to {:.0f} %, low at the cooler end", 100 * *low, 100 * *high));
  }
  double energy = 0;
  for (std::size_t h = 0; h < course.heater_names.size(); ++h) {
    const double kwh = course.energy_j[h] / kJoulesPerKwh;
    energy += kwh;
    sheet.row(
        course.heater_names[h],
        fmt::format(
            "on {:.1f} % of the time, {:.3g} kWh{}", 100 * course.duty[h], kwh,
            course.switches[h] > 0 ? fmt::format(", switched {} times", course.switches[h]) : ""));
  }
  if (hours > 0) {
    sheet.row("together",
              fmt::format("{:.3g} kWh, {:.1f} W on average", energy, energy * 1000 / hours));
  }
  if (course.water_kg > 1e-3) {
    sheet.row("water", fmt::format("{} left dish and substrate",
                                   for_people(Volume::litres(course.water_kg), units)));
  }
  if (course.stopped) sheet.line("Stopped before the end.", 0, 0, Tone::strong);
  sheet.blank();
  put_trust(course.heat_balance_error, course.water_balance_error, sheet);
  return sheet.text();
}

std::string course_as_json(const EnclosureCase& enclosure, const ClimateCourse& course) {
  Json json{{"name", enclosure.size.name}, {"time_s", course.time_s}};
  Json probes = Json::object(), duty = Json::object(), energy = Json::object(),
       switches = Json::object();
  for (std::size_t p = 0; p < course.probe_names.size(); ++p) {
    Json series = Json::array();
    for (const double k : course.probe_k[p]) series.push_back(celsius(k));
    probes[course.probe_names[p]] = std::move(series);
  }
  Json humidity = Json::array();
  for (const double share : course.humidity) humidity.push_back(100 * share);
  double whole = 0;
  for (std::size_t h = 0; h < course.heater_names.size(); ++h) {
    duty[course.heater_names[h]] = course.duty[h];
    energy[course.heater_names[h]] = course.energy_j[h] / kJoulesPerKwh;
    switches[course.heater_names[h]] = course.switches[h];
    whole += course.energy_j[h] / kJoulesPerKwh;
  }
  json["probes"] = std::move(probes);
  json["humidity_pct"] = std::move(humidity);
  json["duty"] = std::move(duty);
  json["switches"] = std::move(switches);
  json["heater_energy_kwh"] = std::move(energy);
  json["energy_kwh"] = whole;
  json["water_kg"] = course.water_kg;
  json["misted_kg"] = course.misted_kg;
  json["dew_kg"] = course.dew_kg;
  json["stopped"] = course.stopped;
  json["heat_balance_error"] = course.heat_balance_error;
  json["water_balance_error"] = course.water_balance_error;
  return dumped(json);
}

// --- a room of enclosures ---

namespace {

struct Spread {
  double low = 0, mean = 0, high = 0;
};
/// Of every `stride`-th value from `first`.
Spread spread_of(const std::vector<double>& values, std::size_t first, std::size_t stride) {
  Spread out;
  std::size_t n = 0;
  for (std::size_t i = first; i < values.size(); i += stride, ++n) {
    out.low = n == 0 ? values[i] : std::min(out.low, values[i]);
    out.high = n == 0 ? values[i] : std::max(out.high, values[i]);
    out.mean += values[i];
  }
  if (n > 0) out.mean /= static_cast<double>(n);
  return out;
}
Json json_of(const Spread& s) {
  return {
      {"lowest_c", celsius(s.low)}, {"mean_c", celsius(s.mean)}, {"highest_c", celsius(s.high)}};
}

double kwh_of(const RoomClimate::Member& member) {
  double sum = 0;
  for (const double joules : member.energy_j) sum += joules / kJoulesPerKwh;
  return sum;
}
double kwh_of(const RoomClimate& room) {
  double sum = kwh_of(room.room);
  for (const RoomClimate::Member& member : room.enclosures) sum += kwh_of(member);
  return sum;
}
Json heaters_of(const RoomClimate::Member& member) {
  Json heaters = Json::array();
  for (std::size_t h = 0; h < member.heaters.size(); ++h) {
    heaters.push_back(
        {{"name", member.heaters[h]}, {"energy_kwh", member.energy_j[h] / kJoulesPerKwh}});
  }
  return heaters;
}

std::string spread_words(const Spread& s, UnitSystem units) {
  return fmt::format("{} to {}, mean {}", degrees(s.low, units), degrees(s.high, units),
                     degrees(s.mean, units));
}

}  // namespace

std::string room_as_text(const RoomClimate& room, UnitSystem units, const SheetStyle& style) {
  const climate::RoomCourse& course = room.course;
  Sheet sheet(style);
  sheet.heading(fmt::format("{} enclosures in one room, {:.0f} days", room.enclosures.size(),
                            course.reached_s / 86400));
  sheet.row("room air", spread_words(spread_of(course.air_k, 0, 1), units));
  const auto put_heaters = [&](const RoomClimate::Member& member) {
    for (std::size_t h = 0; h < member.heaters.size(); ++h) {
      sheet.row(member.heaters[h], fmt::format("{:.1f} kWh", member.energy_j[h] / kJoulesPerKwh));
    }
  };
  put_heaters(room.room);
  for (std::size_t m = 0; m < room.enclosures.size(); ++m) {
    const RoomClimate::Member& member = room.enclosures[m];
    sheet.blank();
    sheet.line(member.name, 0, 0, Tone::strong);
    for (std::size_t p = 0; p < member.probes.size(); ++p) {
      const Spread s = spread_of(course.members[m].sensor_k, p, member.probes.size());
      sheet.row(member.probes[p], spread_words(s, units));
    }
    put_heaters(member);
  }
  sheet.blank();
  sheet.row("together", fmt::format("{:.0f} kWh", kwh_of(room)), 16, 0);
  if (course.stopped) sheet.line("Stopped before the end.", 0, 0, Tone::strong);
  put_trust(course.heat_balance_error, course.water_balance_error, sheet);
  return sheet.text();
}

std::string room_as_json(const RoomClimate& room) {
  const climate::RoomCourse& course = room.course;
  Json json{{"hours", course.reached_s / 3600},
            {"room_air", json_of(spread_of(course.air_k, 0, 1))}};
  Json enclosures = Json::array();
  for (std::size_t m = 0; m < room.enclosures.size(); ++m) {
    const RoomClimate::Member& member = room.enclosures[m];
    Json probes = Json::object();
    for (std::size_t p = 0; p < member.probes.size(); ++p) {
      probes[member.probes[p]] =
          json_of(spread_of(course.members[m].sensor_k, p, member.probes.size()));
    }
    enclosures.push_back({{"name", member.name},
                          {"probes", std::move(probes)},
                          {"heaters", heaters_of(member)},
                          {"water_kg", member.water_kg}});
  }
  json["enclosures"] = std::move(enclosures);
  json["room_heaters"] = heaters_of(room.room);
  json["energy_kwh"] = kwh_of(room);
  json["stopped"] = course.stopped;
  json["heat_balance_error"] = course.heat_balance_error;
  json["water_balance_error"] = course.water_balance_error;
  return dumped(json);
}

// --- pictures ---

namespace {

Plane plan_of(const SteadyClimate& climate, const climate::OperativeField& field) {
  Plane plane;
  plane.title = "Floor, seen from above";
  plane.x_label = "left to right";
  plane.y_label = "front to back";
  const auto& surfaces = climate.enclosure.surfaces;
  const int cells = climate.enclosure.floor_count;
  // Cells come column by column along the length, each from the front to the back.
  for (int c = 0; c < cells; ++c) {
    const climate::Tile& tile = surfaces[static_cast<std::size_t>(c)].tile;
    if (plane.x_edges_m.empty()) {
      plane.x_edges_m.push_back(tile.low_m[0]);
      plane.y_edges_m.push_back(tile.low_m[1]);
    }
    if (tile.high_m[0] > plane.x_edges_m.back()) plane.x_edges_m.push_back(tile.high_m[0]);
    if (plane.x_edges_m.size() == 2 && tile.high_m[1] > plane.y_edges_m.back()) {
      plane.y_edges_m.push_back(tile.high_m[1]);
    }
  }
  const std::size_t columns = plane.x_edges_m.size() - 1, rows = plane.y_edges_m.size() - 1;
  plane.value.resize(columns * rows);
  for (std::size_t i = 0; i < columns; ++i) {
    for (std::size_t j = 0; j < rows; ++j) {
      plane.value[j * columns + i] = celsius(field.on_floor_k(static_cast<int>(i * rows + j)));
    }
  }
  return plane;
}

Plane section_of(const EnclosureCase& enclosure, const climate::OperativeField& field) {
  constexpr double kCell_m = 0.03;
  Plane plane;
  plane.title = "Section, seen from the front";
  plane.x_label = "left to right";
  plane.y_label = "floor to lid";
  const double length = enclosure.size.length.metres(), height = enclosure.size.height.metres();
  const auto edges = [&](double whole) {
    const int n = std::clamp(static_cast<int>(std::ceil(whole / kCell_m)), 4, 60);
    std::vector<double> out;
    for (int i = 0; i <= n; ++i) out.push_back(whole * i / n);
    return out;
  };
  plane.x_edges_m = edges(length);
  plane.y_edges_m = edges(height);
  const double y = 0.5 * enclosure.size.width.metres();
  for (std::size_t j = 0; j + 1 < plane.y_edges_m.size(); ++j) {
    for (std::size_t i = 0; i + 1 < plane.x_edges_m.size(); ++i) {
      const double k = field.on_perch_k(0.5 * (plane.x_edges_m[i] + plane.x_edges_m[i + 1]), y,
                                        0.5 * (plane.y_edges_m[j] + plane.y_edges_m[j + 1]));
      // In the lamp itself there is no place for a body.
      plane.value.push_back(celsius(k) < kNoPlace_c ? celsius(k) : std::nan(""));
    }
  }
  return plane;
}

/// An outline on the plan or the section.
Mark outline(const climate::Span& x, double low, double high, const std::string& name) {
  return {x.low.metres(), low, (x.high - x.low).metres(), high - low, name};
}

void add_marks(const EnclosureCase& enclosure, ClimatePicture& picture) {
  const double height = enclosure.size.height.metres();
  for (const climate::CaseHeater& heater : enclosure.heaters) {
    picture.plan_marks.push_back(
        outline(heater.x, heater.y.low.metres(), heater.y.high.metres(), heater.name));
    if (climate::covers_area(heater.kind)) {
      const double z = heater.kind == climate::CaseHeaterKind::panel ? height : 0;
      picture.section_marks.push_back(outline(heater.x, z, z, heater.name));
    } else {
      picture.section_marks.push_back({heater.x.low.metres(), heater.z->metres(),
                                       (heater.x.high - heater.x.low).metres(), 0, heater.name});
    }
  }
  for (const climate::CaseBody& body : enclosure.bodies) {
    picture.plan_marks.push_back(
        outline(body.x, body.y.low.metres(), body.y.high.metres(), body.name));
    picture.section_marks.push_back(outline(body.x, 0, body.height.metres(), body.name));
  }
  for (const climate::CaseProbe& probe : enclosure.probes) {
    picture.plan_marks.push_back({probe.x.metres(), probe.y.metres(), 0, 0, probe.name});
    picture.section_marks.push_back({probe.x.metres(), probe.z.metres(), 0, 0, probe.name});
  }
  for (auto* marks : {&picture.plan_marks, &picture.section_marks}) {
    if (marks->size() > 50) marks->resize(50);
  }
}

}  // namespace

Result<ClimatePicture> climate_picture(const EnclosureCase& enclosure,
                                       const PictureQuestion& question, UnitSystem units) {
  climate::SteadyQuestion steady;
  steady.second_of_day = std::fmod(question.hour, 24) * 3600;
  steady.band = false;
  const auto settled = climate::steady_climate(enclosure, steady);
  if (!settled) return settled.problem();
  climate::DayQuestion for_day;
  for_day.preferred = question.preferred;
  for_day.body = question.body;
  const auto day = climate::climate_day(enclosure, for_day);
  if (!day) return day.problem();

  ClimatePicture picture;
  picture.units = units;
  picture.title = title_of(enclosure);
  picture.subtitle = fmt::format(
      "What a body of {} feels at {:02.0f}:{:02.0f} once all has settled; room at {}, heaters "
      "{:.0f} "
      "W.",
      for_people(question.body.mass, units), std::floor(question.hour),
      60 * (question.hour - std::floor(question.hour)), degrees(settled->room_k, units),
      settled->power_w);
  const climate::OperativeField field(settled->enclosure, settled->state, question.body);
  picture.plan = plan_of(*settled, field);
  picture.section = section_of(enclosure, field);
  picture.bands = question.bands;
  if (question.preferred) {
    picture.bands.insert(picture.bands.begin(), {"preferred", question.preferred->low.celsius(),
                                                 question.preferred->high.celsius(), true});
    const auto quality = day->quality[static_cast<std::size_t>(std::fmod(question.hour, 24))];
    picture.subtitle += fmt::format(
        " {:.0f} % of the floor is inside the preferred range; on average "
        "it is {:.1f} {} away.",
        100 * quality.inside_share, quality.distance_k * (units == UnitSystem::us ? 1.8 : 1.0),
        units == UnitSystem::us ? "°F" : "°C");
  }
  picture.subtitle += " Computed, not measured.";
  // Close under a lamp it is so hot that nothing else would show.
  double hottest = *std::max_element(picture.plan.value.begin(), picture.plan.value.end());
  for (const Band& band : picture.bands) hottest = std::max(hottest, band.high);
  picture.hottest_colour_c = hottest + kClearOfHottest_k;
  add_marks(enclosure, picture);
  for (int hour = 0; hour < 24; ++hour) picture.day.hour.push_back(hour + 0.5);
  const auto line = [&](const char* name, const std::vector<double>& hours_k) {
    if (hours_k.empty()) return;
    DayStrip::Line one{name, {}};
    for (const double k : hours_k) one.value_c.push_back(celsius(k));
    picture.day.lines.push_back(std::move(one));
  };
  line("basking", day->basking_k);
  line("warm floor", day->warm_floor_k);
  line("warm air", day->warm_air_k);
  line("cool floor", day->cool_floor_k);
  line("cool air", day->cool_air_k);
  line("room", day->room_k);
  picture.day.bands = picture.bands;
  return picture;
}

}  // namespace warmside::report
