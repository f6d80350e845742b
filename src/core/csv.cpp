#include "core/csv.h"

#include <algorithm>

namespace warmside {

CsvReader::CsvReader(std::string_view text) : text_(text) {
  if (text_.starts_with("\xEF\xBB\xBF")) at_ = 3;
  while (at_ < text_.size() && text_[at_] == '#') {
    const auto end = text_.find('\n', at_);
    at_ = end == std::string_view::npos ? text_.size() : end + 1;
    ++line_;
  }
}

Result<const std::vector<std::string_view>*> CsvReader::next() {
  fields_.clear();
  unquoted_.clear();
  if (at_ >= text_.size()) return static_cast<const std::vector<std::string_view>*>(nullptr);
  record_line_ = line_;
  // Which fields point into unquoted_, by index; set at the end, since the vector may move.
  std::vector<std::size_t> rebuilt;
  for (;;) {
    if (at_ < text_.size() && text_[at_] == '"') {
      std::string value;
      ++at_;
      for (;;) {
        const auto quote = text_.find('"', at_);
        if (quote == std::string_view::npos) {
          at_ = text_.size();
          return Problem{ProblemCode::bad_syntax,
                         "a quoted field is never closed",
                         {"", record_line_, ""},
                         "a closing \"",
                         ""};
        }
        value.append(text_.substr(at_, quote - at_));
        at_ = quote + 1;
        if (at_ >= text_.size() || text_[at_] != '"') break;
        value += '"';
        ++at_;
      }
      line_ += static_cast<int>(std::count(value.begin(), value.end(), '\n'));
      rebuilt.push_back(fields_.size());
      unquoted_.push_back(std::move(value));
      fields_.emplace_back();
      if (at_ < text_.size() && text_[at_] != ',' && text_[at_] != '\n' && text_[at_] != '\r') {
        at_ = std::min(text_.find('\n', at_), text_.size());
        return Problem{ProblemCode::bad_syntax,
                       "text after a closing quote",
                       {"", record_line_, ""},
                       "a comma or the end of the line",
                       ""};
      }
    } else {
      const auto end = std::min(text_.find_first_of(",\n", at_), text_.size());
      std::string_view value = text_.substr(at_, end - at_);
      if (value.ends_with('\r') && (end == text_.size() || text_[end] == '\n')) {
        value.remove_suffix(1);
      }
      fields_.push_back(value);
      at_ = end;
    }
    const bool returned = at_ < text_.size() && text_[at_] == '\r';
    if (returned) ++at_;
    if (at_ >= text_.size()) break;
    const char stop = text_[at_++];
    if (stop == '\n') {
      ++line_;
      break;
    }
    if (returned) {  // a lone carriage return after a quoted field
      return Problem{ProblemCode::bad_syntax,
                     "text after a closing quote",
                     {"", record_line_, ""},
                     "a comma or the end of the line",
                     ""};
    }
  }
  for (std::size_t i = 0; i < rebuilt.size(); ++i) fields_[rebuilt[i]] = unquoted_[i];
  return static_cast<const std::vector<std::string_view>*>(&fields_);
}

std::string csv_field(std::string_view text) {
  // At the start of a file '#' would read as a comment and a byte-order mark as none of the text.
  if (text.find_first_of(",\"\r\n") == std::string_view::npos && !text.starts_with('#') &&
      !text.starts_with("\xEF\xBB\xBF")) {
    return std::string(text);
  }
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + "\"";
}

}  // namespace warmside
