#pragma once
// The files of data/ that are built into this module (cmake/EmbedFiles.cmake).

#include <string_view>

namespace warmside::hygiene::data {

std::string_view disinfectants_csv();
std::string_view disinfectant_care_csv();

}  // namespace warmside::hygiene::data
