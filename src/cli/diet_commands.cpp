// diet: what animals eat over the next weeks, from plain files without a book.

#include <memory>

#include "cli/face.h"
#include "diet/rota_file.h"
#include "diet/rota_model.h"
#include "report/rota_report.h"

namespace warmside::cli {

void add_diet_command(CLI::App& program, Face& face) {
  auto* diet = program.add_subcommand("diet", "what animals eat, from a file");
  diet->require_subcommand(1);
  auto* command = diet->add_subcommand(
      "rota", "which food, how many and which jar on which day, from a file without a book");
  struct Options {
    std::string path;
    bool json = false, model = false;
  };
  auto options = std::make_shared<Options>();
  command->add_option("file", options->path, "a rota file (docs/rota-file.md)")
      ->required()
      ->type_name("FILE");
  add_json_option(*command, options->json);
  command->add_flag("--model", options->model,
                    "instead print the integer programme in the LP format, for another solver");
  command->footer("Example:\n  warmside diet rota rota.toml");
  command->callback([options, &face] {
    const auto text = text_of(options->path, face);
    if (!text) return;
    const auto problem = diet::read_rota_file(*text, options->path);
    if (!problem) return face.refuse(problem.problem());
    if (options->model) {
      face.out << diet::as_lp_text(diet::whole_rota(*problem));
      return;
    }
    const auto answer = diet::solve_rota(*problem);
    face.out << (options->json ? report::rota_as_json(*problem, answer)
                               : report::rota_as_text(*problem, answer, face.style));
    if (!answer.plan) face.exit_code = kBadData;
  });
}

}  // namespace warmside::cli
