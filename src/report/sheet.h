#pragma once
// Text laid out for a terminal: headings, wrapped paragraphs, hanging indents, and colour only
// where the reader asked for it. Words never depend on the colour.

#include <string>
#include <string_view>

namespace warmside::report {

struct SheetStyle {
  bool colour = false;
  int width = 80;  // columns; text is wrapped to it, 40 or more
};

enum class Tone { plain, strong, faint, urgent, mild };

class Sheet {
 public:
  explicit Sheet(SheetStyle style = {}) : style_(style) {}

  void heading(std::string_view text);
  void blank();
  /// A paragraph, wrapped; later lines are indented by `indent + hang`.
  void line(std::string_view text, int indent = 0, int hang = 0, Tone tone = Tone::plain);
  /// "label   text", the label padded to `label_width`.
  void row(std::string_view label, std::string_view text, int label_width = 16, int indent = 2);
  const std::string& text() const { return text_; }

 private:
  std::string toned(std::string_view text, Tone tone) const;

  SheetStyle style_;
  std::string text_;
};

/// Columns that a UTF-8 text takes; combining and wide characters are not told apart.
int columns_of(std::string_view text);

}  // namespace warmside::report
