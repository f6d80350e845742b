// Any bytes as every quantity and range: no crash, and what is accepted has a text that reads back
// to the same bits, in both systems of units.

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "core/check.h"
#include "core/quantity.h"

namespace warmside {
namespace {

template <class Q>
void try_one(std::string_view text) {
  const Result<Q> q = parse<Q>(text);
  if (!q) WS_CHECK(q.problem().found.size() <= 40 && !q.problem().what.empty());
  const Result<Range<Q>> range = parse_range<Q>(text);
  for (UnitSystem system : {UnitSystem::metric, UnitSystem::us}) {
    if (q) {
      // == is equality of bits: quantities hold no -0.0 and parse gives no NaN.
      WS_CHECK(parse<Q>(to_text(*q, system)).value() == *q);
      WS_CHECK(for_people(*q, system).size() <= 30);
    }
    if (range) {
      WS_CHECK(range->low <= range->high);
      WS_CHECK(parse_range<Q>(to_text(*range, system)).value() == *range);
      WS_CHECK(!for_people(*range, system).empty());
    }
  }
}

template <class... Qs>
void try_all(std::string_view text) {
  (try_one<Qs>(text), ...);
}

}  // namespace
}  // namespace warmside

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace warmside;
  try_all<Temperature, TemperatureDelta, Mass, Length, Area, Volume, Power, Energy, Duration,
          Percentage, UvIndex, Pressure>({reinterpret_cast<const char*>(data), size});
  return 0;
}
