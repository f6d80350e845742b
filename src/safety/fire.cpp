#include "safety/fire.h"

#include <fmt/format.h>

#include <algorithm>

#include "safety/heat_sources.h"
#include "species/care_rules.h"

namespace warmside::safety {
namespace {

using room::Answer;
using room::SafetyDeviceKind;

class FireJudge {
 public:
  explicit FireJudge(const room::Day& day) : day_(day), room_(*day.room) {}

  Judged judge() {
    heaters_ = std::count_if(room_.heaters.begin(), room_.heaters.end(),
                             [&](const auto& h) { return room::in_use(h, day_.date); });
    lamps_ = std::count_if(room_.lamps.begin(), room_.lamps.end(), [&](const room::Lamp& lamp) {
      return is_hot(lamp.kind) && room::in_use(lamp, day_.date);
    });
    if (heaters_ + lamps_ > 0) {
      judge_alarms();
      judge_extinguishers();
    }
    for (const room::SafetyDevice& device : room_.safety_devices) judge_dates(device);
    return std::move(out_);
  }

 private:
  bool has(SafetyDeviceKind kind) const {
    return std::any_of(room_.safety_devices.begin(), room_.safety_devices.end(),
                       [&](const room::SafetyDevice& d) { return d.kind == kind; });
  }

  /// "2 heaters are", "1 heater and 1 hot lamp are".
  std::string sources() const {
    const auto counted = [](auto count, const char* noun) {
      return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
    };
    std::string text;
    if (heaters_ > 0) text = counted(heaters_, "heater");
    if (lamps_ > 0) text += (text.empty() ? "" : " and ") + counted(lamps_, "hot lamp");
    return text + (heaters_ + lamps_ == 1 ? " is" : " are");
  }

  void judge_alarms() {
    if (has(SafetyDeviceKind::smoke_alarm)) return;
    if (has(SafetyDeviceKind::heat_alarm)) {
      add(When::this_week, "room", "room", "There is a heat alarm, but no smoke alarm",
          fmt::format("{} in use.", sources()),
          "Hang a smoke alarm too that is heard where people sleep: cords and plastics smoulder "
          "long before a heat alarm notices. Keep it out of the mist, as its maker says.");
      return;
    }
    add(When::today, "room", "room", "There is no smoke alarm in the room's list",
        fmt::format("{} in use, and no smoke or heat alarm is listed.", sources()),
        "Hang a smoke alarm that is heard where people sleep and add it to the room file as a "
        "[[safety_device]].");
  }

  void judge_extinguishers() {
    if (!has(SafetyDeviceKind::extinguisher)) {
      add(When::this_week, "room", "room", "There is no fire extinguisher in the room's list",
          fmt::format("{} in use, and no extinguisher is listed.", sources()),
          "Hang one by the door, on the way out, of a kind that its label allows on live "
          "electricity, and add it to the room file. For a fire that has grown: get out, shut the "
          "door, call the fire brigade.");
      return;
    }
    std::vector<std::string> unknown, elsewhere;
    for (const room::SafetyDevice& device : room_.safety_devices) {
      if (device.kind != SafetyDeviceKind::extinguisher) continue;
      if (device.by_the_door == Answer::yes) return;
      (device.by_the_door == Answer::no ? elsewhere : unknown).push_back(device.id.text());
    }
    for (const std::string& id : unknown)
      out_.gaps.push_back({"whether it hangs by the door:", id});
    if (!unknown.empty()) return;
    add(When::good_to_know, "safety_device", elsewhere.front(),
        "No fire extinguisher hangs by the door",
        fmt::format("Listed, but not by the door: {}.", listed(elsewhere)),
        "Hang it by the door, on the way out: nobody should have to pass a fire to reach it.");
  }

  void judge_dates(const room::SafetyDevice& device) {
    const std::string what = fmt::format("{} {}", word(device.kind), device.id.text());
    if (device.expires && *device.expires <= day_.date) {
      const bool extinguisher = device.kind == SafetyDeviceKind::extinguisher;
      add(When::this_week, "safety_device", device.id.text(),
          fmt::format("The {} is past its date", what),
          fmt::format("The date printed on it is {}.", to_text(*device.expires)),
          extinguisher ? "Have it serviced or replace it, then write the new date down."
                       : "Replace the whole alarm: its sensor ages though the button still beeps.");
    }
    if (device.kind == SafetyDeviceKind::extinguisher) return;
    const auto& rules = species::care_rules();
    const auto battery = battery_since(day_, device);
    if (!battery) {  // a sealed one has the date printed on it only
      if (!device.expires) out_.gaps.push_back({"when the battery was new in", device.id.text()});
    } else if (day_.date - *battery > rules.days("alarm_battery_life")) {
      add(When::this_week, "safety_device", device.id.text(),
          fmt::format("The battery of the {} is more than a year old", what),
          fmt::format("It was new on {}, {} days ago.", to_text(*battery), day_.date - *battery),
          "Put a new one in, test it with its button, and write the date into the room file "
          "(battery). Of a sealed alarm give only the date printed on it (expires).");
    }
  }

  void add(When when, const char* kind, std::string subject, std::string headline,
           std::string evidence, std::string advice) {
    out_.findings.push_back(finding(when, kind, std::move(subject), std::move(headline),
                                    std::move(evidence), std::move(advice)));
  }

  const room::Day& day_;
  const room::Room& room_;
  std::ptrdiff_t heaters_ = 0, lamps_ = 0;
  Judged out_;
};

}  // namespace

std::optional<Date> battery_since(const room::Day& day, const room::SafetyDevice& device) {
  std::optional<Date> since = device.battery;
  const room::Entry* replaced = day.history->latest(
      {room::SubjectKind::safety_device, device.id.text()}, room::EntryKind::replaced);
  if (replaced != nullptr) {
    const Date date = day.date_of(*replaced);
    if (!since || date > *since) since = date;
  }
  return since;
}

Judged judge_fire(const room::Day& day) {
  return FireJudge(day).judge();
}

}  // namespace warmside::safety
