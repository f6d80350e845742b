#pragma once
// Comma-separated text (RFC 4180), one record at a time, without copying where it can be avoided.
//
// Reads what spreadsheets write: quoted fields with doubled quotes and line breaks inside, LF or
// CRLF, a byte-order mark. Lines beginning with '#' before the first record are passed over (the
// header block of our data files). Everything is text; meaning is the caller's.

#include <string>
#include <string_view>
#include <vector>

#include "core/result.h"

namespace warmside {

class CsvReader {
 public:
  /// `text` must outlive the reader.
  explicit CsvReader(std::string_view text);

  /// The next record's fields, or null at the end. The views live until the next call.
  /// An unclosed quote or text after a closing quote is a Problem with its line.
  Result<const std::vector<std::string_view>*> next();

  /// The line on which the last record began, counted from 1.
  int line() const { return record_line_; }

 private:
  std::string_view text_;
  std::size_t at_ = 0;
  int line_ = 1;
  int record_line_ = 1;
  std::vector<std::string_view> fields_;
  std::vector<std::string> unquoted_;  // fields whose text had to be rebuilt
};

/// Quotes a field where it must be.
std::string csv_field(std::string_view text);

}  // namespace warmside
