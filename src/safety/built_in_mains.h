#pragma once
// The file of data/ that is built into this module (cmake/EmbedFiles.cmake).

#include <string_view>

namespace warmside::safety::data {

std::string_view mains_csv();

}  // namespace warmside::safety::data
