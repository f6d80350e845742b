// health: how animals are, from plain files without a book.

#include <memory>

#include "cli/face.h"
#include "health/weights_file.h"
#include "report/health_report.h"

namespace warmside::cli {

void add_health_command(CLI::App& program, Face& face) {
  auto* health = program.add_subcommand("health", "how animals are, from their weighings");
  health->require_subcommand(1);
  auto* command = health->add_subcommand(
      "weights", "gaining, steady or slipping, from a file of weighings without a book");
  struct Options {
    std::string path, units = "metric";
    bool json = false;
  };
  auto options = std::make_shared<Options>();
  command->add_option("file", options->path, "comma-separated text: animal,time,mass_g")
      ->required()
      ->type_name("FILE");
  add_units_option(*command, options->units);
  add_json_option(*command, options->json);
  command->footer("Example:\n  warmside health weights weighings.csv");
  command->callback([options, &face] {
    const auto text = text_of(options->path, face);
    if (!text) return;
    const auto animals = health::read_weighings(*text, options->path);
    if (!animals) return face.refuse(animals.problem());
    const auto judged = health::judge(*animals);
    face.out << (options->json ? report::weights_as_json(judged)
                               : report::weights_as_text(
                                     judged, *from_word<UnitSystem>(options->units), face.style));
  });
}

}  // namespace warmside::cli
