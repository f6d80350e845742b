// power: what hangs on which circuit, against what it can carry, and what it costs in a month.

#include <memory>

#include "cli/day_in_hand.h"
#include "cli/face.h"
#include "report/power_report.h"

namespace warmside::cli {
namespace {

struct PowerOptions {
  BookOption book;
  std::string date;
  bool json = false;
};

void run_power(const PowerOptions& options, Face& face) {
  const auto book = open_book(options.book.path, face);
  if (!book) return;
  const auto hand = day_in_hand(*book, options.date, face);
  if (!hand) return;
  face.out << (options.json ? report::power_as_json(hand->day)
                            : report::power_as_text(hand->day, face.style));
}

}  // namespace

void add_power_command(CLI::App& program, Face& face) {
  auto* command = program.add_subcommand(
      "power", "what hangs on which circuit, against what it can carry, and its cost in a month");
  auto options = std::make_shared<PowerOptions>();
  options->book.add_to(*command);
  add_date_option(*command, options->date);
  add_json_option(*command, options->json);
  command->callback([options, &face] { run_power(*options, face); });
}

}  // namespace warmside::cli
