// Any bytes as a weather table: no crash, every problem with a place, and hours that air can have.

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "climate/case_file.h"
#include "fuzz_checks.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace warmside;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto read = climate::read_weather(text, fuzz::kFileName);
  if (!read) {
    WS_CHECK(!read.problem().empty());
    for (const Problem& problem : read.problem()) fuzz::check_problem(problem, text, false);
    return 0;
  }
  WS_CHECK(read->temperature_k.size() >= 24);
  WS_CHECK(read->temperature_k.size() == read->vapour_kg_per_m3.size());
  for (const double t_k : read->temperature_k) WS_CHECK(t_k > 180 && t_k < 340);
  for (const double vapour : read->vapour_kg_per_m3) WS_CHECK(vapour >= 0 && vapour < 0.2);
  return 0;
}
