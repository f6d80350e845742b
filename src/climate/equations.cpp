#include "climate/equations.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "climate/moist_air.h"
#include "climate/radiation.h"

namespace warmside::climate {
namespace {

constexpr double kThird = 1.0 / 3, kHalf = 0.5;

/// (dT^2 + s)^(n/2), given the root of dT^2 + s. The two exponents that the builder uses are quick.
double power_of(double root, double exponent) {
  if (exponent == kThird) return std::cbrt(root);
  if (exponent == kHalf) return std::sqrt(root);
  return std::pow(root, exponent);
}

/// Saturated vapour at a surface, brought to the temperature of the air beside it at the same
/// pressure, so that it meets the air's own at the dew point; and its slopes.
struct SurfaceVapour {
  double kg_per_m3, by_surface, by_air;
};
SurfaceVapour vapour_at_surface(double surface_k, double air_k) {
  const SaturatedVapour saturated = saturated_vapour(surface_k);
  const double expands = surface_k / air_k;
  return {saturated.kg_per_m3 * expands,
          saturated.kg_per_m3_k * expands + saturated.kg_per_m3 / air_k,
          -saturated.kg_per_m3 * expands / air_k};
}

}  // namespace

Equations::Equations(const Network& network, Parts parts)
    : contact(network.heaters.size(), 1),
      piece(network.heaters.size(), Piece::all),
      net_(network),
      parts_(parts),
      nodes_(network.node_count()),
      boundaries_(static_cast<int>(network.boundaries.size())),
      heaters_(static_cast<int>(network.heaters.size())) {
  size_ = nodes_;
  for (const Sensor& sensor : net_.sensors) {
    lag_state_.push_back(parts.lags && sensor.lag_s > 0 ? size_++ : -1);
  }
  first_vapour_ = size_;
  vapour_of_node_.assign(at(nodes_), -1);
  for (const AirVolume& volume : net_.air) vapour_of_node_[at(volume.node)] = size_++;
  // Wet surfaces of one node share one film.
  std::map<int, int> film_of_node;
  for (const WetSurface& wet : net_.wet) {
    int state = -1;
    if (parts.films && wet.film && wet.wet_share < 1 && !net_.air.empty()) {
      const int node = net_.convections[at(wet.convection)].a;
      const auto [found, fresh] = film_of_node.emplace(node, size_);
      if (fresh) {
        films_.push_back(size_++);
        film_area_.push_back(0);
      }
      state = found->second;
      film_area_[at(state - films_.front())] += wet.area_m2;
    }
    film_state_.push_back(state);
  }
  for (const Heater& heater : net_.heaters) {
    graded_.push_back(heater.control == ControlKind::proportional ||
                      (heater.control == ControlKind::on_off && parts.mean_duty));
  }
  mean_state_.assign(at(heaters_), -1);
  if (parts.mean_duty && parts.lags) {
    laws_ = mean_duties(net_);
    for (int h = 0; h < heaters_; ++h) {
      if (!laws_[at(h)].mean_k.empty()) mean_state_[at(h)] = size_++;
    }
  }
  clock.lit.assign(at(heaters_), 1);
  clock.outside.setZero(outside_size());

  std::vector<int> place(at(nodes_ + boundaries_), -1);
  const auto place_of = [&](int end) {
    if (place[at(end)] < 0) {
      place[at(end)] = static_cast<int>(radiating_.size());
      radiating_.push_back(end);
    }
    return place[at(end)];
  };
  for (const Radiation& link : net_.radiations) {
    place_of(link.a);
    place_of(link.b);
  }
  const auto n = static_cast<Eigen::Index>(radiating_.size());
  exchange_.setZero(n, n);
  for (const Radiation& link : net_.radiations) {
    const int a = place_of(link.a), b = place_of(link.b);
    exchange_(a, b) += link.area_m2;
    exchange_(b, a) += link.area_m2;
  }
  exchange_sum_ = exchange_.rowwise().sum();
  fourth_.setZero(n);
  radiated_.setZero(n);
  const auto links = static_cast<Eigen::Index>(net_.convections.size());
  conductance_.setZero(links);
  bend_.setZero(links);
  dt_.setZero(links);
}

Equations::Vector Equations::start() const {
  Vector y = Vector::Zero(size_);
  for (int i = 0; i < nodes_; ++i) y[i] = net_.nodes[at(i)].start_k;
  for (std::size_t v = 0; v < net_.air.size(); ++v) {
    y[vapour_state(static_cast<int>(v))] = net_.air[v].start_kg_per_m3;
  }
  for (std::size_t s = 0; s < lag_state_.size(); ++s) {
    if (lag_state_[s] >= 0) y[lag_state_[s]] = felt_k(static_cast<int>(s), y);
  }
  for (int h = 0; h < heaters_; ++h) {
    if (mean_state_[at(h)] >= 0) y[mean_state_[at(h)]] = std::clamp(by_band(h, y).value, 0.0, 1.0);
  }
  return y;
}

Equations::Vector Equations::capacity() const {
  Vector c = Vector::Ones(size_);
  for (int i = 0; i < nodes_; ++i) c[i] = net_.nodes[at(i)].capacity_j_per_k;
  for (std::size_t v = 0; v < net_.air.size(); ++v) {
    c[vapour_state(static_cast<int>(v))] = net_.air[v].volume_m3;
  }
  return c;
}

void Equations::set_clock(double time_s, double second_of_day) {
  const double second = std::fmod(second_of_day, kDay_s);
  for (int b = 0; b < boundaries_; ++b) {
    clock.outside[b] = boundary_k(net_.boundaries[at(b)], time_s);
    clock.outside[boundaries_ + b] = boundary_kg_per_m3(net_.boundaries[at(b)], time_s);
  }
  for (int h = 0; h < heaters_; ++h) {
    const Heater& heater = net_.heaters[at(h)];
    clock.lit[at(h)] = timer_on(heater, second);
    if (heater.control != ControlKind::none) {
      clock.outside[outside_set_point(h)] = set_point_k(heater.set_point, second);
    }
  }
}

double Equations::felt_k(int sensor, const Vector& y) const {
  const Sensor& one = net_.sensors[at(sensor)];
  double t = 0;
  if (one.radiance) {
    for (const Share& share : one.feels) t += share.part * std::pow(end_k(share.node, y), 4);
    return std::pow(t, 0.25);
  }
  for (const Share& share : one.feels) t += share.part * end_k(share.node, y);
  return t;
}

double Equations::sensor_k(int sensor, const Vector& y) const {
  const int state = lag_state_[at(sensor)];
  return state >= 0 ? y[state] : felt_k(sensor, y);
}

double Equations::sensor_rate(int sensor, const Vector& rate) const {
  const int state = lag_state_[at(sensor)];
  if (state >= 0) return rate[state];
  double sum = 0;
  for (const Share& share : net_.sensors[at(sensor)].feels) {
    if (share.node < nodes_) sum += share.part * rate[share.node];
  }
  return sum;
}

Equations::Duty Equations::duty_of(int h, const Vector& y) const {
  const Heater& heater = net_.heaters[at(h)];
  if (!clock.lit[at(h)]) return {0, 0};
  if (heater.control == ControlKind::none || stuck_on) return {1, 0};
  if (!graded(h)) return {static_cast<double>(contact[at(h)]), 0};
  const Duty line = line_of(h, y);
  const Piece p = piece[at(h)];
  if (p == Piece::none || (p == Piece::all && line.value <= 0)) return {0, 0};
  if (p == Piece::full || (p == Piece::all && line.value >= 1)) return {1, 0};
  return line;
}

Equations::Duty Equations::by_band(int h, const Vector& y) const {
  const Heater& heater = net_.heaters[at(h)];
  const double below = wanted_k(h) - sensor_k(heater.sensor, y);
  return {0.5 + below / heater.band_k, -1 / heater.band_k};
}

Equations::Duty Equations::line_of(int h, const Vector& y) const {
  const int state = mean_state_[at(h)];
  if (state < 0) return by_band(h, y);
  const MeanDuty& law = laws_[at(h)];
  const auto mean = law.mean(y[state]);
  const double below = wanted_k(h) + mean.value_k - sensor_k(net_.heaters[at(h)].sensor, y);
  return {y[state] + below / law.reach_k, -1 / law.reach_k, 1 + mean.slope_k / law.reach_k};
}

Piece Equations::piece_by_sensor(int h, const Vector& y) const {
  const double d = line_of(h, y).value;
  return d >= 1 ? Piece::full : d <= 0 ? Piece::none : Piece::line;
}

std::uint64_t Equations::kinks(const Vector& y) const {
  std::uint64_t sign = 0;
  for (int h = 0; h < heaters_; ++h) {
    sign = sign * 3 + (graded(h) && duty_of(h, y).slope != 0 ? 1 : 0);
  }
  return sign;
}

void Equations::convect(const Vector& y, bool with_slopes) {
  for (std::size_t i = 0; i < net_.convections.size(); ++i) {
    const Convection& link = net_.convections[i];
    const double dt = end_k(link.a, y) - end_k(link.b, y);
    const double square = dt * dt + kSmoothing_k2, root = std::sqrt(square);
    const double power = power_of(root, link.exponent);
    const double k = link.k_b + (link.k_a - link.k_b) * 0.5 * (1 + dt / root);
    const auto row = static_cast<Eigen::Index>(i);
    dt_[row] = dt;
    conductance_[row] = k * power;
    if (with_slopes) {
      const double k_slope = (link.k_a - link.k_b) * 0.5 * kSmoothing_k2 / (square * root);
      bend_[row] = power * (k * link.exponent * dt / square + k_slope);
    }
  }
}

Equations::WetFlow Equations::wet_flow(int index, double difference, const Vector& y) const {
  const WetSurface& wet = net_.wet[at(index)];
  const double g = conductance_[wet.convection] / (net_.air_heat_j_per_m3_k * kLewisPower);
  const double root =
      std::sqrt(difference * difference + kSmoothing_kg_per_m3 * kSmoothing_kg_per_m3);
  const double up = 0.5 * (difference + root), down = 0.5 * (difference - root);
  const double up_slope = 0.5 * (1 + difference / root), down_slope = 1 - up_slope;
  const double s = wet.wet_share;
  WetFlow flow;
  flow.beneath = g * s * difference;
  flow.beneath_slope = g * s;
  if (s < 1) {
    const int state = film_state_[at(index)];
    const double area = state >= 0 ? film_area_[at(state - films_.front())] : wet.area_m2;
    const double half = kHalfFilm_kg_per_m2 * area;
    const double film = state >= 0 ? std::max(y[state], 0.0) : 0;
    const double f = film / (film + half);
    flow.film = g * (1 - s) * (f * up + down);
    flow.film_slope = g * (1 - s) * (f * up_slope + down_slope);
    if (state >= 0) {
      flow.by_film = g * (1 - s) * up * half / ((film + half) * (film + half));
      // Of a film that several surfaces share each drains its share.
      const double over = film - kMostFilm_kg_per_m2 * area;
      if (over > 0) flow.run_off = over / kRunningDown_s * wet.area_m2 / area;
    } else {
      flow.run_off = -flow.film;
    }
  }
  flow.slope = flow.beneath_slope + flow.film_slope;
  return flow;
}

double Equations::wet_drain(int wet) const {
  return net_.wet[at(wet)].area_m2 / film_area_[at(film_state_[at(wet)] - films_.front())] /
         kRunningDown_s;
}

void Equations::rates(const Vector& y, Vector& out, Vector& tally) {
  // One vector for both while adding up: state rows, then tallies; outside ends meet their tally.
  out.setZero(size_);
  tally.setZero(tally_size());
  const auto add = [&](int column, double x) {
    if (column < size_) {
      out[column] += x;
    } else {
      tally[column - size_] += x;
    }
  };
  for (const Conduction& link : net_.conductions) {
    const double q = link.w_per_k * (end_k(link.a, y) - end_k(link.b, y));
    add(column(link.a), -q);
    add(column(link.b), q);
  }
  convect(y, false);
  for (std::size_t i = 0; i < net_.convections.size(); ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    const double q = conductance_[row] * dt_[row];
    add(column(net_.convections[i].a), -q);
    add(column(net_.convections[i].b), q);
  }
  if (!radiating_.empty()) {
    for (std::size_t i = 0; i < radiating_.size(); ++i) {
      const double t = end_k(radiating_[i], y);
      fourth_[static_cast<Eigen::Index>(i)] = t * t * t * t;
    }
    radiated_.noalias() = exchange_ * fourth_;
    for (std::size_t i = 0; i < radiating_.size(); ++i) {
      const auto k = static_cast<Eigen::Index>(i);
      add(column(radiating_[i]), kStefanBoltzmann * (radiated_[k] - exchange_sum_[k] * fourth_[k]));
    }
  }
  for (int h = 0; h < heaters_; ++h) {
    const Heater& heater = net_.heaters[at(h)];
    const double duty = duty_of(h, y).value, power = heater.power_w * duty;
    tally[given_by(h)] = power;
    for (const Share& share : heater.shares) out[share.node] += power * share.part;
    if (const int mean = mean_state_[at(h)]; mean >= 0) {
      out[mean] = (duty - y[mean]) / laws_[at(h)].settle_s;
    }
  }
  for (std::size_t s = 0; s < lag_state_.size(); ++s) {
    const int state = lag_state_[s];
    if (state < 0) continue;
    out[state] = (felt_k(static_cast<int>(s), y) - y[state]) / net_.sensors[s].lag_s;
  }
  if (net_.air.empty()) return;
  const auto carry = [&](int a, int b, double conductance) {
    const double m = conductance / net_.air_heat_j_per_m3_k * (vapour(a, y) - vapour(b, y));
    add(vapour_column(a), -m);
    add(vapour_column(b), m);
  };
  for (const Conduction& link : net_.conductions) {
    if (link.air) carry(link.a, link.b, link.w_per_k);
  }
  for (std::size_t i = 0; i < net_.convections.size(); ++i) {
    const Convection& link = net_.convections[i];
    if (link.air) carry(link.a, link.b, conductance_[static_cast<Eigen::Index>(i)]);
  }
  for (int w = 0; w < static_cast<int>(net_.wet.size()); ++w) {
    const Convection& link = net_.convections[at(net_.wet[at(w)].convection)];
    const SurfaceVapour saturated = vapour_at_surface(y[link.a], y[link.b]);
    const WetFlow flow = wet_flow(w, saturated.kg_per_m3 - vapour(link.b, y), y);
    const double m = flow.beneath + flow.film;
    out[link.a] -= kVapourHeat_j_per_kg * m;
    out[vapour_column(link.b)] += m;
    tally[evaporated()] += m;
    tally[drawn()] += flow.beneath;
    tally[run_off()] += flow.run_off;
    if (film_state_[at(w)] >= 0) out[film_state_[at(w)]] -= flow.film + flow.run_off;
  }
}

void Equations::slopes(const Vector& y, double floor, std::vector<Entry>& out) {
  out.clear();
  // Where a column of the state or outside stands as a row: outside columns are tallies.
  const auto link_slopes = [&](int a, int b, double by_a, double by_b) {
    // q from column a to column b; by_a = dq/da, by_b = dq/db.
    out.push_back({a, a, -by_a});
    out.push_back({a, b, -by_b});
    out.push_back({b, b, by_b});
    out.push_back({b, a, by_a});
  };
  for (const Conduction& link : net_.conductions) {
    link_slopes(column(link.a), column(link.b), link.w_per_k, -link.w_per_k);
  }
  convect(y, true);
  for (std::size_t i = 0; i < net_.convections.size(); ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    const double slope = conductance_[row] + bend_[row] * dt_[row];
    link_slopes(column(net_.convections[i].a), column(net_.convections[i].b), slope, -slope);
  }
  const auto n = static_cast<Eigen::Index>(radiating_.size());
  for (Eigen::Index i = 0; i < n; ++i) {
    const double t = end_k(radiating_[static_cast<std::size_t>(i)], y);
    fourth_[i] = 4 * kStefanBoltzmann * t * t * t;
  }
  for (Eigen::Index j = 0; j < n; ++j) {
    const int c = column(radiating_[static_cast<std::size_t>(j)]);
    out.push_back({c, c, -fourth_[j] * exchange_sum_[j]});
    for (Eigen::Index i = 0; i < n; ++i) {
      const double x = exchange_(i, j);
      if (!(x > floor * std::min(exchange_sum_[i], exchange_sum_[j]))) continue;
      out.push_back({column(radiating_[static_cast<std::size_t>(i)]), c, fourth_[j] * x});
    }
  }
  for (int h = 0; h < heaters_; ++h) {
    if (!graded(h)) continue;
    const Heater& heater = net_.heaters[at(h)];
    const Duty duty = duty_of(h, y);
    const int mean = mean_state_[at(h)];
    const auto by_duty = [&](int c, double slope) {
      out.push_back({size_ + given_by(h), c, heater.power_w * slope});
      for (const Share& share : heater.shares) {
        out.push_back({share.node, c, heater.power_w * slope * share.part, true});
      }
      if (mean >= 0) out.push_back({mean, c, slope / laws_[at(h)].settle_s});
    };
    const auto by_column = [&](int c, double part) { by_duty(c, duty.slope * part); };
    by_column(size_ + outside_set_point(h), -1);
    if (mean >= 0) {
      by_duty(mean, duty.by_mean);
      out.push_back({mean, mean, -1 / laws_[at(h)].settle_s});
    }
    const int state = lag_state_[at(heater.sensor)];
    if (state >= 0) {
      by_column(state, 1);
    } else {
      for (const Share& share : net_.sensors[at(heater.sensor)].feels) {
        by_column(column(share.node), share.part);
      }
    }
  }
  for (std::size_t s = 0; s < lag_state_.size(); ++s) {
    const int state = lag_state_[s];
    if (state < 0) continue;
    const double rate = 1 / net_.sensors[s].lag_s;
    out.push_back({state, state, -rate});
    for (const Share& share : net_.sensors[s].feels) {
      out.push_back({state, column(share.node), rate * share.part});
    }
  }
  if (net_.air.empty()) return;
  const auto carry = [&](int a, int b, double conductance) {
    const double flow = conductance / net_.air_heat_j_per_m3_k;
    link_slopes(vapour_column(a), vapour_column(b), flow, -flow);
  };
  for (const Conduction& link : net_.conductions) {
    if (link.air) carry(link.a, link.b, link.w_per_k);
  }
  for (std::size_t i = 0; i < net_.convections.size(); ++i) {
    const Convection& link = net_.convections[i];
    if (!link.air) continue;
    const auto row = static_cast<Eigen::Index>(i);
    carry(link.a, link.b, conductance_[row]);
    // More difference of temperature, more flow.
    const double by_dt =
        bend_[row] / net_.air_heat_j_per_m3_k * (vapour(link.a, y) - vapour(link.b, y));
    for (const auto& [column_of_vapour, sign] :
         {std::pair{vapour_column(link.a), -1.0}, std::pair{vapour_column(link.b), 1.0}}) {
      out.push_back({column_of_vapour, column(link.a), sign * by_dt});
      out.push_back({column_of_vapour, column(link.b), -sign * by_dt});
    }
  }
  for (int w = 0; w < static_cast<int>(net_.wet.size()); ++w) {
    const Convection& link = net_.convections[at(net_.wet[at(w)].convection)];
    const SurfaceVapour saturated = vapour_at_surface(y[link.a], y[link.b]);
    const WetFlow flow = wet_flow(w, saturated.kg_per_m3 - vapour(link.b, y), y);
    const int air = vapour_column(link.b), film = film_state_[at(w)];
    // The share by which a flow grows with the difference of temperature, through the convection.
    const auto link_row = static_cast<Eigen::Index>(net_.wet[at(w)].convection);
    const double growth = bend_[link_row] / conductance_[link_row];
    // Columns: the surface's temperature, the air's, the air's vapour, the film.
    const auto put = [&](int row, double m, double by_difference, double by_film) {
      out.push_back({row, link.a, by_difference * saturated.by_surface + m * growth});
      out.push_back({row, link.b, by_difference * saturated.by_air - m * growth});
      out.push_back({row, air, -by_difference});
      if (film >= 0) out.push_back({row, film, by_film});
    };
    const double heat = -kVapourHeat_j_per_kg, m = flow.beneath + flow.film;
    put(link.a, heat * m, heat * flow.slope, heat * flow.by_film);
    put(air, m, flow.slope, flow.by_film);
    put(size_ + evaporated(), m, flow.slope, flow.by_film);
    put(size_ + drawn(), flow.beneath, flow.beneath_slope, 0);
    if (film >= 0) {
      const double drain = flow.run_off > 0 ? wet_drain(w) : 0;
      put(film, -flow.film, -flow.film_slope, -flow.by_film - drain);
      if (drain > 0) out.push_back({size_ + run_off(), film, drain});
    } else {
      put(size_ + run_off(), -flow.film, -flow.film_slope, 0);
    }
  }
}

}  // namespace warmside::climate
