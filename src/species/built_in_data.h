#pragma once
// The files of data/ that are built into the program (cmake/EmbedFiles.cmake).

#include <string_view>

namespace warmside::data {

std::string_view species_csv();
std::string_view species_facts_csv();
std::string_view care_intervals_csv();
std::string_view care_rules_csv();
std::string_view foods_csv();

}  // namespace warmside::data
