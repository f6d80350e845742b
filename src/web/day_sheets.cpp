#include "web/day_sheets.h"

#include <fmt/format.h>
#include <xxhash.h>

#include <algorithm>

#include "health/quarantine.h"
#include "report/round_report.h"
#include "web/compression.h"

namespace warmside::web {
namespace {

/// Today's and a few that somebody leafed to.
constexpr std::size_t kMostKept = 3;

}  // namespace

std::string entity_tag(std::string_view text) {
  const XXH128_hash_t hash = XXH3_128bits(text.data(), text.size());
  return fmt::format("\"{:016x}{:016x}\"", hash.high64, hash.low64);
}

std::string weak_tag(std::string_view text) {
  return "W/" + entity_tag(text);
}

DaySheetPointer DaySheets::kept(Date date, std::int64_t change) {
  const auto at = std::find_if(kept_.begin(), kept_.end(), [&](const DaySheetPointer& sheet) {
    return sheet->day.date == date && sheet->change == change;
  });
  if (at == kept_.end()) return nullptr;
  std::rotate(at, at + 1, kept_.end());
  return kept_.back();
}

void DaySheets::get(Date date, Told told) {
  DaySheetPointer sheet;
  {
    const std::int64_t change = book_.change();
    const std::lock_guard lock(mutex_);
    sheet = kept(date, change);
    if (!sheet) {
      waiting_[date].push_back(std::move(told));
      if (computing_) return;
      computing_ = lane_.run([this] { compute_waiting(); });
      return;
    }
  }
  told(sheet, "");
}

void DaySheets::compute_waiting() {
  for (;;) {
    Date date;
    std::vector<Told> asked;
    {
      const std::lock_guard lock(mutex_);
      if (waiting_.empty()) {
        computing_ = false;
        return;
      }
      // Taken before the book is read: whoever comes later may want a later change.
      date = waiting_.begin()->first;
      asked = std::move(waiting_.begin()->second);
      waiting_.erase(waiting_.begin());
    }
    DaySheetPointer sheet;
    std::string failure;
    try {
      sheet = made(date);
    } catch (const std::exception& e) {
      failure = e.what();
    }
    for (const Told& told : asked) told(sheet, failure);
  }
}

DaySheetPointer DaySheets::made(Date date) {
  const std::int64_t change = book_.change();
  {
    const std::lock_guard lock(mutex_);
    if (auto sheet = kept(date, change)) return sheet;  // made while this one waited
  }
  auto sheet = std::make_shared<DaySheet>();
  sheet->change = change;
  book_.read([&](const book::Book& book) {
    sheet->room = book.room();
    sheet->history =
        book.history(room::recalled_for_a_day(), room::zone_of(sheet->room).start_of(date + 1));
  });
  sheet->day = room::make_day(sheet->room, sheet->history, date);
  health::presume_quarantines(sheet->day);
  sheet->round = round::lay_out(sheet->day);
  sheet->round_json = std::make_shared<const std::string>(report::round_as_json(sheet->round));
  sheet->round_gzipped = std::make_shared<const std::string>(gzipped(*sheet->round_json));
  sheet->round_tag = weak_tag(*sheet->round_json);
  const std::lock_guard lock(mutex_);
  std::erase_if(kept_, [&](const DaySheetPointer& old) { return old->day.date == date; });
  if (kept_.size() >= kMostKept) kept_.erase(kept_.begin());
  kept_.push_back(sheet);
  return sheet;
}

}  // namespace warmside::web
