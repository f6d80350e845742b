// Our climate solver against SUNDIALS CVODE (variable-order BDF, root finding for the contacts),
// which shares neither method nor code with it: the equations below are written anew from
// network.h's head. Unswitched cases agree at every record; where contacts switch, moments drift,
// so the day's energy, switchings and envelopes are compared.

#include <cvode/cvode.h>
#include <gtest/gtest.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "reference/climate_cases.h"

namespace warmside::climate {

void PrintTo(const ClimateCase& one, std::ostream* out) {
  *out << one.name;
}

namespace {

constexpr double kSigma = 5.670374419e-8;
constexpr double kDay_s = 86400;

/// Vapour in saturated air, kg/m3. Hyland & Wexler's pressure over water or ice (ASHRAE
/// Fundamentals 2017, ch. 1, eq. 5 and 6) and the gas law with R / M = 8314.472 / 18.015268 J/(kg
/// K).
double saturated(double t) {
  const double log_pressure =
      t < 273.16 ? -5.6745359e3 / t + 6.3925247 - 9.677843e-3 * t + 6.2215701e-7 * std::pow(t, 2) +
                       2.0747825e-9 * std::pow(t, 3) - 9.484024e-13 * std::pow(t, 4) +
                       4.1635019 * std::log(t)
                 : -5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * std::pow(t, 2) -
                       1.4452093e-8 * std::pow(t, 3) + 6.5459673 * std::log(t);
  return std::exp(log_pressure) * 18.015268 / (8314.472 * t);
}

struct Solution {
  std::vector<double> temperature_k;     // [record * width + i], nodes then sensors, every 60 s
  std::vector<double> vapour_kg_per_m3;  // [record * air volumes + v]
  std::vector<double> energy_j;
  std::vector<int> switches;
  double dew_kg = 0;    // that fell
  double drawn_kg = 0;  // evaporated from beneath
  double drained_kg = 0;
};

/// One case for CVODE. States: nodes, sensors that lag, vapour of air volumes, films on nodes, each
/// heater's energy; dew, water drawn, water drained.
class Oracle {
 public:
  explicit Oracle(const ClimateCase& one) : net_(one.network), start_s_(one.start_second_of_day) {
    const std::size_t n = net_.nodes.size();
    size_ = n;
    for (const Sensor& sensor : net_.sensors) lag_state_.push_back(sensor.lag_s > 0 ? size_++ : 0);
    for (const AirVolume& volume : net_.air) vapour_[volume.node] = size_++;
    for (const WetSurface& wet : net_.wet) {
      if (!has_film(wet)) continue;
      const auto [film, fresh] = films_.try_emplace(surface(wet));
      if (fresh) film->second.state = size_++;
      film->second.area_m2 += wet.area_m2;
    }
    energy_ = size_;
    size_ += net_.heaters.size();
    water_ = size_;
    size_ += 3;
    contact_.assign(net_.heaters.size(), false);
  }

  Solution solve(double end_s) {
    SUNContext context = nullptr;
    SUNContext_Create(nullptr, &context);
    const auto size = static_cast<sunindextype>(size_);
    N_Vector y = N_VNew_Serial(size, context);
    double* state = N_VGetArrayPointer(y);
    for (std::size_t i = 0; i < net_.nodes.size(); ++i) state[i] = net_.nodes[i].start_k;
    for (const AirVolume& volume : net_.air) {
      state[vapour_.at(volume.node)] = volume.start_kg_per_m3;
    }
    for (const auto& [node, film] : films_) state[film.state] = 0;
    std::fill(state + water_, state + size_, 0.0);
    mist(0, state);
    clock_ = 0;
    for (std::size_t s = 0; s < net_.sensors.size(); ++s) {
      if (net_.sensors[s].lag_s > 0) state[lag_state_[s]] = felt(s, 0, state);
    }
    for (std::size_t h = 0; h < net_.heaters.size(); ++h) {
      state[energy_ + h] = 0;
      contact_[h] = switches(h) && sensor(h, 0, state) < wanted(h, 0);
    }
    SUNMatrix matrix = SUNDenseMatrix(size, size, context);
    SUNLinearSolver linear = SUNLinSol_Dense(y, matrix, context);
    void* memory = CVodeCreate(CV_BDF, context);
    CVodeInit(memory, &Oracle::rates, 0, y);
    CVodeSStolerances(memory, 1e-8, 1e-10);
    CVodeSetUserData(memory, this);
    CVodeSetLinearSolver(memory, linear, matrix);
    CVodeSetMaxNumSteps(memory, 1000000);
    CVodeRootInit(memory, static_cast<int>(net_.heaters.size()), &Oracle::bands);

    Solution solution;
    solution.switches.assign(net_.heaters.size(), 0);
    record(0, state, solution);
    double time = 0, next_record = 60;
    while (time < end_s - 1e-6) {
      const double until = std::min(next_record, next_bend(time));
      CVodeSetStopTime(memory, until);
      const int flag = CVode(memory, until, y, &time, CV_NORMAL);
      EXPECT_GE(flag, 0);
      if (flag < 0) break;
      bool start_anew = std::fmod(until, 60) != 0;
      if (flag == CV_ROOT_RETURN) {
        std::vector<int> roots(net_.heaters.size());
        CVodeGetRootInfo(memory, roots.data());
        for (std::size_t h = 0; h < roots.size(); ++h) {
          if (roots[h] == 0) continue;
          contact_[h] = !contact_[h];
          ++solution.switches[h];
        }
        start_anew = true;
      } else {
        time = until;
        if (until == next_record) {
          record(time, state, solution);
          next_record += 60;
        }
        start_anew = next_bend(time - 1) <= time;
        if (start_anew) mist(time, state);
      }
      if (start_anew) {
        clock_ = time;
        CVodeReInit(memory, time, y);
      }
    }
    solution.energy_j.assign(state + energy_, state + water_);
    solution.dew_kg = state[water_];
    solution.drawn_kg = state[water_ + 1];
    solution.drained_kg = state[water_ + 2];
    CVodeFree(&memory);
    SUNLinSolFree(linear);
    SUNMatDestroy(matrix);
    N_VDestroy(y);
    SUNContext_Free(&context);
    return solution;
  }

 private:
  double second_of_day(double time) const { return std::fmod(start_s_ + time, kDay_s); }

  bool has_film(const WetSurface& wet) const { return wet.film && wet.wet_share < 1; }
  const Convection& link_of(const WetSurface& wet) const {
    return net_.convections[static_cast<std::size_t>(wet.convection)];
  }
  int surface(const WetSurface& wet) const { return link_of(wet).a; }

  /// Adds to the films what is sprayed at this moment.
  void mist(double time, double* y) const {
    for (const Misting& misting : net_.misting) {
      const double since = std::fmod(second_of_day(time) - misting.second_of_day + kDay_s, kDay_s);
      if (since > 1e-3 && since < kDay_s - 1e-3) continue;
      for (std::size_t w = 0; w < net_.wet.size(); ++w) {
        if (has_film(net_.wet[w])) {
          y[films_.at(surface(net_.wet[w])).state] += misting.kg * misting.parts[w];
        }
      }
    }
  }

  /// The next whole hour, turn of a timer, bend of a set point or misting after a time.
  double next_bend(double time) const {
    double next = (std::floor(time / 3600) + 1) * 3600;
    const auto meet = [&](double second) {
      double ahead = std::fmod(second - second_of_day(time) + kDay_s, kDay_s);
      if (ahead < 1e-9) ahead += kDay_s;
      next = std::min(next, time + ahead);
    };
    for (const Heater& heater : net_.heaters) {
      if (heater.on_from_s != heater.on_until_s) {
        meet(heater.on_from_s);
        meet(heater.on_until_s);
      }
      for (const auto& point : heater.set_point.points) meet(point.second_of_day);
    }
    for (const Misting& misting : net_.misting) meet(misting.second_of_day);
    return next;
  }

  /// Timers as they stand since the last bend, so that a step never sees the far side of one.
  bool lit(const Heater& heater) const {
    if (heater.on_from_s == heater.on_until_s) return true;
    const double now = second_of_day(clock_ + 1e-6);
    const bool within = now >= std::min(heater.on_from_s, heater.on_until_s) &&
                        now < std::max(heater.on_from_s, heater.on_until_s);
    return within == (heater.on_from_s < heater.on_until_s);
  }

  double wanted(std::size_t h, double time) const {
    const auto& points = net_.heaters[h].set_point.points;
    const double now = second_of_day(time);
    // The last point before now, maybe yesterday's, and the one after it.
    const auto* before = &points.back();
    const auto* after = &points.front();
    double from = before->second_of_day - kDay_s, to = after->second_of_day;
    for (std::size_t i = 0; i < points.size() && points[i].second_of_day <= now; ++i) {
      before = &points[i];
      from = before->second_of_day;
      const bool last = i + 1 == points.size();
      after = &points[last ? 0 : i + 1];
      to = after->second_of_day + (last ? kDay_s : 0);
    }
    return before->value_k + (after->value_k - before->value_k) * (now - from) / (to - from);
  }

  double end(int index, double time, const double* y) const {
    if (index < net_.node_count()) return y[index];
    const Boundary& b = net_.boundaries[static_cast<std::size_t>(index - net_.node_count())];
    return b.hourly_k.empty() ? b.value_k : hourly(b.hourly_k, time);
  }
  double vapour(int index, double time, const double* y) const {
    if (index < net_.node_count()) return y[vapour_.at(index)];
    const Boundary& b = net_.boundaries[static_cast<std::size_t>(index - net_.node_count())];
    return b.hourly_kg_per_m3.empty() ? b.vapour_kg_per_m3 : hourly(b.hourly_kg_per_m3, time);
  }
  static double hourly(const std::vector<double>& all, double time) {
    const double hour = time / 3600;
    const auto first = static_cast<std::size_t>(hour) % all.size();
    const double low = all[first], high = all[(first + 1) % all.size()];
    return low + (high - low) * (hour - std::floor(hour));
  }
  double felt(std::size_t s, double time, const double* y) const {
    const Sensor& sensor = net_.sensors[s];
    const double power = sensor.radiance ? 4 : 1;
    double sum = 0;
    for (const Share& share : sensor.feels) {
      sum += share.part * std::pow(end(share.node, time, y), power);
    }
    return std::pow(sum, 1 / power);
  }
  double sensor_of(std::size_t s, double time, const double* y) const {
    return net_.sensors[s].lag_s > 0 ? y[lag_state_[s]] : felt(s, time, y);
  }
  double sensor(std::size_t heater, double time, const double* y) const {
    return sensor_of(static_cast<std::size_t>(net_.heaters[heater].sensor), time, y);
  }
  bool switches(std::size_t h) const { return net_.heaters[h].control == ControlKind::on_off; }

  void record(double time, const double* y, Solution& solution) const {
    solution.temperature_k.insert(solution.temperature_k.end(), y, y + net_.nodes.size());
    for (std::size_t s = 0; s < net_.sensors.size(); ++s) {
      solution.temperature_k.push_back(sensor_of(s, time, y));
    }
    for (const AirVolume& volume : net_.air) {
      solution.vapour_kg_per_m3.push_back(y[vapour_.at(volume.node)]);
    }
  }

  /// The conductance of a convection, W/K.
  double conductance(const Convection& link, double time, const double* y) const {
    const double dt = end(link.a, time, y) - end(link.b, time, y);
    const double smooth = std::sqrt(dt * dt + 0.01);
    const double share = 0.5 * (1 + dt / smooth);
    return (link.k_a * share + link.k_b * (1 - share)) * std::pow(smooth, link.exponent);
  }

  /// Vapour with moving air, evaporation, dew and what drains, as rates of kg and W.
  void moisture(double time, const double* y, double* out) const {
    const double c = net_.air_heat_j_per_m3_k;
    const auto carry = [&](int a, int b, double watts_per_k) {
      const double kg = watts_per_k / c * (vapour(a, time, y) - vapour(b, time, y));
      if (a < net_.node_count()) out[vapour_.at(a)] -= kg;
      if (b < net_.node_count()) out[vapour_.at(b)] += kg;
    };
    for (const Conduction& link : net_.conductions) {
      if (link.air) carry(link.a, link.b, link.w_per_k);
    }
    for (const Convection& link : net_.convections) {
      if (link.air) carry(link.a, link.b, conductance(link, time, y));
    }
    for (const auto& [node, film] : films_) {
      const double drains = std::max(y[film.state] - 0.1 * film.area_m2, 0.0) / 600;
      out[film.state] -= drains;
      out[water_ + 2] += drains;
    }
    for (const WetSurface& wet : net_.wet) {
      const Convection& link = link_of(wet);
      const double transfer = conductance(link, time, y) / (c * 0.9171);
      const double excess = saturated(y[link.a]) * y[link.a] / y[link.b] - vapour(link.b, time, y);
      const double size = std::hypot(excess, 1e-5);
      const double beneath = transfer * wet.wet_share * excess;
      double wetted = 0;
      if (has_film(wet)) {
        const Film& film = films_.at(link.a);
        const double grams_per_m2 = 1000 * std::max(y[film.state], 0.0) / film.area_m2;
        wetted = grams_per_m2 / (grams_per_m2 + 10);
      }
      const double dew = transfer * (1 - wet.wet_share) * (size - excess) / 2;
      const double on_top = transfer * (1 - wet.wet_share) * wetted * (size + excess) / 2 - dew;
      if (has_film(wet)) out[films_.at(link.a).state] -= on_top;
      out[vapour_.at(link.b)] += beneath + on_top;
      out[link.a] -= 2.442e6 * (beneath + on_top);
      out[water_] += dew;
      out[water_ + 1] += beneath;
    }
  }

  static int rates(double time, N_Vector y_vector, N_Vector out_vector, void* self) {
    const auto& oracle = *static_cast<const Oracle*>(self);
    const Network& net = oracle.net_;
    const double* y = N_VGetArrayPointer(y_vector);
    double* out = N_VGetArrayPointer(out_vector);
    std::fill(out, out + oracle.size_, 0.0);
    const auto flow = [&](int a, int b, double watts) {
      if (a < net.node_count()) out[a] -= watts;
      if (b < net.node_count()) out[b] += watts;
    };
    for (const Conduction& link : net.conductions) {
      flow(link.a, link.b,
           link.w_per_k * (oracle.end(link.a, time, y) - oracle.end(link.b, time, y)));
    }
    for (const Convection& link : net.convections) {
      const double dt = oracle.end(link.a, time, y) - oracle.end(link.b, time, y);
      flow(link.a, link.b, oracle.conductance(link, time, y) * dt);
    }
    for (const Radiation& link : net.radiations) {
      flow(link.a, link.b,
           kSigma * link.area_m2 *
               (std::pow(oracle.end(link.a, time, y), 4) -
                std::pow(oracle.end(link.b, time, y), 4)));
    }
    for (std::size_t h = 0; h < net.heaters.size(); ++h) {
      const Heater& heater = net.heaters[h];
      double duty = oracle.lit(heater) ? 1 : 0;
      if (heater.control == ControlKind::on_off) duty *= oracle.contact_[h] ? 1 : 0;
      if (heater.control == ControlKind::proportional) {
        const double below = oracle.wanted(h, time) - oracle.sensor(h, time, y);
        duty *= std::clamp(0.5 + below / heater.band_k, 0.0, 1.0);
      }
      for (const Share& share : heater.shares) {
        out[share.node] += share.part * duty * heater.power_w;
      }
      out[oracle.energy_ + h] = duty * heater.power_w;
    }
    if (!net.air.empty()) oracle.moisture(time, y, out);
    for (std::size_t i = 0; i < net.nodes.size(); ++i) out[i] /= net.nodes[i].capacity_j_per_k;
    for (const AirVolume& volume : net.air) out[oracle.vapour_.at(volume.node)] /= volume.volume_m3;
    for (std::size_t s = 0; s < net.sensors.size(); ++s) {
      if (net.sensors[s].lag_s > 0) {
        out[oracle.lag_state_[s]] =
            (oracle.felt(s, time, y) - y[oracle.lag_state_[s]]) / net.sensors[s].lag_s;
      }
    }
    return 0;
  }

  /// Zero where a contact should move: half a band beyond the set point.
  static int bands(double time, N_Vector y_vector, double* past, void* self) {
    const auto& oracle = *static_cast<const Oracle*>(self);
    const double* y = N_VGetArrayPointer(y_vector);
    for (std::size_t h = 0; h < oracle.net_.heaters.size(); ++h) {
      if (!oracle.switches(h)) {
        past[h] = 1;
        continue;
      }
      const double half = oracle.net_.heaters[h].band_k / 2;
      past[h] =
          oracle.sensor(h, time, y) - oracle.wanted(h, time) + (oracle.contact_[h] ? -half : half);
    }
    return 0;
  }

  const Network& net_;
  double start_s_;
  std::size_t size_ = 0, energy_ = 0, water_ = 0;
  std::vector<std::size_t> lag_state_;
  std::map<int, std::size_t> vapour_;  // state by node
  struct Film {
    std::size_t state = 0;
    double area_m2 = 0;
  };
  std::map<int, Film> films_;  // by node
  std::vector<bool> contact_;
  double clock_ = 0;
};

class Cases : public testing::TestWithParam<ClimateCase> {};
INSTANTIATE_TEST_SUITE_P(Cvode, Cases, testing::ValuesIn(climate_cases()),
                         [](const auto& which) { return which.param.name; });

TEST_P(Cases, AgreeWithCvode) {
  const ClimateCase& one = GetParam();
  const Course ours = solve(one, one.fine_step_s);
  const Solution theirs = Oracle(one).solve(kDay_s);
  ASSERT_EQ(ours.temperature_k.size(), theirs.temperature_k.size());
  const std::size_t width = static_cast<std::size_t>(ours.width);
  const std::size_t records = ours.time_s.size();
  ASSERT_EQ(records, 1441u);
  ASSERT_EQ(ours.vapour_kg_per_m3.size(), theirs.vapour_kg_per_m3.size());
  double worst_k = 0, worst_vapour = 0, worst_energy = 0;
  for (std::size_t h = 0; h < ours.energy_j.size(); ++h) {
    worst_energy = std::max(worst_energy, std::fabs(ours.energy_j[h] / theirs.energy_j[h] - 1));
  }
  if (!one.switched) {
    for (std::size_t i = 0; i < ours.temperature_k.size(); ++i) {
      worst_k = std::max(worst_k, std::fabs(ours.temperature_k[i] - theirs.temperature_k[i]));
    }
    for (std::size_t i = 0; i < ours.vapour_kg_per_m3.size(); ++i) {
      worst_vapour = std::max(worst_vapour,
                              std::fabs(ours.vapour_kg_per_m3[i] / theirs.vapour_kg_per_m3[i] - 1));
    }
    EXPECT_LT(worst_k, 1e-3);
    EXPECT_LT(worst_energy, 1e-5);
  } else {
    const auto settled = [&](const std::vector<double>& all, std::size_t many, std::size_t i) {
      double low = 1e9, high = 0, sum = 0;
      for (std::size_t k = records / 2; k < records; ++k) {
        low = std::min(low, all[k * many + i]);
        high = std::max(high, all[k * many + i]);
        sum += all[k * many + i];
      }
      return std::array<double, 3>{low, high, sum / static_cast<double>(records - records / 2)};
    };
    for (std::size_t i = 0; i < width; ++i) {
      const auto mine = settled(ours.temperature_k, width, i);
      const auto other = settled(theirs.temperature_k, width, i);
      for (std::size_t k = 0; k < 3; ++k) {
        worst_k = std::max(worst_k, std::fabs(mine[k] - other[k]));
      }
    }
    const std::size_t volumes = one.network.air.size();
    for (std::size_t i = 0; i < volumes; ++i) {
      const auto mine = settled(ours.vapour_kg_per_m3, volumes, i);
      const auto other = settled(theirs.vapour_kg_per_m3, volumes, i);
      for (std::size_t k = 0; k < 3; ++k) {
        worst_vapour = std::max(worst_vapour, std::fabs(mine[k] / other[k] - 1));
      }
    }
    EXPECT_LT(worst_k, 0.02);
    EXPECT_LT(worst_energy, 1e-3);
    for (std::size_t h = 0; h < ours.switches.size(); ++h) {
      EXPECT_NEAR(ours.switches[h], theirs.switches[h], std::max(1.0, 2e-3 * theirs.switches[h]));
      RecordProperty("switchings", ours.switches[h]);
    }
  }
  EXPECT_LT(worst_vapour, 5e-3);
  // Water: what is drawn and what drains, within 0.5 % and 1 mg.
  EXPECT_NEAR(ours.drawn_kg, theirs.drawn_kg, 5e-3 * theirs.drawn_kg + 1e-6);
  if (one.name == "frog_terrarium") {
    EXPECT_NEAR(ours.run_off_kg, theirs.drained_kg, 5e-3 * theirs.drained_kg + 1e-6);
    EXPECT_GT(theirs.dew_kg, 1e-3);  // else the case would not show what it is for
    RecordProperty("dew_g", std::to_string(1000 * theirs.dew_kg));
  }
  RecordProperty("worst_k", std::to_string(worst_k));
  RecordProperty("worst_vapour", std::to_string(worst_vapour));
  RecordProperty("worst_energy", std::to_string(worst_energy));
}

// The first switchings in full, where nothing has drifted yet: same moments, so the temperatures of
// the first hour agree point by point.
TEST(Cvode, FirstHourOfSwitchingAgreesPointByPoint) {
  for (const ClimateCase& one : climate_cases()) {
    if (one.name != "hysteresis") continue;
    const Course ours = solve(one, 1);
    const Solution theirs = Oracle(one).solve(3600);
    EXPECT_GT(theirs.switches[0], 6);
    double worst_k = 0;
    for (std::size_t i = 0; i < theirs.temperature_k.size(); ++i) {
      worst_k = std::max(worst_k, std::fabs(ours.temperature_k[i] - theirs.temperature_k[i]));
    }
    EXPECT_LT(worst_k, 2e-3);
  }
}

}  // namespace
}  // namespace warmside::climate
