#include "safety/circuits.h"

#include <fmt/format.h>

#include "safety/mains.h"
#include "species/care_rules.h"

namespace warmside::safety {
namespace {

class CircuitJudge {
 public:
  CircuitJudge(const room::Day& day, const Loads& loads)
      : room_(*day.room),
        units_(room_.info.units),
        loads_(loads),
        mains_(mains_of(room_.info.country)),
        rule_(continuous_rule(mains_)),
        lamp_share_(species::care_rules().value<Percentage>("lamp_load_share")) {}

  Judged judge() {
    if (loads_.devices.empty()) return {};
    find_gaps();
    for (const auto& [id, load] : loads_.circuits) judge_circuit(id, load);
    for (const auto& [id, load] : loads_.sockets) judge_socket(id, load);
    for (const auto& [id, load] : loads_.timers) {
      judge_switch("timer", *room::find(room_.timers, id), load, When::this_week);
    }
    for (const auto& [id, load] : loads_.thermostats) {
      const room::Thermostat& thermostat = *room::find(room_.thermostats, id);
      // Those that dim or pulse have no contacts, but are rated by their makers all the same.
      const bool contacts = thermostat.kind == room::ThermostatKind::on_off;
      judge_switch("thermostat", thermostat, load, contacts ? When::this_week : When::good_to_know);
    }
    for (const Device& device : loads_.devices) judge_room_heater(device);
    return std::move(out_);
  }

 private:
  void find_gaps() {
    if (room_.info.country.empty()) {
      gap("the country, for its rules of mains");
    }
    for (const Device& device : loads_.devices) {
      if (!device.power) gap("the power of", device.id);
    }
    if (room_.sockets.empty()) {
      gap("what is plugged in where ([[circuit]], [[socket]])");
      return;
    }
    for (const std::size_t number : loads_.not_placed.devices) {
      gap("where these are plugged in:", loads_.devices[number].id);
    }
    for (const auto& [id, load] : loads_.sockets) {
      const room::Socket& socket = *room::find(room_.sockets, id);
      if (load.devices.empty()) continue;
      if (socket.plugged_into.empty() && socket.circuit.empty()) gap("the circuit of", id.text());
      if (!socket.plugged_into.empty() && !socket.capacity) gap("the load printed on", id.text());
    }
    const auto rated = [&](const auto& loads, const auto& records) {
      for (const auto& [id, load] : loads) {
        if (load.devices.empty() || room::find(records, id)->capacity) continue;
        gap("the load printed on", id.text());
      }
    };
    rated(loads_.timers, room_.timers);
    rated(loads_.thermostats, room_.thermostats);
    for (const auto& [id, load] : loads_.circuits) {
      if (load.devices.empty() || room::find(room_.circuits, id)->capacity) continue;
      gap("the rating (capacity) of", id.text());
    }
  }

  void judge_circuit(const room::CircuitId& id, const Load& load) {
    const room::Circuit& circuit = *room::find(room_.circuits, id);
    judge_rating("circuit", id.text(),
                 fmt::format("The circuit {}{}", id.text(),
                             circuit.name.empty() ? "" : " (" + circuit.name + ")"),
                 circuit.capacity, load, When::today);
  }

  void judge_socket(const room::SocketId& id, const Load& load) {
    const room::Socket& socket = *room::find(room_.sockets, id);
    const bool strip = !socket.plugged_into.empty();
    judge_rating("socket", id.text(),
                 fmt::format("The {} {}", strip ? "strip or lead" : "socket", id.text()),
                 socket.capacity, load, When::this_week);
    const room::Socket* before = room::find(room_.sockets, socket.plugged_into);
    if (before == nullptr || before->plugged_into.empty()) return;
    add(When::this_week, "socket", id.text(),
        fmt::format("The strip or lead {} is plugged into another one", id.text()),
        fmt::format("{} is plugged into {}, and that into {}. With everything on it carries {}.",
                    id.text(), before->id.text(), before->plugged_into.text(),
                    words_of(load, load.everything)),
        "Plug each strip into a wall socket of its own: every plug in a chain is one more place "
        "that gets warm, and the first carries it all.");
  }

  /// Over its rating with everything on, else over the share of it for what runs for hours.
  void judge_rating(const char* kind, const std::string& id, const std::string& what,
                    const std::optional<Power>& capacity, const Load& load, When when) {
    if (!capacity) return;
    const std::string of_it =
        fmt::format(" On it: {}.{}", devices_of(loads_, load), voltage_note());
    if (is_over(load.everything, *capacity)) {
      add(When::now, kind, id, fmt::format("{} is overloaded when everything on it runs", what),
          fmt::format("Everything on: {}; its rating is {}.", everything(load), watts(*capacity)) +
              of_it,
          "Unplug something now, the largest first, and plug it in elsewhere or use less. Do not "
          "fit a larger breaker or fuse. If a plug, strip or socket is warm, brown or smells, use "
          "it no more.");
      return;
    }
    if (!is_over(load.continuous, *capacity * rule_.share.share())) return;
    add(rule_.rule ? when : When::good_to_know, kind, id,
        fmt::format("{} carries much for many hours", what),
        fmt::format(
            "For {:g} h or longer: {} of a rating of {}, which is {:.0f} %; {} is {:.0f} %. "
            "Taken to run for hours: every heater and appliance, and lamps whose timer does "
            "not say less.",
            rule_.time.hours(), words_of(load, load.continuous), watts(*capacity),
            100 * (load.continuous / *capacity),
            rule_.rule ? "the rule of " + mains_->country : "a rule of thumb",
            rule_.share.percent()) +
            of_it,
        "Move something to another circuit or wall socket. What runs for hours warms plugs, strips "
        "and breakers more than what runs for minutes.",
        rule_.source);
  }

  /// A timer or thermostat against the load printed on it, and lamps against half of it.
  template <class Record>
  void judge_switch(const char* kind, const Record& record, const Load& load, When when) {
    if (!record.capacity) return;
    const std::string of_it = fmt::format(" It switches {}.", devices_of(loads_, load));
    if (is_over(load.everything, *record.capacity)) {
      add(When::now, kind, record.id.text(),
          fmt::format("The {} {} switches more than it is made for", kind, record.id.text()),
          fmt::format("Everything on: {}; printed on it: {}.", words_of(load, load.everything),
                      watts(*record.capacity)) +
              of_it,
          "Unplug something now, or put another in its place that is made for the load. Contacts "
          "that are overloaded weld together: then it never switches off.");
      return;
    }
    if (!is_over(load.lamps, *record.capacity * lamp_share_.share())) return;
    add(when, kind, record.id.text(),
        fmt::format("Lamps take more than half of what the {} {} is made for", kind,
                    record.id.text()),
        fmt::format("Lamps: {}; printed on it: {}, of which lamps should take at most {}.",
                    words_of(load, load.lamps), watts(*record.capacity),
                    for_people(lamp_share_, units_)) +
            of_it,
        "Share the lamps out, or use one that is made for lamps of this load, as its label says: a "
        "cold lamp draws many times its current for an instant, which can weld contacts.");
  }

  void judge_room_heater(const Device& device) {
    if (!device.room_heater || device.path.size() < 2) return;
    add(When::today, device.kind, device.id,
        fmt::format("The room heater {} is plugged into a strip or lead", device.id),
        fmt::format("It is plugged into {}, and that into {}.{}", device.path[0].text(),
                    device.path[1].text(),
                    device.power ? " It draws " + watts(*device.power) + "." : ""),
        "Plug it straight into a wall socket, with nothing but a thermostat made for its load "
        "between: strips and leads get hot under a room heater.");
  }

  std::string everything(const Load& load) const {
    std::string text = words_of(load, load.everything);
    if (load.room_heater > Power()) {
      text += fmt::format(", of which room heating {}", watts(load.room_heater));
    }
    return text;
  }

  /// P = V^2 / R and I = V / R of a heater, so 10 % more volts are 21 % more watts and 10 % more
  /// amperes, and it is amperes that a breaker counts.
  std::string voltage_note() const {
    if (mains_ == nullptr) return " Taken at the powers that are printed on the devices.";
    const double high = 1 + mains_->voltage_high.share();
    return fmt::format(
        " Taken at the powers that are printed on the devices; at {:.0f} V, which {} allows, "
        "heaters "
        "draw {:.0f} % more power and {:.0f} % more current.",
        mains_->voltage_v * high, mains_->country, 100 * (high * high - 1), 100 * (high - 1));
  }

  void add(When when, std::string_view kind, std::string subject, std::string headline,
           std::string evidence, std::string advice, std::string source = kNoSource) {
    out_.findings.push_back(finding(when, kind, std::move(subject), std::move(headline),
                                    std::move(evidence), std::move(advice), std::move(source)));
  }
  void gap(const char* question, std::string thing = "") {
    out_.gaps.push_back({question, std::move(thing)});
  }

  const room::Room& room_;
  UnitSystem units_;
  const Loads& loads_;
  const Mains* mains_;
  ContinuousRule rule_;
  Percentage lamp_share_;
  Judged out_;
};

}  // namespace

Judged judge_circuits(const room::Day& day, const Loads& loads) {
  return CircuitJudge(day, loads).judge();
}

}  // namespace warmside::safety
