#include "climate/case_from_room.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "climate/materials.h"
#include "core/letters.h"
#include "room/lamp_place.h"
#include "room/look_up.h"

namespace warmside::climate {
namespace {

// All that is assumed here is common practice, no source.
constexpr double kMat_w_per_m2 = 200;  // a mat whose size is not written down
constexpr double kDish_m2 = 0.02, kDishShare = 0.08;
constexpr double kCutHalf = 0.5;  // of a door's gap, low and high
constexpr double kWarmEnd = 0.2;  // of the length: where "warm side" is
constexpr double kBeside = 0.1;
constexpr double kProbeHeight_m = 0.03, kProbeLag_s = 60;
constexpr double kHumidRange = 0.5;  // who wants more has damp ground,
constexpr double kWetRange = 0.7;    // or plants and wet ground
const Temperature kRoomDay = Temperature::celsius(21);

bool has(const std::string& text, std::initializer_list<const char*> words) {
  return std::any_of(words.begin(), words.end(),
                     [&](const char* word) { return text.find(word) != std::string::npos; });
}

/// A length to the millimetre, so that the case reads well.
Length rounded(Length x) {
  return Length::millimetres(std::round(x.millimetres()));
}
Area rounded(Area x) {
  return Area::square_centimetres(std::round(x.square_centimetres() * 10) / 10);
}

/// A span of the length by the words of a place: "left third", "right half", "middle".
Span along_length(const std::string& place, double length, double wanted) {
  const double share = has(place, {"third"}) ? 1.0 / 3 : has(place, {"half"}) ? 0.5 : 0;
  const double room_for = share > 0 ? share * length : length;
  const double wide = std::min(wanted > 0 ? wanted : room_for, length);
  double low = 0.03 * length;
  if (has(place, {"right"})) {
    low = length - wide - 0.03 * length;
  } else if (has(place, {"middle", "centre", "center"})) {
    low = 0.5 * (length - wide);
  }
  low = std::clamp(low, 0.0, length - wide);
  return {rounded(Length::metres(low)), rounded(Length::metres(low + wide))};
}

class FromRoom {
 public:
  FromRoom(const room::Day& day, const room::Enclosure& enclosure)
      : day_(day), room_(*day.room), book_(enclosure) {}

  Result<CaseFromRoom> make() {
    if (!book_.length || !book_.width || !book_.height) {
      return missing("length, width and height", "the inside size of the enclosure");
    }
    EnclosureCase& c = out_.enclosure;
    c.size = {room::called(book_), *book_.length, *book_.width, *book_.height};
    if (!add_faces()) return missing("front, back, ...", "what at least one face is made of");
    add_substrate();
    add_openings();
    add_neighbours();
    add_room();
    add_dish();
    add_heaters();
    round_lengths();
    if (auto wrong = check_case(c); !wrong.empty()) {
      Problem problem = wrong.front();
      problem.where.field = fmt::format("enclosure {}: {}", book_.id.text(), problem.where.field);
      return problem;
    }
    return std::move(out_);
  }

 private:
  Problem missing(const char* field, const char* expected) const {
    return {ProblemCode::missing,
            "the book does not say enough to compute its climate",
            {"", 0, fmt::format("enclosure {}.{}", book_.id.text(), field)},
            expected,
            ""};
  }
  template <class... Args>
  void assume(fmt::format_string<Args...> form, Args&&... args) {
    out_.assumed.push_back(fmt::format(form, std::forward<Args>(args)...));
  }

  double length() const { return book_.length->metres(); }
  double width() const { return book_.width->metres(); }
  double height() const { return book_.height->metres(); }

  bool add_faces() {
    const std::optional<room::Construction>* faces[] = {&book_.front, &book_.back,   &book_.left,
                                                        &book_.right, &book_.bottom, &book_.top};
    room::Construction* made[] = {&out_.enclosure.faces.front,  &out_.enclosure.faces.back,
                                  &out_.enclosure.faces.left,   &out_.enclosure.faces.right,
                                  &out_.enclosure.faces.bottom, &out_.enclosure.faces.top};
    const room::Construction* any = nullptr;
    for (const auto* face : faces) {
      if (face->has_value() && face->value().layers.front().material != "mesh") any = &**face;
    }
    if (any == nullptr) return false;
    std::string guessed;
    constexpr const char* kNames[] = {"front", "back", "left", "right", "bottom", "top"};
    for (std::size_t i = 0; i < 6; ++i) {
      *made[i] = faces[i]->has_value() ? **faces[i] : *any;
      if (!faces[i]->has_value()) guessed += (guessed.empty() ? "" : ", ") + std::string(kNames[i]);
    }
    if (!guessed.empty()) {
      assume("Not written down, so taken to be of {}: {}.", room::to_text(*any), guessed);
    }
    // A material that the table lacks is taken for the nearest that is common.
    for (room::Construction* face : made) {
      for (room::Layer& layer : face->layers) {
        if (find_material(layer.material) != nullptr) continue;
        assume("\"{}\" is not in the table of materials; taken for pvc.", layer.material);
        layer.material = "pvc";
      }
    }
    return true;
  }

  /// The lowest humidity that an animal here wants, 0..1.
  double wanted_humidity() const {
    double most = 0;
    for (const room::AnimalDay* animal : day_.animals_in(book_.id)) {
      const auto* humidity = animal->profile.value<Range<Percentage>>(species::Key::humidity);
      if (humidity != nullptr) most = std::max(most, humidity->low.share());
    }
    return most;
  }

  void add_substrate() {
    CaseSubstrate& ground = out_.enclosure.substrate;
    const std::string words = lower(book_.substrate);
    const bool wet = wanted_humidity() >= kWetRange, damp = wanted_humidity() >= kHumidRange;
    const char* dry = "coco fibre";
    const char* moist = "coco fibre moist";
    if (has(words, {"paper", "towel", "cardboard"})) {
      dry = moist = "paper";
    } else if (has(words, {"aspen", "shaving", "hemp", "beech"})) {
      dry = moist = "aspen shavings";
    } else if (has(words, {"coir", "coco", "peat"})) {
      // as set
    } else if (has(words, {"bark", "mulch", "chips", "cypress", "fern"})) {
      dry = "bark chips";
      moist = "bark chips moist";
    } else if (has(words, {"loam", "soil", "earth"})) {
      dry = "soil mix";
      moist = "soil mix moist";
    } else if (has(words, {"sand"})) {
      dry = "sand";
      moist = "sand moist";
    } else if (find_material(words) != nullptr) {
      dry = moist = words.c_str();
    } else {
      assume("Ground \"{}\" is not in the table; taken for coco fibre.", book_.substrate);
    }
    ground.kind = damp ? moist : dry;
    ground.depth = book_.substrate_depth.value_or(Length::centimetres(3));
    ground.depth = std::clamp(ground.depth, Length::millimetres(1), Length::metres(1));
    if (!book_.substrate_depth) assume("The ground is taken to be 3 cm deep.");
    if (damp) {
      ground.wetness = Percentage::percent(wet ? 80 : 30);
      assume(
          "The animals want humid air, so the ground is taken to be moist, {} of its surface wet.",
          wet ? "with its plants eight tenths" : "three tenths");
    }
  }

  void add_openings() {
    CaseOpenings& open = out_.enclosure.openings;
    open.lid_covered = book_.lid_covered.value_or(Percentage::percent(0));
    if (book_.mesh_open) open.mesh_open = *book_.mesh_open;
    open.vents_low = book_.vents_low.value_or(Area());
    open.vents_high = book_.vents_high.value_or(Area());
    if (book_.door_gap) {
      const Area gap = Area::square_metres(book_.door_gap->metres() * 2 * height());
      open.vents_low += gap * kCutHalf;
      open.vents_high += gap * kCutHalf;
    }
    open.vents_apart = *book_.height * 0.8;
  }

  /// In a rack the enclosure above and the one below are about as warm.
  void add_neighbours() {
    if (book_.rack.empty() || !book_.shelf) return;
    const bool mesh = out_.enclosure.faces.top.layers.front().material == "mesh";
    for (const room::Enclosure& other : room_.enclosures) {
      if (other.id == book_.id || other.rack != book_.rack || !room::in_use(other, day_.date) ||
          other.position != book_.position || !other.shelf) {
        continue;
      }
      const bool above = *other.shelf == *book_.shelf + 1, below = *other.shelf == *book_.shelf - 1;
      if (!below && !(above && !mesh)) continue;
      CaseNeighbour neighbour;
      neighbour.face = above ? "top" : "bottom";
      neighbour.insulated = true;
      out_.enclosure.neighbours.push_back(neighbour);
      assume("{} stands {} it and is taken to be as warm.", room::called(other),
             above ? "on" : "under");
    }
  }

  void add_room() {
    CaseRoom& around = out_.enclosure.room;
    around.temperature = kRoomDay;
    bool known = false;
    for (const room::Heater& heater : room_.heaters) {
      if (heater.kind != room::HeaterKind::room_heater || !room::in_use(heater, day_.date))
        continue;
      for (const room::Thermostat& thermostat : room_.thermostats) {
        if (thermostat.id != heater.thermostat || !thermostat.day) continue;
        around.temperature = *thermostat.day;
        if (thermostat.night && *thermostat.night < *thermostat.day) {
          around.night_drop = *thermostat.day - *thermostat.night;
        }
        known = true;
      }
    }
    if (known) {
      assume("The room is taken to be at its heater's set point, at 45 % humidity.");
    } else {
      assume("The room is taken to be at {} and 45 % humidity.",
             for_people(kRoomDay, room_.info.units));
    }
    around.humidity = Percentage::percent(45);
  }

  void add_dish() {
    if (!book_.water_dish) return;
    CaseDish dish;
    dish.area = Area::square_metres(std::min(kDish_m2, kDishShare * length() * width()));
    dish.x = *book_.length * 0.8;
    dish.y = *book_.width * 0.2;
    dish.depth = Length::centimetres(4);
    out_.enclosure.dish = dish;
  }

  void round_lengths() {
    EnclosureCase& c = out_.enclosure;
    for (Area* area : {&c.openings.vents_low, &c.openings.vents_high}) *area = rounded(*area);
    c.openings.vents_apart = rounded(c.openings.vents_apart);
    if (c.dish) {
      c.dish->x = rounded(c.dish->x);
      c.dish->y = rounded(c.dish->y);
      c.dish->area = rounded(c.dish->area);
    }
    for (CaseProbe& probe : c.probes) {
      for (Length* at : {&probe.x, &probe.y, &probe.z}) *at = rounded(*at);
    }
    for (CaseHeater& heater : c.heaters) {
      for (Span* span : {&heater.x, &heater.y}) *span = {rounded(span->low), rounded(span->high)};
      if (heater.z) heater.z = std::min(rounded(*heater.z), c.size.height);
    }
  }

  // --- heat and light ---

  void add_heaters() {
    for (const room::Heater& heater : room_.heaters) {
      if (heater.enclosure != book_.id || !room::in_use(heater, day_.date)) continue;
      if (heater.kind != room::HeaterKind::room_heater) add_heater(heater);
    }
    for (const room::Lamp& lamp : room_.lamps) {
      if (lamp.enclosure == book_.id && room::in_use(lamp, day_.date)) add_lamp(lamp);
    }
  }

  void add_heater(const room::Heater& heater) {
    CaseHeater made;
    made.name = heater.id.text();
    if (!heater.power) {
      assume("{}: its power is not written down; left out.", made.name);
      return;
    }
    made.power = *heater.power;
    const std::string place = lower(heater.place);
    const double area = made.power.watts() / kMat_w_per_m2;
    double along = heater.length ? heater.length->metres() : 0;
    double deep = heater.width ? heater.width->metres() : 0;
    switch (heater.kind) {
      case room::HeaterKind::mat:
        made.kind = has(place, {"inside", "in the ground", "in the substrate"})
                        ? CaseHeaterKind::mat_inside
                        : CaseHeaterKind::mat_under;
        break;
      case room::HeaterKind::cable:
        made.kind = CaseHeaterKind::cable;
        if (has(place, {"behind", "wall", "back"})) {
          assume("{}: counted as if it lay in the floor, not behind a wall.", made.name);
        }
        break;
      case room::HeaterKind::panel:
        made.kind = CaseHeaterKind::panel;
        break;
      case room::HeaterKind::ceramic:
        made.kind = CaseHeaterKind::emitter;
        break;
      case room::HeaterKind::projector:
        made.kind = CaseHeaterKind::projector;
        break;
      case room::HeaterKind::water_heater:
        assume("{}: it heats water; its warmth is left out.", made.name);
        return;
      case room::HeaterKind::room_heater:
        return;
    }
    if (covers_area(made.kind)) {
      if (!(along > 0 && deep > 0)) {
        deep = std::min(0.7 * width(), std::sqrt(area));
        along = std::min(area / deep, 0.9 * length());
        assume("{}: its size is not written down; taken as {} by {}.", made.name,
               for_people(Length::metres(along), room_.info.units),
               for_people(Length::metres(deep), room_.info.units));
      }
      deep = std::min(deep, width());
      made.x = along_length(place, length(), std::min(along, length()));
      made.y = {Length::metres(0.5 * (width() - deep)), Length::metres(0.5 * (width() + deep))};
    } else {
      hang(place, made);
      const bool mesh = out_.enclosure.faces.top.layers.front().material == "mesh";
      made.z = *book_.height *
               (mesh && has(place, {"on the lid", "above the lid", "over the lid"}) ? 1.0 : 0.85);
    }
    made.thermostat = thermostat_for(heater.thermostat, made);
    out_.enclosure.heaters.push_back(std::move(made));
  }

  void hang(const std::string& place, CaseHeater& made) const {
    const auto at = room::hanging_by_words(place, *book_.length, *book_.width);
    made.x = {at.from_left, at.from_left};
    made.y = {at.from_front, at.from_front};
  }

  void add_lamp(const room::Lamp& lamp) {
    CaseHeater made;
    made.name = lamp.id.text();
    if (!lamp.power) {
      assume("{}: its power is not written down; left out.", made.name);
      return;
    }
    made.power = *lamp.power;
    const auto place = *room::lamp_place(lamp, book_, room_.info.units);  // the sizes are known
    made.kind = room::is_tube(lamp.kind) ? CaseHeaterKind::tube : CaseHeaterKind::lamp;
    made.x = {std::clamp(place.from_left - place.span / 2, Length(), *book_.length),
              std::clamp(place.from_left + place.span / 2, Length(), *book_.length)};
    const Length deep = std::clamp(place.from_front, Length(), *book_.width);
    made.y = {deep, deep};
    if (place.over_lid && out_.enclosure.faces.top.layers.front().material != "mesh") {
      assume("{}: it lies on a closed lid, so its warmth is left out.", made.name);
      return;
    }
    made.z = std::min(place.above_floor, *book_.height);
    for (const room::Timer& timer : room_.timers) {
      if (timer.id == lamp.timer && timer.on && timer.off) {
        made.on = timer.on;
        made.off = timer.off;
      }
    }
    made.thermostat = thermostat_for(lamp.thermostat, made);
    out_.enclosure.heaters.push_back(std::move(made));
  }

  /// The thermostat's name in the case, made with its probe at its first use; empty: none.
  std::string thermostat_for(const room::ThermostatId& id, const CaseHeater& heater) {
    if (id.empty()) return "";
    const auto known = std::find_if(room_.thermostats.begin(), room_.thermostats.end(),
                                    [&](const auto& t) { return t.id == id; });
    if (known == room_.thermostats.end() || !known->day || !room::in_use(*known, day_.date)) {
      return "";
    }
    auto& all = out_.enclosure.thermostats;
    if (std::any_of(all.begin(), all.end(), [&](const auto& t) { return t.name == id.text(); })) {
      return id.text();
    }
    CaseProbe probe;
    probe.name = known->probe_place.empty() ? "probe of " + id.text() : known->probe_place;
    const auto& probes = out_.enclosure.probes;
    if (std::any_of(probes.begin(), probes.end(),
                    [&](const auto& p) { return p.name == probe.name; })) {
      probe.name += " of " + id.text();
    }
    const std::string place = lower(known->probe_place);
    const bool surface = has(place, {"floor", "ground", "mat", "surface", "slate", "stone"});
    probe.kind = surface ? ProbeKind::surface : ProbeKind::bare;
    // Of a lamp the probe hangs beside the beam's middle.
    const Length beside = covers_area(heater.kind) ? Length() : *book_.length * kBeside;
    const bool right = heater.x.middle() > *book_.length / 2;
    probe.x = has(place, {"cool", "cold"}) ? *book_.length * (1 - kWarmEnd)
              : right                      ? heater.x.middle() - beside
                                           : heater.x.middle() + beside;
    probe.y = *book_.width * 0.5;
    probe.z = surface ? Length() : std::min(Length::metres(kProbeHeight_m), *book_.height * 0.5);
    probe.lag = Duration::seconds(kProbeLag_s);
    if (!surface) {
      assume("The probe \"{}\" is taken to hang bare in the air, {} above the ground.", probe.name,
             for_people(probe.z, room_.info.units));
    }
    CaseThermostat made;
    made.name = id.text();
    made.control = known->kind;
    made.probe = probe.name;
    made.day = *known->day;
    made.night = known->night;
    made.band = known->hysteresis.value_or(TemperatureDelta::kelvin(1));
    if (heater.on && heater.on != heater.off) {
      made.day_from = *heater.on;
      made.night_from = *heater.off;
    }
    out_.enclosure.probes.push_back(std::move(probe));
    out_.enclosure.thermostats.push_back(std::move(made));
    return id.text();
  }

  const room::Day& day_;
  const room::Room& room_;
  const room::Enclosure& book_;
  CaseFromRoom out_;
};

}  // namespace

Result<CaseFromRoom> case_from_room(const room::Day& day, const room::Enclosure& enclosure) {
  return FromRoom(day, enclosure).make();
}

}  // namespace warmside::climate
