#pragma once
// The file of data/ that is built into this module (cmake/EmbedFiles.cmake).

#include <string_view>

namespace warmside::climate::data {

std::string_view materials_csv();

}  // namespace warmside::climate::data
