#include "diet/metabolic_rate.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace warmside::diet {
namespace {

std::string field_of(const Result<MetabolicRate>& rate) {
  return rate ? "" : rate.problem().where.field;
}

TEST(MetabolicRate, RefusesWhatNoAnimalIs) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const auto warm = Temperature::celsius(28);
  for (const double mass_g :
       {0.0, -5.0, 0.009, 500001.0, nan, std::numeric_limits<double>::infinity()}) {
    EXPECT_EQ(field_of(metabolic_rate(Group::snake, Mass::grams(mass_g), warm)), "mass") << mass_g;
  }
  for (const double body_c : {-0.1, 45.1, nan}) {
    EXPECT_EQ(field_of(metabolic_rate(Group::frog, Mass::grams(20), Temperature::celsius(body_c))),
              "temperature")
        << body_c;
  }
  EXPECT_EQ(field_of(metabolic_rate(Group::other, Mass::grams(20), warm)), "group");
}

TEST(MetabolicRate, BandIsEvenInTheLogarithm) {
  const EnergyBand band = band_about(Energy::kilojoules(10), 0.7);
  EXPECT_NEAR(band.low.kilojoules() * band.high.kilojoules(), 100, 1e-9);
  // exp(1.2816 x 0.70) = 2.4526
  EXPECT_NEAR(band.high.kilojoules(), 24.526, 0.001);
  EXPECT_EQ(band_about(Energy::kilojoules(10), 0).low, Energy::kilojoules(10));
}

TEST(MetabolicRate, ChelonianBandIsTheWidest) {
  const auto at = [](Group group) {
    return metabolic_rate(group, Mass::grams(500), Temperature::celsius(28)).value();
  };
  EXPECT_NEAR(at(Group::chelonian).per_day.middle / at(Group::lizard).per_day.middle, 0.7, 1e-12);
  EXPECT_GT(at(Group::chelonian).log_sd, at(Group::lizard).log_sd);
  EXPECT_EQ(at(Group::chelonian).trust, Trust::derived);
}

TEST(MetabolicRate, NoFieldRateForAmphibians) {
  for (const Group group : {Group::frog, Group::salamander, Group::other}) {
    EXPECT_EQ(field_energy_per_day(group, Mass::grams(20)), std::nullopt);
  }
  EXPECT_TRUE(field_energy_per_day(Group::chelonian, Mass::grams(20)));
}

}  // namespace
}  // namespace warmside::diet
