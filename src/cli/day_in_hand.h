#pragma once
// A book and the day to look at in it, for the commands that judge a room.

#include <memory>
#include <optional>
#include <string>

#include "cli/face.h"
#include "room/day.h"

namespace warmside::cli {

/// A command whose arguments were read: opens the book or says why not.
std::optional<book::Book> open_book(const std::string& path, Face& face, bool create = false);

void add_date_option(CLI::App& command, std::string& date);

/// The day to look at, its room and history, kept together since a Day points into them.
struct DayInHand {
  room::Room room;
  room::History history;
  room::Day day;
};
/// `date_text`: empty for today. Null (and a message) when it cannot be read.
std::unique_ptr<DayInHand> day_in_hand(const book::Book& book, const std::string& date_text,
                                       Face& face);

}  // namespace warmside::cli
