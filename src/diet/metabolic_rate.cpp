#include "diet/metabolic_rate.h"

#include <cmath>

namespace warmside::diet {
namespace {

constexpr double kOxygen_j_per_ml = 20.1;  // respiratory quotient of about 0.8
constexpr double kSecondsPerDay = 86400;

/// Share of the squamate equation that fits chelonians; see the header.
constexpr double kChelonianShare = 0.7;

/// What is measured about an equation: the spread of ln(observed / predicted).
struct Spread {
  double log_sd;
  std::string_view source;
};
// 46 squamates of AnimalTraits: log-sd 0.68 about their own geometric mean, which is 0.83 of the
// equation; about the equation itself (0.68^2 + ln(0.83)^2)^(1/2) = 0.70. Derived.
constexpr Spread kSquamates{0.70, "46 measured snakes and lizards (AnimalTraits)"};
// Ratios 0.28, 0.63, 0.71 (AnimalTraits) and 2.43 (AnAge) to the squamate equation: geometric mean
// 0.74, log-sd 0.90. Derived from four animals.
constexpr Spread kChelonians{0.90, "four measured turtles (AnimalTraits, AnAge): few"};
// Two salamanders (AnAge) lie at 1.54 and 1.09 of the equation, which is no measure of a spread.
constexpr Spread kAmphibians{0.70, "taken from snakes and lizards; two salamanders fit"};

double andrews_pough_j_per_day(double mass_g, double body_c, Phase phase) {
  const double s = phase == Phase::resting ? 1 : 0;
  const double oxygen_ml_per_h =
      0.013 * std::pow(mass_g, 0.80) * std::pow(10, 0.038 * body_c + 0.14 * s);
  return oxygen_ml_per_h * 24 * kOxygen_j_per_ml;
}

double gillooly_amphibian_j_per_day(double mass_g, double body_k) {
  return std::exp(16.68 - 5760 / body_k) * std::pow(mass_g, 0.75) / 60 * kSecondsPerDay;
}

std::optional<Problem> out_of_bounds(Group group, Mass mass, Temperature body) {
  if (group == Group::other) {
    return Problem{ProblemCode::bad_value,
                   "no equation for this group",
                   {"", 0, "group"},
                   "snake, lizard, chelonian, frog or salamander",
                   ""};
  }
  if (!(mass >= Mass::milligrams(10) && mass <= Mass::kilograms(500))) {
    return Problem{ProblemCode::out_of_range,
                   "not a mass that an animal can have here",
                   {"", 0, "mass"},
                   "0.01g to 500kg",
                   ""};
  }
  if (!(body >= Temperature::celsius(0) && body <= Temperature::celsius(45))) {
    return Problem{ProblemCode::out_of_range,
                   "not the body temperature of a living reptile or amphibian",
                   {"", 0, "temperature"},
                   "0C to 45C",
                   ""};
  }
  return std::nullopt;
}

}  // namespace

EnergyBand band_about(Energy middle, double log_sd) {
  const double factor = std::exp(kTenthPercentile * log_sd);
  return {middle / factor, middle, middle * factor};
}

Result<MetabolicRate> metabolic_rate(Group group, Mass mass, Temperature body, Phase phase) {
  if (auto problem = out_of_bounds(group, mass, body)) return std::move(*problem);
  const auto rate = [](double j_per_day, Spread spread, std::string_view source, Trust trust) {
    return MetabolicRate{band_about(Energy::joules(j_per_day), spread.log_sd), spread.log_sd,
                         source, spread.source, trust};
  };
  if (is_amphibian(group)) {
    return rate(gillooly_amphibian_j_per_day(mass.grams(), body.kelvin()), kAmphibians,
                "Gillooly et al. 2001, amphibian form", Trust::verified);
  }
  const double squamate = andrews_pough_j_per_day(mass.grams(), body.celsius(), phase);
  if (group == Group::chelonian) {
    return rate(kChelonianShare * squamate, kChelonians,
                "0.7 of Andrews & Pough 1985, equation 2 (snakes and lizards)", Trust::derived);
  }
  return rate(squamate, kSquamates, "Andrews & Pough 1985, equation 2", Trust::verified_secondary);
}

std::optional<Energy> field_energy_per_day(Group group, Mass mass) {
  if (group == Group::other || is_amphibian(group)) return std::nullopt;
  return Energy::kilojoules(0.196 * std::pow(mass.grams(), 0.889));
}

Energy veterinary_need_per_day(Mass mass) {
  return Energy::kilocalories(10 * std::pow(mass.kilograms(), 0.75));
}

}  // namespace warmside::diet
