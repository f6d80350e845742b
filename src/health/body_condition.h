#pragma once
// Is an animal heavy or light for its length? The scaled mass index of Peig & Green 2009 (Oikos
// 118:1883-1891), in two layers: the formula on a plain list of sizes, and the formula put to an
// animal of the room from its notebook.
//
// The index is the mass that an animal would have at the mean length L0 of its kind:
//     index_i = M_i (L0 / L_i)^b,    b = b_OLS / r
// with b_OLS the least-squares slope of ln M on ln L and r their correlation, so that b is the
// slope of the standardised major axis. It compares an animal with itself and with others of like
// length. It is no measure of fat, no score, and never a diagnosis. Limits: docs/models/health.md.

#include <map>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "core/quantity.h"
#include "core/result.h"
#include "health/sign.h"
#include "room/day.h"

namespace warmside::health {

/// How long and how heavy an animal was at one time.
struct Size {
  Length length;  // above 0
  Mass mass;      // above 0
};

/// How mass goes with length among animals of a kind.
struct Allometry {
  double ols_slope = 0;       // b_OLS, of ln M on ln L
  double correlation = 0;     // r, above 0
  double exponent = 0;        // b
  double exponent_error = 0;  // standard error of b: b sqrt((1 - r^2) / (n - 2))
  double length_spread = 0;   // standard deviation of ln L
  Length mean_length;         // L0, the arithmetic mean
};

/// One size of each animal, in any order.
/// Problem out_of_range: fewer than three sizes (two lie on every line), a length or mass that is
/// not above 0, equal lengths or equal masses, or masses that do not rise with length (r <= 0).
/// Source: Peig & Green 2009 (from memory). The error: with n animals drawn from a
/// two-dimensional normal distribution the logarithm of the ratio of two standard deviations has
/// the variance (1 - r^2) / n; n - 2 as for b_OLS, whose error is the same. Checked by:
/// tests/unit/health/body_condition_test.cpp (five animals by hand).
Result<Allometry> allometry(std::span<const Size> sizes);

/// The scaled mass index: the mass of an animal of this size at the length `reference`.
Mass scaled_mass(const Size& size, double exponent, Length reference);

/// How far apart a length and a weighing may be to be taken together: with a weighing a month there
/// is always one. Common practice, no source.
constexpr int kSizeWindow_days = 15;

/// A measured length with the believable weighing nearest in time, and the index by both.
struct SizeOnDay {
  Date measured;
  Date weighed;
  Size size;   // mass: less what the gut is expected to have held (animal_weight.h)
  Mass index;  // the scaled mass index
};

/// The latest index of an animal against the middle (median) of others.
struct Compared {
  int count = 0;
  Mass middle;
  double change = 0;  // latest / middle - 1
};

/// An animal's body condition on a day, by the length that was measured last.
struct BodyCondition {
  std::string item;              // which length, as in the notebook; empty: nobody wrote it
  std::vector<SizeOnDay> sizes;  // oldest first; empty: no weighing near a length
  /// Left out: the index is beyond a factor of two from the middle of its others. index: as it
  /// would be.
  std::vector<SizeOnDay> not_believed;
  double exponent = 0;
  bool isometric = false;    // 3, for want of a slope
  std::string exponent_why;  // a sentence without a full stop, for people
  Length reference;          // L0
  int animals = 0;           // of the species whose lengths count, with this one
  /// Of like length only. Null: there is none.
  std::optional<Compared> earlier;  // its own before
  std::optional<Compared> others;   // the latest of each other of the species
};

/// The body condition of the animals of a day. What a species' animals share is sought once.
class BodyConditions {
 public:
  /// `day` must outlive it.
  explicit BodyConditions(const room::Day& day) : day_(&day) {}
  /// Null for animals that are not told apart (their count is not one), and where no length is in
  /// the notebook.
  std::optional<BodyCondition> of(const room::AnimalDay& animal);

 private:
  /// What is known of the animals of a species by one kind of length.
  struct Sample {
    std::map<room::AnimalId, std::vector<SizeOnDay>> sizes, not_believed;
    double exponent = 0;
    bool isometric = false;
    std::string exponent_why;
    Length reference;
  };
  Sample sample_of(const room::AnimalDay& animal, const std::string& item) const;

  const room::Day* day_;
  std::map<std::pair<species::SpeciesId, std::string>, Sample> samples_;
};

/// What to do about it: at most to watch. Null where there is no index, or none of the last months.
std::optional<Sign> body_condition_sign(const BodyCondition& condition,
                                        const room::AnimalDay& animal, const room::Day& day);

/// "2.1 % below the middle of its 3 earlier ones, 517 g".
std::string compared_words(const Compared& compared, std::string_view with, UnitSystem units);

}  // namespace warmside::health
