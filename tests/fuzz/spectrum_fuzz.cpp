// Any bytes as a spectrum: no crash, every problem with a place, and from what is read a UV index
// that is finite and not negative, with the weighted irradiance no more than the whole.

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "fuzz_checks.h"
#include "light/erythema.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace warmside;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto read = light::read_spectrum(text, fuzz::kFileName);
  if (!read) {
    WS_CHECK(!read.problem().empty());
    for (const Problem& problem : read.problem()) fuzz::check_problem(problem, text, false);
    return 0;
  }
  WS_CHECK(read->rows.size() >= 2);
  double whole = 0;
  for (std::size_t i = 1; i < read->rows.size(); ++i) {
    const auto &a = read->rows[i - 1], &b = read->rows[i];
    WS_CHECK(a.wavelength_nm < b.wavelength_nm);
    whole += (a.irradiance_w_per_m2_nm + b.irradiance_w_per_m2_nm) / 2 *
             (b.wavelength_nm - a.wavelength_nm);
  }
  const auto made = light::erythema(*read);
  if (!made) return 0;
  WS_CHECK(std::isfinite(made->uvi) && made->uvi >= 0);
  WS_CHECK(made->erythemal_w_per_m2 <= whole * (1 + 1e-9) + 1e-9);
  WS_CHECK(std::isfinite(made->uvb_w_per_m2) && made->uvb_w_per_m2 >= 0);
  WS_CHECK(made->uvb_w_per_m2 <= whole * (1 + 1e-9) + 1e-9);
  WS_CHECK(made->covered_from_nm < made->covered_to_nm);
  WS_CHECK(made->lower_bound != made->note.empty());
  return 0;
}
