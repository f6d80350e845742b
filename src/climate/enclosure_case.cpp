#include "climate/enclosure_case.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "climate/materials.h"

namespace warmside::climate {
namespace {

constexpr const char* kFaces[] = {"front", "back", "left", "right", "top", "bottom"};

class Inspector {
 public:
  explicit Inspector(const EnclosureCase& c) : case_(c) {}

  Problems inspect() {
    const CaseSize& inside = case_.size;
    size("enclosure.length", inside.length, Length::centimetres(5), Length::metres(10));
    size("enclosure.width", inside.width, Length::centimetres(5), Length::metres(10));
    size("enclosure.height", inside.height, Length::centimetres(5), Length::metres(5));
    size("substrate.depth", case_.substrate.depth, Length::millimetres(1), Length::metres(1));
    if (find_material(case_.substrate.kind) == nullptr) {
      unknown_material("substrate.kind", case_.substrate.kind);
    }
    if (case_.substrate.wetness) share("substrate.wetness", *case_.substrate.wetness);
    for (const char* face : kFaces) inspect_face(face, *face_of(case_.faces, face));
    inspect_openings();
    inspect_room();
    inspect_dish();
    for (const CaseBody& body : case_.bodies) inspect_body(body);
    inspect_probes();
    inspect_thermostats();
    for (const CaseHeater& heater : case_.heaters) inspect_heater(heater);
    for (const CaseMisting& misting : case_.mistings) {
      if (!(misting.water > Volume()) || misting.water > Volume::litres(20)) {
        refuse("misting.water", "not an amount to mist", "more than 0mL, at most 20L",
               to_text(misting.water));
      }
    }
    std::set<std::string> beside;
    for (const CaseNeighbour& neighbour : case_.neighbours) {
      const std::string field = "neighbour " + shown(neighbour.face);
      if (face_of(case_.faces, neighbour.face) == nullptr) {
        refuse(field + ".face", "no such face", "front, back, left, right, top or bottom",
               neighbour.face);
      }
      if (!beside.insert(neighbour.face).second) {
        refuse(field, "this face has two neighbours", "one of them");
      }
      if (neighbour.insulated && neighbour.temperature) {
        refuse(field + ".insulated", "both insulated and of a temperature", "one of them");
      }
      if (neighbour.face == "top" && mesh_top()) {
        refuse(field, "a neighbour on a mesh lid", "only on a closed face");
      }
    }
    return std::move(problems_);
  }

 private:
  void refuse(std::string field, std::string what, std::string expected, std::string found = "") {
    problems_.push_back({ProblemCode::out_of_range,
                         std::move(what),
                         {"", 0, std::move(field)},
                         std::move(expected),
                         shown(found)});
  }
  void size(const std::string& field, Length value, Length lowest, Length highest) {
    if (value >= lowest && value <= highest) return;
    refuse(field, "not a size that this has",
           fmt::format("{} to {}", to_text(lowest), to_text(highest)), to_text(value));
  }
  void share(const std::string& field, Percentage value) {
    if (value.share() > 1) refuse(field, "more than the whole", "0% to 100%", to_text(value));
  }
  void within(const std::string& field, double value, double low, double high, const char* what) {
    if (!(value >= low && value <= high)) {
      refuse(field, what, fmt::format("{:g} to {:g}", low, high), fmt::format("{:g}", value));
    }
  }
  void temperature(const std::string& field, Temperature t) {
    if (t < Temperature::celsius(-60) || t > Temperature::celsius(70)) {
      refuse(field, "not a temperature that a room or an enclosure has", "-60C to 70C", to_text(t));
    }
  }
  void unknown_material(std::string field, const std::string& name) {
    std::string known;
    for (const Material& material : materials()) {
      known += (known.empty() ? "" : ", ") + material.name;
    }
    refuse(std::move(field), "a material that is not listed", "one of " + known, name);
  }
  bool mesh_top() const {
    return !case_.faces.top.layers.empty() && case_.faces.top.layers.front().material == "mesh";
  }

  void inspect_face(const std::string& face, const room::Construction& construction) {
    if (construction.layers.empty()) {
      refuse("faces." + face, "made of nothing", "layers such as \"glass 4mm\"");
    }
    for (const room::Layer& layer : construction.layers) {
      if (find_material(layer.material) == nullptr) {
        unknown_material("faces." + face, layer.material);
      }
      size("faces." + face, layer.thickness, Length::millimetres(0.01), Length::metres(1));
      const bool mesh = layer.material == "mesh";
      if (mesh && (face != "top" || construction.layers.size() != 1)) {
        refuse("faces." + face, "a mesh that is not the whole top",
               "mesh only as the one layer of the top; other openings as vents");
      }
    }
  }

  void inspect_openings() {
    const CaseOpenings& open = case_.openings;
    share("openings.lid_covered", open.lid_covered);
    share("openings.mesh_open", open.mesh_open);
    const Area most = Area::square_metres(
        2 * std::max(0.0, case_.size.length.metres() * case_.size.height.metres()));
    if (open.vents_low > most || open.vents_high > most) {
      refuse("openings.vents_low", "vents larger than the front and back",
             "at most " + to_text(most));
    }
    if (open.vents_apart > case_.size.height) {
      refuse("openings.vents_apart", "vents further apart than the enclosure is high",
             "at most " + to_text(case_.size.height), to_text(open.vents_apart));
    }
    within("openings.leak_changes_per_h", open.leak_changes_per_h, 0, 60, "not a rate of leaking");
    within("openings.lid_flow_factor", open.lid_flow_factor, 0.1, 10,
           "not a factor that the flow can have");
  }

  void inspect_room() {
    const CaseRoom& r = case_.room;
    temperature("room.temperature", r.temperature);
    share("room.humidity", r.humidity);
    if (r.night_drop && (r.night_drop->kelvin() < 0 || r.night_drop->kelvin() > 40)) {
      refuse("room.night_drop", "not a drop that a room has", "0K to 40K");
    }
    if (!r.walls_w_per_k) {
      if (r.heater > Power() || r.other_heat > Power() || r.volume) {
        refuse("room.walls_w_per_k", "a room with heat or volume of its own needs its walls",
               "W for each K through walls and windows, such as 60");
      }
      return;
    }
    within("room.walls_w_per_k", *r.walls_w_per_k, 1, 5000, "not walls that a room has");
    if (!r.volume || *r.volume < Volume::litres(1000) || *r.volume > Volume::litres(1e6)) {
      refuse("room.volume", "a room with walls needs its volume", "1000L to 1000000L");
    }
    within("room.air_changes_per_h", r.air_changes_per_h, 0, 20, "not a rate of airing");
    within("room.mass_wh_per_k", r.mass_wh_per_k, 10, 1e5, "not a heat store that a room has");
    temperature("room.heater_day", r.heater_day);
    if (r.heater_night) temperature("room.heater_night", *r.heater_night);
  }

  void inspect_dish() {
    if (!case_.dish) return;
    const CaseDish& dish = *case_.dish;
    const double floor = case_.size.length.metres() * case_.size.width.metres();
    if (dish.x > case_.size.length || dish.y > case_.size.width) {
      refuse("dish", "the dish is outside the enclosure", inside_text());
    }
    if (!(dish.area.square_metres() > 0) || dish.area.square_metres() > 0.8 * floor) {
      refuse("dish.area", "not the area of a dish here",
             "more than nothing, at most 80 % of the floor", to_text(dish.area));
    }
    size("dish.depth", dish.depth, Length::millimetres(2), Length::metres(1));
  }

  std::string inside_text() const {
    return fmt::format("x, y, z within {} x {} x {}", to_text(case_.size.length),
                       to_text(case_.size.width), to_text(case_.size.height));
  }
  bool on_floor(const Span& x, const Span& y) const {
    return x.high <= case_.size.length && y.high <= case_.size.width;
  }

  void inspect_body(const CaseBody& body) {
    const std::string field = "body " + shown(body.name);
    if (body.name.empty()) refuse("body.name", "must be given", "a name");
    if (!bodies_.insert(body.name).second) refuse(field, "this name is used twice", "another name");
    if (!on_floor(body.x, body.y) || !(body.x.high > body.x.low) || !(body.y.high > body.y.low)) {
      refuse(field, "it lies beyond the floor or covers nothing",
             fmt::format("ranges within {} x {}", to_text(case_.size.length),
                         to_text(case_.size.width)));
    }
    size(field + ".height", body.height, Length::millimetres(5), case_.size.height);
    if (find_material(body.material) == nullptr)
      unknown_material(field + ".material", body.material);
    if (body.kind == BodyKind::branch) return;
    for (const CaseBody* other : lying_) {
      if (body.x.low < other->x.high && other->x.low < body.x.high && body.y.low < other->y.high &&
          other->y.low < body.y.high) {
        refuse(field, "it lies on " + shown(other->name), "bodies that do not overlap");
      }
    }
    lying_.push_back(&body);
  }

  void inspect_probes() {
    for (const CaseProbe& probe : case_.probes) {
      const std::string field = "probe " + shown(probe.name);
      if (probe.name.empty()) refuse("probe.name", "must be given", "a name");
      if (!probes_.insert(probe.name).second) {
        refuse(field, "this name is used twice", "another name");
      }
      const char* beyond = probe.x > case_.size.length   ? ".x"
                           : probe.y > case_.size.width  ? ".y"
                           : probe.z > case_.size.height ? ".z"
                                                         : nullptr;
      if (beyond != nullptr)
        refuse(field + beyond, "the probe is outside the enclosure", inside_text());
      if (probe.lag > Duration::hours(2))
        refuse(field + ".lag", "too slow for a probe", "0s to 2h");
      within(field + ".emissivity", probe.emissivity, 0.1, 1, "not an emissivity");
      if (probe.kind == ProbeKind::gun && probe.lag > Duration()) {
        refuse(field + ".lag", "a temp gun reads at once", "no lag");
      }
    }
  }

  void inspect_thermostats() {
    for (const CaseThermostat& thermostat : case_.thermostats) {
      const std::string field = "thermostat " + shown(thermostat.name);
      if (thermostat.name.empty()) refuse("thermostat.name", "must be given", "a name");
      if (!thermostats_.insert(thermostat.name).second) {
        refuse(field, "this name is used twice", "another name");
      }
      const auto probe = std::find_if(case_.probes.begin(), case_.probes.end(),
                                      [&](const auto& p) { return p.name == thermostat.probe; });
      if (probe == case_.probes.end()) {
        refuse(field + ".probe", "there is no probe of this name", "the name of a [[probe]]",
               thermostat.probe);
      } else if (probe->kind == ProbeKind::gun) {
        refuse(field + ".probe", "a temp gun cannot control a heater", "another kind of probe",
               thermostat.probe);
      }
      temperature(field + ".day", thermostat.day);
      if (thermostat.night) temperature(field + ".night", *thermostat.night);
      if (!(thermostat.band.kelvin() >= 0.05 && thermostat.band.kelvin() <= 20)) {
        refuse(field + ".band", "not a band", "0.05K to 20K", to_text(thermostat.band));
      }
      if (thermostat.ramp > Duration::hours(10)) {
        refuse(field + ".ramp", "a ramp that does not end", "0s to 10h");
      }
      if (thermostat.night && thermostat.day_from == thermostat.night_from) {
        refuse(field + ".day_from", "day and night begin together", "two times");
      }
      const bool used = std::any_of(case_.heaters.begin(), case_.heaters.end(),
                                    [&](const auto& h) { return h.thermostat == thermostat.name; });
      if (!used) {
        refuse(field, "a thermostat without a heater",
               "a [[heater]] with thermostat = \"" + shown(thermostat.name) + "\"");
      }
    }
  }

  void inspect_heater(const CaseHeater& heater) {
    const std::string field = "heater " + shown(heater.name);
    if (heater.name.empty()) refuse("heater.name", "must be given", "a name");
    if (!heaters_.insert(heater.name).second) {
      refuse(field, "this name is used twice", "another name");
    }
    if (!(heater.power > Power::watts(0)) || heater.power > Power::watts(5000)) {
      refuse(field + ".power", "not a power", "more than 0W, at most 5000W", to_text(heater.power));
    }
    if (!heater.thermostat.empty() && !thermostats_.contains(heater.thermostat)) {
      refuse(field + ".thermostat", "there is no thermostat of this name",
             "the name of a [[thermostat]]", heater.thermostat);
    }
    if (!on_floor(heater.x, heater.y)) {
      refuse(field + (heater.x.high > case_.size.length ? ".x" : ".y"),
             covers_area(heater.kind) ? "the heater is larger than its face, or lies beyond it"
                                      : "the heater is outside the enclosure",
             fmt::format("within {} x {}", to_text(case_.size.length), to_text(case_.size.width)));
    }
    if (covers_area(heater.kind)) {
      if (!(heater.x.high > heater.x.low) || !(heater.y.high > heater.y.low)) {
        refuse(field, "the heater covers nothing", "x = \"0cm..30cm\", y = \"0cm..45cm\"");
      }
      if (heater.z) refuse(field + ".z", "only what hangs has a height", "leave it out");
    } else if (!heater.z) {
      refuse(field + ".z", "must be given", "the height at which it hangs");
    } else if (*heater.z > case_.size.height || !(*heater.z > Length())) {
      refuse(field + ".z", "the heater is outside the enclosure or on its floor",
             "more than 0cm, at most " + to_text(case_.size.height), to_text(*heater.z));
    }
    if (heater.radiant_share) share(field + ".radiant_share", *heater.radiant_share);
    if (heater.beam_deg) within(field + ".beam_deg", *heater.beam_deg, 10, 180, "not a beam");
    if (heater.on.has_value() != heater.off.has_value()) {
      refuse(field + ".on", "a timer needs both times", "on and off, such as \"08:00\"");
    }
  }

  const EnclosureCase& case_;
  Problems problems_;
  std::set<std::string> probes_, thermostats_, heaters_, bodies_;
  std::vector<const CaseBody*> lying_;
};

}  // namespace

Result<Span> Span::parse(std::string_view text) {
  if (text.find("..") != std::string_view::npos) {
    const auto range = parse_range<Length>(text);
    if (!range) return range.problem();
    return Span{range->low, range->high};
  }
  const auto place = warmside::parse<Length>(text);
  if (!place) return place.problem();
  return Span{*place, *place};
}

std::string Span::text(UnitSystem units) const {
  return low == high ? to_text(low, units) : to_text(Range<Length>{low, high}, units);
}

bool covers_area(CaseHeaterKind kind) {
  return kind == CaseHeaterKind::mat_under || kind == CaseHeaterKind::mat_inside ||
         kind == CaseHeaterKind::cable || kind == CaseHeaterKind::panel;
}

Percentage usual_radiant_share(CaseHeaterKind kind) {
  switch (kind) {
    case CaseHeaterKind::panel:
      return Percentage::percent(55);
    case CaseHeaterKind::emitter:
      return Percentage::percent(60);
    case CaseHeaterKind::projector:
      return Percentage::percent(75);
    case CaseHeaterKind::lamp:
      return Percentage::percent(80);
    case CaseHeaterKind::tube:
      return Percentage::percent(40);
    default:
      return Percentage::percent(0);
  }
}

double usual_beam_deg(CaseHeaterKind kind) {
  switch (kind) {
    case CaseHeaterKind::lamp:
      return 80;
    default:
      return 90;  // a flat face: half within 45 degrees of its normal
  }
}

const room::Construction* face_of(const CaseFaces& faces, const std::string& face) {
  if (face == "front") return &faces.front;
  if (face == "back") return &faces.back;
  if (face == "left") return &faces.left;
  if (face == "right") return &faces.right;
  if (face == "top") return &faces.top;
  if (face == "bottom") return &faces.bottom;
  return nullptr;
}

Problems check_case(const EnclosureCase& enclosure) {
  return Inspector(enclosure).inspect();
}

}  // namespace warmside::climate
