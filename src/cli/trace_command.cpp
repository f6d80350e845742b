// trace: who was exposed to an animal, and where it can have got something from.

#include <memory>
#include <sstream>

#include "book/notebook_file.h"
#include "cli/face.h"
#include "hygiene/exposure.h"
#include "report/trace_report.h"
#include "room/look_up.h"

namespace warmside::cli {
namespace {

struct TraceOptions {
  BookOption book;
  std::string path, from, at, organism;
  bool ahead = false, back = false, json = false;
};

/// What is traced: entries that hold, and what is known beside them.
struct Notebook {
  std::vector<room::Entry> entries;
  hygiene::ContactRoom room;
  Zone zone;
};

/// Null (and messages) when the file has a bad line.
std::optional<Notebook> notebook_file(const std::string& path, Face& face) {
  const auto text = text_of(path, face);
  if (!text) return std::nullopt;
  std::istringstream in(*text);
  Notebook notebook;
  Problems problems;
  book::read_notebook_lines(
      in, path,
      [&](const room::Entry& entry, const Where&) {
        notebook.entries.push_back(entry);
        return true;
      },
      [&](Problem problem) {
        problems.push_back(std::move(problem));
        return problems.size() < 20;
      });
  if (!problems.empty()) {
    face.refuse(problems);
    return std::nullopt;
  }
  return notebook;
}

std::optional<Notebook> of_book(const BookOption& option, std::string& animal, Face& face) {
  const auto book = book::Book::open(option.path);
  if (!book) {
    face.refuse(book.problem());
    return std::nullopt;
  }
  const room::Room room = book->room();
  const auto found = room::find_animal(room, animal);
  if (!found) {
    face.refuse(found.problem());
    return std::nullopt;
  }
  animal = (*found)->id.text();
  const Zone zone = room::zone_of(room);
  Notebook notebook{{}, hygiene::contact_room(room, zone), zone};
  book->each_entry([&](const room::Entry& entry) {
    notebook.entries.push_back(entry);
    return true;
  });
  return notebook;
}

/// RFC 3339, "2026-11-25 07:30" on the room's clock, or a day: its beginning ahead, its end back.
std::optional<Instant> moment(const std::string& text, const Zone& zone, bool ahead, Face& face) {
  if (const auto instant = parse_instant(text)) return *instant;
  if (const auto date = parse_date(text)) {
    return ahead ? zone.start_of(*date) : Instant::unix_ms(zone.start_of(*date + 1).unix_ms() - 1);
  }
  if (text.size() == 16) {
    const auto date = parse_date(text.substr(0, 10));
    const auto time = parse_time_of_day(text.substr(11));
    if (date && time) return zone.at(*date, *time);
  }
  face.refuse({ProblemCode::bad_value,
               "not a time",
               {"", 0, "--at"},
               "2026-11-25, \"2026-11-25 07:30\" or RFC 3339 with an offset",
               text});
  return std::nullopt;
}

void run_trace(const TraceOptions& options, Face& face) {
  hygiene::TraceQuestion question;
  question.animal = options.from;
  question.direction = options.back ? hygiene::Direction::back : hygiene::Direction::ahead;
  if (!options.organism.empty()) question.organism = from_word<hygiene::Organism>(options.organism);
  auto notebook = options.path.empty() ? of_book(options.book, question.animal, face)
                                       : notebook_file(options.path, face);
  if (!notebook) return;
  const auto at = moment(options.at, notebook->zone, !options.back, face);
  if (!at) return;
  question.at = *at;
  room::drop_struck(notebook->entries);
  const auto traced = hygiene::trace(notebook->entries, notebook->room, notebook->zone, question);
  if (!traced) return face.refuse(traced.problem());
  face.out << (options.json ? report::trace_as_json(*traced, question)
                            : report::trace_as_text(*traced, question, notebook->zone, face.style));
}

}  // namespace

void add_trace_command(CLI::App& program, Face& face) {
  auto* command = program.add_subcommand(
      "trace", "who was exposed to an animal, or from whom it has something");
  auto options = std::make_shared<TraceOptions>();
  options->book.add_to(*command);
  command->add_option("file", options->path, "a notebook (.jsonl) in place of the book")
      ->type_name("FILE");
  command->add_option("--from", options->from, "the animal")->required()->type_name("ANIMAL");
  command->add_option("--at", options->at, "since when it may shed, or by when it has it")
      ->required()
      ->type_name("TIME");
  auto* ahead = command->add_flag("--ahead", options->ahead, "who has been exposed since");
  auto* back = command->add_flag("--back", options->back, "where it can have come from");
  ahead->excludes(back);
  std::vector<std::string> organisms;
  for (const auto word : Words<hygiene::Organism>::list) organisms.emplace_back(word);
  command->add_option("--organism", options->organism, "one group; else each of them")
      ->check(CLI::IsMember(organisms))
      ->type_name("GROUP");
  add_json_option(*command, options->json);
  command->footer("Example:\n  warmside trace --from garnet --at 2026-10-21 --ahead");
  command->callback([options, ahead, back, &face] {
    if (ahead->count() + back->count() == 0) {
      throw CLI::RequiredError("--ahead or --back");
    }
    run_trace(*options, face);
  });
}

}  // namespace warmside::cli
