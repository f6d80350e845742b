#pragma once
// The file of data/ that is built into this module (cmake/EmbedFiles.cmake).

#include <string_view>

namespace warmside::diet::data {

std::string_view unsuitable_foods_csv();

}  // namespace warmside::diet::data
