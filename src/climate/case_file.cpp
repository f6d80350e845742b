#include "climate/case_file.h"

#include <algorithm>
#include <map>

#include "room/toml_reader_internal.h"

namespace warmside::climate {
namespace {

using room::Need;
using room::TableReader;

/// Hands every table of a list to `read`, with a reader of its fields.
class CaseReader {
 public:
  CaseReader(const toml::table& root, std::string file)
      : root_(root), file_(std::move(file)) {}

  Checked<EnclosureCase> read() {
    EnclosureCase out;
    one("case", [&](TableReader& r) { r("name", Need::may, out.name, "what to call it"); });
    one("enclosure", [&](TableReader& r) {
      r("length", Need::must, out.length, "inside, left to right");
      r("width", Need::must, out.width, "inside, front to back");
      r("height", Need::must, out.height, "inside, from the substrate to the lid");
    });
    one("faces", [&](TableReader& r) {
      r("front", Need::must, out.front, "layers from the inside out, such as \"glass 4mm\"");
      r("back", Need::must, out.back, "the back");
      r("left", Need::must, out.left, "the left side");
      r("right", Need::must, out.right, "the right side");
      r("top", Need::must, out.top, "the lid; \"mesh 1mm\" for a mesh lid");
      r("bottom", Need::must, out.bottom, "the floor under the substrate");
    });
    one("substrate", [&](TableReader& r) {
      r("kind", Need::must, out.substrate, "a material, such as \"coco fibre moist\"");
      r("depth", Need::must, out.substrate_depth, "how deep");
    });
    one("openings", [&](TableReader& r) {
      r("lid_covered", Need::may, out.lid_covered, "share of a mesh lid that is covered");
      r("mesh_open", Need::may, out.mesh_open, "open share of the mesh itself");
      r("vents_low", Need::may, out.vents_low, "open area low down");
      r("vents_high", Need::may, out.vents_high, "open area high up");
      r("vents_apart", Need::may, out.vents_apart, "height between the two");
      r("leak_changes_per_h", Need::may, out.leak_changes_per_h, "air changes an hour through gaps");
      r("lid_flow_factor", Need::may, out.lid_flow_factor,
        "times the computed flow through a mesh lid, 0.5 to 2");
    });
    one("room", [&](TableReader& r) {
      r("temperature", Need::may, out.room, "of the room's air");
    });
    each("probe", [&](TableReader& r) {
      CaseProbe probe;
      r("name", Need::must, probe.name, "a name");
      r("kind", Need::may, probe.kind, "what it feels");
      read_place(r, probe.at);
      r("lag", Need::may, probe.lag, "how slow it is");
      out.probes.push_back(std::move(probe));
    });
    each("thermostat", [&](TableReader& r) {
      CaseThermostat t;
      r("name", Need::must, t.name, "a name");
      r("kind", Need::may, t.control, "how it controls");
      r("probe", Need::must, t.probe, "the name of a [[probe]]");
      r("day", Need::must, t.day, "set point by day");
      r("night", Need::may, t.night, "set point by night");
      r("day_from", Need::may, t.day_from, "when the day begins");
      r("night_from", Need::may, t.night_from, "when the night begins");
      r("ramp", Need::may, t.ramp, "how long the change takes");
      r("band", Need::may, t.band, "between switching on and off");
      out.thermostats.push_back(std::move(t));
    });
    each("heater", [&](TableReader& r) { out.heaters.push_back(read_heater(r)); });
    each("neighbour", [&](TableReader& r) {
      Neighbour n;
      r("face", Need::must, n.face, "which face: bottom, left, ...");
      r("temperature", Need::may, n.temperature, "of what lies against it");
      r("insulated", Need::may, n.insulated, "no heat passes");
      out.neighbours.push_back(std::move(n));
    });
    refuse_unknown();
    if (problems_.empty()) place_problems(check_case(out));
    if (!problems_.empty()) return problems_;
    return out;
  }

 private:
  Where where(const toml::node& node, std::string field) const {
    return {file_, static_cast<int>(node.source().begin.line), std::move(field)};
  }

  template <class Read>
  void one(const char* name, Read read) {
    known_.insert(name);
    const toml::node* node = root_.get(name);
    if (node == nullptr) {
      if (std::string_view(name) == "enclosure" || std::string_view(name) == "faces" ||
          std::string_view(name) == "substrate") {
        problems_.push_back({ProblemCode::missing, "must be given", {file_, 0, name},
                             fmt::format("a table [{}]", name), ""});
      }
      return;
    }
    const toml::table* table = node->as_table();
    if (table == nullptr) {
      problems_.push_back({ProblemCode::bad_value, "not a table", where(*node, name),
                           fmt::format("[{}]", name), ""});
      return;
    }
    lines_[name] = static_cast<int>(node->source().begin.line);
    TableReader reader(*table, where(*node, name), problems_);
    read(reader);
    reader.refuse_unknown();
    note_lines(name, *table);
  }

  template <class Read>
  void each(const char* name, Read read) {
    known_.insert(name);
    const toml::node* node = root_.get(name);
    if (node == nullptr) return;
    const toml::array* list = node->as_array();
    if (list == nullptr || !list->is_array_of_tables()) {
      problems_.push_back({ProblemCode::bad_value, "not a list of tables", where(*node, name),
                           fmt::format("[[{}]] before each", name), ""});
      return;
    }
    for (const toml::node& item : *list) {
      const toml::table& table = *item.as_table();
      const auto title = table["name"].value_or(table["face"].value_or(std::string()));
      TableReader reader(table, where(item, name), problems_);
      read(reader);
      reader.refuse_unknown();
      note_lines(fmt::format("{} {}", name, title), table);
      lines_[fmt::format("{} {}", name, title)] = static_cast<int>(item.source().begin.line);
    }
  }

  void note_lines(const std::string& prefix, const toml::table& table) {
    for (const auto& [key, node] : table) {
      lines_[fmt::format("{}.{}", prefix, std::string_view(key.str()))] =
          static_cast<int>(node.source().begin.line);
    }
  }

  static void read_place(TableReader& r, Place& at) {
    r("x", Need::must, at.x, "from the left");
    r("y", Need::must, at.y, "from the front");
    r("z", Need::must, at.z, "from the floor");
  }

  CaseHeater read_heater(TableReader& r) {
    CaseHeater heater;
    r("name", Need::must, heater.name, "a name");
    r("kind", Need::must, heater.kind, "what it is");
    r("power", Need::must, heater.power, "as printed on it");
    r("thermostat", Need::may, heater.thermostat, "the name of a [[thermostat]]");
    r("radiant_share", Need::may, heater.radiant_share, "share that leaves as radiation");
    r("beam_deg", Need::may, heater.beam_deg, "angle within which half of it goes");
    r("on", Need::may, heater.on, "timer, such as \"08:00\"");
    r("off", Need::may, heater.off, "timer");
    std::optional<Range<Length>> x, y;
    const bool hangs = heater.kind == CaseHeaterKind::lamp || heater.kind == CaseHeaterKind::tube ||
                       heater.kind == CaseHeaterKind::emitter ||
                       heater.kind == CaseHeaterKind::projector;
    if (hangs) {
      Place at;
      read_place(r, at);
      heater.at = at;
    } else {
      r("x", Need::must, x, "what it covers from the left, such as \"0cm..30cm\"");
      r("y", Need::must, y, "what it covers from the front");
      if (x && y) heater.covers = Footprint{x->low, x->high, y->low, y->high};
    }
    return heater;
  }

  void refuse_unknown() {
    for (const auto& [key, node] : root_) {
      if (known_.contains(std::string(key.str()))) continue;
      problems_.push_back({ProblemCode::unknown_name, "no such part of a case",
                           where(node, shown(key.str())),
                           fmt::format("one of {}", fmt::join(known_, ", ")), ""});
    }
  }

  /// Gives each problem of the whole case the line of the field it is about.
  void place_problems(Problems found) {
    for (Problem& problem : found) {
      std::string field = problem.where.field;
      problem.where.file = file_;
      while (!field.empty() && problem.where.line == 0) {
        if (const auto at = lines_.find(field); at != lines_.end()) problem.where.line = at->second;
        const auto dot = field.rfind('.');
        field = dot == std::string::npos ? "" : field.substr(0, dot);
      }
      problems_.push_back(std::move(problem));
    }
  }

  const toml::table& root_;
  std::string file_;
  Problems problems_;
  std::set<std::string> known_;
  std::map<std::string, int> lines_;
};

}  // namespace

Checked<EnclosureCase> read_case_file(std::string_view text, const std::string& file_name) {
  const auto root = room::parse_toml(text, file_name, "a case file as in docs/case-file.md");
  if (!root) return root.problem();
  return CaseReader(*root, file_name).read();
}

}  // namespace warmside::climate
