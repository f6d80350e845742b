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
#include <cmath>

#include "reference/climate_cases.h"

namespace warmside::climate {
namespace {

constexpr double kSigma = 5.670374419e-8;
constexpr double kDay_s = 86400;

struct Solution {
  std::vector<double> temperature_k;  // [record * width + i], nodes then sensors, every 60 s
  std::vector<double> energy_j;
  std::vector<int> switches;
};

/// One case for CVODE. States: nodes, sensors that lag, each heater's energy.
class Oracle {
 public:
  explicit Oracle(const ClimateCase& one) : net_(one.network), start_s_(one.start_second_of_day) {
    const std::size_t n = net_.nodes.size();
    size_ = n;
    for (const Sensor& sensor : net_.sensors) lag_state_.push_back(sensor.lag_s > 0 ? size_++ : 0);
    energy_ = size_;
    size_ += net_.heaters.size();
    contact_.assign(net_.heaters.size(), false);
  }

  Solution solve(double end_s) {
    SUNContext context = nullptr;
    SUNContext_Create(nullptr, &context);
    const auto size = static_cast<sunindextype>(size_);
    N_Vector y = N_VNew_Serial(size, context);
    double* state = N_VGetArrayPointer(y);
    for (std::size_t i = 0; i < net_.nodes.size(); ++i) state[i] = net_.nodes[i].start_k;
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
    CVodeSStolerances(memory, 1e-8, 1e-8);
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
      }
      if (start_anew) {
        clock_ = time;
        CVodeReInit(memory, time, y);
      }
    }
    solution.energy_j.assign(state + energy_, state + size_);
    CVodeFree(&memory);
    SUNLinSolFree(linear);
    SUNMatDestroy(matrix);
    N_VDestroy(y);
    SUNContext_Free(&context);
    return solution;
  }

 private:
  double second_of_day(double time) const { return std::fmod(start_s_ + time, kDay_s); }

  /// The next whole hour, turn of a timer or bend of a set point after a time.
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
    if (b.hourly_k.empty()) return b.value_k;
    const double hour = time / 3600;
    const auto first = static_cast<std::size_t>(hour) % b.hourly_k.size();
    const double low = b.hourly_k[first], high = b.hourly_k[(first + 1) % b.hourly_k.size()];
    return low + (high - low) * (hour - std::floor(hour));
  }
  double felt(std::size_t s, double time, const double* y) const {
    double t = 0;
    for (const Share& share : net_.sensors[s].feels) t += share.part * end(share.node, time, y);
    return t;
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
      const double smooth = std::sqrt(dt * dt + 0.01);
      const double share = 0.5 * (1 + dt / smooth);
      flow(link.a, link.b,
           (link.k_a * share + link.k_b * (1 - share)) * std::pow(smooth, link.exponent) * dt);
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
    for (std::size_t i = 0; i < net.nodes.size(); ++i) out[i] /= net.nodes[i].capacity_j_per_k;
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
  std::size_t size_ = 0, energy_ = 0;
  std::vector<std::size_t> lag_state_;
  std::vector<bool> contact_;
  double clock_ = 0;
};

class Cases : public testing::TestWithParam<ClimateCase> {};
INSTANTIATE_TEST_SUITE_P(Cvode, Cases, testing::ValuesIn(climate_cases()),
                         [](const auto& which) { return which.param.name; });

TEST_P(Cases, AgreeWithCvode) {
  const ClimateCase& one = GetParam();
  const Course ours = solve(one, fine_step_s(one));
  const Solution theirs = Oracle(one).solve(kDay_s);
  ASSERT_EQ(ours.temperature_k.size(), theirs.temperature_k.size());
  const std::size_t width = static_cast<std::size_t>(ours.width);
  const std::size_t records = ours.time_s.size();
  ASSERT_EQ(records, 1441u);
  double worst_k = 0, worst_energy = 0;
  for (std::size_t h = 0; h < ours.energy_j.size(); ++h) {
    worst_energy = std::max(worst_energy, std::fabs(ours.energy_j[h] / theirs.energy_j[h] - 1));
  }
  if (!one.switched) {
    for (std::size_t i = 0; i < ours.temperature_k.size(); ++i) {
      worst_k = std::max(worst_k, std::fabs(ours.temperature_k[i] - theirs.temperature_k[i]));
    }
    EXPECT_LT(worst_k, 1e-3);
    EXPECT_LT(worst_energy, 1e-5);
  } else {
    for (std::size_t i = 0; i < width; ++i) {
      const auto settled = [&](const std::vector<double>& all) {
        double low = 1e9, high = 0, sum = 0;
        for (std::size_t k = records / 2; k < records; ++k) {
          low = std::min(low, all[k * width + i]);
          high = std::max(high, all[k * width + i]);
          sum += all[k * width + i];
        }
        return std::vector<double>{low, high, sum / static_cast<double>(records - records / 2)};
      };
      const auto mine = settled(ours.temperature_k), other = settled(theirs.temperature_k);
      for (std::size_t k = 0; k < 3; ++k) {
        worst_k = std::max(worst_k, std::fabs(mine[k] - other[k]));
      }
    }
    EXPECT_LT(worst_k, 0.02);
    EXPECT_LT(worst_energy, 1e-3);
    for (std::size_t h = 0; h < ours.switches.size(); ++h) {
      EXPECT_NEAR(ours.switches[h], theirs.switches[h], std::max(1.0, 2e-3 * theirs.switches[h]));
      RecordProperty("switchings", ours.switches[h]);
    }
  }
  RecordProperty("worst_k", std::to_string(worst_k));
  RecordProperty("worst_energy", std::to_string(worst_energy));
}

// The first switchings in full, where nothing has drifted yet: same moments, so the temperatures of
// the first hour agree point by point.
TEST(Cvode, FirstHourOfSwitchingAgreesPointByPoint) {
  for (const ClimateCase& one : climate_cases()) {
    if (!one.switched) continue;
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
