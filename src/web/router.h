#pragma once
// Reading a request's target: its path against templates such as "/api/animals/{id}", and the
// parameters in path and query, percent-decoded (RFC 3986).

#include <map>
#include <optional>
#include <string>
#include <string_view>

namespace warmside::web {

using Parameters = std::map<std::string, std::string, std::less<>>;

struct Target {
  std::string path;  // still encoded
  Parameters query;  // of a name given twice the last
};

/// Null: not a path of this server, badly encoded, or more than 64 parameters.
std::optional<Target> parse_target(std::string_view target);

/// The parameters of a path, or null where it does not fit the template.
std::optional<Parameters> fit(std::string_view path_template, std::string_view path);

/// "%41b" is "Ab"; null for what is no code, a zero byte or not UTF-8. `plus_is_space`: in queries.
std::optional<std::string> percent_decoded(std::string_view text, bool plus_is_space);

}  // namespace warmside::web
