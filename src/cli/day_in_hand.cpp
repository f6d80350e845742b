#include "cli/day_in_hand.h"

#include "health/quarantine.h"

namespace warmside::cli {

std::optional<book::Book> open_book(const std::string& path, Face& face, bool create) {
  book::OpenOptions options;
  options.create = create;
  auto opened = book::Book::open(path, options);
  if (opened) return std::move(opened).value();
  face.refuse(opened.problem());
  return std::nullopt;
}

void add_date_option(CLI::App& command, std::string& date) {
  command.add_option("--date", date, "the day to look at, such as 2026-11-25; else today")
      ->type_name("DATE");
}

std::unique_ptr<DayInHand> day_in_hand(const book::Book& book, const std::string& date_text,
                                       Face& face) {
  auto hand = std::make_unique<DayInHand>();
  hand->room = book.room();
  const Zone zone = room::zone_of(hand->room);
  Date date = zone.date_of(face.now);
  if (!date_text.empty()) {
    const auto read = argument("--date", parse_date(date_text), face);
    if (!read) return nullptr;
    date = *read;
  }
  hand->history = book.history(room::recalled_for_a_day(), zone.start_of(date + 1));
  hand->day = room::make_day(hand->room, hand->history, date);
  health::presume_quarantines(hand->day);
  return hand;
}

}  // namespace warmside::cli
