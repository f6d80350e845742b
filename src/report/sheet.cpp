#include "report/sheet.h"

#include <algorithm>
#include <vector>

namespace warmside::report {
namespace {

constexpr int kNarrowest = 40;
constexpr const char* kBlanks = " \t\r\n";

std::vector<std::string_view> words_of(std::string_view text) {
  std::vector<std::string_view> words;
  for (std::size_t at = 0; at < text.size();) {
    const auto start = text.find_first_not_of(kBlanks, at);
    if (start == std::string_view::npos) break;
    const auto end = std::min(text.find_first_of(kBlanks, start), text.size());
    words.push_back(text.substr(start, end - start));
    at = end;
  }
  return words;
}

/// Names and notes come from files: what would steer the terminal (C0, DEL, C1) becomes '?'.
std::string printable(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = [&](std::size_t at) { return static_cast<unsigned char>(text[at]); };
    const bool c1 = byte(i) == 0xc2 && i + 1 < text.size() && byte(i + 1) < 0xa0;
    out += c1 || byte(i) < 0x20 || byte(i) == 0x7f ? '?' : text[i];
    i += c1 ? 1 : 0;
  }
  return out;
}

}  // namespace

int columns_of(std::string_view text) {
  return static_cast<int>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xc0) != 0x80;  // not a continuation byte
  }));
}

std::string Sheet::toned(std::string_view text, Tone tone) const {
  const std::string clean = printable(text);
  if (!style_.colour || tone == Tone::plain) return clean;
  const char* code = "";
  switch (tone) {
    case Tone::strong:
      code = "\033[1m";
      break;
    case Tone::faint:
      code = "\033[2m";
      break;
    case Tone::urgent:
      code = "\033[1;35m";
      break;
    case Tone::mild:
      code = "\033[36m";
      break;
    case Tone::plain:
      break;
  }
  return std::string(code) + clean + "\033[0m";
}

void Sheet::heading(std::string_view text) {
  if (!text_.empty()) text_ += "\n";
  text_ += toned(text, Tone::strong) + "\n";
}

void Sheet::blank() {
  text_ += "\n";
}

void Sheet::line(std::string_view text, int indent, int hang, Tone tone) {
  const int width = std::max(style_.width, kNarrowest);
  std::string current;
  int columns = 0, margin = indent;
  const auto flush = [&] {
    text_ += std::string(static_cast<std::size_t>(margin), ' ') + toned(current, tone) + "\n";
    current.clear();
    columns = 0;
    margin = indent + hang;
  };
  for (const std::string_view word : words_of(text)) {
    const int needed = columns_of(word) + (columns > 0 ? 1 : 0);
    if (columns > 0 && margin + columns + needed > width) flush();
    if (columns > 0) {
      current += ' ';
      ++columns;
    }
    current += word;
    columns += columns_of(word);
  }
  if (!current.empty()) flush();
}

void Sheet::row(std::string_view label, std::string_view text, int label_width, int indent) {
  if (columns_of(label) >= label_width) {  // no room beside it
    line(label, indent, 0, Tone::faint);
    line(text, indent + label_width);
    return;
  }
  const int pad = label_width - columns_of(label);
  const std::size_t start = text_.size();
  line(text, indent + label_width, 0);
  // The label takes the place of the first line's indent.
  if (text_.size() == start)
    text_ += std::string(static_cast<std::size_t>(indent + label_width), ' ') + "\n";
  const std::string head = std::string(static_cast<std::size_t>(indent), ' ') +
                           toned(label, Tone::faint) +
                           std::string(static_cast<std::size_t>(pad), ' ');
  text_.replace(start, static_cast<std::size_t>(indent + label_width), head);
}

}  // namespace warmside::report
