// diet: what animals eat over the next weeks, those of a book or of a plain file.

#include <memory>

#include "cli/day_in_hand.h"
#include "cli/face.h"
#include "diet/rota_file.h"
#include "diet/rota_model.h"
#include "report/rota_report.h"
#include "round/feeding.h"

namespace warmside::cli {
namespace {

struct RotaOptions {
  std::string path, date;
  BookOption book;
  bool json = false, model = false, stock = false;
};

void answer(const diet::RotaProblem& problem, const report::RotaOfRoom& room,
            const RotaOptions& options, Face& face) {
  if (const Problems problems = diet::check(problem); !problems.empty()) {
    return face.refuse(problems);
  }
  if (options.model) {
    face.out << diet::as_lp_text(diet::whole_rota(problem));
    return;
  }
  const diet::RotaAnswer answer = diet::solve_rota(problem);
  face.out << (options.json ? report::rota_as_json(problem, answer, room)
                            : report::rota_as_text(problem, answer, room, face.style));
  if (!answer.plan) face.exit_code = kBadData;
}

void of_book(const RotaOptions& options, Face& face) {
  const auto book = open_book(options.book.path, face);
  if (!book) return;
  const auto hand = day_in_hand(*book, options.date, face);
  if (!hand) return;
  const diet::Pantry pantry(hand->room);
  const diet::RoomRota rota =
      diet::room_rota(hand->day, pantry, round::diners_of(hand->day), options.stock);
  answer(rota.problem, report::rota_of_room(rota, hand->room), options, face);
}

void of_file(const RotaOptions& options, Face& face) {
  const auto text = text_of(options.path, face);
  if (!text) return;
  const auto problem = diet::read_rota_file(*text, options.path);
  if (!problem) return face.refuse(problem.problem());
  answer(*problem, {}, options, face);
}

}  // namespace

void add_diet_command(CLI::App& program, Face& face) {
  auto* diet = program.add_subcommand("diet", "what animals eat in the next weeks");
  diet->require_subcommand(1);
  auto* command = diet->add_subcommand(
      "rota", "which food, how many and which jar on which day, for the book or a file");
  auto options = std::make_shared<RotaOptions>();
  options->book.add_to(*command);
  auto* file =
      command->add_option("file", options->path, "a rota file (docs/rota-file.md), not the book")
          ->type_name("FILE");
  add_date_option(*command, options->date);
  command
      ->add_flag("--stock", options->stock,
                 "use no more of each food than the book has in store today")
      ->excludes(file);
  add_json_option(*command, options->json);
  command->add_flag("--model", options->model,
                    "instead print the integer programme in the LP format, for another solver");
  command->footer("Examples:\n  warmside diet rota --book room.db\n  warmside diet rota rota.toml");
  command->callback([options, &face] {
    if (options->path.empty()) return of_book(*options, face);
    of_file(*options, face);
  });
}

}  // namespace warmside::cli
