#pragma once
// The answers of the climate computation about one enclosure: a steady state, a course, a day.

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "climate/enclosure_network.h"
#include "climate/operative.h"
#include "climate/solver.h"
#include "core/result.h"

namespace warmside::climate {

/// A temperature with what it would be if a mesh lid let through half and twice as much air as
/// computed; both the same where there is no mesh.
struct Banded {
  double k = 0, low_k = 0, high_k = 0;
};

struct SteadyClimate {
  struct Probe {
    std::string name;
    Banded t;
  };
  struct Face {
    std::string name;  // "floor", "front", ...
    double mean_k = 0, lowest_k = 0, highest_k = 0;
  };
  struct Air {
    double x_low_m, x_high_m, z_low_m, z_high_m;
    Banded t;
    double humidity = 0;  // relative, 0..1
  };
  struct HeaterShare {
    std::string name;
    double duty = 0;
    double power_w = 0;  // drawn
  };
  std::vector<Probe> probes;
  std::vector<Face> faces;
  std::vector<Air> air;
  std::vector<HeaterShare> heaters;
  double room_k = 0;
  double power_w = 0;           // drawn by all heaters of the enclosure
  double water_kg_per_day = 0;  // that leaves dish and substrate
  double dew_kg_per_day = 0;    // that runs down cold glass
  double heat_balance_error = 0, water_balance_error = 0;
  int unknowns = 0, iterations = 0;
  EnclosureNetwork enclosure;
  State state;
};

struct SteadyQuestion {
  Resolution resolution = map_resolution();
  double second_of_day = 43200;
  bool stuck_on = false;  // every thermostat's contact welded shut
  bool band = true;       // also half and twice the flow through a mesh lid
};
/// `enclosure` must have passed check_case. Problem: no steady state found, with where.
Result<SteadyClimate> steady_climate(const EnclosureCase& enclosure,
                                     const SteadyQuestion& question = {});

/// The course of an enclosure in the year's network.
struct ClimateCourse {
  std::vector<double> time_s;
  std::vector<std::string> probe_names;
  std::vector<std::vector<double>> probe_k;  // per probe, at each time
  std::vector<double> humidity;              // relative, of the lower air at the cooler end
  std::vector<std::string> heater_names;
  std::vector<double> duty, energy_j;  // per heater; energy as drawn
  std::vector<int> switches;
  double water_kg = 0, misted_kg = 0, dew_kg = 0;
  double heat_balance_error = 0, water_balance_error = 0;
  bool stopped = false;
};
Result<ClimateCourse> climate_course(const EnclosureCase& enclosure, const RunOptions& options);

/// A settled day: what a keeper's thermometers would show, hour by hour, after days alike.
/// Thermostats by their mean duty.
struct ClimateDay {
  /// Per hour, 0..23: means over the hour.
  std::vector<double> warm_air_k, cool_air_k;  // low air at the warmer and the cooler end
  std::vector<double> warm_floor_k, cool_floor_k;
  std::vector<double> basking_k;  // ground under the strongest lamp; empty without lamps
  std::vector<double> humidity;   // relative, mean of the low air
  std::vector<double> room_k;
  std::vector<std::vector<double>> probe_k;  // per probe of the case
  std::vector<ThermalQuality> quality;       // per hour, when a preferred range was given
  std::vector<double> duty, energy_j;        // per heater of the case, the day's; as drawn
  std::vector<double> afternoon_duty;        // per heater, mean of 12:00 to 16:00
  bool warm_left = true;                     // which end is the warmer
  double heat_balance_error = 0, water_balance_error = 0;
};
struct DayQuestion {
  int settle_days = 1;  // 1..60, before the day that counts
  std::optional<Range<Temperature>> preferred = std::nullopt;
  Body body = {};
};
Result<ClimateDay> climate_day(const EnclosureCase& enclosure, const DayQuestion& question = {});

/// Whether the lid is of mesh and not wholly covered, so that the band of its flow matters.
bool has_open_mesh(const EnclosureCase& enclosure);

/// Relative humidity of air, 0..1 (more when fog would form).
double relative_humidity(double t_k, double vapour_kg_per_m3);

}  // namespace warmside::climate
