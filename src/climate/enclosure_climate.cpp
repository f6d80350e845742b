#include "climate/enclosure_climate.h"

#include <algorithm>
#include <cmath>

#include "climate/moist_air.h"

namespace warmside::climate {
namespace {

std::vector<double> boundaries_at(const Network& network, double second_of_day) {
  std::vector<double> out;
  for (const Boundary& boundary : network.boundaries) {
    out.push_back(boundary_k(boundary, second_of_day));
  }
  return out;
}

}  // namespace

bool has_open_mesh(const EnclosureCase& enclosure) {
  return enclosure.faces.top.layers.front().material == "mesh" &&
         enclosure.openings.lid_covered.share() < 1;
}

double relative_humidity(double t_k, double vapour_kg_per_m3) {
  return vapour_kg_per_m3 / saturated_vapour(t_k).kg_per_m3;
}

Result<SteadyClimate> steady_climate(const EnclosureCase& enclosure,
                                     const SteadyQuestion& question) {
  SteadyClimate out;
  out.enclosure = build_network(enclosure, question.resolution);
  const Network& net = out.enclosure.network;
  SteadyOptions options;
  options.second_of_day = question.second_of_day;
  options.stuck_on = question.stuck_on;
  auto solved = solve_steady(net, options);
  if (!solved) return solved.problem();
  out.unknowns = net.node_count() + static_cast<int>(net.air.size());
  out.iterations = solved->iterations;
  out.heat_balance_error = solved->heat_balance_error;
  out.water_balance_error = solved->water_balance_error;
  out.water_kg_per_day = solved->drawn_kg_per_s * kDay_s;
  out.dew_kg_per_day = solved->run_off_kg_per_s * kDay_s;
  out.state = {solved->node_k, boundaries_at(net, question.second_of_day), solved->duty};
  const int n = net.node_count();
  const auto end_k = [&](int end) {
    return end < n ? solved->node_k[static_cast<std::size_t>(end)]
                   : out.state.boundary_k[static_cast<std::size_t>(end - n)];
  };
  out.room_k = end_k(out.enclosure.room);
  for (std::size_t p = 0; p < enclosure.probes.size(); ++p) {
    const double k = solved->sensor_k[static_cast<std::size_t>(out.enclosure.probe_sensor[p])];
    out.probes.push_back({enclosure.probes[p].name, {k, k, k}});
  }
  for (const AirZone& zone : out.enclosure.air) {
    const double k = end_k(zone.node);
    out.air.push_back(
        {zone.x_low_m,
         zone.x_high_m,
         zone.z_low_m,
         zone.z_high_m,
         {k, k, k},
         relative_humidity(k, solved->vapour_kg_per_m3[static_cast<std::size_t>(zone.volume)])});
  }
  for (const char* face : {"floor", "front", "back", "left", "right", "top"}) {
    SteadyClimate::Face one;
    one.name = face;
    double area = 0;
    for (const Surface& surface : out.enclosure.surfaces) {
      if (surface.face != face) continue;
      const double k = end_k(surface.main_node());
      const double a = surface.tile.area_m2();
      one.lowest_k = area == 0 ? k : std::min(one.lowest_k, k);
      one.highest_k = area == 0 ? k : std::max(one.highest_k, k);
      one.mean_k += a * k;
      area += a;
    }
    one.mean_k /= area;
    out.faces.push_back(std::move(one));
  }
  for (std::size_t h = 0; h < enclosure.heaters.size(); ++h) {
    const double power = net.heaters[h].power_w * solved->duty[h] * out.enclosure.drawn_per_watt(h);
    out.heaters.push_back({net.heaters[h].name, solved->duty[h], power});
    out.power_w += power;
  }
  if (!question.band || !has_open_mesh(enclosure)) return out;
  for (const double factor : {0.5, 2.0}) {
    EnclosureCase other = enclosure;
    other.openings.lid_flow_factor *= factor;
    const EnclosureNetwork network = build_network(other, question.resolution);
    options.guess_k = out.state.node_k;
    const auto band = solve_steady(network.network, options);
    if (!band) return band.problem();
    const auto widen = [](Banded& t, double k) {
      t.low_k = std::min(t.low_k, k);
      t.high_k = std::max(t.high_k, k);
    };
    for (std::size_t p = 0; p < out.probes.size(); ++p) {
      widen(out.probes[p].t, band->sensor_k[static_cast<std::size_t>(network.probe_sensor[p])]);
    }
    for (std::size_t a = 0; a < out.air.size(); ++a) {
      widen(out.air[a].t, band->node_k[static_cast<std::size_t>(network.air[a].node)]);
    }
  }
  return out;
}

Result<ClimateCourse> climate_course(const EnclosureCase& enclosure, const RunOptions& options) {
  const EnclosureNetwork built = build_network(enclosure, zonal_resolution());
  const Network& net = built.network;
  auto course = run(net, options);
  if (!course) return course.problem();
  ClimateCourse out;
  out.time_s = course->time_s;
  const std::size_t records = out.time_s.size(), width = static_cast<std::size_t>(course->width);
  for (std::size_t p = 0; p < enclosure.probes.size(); ++p) {
    out.probe_names.push_back(enclosure.probes[p].name);
    auto& series = out.probe_k.emplace_back();
    const std::size_t at = net.nodes.size() + static_cast<std::size_t>(built.probe_sensor[p]);
    for (std::size_t k = 0; k < records; ++k) {
      series.push_back(course->temperature_k[k * width + at]);
    }
  }
  // The cooler end is where the low air is cooler at the end.
  const AirZone* cool = nullptr;
  for (const AirZone& zone : built.air) {
    if (zone.z_low_m > 0) continue;
    if (cool == nullptr || course->end_k[static_cast<std::size_t>(zone.node)] <
                               course->end_k[static_cast<std::size_t>(cool->node)]) {
      cool = &zone;
    }
  }
  for (std::size_t k = 0; k < records; ++k) {
    out.humidity.push_back(relative_humidity(
        course->temperature_k[k * width + static_cast<std::size_t>(cool->node)],
        course->vapour_kg_per_m3[k * net.air.size() + static_cast<std::size_t>(cool->volume)]));
  }
  for (std::size_t h = 0; h < net.heaters.size(); ++h) {
    out.heater_names.push_back(net.heaters[h].name);
    out.duty.push_back(course->duty[h]);
    out.energy_j.push_back(course->energy_j[h] * built.drawn_per_watt(h));
    out.switches.push_back(course->switches[h]);
  }
  out.water_kg = course->drawn_kg;
  out.misted_kg = course->misted_kg;
  out.dew_kg = course->run_off_kg;
  out.heat_balance_error = course->heat_balance_error;
  out.water_balance_error = course->water_balance_error;
  out.stopped = course->stopped;
  return out;
}

namespace {

/// Starts from between what noon and midnight would settle to, so that few days settle the rest.
void start_settled(Network& network) {
  std::vector<double> mean(network.nodes.size(), 0);
  for (const double second : {0.0, 43200.0}) {
    SteadyOptions options;
    options.second_of_day = second;
    const auto steady = solve_steady(network, options);
    if (!steady) return;  // the run settles by itself, from where the nodes are
    for (std::size_t i = 0; i < mean.size(); ++i) mean[i] += 0.5 * steady->node_k[i];
  }
  for (std::size_t i = 0; i < mean.size(); ++i) network.nodes[i].start_k = mean[i];
}

/// Turns a course of nodes into the hours of its last day.
class DayReader {
 public:
  DayReader(const EnclosureNetwork& built, const Course& course, int per_hour)
      : built_(built), course_(course), per_hour_(static_cast<std::size_t>(per_hour)) {
    first_ = course.time_s.size() - 1 - 24 * per_hour_;
  }

  /// Means over the hours of any function of a record.
  template <class Value>
  std::vector<double> hours(Value value) const {
    std::vector<double> out;
    for (std::size_t hour = 0; hour < 24; ++hour) {
      double sum = 0;
      for (std::size_t i = 0; i < per_hour_; ++i) sum += value(first_ + hour * per_hour_ + i + 1);
      out.push_back(sum / static_cast<double>(per_hour_));
    }
    return out;
  }
  double node_k(std::size_t record, int node) const {
    return course_.temperature_k[record * static_cast<std::size_t>(course_.width) +
                                 static_cast<std::size_t>(node)];
  }
  double sensor_k(std::size_t record, int sensor) const {
    return node_k(record, built_.network.node_count() + sensor);
  }
  double vapour(std::size_t record, int volume) const {
    return course_
        .vapour_kg_per_m3[record * built_.network.air.size() + static_cast<std::size_t>(volume)];
  }
  std::size_t record_of_hour(int hour) const {
    return first_ + static_cast<std::size_t>(hour) * per_hour_ + per_hour_ / 2;
  }
  std::vector<double> nodes(std::size_t record) const {
    const auto begin =
        course_.temperature_k.begin() +
        static_cast<std::ptrdiff_t>(record * static_cast<std::size_t>(course_.width));
    return {begin, begin + built_.network.node_count()};
  }
  std::vector<double> duties(std::size_t record) const {
    const std::size_t n = built_.network.heaters.size();
    const auto begin = course_.duty_now.begin() + static_cast<std::ptrdiff_t>(record * n);
    return {begin, begin + static_cast<std::ptrdiff_t>(n)};
  }

 private:
  const EnclosureNetwork& built_;
  const Course& course_;
  std::size_t per_hour_;
  std::size_t first_ = 0;
};

}  // namespace

Result<ClimateDay> climate_day(const EnclosureCase& enclosure, const DayQuestion& question) {
  constexpr int kPerHour = 6;
  EnclosureNetwork built = build_network(enclosure, zonal_resolution());
  start_settled(built.network);
  const Network& net = built.network;
  RunOptions options;
  options.hours = 24.0 * (question.settle_days + 1);
  options.step_s = 600;
  options.record_every_s = 3600.0 / kPerHour;
  options.switching = Switching::mean_duty;
  const auto course = run(net, options);
  if (!course) return course.problem();
  const DayReader reader(built, *course, kPerHour);

  ClimateDay day;
  const AirZone& left = built.air.front();
  const AirZone* right = &left;
  for (const AirZone& zone : built.air) {
    if (zone.z_low_m == 0) right = &zone;
  }
  const auto mean = [](const std::vector<double>& hours) {
    double sum = 0;
    for (const double x : hours) sum += x;
    return sum / static_cast<double>(hours.size());
  };
  const auto air_of = [&](const AirZone& zone) {
    return reader.hours([&](std::size_t k) { return reader.node_k(k, zone.node); });
  };
  const auto left_air = air_of(left), right_air = air_of(*right);
  day.warm_left = mean(left_air) >= mean(right_air);
  day.warm_air_k = day.warm_left ? left_air : right_air;
  day.cool_air_k = day.warm_left ? right_air : left_air;
  const auto floor_of = [&](const AirZone& zone) {
    return reader.hours([&](std::size_t k) {
      double sum = 0, area = 0;
      for (int c = 0; c < built.floor_count; ++c) {
        const Surface& cell = built.surfaces[static_cast<std::size_t>(c)];
        const double x = 0.5 * (cell.tile.low_m[0] + cell.tile.high_m[0]);
        if (x < zone.x_low_m || x > zone.x_high_m) continue;
        sum += cell.tile.area_m2() * reader.node_k(k, cell.main_node());
        area += cell.tile.area_m2();
      }
      return sum / area;
    });
  };
  day.warm_floor_k = floor_of(day.warm_left ? left : *right);
  day.cool_floor_k = floor_of(day.warm_left ? *right : left);
  day.humidity = reader.hours([&](std::size_t k) {
    double sum = 0;
    for (const AirZone* zone : {&left, right}) {
      sum += 0.5 * relative_humidity(reader.node_k(k, zone->node), reader.vapour(k, zone->volume));
    }
    return sum;
  });
  day.room_k = reader.hours([&](std::size_t k) {
    return built.room < net.node_count()
               ? reader.node_k(k, built.room)
               : boundary_k(net.boundaries[static_cast<std::size_t>(built.room - net.node_count())],
                            course->time_s[k]);
  });
  // Where the strongest beam strikes the floor; a tube warms no place more than another.
  const Beam* strongest = nullptr;
  for (const Beam& beam : built.beams) {
    if (enclosure.heaters[static_cast<std::size_t>(beam.heater)].kind == CaseHeaterKind::tube)
      continue;
    if (strongest == nullptr || beam.power_w > strongest->power_w) strongest = &beam;
  }
  if (strongest != nullptr) {
    const auto& from = strongest->from_m[strongest->from_m.size() / 2];
    for (int c = 0; c < built.floor_count; ++c) {
      const Surface& cell = built.surfaces[static_cast<std::size_t>(c)];
      if (from[0] < cell.tile.low_m[0] || from[0] > cell.tile.high_m[0] ||
          from[1] < cell.tile.low_m[1] || from[1] > cell.tile.high_m[1]) {
        continue;
      }
      day.basking_k =
          reader.hours([&](std::size_t k) { return reader.node_k(k, cell.main_node()); });
      break;
    }
  }
  for (std::size_t p = 0; p < enclosure.probes.size(); ++p) {
    day.probe_k.push_back(
        reader.hours([&](std::size_t k) { return reader.sensor_k(k, built.probe_sensor[p]); }));
  }
  if (question.preferred) {
    for (int hour = 0; hour < 24; ++hour) {
      const std::size_t record = reader.record_of_hour(hour);
      const State state{reader.nodes(record), boundaries_at(net, course->time_s[record]),
                        reader.duties(record)};
      const FloorField field = floor_field(built, state, question.body);
      day.quality.push_back(thermal_quality(field.t_k, field.area_m2, *question.preferred));
    }
  }
  // The last day's energy: of its duties, hour by hour.
  for (std::size_t h = 0; h < enclosure.heaters.size(); ++h) {
    const auto duties = reader.hours([&](std::size_t k) { return reader.duties(k)[h]; });
    day.duty.push_back(mean(duties));
    day.afternoon_duty.push_back((duties[12] + duties[13] + duties[14] + duties[15]) / 4);
    day.energy_j.push_back(mean(duties) * kDay_s * net.heaters[h].power_w *
                           built.drawn_per_watt(h));
  }
  day.heat_balance_error = course->heat_balance_error;
  day.water_balance_error = course->water_balance_error;
  return day;
}

}  // namespace warmside::climate
