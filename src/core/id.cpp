#include "core/id.h"

namespace warmside {

bool is_id_text(std::string_view text) {
  if (text.empty() || text.size() > 64) return false;
  if (text[0] == '-' || text[0] == '_') return false;
  return text.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-_") == std::string_view::npos;
}

Problem bad_id_text(std::string_view text) {
  return {ProblemCode::bad_value,
          "not an id",
          {},
          "1 to 64 small letters, digits, - or _, such as corn-1",
          shown(text)};
}

}  // namespace warmside
