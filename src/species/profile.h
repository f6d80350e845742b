#pragma once
// Care profiles: what each species wants, every value with how far it can be trusted and where it
// comes from. A profile is a default for a keeper to correct, never a law of nature; whoever shows
// a value shows its trust beside it (docs/data.md says what the trust words mean).
//
// A value is found by its Key. Keys, their kinds and their words for people stand in one table
// (all_keys), which the readers, the room file's overrides, the pages and the checks share.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "core/id.h"
#include "core/quantity.h"
#include "core/words.h"

namespace warmside {

enum class Group { snake, lizard, chelonian, frog, salamander, other };
template <>
struct Words<Group> {
  static constexpr std::array<std::string_view, 6> list{"snake", "lizard",     "chelonian",
                                                        "frog",  "salamander", "other"};
};
constexpr bool is_amphibian(Group g) {
  return g == Group::frog || g == Group::salamander;
}

/// How far a value can be trusted, best first. `keeper`: the keeper's own, with a reason.
enum class Trust {
  keeper,
  verified,
  verified_secondary,
  derived,
  proxy,
  from_memory,
  common_practice
};
template <>
struct Words<Trust> {
  static constexpr std::array<std::string_view, 7> list{
      "keeper", "verified",    "verified secondary", "derived",
      "proxy",  "from memory", "common practice"};
};

}  // namespace warmside

namespace warmside::species {

struct SpeciesTag {
  static constexpr std::string_view kWord = "species";
};
using SpeciesId = Id<SpeciesTag>;

/// What a profile can say. Names in files are those of key_info().
enum class Key {
  basking_surface,
  warm_side_air,
  cool_side,
  night,
  humidity,
  heat_alarm,
  cold_alarm,
  ferguson_zone,
  uvi_gradient,
  uvi_max,
  photoperiod_summer,
  photoperiod_winter,
  native_latitude,
  brumation,
  brumation_temperature,
  brumation_length,
  adult_mass,
  open_data_max_mass,
  feed_interval_adult,
  feed_interval_juvenile,
  feed_in_shed,
  diet_class,
  meal_rule,
  meal_share_adult,
  meal_share_juvenile,
  weigh_interval,
  mass_loss_limit,
  ct_min,
  ct_max,
  field_body_temperature,
  longevity_max_years,
  min_enclosure,
  quarantine_length,
  quarantine_tests,
  notes
};

/// One value of a profile. Ranges are closed; a double is a plain number (years, degrees).
using Value =
    std::variant<std::string, double, Temperature, Range<Temperature>, Percentage,
                 Range<Percentage>, Range<UvIndex>, Duration, Range<Duration>, Mass, Range<Mass>>;

struct KeyInfo {
  Key key;
  std::string_view name;   // "warm_side_air"
  std::string_view label;  // "warm side, air"
  std::size_t kind;        // index of the alternative of Value
  std::string_view example;
};

/// Every key, in the order in which a profile is read.
std::span<const KeyInfo> all_keys();
const KeyInfo& key_info(Key key);
std::optional<Key> find_key(std::string_view name);

/// Reads a value as the key wants it ("26C..30C", "10d", "no").
Result<Value> read_value(Key key, std::string_view text);
/// Text that read_value takes back to the same value.
std::string to_text(const Value& value, UnitSystem units = UnitSystem::metric);
/// Rounded, for reading.
std::string for_people(const Value& value, UnitSystem units);

/// A value and where it comes from.
struct Fact {
  Key key = Key::notes;
  Value value;
  Trust trust = Trust::common_practice;
  std::string source;  // keys of docs/sources.bib, or "common practice, no source"
  std::string note;
  bool operator==(const Fact&) const = default;
};

/// One species, or one animal's own profile once its keeper's overrides are laid over it.
struct Profile {
  SpeciesId id;
  std::string common_name;
  std::string scientific_name;
  Group group = Group::other;
  std::string activity;     // "nocturnal", ...
  std::vector<Fact> facts;  // at most one for each key, in key order

  /// Null when the profile does not say.
  const Fact* find(Key key) const;
  /// The value as T, or null when the profile does not say. T must be the key's kind.
  template <class T>
  const T* value(Key key) const {
    const Fact* fact = find(key);
    return fact == nullptr ? nullptr : &std::get<T>(fact->value);
  }
  /// The word of a text key; empty when the profile does not say.
  std::string_view text(Key key) const;
  /// Adds the fact, or puts it in place of the one that is there.
  void put(Fact fact);
};

/// All species the program knows, by id.
class Catalogue {
 public:
  /// Reads the two tables of data/ (docs/data.md). Every bad row is a Problem.
  static Checked<Catalogue> read(std::string_view species_csv, std::string_view facts_csv);
  const Profile* find(const SpeciesId& id) const;
  std::span<const Profile> all() const { return profiles_; }

 private:
  std::vector<Profile> profiles_;  // sorted by id
};

/// The tables built into the program. Read once, at first use.
const Catalogue& built_in();

}  // namespace warmside::species
