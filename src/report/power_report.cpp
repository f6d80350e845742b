#include "report/power_report.h"

#include <fmt/format.h>

#include <array>
#include <iterator>

#include "report/json_parts.h"
#include "round/running_cost.h"
#include "safety/circuits.h"
#include "safety/mains.h"
#include "safety/water_and_mains.h"

namespace warmside::report {
namespace {

using round::DeviceUse;
using round::RunningCost;
using round::UseBasis;
using safety::Device;
using safety::Load;
using safety::Loads;

constexpr const char* kMainsCaution =
    "A sum of what the room file says, no inspection: the maker's label and local code go first, "
    "and anything behind a plug is for a licensed electrician. Unplug before a hand goes into "
    "water.";

struct Answers {
  explicit Answers(const room::Day& day)
      : room(*day.room),
        mains(safety::mains_of(room.info.country)),
        rule(safety::continuous_rule(mains)),
        loads(safety::loads_of(day)),
        cost(round::running_cost(day)) {
    for (safety::Judged& judged : std::array{safety::judge_circuits(day, loads),
                                             safety::judge_water_and_mains(day, loads)}) {
      std::move(judged.findings.begin(), judged.findings.end(), std::back_inserter(findings));
      std::move(judged.gaps.begin(), judged.gaps.end(), std::back_inserter(gaps));
    }
    sort_findings(findings);
  }

  const room::Room& room;
  const safety::Mains* mains;
  safety::ContinuousRule rule;
  Loads loads;
  RunningCost cost;
  std::vector<Finding> findings;
  std::vector<safety::Gap> gaps;
};

/// "80 W"; "power not known".
std::string power_words(const std::optional<Power>& power) {
  return power ? safety::watts(*power) : "power not known";
}

class PowerSheet {
 public:
  PowerSheet(const Answers& answers, const SheetStyle& style) : a_(answers), sheet_(style) {}

  std::string make(Date date) {
    sheet_.line(fmt::format("{}: power on {}", a_.room.info.name, to_text(date)), 0, 0,
                Tone::strong);
    put_mains();
    for (const room::Circuit& circuit : a_.room.circuits) put_circuit(circuit);
    put_sockets_without_circuit();
    put_not_placed();
    put_switches();
    put_noticed();
    put_cost();
    sheet_.blank();
    sheet_.line(kMainsCaution, 0, 0, Tone::faint);
    return sheet_.text();
  }

 private:
  void put_mains() {
    if (a_.mains == nullptr) {
      sheet_.line(
          a_.room.info.country.empty()
              ? "The room file names no country: its rules of mains are not known."
              : fmt::format("The mains of {} are not in the table: its rules are not known.",
                            a_.room.info.country));
    } else {
      sheet_.line(fmt::format("Mains of {}: {:g} V, up to {:g} % more ({}).", a_.mains->country,
                              a_.mains->voltage_v, a_.mains->voltage_high.percent(),
                              word(a_.mains->trust)));
    }
    sheet_.line(fmt::format("What runs {:g} h or longer: at most {:.0f} % of a rating, {} ({}).",
                            a_.rule.time.hours(), a_.rule.share.percent(),
                            a_.rule.rule ? "by the country's rule" : "as a rule of thumb",
                            a_.rule.source));
  }

  /// "612 W of 2300 W (27 %)".
  std::string against(const Load& load, Power part, const std::optional<Power>& capacity) const {
    if (load.devices.empty()) return "nothing";
    const std::string words = safety::words_of(load, part);
    if (!capacity) return words + ", rating not known";
    return fmt::format("{} of {} ({:.0f} %)", words, safety::watts(*capacity),
                       100 * (part / *capacity));
  }

  void put_circuit(const room::Circuit& circuit) {
    const Load& load = a_.loads.circuits.at(circuit.id);
    sheet_.heading(fmt::format("Circuit {}{}", circuit.id.text(),
                               circuit.name.empty() ? "" : " (" + circuit.name + ")"));
    sheet_.row("everything on", against(load, load.everything, circuit.capacity));
    sheet_.row("for hours", against(load, load.continuous, circuit.capacity));
    sheet_.row("RCD (GFCI)", word(circuit.residual_current_device));
    for (const room::Socket& socket : a_.room.sockets) {
      if (socket.plugged_into.empty() && socket.circuit == circuit.id) put_socket(socket, 2, 0);
    }
  }

  void put_socket(const room::Socket& socket, int indent, std::size_t depth) {
    const Load& load = a_.loads.sockets.at(socket.id);
    const bool strip = !socket.plugged_into.empty();
    const std::string carries = strip || socket.capacity
                                    ? against(load, load.everything, socket.capacity)
                                    : safety::words_of(load, load.everything);
    sheet_.line(fmt::format("{} {}{}: {}", strip ? "strip" : "socket", socket.id.text(),
                            socket.place.empty() ? "" : ", " + socket.place, carries),
                indent, 2);
    for (const Device& device : a_.loads.devices) {
      if (device.path.empty() || device.path.front() != socket.id) continue;
      std::string by;
      if (!device.thermostat.empty()) by += ", by " + device.thermostat.text();
      if (!device.timer.empty()) by += ", by " + device.timer.text();
      sheet_.line(fmt::format("{} {}{}", device.id, power_words(device.power), by), indent + 2, 2);
    }
    if (depth > a_.room.sockets.size()) return;
    for (const room::Socket& next : a_.room.sockets) {
      if (next.plugged_into == socket.id) put_socket(next, indent + 2, depth + 1);
    }
  }

  void put_sockets_without_circuit() {
    bool first = true;
    for (const room::Socket& socket : a_.room.sockets) {
      if (!socket.plugged_into.empty() || !socket.circuit.empty()) continue;
      if (first) sheet_.heading("Sockets of no circuit");
      first = false;
      put_socket(socket, 2, 0);
    }
  }

  void put_not_placed() {
    if (a_.loads.not_placed.devices.empty()) return;
    sheet_.heading("Plugged in nowhere, as far as the room file says");
    for (const std::size_t number : a_.loads.not_placed.devices) {
      const Device& device = a_.loads.devices[number];
      sheet_.line(fmt::format("{} {}", device.id, power_words(device.power)), 2, 2);
    }
    sheet_.line("They are in no sum above.", 2, 2, Tone::faint);
  }

  template <class Loads, class Records>
  void put_rated(const Loads& loads, const Records& records) {
    for (const auto& [id, load] : loads) {
      if (load.devices.empty()) continue;
      sheet_.line(fmt::format("{}: {}", id.text(),
                              against(load, load.everything, room::find(records, id)->capacity)),
                  2, 2);
    }
  }
  void put_switches() {
    if (a_.loads.timers.empty() && a_.loads.thermostats.empty()) return;
    sheet_.heading("Timers and thermostats, everything on");
    put_rated(a_.loads.timers, a_.room.timers);
    put_rated(a_.loads.thermostats, a_.room.thermostats);
  }

  void put_noticed() {
    if (!a_.findings.empty()) sheet_.heading("Noticed; more of each on the round");
    for (const Finding& finding : a_.findings) {
      sheet_.line(fmt::format("{}: {}", name_of(finding.when), finding.headline), 2, 2,
                  finding.when == When::now ? Tone::urgent : Tone::plain);
    }
    if (a_.gaps.empty()) return;
    sheet_.heading("Not known");
    sheet_.line("The room file does not say " + safety::questions_of(a_.gaps) + ".", 2, 2);
  }

  /// "12.3 kWh, cost 14.76"; a band where it is one.
  std::string month_words(double low, double high) const {
    const auto band = [&](double from, double to, int digits) {
      return from == to ? fmt::format("{:.{}f}", to, digits)
                        : fmt::format("{:.{}f} to {:.{}f}", from, digits, to, digits);
    };
    std::string text = band(low, high, 1) + " kWh";
    if (a_.cost.price) {
      text += ", cost " + band(low * *a_.cost.price, high * *a_.cost.price, 2);
    }
    return text;
  }

  void put_cost() {
    sheet_.heading("A month like this day");
    for (const DeviceUse& use : a_.cost.devices) {
      const char* how = "";
      switch (use.basis) {
        case UseBasis::computed:
          how = "computed by the climate model";
          break;
        case UseBasis::timer:
          how = "its timer's hours";
          break;
        case UseBasis::running_share:
          how = "its share of running";
          break;
        case UseBasis::always:
          how = "taken to be always on";
          break;
        case UseBasis::not_known:
          how = "nobody knows how long it is on";
          break;
        case UseBasis::unknown:
          sheet_.line(use.id + ": not known, since its power is not", 2, 2);
          continue;
      }
      sheet_.line(fmt::format("{}: {} ({})", use.id, month_words(use.kwh_low, use.kwh_high), how),
                  2, 2);
    }
    sheet_.line(
        fmt::format(
            "together: {}{}{}", a_.cost.unknown > 0 ? "at least " : "",
            month_words(a_.cost.kwh_low, a_.cost.kwh_high),
            a_.cost.unknown > 0 ? fmt::format("; {} without a known power", a_.cost.unknown) : ""),
        2, 2, Tone::strong);
    if (!a_.cost.price) {
      sheet_.line("No price of electricity in the room file (electricity_price): no cost.", 2, 2,
                  Tone::faint);
    }
  }

  const Answers& a_;
  Sheet sheet_;
};

Json watts_or_null(const std::optional<Power>& power) {
  return power ? Json(power->watts()) : Json(nullptr);
}

Json load_json(const Loads& loads, const Load& load) {
  Json devices = Json::array();
  for (const std::size_t number : load.devices) devices.push_back(loads.devices[number].id);
  return {{"everything_w", load.everything.watts()},
          {"continuous_w", load.continuous.watts()},
          {"lamps_w", load.lamps.watts()},
          {"at_least", load.without_power > 0},
          {"devices", std::move(devices)}};
}

template <class LoadsOfKind, class Records>
Json switches_json(const Loads& loads, const LoadsOfKind& of_kind, const Records& records) {
  Json list = Json::array();
  for (const auto& [id, load] : of_kind) {
    list.push_back({{"id", id.text()},
                    {"capacity_w", watts_or_null(room::find(records, id)->capacity)},
                    {"load", load_json(loads, load)}});
  }
  return list;
}

Json mains_json(const safety::Mains* mains) {
  if (mains == nullptr) return nullptr;
  return {{"country", mains->country},
          {"voltage_v", mains->voltage_v},
          {"voltage_high_pct", mains->voltage_high.percent()},
          {"residual_current_ma", mains->residual_current_ma},
          {"trust", word(mains->trust)},
          {"source", mains->source},
          {"note", mains->note}};
}

Json device_json(const Device& device, const DeviceUse& use, const std::optional<double>& price) {
  Json path = Json::array();
  for (const room::SocketId& socket : device.path) path.push_back(socket.text());
  const bool known = use.basis != UseBasis::unknown;
  const auto cost = [&](double kwh) { return known && price ? Json(kwh * *price) : Json(nullptr); };
  return {{"kind", device.kind},
          {"id", device.id},
          {"enclosure", id_or_null(device.enclosure)},
          {"power_w", watts_or_null(device.power)},
          {"path", std::move(path)},
          {"circuit", id_or_null(device.circuit)},
          {"thermostat", id_or_null(device.thermostat)},
          {"timer", id_or_null(device.timer)},
          {"continuous", device.continuous},
          {"basis", word(use.basis)},
          {"kwh_per_month_low", known ? Json(use.kwh_low) : Json(nullptr)},
          {"kwh_per_month_high", known ? Json(use.kwh_high) : Json(nullptr)},
          {"cost_per_month_low", cost(use.kwh_low)},
          {"cost_per_month_high", cost(use.kwh_high)}};
}

}  // namespace

std::string power_as_text(const room::Day& day, const SheetStyle& style) {
  const Answers answers(day);
  return PowerSheet(answers, style).make(day.date);
}

std::string power_as_json(const room::Day& day) {
  const Answers a(day);
  Json json{{"date", to_text(day.date)}, {"room", a.room.info.name}};
  json["mains"] = mains_json(a.mains);
  json["continuous"] = {{"share_pct", a.rule.share.percent()},
                        {"hours", a.rule.time.hours()},
                        {"rule", a.rule.rule},
                        {"source", a.rule.source}};
  json["circuits"] = Json::array();
  for (const room::Circuit& circuit : a.room.circuits) {
    json["circuits"].push_back({{"id", circuit.id.text()},
                                {"name", circuit.name},
                                {"capacity_w", watts_or_null(circuit.capacity)},
                                {"residual_current_device", word(circuit.residual_current_device)},
                                {"load", load_json(a.loads, a.loads.circuits.at(circuit.id))}});
  }
  json["sockets"] = Json::array();
  for (const room::Socket& socket : a.room.sockets) {
    json["sockets"].push_back({{"id", socket.id.text()},
                               {"place", socket.place},
                               {"circuit", id_or_null(socket.circuit)},
                               {"plugged_into", id_or_null(socket.plugged_into)},
                               {"capacity_w", watts_or_null(socket.capacity)},
                               {"residual_current_device", word(socket.residual_current_device)},
                               {"drip_loops", word(socket.drip_loops)},
                               {"load", load_json(a.loads, a.loads.sockets.at(socket.id))}});
  }
  json["timers"] = switches_json(a.loads, a.loads.timers, a.room.timers);
  json["thermostats"] = switches_json(a.loads, a.loads.thermostats, a.room.thermostats);
  json["devices"] = Json::array();
  // Both go through the heaters, lamps and appliances in use, in id order.
  WS_CHECK(a.loads.devices.size() == a.cost.devices.size());
  for (std::size_t i = 0; i < a.loads.devices.size(); ++i) {
    json["devices"].push_back(device_json(a.loads.devices[i], a.cost.devices[i], a.cost.price));
  }
  const auto cost = [&](double kwh) { return a.cost.price ? Json(kwh * *a.cost.price) : nullptr; };
  json["together"] = {{"kwh_per_month_low", a.cost.kwh_low},
                      {"kwh_per_month_high", a.cost.kwh_high},
                      {"cost_per_month_low", cost(a.cost.kwh_low)},
                      {"cost_per_month_high", cost(a.cost.kwh_high)},
                      {"without_power", a.cost.unknown}};
  json["findings"] = Json::array();
  for (const Finding& finding : a.findings) json["findings"].push_back(json_of(finding));
  json["not_known"] = safety::questions_of(a.gaps);
  json["cautions"] = {kMainsCaution};
  return dumped(json);
}

}  // namespace warmside::report
