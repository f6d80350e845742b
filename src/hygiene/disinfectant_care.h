#pragma once
// What goes with a disinfectant beside its reach (disinfectants.h): what comes first, mixing, how
// long a mixture keeps, rinsing, what never to put it with, people and amphibians. The table
// data/disinfectant_care.csv, built into the program. The label goes before every line of it.

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

/// In the order of doing.
enum class CareTopic { first, mix, keeps, after, never_with, people, amphibians };

struct DisinfectantCare {
  std::string ingredient;  // of disinfectants(), or empty: all of them
  CareTopic topic = CareTopic::first;
  std::string text;
  std::optional<Duration> keeps;  // of a row `keeps`: how long a mixture stays good
  Trust trust = Trust::common_practice;
  std::string source, note;
};

/// Reads the table; every bad row is a Problem with its line.
Checked<std::vector<DisinfectantCare>> read_disinfectant_care(std::string_view csv);
std::span<const DisinfectantCare> disinfectant_care();

/// The rows for an ingredient, those for all first within a topic, in the order of topics; a row
/// `keeps` of its own stands for the general one.
std::vector<const DisinfectantCare*> care_of(std::string_view ingredient);

/// How long a mixture of the ingredient stays good; empty where only the label knows.
std::optional<Duration> mixture_keeps(std::string_view ingredient);

}  // namespace warmside::hygiene

namespace warmside {
template <>
struct Words<hygiene::CareTopic> {
  static constexpr std::array<std::string_view, 7> list{
      "first", "mix", "keeps", "after", "never with", "people", "amphibians"};
};
}  // namespace warmside
