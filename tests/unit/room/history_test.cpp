// Recalled entries: the quick look-up against looking at every entry.
// Seed: the environment variable RC_PARAMS; RapidCheck prints the smallest case on failure.

#include "room/history.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

namespace warmside::room {
namespace {

// Few different subjects, kinds and moments, so that they meet; ids are all different.
constexpr SubjectKind kSubjectKinds[] = {SubjectKind::room, SubjectKind::animal, SubjectKind::task};
constexpr EntryKind kKinds[] = {EntryKind::weighed, EntryKind::fed, EntryKind::note,
                                EntryKind::struck};

rc::Gen<Subject> any_subject() {
  return rc::gen::construct<Subject>(rc::gen::elementOf(std::vector<SubjectKind>(
                                         std::begin(kSubjectKinds), std::end(kSubjectKinds))),
                                     rc::gen::element<std::string>("a", "b", "a-1", ""));
}

rc::Gen<EntryKind> any_kind() {
  return rc::gen::elementOf(std::vector<EntryKind>(std::begin(kKinds), std::end(kKinds)));
}

std::vector<Entry> any_entries() {
  const auto entries = *rc::gen::container<std::vector<Entry>>(rc::gen::build<Entry>(
      rc::gen::set(&Entry::at, rc::gen::map(rc::gen::inRange(-3, 4),
                                            [](int ms) { return Instant::unix_ms(ms); })),
      rc::gen::set(&Entry::kind, any_kind()), rc::gen::set(&Entry::subject, any_subject())));
  auto numbers = *rc::gen::unique<std::vector<std::uint16_t>>(entries.size(),
                                                              rc::gen::arbitrary<std::uint16_t>());
  auto numbered = entries;
  for (std::size_t i = 0; i < numbered.size(); ++i) {
    numbered[i].id.bytes[14] = static_cast<std::uint8_t>(numbers[i] >> 8);
    numbered[i].id.bytes[15] = static_cast<std::uint8_t>(numbers[i]);
  }
  return numbered;
}

bool before(const Entry& a, const Entry& b) {
  return a.at != b.at ? a.at < b.at : a.id < b.id;
}

/// Every entry of the kinds about the subject, oldest first, by looking at each.
std::vector<Entry> brute_force(const std::vector<Entry>& entries, const Subject& subject,
                               const std::set<EntryKind>& kinds) {
  std::vector<Entry> found;
  for (const Entry& entry : entries) {
    if (entry.subject == subject && kinds.count(entry.kind) > 0) found.push_back(entry);
  }
  std::sort(found.begin(), found.end(), before);
  return found;
}

RC_GTEST_PROP(HistoryProperty, AllAndLatestAsByLookingAtEach, ()) {
  const auto entries = any_entries();
  const Subject subject = *any_subject();
  const EntryKind kind = *any_kind();
  const History history(entries, Instant::unix_ms(9));
  const auto expected = brute_force(entries, subject, {kind});
  const auto got = history.all(subject, kind);
  RC_ASSERT(std::vector<Entry>(got.begin(), got.end()) == expected);
  const Entry* latest = history.latest(subject, kind);
  RC_ASSERT((latest == nullptr) == expected.empty());
  if (latest != nullptr) RC_ASSERT(*latest == expected.back());
}

RC_GTEST_PROP(HistoryProperty, LatestOfSeveralKinds, ()) {
  const auto entries = any_entries();
  const Subject subject = *any_subject();
  const EntryKind a = *any_kind(), b = *any_kind(), c = *any_kind();
  const History history(entries, Instant());
  const auto expected = brute_force(entries, subject, {a, b, c});
  const Entry* latest = history.latest_of(subject, {a, b, c});
  RC_ASSERT((latest == nullptr) == expected.empty());
  if (latest != nullptr) RC_ASSERT(*latest == expected.back());
}

RC_GTEST_PROP(HistoryProperty, NothingIsLostAndOrderOfInputDoesNotMatter, ()) {
  const auto entries = any_entries();
  auto reversed = entries;
  std::reverse(reversed.begin(), reversed.end());
  const History one(entries, Instant()), other(reversed, Instant());
  const auto a = one.entries(), b = other.entries();
  RC_ASSERT(std::equal(a.begin(), a.end(), b.begin(), b.end()));
  RC_ASSERT(std::is_permutation(a.begin(), a.end(), entries.begin(), entries.end()));
}

TEST(History, OfNothing) {
  const History history;
  EXPECT_TRUE(history.entries().empty());
  EXPECT_TRUE(history.all({}, EntryKind::note).empty());
  EXPECT_EQ(history.latest({}, EntryKind::note), nullptr);
  EXPECT_EQ(history.latest_of({}, {EntryKind::note, EntryKind::fed}), nullptr);
  EXPECT_EQ(history.latest_of({}, {}), nullptr);
  EXPECT_EQ(history.until(), Instant());
  EXPECT_EQ(History({}, Instant::unix_ms(5)).until(), Instant::unix_ms(5));
}

}  // namespace
}  // namespace warmside::room
