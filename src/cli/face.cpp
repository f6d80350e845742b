#include "cli/face.h"

#include <fmt/format.h>

namespace warmside::cli {

void Face::refuse(const Problems& problems) {
  for (const Problem& problem : problems) err << to_line(problem) << "\n";
  exit_code = kBadData;
}

void Face::show_progress(const std::string& what, std::int64_t lines, bool done) {
  if (!progress_shown) return;
  err << (done ? std::string("\r\033[K") : fmt::format("\r\033[K{} {} lines ...", what, lines));
  err.flush();
}

void Face::show_share(const std::string& what, double share) {
  if (!progress_shown) return;
  err << (share >= 1 ? std::string("\r\033[K")
                     : fmt::format("\r\033[K{} {:.0f} % ...", what, 100 * share));
  err.flush();
}

void BookOption::add_to(CLI::App& command) {
  command.add_option("--book", path, "the room book; else $WARMSIDE_BOOK, else room.db here")
      ->envname("WARMSIDE_BOOK")
      ->type_name("FILE");
}

void add_json_option(CLI::App& command, bool& json) {
  command.add_flag("--json", json, "answer with one JSON object (docs/schema/)");
}

Zone zone_of(const room::Room& room) {
  const auto zone = Zone::named(room.info.zone);
  return zone ? *zone : Zone();
}

}  // namespace warmside::cli
