#pragma once
// Gaining, steady or slipping? The weight model (weight_model.h) put to an animal's weighings.
//
// The parameters of a kind of animal are the ones that make all its animals' weighings most likely
// (marginal likelihood of the filter) together with a log-normal prior on each, so that an animal
// with three weighings borrows from the others, and a room with one animal from the prior.
//
// The reference is the animal's own: the highest that its mass has been, less the growth expected
// since and known steps, in the year before. Equations and limits: docs/models/health.md.

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/quantity.h"
#include "core/words.h"
#include "health/weight_model.h"

namespace warmside::health {

/// What is known of a kind of animal before it is weighed.
struct KindOfAnimal {
  Motion usual;                 // medians
  double rate_sd_factor = 1.3;  // one standard deviation of its prior, as a factor
  double wander_sd_factor = 2;  // the same
  double noise_sd_factor = 1.4;
  /// Gompertz growth of a young animal towards its adult mass: u = growth (ln adult - l), not below
  /// 0. 0: none is expected.
  double growth_per_day = 0, adult_g = 0;
};

/// One mass on the scale.
struct Weighed {
  double day = 0;  // since any beginning
  double mass_g = 0;
  double contents = 0;           // what gut and bladder are expected to add to ln mass,
  double contents_variance = 0;  // and how well that is known
  double step_g = 0;             // the smallest step of the scale; 0: as fine as any
};
/// The step of the scale that a mass was read from: the coarsest of `scales`, g, of which it is a
/// multiple, else the finest. Without scales 1 g, 0.1 g or 0.01 g.
double step_of(double mass_g, std::span<const double> scales);
/// Mass that went for a reason, as with eggs.
struct KnownStep {
  double day = 0;
  double mean = 0, variance = 0;  // of the change of ln mass
};

/// A weighing that is not believed until it is confirmed, and why.
struct Suspect {
  std::size_t index = 0;  // of the weighings given
  std::string why;
};

/// An animal's weighings as the model takes them, oldest first.
struct Weights {
  std::vector<Weighing> weighings;
  std::vector<Suspect> suspects;  // left out
  /// How much more its rate varies than is usual in its kind, as a factor.
  double restless = 1;
};
/// Puts weighings in order and leaves out those that cannot be believed: no mass; two in one minute
/// that differ; a tenth or ten times of what those around it say, as by a misplaced point, or a
/// mass in another unit. Two in a row that agree believe each other.
Weights weights_of(std::span<const Weighed> weighed, std::span<const KnownStep> steps,
                   const KindOfAnimal& kind);

/// The parameters that make these animals' weighings most likely.
Motion fitted(std::span<const Weights> animals, const KindOfAnimal& kind);

/// From what an animal needs least to what it needs most; see trend_of in weights.cpp.
enum class Trend { unknown, gaining, steady, not_growing, slipping, lost };

/// What a kind's model says of one animal at a moment.
struct WeightReport {
  double day = 0;
  double mass_g = 0, low_g = 0, high_g = 0;                  // empty body; 90 % interval
  double rate_pct_per_30d = 0, rate_low = 0, rate_high = 0;  // 90 % interval
  double expected_pct_per_30d = 0;                           // growth
  double p_loss_over_5 = 0, p_loss_over_10 = 0, p_loss_over_20 = 0;
  double reference_g = 0;  // what it would weigh now had it lost nothing
  double since_day = 0;    // when it last stood all but there
  int believed = 0;        // weighings
  Trend trend = Trend::unknown;
  std::vector<double> level, level_sd;  // smoothed ln mass at each weighing
};
/// Null when there is no weighing. `day` is not before the last.
std::optional<WeightReport> report_of(const Weights& weights, const KindOfAnimal& kind,
                                      const Motion& of_kind, double day);

/// The empty body's mass at a moment, with its 90 % interval.
struct MassAt {
  double day = 0, mass_g = 0, low_g = 0, high_g = 0;
};
/// The smoothed course from which report_of takes its end, at further days, which ascend: wide
/// between weighings and narrow at them. Days before the first weighing are left out. A known step
/// and a sudden change stand at the weighing that shows them.
std::vector<MassAt> course_of(const Weights& weights, const KindOfAnimal& kind,
                              const Motion& of_kind, std::span<const double> days);

/// The reasons for the trend in a sentence, with the numbers; `since` is since_day for people.
std::string reasons_of(const WeightReport& report, const std::string& since, UnitSystem units);

}  // namespace warmside::health

namespace warmside {
template <>
struct Words<health::Trend> {
  static constexpr std::array<std::string_view, 6> list{
      "too few weighings", "gaining", "steady", "not growing", "slipping", "much lost"};
};
}  // namespace warmside
