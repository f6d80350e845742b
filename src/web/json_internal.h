#pragma once
// JSON as the web module reads and writes it. Only web/*.cpp includes this.

#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <string_view>

#include "core/result.h"

namespace warmside::web {

using Json = nlohmann::ordered_json;

/// How deep a text from outside may nest: docs/openapi.json needs six.
constexpr int kDeepestJson = 32;

/// Reads JSON from outside. Nesting beyond kDeepestJson, a field given twice and what is not JSON
/// or not UTF-8 are Problems: the library itself would follow any depth.
Result<Json> parse_json(std::string_view text);

Json json_of(const Problem& problem);

/// Compact. What is not UTF-8 is replaced, since an answer must go out.
std::string text_of(const Json& json);

/// Reads the fields of an object that was sent and collects what is wrong with them.
class FieldReader {
 public:
  /// `where`: before each field's name in problems, such as "files.0."; may be empty.
  FieldReader(const Json& object, std::string where, Problems& problems)
      : object_(object), where_(std::move(where)), problems_(problems) {}

  /// A text that must be there, of so many bytes; empty after a problem.
  std::string text(const std::string& name, std::size_t fewest, std::size_t most);
  bool yes_no(const std::string& name);
  /// A list that must be there, of so many; null after a problem.
  const Json* list(const std::string& name, std::size_t fewest, std::size_t most);
  /// After all fields: those that nobody asked for.
  void refuse_others();

 private:
  const Json* find(const std::string& name);
  void refuse(const std::string& name, std::string what, std::string expected);

  const Json& object_;
  const std::string where_;
  Problems& problems_;
  std::set<std::string> known_;
};

/// The object that a request's body is, or why not.
Result<Json> parse_object(std::string_view text);

}  // namespace warmside::web
