#pragma once
// Reading TOML files field by field with a place for every problem: what the room file and the
// case file share. Only .cpp files include this, since it brings the TOML library with it.

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <toml++/toml.h>

#include <set>
#include <string>
#include <string_view>

#include "core/result.h"
#include "room/fields.h"

namespace warmside::room {

/// Parses a file of at most 16 MB whose keys have at most 16 parts (the parser would nest tables as
/// deep as a hostile file asks). `expected` names the page that describes the form.
Checked<toml::table> parse_toml(std::string_view text, const std::string& file_name,
                                const std::string& expected);

/// "a whole number", for messages.
const char* type_word(const toml::node& node);

/// Reads the fields of one table: the visitor of describe().
class TableReader {
 public:
  TableReader(const toml::table& table, Where where, Problems& problems)
      : table_(table), where_(std::move(where)), problems_(problems) {}

  template <class T>
  void operator()(const char* name, Need need, T& field, const char* words) {
    known_.insert(name);
    const toml::node* node = table_.get(name);
    if (node == nullptr) {
      if (need == Need::must) {
        problems_.push_back({ProblemCode::missing, "must be given", at(name, nullptr), words, ""});
      }
      return;
    }
    read(name, *node, field, words);
  }

  /// After all fields: names that no field has.
  void refuse_unknown() {
    for (const auto& [key, node] : table_) {
      if (known_.contains(std::string(key.str()))) continue;
      problems_.push_back({ProblemCode::unknown_name, "no such field",
                           at(shown(key.str()).c_str(), &node),
                           fmt::format("one of {}", fmt::join(known_, ", ")), ""});
    }
  }

  void know(const char* name) { known_.insert(name); }

  Where at(const char* name, const toml::node* node) const {
    Where where = where_;
    if (node != nullptr && node->source().begin.line > 0) {
      where.line = static_cast<int>(node->source().begin.line);
    }
    where.field += where.field.empty() ? name : fmt::format(".{}", name);
    return where;
  }

 private:
  void wrong_type(const char* name, const toml::node& node, std::string expected) {
    problems_.push_back({ProblemCode::bad_value, fmt::format("not {}", type_word(node)),
                         at(name, &node), std::move(expected), ""});
    problems_.back().what = fmt::format("{} does not belong here", type_word(node));
  }

  template <class T>
  void read(const char* name, const toml::node& node, T& field, const char* words) {
    if constexpr (IsOptional<T>::value) {
      typename T::value_type value{};
      const auto before = problems_.size();
      read(name, node, value, words);
      if (problems_.size() == before) field = value;
    } else if constexpr (std::same_as<T, std::string>) {
      if (const auto value = node.value_exact<std::string>()) {
        field = *value;
      } else {
        wrong_type(name, node, fmt::format("a text in quotes: {}", words));
      }
    } else if constexpr (std::same_as<T, bool>) {
      if (const auto value = node.value_exact<bool>()) {
        field = *value;
      } else {
        wrong_type(name, node, fmt::format("true or false: {}", words));
      }
    } else if constexpr (std::same_as<T, int>) {
      const auto value = node.value_exact<std::int64_t>();
      if (value && *value >= -1'000'000'000 && *value <= 1'000'000'000) {
        field = static_cast<int>(*value);
      } else {
        wrong_type(name, node, fmt::format("a whole number: {}", words));
      }
    } else if constexpr (std::same_as<T, double>) {
      if (const auto value = node.value<double>(); value && node.is_number()) {
        field = *value;
      } else {
        wrong_type(name, node, fmt::format("a number: {}", words));
      }
    } else {
      if constexpr (std::same_as<T, Date>) {
        if (const auto day = node.value_exact<toml::date>()) {
          const auto date = Date::of(day->year, day->month, day->day);
          if (date) {
            field = *date;
          } else {
            problem(name, node, date.problem());
          }
          return;
        }
      }
      const auto text = node.value_exact<std::string>();
      if (!text) {
        wrong_type(name, node, fmt::format("a text in quotes: {}", words));
        return;
      }
      const auto value = read_field<T>(*text);
      if (value) {
        field = *value;
      } else {
        problem(name, node, value.problem());
      }
    }
  }

  void problem(const char* name, const toml::node& node, Problem problem) {
    problem.where = at(name, &node);
    problems_.push_back(std::move(problem));
  }

  const toml::table& table_;
  Where where_;
  Problems& problems_;
  std::set<std::string> known_;
};

}  // namespace warmside::room
