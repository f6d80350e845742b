#pragma once
// A day of the room, computed once for everybody who asks: its records, history, round and the
// round's JSON. A sheet is of one change of the book; when the book changes, a new one is computed
// at once, and whoever asks meanwhile gets the new one when it is ready, never an old one.

#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "room/day.h"
#include "round/round.h"
#include "web/lane.h"
#include "web/live_book.h"

namespace warmside::web {

/// All of a day; the parts point into each other, so it is handed round by pointer.
struct DaySheet {
  std::int64_t change = 0;
  room::Room room;
  room::History history;
  room::Day day;
  round::Round round;
  std::shared_ptr<const std::string> round_json, round_gzipped;
  std::string round_tag;  // of its content, for ETag
};
using DaySheetPointer = std::shared_ptr<const DaySheet>;

/// An ETag of a text (RFC 9110 section 8.8.3): equal texts, equal tags.
std::string entity_tag(std::string_view text);
/// The same of an answer that may be sent packed or not.
std::string weak_tag(std::string_view text);

class DaySheets {
 public:
  /// Told the sheet, or null and what failed; in any thread, perhaps at once.
  using Told = std::function<void(const DaySheetPointer&, const std::string& failure)>;

  /// `book` must outlive it.
  explicit DaySheets(LiveBook& book) : book_(book) {}

  /// The sheet of a date as the book is now.
  void get(Date date, Told told);
  /// Computes the day anew if the book has changed and nobody has asked yet.
  void refresh(Date date) {
    get(date, [](const DaySheetPointer&, const std::string&) {});
  }
  /// Ends when the sheet in the making is done; those who wait are told nothing.
  void stop() { lane_.stop(); }

 private:
  void compute_waiting();
  DaySheetPointer made(Date date);
  DaySheetPointer kept(Date date, std::int64_t change);

  LiveBook& book_;
  std::mutex mutex_;
  std::vector<DaySheetPointer> kept_;  // the latest asked for last
  std::map<Date, std::vector<Told>> waiting_;
  bool computing_ = false;
  Lane lane_{1, 1};
};

}  // namespace warmside::web
