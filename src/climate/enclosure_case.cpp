#include "climate/enclosure_case.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "climate/materials.h"

namespace warmside::climate {
namespace {

constexpr const char* kFaces[] = {"front", "back", "left", "right", "top", "bottom"};

bool is_area_heater(CaseHeaterKind kind) {
  return kind == CaseHeaterKind::mat_under || kind == CaseHeaterKind::mat_inside ||
         kind == CaseHeaterKind::cable || kind == CaseHeaterKind::panel;
}

class Inspector {
 public:
  explicit Inspector(const EnclosureCase& c) : case_(c) {}

  Problems inspect() {
    size("enclosure.length", case_.length, Length::centimetres(5), Length::metres(10));
    size("enclosure.width", case_.width, Length::centimetres(5), Length::metres(10));
    size("enclosure.height", case_.height, Length::centimetres(5), Length::metres(5));
    size("substrate.depth", case_.substrate_depth, Length::millimetres(1), Length::metres(1));
    if (find_material(case_.substrate) == nullptr) unknown_material("substrate.kind", case_.substrate);
    for (const char* face : kFaces) inspect_face(face, *face_of(case_, face));
    share("openings.lid_covered", case_.lid_covered);
    share("openings.mesh_open", case_.mesh_open);
    if (!(case_.leak_changes_per_h >= 0 && case_.leak_changes_per_h <= 60)) {
      refuse("openings.leak_changes_per_h", "not a rate of leaking", "0 to 60 changes an hour");
    }
    if (!(case_.lid_flow_factor >= 0.1 && case_.lid_flow_factor <= 10)) {
      refuse("openings.lid_flow_factor", "not a factor that flow can have", "0.1 to 10");
    }
    inspect_probes();
    inspect_thermostats();
    for (const CaseHeater& heater : case_.heaters) inspect_heater(heater);
    for (const Neighbour& neighbour : case_.neighbours) {
      if (face_of(case_, neighbour.face) == nullptr) {
        refuse("neighbour.face", "no such face", "front, back, left, right, top or bottom",
               neighbour.face);
      }
    }
    return std::move(problems_);
  }

 private:
  void refuse(std::string field, std::string what, std::string expected, std::string found = "") {
    problems_.push_back({ProblemCode::out_of_range, std::move(what), {"", 0, std::move(field)},
                         std::move(expected), shown(found)});
  }
  void size(const char* field, Length value, Length lowest, Length highest) {
    if (value < lowest || value > highest) {
      refuse(field, "not a size that an enclosure has",
             fmt::format("{} to {}", to_text(lowest), to_text(highest)), to_text(value));
    }
  }
  void share(const char* field, Percentage value) {
    if (value.share() > 1) refuse(field, "more than the whole", "0% to 100%", to_text(value));
  }
  void unknown_material(std::string field, const std::string& name) {
    std::string known;
    for (const Material& material : materials()) {
      known += (known.empty() ? "" : ", ") + material.name;
    }
    refuse(std::move(field), "a material that is not listed", "one of " + known, name);
  }

  void inspect_face(const std::string& face, const room::Construction& construction) {
    if (construction.layers.empty()) {
      refuse("faces." + face, "made of nothing", "layers such as \"glass 4mm\"");
    }
    for (const room::Layer& layer : construction.layers) {
      if (find_material(layer.material) == nullptr) unknown_material("faces." + face, layer.material);
      const bool mesh = layer.material == "mesh";
      if (mesh && (face != "top" || construction.layers.size() != 1)) {
        refuse("faces." + face, "a mesh that is not the whole top",
               "mesh only as the one layer of the top; other openings as vents");
      }
    }
  }

  bool inside(const Place& at) const {
    return at.x <= case_.length && at.y <= case_.width && at.z <= case_.height;
  }

  void inspect_probes() {
    for (const CaseProbe& probe : case_.probes) {
      const std::string field = "probe " + probe.name;
      if (probe.name.empty()) refuse("probe.name", "must be given", "a name");
      if (!probes_.insert(probe.name).second) refuse(field, "this name is used twice", "");
      if (!inside(probe.at)) {
        refuse(field, "the probe is outside the enclosure",
               fmt::format("x, y, z within {} x {} x {}", to_text(case_.length),
                           to_text(case_.width), to_text(case_.height)));
      }
    }
  }

  void inspect_thermostats() {
    for (const CaseThermostat& thermostat : case_.thermostats) {
      const std::string field = "thermostat " + thermostat.name;
      if (thermostat.name.empty()) refuse("thermostat.name", "must be given", "a name");
      if (!thermostats_.insert(thermostat.name).second) {
        refuse(field, "this name is used twice", "");
      }
      if (!probes_.contains(thermostat.probe)) {
        refuse(field + ".probe", "there is no probe of this name", "the name of a [[probe]]",
               thermostat.probe);
      }
      if (!(thermostat.band.kelvin() > 0)) refuse(field + ".band", "no band", "more than 0K");
      const bool used = std::any_of(case_.heaters.begin(), case_.heaters.end(), [&](const auto& h) {
        return h.thermostat == thermostat.name;
      });
      if (!used) {
        refuse(field, "a thermostat without a heater",
               "a [[heater]] with thermostat = \"" + thermostat.name + "\"");
      }
    }
  }

  void inspect_heater(const CaseHeater& heater) {
    const std::string field = "heater " + heater.name;
    if (heater.name.empty()) refuse("heater.name", "must be given", "a name");
    if (!heaters_.insert(heater.name).second) refuse(field, "this name is used twice", "");
    if (!(heater.power > Power::watts(0)) || heater.power > Power::watts(5000)) {
      refuse(field + ".power", "not a power", "more than 0W, at most 5000W", to_text(heater.power));
    }
    if (!heater.thermostat.empty() && !thermostats_.contains(heater.thermostat)) {
      refuse(field + ".thermostat", "there is no thermostat of this name",
             "the name of a [[thermostat]]", heater.thermostat);
    }
    if (is_area_heater(heater.kind)) {
      if (!heater.covers) {
        refuse(field + ".x", "must be given", "what it covers: x = \"0cm..30cm\", y = \"0cm..45cm\"");
      } else if (heater.covers->x_high > case_.length || heater.covers->y_high > case_.width) {
        refuse(field, "the heater is larger than its face, or lies beyond it",
               fmt::format("within {} x {}", to_text(case_.length), to_text(case_.width)));
      } else if (!(heater.covers->x_high > heater.covers->x_low) ||
                 !(heater.covers->y_high > heater.covers->y_low)) {
        refuse(field, "the heater covers nothing", "a range from low to high");
      }
    } else {
      if (!heater.at) {
        refuse(field + ".x", "must be given", "where it hangs: x, y and z");
      } else if (!inside(*heater.at) || !(heater.at->z > Length::metres(0))) {
        refuse(field, "the heater is outside the enclosure or on its floor",
               fmt::format("x, y, z within {} x {} x {}", to_text(case_.length),
                           to_text(case_.width), to_text(case_.height)));
      }
      share((field + ".radiant_share").c_str(), heater.radiant_share);
      if (!(heater.beam_deg >= 10 && heater.beam_deg <= 180)) {
        refuse(field + ".beam_deg", "not an angle of a beam", "10 to 180");
      }
    }
    if (heater.on.has_value() != heater.off.has_value()) {
      refuse(field + ".on", "a timer needs both times", "on and off, such as \"08:00\"");
    }
  }

  const EnclosureCase& case_;
  Problems problems_;
  std::set<std::string> probes_, thermostats_, heaters_;
};

}  // namespace

const room::Construction* face_of(const EnclosureCase& enclosure, const std::string& face) {
  if (face == "front") return &enclosure.front;
  if (face == "back") return &enclosure.back;
  if (face == "left") return &enclosure.left;
  if (face == "right") return &enclosure.right;
  if (face == "top") return &enclosure.top;
  if (face == "bottom") return &enclosure.bottom;
  return nullptr;
}

Problems check_case(const EnclosureCase& enclosure) { return Inspector(enclosure).inspect(); }

}  // namespace warmside::climate
