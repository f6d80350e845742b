#pragma once
// Names that records go by. Each kind of record has its own id type, so that an animal's id cannot
// be handed in where an enclosure's is wanted. The text is chosen by the keeper ("corn-1").

#include <compare>
#include <string>
#include <string_view>

#include "core/result.h"

namespace warmside {

/// Whether a text may be an id: 1 to 64 of a-z, 0-9, '-', '_', beginning with a letter or digit.
bool is_id_text(std::string_view text);

/// The Problem for a text that may not.
Problem bad_id_text(std::string_view text);

/// Tag names the kind of record: Tag::kWord is its word in files and messages ("animal").
template <class Tag>
class Id {
 public:
  /// Empty: no record.
  Id() = default;
  static Result<Id> parse(std::string_view text) {
    if (!is_id_text(text)) return bad_id_text(text);
    return trusted(std::string(text));
  }
  /// For text that was checked before it was stored.
  static Id trusted(std::string text) {
    Id id;
    id.text_ = std::move(text);
    return id;
  }
  const std::string& text() const { return text_; }
  bool empty() const { return text_.empty(); }
  auto operator<=>(const Id&) const = default;

 private:
  std::string text_;
};

}  // namespace warmside
