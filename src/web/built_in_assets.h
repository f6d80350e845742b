#pragma once
// The table of the app's files. Its definition is made at build time (cmake/EmbedTree.cmake).

#include <span>

#include "web/assets.h"

namespace warmside::web {

std::span<const Asset> built_in_assets();

}  // namespace warmside::web
