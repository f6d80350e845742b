// The notebook as JSON Lines and CSV: what is read, and every bad line with its line, field and
// code. docs/notebook.md describes both forms.

#include "book/notebook_file.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>

#include "support/room_builder.h"

namespace warmside::book {
namespace {

using room::Entry;
using room::EntryKind;
using room::SubjectKind;
using test::date;
using test::q;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr const char* kId = "0192f0c1-2b3c-7def-8123-456789abcdef";

struct Reading {
  std::vector<Entry> entries;
  std::vector<int> lines;  // of the entries
  Problems problems;

  /// "2 mass bad_value" for each problem.
  std::vector<std::string> briefs() const {
    std::vector<std::string> texts;
    for (const Problem& p : problems) {
      EXPECT_EQ(p.where.file, "f");
      texts.push_back(fmt::format("{} {} {}", p.where.line, p.where.field, name_of(p.code)));
    }
    return texts;
  }
};

Reading read_lines(const std::string& text) {
  Reading reading;
  std::istringstream in(text);
  read_notebook_lines(
      in, "f",
      [&](const Entry& entry, const Where& where) {
        reading.entries.push_back(entry);
        reading.lines.push_back(where.line);
        return true;
      },
      [&](Problem problem) {
        reading.problems.push_back(std::move(problem));
        return true;
      });
  return reading;
}

CsvOptions options() {
  CsvOptions options;
  options.zone = Zone::named("Europe/Oslo").value();
  return options;
}

Reading read_csv(const std::string& text, const CsvOptions& with = options()) {
  Reading reading;
  read_notebook_csv(
      text, "f", with,
      [&](const Entry& entry, const Where& where) {
        reading.entries.push_back(entry);
        reading.lines.push_back(where.line);
        return true;
      },
      [&](Problem problem) {
        reading.problems.push_back(std::move(problem));
        return true;
      });
  return reading;
}

// ---- JSON Lines --------------------------------------------------------------------------------

/// A line with id, at and what is given.
std::string line(const std::string& rest) {
  return fmt::format(R"({{"id":"{}","at":"2026-11-25T07:10:00Z",{}}})", kId, rest) + "\n";
}

TEST(NotebookLines, TheExampleOfTheDocumentation) {
  const auto got = read_lines(line(R"("kind":"weighed","animal":"juniper","mass":"812g")"));
  EXPECT_THAT(got.problems, IsEmpty());
  Entry expected;
  expected.id = parse_uuid(kId).value();
  expected.at = parse_instant("2026-11-25T07:10:00Z").value();
  expected.kind = EntryKind::weighed;
  expected.subject = {SubjectKind::animal, "juniper"};
  expected.mass = Mass::grams(812);
  EXPECT_EQ(got.entries, std::vector<Entry>{expected});
}

TEST(NotebookLines, EveryFieldIsReadAndWrittenBack) {
  const std::string lines[] = {
      line(R"("kind":"fed","animal":"j","by":"ann","mass":"30g","count":2,"item":"mouse",)"
           R"("target":"jar d3","note":"\"a\"\n\u00e9 \ud83e\udd8e")"),
      line(R"("kind":"reading","enclosure":"tub","temperature":"28.5C","humidity":"55%",)"
           R"("item":"warm side")"),
      line(R"("kind":"uv_reading","lamp":"tube","length":"30cm","uvi":"2.5UVI","item":"top")"),
      line(R"("kind":"struck","room":"room","strikes":"0192f0c1-2b3c-7def-8123-000000000000")"),
      line(R"("kind":"done","task":"soak")"),
      line(R"("kind":"tested","safety_device":"alarm","item":"loud")"),
  };
  for (const std::string& text : lines) {
    const auto got = read_lines(text);
    ASSERT_THAT(got.briefs(), IsEmpty()) << text;
    ASSERT_EQ(got.entries.size(), 1u);
    for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
      const auto again = read_lines(notebook_line(got.entries[0], units));
      EXPECT_EQ(again.entries, got.entries) << text;
    }
  }
  const Entry fed = read_lines(lines[0]).entries[0];
  EXPECT_EQ(fed.by.text(), "ann");
  EXPECT_EQ(fed.count, 2);
  EXPECT_EQ(fed.target, (room::Subject{SubjectKind::jar, "d3"}));
  EXPECT_EQ(fed.note, "\"a\"\n\xc3\xa9 \xf0\x9f\xa6\x8e");
  EXPECT_EQ(notebook_line(read_lines(lines[4]).entries[0], UnitSystem::metric), lines[4]);
}

TEST(NotebookLines, BlankLinesArePassedOverAndLinesCounted) {
  const std::string good = line(R"("kind":"fed","animal":"j")");
  const auto got = read_lines("\n  \t\r\n" + good + "\n" + good.substr(0, good.size() - 1));
  EXPECT_THAT(got.problems, IsEmpty());
  EXPECT_THAT(got.lines, ElementsAre(3, 5));
  EXPECT_THAT(read_lines("").entries, IsEmpty());
}

TEST(NotebookLines, EachBadLineHasItsFieldAndCode) {
  const std::string id = fmt::format(R"("id":"{}",)", kId);
  const std::string at = R"("at":"2026-11-25T07:10:00Z",)";
  const struct {
    std::string text;
    const char* refusal;
  } kCases[] = {
      {"{", " bad_syntax"},
      {"weighed 812 g", " bad_syntax"},
      {"[1]", " bad_syntax"},
      {"\"text\"", " bad_syntax"},
      {line(R"("kind":"fed","animal":"j")").substr(0, 60), " bad_syntax"},
      {R"({"note":")"
       "\xff"
       R"("})",
       " bad_syntax"},
      {"{} {}", " bad_syntax"},
      {"{" + at + R"("kind":"fed","animal":"j"})", "id missing"},
      {"{" + id + R"("kind":"fed","animal":"j"})", "at missing"},
      {line(R"("animal":"j")"), "kind missing"},
      {line(R"("kind":"fed")"), "animal missing"},
      {line(R"("kind":"fed","animal":"j","enclosure":"tub")"), "animal missing"},
      {R"({"id":"7",)" + at + R"("kind":"fed","animal":"j"})", "id bad_value"},
      {"{" + id + R"("at":"2026-11-25T07:10:00","kind":"fed","animal":"j"})", "at bad_value"},
      {"{" + id + R"("at":"yesterday","kind":"fed","animal":"j"})", "at bad_value"},
      {line(R"("kind":"sang","animal":"j")"), "kind bad_value"},
      {line(R"("kind":"fed","animal":"J!")"), "animal bad_value"},
      {line(R"("kind":"fed","animal":"j","by":"A")"), "by bad_value"},
      {line(R"("kind":"weighed","animal":"j","mass":"812")"), "mass bad_value"},
      {line(R"("kind":"weighed","animal":"j","mass":"812C")"), "mass bad_value"},
      {line(R"("kind":"weighed","animal":"j","mass":"-8g")"), "mass out_of_range"},
      {line(R"("kind":"weighed","animal":"j","mass":"0g")"), "mass out_of_range"},
      {line(R"("kind":"weighed","animal":"j","mass":812)"), "mass bad_value"},
      {line(R"("kind":"weighed","animal":"j","mass":null)"), "mass bad_value"},
      {line(R"("kind":"weighed","animal":"j")"), "mass missing"},
      {line(R"("kind":"weighed","animal":"j","mass":"8g","mass":"9g")"), "mass duplicate"},
      {line(R"("kind":"fed","animal":"j","uvi":"1UVI")"), "uvi bad_value"},
      {line(R"("kind":"fed","animal":"j","count":"2")"), "count bad_value"},
      {line(R"("kind":"fed","animal":"j","count":1.5)"), "count bad_value"},
      {line(R"("kind":"fed","animal":"j","count":-1)"), "count out_of_range"},
      {line(R"("kind":"fed","animal":"j","count":100001)"), "count out_of_range"},
      {line(R"("kind":"fed","animal":"j","count":9999999999)"), "count out_of_range"},
      {line(R"("kind":"fed","animal":"j","colour":"red")"), "colour unknown_name"},
      {line(R"("kind":"fed","animal":"j","weight":"8g")"), "weight unknown_name"},
      {line(R"("kind":"fed","enclosure":"tub")"), "enclosure bad_value"},
      {line(R"("kind":"moved","animal":"j","target":"tub")"), "target bad_value"},
      {line(R"("kind":"moved","animal":"j","target":"box tub")"), "target bad_value"},
      {line(R"("kind":"moved","animal":"j","target":"enclosure TUB")"), "target bad_value"},
      {line(R"("kind":"moved","animal":"j","target":"animal k")"), "target bad_value"},
      {line(R"("kind":"struck","animal":"j","strikes":"7")"), "strikes bad_value"},
      {line(R"("kind":"reading","enclosure":"tub")"), "temperature missing"},
      {line(R"("kind":"reading","enclosure":"tub","humidity":"101%")"), "humidity out_of_range"},
      {line(R"("kind":"reading","enclosure":"tub","temperature":"-400C")"),
       "temperature out_of_range"},
      {line(R"("kind":"note","room":"attic")"), "room bad_value"},
      {line(R"("kind":"fed","animal":"j","item":")" + std::string(121, 'x') + "\""),
       "item bad_value"},
      {line(R"("kind":"fed","animal":"j","note":")" + std::string(4001, 'x') + "\""),
       "note bad_value"},
      {line(R"("kind":"fed","animal":"j","note":")" + std::string(70'000, 'x') + "\""),
       " bad_syntax"},
  };
  const std::string good = line(R"("kind":"fed","animal":"j")");
  for (const auto& c : kCases) {
    std::string bad = c.text;
    if (bad.back() != '\n') bad += '\n';
    const auto got = read_lines(good + bad + good);
    EXPECT_THAT(got.briefs(), ElementsAre(std::string("2 ") + c.refusal)) << bad.substr(0, 200);
    EXPECT_THAT(got.lines, ElementsAre(1, 3)) << bad.substr(0, 200);  // the reader goes on
  }
}

TEST(NotebookLines, ALineHasAllItsProblems) {
  const auto got = read_lines(R"({"id":"7","kind":"sang","mass":"8","x":"y"})"
                              "\n");
  EXPECT_THAT(got.briefs(), ElementsAre("1 id bad_value", "1 kind bad_value", "1 mass bad_value",
                                        "1 x unknown_name", "1 at missing", "1 animal missing"));
}

TEST(NotebookLines, StopsWhenToldTo) {
  const std::string good = line(R"("kind":"fed","animal":"j")");
  int entries = 0, problems = 0;
  const auto stop_after = [&](const std::string& text, int most) {
    entries = problems = 0;
    std::istringstream in(text);
    read_notebook_lines(
        in, "f", [&](const Entry&, const Where&) { return ++entries < most; },
        [&](const Problem&) { return ++problems < most; });
  };
  stop_after(good + good + good, 2);
  EXPECT_EQ(entries, 2);
  stop_after("{\n{\n{\n", 2);
  EXPECT_EQ(problems, 2);
  stop_after("{\"x\":1,\"y\":2}\n{\n", 1);
  EXPECT_EQ(problems, 1);
}

TEST(NotebookLine, EscapesWhatJsonMust) {
  Entry entry;
  entry.kind = EntryKind::note;
  entry.subject = {};
  entry.note = std::string("\"\\\b\f\n\r\t\x01\x1f\x7f", 10) + std::string(1, '\0') + "é";
  const std::string text = notebook_line(entry, UnitSystem::metric);
  EXPECT_EQ(std::count(text.begin(), text.end(), '\n'), 1);  // only the last
  for (const char c : text.substr(0, text.size() - 1)) {
    EXPECT_GE(static_cast<unsigned char>(c), 0x20);
  }
  EXPECT_EQ(read_lines(text).entries, std::vector<Entry>{entry});
}

// ---- CSV ---------------------------------------------------------------------------------------

TEST(NotebookCsv, TheFieldsOfTheJsonForm) {
  const auto got = read_csv(
      "id,at,kind,animal,enclosure,by,mass,temperature,humidity,count,item,target,note\n" +
      std::string(kId) +
      ",2026-11-25T07:10:00Z,fed,juniper,,ann,30g,,,2,mouse,jar d3,\"well, \"\"well\"\"\"\n"
      ",2026-11-25T08:10:00+01:00,reading,,tub,,,28C,55%,,warm side,,\n");
  ASSERT_THAT(got.briefs(), IsEmpty());
  ASSERT_EQ(got.entries.size(), 2u);
  const Entry& fed = got.entries[0];
  EXPECT_EQ(to_text(fed.id), kId);
  EXPECT_EQ(fed.subject, (room::Subject{SubjectKind::animal, "juniper"}));
  EXPECT_EQ(fed.mass, Mass::grams(30));
  EXPECT_EQ(fed.note, "well, \"well\"");
  EXPECT_EQ(got.entries[1].at, fed.at);
  EXPECT_EQ(got.entries[1].temperature, Temperature::celsius(28));
  EXPECT_EQ(got.entries[1].humidity, Percentage::percent(55));
  EXPECT_THAT(got.lines, ElementsAre(2, 3));
}

TEST(NotebookCsv, BareNumbersInTheUnitOfTheirColumn) {
  const auto value = [](const char* kind, const char* about, const char* column, const char* cell) {
    const auto got = read_csv(
        fmt::format("date,kind,{},item,{}\n2026-11-25,{},x,i,{}\n", about, column, kind, cell));
    EXPECT_THAT(got.briefs(), IsEmpty()) << column;
    return got.entries.empty() ? Entry{} : got.entries[0];
  };
  EXPECT_EQ(value("fed", "animal", "mass_g", "30").mass, Mass::grams(30));
  EXPECT_EQ(value("fed", "animal", "mass_kg", "1.2").mass, Mass::kilograms(1.2));
  EXPECT_EQ(value("fed", "animal", "mass_oz", "12.5").mass, Mass::ounces(12.5));
  EXPECT_EQ(value("fed", "animal", "mass_lb", "3e-1").mass, Mass::pounds(0.3));
  EXPECT_EQ(value("measured", "animal", "length_cm", "120").length, Length::centimetres(120));
  EXPECT_EQ(value("measured", "animal", "length_in", "48").length, Length::inches(48));
  EXPECT_EQ(value("reading", "enclosure", "temperature_c", "-1.5").temperature,
            Temperature::celsius(-1.5));
  EXPECT_EQ(value("reading", "enclosure", "temperature_f", "82").temperature,
            Temperature::fahrenheit(82));
  EXPECT_EQ(value("reading", "enclosure", "humidity_pct", "55").humidity, Percentage::percent(55));
  EXPECT_EQ(value("uv_reading", "lamp", "uv_index", "2.5").uvi, UvIndex::index(2.5));
}

TEST(NotebookCsv, ADateIsNoonOnTheRoomsClock) {
  // Noon in Oslo is 11:00 UTC in winter and 10:00 in summer.
  const auto got = read_csv("date,kind,animal\n2026-11-25,fed,j\n2026-07-01,fed,j\n");
  ASSERT_EQ(got.entries.size(), 2u);
  EXPECT_EQ(to_text(got.entries[0].at), "2026-11-25T11:00:00Z");
  EXPECT_EQ(to_text(got.entries[1].at), "2026-07-01T10:00:00Z");
  CsvOptions utc;
  EXPECT_EQ(to_text(read_csv("date,kind,animal\n2026-11-25,fed,j\n", utc).entries.at(0).at),
            "2026-11-25T12:00:00Z");
}

TEST(NotebookCsv, DaysCountFromDayZero) {
  CsvOptions with = options();
  with.day_zero = date("2026-10-20");
  const auto got = read_csv("day,kind,animal\n0,fed,j\n14,fed,j\n-1,fed,j\n", with);
  ASSERT_EQ(got.entries.size(), 3u);
  EXPECT_EQ(to_text(got.entries[0].at), "2026-10-20T10:00:00Z");
  EXPECT_EQ(to_text(got.entries[1].at), "2026-11-03T11:00:00Z");  // over the end of summer time
  EXPECT_EQ(to_text(got.entries[2].at), "2026-10-19T10:00:00Z");
  // The same table from another day is another notebook.
  CsvOptions later = with;
  later.day_zero = date("2026-10-21");
  EXPECT_NE(read_csv("day,kind,animal\n0,fed,j\n", later).entries.at(0).id, got.entries[0].id);
}

TEST(NotebookCsv, ColumnsAreRenamedAndIgnored) {
  CsvOptions with = options();
  with.renamed = {{"weight_g", "mass_g"}, {"Who", "animal"}};
  with.ignored = {"Diet", "Remarks"};
  with.kind = EntryKind::weighed;
  const auto got = read_csv("Diet,date,Who,weight_g,Remarks\n1,2026-11-25,j,30,x\n", with);
  ASSERT_THAT(got.briefs(), IsEmpty());
  ASSERT_EQ(got.entries.size(), 1u);
  EXPECT_EQ(got.entries[0].kind, EntryKind::weighed);
  EXPECT_EQ(got.entries[0].mass, Mass::grams(30));
  EXPECT_EQ(got.entries[0].note, "");
}

TEST(NotebookCsv, TheKindOfTheCommandLineHoldsWhereARowSaysNone) {
  CsvOptions with = options();
  with.kind = EntryKind::refused;
  const auto got = read_csv("date,kind,animal\n2026-11-25,fed,j\n2026-11-25,,j\n", with);
  ASSERT_EQ(got.entries.size(), 2u);
  EXPECT_EQ(got.entries[0].kind, EntryKind::fed);
  EXPECT_EQ(got.entries[1].kind, EntryKind::refused);
}

TEST(NotebookCsv, EqualRowsHaveIdsOfTheirOwnTheSameEachTime) {
  const std::string text =
      "date,kind,animal\n2026-11-25,fed,j\n2026-11-25,fed,j\n2026-11-25,fed,k\n2026-11-25,fed,j\n";
  const auto once = read_csv(text), twice = read_csv(text);
  ASSERT_EQ(once.entries.size(), 4u);
  EXPECT_EQ(once.entries, twice.entries);
  std::set<Uuid> ids;
  for (const Entry& entry : once.entries) ids.insert(entry.id);
  EXPECT_EQ(ids.size(), 4u);
  // A row that is added later does not change the ids of the others.
  const auto more = read_csv(text + "2026-11-26,fed,j\n");
  for (std::size_t i = 0; i < 4; ++i) EXPECT_EQ(more.entries.at(i).id, once.entries[i].id);
  // Nor do quotes, the order of rows, or the end of a line.
  const auto other = read_csv("date,kind,animal\r\n\"2026-11-25\",fed,k\r\n2026-11-25,fed,j");
  EXPECT_EQ(other.entries.at(0).id, once.entries[2].id);
  EXPECT_EQ(other.entries.at(1).id, once.entries[0].id);
}

TEST(NotebookCsv, BlankLinesMarksAndQuotedBreaks) {
  const auto got = read_csv(
      "\xef\xbb\xbf"
      "date,kind,animal,note\n\n2026-11-25,fed,j,\"two\nlines\"\n\n2026-11-25,fed,j,\n");
  EXPECT_THAT(got.briefs(), IsEmpty());
  ASSERT_EQ(got.entries.size(), 2u);
  EXPECT_EQ(got.entries[0].note, "two\nlines");
  EXPECT_THAT(got.lines, ElementsAre(3, 6));
}

TEST(NotebookCsv, EachBadRowHasItsFieldAndCode) {
  const struct {
    const char* header;
    const char* row;
    const char* refusal;
  } kCases[] = {
      {"date,kind,animal", "2026-02-30,fed,j", "date bad_value"},
      {"date,kind,animal", "25.11.2026,fed,j", "date bad_value"},
      {"date,kind,animal", ",fed,j", "at missing"},
      {"at,kind,animal", "2026-11-25T07:10:00,fed,j", "at bad_value"},
      {"at,date,kind,animal", "2026-11-25T07:10:00Z,2026-11-25,fed,j", "at duplicate"},
      {"date,kind,animal", "2026-11-25,,j", "kind missing"},
      {"date,kind,animal", "2026-11-25,sang,j", "kind bad_value"},
      {"date,kind,animal", "2026-11-25,fed,", "animal missing"},
      {"date,kind,animal,enclosure", "2026-11-25,fed,j,tub", "animal missing"},
      {"date,kind,animal", "2026-11-25,fed,Juniper the Snake", "animal bad_value"},
      {"date,kind,animal", "2026-11-25,fed", " bad_syntax"},
      {"date,kind,animal", "2026-11-25,fed,j,8", " bad_syntax"},
      {"date,kind,animal,mass", "2026-11-25,weighed,j,812", "mass bad_value"},
      {"date,kind,animal,mass_g", "2026-11-25,weighed,j,812g", "mass_g bad_value"},
      {"date,kind,animal,mass_g", "2026-11-25,weighed,j,\"8,5\"", "mass_g bad_value"},
      {"date,kind,animal,mass_g", "2026-11-25,weighed,j,nan", "mass_g bad_value"},
      {"date,kind,animal,mass_g", "2026-11-25,weighed,j,", "mass missing"},
      {"date,kind,animal,mass_g", "2026-11-25,weighed,j,0", "mass out_of_range"},
      {"date,kind,animal,mass,mass_g", "2026-11-25,weighed,j,8g,8", "mass duplicate"},
      {"date,kind,animal,mass_g,mass_oz", "2026-11-25,weighed,j,8,8", "mass duplicate"},
      {"date,kind,animal,count", "2026-11-25,fed,j,two", "count bad_value"},
      {"date,kind,animal,count", "2026-11-25,fed,j,2.5", "count bad_value"},
      {"date,kind,animal,count", "2026-11-25,fed,j,-2", "count out_of_range"},
      {"date,kind,animal,uv_index", "2026-11-25,fed,j,2", "uvi bad_value"},
      {"id,date,kind,animal", "7,2026-11-25,fed,j", "id bad_value"},
      {"day,kind,animal", "x,fed,j", "day bad_value"},
      {"day,kind,animal", "1.5,fed,j", "day bad_value"},
      {"day,kind,animal", "100001,fed,j", "day bad_value"},
  };
  CsvOptions with = options();
  with.day_zero = date("2026-01-01");
  for (const auto& c : kCases) {
    const auto got = read_csv(fmt::format("{}\n{}\n", c.header, c.row), with);
    EXPECT_THAT(got.briefs(), ElementsAre(std::string("2 ") + c.refusal)) << c.row;
    EXPECT_THAT(got.entries, IsEmpty()) << c.row;
  }
  // The rows about a bad one are read.
  const auto got = read_csv("date,kind,animal\n2026-11-25,fed,j\nx,fed,j\n2026-11-25,fed,k\n");
  EXPECT_THAT(got.briefs(), ElementsAre("3 date bad_value"));
  EXPECT_THAT(got.lines, ElementsAre(2, 4));
}

TEST(NotebookCsv, ABadHeaderRefusesTheFile) {
  const struct {
    const char* header;
    std::vector<std::string> refusals;
  } kCases[] = {
      {"date,kind,animal,colour", {"1 colour unknown_name"}},
      {"date,kind,animal,", {"1  unknown_name"}},
      {"Date,kind,animal", {"1 Date unknown_name"}},
      {"date,kind,animal,kind", {"1 kind duplicate"}},
      {"day,kind,animal", {"1 day missing"}},
      {"x,y", {"1 x unknown_name", "1 y unknown_name"}},
  };
  for (const auto& c : kCases) {
    const auto got = read_csv(std::string(c.header) + "\n2026-11-25,fed,j,x\n");
    EXPECT_EQ(got.briefs(), c.refusals) << c.header;
    EXPECT_THAT(got.entries, IsEmpty());
  }
  EXPECT_THAT(read_csv("").briefs(), ElementsAre("0  missing"));
  EXPECT_THAT(read_csv("date,kind,animal\n\"unclosed\n").briefs(), ElementsAre("2  bad_syntax"));
  EXPECT_THAT(read_csv("date,kind,animal\n2026-11-25,fed,\xff\n").briefs(),
              ElementsAre("0  bad_syntax"));
  // Two that are renamed to one.
  CsvOptions with = options();
  with.renamed = {{"who", "animal"}};
  EXPECT_THAT(read_csv("date,kind,animal,who\n", with).briefs(), ElementsAre("1 animal duplicate"));
  // Any number of ignored ones may be alike.
  with.ignored = {"x"};
  EXPECT_THAT(read_csv("date,kind,who,x,x\n2026-11-25,fed,j,1,2\n", with).entries.size(), 1u);
}

TEST(NotebookCsv, StopsWhenToldTo) {
  int entries = 0;
  read_notebook_csv(
      "date,kind,animal\n2026-11-25,fed,j\n2026-11-25,fed,j\n", "f", options(),
      [&](const Entry&, const Where&) { return ++entries < 1; },
      [](const Problem&) { return true; });
  EXPECT_EQ(entries, 1);
}

}  // namespace
}  // namespace warmside::book
