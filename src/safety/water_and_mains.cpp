#include "safety/water_and_mains.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "safety/mains.h"

namespace warmside::safety {
namespace {

using room::Answer;
using room::ApplianceKind;

/// How near a device is to water. beside: it serves an enclosure that has a dish or is sprayed.
enum class Water { none, beside, in_it };

class WaterJudge {
 public:
  WaterJudge(const room::Day& day, const Loads& loads)
      : day_(day), room_(*day.room), loads_(loads) {}

  Judged judge() {
    for (const Device& device : loads_.devices) judge_device(device);
    judge_drip_loops();
    if (!bare_.empty()) {
      // One circuit is named; of several the room is.
      const bool one = bare_circuits_.size() == 1;
      add(When::today, one ? "circuit" : "room", one ? bare_circuits_.begin()->text() : "room",
          "No RCD (GFCI) protects what is by water",
          fmt::format("The room file says that there is none on the way to {}.", listed(bare_)),
          unplug_first() +
              "Have one fitted, or use a socket that has one, for all that is by water. "
              "Then test it with its button.");
    }
    if (!unknown_in_water_.empty()) {
      add(When::this_week, "room", "room",
          "Nobody has written whether an RCD (GFCI) protects what is in water",
          fmt::format("In water: {}.", listed(unknown_in_water_)),
          unplug_first() +
              "Look for the RCD's test button on the fuse board or the socket, press it, and write "
              "residual_current_device into the room file.");
    }
    for (const std::string& id : unknown_beside_) {
      out_.gaps.push_back({"whether an RCD (GFCI) protects, by water,", id});
    }
    return std::move(out_);
  }

 private:
  Water water_at(const Device& device) const {
    if (device.kind == room::Appliance::kWord) {
      const auto& appliance = *room::find(room_.appliances, room::ApplianceId::trusted(device.id));
      if (appliance.in_water) return Water::in_it;
      if (appliance.kind == ApplianceKind::pump || appliance.kind == ApplianceKind::fogger ||
          appliance.kind == ApplianceKind::humidifier) {
        return Water::in_it;
      }
    }
    if (device.kind == room::Heater::kWord &&
        room::find(room_.heaters, room::HeaterId::trusted(device.id))->kind ==
            room::HeaterKind::water_heater) {
      return Water::in_it;
    }
    const room::Enclosure* enclosure = room::find(room_.enclosures, device.enclosure);
    const auto animals = day_.animals_in(device.enclosure);
    if (enclosure == nullptr || animals.empty()) return Water::none;
    const bool sprayed = std::any_of(animals.begin(), animals.end(), [](const auto* animal) {
      const auto holding = animal->situations();
      return std::find(holding.begin(), holding.end(), species::Situation::humid) != holding.end();
    });
    return enclosure->water_dish || sprayed ? Water::beside : Water::none;
  }

  void judge_device(const Device& device) {
    const Water water = water_at(device);
    if (water == Water::none) return;
    if (water == Water::in_it && !device.path.empty()) wet_sockets_.insert(device.path.front());
    switch (protection_of(room_, device)) {
      case Answer::yes:
        break;
      case Answer::no:
        bare_.push_back(device.id);
        bare_circuits_.insert(device.circuit);
        break;
      case Answer::unknown:
        (water == Water::in_it ? unknown_in_water_ : unknown_beside_).push_back(device.id);
        break;
    }
  }

  void judge_drip_loops() {
    std::vector<std::string> without;
    for (const auto& [id, load] : loads_.sockets) {
      if (load.devices.empty()) continue;
      const Answer loops = room::find(room_.sockets, id)->drip_loops;
      if (loops == Answer::no) without.push_back(id.text());
      if (loops == Answer::unknown && wet_sockets_.contains(id)) {
        out_.gaps.push_back({"whether the cords hang in drip loops at", id.text()});
      }
    }
    if (without.empty()) return;
    const bool one = without.size() == 1;
    add(When::this_week, one ? "socket" : "room", one ? without.front() : "room",
        "Cords run straight down into a socket, without a drip loop",
        fmt::format("No drip loops at {}.", listed(without)),
        "Unplug, dry hands, and let each cord hang lower than the socket before it goes up into "
        "it, "
        "so that water drips off at the bend. Mount strips off the floor.");
  }

  std::string unplug_first() const {
    const Mains* mains = mains_of(room_.info.country);
    return "Unplug before a hand goes into water or an enclosure is sprayed. " +
           (mains == nullptr
                ? std::string()
                : fmt::format("For people one that trips at {:g} mA is usual in {} "
                              "({}). ",
                              mains->residual_current_ma, mains->country, word(mains->trust)));
  }

  void add(When when, const char* kind, std::string subject, std::string headline,
           std::string evidence, std::string advice) {
    out_.findings.push_back(finding(when, kind, std::move(subject), std::move(headline),
                                    std::move(evidence), std::move(advice)));
  }

  const room::Day& day_;
  const room::Room& room_;
  const Loads& loads_;
  std::vector<std::string> bare_, unknown_in_water_, unknown_beside_;
  std::set<room::CircuitId> bare_circuits_;
  std::set<room::SocketId> wet_sockets_;
  Judged out_;
};

}  // namespace

room::Answer protection_of(const room::Room& room, const Device& device) {
  const room::Circuit* circuit = room::find(room.circuits, device.circuit);
  const Answer of_circuit = circuit == nullptr ? Answer::unknown : circuit->residual_current_device;
  const bool on_the_way =
      std::any_of(device.path.begin(), device.path.end(), [&](const room::SocketId& id) {
        return room::find(room.sockets, id)->residual_current_device == Answer::yes;
      });
  return on_the_way ? Answer::yes : of_circuit;
}

Judged judge_water_and_mains(const room::Day& day, const Loads& loads) {
  return WaterJudge(day, loads).judge();
}

}  // namespace warmside::safety
