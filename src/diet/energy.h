#pragma once
// How much energy an animal needs in a day, and how its own record corrects that. Use it to plan
// meals; it says nothing about whether an animal is well.
//
// Three steps. The standard rate is summed over the 24 hours of the body's warmth: it grows faster
// than evenly with warmth, so the rate at the mean warmth is too low. A multiplier for what the
// animal does (keeping itself, growing, laying) makes it a need. And what the animal ate while it
// kept, gained or lost mass says how far the prediction is off for this one animal.
//
// Every need is log-normal: a middle and the standard deviation of its logarithm, in which spreads
// add as squares. Ranges of unknown shape are taken as its tenth and ninetieth percentiles.

#include <array>
#include <string>

#include "diet/metabolic_rate.h"

namespace warmside::diet {

/// Body temperature in each hour of a day, 0 to 23.
using HoursOfWarmth = std::array<Temperature, 24>;

/// A day as it may have been: low and high are such that four days in five lie between.
struct DayOfWarmth {
  HoursOfWarmth low, middle, high;
  std::string assumed;  // in words, for people: where these temperatures come from
};

/// The day of an animal that is kept by its profile, when no computed climate is at hand. As many
/// hours of light as in summer, about noon; in the light the animal changes every hour between the
/// middle of the warm side's air and the middle of the cool side (low: always cool, high: always
/// warm); in the dark it is as warm as the middle of the night's range (low, high: its ends).
/// Basking under a hot lamp is not in it, nor is a heated hide at night. Common practice, no
/// source. missing: the profile does not say one of these.
Result<DayOfWarmth> assumed_day(const species::Profile& profile);

/// The standard rate over a whole day, as a mean of its 24 hours. Problems as in metabolic_rate().
Result<MetabolicRate> daily_rate(Group group, Mass mass, const HoursOfWarmth& hours);

/// What an animal spends its energy on.
enum class Stage { maintenance, active, growth, breeding, convalescence };

/// How many times the standard rate; all from memory and wide.
struct Multiplier {
  double low, high;
};
Multiplier multiplier(Stage stage);

/// What food must bring in a day, as metabolisable energy.
struct DailyNeed {
  Energy middle;
  double log_sd = 0;
  EnergyBand per_day() const { return band_about(middle, log_sd); }
};

/// Middle: the middle day's rate times the geometric middle of the multiplier. Spread: that of the
/// equation, of the day and of the multiplier together. Problems as in metabolic_rate().
Result<DailyNeed> daily_need(Group group, Mass mass, const DayOfWarmth& day, Stage stage);

/// How many times the predicted need this animal truly needs: log-normal, 1 at the beginning.
struct NeedRatio {
  double log_mean = 0;
  double log_sd = 0;
  /// What is believed before the animal has a record: the prediction, with its spread.
  static NeedRatio before(const DailyNeed& predicted) { return {0, predicted.log_sd}; }
  bool operator==(const NeedRatio&) const = default;
};

/// A time between two weighings with all that was eaten in it. Best the whole of a good record as
/// one period of three months or more, begun and ended at the same distance from a meal: gut
/// contents are not flesh, and what is wrong in a food table is wrong in every month.
struct FedPeriod {
  Duration length;
  Energy eaten;               // metabolisable, of all food
  double eaten_log_sd = 0.2;  // of food tables and digestion; 0.2: common practice, no source
  Mass gained;                // negative when it lost
  Mass gained_sd;             // of the gain, from both weighings
};

/// The ratio after a period whose predicted need was `predicted_per_day`. Several periods may come
/// in any order and give the same.
///
/// What was burned is what was eaten less what went into the body: b = eaten - k gained, where
/// k = 7 kJ/g, log-sd 0.4. (Whole rodents hold 6 to 7.5 kJ/g, Donoghue 1998 as quoted, verified; an
/// animal's own body is taken to be like them; one that burns only fat has up to 39.) With
/// y = ln(b / predicted) and sd(y) = sd(b)/b, prior N(m, s^2) and posterior are normal:
///     1/s'^2 = 1/s^2 + 1/sd(y)^2,   m' = s'^2 (m/s^2 + y/sd(y)^2)
/// out_of_range: a period under a day, negative food, a spread that is none; or when eating and
/// mass do not tell what was burned (b not above sd(b)): then the ratio is still the one before.
Result<NeedRatio> corrected(const NeedRatio& before, Energy predicted_per_day,
                            const FedPeriod& period);

/// The need of an animal with this ratio, which stands in for the prediction's own spread.
DailyNeed corrected_need(const DailyNeed& predicted, const NeedRatio& ratio);

}  // namespace warmside::diet

namespace warmside {
template <>
struct Words<diet::Stage> {
  static constexpr std::array<std::string_view, 5> list{"maintenance", "active", "growth",
                                                        "breeding", "convalescence"};
};
}  // namespace warmside
