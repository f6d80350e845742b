#include "climate/network.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace warmside::climate {
namespace {

double parts_sum(const std::vector<Share>& shares) {
  return std::accumulate(shares.begin(), shares.end(), 0.0,
                         [](double sum, const Share& s) { return sum + s.part; });
}

/// Which ends hang together (union-find), to find nodes that no boundary holds.
class Islands {
 public:
  explicit Islands(int count) : parent_(static_cast<std::size_t>(count)) {
    std::iota(parent_.begin(), parent_.end(), 0);
  }
  int root(int i) {
    while (parent_[at(i)] != i) i = parent_[at(i)] = parent_[at(parent_[at(i)])];
    return i;
  }
  void join(int a, int b) { parent_[at(root(a))] = root(b); }

 private:
  static std::size_t at(int i) { return static_cast<std::size_t>(i); }
  std::vector<int> parent_;
};

void check_moisture(const Network& network, std::vector<std::string>& wrong) {
  if (!(network.air_heat_j_per_m3_k > 0)) wrong.push_back("air without heat capacity");
  std::vector<bool> holds(network.nodes.size() + network.boundaries.size(), false);
  std::fill(holds.begin() + static_cast<std::ptrdiff_t>(network.nodes.size()), holds.end(), true);
  const auto is_air = [&](int end) {
    return end >= 0 && end < static_cast<int>(holds.size()) && holds[static_cast<std::size_t>(end)];
  };
  for (const AirVolume& volume : network.air) {
    if (volume.node < 0 || volume.node >= network.node_count()) {
      wrong.push_back("an air volume without a node");
      return;
    }
    if (is_air(volume.node)) wrong.push_back("two air volumes in one node");
    holds[static_cast<std::size_t>(volume.node)] = true;
    if (!(volume.volume_m3 > 0) || !(volume.start_kg_per_m3 >= 0 && volume.start_kg_per_m3 < 1)) {
      wrong.push_back("an air volume that cannot be");
    }
  }
  if (network.air.empty()) return;
  const auto inspect = [&](const auto& link) {
    if (link.air && !(is_air(link.a) && is_air(link.b))) {
      wrong.push_back("moving air between ends that are not air");
    }
  };
  for (const Conduction& link : network.conductions) inspect(link);
  for (const Convection& link : network.convections) inspect(link);
  for (const WetSurface& wet : network.wet) {
    if (wet.convection < 0 || wet.convection >= static_cast<int>(network.convections.size())) {
      wrong.push_back("a wet surface without a convection");
      continue;
    }
    const Convection& link = network.convections[static_cast<std::size_t>(wet.convection)];
    if (link.a >= network.node_count() || !is_air(link.b) || link.b >= network.node_count()) {
      wrong.push_back("a wet surface whose convection is not from a node to air");
    }
    if (!(wet.area_m2 > 0) || !(wet.wet_share >= 0 && wet.wet_share <= 1)) {
      wrong.push_back("a wet surface that cannot be");
    }
  }
  for (const Misting& misting : network.misting) {
    const double whole = std::accumulate(misting.parts.begin(), misting.parts.end(), 0.0);
    if (misting.parts.size() != network.wet.size() || !(std::fabs(whole - 1) <= 1e-9) ||
        !(misting.kg >= 0) || !(misting.second_of_day >= 0 && misting.second_of_day <= kDay_s)) {
      wrong.push_back("a misting that cannot be");
      continue;
    }
    for (std::size_t w = 0; w < network.wet.size(); ++w) {
      if (misting.parts[w] > 0 && !network.wet[w].film) wrong.push_back("mist where no film lies");
    }
  }
}

}  // namespace

std::vector<std::string> check(const Network& network) {
  std::vector<std::string> wrong;
  const int ends = network.node_count() + static_cast<int>(network.boundaries.size());
  Islands islands(ends);
  const auto inspect_link = [&](const auto& link, double strength, const char* kind) {
    if (link.a < 0 || link.b < 0 || link.a >= ends || link.b >= ends || link.a == link.b) {
      wrong.push_back(std::string(kind) + " between ends that do not exist");
    } else if (!(strength >= 0) || !std::isfinite(strength)) {
      wrong.push_back(std::string(kind) + " of a strength that cannot be");
    } else if (strength > 0) {
      islands.join(link.a, link.b);
    }
  };
  for (const auto& link : network.conductions) inspect_link(link, link.w_per_k, "conduction");
  for (const auto& link : network.convections) {
    // The weaker side; what is not a number stays so, unlike with std::min.
    inspect_link(link, link.k_a < link.k_b ? link.k_a + 0 * link.k_b : link.k_b + 0 * link.k_a,
                 "convection");
    if (!(link.exponent >= 0 && link.exponent <= 2)) {
      wrong.push_back("convection with an exponent that cannot be");
    }
  }
  for (const auto& link : network.radiations) inspect_link(link, link.area_m2, "radiation");
  const auto inspect_temperature = [&](double t_k, const std::string& name) {
    if (!(t_k >= 0) || !std::isfinite(t_k)) wrong.push_back(name + ": not a temperature");
  };
  const auto inspect_vapour = [&](double kg_per_m3, const std::string& name) {
    if (!(kg_per_m3 >= 0 && kg_per_m3 < 1)) wrong.push_back(name + ": not an amount of vapour");
  };
  for (const Boundary& boundary : network.boundaries) {
    inspect_temperature(boundary.value_k, boundary.name);
    for (double t_k : boundary.hourly_k) inspect_temperature(t_k, boundary.name);
    inspect_vapour(boundary.vapour_kg_per_m3, boundary.name);
    for (double x : boundary.hourly_kg_per_m3) inspect_vapour(x, boundary.name);
  }
  if (network.nodes.empty()) wrong.push_back("there is no node");
  for (int i = 0; i < network.node_count(); ++i) {
    const Node& node = network.nodes[static_cast<std::size_t>(i)];
    if (!(node.capacity_j_per_k > 0) || !std::isfinite(node.capacity_j_per_k)) {
      wrong.push_back("node " + node.name + " holds no heat");
    }
    inspect_temperature(node.start_k, "node " + node.name);
    bool held = false;
    for (int b = network.node_count(); b < ends; ++b) held |= islands.root(i) == islands.root(b);
    if (!held) wrong.push_back("node " + node.name + " is joined to no boundary");
  }
  const auto inspect_shares = [&](const std::vector<Share>& shares, const std::string& name,
                                  int most) {
    if (!(std::fabs(parts_sum(shares) - 1) <= 1e-9))
      wrong.push_back(name + ": parts do not sum to 1");
    for (const Share& share : shares) {
      if (share.node < 0 || share.node >= most) wrong.push_back(name + ": no such node");
    }
  };
  for (const Sensor& sensor : network.sensors) {
    inspect_shares(sensor.feels, sensor.name, ends);
    if (!(sensor.lag_s >= 0) || !std::isfinite(sensor.lag_s)) {
      wrong.push_back(sensor.name + ": a lag that cannot be");
    }
    if (sensor.radiance && sensor.lag_s > 0) wrong.push_back(sensor.name + ": radiance has no lag");
  }
  const auto in_day = [](double second) { return second >= 0 && second <= kDay_s; };
  for (const Heater& heater : network.heaters) {
    inspect_shares(heater.shares, heater.name, network.node_count());
    if (!(heater.power_w >= 0) || !std::isfinite(heater.power_w)) {
      wrong.push_back(heater.name + ": a power that cannot be");
    }
    if (!in_day(heater.on_from_s) || !in_day(heater.on_until_s)) {
      wrong.push_back(heater.name + ": a timer outside the day");
    }
    if (heater.control == ControlKind::none) continue;
    if (heater.sensor < 0 || heater.sensor >= static_cast<int>(network.sensors.size())) {
      wrong.push_back(heater.name + ": its thermostat has no probe");
    } else if (network.sensors[static_cast<std::size_t>(heater.sensor)].radiance) {
      wrong.push_back(heater.name + ": radiance cannot control it");
    }
    if (heater.set_point.points.empty()) wrong.push_back(heater.name + ": no set point");
    double second = 0;
    for (const SetPoint::At& point : heater.set_point.points) {
      inspect_temperature(point.value_k, heater.name + "'s set point");
      if (!in_day(point.second_of_day) || point.second_of_day < second) {
        wrong.push_back(heater.name + ": set points out of order");
      }
      second = point.second_of_day;
    }
    if (!(heater.band_k > 0)) wrong.push_back(heater.name + ": a band of nothing");
  }
  check_moisture(network, wrong);
  return wrong;
}

namespace {

/// An hourly course read in straight lines, round and round; `fixed` when there is none.
double by_the_hour(const std::vector<double>& hourly, double fixed, double time_s) {
  if (hourly.empty()) return fixed;
  const auto n = static_cast<double>(hourly.size());
  double hour = std::fmod(time_s / 3600, n);
  if (hour < 0) hour += n;
  const auto first = static_cast<std::size_t>(hour) % hourly.size();
  const auto next = (first + 1) % hourly.size();
  const double f = hour - std::floor(hour);
  return hourly[first] * (1 - f) + hourly[next] * f;
}

}  // namespace

double boundary_k(const Boundary& boundary, double time_s) {
  return by_the_hour(boundary.hourly_k, boundary.value_k, time_s);
}

double boundary_kg_per_m3(const Boundary& boundary, double time_s) {
  return by_the_hour(boundary.hourly_kg_per_m3, boundary.vapour_kg_per_m3, time_s);
}

double set_point_k(const SetPoint& set_point, double second_of_day) {
  const auto& points = set_point.points;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const auto& from = points[i];
    const auto& to = points[(i + 1) % points.size()];
    double span = to.second_of_day - from.second_of_day;
    double into = second_of_day - from.second_of_day;
    if (i + 1 == points.size()) {  // the last one leads round midnight to the first
      span += kDay_s;
      if (into < 0) into += kDay_s;
    }
    if (into >= 0 && into < span) return from.value_k + (to.value_k - from.value_k) * into / span;
  }
  return points.front().value_k;
}

bool timer_on(const Heater& heater, double second_of_day) {
  if (heater.on_from_s == heater.on_until_s) return true;
  if (heater.on_from_s < heater.on_until_s) {
    return second_of_day >= heater.on_from_s && second_of_day < heater.on_until_s;
  }
  return second_of_day >= heater.on_from_s || second_of_day < heater.on_until_s;
}

double next_bend_s(const Network& network, double time_s, double second_of_day,
                   std::size_t first_boundary) {
  double next = 1e300;
  const auto of_day = [&](double second) {
    double ahead = second - second_of_day;
    if (ahead <= 1e-6) ahead += kDay_s;
    next = std::min(next, time_s + ahead);
  };
  for (const Heater& heater : network.heaters) {
    if (heater.on_from_s != heater.on_until_s) {
      of_day(heater.on_from_s);
      of_day(heater.on_until_s);
    }
    if (heater.control != ControlKind::none && heater.set_point.points.size() > 1) {
      for (const auto& point : heater.set_point.points) of_day(point.second_of_day);
    }
  }
  for (const Misting& misting : network.misting) of_day(misting.second_of_day);
  for (std::size_t b = first_boundary; b < network.boundaries.size(); ++b) {
    const Boundary& boundary = network.boundaries[b];
    if (boundary.hourly_k.empty() && boundary.hourly_kg_per_m3.empty()) continue;
    next = std::min(next, (std::floor(time_s / 3600 + 1e-9) + 1) * 3600);
  }
  return next;
}

}  // namespace warmside::climate
