#include "climate_peers.h"

#include <cvode/cvode.h>
#include <fcntl.h>
#include <fmt/format.h>
#include <nvector/nvector_serial.h>
#include <spawn.h>
#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <tuple>

#include "climate/equations.h"
#include "climate/netlist.h"
#include "core/check.h"

extern char** environ;

namespace warmside::bench {
namespace {

using climate::ControlKind;
using climate::Equations;
using climate::Heater;
using climate::Network;
using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

class Cvode {
 public:
  Cvode(const Network& network, const CvodeSettings& settings)
      : settings_(settings),
        equations_(network, {settings.mean_duty, true, true}),
        size_(equations_.size()) {
    WS_CHECK(network.misting.empty());
    for (const Heater& heater : network.heaters) {
      WS_CHECK(heater.on_from_s == heater.on_until_s && heater.set_point.points.size() <= 1);
    }
    equations_.set_clock(0, 0);
    start_ = equations_.start();
    capacity_ = equations_.capacity();
    for (std::size_t h = 0; h < network.heaters.size(); ++h) {
      const Heater& heater = network.heaters[h];
      if (heater.control == ControlKind::on_off && !settings.mean_duty) {
        switching_.push_back(static_cast<int>(h));
        equations_.contact[h] =
            equations_.sensor_k(heater.sensor, start_) < equations_.wanted_k(static_cast<int>(h));
      }
    }
  }

  PeerRun run() {
    const auto begin = Clock::now();
    const double end = settings_.hours * 3600;
    SUNContext context = nullptr;
    SUNContext_Create(nullptr, &context);
    // With mean duty the energy is one more state.
    const sunindextype size = size_ + (settings_.mean_duty ? 1 : 0);
    N_Vector y = N_VNew_Serial(size, context), tolerance = N_VClone(y);
    double* state = N_VGetArrayPointer(y);
    std::copy(start_.data(), start_.data() + size_, state);
    if (settings_.mean_duty) state[size_] = 0;
    // Temperatures have their 300 K; vapours and films are measured against 10 g.
    double* least = N_VGetArrayPointer(tolerance);
    std::fill(least, least + size, 1e-2 * settings_.relative_tolerance);
    if (settings_.mean_duty) least[size_] = 3600 * settings_.relative_tolerance;

    SUNMatrix matrix = SUNDenseMatrix(size, size, context);
    SUNLinearSolver linear = SUNLinSol_Dense(y, matrix, context);
    void* memory = CVodeCreate(CV_BDF, context);
    CVodeInit(memory, &Cvode::rates, 0, y);
    CVodeSVtolerances(memory, settings_.relative_tolerance, tolerance);
    CVodeSetUserData(memory, this);
    CVodeSetLinearSolver(memory, linear, matrix);
    if (settings_.analytic_slopes) CVodeSetJacFn(memory, &Cvode::slopes);
    CVodeSetMaxNumSteps(memory, 100'000'000);
    CVodeSetStopTime(memory, end);
    if (!switching_.empty()) {
      CVodeRootInit(memory, static_cast<int>(switching_.size()), &Cvode::bands);
    }

    PeerRun out;
    out.ok = true;
    double time = 0, on_since = 0, next_record = settings_.record_every_s;
    const auto count_steps = [&] {
      long since_fresh = 0;
      CVodeGetNumSteps(memory, &since_fresh);
      out.steps += since_fresh;
    };
    while (time < end) {
      const double until = settings_.record_every_s > 0 ? std::min(next_record, end) : end;
      const int flag = CVode(memory, until, y, &time, CV_NORMAL);
      if (flag < 0) {
        out.ok = false;
        break;
      }
      if (flag == CV_ROOT_RETURN) {
        std::vector<int> roots(switching_.size());
        CVodeGetRootInfo(memory, roots.data());
        for (std::size_t i = 0; i < roots.size(); ++i) {
          if (roots[i] == 0) continue;
          char& contact = equations_.contact[static_cast<std::size_t>(switching_[i])];
          if (switching_[i] == 0) {
            if (contact != 0) out.energy_j += power_w() * (time - on_since);
            on_since = time;
            ++out.switches;
          }
          contact = contact != 0 ? 0 : 1;
        }
        count_steps();
        CVodeReInit(memory, time, y);
        CVodeSetStopTime(memory, end);
      } else if (settings_.record_every_s > 0 && time >= next_record - 1e-9) {
        records_.insert(records_.end(), state, state + size_);
        next_record += settings_.record_every_s;
      }
    }
    count_steps();
    if (settings_.mean_duty) {
      out.energy_j = state[size_];
    } else if (equations_.contact[0] != 0) {
      out.energy_j += power_w() * (time - on_since);
    }
    CVodeFree(&memory);
    SUNLinSolFree(linear);
    SUNMatDestroy(matrix);
    N_VDestroy(y);
    N_VDestroy(tolerance);
    SUNContext_Free(&context);
    out.took_s = seconds_since(begin);
    return out;
  }

 private:
  double power_w() const { return equations_.net().heaters.front().power_w; }

  static int rates(double time, N_Vector y, N_Vector out, void* self) {
    auto& run = *static_cast<Cvode*>(self);
    run.state_ = Eigen::Map<const Eigen::VectorXd>(N_VGetArrayPointer(y), run.size_);
    run.equations_.set_clock(time, time);
    run.equations_.rates(run.state_, run.rates_, run.tally_);
    double* to = N_VGetArrayPointer(out);
    for (int i = 0; i < run.size_; ++i) to[i] = run.rates_[i] / run.capacity_[i];
    if (run.settings_.mean_duty) to[run.size_] = run.tally_[run.equations_.given_by(0)];
    return 0;
  }

  static int slopes(double time, N_Vector y, N_Vector, SUNMatrix matrix, void* self, N_Vector,
                    N_Vector, N_Vector) {
    auto& run = *static_cast<Cvode*>(self);
    run.state_ = Eigen::Map<const Eigen::VectorXd>(N_VGetArrayPointer(y), run.size_);
    run.equations_.set_clock(time, time);
    run.equations_.slopes(run.state_, 0, run.entries_);
    SUNMatZero(matrix);
    for (const Equations::Entry& e : run.entries_) {
      if (e.column >= run.size_) continue;
      if (e.row < run.size_) {
        SM_ELEMENT_D(matrix, e.row, e.column) += e.value / run.capacity_[e.row];
      } else if (run.settings_.mean_duty && e.row == run.size_ + run.equations_.given_by(0)) {
        SM_ELEMENT_D(matrix, run.size_, e.column) += e.value;
      }
    }
    return 0;
  }

  /// Zero where a contact should move: half a band beyond the set point.
  static int bands(double, N_Vector y, double* past, void* self) {
    auto& run = *static_cast<Cvode*>(self);
    run.state_ = Eigen::Map<const Eigen::VectorXd>(N_VGetArrayPointer(y), run.size_);
    for (std::size_t i = 0; i < run.switching_.size(); ++i) {
      const auto h = static_cast<std::size_t>(run.switching_[i]);
      const Heater& heater = run.equations_.net().heaters[h];
      past[i] = run.equations_.sensor_k(heater.sensor, run.state_) -
                run.equations_.wanted_k(static_cast<int>(h)) +
                (run.equations_.contact[h] != 0 ? -0.5 : 0.5) * heater.band_k;
    }
    return 0;
  }

  CvodeSettings settings_;
  Equations equations_;
  int size_;
  Eigen::VectorXd start_, capacity_, state_, rates_, tally_;
  std::vector<Equations::Entry> entries_;
  std::vector<int> switching_;
  std::vector<double> records_;
};

/// Runs `ngspice -b deck` in a folder without its words; whether it ended well.
bool spawn_ngspice(const std::filesystem::path& folder) {
  const std::string command = "cd '" + folder.string() + "' && exec ngspice -b deck.cir";
  posix_spawn_file_actions_t quiet;
  posix_spawn_file_actions_init(&quiet);
  posix_spawn_file_actions_addopen(&quiet, 1, "/dev/null", O_WRONLY, 0);
  posix_spawn_file_actions_addopen(&quiet, 2, "/dev/null", O_WRONLY, 0);
  const char* arguments[] = {"sh", "-c", command.c_str(), nullptr};
  pid_t child = 0;
  int status = 1;
  if (posix_spawnp(&child, "sh", &quiet, nullptr, const_cast<char* const*>(arguments), environ) ==
      0) {
    waitpid(child, &status, 0);
  }
  posix_spawn_file_actions_destroy(&quiet);
  return status == 0;
}

/// The last number of the last line of a table.
double last_number(const std::filesystem::path& table) {
  std::ifstream in(table);
  std::string line, last;
  while (std::getline(in, line)) last = line;
  std::istringstream numbers(last);
  double value = 0, x = 0;
  while (numbers >> x) value = x;
  return value;
}

/// How often the first contact of a table moved, and its rows.
std::pair<int, long> count_switches(const std::filesystem::path& table) {
  std::ifstream in(table);
  std::string line;
  std::getline(in, line);
  int switches = 0, before = -1;
  long rows = 0;
  double time = 0, contact = 0;
  while (std::getline(in, line)) {
    std::istringstream numbers(line);
    numbers >> time >> contact;
    const int now = contact > 0.5 ? 1 : 0;
    switches += before >= 0 && now != before ? 1 : 0;
    before = now;
    ++rows;
  }
  return {switches, rows};
}

}  // namespace

PeerRun run_cvode(const Network& network, const CvodeSettings& settings) {
  return Cvode(network, settings).run();
}

PeerRun run_ngspice(const Network& network, const NgspiceSettings& settings) {
  climate::NetlistOptions options;
  options.hours = settings.hours;
  options.print_every_s = settings.record_every_s;
  options.largest_step_s = settings.largest_step_s;
  options.output_file = "out.txt";
  std::string deck = climate::spice_netlist(network, options);
  const auto at = deck.find(".options ");
  WS_CHECK(at != std::string::npos);
  deck.replace(at, deck.find('\n', at) - at, ".options " + settings.options);

  std::string name = (std::filesystem::temp_directory_path() / "climate_bench.XXXXXX").string();
  WS_CHECK(mkdtemp(name.data()) != nullptr);
  const std::filesystem::path folder = name;
  std::ofstream(folder / "deck.cir") << deck;
  PeerRun out;
  const auto begin = Clock::now();
  out.ok = spawn_ngspice(folder);
  out.took_s = seconds_since(begin);
  out.ok = out.ok && std::filesystem::exists(folder / "out.txt");
  if (out.ok) {
    // Energies are the last columns; of one heater the last is its own.
    out.energy_j = 3600 * last_number(folder / "out.txt");
    std::tie(out.switches, out.steps) = count_switches(folder / "out.txt.contacts");
  }
  std::filesystem::remove_all(folder);
  return out;
}

}  // namespace warmside::bench
