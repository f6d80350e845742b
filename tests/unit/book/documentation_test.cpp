// The tables of docs/room-file.md, docs/case-file.md and docs/notebook.md are what the program's
// own lists say. With WARMSIDE_WRITE_DOCS=1 in the environment the tables are written anew instead
// of compared.

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>

#include "climate/enclosure_case.h"
#include "room/entry.h"
#include "room/fields.h"
#include "room/records.h"

namespace warmside::room {
namespace {

const std::string kDocs = std::string(WARMSIDE_SOURCE) + "/docs/";

std::string read(const std::string& path) {
  std::ifstream in(path);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// Compares (or rewrites) the part of a page between its begin and end marks.
void expect_part(const std::string& page, const std::string& mark, const std::string& table) {
  const std::string begin = fmt::format("<!-- {}: begin -->\n", mark);
  const std::string end = fmt::format("<!-- {}: end -->", mark);
  std::string text = read(kDocs + page);
  const auto from = text.find(begin), to = text.find(end);
  ASSERT_NE(from, std::string::npos) << page;
  ASSERT_NE(to, std::string::npos) << page;
  const auto start = from + begin.size();
  if (std::getenv("WARMSIDE_WRITE_DOCS") != nullptr) {
    text.replace(start, to - start, table);
    std::ofstream(kDocs + page) << text;
    return;
  }
  EXPECT_EQ(text.substr(start, to - start), table)
      << page << ": run book_tests with WARMSIDE_WRITE_DOCS=1";
}

template <class T>
std::string form_of() {
  if constexpr (IsOptional<T>::value) {
    return form_of<typename T::value_type>();
  } else if constexpr (std::same_as<T, std::string>) {
    return "text";
  } else if constexpr (std::same_as<T, bool>) {
    return "true or false";
  } else if constexpr (std::same_as<T, int>) {
    return "whole number";
  } else if constexpr (std::same_as<T, double>) {
    return "number";
  } else if constexpr (IsId<T>::value) {
    return "id";
  } else if constexpr (Worded<T>) {
    std::string words;
    for (const auto& w : Words<T>::list)
      words += fmt::format("{}`{}`", words.empty() ? "" : ", ", w);
    return words;
  } else if constexpr (Quantity<T>) {
    return quantity_name<T>();
  } else if constexpr (std::same_as<T, Date>) {
    return "date";
  } else if constexpr (std::same_as<T, TimeOfDay>) {
    return "time of day";
  } else if constexpr (std::same_as<T, UvTable>) {
    return "UV table";
  } else if constexpr (std::same_as<T, climate::Span>) {
    return "length, or from..to";
  } else {
    static_assert(std::same_as<T, Construction>);
    return "layers";
  }
}

template <class Record>
std::string table_of(const std::string& heading) {
  std::string table =
      fmt::format("\n### {}\n\n| field | form | meaning |\n| --- | --- | --- |\n", heading);
  const Record record{};
  Record::describe(record, [&](const char* name, Need need, const auto& field, const char* words) {
    table += fmt::format("| `{}`{} | {} | {} |\n", name, need == Need::must ? " (must)" : "",
                         form_of<std::remove_cvref_t<decltype(field)>>(), words);
  });
  return table;
}

TEST(Documentation, TheRoomFilesPageListsEveryField) {
  std::string tables = table_of<RoomInfo>("[room]");
  const Room room;
  Room::for_each_kind(room, [&](const auto& records) {
    using Record = typename std::remove_cvref_t<decltype(records)>::value_type;
    tables += table_of<Record>(fmt::format("[[{}]]", Record::kWord));
  });
  expect_part("room-file.md", "fields", tables);
}

TEST(Documentation, TheCaseFilesPageListsEveryField) {
  using namespace climate;
  const auto one = [](auto part) {
    return table_of<decltype(part)>(fmt::format("[{}]", part.kWord));
  };
  const auto many = [](auto part) {
    return table_of<decltype(part)>(fmt::format("[[{}]]", part.kWord));
  };
  expect_part("case-file.md", "fields",
              one(CaseSize{}) + one(CaseFaces{}) + one(CaseSubstrate{}) + one(CaseOpenings{}) +
                  one(CaseRoom{}) + one(CaseDish{}) + many(CaseBody{}) + many(CaseProbe{}) +
                  many(CaseThermostat{}) + many(CaseHeater{}) + many(CaseMisting{}) +
                  many(CaseNeighbour{}));
}

TEST(Documentation, TheNotebooksPageListsEveryKindOfEntry) {
  std::string table =
      "\n| kind | about | must have | may have | item says | target |\n"
      "| --- | --- | --- | --- | --- | --- |\n";
  const auto listed = [](const auto& list) {
    std::string text;
    for (const auto& value : list) {
      text += fmt::format("{}{}", text.empty() ? "" : ", ", word(value));
    }
    return text;
  };
  for (std::size_t i = 0; i < Words<EntryKind>::list.size(); ++i) {
    const EntryRule& rule = rule_of(static_cast<EntryKind>(i));
    table += fmt::format("| `{}` | {} | {} | {} | {} | {} |\n", word(rule.kind),
                         rule.subjects.empty() ? "anything" : listed(rule.subjects),
                         listed(rule.must), listed(rule.may), rule.item, listed(rule.targets));
  }
  expect_part("notebook.md", "kinds", table);
}

}  // namespace
}  // namespace warmside::room
