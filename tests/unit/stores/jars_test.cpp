// Supplement jars: a finding for each jar in use that is past the date printed on it.

#include "stores/jars.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "support/room_builder.h"

namespace warmside::stores {
namespace {

using room::EntryKind;
using test::date;
using test::RoomBuilder;

constexpr const char* kToday = "2026-11-25";

RoomBuilder jar(const std::function<void(room::Jar&)>& change) {
  RoomBuilder b;
  return b.add<room::Jar>("d3", [&](room::Jar& j) {
    j.contents = room::SupplementKind::calcium_d3;
    change(j);
  });
}

std::size_t count(const std::function<void(room::Jar&)>& change) {
  return findings(jar(change).day(kToday).day).size();
}

TEST(Jars, PastItsDateButNotOnIt) {
  EXPECT_EQ(count([](auto&) {}), 0u);
  EXPECT_EQ(count([](auto& j) { j.expires = date("2026-11-26"); }), 0u);
  EXPECT_EQ(count([](auto& j) { j.expires = date(kToday); }), 0u);  // good until that day
  EXPECT_EQ(count([](auto& j) { j.expires = date("2026-11-24"); }), 1u);
}

TEST(Jars, ThrownAwayIsNotAskedFor) {
  const auto retired = [](const char* when) {
    return [=](room::Jar& j) {
      j.expires = date("2026-01-01");
      j.retired = date(when);
    };
  };
  EXPECT_EQ(count(retired(kToday)), 0u);
  EXPECT_EQ(count(retired("2026-11-26")), 1u);
}

TEST(Jars, AFindingIsComplete) {
  const auto b = jar([](auto& j) { j.expires = date("2026-11-01"); });
  const Finding finding = findings(b.day(kToday).day).at(0);
  EXPECT_EQ(finding.when, When::today);
  EXPECT_EQ(finding.subject_kind, "jar");
  EXPECT_EQ(finding.subject, "d3");
  EXPECT_EQ(finding.module, "stores");
  EXPECT_EQ(finding.headline, "The jar d3 is past its date");
  EXPECT_EQ(finding.evidence, "calcium with D3, good until 2026-11-01.");
  EXPECT_FALSE(finding.advice.empty());
  EXPECT_EQ(finding.source, "the date printed on the jar");
}

TEST(OpenedOn, TheNotebookGoesBeforeTheRecord) {
  RoomBuilder b = jar([](auto& j) { j.opened = date("2026-01-01"); });
  const auto opened = [&](const char* day) {
    const auto test = b.day(day);
    return opened_on(test.day, test.room->jars[0]);
  };
  EXPECT_EQ(opened(kToday), date("2026-01-01"));
  b.entry("2026-05-01", EntryKind::opened, "d3").entry("2026-09-01", EntryKind::replaced, "d3");
  EXPECT_EQ(opened("2026-04-30"), date("2026-01-01"));
  EXPECT_EQ(opened("2026-08-31"), date("2026-05-01"));
  EXPECT_EQ(opened(kToday), date("2026-09-01"));
  const RoomBuilder never = jar([](auto&) {});
  const auto test = never.day(kToday);
  EXPECT_FALSE(opened_on(test.day, test.room->jars[0]));
}

}  // namespace
}  // namespace warmside::stores
