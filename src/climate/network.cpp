#include "climate/network.h"

#include <cmath>
#include <numeric>

namespace warmside::climate {
namespace {

constexpr double kDay_s = 86400;

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
  for (const Boundary& boundary : network.boundaries) {
    inspect_temperature(boundary.value_k, boundary.name);
    for (double t_k : boundary.hourly_k) inspect_temperature(t_k, boundary.name);
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
  return wrong;
}

double boundary_k(const Boundary& boundary, double time_s) {
  if (boundary.hourly_k.empty()) return boundary.value_k;
  const auto n = static_cast<double>(boundary.hourly_k.size());
  double hour = std::fmod(time_s / 3600, n);
  if (hour < 0) hour += n;
  const auto first = static_cast<std::size_t>(hour) % boundary.hourly_k.size();
  const auto next = (first + 1) % boundary.hourly_k.size();
  const double f = hour - std::floor(hour);
  return boundary.hourly_k[first] * (1 - f) + boundary.hourly_k[next] * f;
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

Flow convection_flow(const Convection& link, double dt_k) {
  const double square = dt_k * dt_k + kSmoothing_k2, root = std::sqrt(square);
  const double half = link.exponent / 2;
  const double power = std::pow(square, half);
  const double side = 0.5 * (1 + dt_k / root);
  const double k = link.k_b + (link.k_a - link.k_b) * side;
  const double k_slope = (link.k_a - link.k_b) * 0.5 * kSmoothing_k2 / (square * root);
  return {k * power * dt_k,
          power * (k * (1 + link.exponent * dt_k * dt_k / square) + k_slope * dt_k)};
}

}  // namespace warmside::climate
