#include "light/erythema.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numbers>
#include <optional>

#include "core/csv.h"

namespace warmside::light {
namespace {

constexpr double kKnee1_nm = 298, kKnee2_nm = 328;
constexpr double kSlope1 = 0.094, kSlope2 = 0.015;  // decades in a nm
constexpr double kOffset2_nm = 140;
constexpr double kUvi_m2_per_w = 40;
constexpr std::size_t kMostRows = 100'000, kMostProblems = 20;
constexpr double kMost_w_per_m2_nm = 1000, kShortest_nm = 10, kLongest_nm = 100'000;

/// Integral over 0 to h of (e0 + (e1 - e0) t / h) exp(-g t): a straight line times an exponential.
double line_times_exponential(double e0, double e1, double h, double g) {
  const double x = g * h;
  // (1 - e^-x) / x and (1 - e^-x (1 + x)) / x^2; by their series where the difference would cancel.
  double even = 0, rising = 0;
  if (x < 1e-2) {
    even = 1 - x / 2 + x * x / 6 - x * x * x / 24;
    rising = 0.5 - x / 3 + x * x / 8 - x * x * x / 30;
  } else {
    even = -std::expm1(-x) / x;
    rising = (even - std::exp(-x)) / x;
  }
  return h * (e0 * even + (e1 - e0) * rising);
}

/// A stretch in which the weight is one exponential.
struct Stretch {
  double from_nm, to_nm, weight_at_from, decades_in_a_nm;
};
std::array<Stretch, 3> stretches() {
  return {
      {{kWeightedFrom_nm, kKnee1_nm, 1, 0},
       {kKnee1_nm, kKnee2_nm, 1, kSlope1},
       {kKnee2_nm, kWeightedTo_nm, std::pow(10, kSlope2 * (kOffset2_nm - kKnee2_nm)), kSlope2}}};
}

double at(const SpectrumRow& a, const SpectrumRow& b, double wavelength_nm) {
  const double share = (wavelength_nm - a.wavelength_nm) / (b.wavelength_nm - a.wavelength_nm);
  return a.irradiance_w_per_m2_nm + share * (b.irradiance_w_per_m2_nm - a.irradiance_w_per_m2_nm);
}

/// Over what of a stretch lies between two rows.
double weighted(const SpectrumRow& a, const SpectrumRow& b, const Stretch& stretch) {
  const double from = std::max(a.wavelength_nm, stretch.from_nm);
  const double to = std::min(b.wavelength_nm, stretch.to_nm);
  if (!(from < to)) return 0;
  const double g = stretch.decades_in_a_nm * std::numbers::ln10;
  return stretch.weight_at_from * std::exp(-g * (from - stretch.from_nm)) *
         line_times_exponential(at(a, b, from), at(a, b, to), to - from, g);
}

class SpectrumReader {
 public:
  SpectrumReader(std::string_view text, const std::string& file) : reader_(text), file_(file) {}

  Checked<Spectrum> read() {
    if (!read_head()) return problems_;
    while (problems_.size() < kMostProblems) {
      const auto row = reader_.next();
      if (!row) {
        Problem problem = row.problem();
        problem.where.file = file_;
        problems_.push_back(std::move(problem));
        break;
      }
      if (*row == nullptr) break;
      if (spectrum_.rows.size() >= kMostRows) {
        fail("", "too many rows", "at most 100,000");
        break;
      }
      read_row(**row);
    }
    if (problems_.empty() && spectrum_.rows.size() < 2) {
      fail("", "too few rows for a spectrum", "two or more, such as 300,0.0012");
    }
    if (!problems_.empty()) return problems_;
    return std::move(spectrum_);
  }

 private:
  static constexpr std::size_t kNone = static_cast<std::size_t>(-1);
  static constexpr std::array<std::string_view, 2> kColumns{"wavelength_nm",
                                                            "irradiance_w_per_m2_nm"};

  void fail(std::string_view field, std::string what, std::string expected,
            std::string_view found = "", ProblemCode code = ProblemCode::bad_value) {
    problems_.push_back({code,
                         std::move(what),
                         {file_, reader_.line(), std::string(field)},
                         std::move(expected),
                         shown(found)});
  }

  bool read_head() {
    const auto head = reader_.next();
    if (!head) {
      Problem problem = head.problem();
      problem.where.file = file_;
      problems_.push_back(std::move(problem));
      return false;
    }
    for (std::size_t k = 0; k < kColumns.size(); ++k) {
      const bool there = *head != nullptr;
      const auto first = there ? std::find((*head)->begin(), (*head)->end(), kColumns[k])
                               : std::vector<std::string_view>::const_iterator();
      if (!there || first == (*head)->end()) {
        fail(kColumns[k], "there is no such column",
             "a first line wavelength_nm,irradiance_w_per_m2_nm", "", ProblemCode::missing);
      } else if (std::find(first + 1, (*head)->end(), kColumns[k]) != (*head)->end()) {
        fail(kColumns[k], "the column is there twice", "each column once", kColumns[k],
             ProblemCode::duplicate);
      } else {
        column_[k] = static_cast<std::size_t>(first - (*head)->begin());
      }
    }
    return problems_.empty();
  }

  std::optional<double> number(std::string_view field, std::string_view text,
                               const char* expected) {
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) {
      fail(field, "not a number", expected, text);
      return std::nullopt;
    }
    return value;
  }

  void read_row(const std::vector<std::string_view>& row) {
    if (row.size() <= std::max(column_[0], column_[1])) {
      fail("", "a row that is too short", "as many fields as the first line");
      return;
    }
    const std::string_view wavelength = row[column_[0]], irradiance = row[column_[1]];
    const auto nm = number(kColumns[0], wavelength, "nanometres, such as 300 or 300.5");
    const auto w = number(kColumns[1], irradiance, "W/m2 at each nm, such as 0.0012");
    if (nm && !(*nm >= kShortest_nm && *nm <= kLongest_nm)) {
      fail(kColumns[0], "no wavelength of light", "nanometres, 10 to 100000", wavelength,
           ProblemCode::out_of_range);
      return;
    }
    if (w && *w < 0) {
      fail(kColumns[1], "less than nothing", "0 or more", irradiance, ProblemCode::out_of_range);
      return;
    }
    if (w && *w > kMost_w_per_m2_nm) {
      fail(kColumns[1], "more than any lamp gives", "W/m2 at each nm, at most 1000", irradiance,
           ProblemCode::out_of_range);
      return;
    }
    if (!nm || !w) return;
    if (!spectrum_.rows.empty() && !(*nm > spectrum_.rows.back().wavelength_nm)) {
      const bool twice = *nm == spectrum_.rows.back().wavelength_nm;
      fail(kColumns[0], twice ? "the same wavelength twice" : "wavelengths that do not rise",
           fmt::format("more than {}", spectrum_.rows.back().wavelength_nm), wavelength,
           twice ? ProblemCode::duplicate : ProblemCode::bad_value);
      return;
    }
    spectrum_.rows.push_back({*nm, *w});
  }

  CsvReader reader_;
  const std::string& file_;
  std::array<std::size_t, 2> column_{kNone, kNone};
  Problems problems_;
  Spectrum spectrum_;
};

}  // namespace

double erythemal_weight(double wavelength_nm) {
  if (!(wavelength_nm >= kWeightedFrom_nm && wavelength_nm <= kWeightedTo_nm)) return 0;
  if (wavelength_nm <= kKnee1_nm) return 1;
  if (wavelength_nm <= kKnee2_nm) return std::pow(10, kSlope1 * (kKnee1_nm - wavelength_nm));
  return std::pow(10, kSlope2 * (kOffset2_nm - wavelength_nm));
}

Checked<Spectrum> read_spectrum(std::string_view csv, const std::string& file) {
  return SpectrumReader(csv, file).read();
}

Result<Erythema> erythema(const Spectrum& spectrum) {
  const auto& rows = spectrum.rows;
  Erythema made;
  if (rows.size() >= 2) {
    made.covered_from_nm = std::max(rows.front().wavelength_nm, kWeightedFrom_nm);
    made.covered_to_nm = std::min(rows.back().wavelength_nm, kWeightedTo_nm);
  }
  if (!(made.covered_from_nm < made.covered_to_nm)) {
    return Problem{ProblemCode::out_of_range,
                   "a spectrum without ultraviolet",
                   {"", 0, "wavelength_nm"},
                   "rows within 250 to 400 nm",
                   rows.empty() ? ""
                                : fmt::format("{} to {} nm", rows.front().wavelength_nm,
                                              rows.back().wavelength_nm)};
  }
  const auto parts = stretches();
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const SpectrumRow &a = rows[i - 1], &b = rows[i];
    for (const Stretch& stretch : parts) made.erythemal_w_per_m2 += weighted(a, b, stretch);
    made.uvb_w_per_m2 += weighted(a, b, {kUvbFrom_nm, kUvbTo_nm, 1, 0});
  }
  made.uvi = kUvi_m2_per_w * made.erythemal_w_per_m2;

  const bool cut_below =
      rows.front().wavelength_nm > kUvbFrom_nm && rows.front().irradiance_w_per_m2_nm > 0;
  const bool open_above = rows.back().irradiance_w_per_m2_nm > 0;
  const bool cut_above = rows.back().wavelength_nm < kWeightedTo_nm && open_above;
  made.lower_bound = cut_below || cut_above;
  made.uvb_lower_bound = cut_below || (rows.back().wavelength_nm < kUvbTo_nm && open_above);
  if (made.lower_bound) {
    made.note = fmt::format(
        "The spectrum covers only {} to {} nm and does not fall to nothing there; what lies "
        "{} is not counted, so the true values are at least these.",
        made.covered_from_nm, made.covered_to_nm,
        cut_below && cut_above ? "outside"
        : cut_below            ? "below"
                               : "above");
  }
  return made;
}

}  // namespace warmside::light
