// Any bytes as a case file: no crash, every problem with a place; and a case that is read has a
// text that reads back the same, and a network whose steady state is found or said not to be.

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "climate/case_file.h"
#include "climate/enclosure_network.h"
#include "climate/solver.h"
#include "fuzz_checks.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace warmside;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto read = climate::read_case_file(text, fuzz::kFileName);
  if (!read) {
    WS_CHECK(!read.problem().empty());
    for (const Problem& problem : read.problem()) fuzz::check_problem(problem, text, false);
    return 0;
  }
  WS_CHECK(climate::check_case(*read).empty());
  for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
    const std::string written = climate::write_case_file(*read, units);
    const auto again = climate::read_case_file(written, fuzz::kFileName);
    WS_CHECK(again.ok());
    WS_CHECK(climate::write_case_file(*again, units) == written);
  }

  climate::EnclosureCase enclosure = *read;
  enclosure.room.weather.clear();  // named, but not read here
  // What has hundreds of heaters and bodies, each with cells of its own, only takes time.
  if (enclosure.heaters.size() + enclosure.bodies.size() > 12) return 0;
  const climate::EnclosureNetwork built =
      climate::build_network(enclosure, climate::zonal_resolution());
  const auto state = climate::solve_steady(built.network);
  if (!state) {
    WS_CHECK(!state.problem().what.empty());
    return 0;
  }
  for (const double t_k : state->node_k) WS_CHECK(std::isfinite(t_k));
  for (const double duty : state->duty) WS_CHECK(duty >= 0 && duty <= 1);
  WS_CHECK(state->heat_balance_error >= 0 && state->heat_balance_error < 1e-6);
  return 0;
}
