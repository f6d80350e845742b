#include "climate/netlist.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <utility>

#include "climate/moist_air.h"
#include "climate/radiation.h"

namespace warmside::climate {
namespace {

/// A jump of the clock becomes a ramp of this length about its moment: a simulator needs a slope.
constexpr double kRamp_s = 1e-3;
/// The contact's load, ohm; with the switch's 1e-6 and 1e12 ohm it reads 1 or 0 to 1e-9.
constexpr double kContactLoad_ohm = 1e3;
/// How long a misting lasts, which the solver takes as a moment.
constexpr double kMist_s = 1;
constexpr double kGrams = 1000;

/// The vapour pressure of saturated air as text, Pa, with t in K: over ice below the triple point,
/// else over water (ASHRAE Fundamentals 2017, ch. 1, eq. 5 and 6, written anew from there).
std::string saturation_pressure_text(const std::string& t) {
  return fmt::format(
      "({0}<273.16?"
      "exp(-5674.5359/{0}+6.3925247-9.677843e-3*{0}+6.2215701e-7*{0}*{0}+2.0747825e-9*{0}*{0}*{0}"
      "-9.484024e-13*{0}*{0}*{0}*{0}+4.1635019*ln({0})):"
      "exp(-5800.2206/{0}+1.3914993-4.8640239e-2*{0}+4.1764768e-5*{0}*{0}"
      "-1.4452093e-8*{0}*{0}*{0}+6.5459673*ln({0})))",
      t);
}

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
    if (moist()) line("* vapour at x..., films at m...: volts are g/m3 and g/m2, amperes g/s");
    boundaries();
    nodes();
    conductions();
    convections();
    radiations();
    if (moist()) moisture();
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

  bool moist() const { return !net_.air.empty(); }
  /// The circuit's name of the vapour at an end.
  std::string vapour(int index) const { return "x" + end(index); }

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
    for (int b = 0; b < static_cast<int>(net_.boundaries.size()); ++b) {
      const Boundary& boundary = net_.boundaries[static_cast<std::size_t>(b)];
      const std::string name = end(net_.boundary_end(b));
      remark(name, boundary.name);
      by_the_hour(name, boundary.hourly_k, boundary.value_k - kIcePoint_k,
                  [&](double time) { return boundary_k(boundary, time) - kIcePoint_k; });
      if (!moist()) continue;
      by_the_hour("x" + name, boundary.hourly_kg_per_m3, boundary.vapour_kg_per_m3 * kGrams,
                  [&](double time) { return boundary_kg_per_m3(boundary, time) * kGrams; });
    }
  }
  void by_the_hour(const std::string& name, const std::vector<double>& hourly, double fixed,
                   const std::function<double(double)>& value) {
    if (hourly.empty()) {
      line("V{0} {0} 0 {1}", name, number(fixed));
      return;
    }
    std::vector<double> hours;
    for (double time = 0; time < end_s_; time += 3600) hours.push_back(time);
    source(name, hours, value);
  }

  void nodes() {
    for (int i = 0; i < net_.node_count(); ++i) {
      const Node& node = net_.nodes[static_cast<std::size_t>(i)];
      remark(end(i), node.name);
      line("C{0} {0} 0 {1} IC={2}", end(i), number(node.capacity_j_per_k),
           number(node.start_k - kIcePoint_k));
    }
    for (const AirVolume& volume : net_.air) {
      line("C{0} {0} 0 {1} IC={2}", vapour(volume.node), number(volume.volume_m3),
           number(volume.start_kg_per_m3 * kGrams));
    }
  }

  void conductions() {
    int count = 0;
    for (const Conduction& link : net_.conductions) {
      if (link.w_per_k == 0) continue;
      line("R{} {} {} {}", count, end(link.a), end(link.b), number(1 / link.w_per_k));
      if (moist() && link.air) {
        line("Rx{} {} {} {}", count, vapour(link.a), vapour(link.b),
             number(net_.air_heat_j_per_m3_k / link.w_per_k));
      }
      ++count;
    }
  }

  /// The conductance of a link that moves vapour too stands at a node g of its own, W/K.
  void convections() {
    std::vector<bool> at_node(net_.convections.size(), false);
    if (moist()) {
      for (std::size_t i = 0; i < at_node.size(); ++i) at_node[i] = net_.convections[i].air;
      for (const WetSurface& wet : net_.wet) {
        at_node[static_cast<std::size_t>(wet.convection)] = true;
      }
    }
    for (std::size_t i = 0; i < net_.convections.size(); ++i) {
      const Convection& link = net_.convections[i];
      const std::string a = end(link.a), b = end(link.b);
      const std::string dt = fmt::format("(v({})-v({}))", a, b);
      const std::string square = fmt::format("({0}*{0}+{1})", dt, number(kSmoothing_k2));
      const std::string k = link.k_a == link.k_b
                                ? number(link.k_b)
                                : fmt::format("({}+({})*0.5*(1+{}/sqrt({})))", number(link.k_b),
                                              number(link.k_a - link.k_b), dt, square);
      const std::string conductance = fmt::format("{}*{}^{}", k, square, number(link.exponent / 2));
      if (!at_node[i]) {
        line("Bc{} {} {} I={}*{}", i, a, b, conductance, dt);
        continue;
      }
      line("Bg{0} g{0} 0 V={1}", i, conductance);
      line("Bc{0} {1} {2} I=v(g{0})*{3}", i, a, b, dt);
      if (link.air) {
        line("Bx{0} {1} {2} I=v(g{0})*(v({1})-v({2}))/{3}", i, vapour(link.a), vapour(link.b),
             number(net_.air_heat_j_per_m3_k));
      }
    }
  }

  /// sigma T^4 of each end that radiates stands at a node j, W/m2; links between the same ends are
  /// one.
  void radiations() {
    std::map<std::pair<int, int>, double> areas;
    std::map<int, bool> written;
    for (const Radiation& link : net_.radiations) {
      areas[std::minmax(link.a, link.b)] += link.area_m2;
      for (const int index : {link.a, link.b}) {
        if (!std::exchange(written[index], true)) {
          line("Bj{0} j{0} 0 V={1}*(v({0})+273.15)^4", end(index), number(kStefanBoltzmann));
        }
      }
    }
    int count = 0;
    for (const auto& [ends, area] : areas) {
      const std::string a = end(ends.first), b = end(ends.second);
      line("Gj{0} {1} {2} j{1} j{2} {3}", count++, a, b, number(area));
    }
  }

  /// Wet and cold surfaces. Nodes q: pressure of saturated vapour at a
  /// surface over its gas constant, K g/m3; m: the film on it, g/m2;
  /// z: the share f of evaporation that the film lets pass; u and y: heat that evaporation from
  /// beneath and from the film takes, W.
  void moisture() {
    std::map<int, double> film_area;  // by node
    const auto has_film = [](const WetSurface& wet) { return wet.film && wet.wet_share < 1; };
    const auto surface = [&](const WetSurface& wet) {
      return net_.convections[static_cast<std::size_t>(wet.convection)].a;
    };
    std::map<int, bool> written;
    for (const WetSurface& wet : net_.wet) {
      if (has_film(wet)) film_area[surface(wet)] += wet.area_m2;
      const std::string node = end(surface(wet));
      if (std::exchange(written[surface(wet)], true)) continue;
      const std::string t = fmt::format("(v({})+273.15)", node);
      line("Bq{0} q{0} 0 V={1}/{2}", node, saturation_pressure_text(t),
           number(kVapourGasConstant / kGrams));
    }
    for (const auto& [index, area] : film_area) {
      const std::string node = end(index);
      line("Cm{0} m{0} 0 {1} IC=0", node, number(area));
      line("Bz{0} z{0} 0 V=max(v(m{0}),0)/(max(v(m{0}),0)+{1})", node,
           number(kHalfFilm_kg_per_m2 * kGrams));
      line("Bd{0} m{0} 0 I={1}*max(v(m{0})-{2},0)", node, number(area / kRunningDown_s),
           number(kMostFilm_kg_per_m2 * kGrams));
    }
    for (std::size_t w = 0; w < net_.wet.size(); ++w) {
      const WetSurface& wet = net_.wet[w];
      const Convection& link = net_.convections[static_cast<std::size_t>(wet.convection)];
      const std::string node = end(link.a), air = vapour(link.b);
      const std::string more = fmt::format("(v(q{})/(v({})+273.15)-v({}))", node, end(link.b), air);
      const std::string root = fmt::format("sqrt({0}*{0}+{1})", more,
                                           number(std::pow(kSmoothing_kg_per_m3 * kGrams, 2)));
      const double heat = kVapourHeat_j_per_kg / kGrams;
      const double by_conductance = heat / (net_.air_heat_j_per_m3_k * kLewisPower);
      const auto take = [&](char from) {
        line("Gh{0}{1} {2} 0 {0}{1} 0 1", from, w, node);
        line("Gx{0}{1} 0 {2} {0}{1} 0 {3}", from, w, air, number(1 / heat));
      };
      if (wet.wet_share > 0) {
        line("Bu{0} u{0} 0 V={1}*v(g{2})*{3}", w, number(by_conductance * wet.wet_share),
             wet.convection, more);
        take('u');
      }
      if (wet.wet_share < 1) {
        const std::string share =
            has_film(wet) ? fmt::format("v(z{})*({}+{})+", node, more, root) : std::string();
        line("By{0} y{0} 0 V={1}*v(g{2})*({3}{4}-{5})", w,
             number(by_conductance * (1 - wet.wet_share) / 2), wet.convection, share, more, root);
        take('y');
        if (has_film(wet)) line("Gm{0} m{1} 0 y{0} 0 {2}", w, node, number(1 / heat));
      }
    }
    for (std::size_t i = 0; i < net_.misting.size(); ++i) mist(i);
  }

  /// Node i: 1 while the misting lasts.
  void mist(std::size_t i) {
    const Misting& misting = net_.misting[i];
    const std::string name = fmt::format("i{}", i);
    const double second = std::fmod(misting.second_of_day, kDay_s);
    source(name, moments({second, second + kMist_s}), [&](double time) {
      const double since = second_of_day(time - second + kDay_s);
      return since < kMist_s ? 1.0 : 0.0;
    });
    std::map<int, double> grams;
    for (std::size_t w = 0; w < net_.wet.size(); ++w) {
      const WetSurface& wet = net_.wet[w];
      const int node = net_.convections[static_cast<std::size_t>(wet.convection)].a;
      if (misting.parts[w] > 0 && wet.film && wet.wet_share < 1) {
        grams[node] += misting.kg * kGrams * misting.parts[w];
      }
    }
    for (const auto& [node, all] : grams) {
      line("Gi{0}{1} 0 m{1} {2} 0 {3}", i, end(node), name, number(all / kMist_s));
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
      const std::string v = fmt::format("v({})", end(share.node));
      felt += fmt::format("{}({})*{}", felt.empty() ? "" : "+", number(share.part),
                          sensor.radiance ? fmt::format("({}+273.15)^4", v) : v);
    }
    if (sensor.radiance) felt = fmt::format("({})^0.25-273.15", felt);
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
      line("Gp{0}x{1} 0 {2} p{0} 0 {3}", h, i, end(heater.shares[i].node),
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
    for (const AirVolume& volume : net_.air) columns += fmt::format(" v({})", vapour(volume.node));
    for (std::size_t h = 0; h < net_.heaters.size(); ++h) {
      columns += fmt::format(" v(e{})", h);
      if (has_contact(net_.heaters[h])) contacts += fmt::format(" v(k{})", h);
    }
    line(".options method=trap trtol={} reltol=1e-7 abstol=1e-9 vntol=1e-8",
         number(options_.truncation_factor));
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
