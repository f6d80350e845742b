// RFC 4180 and what spreadsheets make of it.

#include "core/csv.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace warmside {
namespace {

using Record = std::vector<std::string>;

struct Table {
  std::vector<Record> records;
  std::vector<int> lines;
};

/// All records with the lines they begin on.
Table read(std::string_view text) {
  Table table;
  CsvReader reader(text);
  for (;;) {
    const auto record = reader.next();
    if (!record.ok()) {
      ADD_FAILURE() << to_line(record.problem());
      return table;
    }
    if (*record == nullptr) return table;
    table.records.emplace_back((*record)->begin(), (*record)->end());
    table.lines.push_back(reader.line());
  }
}

/// The first problem of a text.
Problem refused(std::string_view text) {
  CsvReader reader(text);
  for (;;) {
    const auto record = reader.next();
    if (!record.ok()) return record.problem();
    if (*record == nullptr) break;
  }
  ADD_FAILURE() << "nothing wrong found in: " << text;
  return {};
}

const std::vector<Record> kTwoRows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}};

// RFC 4180 (2005), section 2, the example of each numbered rule.
TEST(CsvRfc4180, Rule1LineBreaks) {
  const Table table = read("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n");
  EXPECT_EQ(table.records, kTwoRows);
  EXPECT_EQ(table.lines, (std::vector<int>{1, 2}));
}
TEST(CsvRfc4180, Rule2LastLineMayLackItsBreak) {
  EXPECT_EQ(read("aaa,bbb,ccc\r\nzzz,yyy,xxx").records, kTwoRows);
}
TEST(CsvRfc4180, Rule3HeaderIsARecord) {
  EXPECT_EQ(
      read("field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n").records,
      (std::vector<Record>{{"field_name", "field_name", "field_name"}, kTwoRows[0], kTwoRows[1]}));
}
TEST(CsvRfc4180, Rule4SpacesArePartOfAField) {
  EXPECT_EQ(read(" aaa , bbb,ccc ").records, (std::vector<Record>{{" aaa ", " bbb", "ccc "}}));
}
TEST(CsvRfc4180, Rule5QuotedFields) {
  EXPECT_EQ(read("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx").records, kTwoRows);
}
TEST(CsvRfc4180, Rule6LineBreaksInQuotes) {
  const Table table = read("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx");
  EXPECT_EQ(table.records, (std::vector<Record>{{"aaa", "b\r\nbb", "ccc"}, kTwoRows[1]}));
  EXPECT_EQ(table.lines, (std::vector<int>{1, 3}));
}
TEST(CsvRfc4180, Rule7DoubledQuotes) {
  EXPECT_EQ(read("\"aaa\",\"b\"\"bb\",\"ccc\"").records,
            (std::vector<Record>{{"aaa", "b\"bb", "ccc"}}));
}

TEST(CsvRead, NothingAndAlmostNothing) {
  EXPECT_TRUE(read("").records.empty());
  EXPECT_TRUE(read("\xEF\xBB\xBF").records.empty());
  EXPECT_TRUE(read("# only a comment").records.empty());
  EXPECT_TRUE(read("# only a comment\n").records.empty());
  EXPECT_EQ(read("\n").records, (std::vector<Record>{{""}}));
  EXPECT_EQ(read("\"\"").records, (std::vector<Record>{{""}}));
  EXPECT_EQ(read(",").records, (std::vector<Record>{{"", ""}}));
  EXPECT_EQ(read("a,\n,b").records, (std::vector<Record>{{"a", ""}, {"", "b"}}));
  EXPECT_EQ(read("\"\",\"\"\n").records, (std::vector<Record>{{"", ""}}));
}

TEST(CsvRead, LineFeedsAlone) {
  const Table table = read("a,b\nc,d\n\ne,f\n");
  EXPECT_EQ(table.records, (std::vector<Record>{{"a", "b"}, {"c", "d"}, {""}, {"e", "f"}}));
  EXPECT_EQ(table.lines, (std::vector<int>{1, 2, 3, 4}));
}

TEST(CsvRead, ByteOrderMarkIsPassedOver) {
  EXPECT_EQ(read("\xEF\xBB\xBF"
                 "a,b\r\n")
                .records,
            (std::vector<Record>{{"a", "b"}}));
  EXPECT_EQ(read("\xEF\xBB\xBF\"a\",b").records, (std::vector<Record>{{"a", "b"}}));
  const Table table = read("\xEF\xBB\xBF# origin\na\n");
  EXPECT_EQ(table.records, (std::vector<Record>{{"a"}}));
  EXPECT_EQ(table.lines, (std::vector<int>{2}));
}

TEST(CsvRead, CommentsStandBeforeTheFirstRecordOnly) {
  const Table table = read("# origin: here, \"there\n# licence\r\nid,note\n# 1,not a comment\n");
  EXPECT_EQ(table.records, (std::vector<Record>{{"id", "note"}, {"# 1", "not a comment"}}));
  EXPECT_EQ(table.lines, (std::vector<int>{3, 4}));
}

TEST(CsvRead, LinesAreCountedThroughQuotedBreaks) {
  const Table table = read("# c\na,\"1\n2\n3\"\nb,\"\n\"\nc,\"x\"\n");
  EXPECT_EQ(table.records, (std::vector<Record>{{"a", "1\n2\n3"}, {"b", "\n"}, {"c", "x"}}));
  EXPECT_EQ(table.lines, (std::vector<int>{2, 5, 7}));
}

TEST(CsvRead, ManyQuotedFieldsOfOneRecordStayApart) {
  // Short texts live inside std::string: moving them in memory must not leave views behind.
  std::string text;
  Record expected;
  for (int i = 0; i < 100; ++i) {
    text += (i > 0 ? ",\"" : "\"") + std::to_string(i) + "\"\"\"";
    expected.push_back(std::to_string(i) + "\"");
  }
  EXPECT_EQ(read(text).records, (std::vector<Record>{expected}));
}

TEST(CsvRead, BytesAreTakenAsTheyAre) {
  const std::string odd("a\0b,\xFF\xFE,\xC3\x98", 9);
  EXPECT_EQ(read(odd).records,
            (std::vector<Record>{{std::string("a\0b", 3), "\xFF\xFE", "\xC3\x98"}}));
  EXPECT_EQ(read("a\rb,c\r,d").records, (std::vector<Record>{{"a\rb", "c\r", "d"}}));
}

TEST(CsvRefused, UnclosedQuoteNamesTheLineOfItsRecord) {
  const Problem problem = refused("a,b\nc,\"d\ne,f\n");
  EXPECT_EQ(problem.code, ProblemCode::bad_syntax);
  EXPECT_EQ(problem.where.line, 2);
  EXPECT_EQ(refused("\"").where.line, 1);
  EXPECT_EQ(refused("\"a\"\"").where.line, 1);
  EXPECT_EQ(refused("# c\n# c\n\"").where.line, 3);
}

TEST(CsvRefused, NothingFollowsAnUnclosedQuote) {
  CsvReader reader("\"a,b\nc,d\n");
  EXPECT_FALSE(reader.next().ok());
  const auto end = reader.next();
  ASSERT_TRUE(end.ok());
  EXPECT_EQ(*end, nullptr);
}

TEST(CsvRefused, TextAfterAClosingQuote) {
  for (const char* text : {"\"a\"b", "\"a\" ,b", "\"a\"\"b\"c", "x,\"a\"\"\"b", "\"a\"\rb"}) {
    EXPECT_EQ(refused(text).code, ProblemCode::bad_syntax) << text;
  }
  EXPECT_EQ(refused("a,b\n\"c\"d,e\n").where.line, 2);
}

TEST(CsvRefused, AReturnBetweenAClosingQuoteAndAComma) {
  EXPECT_EQ(refused("\"a\"\r,b\n").code, ProblemCode::bad_syntax);
}

TEST(CsvField, QuotedOnlyWhereItMustBe) {
  EXPECT_EQ(csv_field(""), "");
  EXPECT_EQ(csv_field("adult mouse"), "adult mouse");
  EXPECT_EQ(csv_field(" a "), " a ");
  EXPECT_EQ(csv_field("a,b"), "\"a,b\"");
  EXPECT_EQ(csv_field("say \"ah\""), "\"say \"\"ah\"\"\"");
  EXPECT_EQ(csv_field("a\nb"), "\"a\nb\"");
  EXPECT_EQ(csv_field("a\r"), "\"a\r\"");
  EXPECT_EQ(csv_field("# 1"), "\"# 1\"");
  EXPECT_EQ(csv_field("no. #1"), "no. #1");
}

TEST(CsvField, AFieldThatLooksLikeAByteOrderMarkReadsBack) {
  const std::string field = "\xEF\xBB\xBFx";
  EXPECT_EQ(read(csv_field(field)).records, (std::vector<Record>{{field}}));
}

}  // namespace
}  // namespace warmside
