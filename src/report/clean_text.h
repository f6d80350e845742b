#pragma once
// Names from outside, made fit for a picture: what Cairo and XML refuse is replaced. For text on a
// screen see printable() of report/sheet.h.
// Checked by: tests/unit/report/climate_pictures_test.cpp.

#include <string>
#include <string_view>

namespace warmside::report {

/// Characters of a name, and of some sentences.
constexpr int kLongestName = 200, kLongestParagraph = 800;

/// A name as Cairo and XML take it: UTF-8 of at most so many characters; control characters become
/// blanks, and what is no character becomes U+FFFD.
std::string clean(std::string_view text, int most_characters = kLongestName);

/// The text between two tags of XML.
std::string escaped(std::string_view text);

}  // namespace warmside::report
