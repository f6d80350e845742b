// The words of problems.

#include "core/problem.h"

#include <gtest/gtest.h>

#include <set>
#include <string>

namespace warmside {
namespace {

TEST(ProblemLine, ExampleOfTheHeader) {
  const Problem problem{ProblemCode::unknown_name,
                        "unknown species",
                        {"room.toml", 12, "animal.species"},
                        "an id",
                        "korn_snake"};
  EXPECT_EQ(to_line(problem),
            "room.toml:12: animal.species: unknown species; expected an id; found \"korn_snake\"");
}

TEST(ProblemLine, WhatDoesNotApplyIsLeftOut) {
  EXPECT_EQ(to_line({ProblemCode::busy, "busy", {}, "", ""}), "busy");
  EXPECT_EQ(to_line({ProblemCode::busy, "busy", {"a.book", 0, ""}, "", ""}), "a.book: busy");
  EXPECT_EQ(to_line({ProblemCode::busy, "busy", {"", 3, ""}, "", ""}), "line 3: busy");
  EXPECT_EQ(to_line({ProblemCode::busy, "busy", {"", 0, "mass"}, "", ""}), "mass: busy");
  EXPECT_EQ(to_line({ProblemCode::busy, "busy", {"", 3, "mass"}, "12g", ""}),
            "line 3: mass: busy; expected 12g");
  EXPECT_EQ(to_line({ProblemCode::busy, "busy", {"a.csv", 3, ""}, "", "x"}),
            "a.csv:3: busy; found \"x\"");
}

TEST(ProblemCodes, EachHasItsOwnWord) {
  std::set<std::string> words;
  for (int i = 0; i <= static_cast<int>(ProblemCode::busy); ++i) {
    words.insert(name_of(static_cast<ProblemCode>(i)));
  }
  EXPECT_EQ(words, (std::set<std::string>{"bad_syntax", "bad_value", "missing", "unknown_name",
                                          "duplicate", "out_of_range", "conflict", "not_a_book",
                                          "too_new", "busy"}));
  EXPECT_STREQ(name_of(ProblemCode::bad_value), "bad_value");
  EXPECT_STREQ(name_of(ProblemCode::unknown_name), "unknown_name");
}

}  // namespace
}  // namespace warmside
