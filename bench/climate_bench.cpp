// How fast the climate computation is, alone and beside SUNDIALS CVODE and ngspice, in one run. The
// figures stand in docs/performance.md.
//
//   cmake --preset bench && cmake --build --preset bench
//   build/bench/bench/climate_bench [--repeat N]
//
// Every figure is the median of N runs (3; of short ones 25). The whole takes some minutes. Where
// ngspice is not installed its line says so.
//
// The enclosure beside CVODE and ngspice is tests/data/cases/mat_tank.toml: a glass tank with a mat
// under a third of its floor, the most usual way to heat a small ground-living reptile, with the
// most usual control, on/off with a band of 1 K and a probe on the ground over the mat.

#include <fmt/format.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstring>
#include <fstream>
#include <numbers>
#include <sstream>

#include "climate/case_file.h"
#include "climate/enclosure_network.h"
#include "climate/moist_air.h"
#include "climate/room_run.h"
#include "climate/solver.h"
#include "climate_peers.h"
#include "core/check.h"
#include "many_enclosures.h"

namespace {

using namespace warmside;
using namespace warmside::bench;
using climate::Network;
using climate::RunOptions;
using climate::Switching;
using Clock = std::chrono::steady_clock;

constexpr double kYear_h = 8760;
/// Two duties closer than this count as equal.
constexpr double kEqual = 1e-3;
/// A program's energy closer than this to that of its finest run counts as converged.
constexpr double kConverged = 1e-4;

int repeat = 3;

double seconds_since(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

double median(std::vector<double> all) {
  std::sort(all.begin(), all.end());
  return all[all.size() / 2];
}

template <class Work>
double median_seconds(int times, Work work) {
  std::vector<double> all;
  for (int i = 0; i < times; ++i) {
    const auto start = Clock::now();
    work();
    all.push_back(seconds_since(start));
  }
  return median(std::move(all));
}

std::string shown(double seconds) {
  return seconds < 1 ? fmt::format("{:.3g} ms", 1000 * seconds) : fmt::format("{:.3g} s", seconds);
}

void head(const std::string& title) {
  fmt::print("\n{}\n\n{:58} {:>10} {:>12}  {}\n", title, "what", "wanted", "measured", "remark");
}
void row(const std::string& what, const std::string& wanted, const std::string& measured,
         const std::string& remark = "") {
  fmt::print("{:58} {:>10} {:>12}  {}\n", what, wanted, measured, remark);
  std::fflush(stdout);
}

// --- forty enclosures in one room ---

/// data/weather/kjfk_2013_hourly.csv.
climate::Weather real_weather() {
  const std::string path = WARMSIDE_SOURCE "/data/weather/kjfk_2013_hourly.csv";
  std::ostringstream text;
  text << std::ifstream(path).rdbuf();
  auto found = climate::read_weather(text.str(), path);
  if (!found) {
    fmt::print(stderr, "{}: {}\n", path, found.problem().front().what);
    std::exit(1);
  }
  return std::move(*found);
}

struct RoomYear {
  double took_s = 0, energy_kwh = 0, room_kwh = 0, air_mean_c = 0, drawn_kg = 0;
  double heat_error = 0, water_error = 0;
  int unknowns = 0;
};

/// The year in a process of its own, so that its memory can be told: its answer and its peak in MB.
std::pair<RoomYear, double> room_year(int threads, const climate::Weather& weather) {
  int ends[2];
  WS_CHECK(pipe(ends) == 0);
  const pid_t child = fork();
  WS_CHECK(child >= 0);
  if (child == 0) {
    const ManyEnclosures many = many_enclosures(40, weather);
    std::vector<const Network*> networks;
    RoomYear year;
    for (const Network& network : many.enclosures) {
      networks.push_back(&network);
      year.unknowns += static_cast<int>(network.nodes.size() + network.air.size());
    }
    climate::RoomRunOptions options;
    options.hours = kYear_h;
    options.threads = threads;
    const auto start = Clock::now();
    const auto course = climate::run_room(networks, many.room, options);
    year.took_s = seconds_since(start);
    WS_CHECK(course.ok());
    for (std::size_t i = 0; i < course->members.size(); ++i) {
      double& sum = i < networks.size() ? year.energy_kwh : year.room_kwh;
      for (const double joules : course->members[i].energy_j) sum += joules / 3.6e6;
      year.drawn_kg += course->members[i].drawn_kg;
    }
    for (const double t_k : course->air_k) {
      year.air_mean_c += (t_k - 273.15) / static_cast<double>(course->air_k.size());
    }
    year.heat_error = course->heat_balance_error;
    year.water_error = course->water_balance_error;
    WS_CHECK(write(ends[1], &year, sizeof year) == sizeof year);
    _exit(0);
  }
  RoomYear year;
  close(ends[1]);
  WS_CHECK(read(ends[0], &year, sizeof year) == sizeof year);
  close(ends[0]);
  int status = 1;
  rusage usage{};
  WS_CHECK(wait4(child, &status, 0, &usage) == child && status == 0);
  return {year, static_cast<double>(usage.ru_maxrss) / 1024};
}

void forty() {
  const climate::Weather weather = real_weather();
  head("Forty enclosures share one room, a year with vapour, steps of 600 s, hourly records");
  RoomYear year;
  for (const int threads : {2, 1}) {
    std::vector<double> took, peak;
    for (int i = 0; i < repeat; ++i) {
      const auto [one, peak_mb] = room_year(threads, weather);
      took.push_back(one.took_s);
      peak.push_back(peak_mb);
      year = one;
    }
    const std::string on = threads == 1 ? "1 thread" : fmt::format("{} threads", threads);
    row("the year on " + on, threads == 2 ? "15 s" : "", shown(median(took)),
        "weather of KJFK, 2013, measured");
    row("  its peak memory", "500 MB", fmt::format("{:.0f} MB", median(peak)));
  }
  row("  nodes and air volumes of all", "", std::to_string(year.unknowns));
  row("  energy of the enclosures, of the room", "", fmt::format("{:.0f} kWh", year.energy_kwh),
      fmt::format("{:.0f} kWh; its air {:.2f} C on average; {:.0f} L of water poured",
                  year.room_kwh, year.air_mean_c, year.drawn_kg));
  row("  heat that does not balance, water", "", fmt::format("{:.1g}", year.heat_error),
      fmt::format("{:.1g}; worst step against all that moved", year.water_error));
}

// --- one enclosure ---

struct Ours {
  double took_s = 0, energy_j = 0;
  int switches = 0;
};

Ours ours(const Network& network, RunOptions options, int times) {
  Ours out;
  out.took_s = median_seconds(times, [&] {
    const auto course = climate::run(network, options);
    WS_CHECK(course.ok());
    out.energy_j = course->energy_j.front();
    out.switches = course->switches.front();
  });
  return out;
}

void map_and_day(const climate::EnclosureCase& enclosure, const Network& zonal) {
  head("One enclosure: " + enclosure.size.name);
  climate::EnclosureNetwork built;
  const double build_s = median_seconds(
      25, [&] { built = climate::build_network(enclosure, climate::map_resolution()); });
  climate::SteadyState steady;
  const double solve_s =
      median_seconds(25, [&] { steady = climate::solve_steady(built.network).value(); });
  const auto unknowns = built.network.nodes.size() + built.network.air.size();
  row("map: its network built, view factors and all", "", shown(build_s),
      fmt::format("{} radiation links", built.network.radiations.size()));
  row("map: its steady state solved", "50 ms", shown(solve_s),
      fmt::format("{} unknowns, {} iterations, heat balanced to {:.1g}", unknowns,
                  steady.iterations, steady.heat_balance_error));
  RunOptions options;
  options.step_s = 60;
  const Ours day = ours(zonal, options, 25);
  row("a day with real switching, one-minute records", "20 ms", shown(day.took_s),
      fmt::format("{} nodes and {} air volumes, {} switchings", zonal.nodes.size(),
                  zonal.air.size(), day.switches));
}

// --- beside CVODE and ngspice ---

double apart(double a, double b) {
  return std::fabs(a / b - 1);
}

std::string percent(double share) {
  return fmt::format("{:.3f} %", 100 * share);
}

std::string ratio(double theirs_s, double ours_s) {
  return fmt::format("{:.3g}", theirs_s / ours_s);
}

/// CVODE with the quicker of its two ways to the Jacobian.
PeerRun cvode(const Network& network, CvodeSettings settings, int times) {
  PeerRun best;
  for (const bool analytic : {true, false}) {
    settings.analytic_slopes = analytic;
    PeerRun run;
    std::vector<double> took;
    for (int i = 0; i < times; ++i) {
      run = run_cvode(network, settings);
      WS_CHECK(run.ok);
      took.push_back(run.took_s);
    }
    run.took_s = median(std::move(took));
    if (best.took_s == 0 || run.took_s < best.took_s) best = run;
  }
  return best;
}

void year_beside_cvode(const Network& network) {
  head("A year of it: mean duty beside CVODE with root finding");
  RunOptions options;
  options.hours = kYear_h;
  options.step_s = 1800;
  options.record_every_s = 0;
  options.switching = Switching::mean_duty;
  const Ours mean = ours(network, options, std::max(repeat, 5));

  CvodeSettings settings;
  settings.hours = kYear_h;
  settings.relative_tolerance = 1e-8;
  const PeerRun finest = cvode(network, settings, 1);
  double used_s = 0, used_tolerance = 0;
  for (const double tolerance : {1e-4, 1e-5, 1e-6}) {
    settings.relative_tolerance = tolerance;
    const PeerRun run = cvode(network, settings, repeat);
    const double error = apart(run.energy_j, finest.energy_j);
    row(fmt::format("CVODE, rtol {:g}", tolerance), "", shown(run.took_s),
        fmt::format("{} steps, energy {} from that at 1e-8", run.steps, percent(error)));
    if (used_s == 0 && error < kConverged) {
      used_s = run.took_s;
      used_tolerance = tolerance;
    }
  }
  row("CVODE, rtol 1e-08", "", shown(finest.took_s),
      fmt::format("{} steps, {} switchings, {:.1f} a day, {:.4f} kWh", finest.steps,
                  finest.switches, finest.switches / 365.0, finest.energy_j / 3.6e6));
  settings.mean_duty = true;
  settings.relative_tolerance = 1e-6;
  const PeerRun same_law = cvode(network, settings, 1);
  row("CVODE, rtol 1e-06, mean duty as ours", "", shown(same_law.took_s),
      fmt::format("energy {} from ours", percent(apart(same_law.energy_j, mean.energy_j))));
  row("ours, mean duty, steps up to 1800 s", "", shown(mean.took_s),
      fmt::format("{:.4f} kWh", mean.energy_j / 3.6e6));
  row("  its energy against CVODE's", "0.1 %", percent(apart(mean.energy_j, finest.energy_j)));
  WS_CHECK(used_s > 0);
  row("  its speed against CVODE's", "100", ratio(used_s, mean.took_s),
      fmt::format("at rtol {:g}, the loosest whose energy is within 0.01 %", used_tolerance));
  options.switching = Switching::real;
  const Ours real = ours(network, options, 1);
  row("ours, real switching, steps up to 600 s", "", shown(real.took_s),
      fmt::format("energy {} from CVODE's, {} switchings",
                  percent(apart(real.energy_j, finest.energy_j)), real.switches));
}

void day_beside_both(const Network& network) {
  head(
      "A day of it with real switching and one-minute records, each at its loosest with equal "
      "duty");
  CvodeSettings settings;
  settings.record_every_s = 60;
  settings.relative_tolerance = 1e-10;
  const PeerRun exact = cvode(network, settings, 1);
  row("CVODE, rtol 1e-10: what the duties are compared with", "", shown(exact.took_s),
      fmt::format("{} switchings, {:.5f} kWh", exact.switches, exact.energy_j / 3.6e6));

  double ours_s = 0, cvode_s = 0;
  for (const double step_s : {600.0, 300.0, 120.0, 60.0, 30.0}) {
    RunOptions options;
    options.step_s = step_s;
    const Ours day = ours(network, options, 25);
    const double error = apart(day.energy_j, exact.energy_j);
    row(fmt::format("ours, steps up to {:g} s", step_s), "", shown(day.took_s),
        fmt::format("{} switchings, duty {} apart", day.switches, percent(error)));
    if (error < kEqual) {
      ours_s = day.took_s;
      break;
    }
  }
  for (const double tolerance : {1e-3, 1e-4, 1e-5, 1e-6, 1e-7}) {
    settings.relative_tolerance = tolerance;
    const PeerRun day = cvode(network, settings, 25);
    const double error = apart(day.energy_j, exact.energy_j);
    row(fmt::format("CVODE, rtol {:g}", tolerance), "", shown(day.took_s),
        fmt::format("{} switchings, {} steps, duty {} apart", day.switches, day.steps,
                    percent(error)));
    if (error < kEqual) {
      cvode_s = day.took_s;
      break;
    }
  }
  WS_CHECK(ours_s > 0 && cvode_s > 0);
  row("  our speed against CVODE's", "5", ratio(cvode_s, ours_s));

  double ngspice_s = 0;
  for (const double step_s : {60.0, 5.0}) {
    NgspiceSettings circuit;
    circuit.largest_step_s = step_s;
    std::vector<double> took;
    PeerRun day;
    for (int i = 0; i < repeat; ++i) {
      day = run_ngspice(network, circuit);
      if (!day.ok) break;
      took.push_back(day.took_s);
    }
    if (!day.ok) {
      row("ngspice", "", "", "not installed");
      return;
    }
    const double error = apart(day.energy_j, exact.energy_j);
    row(fmt::format("ngspice, steps up to {:g} s", step_s), "", shown(median(took)),
        fmt::format("{} switchings, {} steps, duty {} apart", day.switches, day.steps,
                    percent(error)));
    if (ngspice_s == 0 && error < kEqual) ngspice_s = median(took);
  }
  if (ngspice_s > 0) row("  our speed against ngspice's", "100", ratio(ngspice_s, ours_s));
}

}  // namespace

int main(int argc, char** argv) {
  for (int i = 1; i + 1 < argc; i += 2) {
    if (std::strcmp(argv[i], "--repeat") == 0) repeat = std::max(1, std::atoi(argv[i + 1]));
  }
  const climate::EnclosureCase enclosure = case_named("mat_tank");
  const Network zonal = climate::build_network(enclosure, climate::zonal_resolution()).network;
  forty();
  map_and_day(enclosure, zonal);
  day_beside_both(zonal);
  year_beside_cvode(zonal);
  return 0;
}
