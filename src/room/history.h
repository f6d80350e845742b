#pragma once
// What the notebook remembers that a day's work needs, as plain values: for each thing in the room
// the latest entries of each kind, and longer series where a module asks for them. Struck entries
// are already left out, and so is everything after the day in question.
//
// A history is filled by the book (or by a test, or from a plain file); models only read it. It is
// bounded: its size depends on the room, not on the age of the notebook.

#include <span>
#include <vector>

#include "room/entry.h"

namespace warmside::room {

/// How much of one kind of entry to recall for each subject: the latest `latest`, and every one
/// of the `days` before the moment of the history. At most 2000 of a kind for a subject.
struct Recall {
  EntryKind kind;
  int latest = 1;
  int days = 0;
};
constexpr int kMostRecalled = 2000;

class History {
 public:
  History() = default;
  /// Takes entries in any order; `until` is the moment up to which they were recalled.
  History(std::vector<Entry> entries, Instant until);

  Instant until() const { return until_; }
  /// All recalled entries of a kind about a subject, oldest first.
  std::span<const Entry> all(const Subject& subject, EntryKind kind) const&;
  std::span<const Entry> all(const Subject& subject, EntryKind kind) && = delete;
  /// The latest of a kind, or null.
  const Entry* latest(const Subject& subject, EntryKind kind) const;
  /// The latest of several kinds, or null. Of entries at the same moment the one with the greater
  /// id.
  const Entry* latest_of(const Subject& subject, std::initializer_list<EntryKind> kinds) const;
  /// Everything recalled, by subject, kind and time.
  std::span<const Entry> entries() const& { return entries_; }
  std::span<const Entry> entries() && = delete;  // would outlive its entries

 private:
  std::vector<Entry> entries_;
  Instant until_;
};

}  // namespace warmside::room
