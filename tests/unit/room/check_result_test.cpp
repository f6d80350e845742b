// Results of checks as data (docs/notebook.md).

#include "room/check_result.h"

#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::room {
namespace {

using test::RoomBuilder;

CheckResult result(const char* item) {
  static Entry entry;
  entry.kind = EntryKind::checked;
  entry.item = item;
  return result_of(entry);
}

TEST(CheckResult, OnlyTheExactEndingIsAResult) {
  EXPECT_EQ(result("mites: negative").what, "mites");
  EXPECT_EQ(result("mites: negative").outcome, Outcome::negative);
  EXPECT_EQ(result("faecal sample: positive").what, "faecal sample");
  EXPECT_EQ(result("faecal sample: positive").outcome, Outcome::positive);
  EXPECT_EQ(result("a: b: negative").what, "a: b");
  for (const char* item :
       {"mites", "mites negative", "mites: Negative", "mites: negative ", "mites:negative",
        ": negative", "negative", "mites: not negative?", "shed: negatively"}) {
    EXPECT_EQ(result(item).what, item);
    EXPECT_FALSE(result(item).outcome) << item;
  }
}

TEST(CheckResult, WhatIsWrittenIsRead) {
  for (const Outcome outcome : {Outcome::negative, Outcome::positive}) {
    const std::string item = checked_item("Bd and Bsal swab", outcome);
    EXPECT_EQ(result(item.c_str()).what, "Bd and Bsal swab");
    EXPECT_EQ(result(item.c_str()).outcome, outcome);
  }
}

/// Day of the month each sample was taken on, and its result: "1-", "5+", "9?".
std::string samples(const RoomBuilder& b) {
  const test::TestDay day = b.day("2026-04-01");
  std::string text;
  for (const Sample& sample :
       samples_of(day.day.history->all({SubjectKind::animal, "a"}, EntryKind::checked), "s")) {
    text += std::to_string(day.day.date_of(*sample.taken).day());
    text += !sample.outcome ? "? " : sample.outcome == Outcome::negative ? "- " : "+ ";
  }
  return text;
}

TEST(Samples, AnAnswerFindsItsSample) {
  RoomBuilder b = RoomBuilder().enclosure("tub").animal("a", "corn_snake");
  EXPECT_EQ(samples(b), "");
  b.checked("2026-03-01", "a", "s").checked("2026-03-02", "a", "other: negative");
  EXPECT_EQ(samples(b), "1? ");
  b.checked("2026-03-05", "a", "s: negative");
  EXPECT_EQ(samples(b), "1- ");
  b.checked("2026-03-06", "a", "s: positive");  // an answer to nothing is a sample itself
  EXPECT_EQ(samples(b), "1- 6+ ");
  b.checked("2026-03-10", "a", "s").checked("2026-03-12", "a", "s");
  b.checked("2026-03-15", "a", "s: positive");
  EXPECT_EQ(samples(b), "1- 6+ 10? 12+ ");
  b.checked("2026-03-15 13:00", "a", "s: negative");
  EXPECT_EQ(samples(b), "1- 6+ 10- 12+ ");
}

}  // namespace
}  // namespace warmside::room
