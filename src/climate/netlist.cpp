#include "climate/netlist.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "climate/radiation.h"

namespace warmside::climate {
namespace {

constexpr double kIcePoint_k = 273.15;
constexpr double kDay_s = 86400;
/// A jump of the clock becomes a ramp of this length about its moment: a simulator needs a slope.
constexpr double kRamp_s = 1e-3;
/// The contact's load, ohm; with the switch's 1e-6 and 1e12 ohm it reads 1 or 0 to 1e-9.
constexpr double kContactLoad_ohm = 1e3;

/// As many digits as read back to the same bits.
std::string number(double x) {
  return fmt::format("{:.17g}", x);
}

class Deck {
 public:
  Deck(const Network& network, const NetlistOptions& options)
      : net_(network), options_(options), end_s_(options.hours * 3600) {}

  std::string text() {
    line("* thermal network: volts are degC, amperes W, farads J/K, ohms K/W, time s");
    boundaries();
    nodes();
    links();
    for (std::size_t s = 0; s < net_.sensors.size(); ++s) sensor(s);
    for (std::size_t h = 0; h < net_.heaters.size(); ++h) heater(h);
    analysis();
    return std::move(text_);
  }

 private:
  template <class... Args>
  void line(fmt::format_string<Args...> form, Args&&... args) {
    fmt::format_to(std::back_inserter(text_), form, std::forward<Args>(args)...);
    text_ += '\n';
  }

  /// A name as a comment: one line, so that no name can become a statement.
  void remark(const std::string& what, const std::string& name) {
    std::string clean = name;
    std::replace_if(
        clean.begin(), clean.end(), [](char c) { return static_cast<unsigned char>(c) < ' '; },
        ' ');
    line("* {}: {}", what, clean);
  }

  /// The circuit's name of an end of a link.
  std::string end(int index) const {
    return index < net_.node_count() ? fmt::format("n{}", index)
                                     : fmt::format("b{}", index - net_.node_count());
  }

  double second_of_day(double time_s) const {
    const double second = std::fmod(options_.start_second_of_day + time_s, kDay_s);
    return second < 0 ? second + kDay_s : second;
  }

  /// The moments of the run at which the clock shows one of these seconds of the day.
  std::vector<double> moments(const std::vector<double>& seconds_of_day) const {
    std::vector<double> times;
    for (double second : seconds_of_day) {
      double time = std::fmod(second - options_.start_second_of_day, kDay_s);
      if (time < 0) time += kDay_s;
      for (; time < end_s_; time += kDay_s) times.push_back(time);
    }
    return times;
  }

  /// A source that follows `value` in straight lines between the moments at which it bends or
  /// jumps.
  void source(const std::string& name, std::vector<double> bends,
              const std::function<double(double)>& value) {
    bends.push_back(0);
    bends.push_back(end_s_);
    std::sort(bends.begin(), bends.end());
    std::string points;
    double last = -1;
    const auto point = [&](double time, double v) {
      if (time <= last) return;
      last = time;
      points += fmt::format("\n+ {} {}", number(time), number(v));
    };
    for (double time : bends) {
      const double before = value(time - kRamp_s / 2), after = value(time + kRamp_s / 2);
      if (time == 0) {
        point(0, after);
      } else if (std::fabs(after - before) > 1e-5) {
        point(time - kRamp_s / 2, before);
        point(time + kRamp_s / 2, after);
      } else {
        point(time, value(time));
      }
    }
    line("V{0} {0} 0 PWL({1})", name, points);
  }

  void boundaries() {
    for (std::size_t b = 0; b < net_.boundaries.size(); ++b) {
      const Boundary& boundary = net_.boundaries[b];
      const std::string name = fmt::format("b{}", b);
      remark(name, boundary.name);
      if (boundary.hourly_k.empty()) {
        line("V{0} {0} 0 {1}", name, number(boundary.value_k - kIcePoint_k));
        continue;
      }
      std::vector<double> hours;
      for (double time = 0; time < end_s_; time += 3600) hours.push_back(time);
      source(name, hours, [&](double time) { return boundary_k(boundary, time) - kIcePoint_k; });
    }
  }

  void nodes() {
    for (int i = 0; i < net_.node_count(); ++i) {
      const Node& node = net_.nodes[static_cast<std::size_t>(i)];
      remark(end(i), node.name);
      line("C{0} {0} 0 {1} IC={2}", end(i), number(node.capacity_j_per_k),
           number(node.start_k - kIcePoint_k));
    }
  }

  void links() {
    int count = 0;
    for (const Conduction& link : net_.conductions) {
      if (link.w_per_k == 0) continue;
      line("R{} {} {} {}", count++, end(link.a), end(link.b), number(1 / link.w_per_k));
    }
    for (const Convection& link : net_.convections) {
      const std::string a = end(link.a), b = end(link.b);
      const std::string dt = fmt::format("(v({})-v({}))", a, b);
      const std::string square = fmt::format("({0}*{0}+{1})", dt, number(kSmoothing_k2));
      const std::string k = link.k_a == link.k_b
                                ? number(link.k_b)
                                : fmt::format("({}+({})*0.5*(1+{}/sqrt({})))", number(link.k_b),
                                              number(link.k_a - link.k_b), dt, square);
      line("Bc{} {} {} I={}*{}^{}*{}", count++, a, b, k, square, number(link.exponent / 2), dt);
    }
    for (const Radiation& link : net_.radiations) {
      const std::string a = end(link.a), b = end(link.b);
      line("Br{} {} {} I={}*((v({})+273.15)^4-(v({})+273.15)^4)", count++, a, b,
           number(kStefanBoltzmann * link.area_m2), a, b);
    }
  }

  double start_k(int index) const {
    return index < net_.node_count()
               ? net_.nodes[static_cast<std::size_t>(index)].start_k
               : boundary_k(net_.boundaries[static_cast<std::size_t>(index - net_.node_count())],
                            0);
  }
  double felt_at_start_k(const Sensor& sensor) const {
    double t = 0;
    for (const Share& share : sensor.feels) t += share.part * start_k(share.node);
    return t;
  }

  /// Node s: the sensor. With a lag, an RC pair behind what it feels.
  void sensor(std::size_t s) {
    const Sensor& sensor = net_.sensors[s];
    remark(fmt::format("s{}", s), sensor.name);
    std::string felt;
    for (const Share& share : sensor.feels) {
      felt +=
          fmt::format("{}{}*v({})", felt.empty() ? "" : "+", number(share.part), end(share.node));
    }
    if (sensor.lag_s > 0) {
      line("Bf{0} f{0} 0 V={1}", s, felt);
      line("Rs{0} f{0} s{0} {1}", s, number(sensor.lag_s));
      line("Cs{0} s{0} 0 1 IC={1}", s, number(felt_at_start_k(sensor) - kIcePoint_k));
    } else {
      line("Bf{0} s{0} 0 V={1}", s, felt);
    }
  }

  bool has_contact(const Heater& heater) const {
    return heater.control == ControlKind::on_off && !options_.mean_duty;
  }

  /// Nodes p: power, W; e: energy since the start, Wh; w: set point; k: contact, 0 or 1; t: timer.
  void heater(std::size_t h) {
    const Heater& heater = net_.heaters[h];
    remark(fmt::format("p{}", h), heater.name);
    std::string power = number(heater.power_w);
    if (heater.on_from_s != heater.on_until_s) {
      source(fmt::format("t{}", h), moments({heater.on_from_s, heater.on_until_s}),
             [&](double time) { return timer_on(heater, second_of_day(time)) ? 1.0 : 0.0; });
      power += fmt::format("*v(t{})", h);
    }
    if (heater.control != ControlKind::none) {
      std::vector<double> bends;
      for (const SetPoint::At& point : heater.set_point.points) {
        bends.push_back(point.second_of_day);
      }
      source(fmt::format("w{}", h), moments(bends), [&](double time) {
        return set_point_k(heater.set_point, second_of_day(time)) - kIcePoint_k;
      });
      power += has_contact(heater) ? fmt::format("*v(k{})", h)
                                   : fmt::format("*min(max((v(w{})-v(s{}))/{}+0.5,0),1)", h,
                                                 heater.sensor, number(heater.band_k));
    }
    if (has_contact(heater)) contact(h, heater);
    line("Bp{0} p{0} 0 V={1}", h, power);
    for (std::size_t i = 0; i < heater.shares.size(); ++i) {
      line("Bh{0}x{1} 0 {2} I={3}*v(p{0})", h, i, end(heater.shares[i].node),
           number(heater.shares[i].part));
    }
    line("Be{0} 0 e{0} I=v(p{0})", h);
    line("Ce{0} e{0} 0 3600 IC=0", h);
  }

  /// A switch that closes when the sensor is half a band below the set point.
  void contact(std::size_t h, const Heater& heater) {
    const Sensor& sensor = net_.sensors[static_cast<std::size_t>(heater.sensor)];
    const bool closed = felt_at_start_k(sensor) < set_point_k(heater.set_point, second_of_day(0));
    line("Bd{0} d{0} 0 V=v(w{0})-v(s{1})", h, heater.sensor);
    line("Vo{0} o{0} 0 1", h);
    line("S{0} o{0} k{0} d{0} 0 band{0} {1}", h, closed ? "ON" : "OFF");
    line("Rk{0} k{0} 0 {1}", h, number(kContactLoad_ohm));
    line(".model band{} sw vt=0 vh={} ron=1e-6 roff=1e12", h, number(heater.band_k / 2));
  }

  void analysis() {
    std::string columns, contacts;
    for (int i = 0; i < net_.node_count(); ++i) columns += fmt::format(" v({})", end(i));
    for (std::size_t s = 0; s < net_.sensors.size(); ++s) columns += fmt::format(" v(s{})", s);
    for (std::size_t h = 0; h < net_.heaters.size(); ++h) {
      columns += fmt::format(" v(e{})", h);
      if (has_contact(net_.heaters[h])) contacts += fmt::format(" v(k{})", h);
    }
    line(".options method=trap trtol=1 reltol=1e-7 abstol=1e-9 vntol=1e-8");
    line(".tran {} {} 0 {} uic", number(options_.print_every_s), number(end_s_),
         number(options_.largest_step_s));
    line(".control");
    line("set numdgt=12");
    line("set wr_singlescale");
    line("set wr_vecnames");
    line("run");
    // Contacts at every step computed, the rest at equal intervals.
    if (!contacts.empty()) line("wrdata {}.contacts{}", options_.output_file, contacts);
    line("linearize{}", columns);
    line("wrdata {}{}", options_.output_file, columns);
    line("quit");
    line(".endc");
    line(".end");
  }

  const Network& net_;
  const NetlistOptions& options_;
  double end_s_;
  std::string text_;
};

}  // namespace

std::string spice_netlist(const Network& network, const NetlistOptions& options) {
  return Deck(network, options).text();
}

}  // namespace warmside::climate
