#include "core/check.h"

#include <cstdio>
#include <cstdlib>

namespace warmside {

void check_failed(const char* condition, const char* file, int line) {
  std::fprintf(stderr, "warmside: internal check failed: %s (%s:%d)\n", condition, file, line);
  std::abort();
}

}  // namespace warmside
