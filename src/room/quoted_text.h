#pragma once
// A text in quotes, as both TOML (basic strings, v1.0.0) and JSON (RFC 8259 section 7) read it.

#include <string>
#include <string_view>

namespace warmside::room {

/// `text` must be UTF-8. Control characters and DEL become escapes.
std::string quoted(std::string_view text);

}  // namespace warmside::room
