#pragma once
// What an animal needs in a day by its mass and stage, what a meal of a food is for it in pieces,
// and how far a year of such meals lies from the need. Use it to plan; it says nothing about
// whether an animal is well, and where its weight and an equation disagree the weight is right.
//
// It knows the animal's record and notebook only. What other models know (how warm its body was,
// how its mass moves) is handed in; without it the day is assumed from the care profile and the
// need is the equation's, with its wide band.

#include <optional>
#include <string>
#include <vector>

#include "diet/energy.h"
#include "diet/past_diet.h"

namespace warmside::diet {

/// What the empty body gained between two days, negative when it lost.
struct MassChange {
  Date from, to;
  Mass gained, gained_sd;
};

/// What other models know of an animal.
struct KnownElsewhere {
  std::optional<DayOfWarmth> warmth;
  std::optional<MassChange> mass_change;
};

/// What an animal does with its food: growth while young, convalescence while ill (which is for a
/// veterinarian), breeding where it is used for breeding, else maintenance.
Stage stage_of(const room::AnimalDay& animal);

struct AnimalNeed {
  DailyNeed need;
  Stage stage = Stage::maintenance;
  std::string warmth;      // where its warmth comes from
  bool corrected = false;  // by its own meals and mass
};
/// missing: no weighing, a group that is not told apart, no temperatures in the profile; else as
/// in daily_need().
///
/// Its own record corrects it where a mass change over kLeastRecord_d days and more is handed in
/// and the energy of every meal in that time is known.
Result<AnimalNeed> need_of(const room::AnimalDay& animal, const room::Day& day,
                           const Pantry& pantry, const KnownElsewhere& elsewhere = {});
constexpr int kLeastRecord_d = 90;  // see FedPeriod

/// Days between meals by the profile; none where it does not say.
std::optional<int> feeding_interval_d(const room::AnimalDay& animal);

/// A meal of one food. The mass is the profile's share of the animal's; pieces are those that come
/// near it.
struct Portion {
  Range<Mass> mass;          // of the meal
  Interval piece_g;          // of one; unknown for plants
  int fewest = 0, most = 0;  // pieces; 0..0 where they are not counted
  /// One piece alone is more than the meal (most = 1 then).
  bool too_large = false;
  Trust trust = Trust::common_practice;  // of the share
};
/// Null where share, mass or food are unknown, or the animal is a group.
std::optional<Portion> portion_of(const room::AnimalDay& animal, const Match& match);

/// Whole animals of the table of which one to kMostPieces make a meal, smallest first. For animals
/// that eat whole prey; what fits by mass must still be no wider than the body is at its widest
/// (common practice), which only the eye can tell.
std::vector<const Food*> prey_that_fits(const room::AnimalDay& animal);
constexpr int kMostPieces = 3;

/// Equal parts by mass of several plants.
struct PlantMix {
  std::vector<const Food*> plants;
  Interval calcium_to_phosphorus;  // of what oxalic acid leaves
};
/// Of the plants given those that may be a staple for the animal, all together; fewer where that
/// brings the worst Ca:P nearer to 1.5 (common practice: 1.5 to 2). Empty without any.
PlantMix mix_of(const room::AnimalDay& animal, const std::vector<const Food*>& plants);

/// Against what an animal needs: whatever the true values inside eaten and need, for too_little and
/// enough. too_much: more than kMuch times the top of the need at the least (1.5: common practice,
/// no source).
enum class EnergyVerdict { surely_enough, unsure, surely_too_little, surely_too_much, unknown };
constexpr double kMuch = 1.5;
EnergyVerdict judge_energy(Interval eaten_kj, const EnergyBand& need);

struct YearOfMeals {
  Interval eaten_kj;
  EnergyBand need;
  EnergyVerdict verdict = EnergyVerdict::unknown;
};
/// A meal of this energy every so many days for a year, against the need. every_d: 1 and more.
YearOfMeals year_of(Interval meal_kj, int every_d, const DailyNeed& need);

}  // namespace warmside::diet

namespace warmside {
template <>
struct Words<diet::EnergyVerdict> {
  static constexpr std::array<std::string_view, 5> list{
      "surely enough", "unsure", "surely too little", "surely too much", "unknown"};
};
}  // namespace warmside
