#pragma once
// What a spectrum does to skin: the UV index and the unweighted UVB, from irradiance by wavelength.
// For whoever has a spectrum of a lamp, from a data sheet or a spectroradiometer. It says nothing
// of vitamin D, whose action spectrum is another, and nothing of the UVC below 250 nm that a lamp
// for animals must not give.
//
// Weighting: the erythema action spectrum of ISO/CIE 17166:2019 (CIE S 007),
//     s = 1                          250 to 298 nm
//     s = 10^(0.094 (298 - l))       over 298 to 328 nm
//     s = 10^(0.015 (140 - l))       over 328 to 400 nm
//     s = 0                          elsewhere
// with 140, which joins at 328 nm without a step; older texts have 139 (McKinlay &
// Diffey 1987), 3.4 % less above 328 nm. Webb et al. 2011, Photochem. Photobiol. 87:483, tells the
// two apart. UV index: 40 m2/W times the weighted irradiance (ISO/CIE 17166; WHO 2002).
//
// Between two rows the irradiance is a straight line and the integral with the weight is exact, so
// that a spectrum in steps of 5 nm is not read too high as it is by a plain trapezoid of products.
// Checked by: tests/reference/erythema_test.cpp.

#include <string>
#include <string_view>
#include <vector>

#include "core/result.h"

namespace warmside::light {

/// The weight s at a wavelength in nm.
double erythemal_weight(double wavelength_nm);

constexpr double kWeightedFrom_nm = 250, kWeightedTo_nm = 400;
/// The CIE's UVB, which is also what the trade means by it (ISO 21348: 280 to 315 nm). Some meters
/// for keepers read 280 to 320 nm.
constexpr double kUvbFrom_nm = 280, kUvbTo_nm = 315;

struct SpectrumRow {
  double wavelength_nm = 0;           // 10 to 100000
  double irradiance_w_per_m2_nm = 0;  // 0 to 1000: of a plane, at each nm
};

/// Rows with rising wavelengths, two or more.
struct Spectrum {
  std::vector<SpectrumRow> rows;
};

/// Reads CSV with the columns wavelength_nm and irradiance_w_per_m2_nm, in any order among others.
/// Every bad row is a Problem with its line: not a number, negative, too large, not rising. At most
/// 100,000 rows.
Checked<Spectrum> read_spectrum(std::string_view csv, const std::string& file);

struct Erythema {
  double uvi = 0;
  double erythemal_w_per_m2 = 0;
  double uvb_w_per_m2 = 0;     // unweighted
  double covered_from_nm = 0;  // what of 250 to 400 nm the rows span
  double covered_to_nm = 0;
  /// The rows do not span all that counts, so that the true value is at least this. They do where
  /// they reach from 280 nm or less to 400 nm, or an end at which they fall to nothing: lamps for
  /// animals and sunlight hold next to nothing below 280 nm (common practice, no source).
  bool lower_bound = false;
  bool uvb_lower_bound = false;
  std::string note;  // what is not counted; empty: nothing to say
};

/// Problem (out_of_range): no part of the spectrum lies within 250 to 400 nm.
Result<Erythema> erythema(const Spectrum& spectrum);

}  // namespace warmside::light
