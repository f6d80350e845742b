#pragma once
// WS_CHECK(condition): a mistake of ours, never of the user. Always on; prints the condition and
// place and aborts. Use it at module boundaries and around the disk. Never on user input.

namespace warmside {

[[noreturn]] void check_failed(const char* condition, const char* file, int line);

}  // namespace warmside

#define WS_CHECK(condition) \
  ((condition) ? static_cast<void>(0) : ::warmside::check_failed(#condition, __FILE__, __LINE__))
