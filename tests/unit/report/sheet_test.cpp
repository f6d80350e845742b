// The layout of sheets: wrapping, hanging indents, rows, colour only where it is asked for.

#include "report/sheet.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>
#include <vector>

namespace warmside::report {
namespace {

using testing::HasSubstr;
using testing::Not;

std::vector<std::string> lines(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

Sheet narrow(int width = 40, bool colour = false) {
  return Sheet({colour, width});
}

TEST(ColumnsOf, CountsCharactersNotBytes) {
  EXPECT_EQ(columns_of(""), 0);
  EXPECT_EQ(columns_of("corn"), 4);
  EXPECT_EQ(columns_of("28 °C"), 5);             // two bytes
  EXPECT_EQ(columns_of("26 – 30"), 7);           // three
  EXPECT_EQ(columns_of("\xf0\x9f\xa6\x8e"), 1);  // four: a lizard
}

TEST(SheetLine, WrapsAtTheWidthAndNotBefore) {
  Sheet sheet = narrow();
  // 20 + 1 + 19 = 40 columns fit; one more does not.
  sheet.line(std::string(20, 'a') + " " + std::string(19, 'b'));
  sheet.line(std::string(20, 'a') + " " + std::string(20, 'b'));
  EXPECT_THAT(lines(sheet.text()),
              testing::ElementsAre(std::string(20, 'a') + " " + std::string(19, 'b'),
                                   std::string(20, 'a'), std::string(20, 'b')));
}

TEST(SheetLine, MeasuresInCharacters) {
  std::string text = "°";
  for (int i = 0; i < 19; ++i) text += " °";  // 20 degree signs: 39 columns, 59 bytes
  Sheet sheet = narrow();
  sheet.line(text);
  EXPECT_EQ(sheet.text(), text + "\n");
}

TEST(SheetLine, IndentsTheFirstAndHangsTheRest) {
  Sheet sheet = narrow();
  const std::string ten(10, 'x');
  sheet.line(ten + " " + ten + " " + ten + " " + ten + " " + ten, 4, 2);
  // 4 + 10 + 11 + 11 = 36 columns, a fourth would be 47; then 6 + 21 = 27.
  EXPECT_THAT(lines(sheet.text()), testing::ElementsAre("    " + ten + " " + ten + " " + ten,
                                                        "      " + ten + " " + ten));
}

TEST(SheetLine, AWordLongerThanTheLineStandsAlone) {
  Sheet sheet = narrow();
  const std::string word(60, 'w');
  sheet.line("a " + word + " b", 2);
  EXPECT_THAT(lines(sheet.text()), testing::ElementsAre("  a", "  " + word, "  b"));
}

TEST(SheetLine, BlanksAndBreaksAreOneSpaceAndNothingIsNoLine) {
  Sheet sheet = narrow();
  sheet.line("  a \n\n b\t\r\n c  ");
  EXPECT_EQ(sheet.text(), "a b c\n");
  sheet.line("");
  sheet.line("  \n ");
  EXPECT_EQ(sheet.text(), "a b c\n");
}

TEST(SheetLine, ASheetIsAtLeastFortyColumns) {
  for (const int width : {-5, 0, 1, 39, 40}) {
    Sheet sheet = narrow(width);
    sheet.line(std::string(20, 'a') + " " + std::string(19, 'b'));
    EXPECT_EQ(lines(sheet.text()).size(), 1u) << width;
  }
}

TEST(SheetLine, NoLineIsWiderThanTheSheet) {
  std::string text;
  for (int i = 0; i < 300; ++i)
    text += std::string(1 + static_cast<std::size_t>(i * 7 % 13), 'a') + " ";
  for (const int width : {40, 57, 80, 132}) {
    Sheet sheet = narrow(width);
    sheet.line(text, 8, 4);
    std::size_t letters = 0;
    for (const std::string& line : lines(sheet.text())) {
      EXPECT_LE(columns_of(line), width);
      for (const char c : line) letters += c == 'a';
    }
    EXPECT_EQ(letters, static_cast<std::size_t>(std::count(text.begin(), text.end(), 'a')));
  }
}

TEST(SheetHeading, StandsApartFromWhatIsAbove) {
  Sheet sheet;
  sheet.heading("One");
  sheet.heading("Two");
  sheet.blank();
  EXPECT_EQ(sheet.text(), "One\n\nTwo\n\n");
}

TEST(SheetRow, PadsItsLabelAndWrapsBesideIt) {
  Sheet sheet = narrow();
  const std::string ten(10, 'x');
  sheet.row("mass", ten + " " + ten + " " + ten, 16, 2);  // 18 + 21 = 39 columns
  EXPECT_THAT(lines(sheet.text()), testing::ElementsAre("  mass            " + ten + " " + ten,
                                                        "                  " + ten));
}

TEST(SheetRow, ALabelIsMeasuredInCharacters) {
  Sheet sheet;
  sheet.row("°", "a", 4, 0);
  EXPECT_EQ(sheet.text(), "°   a\n");
}

TEST(SheetRow, WithoutATextTheLabelStands) {
  Sheet sheet;
  sheet.row("mass", "", 8, 2);
  EXPECT_THAT(sheet.text(), testing::StartsWith("  mass"));
  EXPECT_EQ(lines(sheet.text()).size(), 1u);
}

TEST(SheetRow, ALongLabelDoesNotSwallowTheText) {
  Sheet sheet = narrow();
  sheet.row("a label that is long", "text", 10, 2);
  EXPECT_THAT(sheet.text(), HasSubstr("a label that is long"));
  EXPECT_THAT(sheet.text(), testing::EndsWith(" text\n"));
  for (const std::string& line : lines(sheet.text())) EXPECT_LE(columns_of(line), 40);
}

TEST(SheetColour, OnlyWhereItIsAskedFor) {
  for (const bool colour : {false, true}) {
    Sheet sheet = narrow(40, colour);
    sheet.heading("Heading");
    for (const Tone tone : {Tone::plain, Tone::strong, Tone::faint, Tone::urgent, Tone::mild}) {
      sheet.line("some words", 2, 2, tone);
    }
    sheet.row("label", "text");
    EXPECT_EQ(sheet.text().find('\033') != std::string::npos, colour);
  }
  Sheet plain = narrow(40, true);
  plain.line("plain", 0, 0, Tone::plain);
  EXPECT_EQ(plain.text(), "plain\n");
}

/// Takes out the codes of colour: ESC [ ... m.
std::string without_codes(std::string text) {
  for (auto at = text.find('\033'); at != std::string::npos; at = text.find('\033')) {
    text.erase(at, text.find('m', at) - at + 1);
  }
  return text;
}

TEST(SheetColour, ChangesNoWordAndNoBreak) {
  std::string texts[2];
  for (const bool colour : {false, true}) {
    Sheet sheet = narrow(40, colour);
    sheet.heading("Heading");
    sheet.line("[now]", 2, 0, Tone::urgent);
    sheet.line("a headline of more words than there is room for on one line", 2, 4, Tone::strong);
    sheet.row("label", "a text of more words than there is room for on one line", 12, 2);
    texts[colour] = sheet.text();
  }
  EXPECT_NE(texts[0], texts[1]);
  EXPECT_EQ(texts[0], without_codes(texts[1]));
}

// Found by this test: a name of a room file could send escape codes to the terminal.
TEST(SheetText, WhatWouldSteerATerminalIsShownAsAQuestionMark) {
  for (const bool colour : {false, true}) {
    Sheet sheet = narrow(80, colour);
    sheet.heading("a\033]0;b\a");
    sheet.line(
        "red \033[31mname\x7f \xc2\x9b"
        "2J caf\xc3\xa9 28 \xc2\xb0"
        "C");
    sheet.row("la\033bel", "te\bxt");
    const std::string text = without_codes(sheet.text());
    for (const char c : text) {
      EXPECT_TRUE(c == '\n' || (static_cast<unsigned char>(c) >= 0x20 && c != 0x7f));
    }
    EXPECT_THAT(text, HasSubstr("a?]0;b?"));
    EXPECT_THAT(text, HasSubstr("red ?[31mname? ?2J caf\xc3\xa9 28 \xc2\xb0"
                                "C"));
    EXPECT_THAT(text, HasSubstr("la?bel"));
    EXPECT_THAT(text, HasSubstr("te?xt"));
    EXPECT_THAT(text, Not(HasSubstr("\xc2\x9b")));
  }
}

}  // namespace
}  // namespace warmside::report
