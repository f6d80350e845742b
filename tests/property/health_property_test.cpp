// The models of gaps in general: calibrated on data of their own kind, and of one mind about longer
// and shorter fasts.

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "health/appetite.h"
#include "health/intervals.h"
#include "support/room_builder.h"

namespace warmside::health {
namespace {

using room::EntryKind;

// ---- Calibration -------------------------------------------------------------------------------

constexpr GapPrior kPrior{14, 0.5, 2, 6};
constexpr unsigned kSeed = 20261125;

/// Animals drawn from the prior, some gaps of each, and what the model says at one more gap.
/// weight: of every gap.
std::vector<double> survivals_at_a_new_gap(int animals, int gaps, double weight = 1) {
  std::mt19937_64 random(kSeed + static_cast<unsigned>(gaps));
  std::normal_distribution<double> normal;
  std::chi_squared_distribution<double> chi_squared(kPrior.worth_spread);
  std::vector<double> found;
  for (int animal = 0; animal < animals; ++animal) {
    const double spread =
        std::sqrt(kPrior.worth_spread * kPrior.spread * kPrior.spread / chi_squared(random));
    const double centre =
        std::log(kPrior.median) + spread / std::sqrt(kPrior.worth_median) * normal(random);
    const auto draw = [&] { return std::exp(centre + spread * normal(random)); };
    std::vector<Gap> past;
    for (int i = 0; i < gaps; ++i) past.push_back({draw(), weight});
    found.push_back(learn(kPrior, past).survival(draw()));
  }
  return found;
}

/// The greatest distance between the shares found and those of the uniform distribution.
double distance_from_uniform(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const auto n = static_cast<double>(values.size());
  double most = 0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const auto below = static_cast<double>(i);
    most = std::max({most, std::abs(values[i] - below / n), std::abs((below + 1) / n - values[i])});
  }
  return most;
}

TEST(GapCalibration, SurvivalAtTheTrueGapIsUniform) {
  constexpr int kAnimals = 20'000;
  for (const int gaps : {0, 1, 3, 10, 40}) {
    // Kolmogorov and Smirnov: 1.95 / sqrt(n) is passed once in a thousand (Stephens 1974, table 1,
    // from memory); one seed, five tries.
    EXPECT_LT(distance_from_uniform(survivals_at_a_new_gap(kAnimals, gaps)),
              1.95 / std::sqrt(kAnimals))
        << gaps << " gaps, seed " << kSeed;
  }
}

TEST(GapCalibration, FadedGapsWarnSeldomerNotOftener) {
  constexpr int kAnimals = 20'000;
  for (const double limit : {0.1, 0.02}) {
    for (const int gaps : {3, 10, 40}) {
      const auto found = survivals_at_a_new_gap(kAnimals, gaps, 0.3);
      const auto alarms =
          std::count_if(found.begin(), found.end(), [&](double s) { return s <= limit; });
      // Three standard errors of a share.
      EXPECT_LE(static_cast<double>(alarms) / kAnimals,
                limit + 3 * std::sqrt(limit * (1 - limit) / kAnimals))
          << gaps << " gaps, seed " << kSeed;
    }
  }
}

TEST(GapCalibration, AnAnimalWithALongRecordIsKnown) {
  // A spread of 0.3 and a median of 25 d, neither of which the prior has: of 40 gaps the model
  // knows them. Its tail is then off by what is left of the prior.
  std::mt19937_64 random(kSeed);
  std::lognormal_distribution<double> gap(std::log(25.0), 0.3);
  int alarms = 0;
  constexpr int kAnimals = 20'000;
  for (int animal = 0; animal < kAnimals; ++animal) {
    std::vector<Gap> past(40);
    for (Gap& one : past) one.length = gap(random);
    alarms += learn(kPrior, past).survival(gap(random)) <= 0.1;
  }
  EXPECT_NEAR(static_cast<double>(alarms) / kAnimals, 0.1, 0.03) << "seed " << kSeed;
}

// ---- Gaps --------------------------------------------------------------------------------------

std::vector<Gap> any_gaps() {
  std::vector<Gap> gaps(*rc::gen::inRange<std::size_t>(0, 40));
  for (Gap& gap : gaps) {
    gap = {static_cast<double>(*rc::gen::inRange(1, 200)), *rc::gen::inRange(0, 101) / 100.0};
  }
  return gaps;
}

RC_GTEST_PROP(GapProperty, ALongerGapIsNeverLessUnusual, ()) {
  const auto gaps = any_gaps();
  const GapModel model = learn(kPrior, gaps, *rc::gen::element(0.0, 0.55));
  const double shorter = *rc::gen::inRange(0, 5000) / 10.0;
  const double longer = shorter + *rc::gen::inRange(0, 5000) / 10.0;
  RC_ASSERT(model.survival(longer) <= model.survival(shorter));
  RC_ASSERT(model.survival(longer) >= 0 && model.survival(shorter) <= 1);
  RC_ASSERT(model.survival_given(longer, shorter) >= model.survival(longer));
  RC_ASSERT(share_as_long(gaps, longer, 2) <= share_as_long(gaps, shorter, 2));
}

RC_GTEST_PROP(GapProperty, NeitherOrderNorUnitMatters, ()) {
  auto gaps = any_gaps();
  const double length = *rc::gen::inRange(1, 300);
  const double here = learn(kPrior, gaps).survival(length);
  std::reverse(gaps.begin(), gaps.end());
  RC_ASSERT(std::abs(learn(kPrior, gaps).survival(length) - here) < 1e-9);
  GapPrior hours = kPrior;
  hours.median *= 24;
  for (Gap& gap : gaps) gap.length *= 24;
  RC_ASSERT(std::abs(learn(hours, gaps).survival(length * 24) - here) < 1e-9);
}

// Not for gaps of another length: an animal that eats every thirty days where its profile says ten
// makes a gap of forty look less unusual the longer its record.
RC_GTEST_PROP(GapProperty, MoreGapsAsExpectedNeverMakeALongOneLookUsual, ()) {
  const auto few = *rc::gen::inRange<std::size_t>(0, 40);
  const std::vector<Gap> gaps(few + *rc::gen::inRange<std::size_t>(0, 40), {kPrior.median, 1});
  const double length = kPrior.median + *rc::gen::inRange(0, 300);
  const auto known = learn(kPrior, std::span(gaps).first(few));
  RC_ASSERT(learn(kPrior, gaps).survival(length) <= known.survival(length) + 1e-12);
}

// ---- Appetite ----------------------------------------------------------------------------------

/// An animal that eats as it likes, and then refuses for a while.
struct Story {
  test::RoomBuilder room;
  Date last_meal;
  Date today;
};

Story draw_story(const char* species) {
  Story story;
  story.today = test::date("2026-11-25");
  story.room.enclosure("tub").animal("a", species);
  const int refusals = *rc::gen::inRange(0, 6);
  Date day = story.today - 400;
  const int meals = *rc::gen::inRange(1, 30);
  for (int i = 0; i < meals; ++i) {
    story.room.entry(to_text(day), EntryKind::fed, "a");
    story.last_meal = day;
    day = day + *rc::gen::inRange(1, 12);
  }
  for (int i = 0; i < refusals; ++i) {
    day = day + *rc::gen::inRange(1, 4);
    story.room.entry(to_text(day), EntryKind::refused, "a");
  }
  return story;
}

MassTrend around(double rate, double margin) {
  return {rate, rate - margin, rate + margin};
}

std::optional<MassTrend> draw_mass() {
  if (*rc::gen::arbitrary<bool>()) return std::nullopt;
  return around(*rc::gen::inRange(-100, 50) / 10.0, *rc::gen::inRange(0, 60) / 10.0);
}

const char* draw_species() {
  return *rc::gen::element("corn_snake", "royal_python", "crested_gecko", "whites_tree_frog",
                           "hermanns_tortoise");
}

Response worst_on(const Story& story, Date date, const std::optional<MassTrend>& mass) {
  const test::TestDay day = story.room.day(to_text(date));
  Response worst = Response::change_nothing;
  for (const Sign& sign : appetite(day.animal("a"), day.day, mass)) {
    worst = std::max(worst, sign.response);
    RC_ASSERT(!sign.says.empty() && !sign.evidence.empty() && !sign.source.empty());
    RC_ASSERT(sign.response == Response::change_nothing || !sign.advice.empty());
  }
  return worst;
}

RC_GTEST_PROP(AppetiteProperty, AsDaysPassWithoutAMealTheAlarmNeverFalls, ()) {
  const Story story = draw_story(draw_species());
  const auto mass = draw_mass();
  const Date first = story.last_meal + 30;
  const Date later = first + *rc::gen::inRange(1, 200);
  RC_ASSERT(worst_on(story, first, mass) <= worst_on(story, later, mass));
}

RC_GTEST_PROP(AppetiteProperty, AMealTodayClearsIt, ()) {
  Story story = draw_story(draw_species());
  story.room.entry("2026-11-25 20:00", EntryKind::fed, "a");
  RC_ASSERT(worst_on(story, story.today, draw_mass()) == Response::change_nothing);
}

RC_GTEST_PROP(AppetiteProperty, AGrownSnakeThatHoldsItsMassIsWatchedAtMost, ()) {
  const Story story = draw_story(*rc::gen::element("corn_snake", "royal_python"));
  const MassTrend held = around(*rc::gen::inRange(-9, 50) / 10.0, *rc::gen::inRange(0, 10) / 10.0);
  RC_ASSERT(worst_on(story, story.today, held) <= Response::watch);
}

RC_GTEST_PROP(AppetiteProperty, WithoutARefusalNobodyIsCalled, ()) {
  Story story = draw_story(draw_species());
  story.room.entry(to_text(story.today - *rc::gen::inRange(1, 40)), EntryKind::fed, "a");
  RC_ASSERT(worst_on(story, story.today, draw_mass()) <= Response::weigh_again);
}

RC_GTEST_PROP(AppetiteProperty, WorseMassNeverCalms, ()) {
  const Story story = draw_story(draw_species());
  const double rate = *rc::gen::inRange(-100, 50) / 10.0;
  const double margin = *rc::gen::inRange(0, 60) / 10.0;
  MassTrend better = around(rate, margin);
  MassTrend worse = around(rate - *rc::gen::inRange(0, 100) / 10.0, margin);
  if (*rc::gen::arbitrary<bool>()) {
    const double p_over_5 = *rc::gen::inRange(0, 101) / 100.0;
    const double p_over_10 = p_over_5 * *rc::gen::inRange(0, 101) / 100.0;
    const double more = *rc::gen::inRange(0, 101) / 100.0;  // of what is left to certainty
    better.lost = {p_over_5, p_over_10};
    worse.lost = {p_over_5 + more * (1 - p_over_5), p_over_10 + more * (1 - p_over_10)};
  }
  RC_ASSERT(worst_on(story, story.today, better) <= worst_on(story, story.today, worse));
}

}  // namespace
}  // namespace warmside::health
