#include "safety/essentials.h"

#include <fmt/format.h>

#include <algorithm>

namespace warmside::safety {
namespace {

constexpr const char* kElectricalCaution =
    " Local code goes first; anything behind a plug is for a licensed electrician.";

std::string place_of(const room::Room& room, const room::EnclosureId& id) {
  const room::Enclosure* enclosure = room::find(room.enclosures, id);
  if (enclosure == nullptr) return "the room";
  return room::called(*enclosure);
}

Finding missing(When when, std::string kind, std::string subject, std::string headline,
                std::string evidence, std::string advice) {
  return {when,
          std::move(kind),
          std::move(subject),
          std::move(headline),
          std::move(evidence),
          std::move(advice),
          "common practice, no source",
          "safety"};
}

bool measures_temperature(const room::Instrument& instrument) {
  return instrument.kind == room::InstrumentKind::thermometer ||
         instrument.kind == room::InstrumentKind::both;
}

}  // namespace

std::vector<Finding> findings(const room::Day& day) {
  const room::Room& room = *day.room;
  std::vector<Finding> found;
  for (const room::Heater& heater : room.heaters) {
    if (!room::in_use(heater, day.date)) continue;
    const room::Thermostat* thermostat = room::find(room.thermostats, heater.thermostat);
    if (thermostat != nullptr && room::in_use(*thermostat, day.date)) continue;
    const bool mat = heater.kind == room::HeaterKind::mat;
    found.push_back(missing(
        When::now, "heater", heater.id.text(),
        fmt::format("The {} in {} runs without a thermostat",
                    mat ? "heat mat" : std::string(word(heater.kind)),
                    place_of(room, heater.enclosure)),
        fmt::format("{} \"{}\"{}: no thermostat in use is named for it.",
                    mat ? "Heat mat" : "Heater", heater.id.text(),
                    heater.power ? ", " + for_people(*heater.power, room.info.units) : ""),
        std::string("Unplug it, or put a thermostat before it with the probe between heater and "
                    "animal, before the animal goes back on it: an unregulated heater can burn "
                    "an animal and start a fire.") +
            kElectricalCaution));
  }
  for (const room::Enclosure& enclosure : room.enclosures) {
    if (!room::in_use(enclosure, day.date) || day.animals_in(enclosure.id).empty()) continue;
    const bool has_thermometer = std::any_of(
        room.instruments.begin(), room.instruments.end(), [&](const room::Instrument& i) {
          return i.enclosure == enclosure.id && measures_temperature(i) &&
                 room::in_use(i, day.date);
        });
    if (has_thermometer) continue;
    found.push_back(missing(When::today, "enclosure", enclosure.id.text(),
                            fmt::format("{} has no thermometer", place_of(room, enclosure.id)),
                            "No thermometer in use is named for this enclosure, and an animal "
                            "lives in it.",
                            "Put one at the warm side and one at the cool side, and write their "
                            "readings down. A thermostat's own display is not a second opinion."));
  }
  const bool has_alarm = std::any_of(room.safety_devices.begin(), room.safety_devices.end(),
                                     [](const room::SafetyDevice& d) {
                                       return d.kind == room::SafetyDeviceKind::smoke_alarm ||
                                              d.kind == room::SafetyDeviceKind::heat_alarm;
                                     });
  const auto heaters =
      std::count_if(room.heaters.begin(), room.heaters.end(),
                    [&](const room::Heater& h) { return room::in_use(h, day.date); });
  if (!has_alarm && heaters > 0) {
    found.push_back(missing(
        When::today, "room", "room", "There is no smoke alarm in the room's list",
        fmt::format("{} in use, and no smoke or heat alarm is listed.",
                    heaters == 1 ? "1 heater is" : fmt::format("{} heaters are", heaters)),
        std::string("Hang a smoke alarm that is heard where people sleep and add it to the room "
                    "file as a [[safety_device]].") +
            kElectricalCaution));
  }
  return found;
}

}  // namespace warmside::safety
