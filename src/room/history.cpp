#include "room/history.h"

#include <algorithm>
#include <tuple>

namespace warmside::room {
namespace {

auto moment(const Entry& e) {
  return std::tie(e.at, e.id);
}

}  // namespace

History::History(std::vector<Entry> entries, Instant until)
    : entries_(std::move(entries)), until_(until) {
  std::sort(entries_.begin(), entries_.end(), [](const Entry& a, const Entry& b) {
    return std::tie(a.subject, a.kind, a.at, a.id) < std::tie(b.subject, b.kind, b.at, b.id);
  });
}

std::span<const Entry> History::all(const Subject& subject, EntryKind kind) const& {
  const auto key = std::tie(subject, kind);
  const auto first = std::lower_bound(
      entries_.begin(), entries_.end(), key,
      [](const Entry& e, const auto& k) { return std::tie(e.subject, e.kind) < k; });
  const auto last = std::upper_bound(first, entries_.end(), key, [](const auto& k, const Entry& e) {
    return k < std::tie(e.subject, e.kind);
  });
  return {first, last};
}

const Entry* History::latest(const Subject& subject, EntryKind kind) const {
  const auto found = all(subject, kind);
  return found.empty() ? nullptr : &found.back();
}

const Entry* History::latest_of(const Subject& subject,
                                std::initializer_list<EntryKind> kinds) const {
  const Entry* best = nullptr;
  for (const EntryKind kind : kinds) {
    const Entry* entry = latest(subject, kind);
    if (entry != nullptr && (best == nullptr || moment(*best) < moment(*entry))) best = entry;
  }
  return best;
}

}  // namespace warmside::room
