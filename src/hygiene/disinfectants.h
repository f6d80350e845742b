#pragma once
// What a disinfection reaches: the table data/disinfectants.csv, built into the program, and the
// words of the notebook put to it. Everything in it holds for surfaces that were cleaned first;
// dirt makes every disinfectant weak. Nothing here says how to treat an animal.

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/quantity.h"
#include "core/result.h"
#include "core/words.h"
#include "species/profile.h"

namespace warmside::hygiene {

/// Groups of organisms that disinfectants tell apart. bd, bsal: the chytrid fungi of amphibians.
/// oocysts: Cryptosporidium and coccidia.
enum class Organism { bacteria, enveloped_viruses, other_viruses, ranavirus, bd, bsal, oocysts };
inline constexpr std::size_t kOrganisms = 7;

/// One finding about a disinfectant. More strength and more time count as well.
struct DisinfectantFact {
  std::string ingredient;
  std::vector<std::string> names;      // small letters
  std::optional<Percentage> strength;  // of the active ingredient in the mixture, or
  std::optional<Temperature> heat;
  int minutes = 0;
  std::vector<Organism> works_on, fails_on;
  Trust trust = Trust::common_practice;
  std::string source, note;
};

/// Reads the table; every bad row is a Problem with its line.
Checked<std::vector<DisinfectantFact>> read_disinfectants(std::string_view csv);
std::span<const DisinfectantFact> disinfectants();

/// The first row of the ingredient with this name, in any letters: its own or one of `names`. Null
/// where there is none.
const DisinfectantFact* find_disinfectant(std::string_view name);
/// The ingredient that a text of the notebook names, such as "bleach 0.5%"; empty where it names
/// none or several.
std::string_view ingredient_in(std::string_view text);

/// What a disinfection covers; `unknown` says why nothing is known of it, and is empty otherwise.
struct Coverage {
  std::vector<Organism> covers;
  std::string unknown;
  bool mixed = false;  // names what must never be put together; then it is unknown too
  bool over(Organism organism) const;
  /// Why the disinfection takes nothing away: what is unknown of it, or that nothing in the table
  /// is reached. Empty where it covers something.
  std::string counts_for_nothing() const;
};
/// `with`: the notebook's words, such as "bleach 0.5%" or "hot water 60C": a name, and its strength
/// in the mixture. minutes: of contact. Without any of the three, or with two names, it is unknown;
/// so is bleach or peroxide with an acid (data/disinfectant_care.csv, never with).
Coverage coverage_of(std::string_view with, std::optional<int> minutes);

}  // namespace warmside::hygiene

namespace warmside {
template <>
struct Words<hygiene::Organism> {
  static constexpr std::array<std::string_view, hygiene::kOrganisms> list{
      "bacteria", "enveloped viruses", "other viruses", "ranavirus", "Bd", "Bsal", "oocysts"};
};
}  // namespace warmside
