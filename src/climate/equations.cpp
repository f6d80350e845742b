#include "climate/equations.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <map>

#include "climate/moist_air.h"
#include "climate/radiation.h"

namespace warmside::climate {
namespace {

constexpr double kThird = 1.0 / 3, kHalf = 0.5;

/// As std::cbrt of a normal number above 0, to 1e-14, three times as fast: Halley's iteration from
/// a third of the exponent. It is what a year spends most of its time on.
inline double cube_root(double x) {
  double y = std::bit_cast<double>(std::bit_cast<std::uint64_t>(x) / 3 + 0x2A9F7893782DA1CE);
  for (int i = 0; i < 2; ++i) {
    const double cube = y * y * y;
    y *= (cube + 2 * x) / (2 * cube + x);
  }
  return y;
}

/// (dT^2 + s)^(n/2), given the root of dT^2 + s. The two exponents that the builder uses are quick.
inline double power_of(double root, double exponent) {
  if (exponent == kThird) return cube_root(root);
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

  compile();
}

void Equations::compile() {
  for (const Conduction& link : net_.conductions) {
    conducting_.push_back({column(link.a), column(link.b), link.w_per_k});
    if (!link.air || net_.air.empty()) continue;
    carrying_.push_back(
        {vapour_column(link.a), vapour_column(link.b), link.w_per_k / net_.air_heat_j_per_m3_k});
  }
  for (const Convection& link : net_.convections) {
    const int index = static_cast<int>(convecting_.size());
    convecting_.push_back({column(link.a), column(link.b), 0});
    if (!link.air || net_.air.empty()) continue;
    carrying_by_convection_.push_back({vapour_column(link.a), vapour_column(link.b), index});
  }
  for (std::size_t w = 0; w < net_.wet.size() && !net_.air.empty(); ++w) {
    const WetSurface& wet = net_.wet[w];
    const Convection& link = net_.convections[at(wet.convection)];
    const int film = film_state_[w];
    wet_.push_back({link.a, link.b, vapour_column(link.b), wet.convection, film, wet.area_m2,
                    film >= 0 ? film_area_[at(film - films_.front())] : wet.area_m2,
                    wet.wet_share});
  }
  std::vector<int> place(at(size_ + boundaries_), -1);
  const auto place_of = [&](int end) {
    int& found = place[at(column(end))];
    if (found < 0) {
      found = static_cast<int>(radiating_.size());
      radiating_.push_back(column(end));
    }
    return found;
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
  values_.setZero(size_ + outside_size());
  sums_.setZero(size_ + tally_size());
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

void Equations::load(const Vector& y) {
  values_.head(size_) = y;
  values_.tail(outside_size()) = clock.outside;
}

template <bool with_slopes>
void Equations::convect() {
  for (std::size_t i = 0; i < convecting_.size(); ++i) {
    const Convection& link = net_.convections[i];
    const double dt = values_[convecting_[i].a] - values_[convecting_[i].b];
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

template <bool with_slopes>
Equations::WetFlow Equations::wet_flow(const Wet& wet, double difference) const {
  const double g = conductance_[wet.convection] / (net_.air_heat_j_per_m3_k * kLewisPower);
  const double s = wet.share;
  WetFlow flow;
  flow.beneath = g * s * difference;
  if (with_slopes) flow.slope = flow.beneath_slope = g * s;
  if (s >= 1) return flow;
  const double root =
      std::sqrt(difference * difference + kSmoothing_kg_per_m3 * kSmoothing_kg_per_m3);
  const double up = 0.5 * (difference + root), down = 0.5 * (difference - root);
  const double half = kHalfFilm_kg_per_m2 * wet.film_area_m2;
  const double film = wet.film >= 0 ? std::max(values_[wet.film], 0.0) : 0;
  const double f = film / (film + half);
  flow.film = g * (1 - s) * (f * up + down);
  if (wet.film < 0) {
    flow.run_off = -flow.film;
  } else if (const double over = film - kMostFilm_kg_per_m2 * wet.film_area_m2; over > 0) {
    // Of a film that several surfaces share each drains its share.
    flow.run_off = over / kRunningDown_s * wet.area_m2 / wet.film_area_m2;
  }
  if (with_slopes) {
    const double up_slope = 0.5 * (1 + difference / root), down_slope = 1 - up_slope;
    flow.film_slope = g * (1 - s) * (f * up_slope + down_slope);
    flow.slope += flow.film_slope;
    if (wet.film >= 0) flow.by_film = g * (1 - s) * up * half / ((film + half) * (film + half));
  }
  return flow;
}

void Equations::rates(const Vector& y, Vector& out, Vector& tally) {
  load(y);
  sums_.setZero();
  for (const Line& line : conducting_) {
    const double q = line.strength * (values_[line.a] - values_[line.b]);
    sums_[line.a] -= q;
    sums_[line.b] += q;
  }
  convect<false>();
  for (std::size_t i = 0; i < convecting_.size(); ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    const double q = conductance_[row] * dt_[row];
    sums_[convecting_[i].a] -= q;
    sums_[convecting_[i].b] += q;
  }
  const auto radiating = static_cast<Eigen::Index>(radiating_.size());
  for (Eigen::Index i = 0; i < radiating; ++i) {
    const double t = values_[radiating_[static_cast<std::size_t>(i)]];
    fourth_[i] = t * t * t * t;
  }
  if (radiating > 0) radiated_.noalias() = exchange_ * fourth_;
  for (Eigen::Index i = 0; i < radiating; ++i) {
    sums_[radiating_[static_cast<std::size_t>(i)]] +=
        kStefanBoltzmann * (radiated_[i] - exchange_sum_[i] * fourth_[i]);
  }
  for (int h = 0; h < heaters_; ++h) {
    const Heater& heater = net_.heaters[at(h)];
    const double duty = duty_of(h, y).value, power = heater.power_w * duty;
    sums_[size_ + given_by(h)] = power;
    for (const Share& share : heater.shares) sums_[share.node] += power * share.part;
    if (const int mean = mean_state_[at(h)]; mean >= 0) {
      sums_[mean] = (duty - y[mean]) / laws_[at(h)].settle_s;
    }
  }
  for (std::size_t s = 0; s < lag_state_.size(); ++s) {
    const int state = lag_state_[s];
    if (state < 0) continue;
    sums_[state] = (felt_k(static_cast<int>(s), y) - y[state]) / net_.sensors[s].lag_s;
  }
  for (const Line& line : carrying_) {
    const double m = line.strength * (values_[line.a] - values_[line.b]);
    sums_[line.a] -= m;
    sums_[line.b] += m;
  }
  for (const Carrying& link : carrying_by_convection_) {
    const double m = conductance_[link.convection] / net_.air_heat_j_per_m3_k *
                     (values_[link.a] - values_[link.b]);
    sums_[link.a] -= m;
    sums_[link.b] += m;
  }
  for (const Wet& wet : wet_) {
    const SurfaceVapour saturated = vapour_at_surface(values_[wet.surface], values_[wet.air]);
    const WetFlow flow = wet_flow<false>(wet, saturated.kg_per_m3 - values_[wet.vapour]);
    const double m = flow.beneath + flow.film;
    sums_[wet.surface] -= kVapourHeat_j_per_kg * m;
    sums_[wet.vapour] += m;
    sums_[size_ + evaporated()] += m;
    sums_[size_ + drawn()] += flow.beneath;
    sums_[size_ + run_off()] += flow.run_off;
    if (wet.film >= 0) sums_[wet.film] -= flow.film + flow.run_off;
  }
  out = sums_.head(size_);
  tally = sums_.tail(tally_size());
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
  load(y);
  for (const Line& line : conducting_) link_slopes(line.a, line.b, line.strength, -line.strength);
  convect<true>();
  for (std::size_t i = 0; i < convecting_.size(); ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    const double slope = conductance_[row] + bend_[row] * dt_[row];
    link_slopes(convecting_[i].a, convecting_[i].b, slope, -slope);
  }
  const auto n = static_cast<Eigen::Index>(radiating_.size());
  for (Eigen::Index i = 0; i < n; ++i) {
    const double t = values_[radiating_[static_cast<std::size_t>(i)]];
    fourth_[i] = 4 * kStefanBoltzmann * t * t * t;
  }
  for (Eigen::Index j = 0; j < n; ++j) {
    const int c = radiating_[static_cast<std::size_t>(j)];
    out.push_back({c, c, -fourth_[j] * exchange_sum_[j]});
    for (Eigen::Index i = 0; i < n; ++i) {
      const double x = exchange_(i, j);
      if (!(x > floor * std::min(exchange_sum_[i], exchange_sum_[j]))) continue;
      out.push_back({radiating_[static_cast<std::size_t>(i)], c, fourth_[j] * x});
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
  for (const Line& line : carrying_) link_slopes(line.a, line.b, line.strength, -line.strength);
  for (const Carrying& link : carrying_by_convection_) {
    const double flow = conductance_[link.convection] / net_.air_heat_j_per_m3_k;
    link_slopes(link.a, link.b, flow, -flow);
    // More difference of temperature, more flow.
    const double by_dt =
        bend_[link.convection] / net_.air_heat_j_per_m3_k * (values_[link.a] - values_[link.b]);
    const Line& warmth = convecting_[at(link.convection)];
    for (const auto& [row, sign] : {std::pair{link.a, -1.0}, std::pair{link.b, 1.0}}) {
      out.push_back({row, warmth.a, sign * by_dt});
      out.push_back({row, warmth.b, -sign * by_dt});
    }
  }
  for (const Wet& wet : wet_) {
    const SurfaceVapour saturated = vapour_at_surface(values_[wet.surface], values_[wet.air]);
    const WetFlow flow = wet_flow<true>(wet, saturated.kg_per_m3 - values_[wet.vapour]);
    // The share by which a flow grows with the difference of temperature, through the convection.
    const double growth = bend_[wet.convection] / conductance_[wet.convection];
    // Columns: the surface's temperature, the air's, the air's vapour, the film.
    const auto put = [&](int row, double m, double by_difference, double by_film) {
      out.push_back({row, wet.surface, by_difference * saturated.by_surface + m * growth});
      out.push_back({row, wet.air, by_difference * saturated.by_air - m * growth});
      out.push_back({row, wet.vapour, -by_difference});
      if (wet.film >= 0) out.push_back({row, wet.film, by_film});
    };
    const double heat = -kVapourHeat_j_per_kg, m = flow.beneath + flow.film;
    put(wet.surface, heat * m, heat * flow.slope, heat * flow.by_film);
    put(wet.vapour, m, flow.slope, flow.by_film);
    put(size_ + evaporated(), m, flow.slope, flow.by_film);
    put(size_ + drawn(), flow.beneath, flow.beneath_slope, 0);
    if (wet.film >= 0) {
      const double drain = flow.run_off > 0 ? wet.area_m2 / wet.film_area_m2 / kRunningDown_s : 0;
      put(wet.film, -flow.film, -flow.film_slope, -flow.by_film - drain);
      if (drain > 0) out.push_back({size_ + run_off(), wet.film, drain});
    } else {
      put(size_ + run_off(), -flow.film, -flow.film_slope, 0);
    }
  }
}

}  // namespace warmside::climate
