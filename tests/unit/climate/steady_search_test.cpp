// The search for a steady state on whole enclosures, tests/data/cases: found, and in balance.

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "climate/case_file.h"
#include "climate/enclosure_network.h"
#include "climate/solver.h"

namespace warmside::climate {
namespace {

void expect_found(const std::string& name, const Resolution& resolution) {
  const std::string path = std::string(WARMSIDE_SOURCE) + "/tests/data/cases/" + name + ".toml";
  std::ostringstream text;
  text << std::ifstream(path).rdbuf();
  const auto enclosure = read_case_file(text.str(), path);
  ASSERT_TRUE(enclosure.ok()) << enclosure.problem().front().what;
  const auto state = solve_steady(build_network(*enclosure, resolution).network);
  ASSERT_TRUE(state.ok()) << name << ": " << state.problem().what;
  EXPECT_LT(state->heat_balance_error, 1e-6) << name;
  EXPECT_LT(state->water_balance_error, 1e-4) << name;
  EXPECT_LT(state->iterations, 30) << name;
}

// The damping of the first steps was W/K in the rows of vapour too, where it held the vapour fast:
// no step was better, so the damping grew, for ever.
TEST(SteadySearch, FoundWhereDampingHeldTheVapourFast) {
  expect_found("rack_tub", zonal_resolution());
}

// A lamp warms the probe of an emitter's thermostat far above its set point: on the line of its law
// the emitter had to cool with hundreds of watts, and all steps went into that.
TEST(SteadySearch, FoundWhereALampSatisfiesAThermostat) {
  expect_found("desert_vivarium", zonal_resolution());
}

TEST(SteadySearch, FoundForEachCaseAndResolution) {
  for (const char* name : {"mat_tank", "frog_terrarium", "desert_vivarium", "rack_tub"}) {
    expect_found(name, zonal_resolution());
    expect_found(name, map_resolution());
  }
}

}  // namespace
}  // namespace warmside::climate
