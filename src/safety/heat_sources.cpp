#include "safety/heat_sources.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "core/letters.h"
#include "species/care_rules.h"

namespace warmside::safety {
namespace {

using room::Answer;
using room::HeaterKind;
using room::LampKind;

/// Whether words, such as "a plywood shelf", name something that heat can char or melt.
bool can_burn(std::string_view words) {
  constexpr std::string_view kBurns[] = {
      "wood",        "ply", "board", "mdf",    "osb",     "laminate", "veneer", "cork",
      "carpet",      "rug", "cloth", "fabric", "felt",    "paper",    "foam",   "styro",
      "polystyrene", "eps", "xps",   "straw",  "plastic", "vinyl"};
  constexpr std::string_view kDoesNot[] = {"plasterboard", "gypsum board", "cement board"};
  std::string text = lower(words);
  for (const std::string_view harmless : kDoesNot) {
    for (std::size_t at = text.find(harmless); at != std::string::npos; at = text.find(harmless)) {
      text.erase(at, harmless.size());
    }
  }
  return names_any(text, kBurns);
}

/// Whether the keeper has written that nothing is there.
bool says_nothing(std::string_view words) {
  const std::string text = lower(words);
  return text == "nothing" || text == "none";
}

/// Whether a probe's place lies outside the enclosure, as the keeper's words have it. "Outside the
/// warm hide" is inside.
bool is_outside(std::string_view probe_place) {
  constexpr std::string_view kPlaces[] = {
      "outside the enclosure", "outside the tank", "outside the vivarium", "outside the terrarium",
      "outside the tub",       "outside the box",  "outside the glass",    "out of the enclosure"};
  const std::string text = lower(probe_place);
  return text == "outside" || names_any(text, kPlaces);
}

/// Whether a mat or cable lies under the floor or the ground, as the keeper's words have it.
bool lies_under(std::string_view place) {
  constexpr std::string_view kPlaces[] = {"under", "floor", "below", "beneath", "bottom"};
  return names_any(lower(place), kPlaces);
}

class HeatJudge {
 public:
  explicit HeatJudge(const room::Day& day)
      : day_(day),
        room_(*day.room),
        units_(room_.info.units),
        rules_(species::care_rules()),
        hot_clearance_(*parse_range<Length>(rules_.rule("hot_clearance").value)) {}

  Judged judge() {
    for (const room::Heater& heater : room_.heaters) {
      if (room::in_use(heater, day_.date)) judge_heater(heater);
    }
    for (const room::Lamp& lamp : room_.lamps) {
      if (room::in_use(lamp, day_.date) && is_hot(lamp.kind)) judge_lamp(lamp);
    }
    for (const room::Thermostat& thermostat : room_.thermostats) {
      if (room::in_use(thermostat, day_.date)) judge_thermostat(thermostat);
    }
    for (const room::Enclosure& enclosure : room_.enclosures) judge_thermometer(enclosure);
    return std::move(out_);
  }

 private:
  const room::Thermostat* working(const room::ThermostatId& id) const {
    const room::Thermostat* thermostat = room::find(room_.thermostats, id);
    return thermostat != nullptr && room::in_use(*thermostat, day_.date) ? thermostat : nullptr;
  }
  bool inhabited(const room::EnclosureId& id) const { return !day_.animals_in(id).empty(); }

  static std::string called(const room::Heater& heater) {
    return heater.kind == HeaterKind::mat ? "heat mat" : std::string(word(heater.kind));
  }
  static std::string called(const room::Lamp& lamp) {
    return fmt::format("{} lamp", word(lamp.kind));
  }
  /// "heat mat in Skink table".
  template <class Source>
  std::string in_place(const Source& source) const {
    return fmt::format("{} in {}", called(source), place_of(room_, source.enclosure));
  }
  template <class Source>
  std::string power_of(const Source& source) const {
    return source.power ? ", " + for_people(*source.power, units_) : "";
  }

  // --- one heater, one hot lamp ---

  void judge_heater(const room::Heater& heater) {
    if (working(heater.thermostat) == nullptr) {
      add(When::now, "heater", heater.id.text(),
          fmt::format("The {} runs without a thermostat", in_place(heater)),
          fmt::format("{} \"{}\"{}: no thermostat in use is named for it.",
                      heater.kind == HeaterKind::mat ? "Heat mat" : "Heater", heater.id.text(),
                      power_of(heater)),
          "Unplug it, or put a thermostat before it with the probe between heater and animal, "
          "before the animal goes back on it: an unregulated heater can burn an animal and start "
          "a fire.");
    }
    if (heater.kind == HeaterKind::mat || heater.kind == HeaterKind::cable) judge_mat(heater);
    if (heater.kind == HeaterKind::room_heater) {
      judge_clearance("heater", heater, rules_.value<Length>("room_heater_clearance"));
    } else if (is_hot(heater.kind)) {
      judge_clearance("heater", heater, hot_clearance_.high);
    }
    if (is_hot(heater.kind)) judge_reach("heater", heater);
  }

  void judge_lamp(const room::Lamp& lamp) {
    judge_clearance("lamp", lamp, hot_clearance_.high);
    judge_reach("lamp", lamp);
    if (!inhabited(lamp.enclosure) || working(lamp.thermostat) != nullptr) return;
    if (room::find(room_.timers, lamp.timer) == nullptr) {
      add(When::today, "lamp", lamp.id.text(),
          fmt::format("The {} has neither thermostat nor timer", in_place(lamp)),
          fmt::format("Lamp \"{}\"{}: neither a thermostat in use nor a timer is named for it, and "
                      "an animal lives there.",
                      lamp.id.text(), power_of(lamp)),
          "Put a timer before it, and a dimming thermostat where the lamp can be dimmed, with the "
          "probe where the animal basks: switched by hand, it will be left on or off one day.");
    } else if (lamp.kind == LampKind::halogen) {
      add(When::good_to_know, "lamp", lamp.id.text(),
          fmt::format("The {} is on a timer, without a thermostat", in_place(lamp)),
          fmt::format("Lamp \"{}\"{}: on a hot day it heats as on a cold one.", lamp.id.text(),
                      power_of(lamp)),
          "Common, and fine while the basking place stays inside its range on the warmest day: "
          "measure it then. A dimming thermostat made for lamps holds it.");
    }
  }

  // --- mats ---

  void judge_mat(const room::Heater& heater) {
    const room::Enclosure* enclosure = room::find(room_.enclosures, heater.enclosure);
    if (enclosure == nullptr) return;
    if (heater.place.empty()) {
      gap("the place of", heater.id.text());
    } else if (lies_under(heater.place)) {
      judge_substrate(heater, *enclosure);
      judge_floor(heater, *enclosure);
    }
    judge_behind(heater);
  }

  void judge_substrate(const room::Heater& heater, const room::Enclosure& enclosure) {
    const Length most = rules_.value<Length>("mat_substrate_depth");
    if (!enclosure.substrate_depth) {
      gap("the depth of the substrate in", enclosure.id.text());
    } else if (*enclosure.substrate_depth > most) {
      add(When::this_week, "heater", heater.id.text(),
          fmt::format("Deep substrate lies over the {}", in_place(heater)),
          fmt::format("\"{}\" lies {}; {} of {} over it, more than {}.", heater.id.text(),
                      heater.place, for_people(*enclosure.substrate_depth, units_),
                      enclosure.substrate.empty() ? "substrate" : enclosure.substrate,
                      for_people(most, units_)),
          "Take substrate away over it, or heat from above: deep ground holds the heat in, the "
          "probe above does not feel it, and an animal that digs lies on the hottest place.");
    }
  }

  void judge_floor(const room::Heater& heater, const room::Enclosure& enclosure) {
    if (!enclosure.bottom || !can_burn(enclosure.bottom->layers.back().material)) return;
    add(When::this_week, "heater", heater.id.text(),
        fmt::format("The {} lies against wood or the like", in_place(heater)),
        fmt::format("\"{}\" lies {}, and the floor's outer side is {}.", heater.id.text(),
                    heater.place, enclosure.bottom->layers.back().material),
        "Take it out from under there: such a floor holds the heat in and can char. Mats are made "
        "for glass or for inside, as their label says.");
  }

  void judge_behind(const room::Heater& heater) {
    if (heater.behind.empty()) {
      if (heater.kind == HeaterKind::mat) gap("what lies behind", heater.id.text());
      return;
    }
    if (!can_burn(heater.behind) || heater.air_gap.value_or(Length()) > Length()) return;
    add(heater.air_gap ? When::today : When::this_week, "heater", heater.id.text(),
        fmt::format("The {} has no air between it and what is behind", in_place(heater)),
        fmt::format("Behind \"{}\": {}; {}.", heater.id.text(), heater.behind,
                    heater.air_gap ? "it lies on it" : "no gap is written down"),
        "Raise the enclosure on feet or put a tile with air under it: heat that cannot get away "
        "chars wood and melts foam and carpet in time. Then write air_gap into the room file.");
  }

  // --- what is near ---

  template <class Source>
  void judge_clearance(const char* kind, const Source& source, Length wanted) {
    if (says_nothing(source.nearest)) return;
    if (source.nearest.empty()) {
      gap("what near these can burn or melt:", source.id.text());
    } else if (!source.clearance) {
      gap("how far from what is near these are:", source.id.text());
    } else if (*source.clearance < wanted) {
      const bool near = *source.clearance < hot_clearance_.low;
      const bool of_room = wanted > hot_clearance_.high;
      add(near      ? When::today
          : of_room ? When::this_week
                    : When::good_to_know,
          kind, source.id.text(),
          fmt::format("The {} is near something that can burn or melt", in_place(source)),
          fmt::format("\"{}\"{}: {} at {}; usual is {}.", source.id.text(), power_of(source),
                      source.nearest, for_people(*source.clearance, units_),
                      of_room ? for_people(wanted, units_) + " or more"
                              : fmt::format("{} to {}", for_people(hot_clearance_.low, units_),
                                            for_people(wanted, units_))),
          "Move one of them, switched off and cold, to the distance on the maker's label, which "
          "goes before this. Fix a lamp in two independent ways, and let nothing that dries out or "
          "falls come near it.");
    }
  }

  template <class Source>
  void judge_reach(const char* kind, const Source& source) {
    if (!inhabited(source.enclosure)) return;
    if (source.within_reach == Answer::unknown) {
      gap("whether an animal can touch", source.id.text());
    } else if (source.within_reach == Answer::yes) {
      add(When::today, kind, source.id.text(),
          fmt::format("An animal can touch the {}", in_place(source)),
          fmt::format("\"{}\"{}: within_reach is yes. Such a surface, or the mesh under it, burns "
                      "skin at a touch.",
                      source.id.text(), power_of(source)),
          "Put a guard round it that an animal can neither reach through nor cling to, or hang it "
          "higher, switched off and cold. Burns are for a veterinarian with reptile or amphibian "
          "experience.");
    }
  }

  // --- thermostats ---

  void judge_thermostat(const room::Thermostat& thermostat) {
    std::set<std::string> places;
    std::string heats;
    bool enclosures = false, foreign = false;
    const auto drives = [&](const auto& source, bool heats_the_room) {
      if (source.thermostat != thermostat.id || !room::in_use(source, day_.date)) return;
      if (source.enclosure.empty() && !heats_the_room) return;  // nobody says what it heats
      const room::EnclosureId where = heats_the_room ? room::EnclosureId{} : source.enclosure;
      places.insert(place_of(room_, where));
      heats += fmt::format("{}{} in {}", heats.empty() ? "" : ", ", source.id.text(),
                           place_of(room_, where));
      enclosures = enclosures || !where.empty();
      foreign = foreign || where != thermostat.enclosure;
    };
    for (const room::Heater& heater : room_.heaters) {
      drives(heater, heater.kind == HeaterKind::room_heater);
    }
    for (const room::Lamp& lamp : room_.lamps) drives(lamp, false);
    if (places.size() > 1) {
      add(When::this_week, "thermostat", thermostat.id.text(),
          fmt::format("The thermostat {} drives the heat of {} places", thermostat.id.text(),
                      places.size()),
          fmt::format("It drives {}. Its one probe is in {}.", heats,
                      place_of(room_, thermostat.enclosure)),
          "Give each its own thermostat: only the place of the probe is controlled, the others get "
          "what that one needs. In a rack of equal tubs put a thermometer into each at least.");
    } else if (enclosures && thermostat.enclosure.empty()) {
      add(When::this_week, "thermostat", thermostat.id.text(),
          fmt::format("Nobody has written where the probe of {} is", thermostat.id.text()),
          fmt::format("It drives {}, and no enclosure is named for its probe: then it would be in "
                      "the room.",
                      heats),
          "Look where the probe is, between heat and animal and fixed there, and write the "
          "enclosure into the room file. A probe that hangs in the room lets the heat run on.");
    } else if (enclosures && foreign) {
      add(When::today, "thermostat", thermostat.id.text(),
          fmt::format("The probe of {} is not where its heat is", thermostat.id.text()),
          fmt::format("It drives {}; its probe is in {}.", heats,
                      place_of(room_, thermostat.enclosure)),
          "Put the probe between heat and animal in the enclosure that is heated, and fix it "
          "there. "
          "Unplug the heat until then: nothing stops it.");
    }
    if (enclosures && is_outside(thermostat.probe_place)) {
      add(When::today, "thermostat", thermostat.id.text(),
          fmt::format("The probe of {} is outside the enclosure", thermostat.id.text()),
          fmt::format("It drives {}; its probe is \"{}\".", heats, thermostat.probe_place),
          "Put the probe between heat and animal, inside, and fix it there: outside it feels too "
          "little and lets the heat run on.");
    }
  }

  void judge_thermometer(const room::Enclosure& enclosure) {
    if (!room::in_use(enclosure, day_.date) || !inhabited(enclosure.id)) return;
    const bool has_one = std::any_of(
        room_.instruments.begin(), room_.instruments.end(), [&](const room::Instrument& i) {
          return i.enclosure == enclosure.id && room::in_use(i, day_.date) &&
                 (i.kind == room::InstrumentKind::thermometer ||
                  i.kind == room::InstrumentKind::both);
        });
    if (has_one) return;
    out_.findings.push_back(
        {When::today, "enclosure", enclosure.id.text(),
         fmt::format("{} has no thermometer", room::called(enclosure)),
         "No thermometer in use is named for this enclosure, and an animal lives in it.",
         "Put one at the warm side and one at the cool side, and write their readings down. A "
         "thermostat's own display is not a second opinion.",
         kNoSource, "safety"});
  }

  void add(When when, const char* kind, std::string subject, std::string headline,
           std::string evidence, std::string advice) {
    out_.findings.push_back(finding(when, kind, std::move(subject), std::move(headline),
                                    std::move(evidence), std::move(advice)));
  }
  void gap(const char* question, std::string thing) {
    out_.gaps.push_back({question, std::move(thing)});
  }

  const room::Day& day_;
  const room::Room& room_;
  UnitSystem units_;
  const species::CareRules& rules_;
  Range<Length> hot_clearance_;
  Judged out_;
};

}  // namespace

bool is_hot(room::LampKind kind) {
  switch (kind) {
    case LampKind::halogen:
    case LampKind::mercury_vapour:
    case LampKind::metal_halide:
      return true;
    case LampKind::tube_t5:
    case LampKind::tube_t8:
    case LampKind::compact:
    case LampKind::led:
      return false;
  }
  return false;
}

bool is_hot(room::HeaterKind kind) {
  return kind == HeaterKind::ceramic || kind == HeaterKind::projector;
}

Judged judge_heat_sources(const room::Day& day) {
  return HeatJudge(day).judge();
}

}  // namespace warmside::safety
