// The rota: sixty animals over 28 days, one animal, and the same whole programmes given straight to
// CBC and GLPK with the same time. The figures stand in docs/performance.md.
//
//   cmake --preset bench && cmake --build --preset bench
//   build/bench/bench/diet_bench              (about two minutes; GLPK where glpsol is installed)
//
// The rooms are those of tests/support/rota_rooms.h.

#include <fmt/format.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <optional>
#include <string>

#include "diet/rota_model.h"
#include "support/rota_rooms.h"

namespace {

using namespace warmside::diet;

constexpr double kSeconds = 10;  // that each solver of the whole may take

double seconds_since(std::chrono::steady_clock::time_point start) {
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

void say(const char* who, std::optional<double> cost, std::optional<double> bound, double seconds) {
  const auto text = [](std::optional<double> x) {
    return x ? fmt::format("{:.4f}", *x) : std::string("none");
  };
  fmt::print("  {:24} cost {:>9}, bound {:>9}, {:8.3f} s", who, text(cost), text(bound), seconds);
  if (cost && bound) fmt::print(", within {:.2f} %", 100 * (*cost - *bound) / *cost);
  fmt::print("\n");
  std::fflush(stdout);
}

void by_parts(const RotaProblem& problem) {
  const auto start = std::chrono::steady_clock::now();
  const RotaAnswer answer = solve_rota(problem);
  const double seconds = seconds_since(start);
  if (answer.plan) {
    say("by parts", answer.plan->cost, answer.plan->bound, seconds);
  } else {
    say("by parts", {}, {}, seconds);
  }
}

void by_cbc(const LinearProgram& whole) {
  const auto start = std::chrono::steady_clock::now();
  const LinearAnswer answer = solve_by_cbc(whole, {100'000'000, kSeconds});
  say("CBC on the whole", answer.feasible ? std::optional(answer.cost) : std::nullopt, answer.bound,
      seconds_since(start));
}

void by_glpk(const LinearProgram& whole) {
  const auto folder = std::filesystem::temp_directory_path() / "warmside_diet_bench";
  std::filesystem::create_directories(folder);
  const auto model = (folder / "rota.lp").string(), out = (folder / "rota.txt").string();
  std::ofstream(model) << as_lp_text(whole);
  const auto start = std::chrono::steady_clock::now();
  const int code = std::system(
      fmt::format("glpsol --lp {} --tmlim {:.0f} -o {} > {}.log 2>&1", model, kSeconds, out, out)
          .c_str());
  const double seconds = seconds_since(start);
  std::optional<double> cost;
  std::ifstream text(out);
  for (std::string line; std::getline(text, line);) {
    const auto at = line.find("cost = ");
    if (line.starts_with("Status:") && line.find("INTEGER") == std::string::npos) break;
    if (line.starts_with("Status:") && line.find("UNDEFINED") != std::string::npos) break;
    if (line.starts_with("Objective:") && at != std::string::npos) {
      cost = std::stod(line.substr(at + 7));
      break;
    }
  }
  if (code == 0) say("GLPK on the whole", cost, {}, seconds);
  std::filesystem::remove_all(folder);
}

}  // namespace

int main() {
  for (const int animals : {1, 6, 20, 60}) {
    for (const unsigned seed : {1U, 2U, 3U}) {
      if (animals != 60 && seed > 1) continue;
      const RotaProblem problem = invented::Rooms(seed).room(animals);
      const LinearProgram whole = whole_rota(problem);
      fmt::print("{} animals, 28 days, room {}: {} columns, {} rows\n", animals, seed,
                 whole.columns.size(), whole.rows.size());
      by_parts(problem);
      if (seed > 1) continue;
      by_cbc(whole);
      by_glpk(whole);
    }
  }
  return 0;
}
