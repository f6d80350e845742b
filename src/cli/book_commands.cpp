// demo, import, export, today, animal, enclosure, tools, species, foods, disinfectants, verify,
// backup.

#include <fmt/format.h>

#include <filesystem>
#include <memory>

#include "book/files.h"
#include "book/room_file.h"
#include "cli/day_in_hand.h"
#include "cli/face.h"
#include "demo/demo_room.h"
#include "report/animal_picture.h"
#include "report/disinfectant_pages.h"
#include "report/enclosure_picture.h"
#include "report/food_pages.h"
#include "report/record_pages.h"
#include "report/round_report.h"
#include "report/tools_report.h"

namespace warmside::cli {
namespace {

constexpr int kEntriesOnAPage = 20;

/// CLI11 wants the variables that it fills to live as long as the program.
template <class Options>
std::shared_ptr<Options> options_for(CLI::App&) {
  return std::make_shared<Options>();
}

struct PageOptions {
  BookOption book;
  std::string date;
  std::string name;
  bool json = false;
};

// --- demo ---

struct DemoOptions {
  std::string folder;
  std::string date = "2026-11-25";
};

void run_demo(const DemoOptions& options, Face& face) {
  const auto date = parse_date(options.date);
  if (!date) return face.refuse(date.problem());
  const std::filesystem::path folder(options.folder);
  const std::string book_path = (folder / "room.db").string();
  std::error_code error;
  for (const char* name : {"room.db", "room.toml", "notebook.jsonl"}) {
    if (std::filesystem::exists(folder / name, error)) {
      return face.refuse({ProblemCode::conflict,
                          "this file is there already",
                          {(folder / name).string(), 0, ""},
                          "a new or empty folder",
                          ""});
    }
  }
  std::filesystem::create_directories(folder, error);
  if (error) throw MachineFailure(fmt::format("{}: {}", options.folder, error.message()));
  auto demo = demo::make_demo_room(*date, demo::kDemoSeed);
  room::sort_records(demo.room);
  book::write_whole_file((folder / "room.toml").string(),
                         [&](const auto& put) { put(book::write_room_file(demo.room)); });
  book::write_whole_file((folder / "notebook.jsonl").string(), [&](const auto& put) {
    for (const room::Entry& entry : demo.entries) {
      put(book::notebook_line(entry, demo.room.info.units));
    }
  });
  auto book = open_book(book_path, face, true);
  if (!book) return;
  const auto report = book::import_files(
      *book, {(folder / "room.toml").string(), (folder / "notebook.jsonl").string()});
  if (!report) return face.refuse(report.problem());
  face.out << fmt::format(
      "The demo room, invented, with {} records and {} entries up to {}, is in {}:\n"
      "  room.toml, notebook.jsonl, and the book room.db made from them.\n"
      "Next: warmside today --book {} --date {}\n",
      report->records, report->entries_added, to_text(*date), options.folder, book_path,
      to_text(*date));
}

void add_demo(CLI::App& program, Face& face) {
  auto* command = program.add_subcommand("demo", "make the invented demo room in a folder");
  auto options = options_for<DemoOptions>(*command);
  command->add_option("DIR", options->folder, "a new or empty folder")->required();
  command->add_option("--date", options->date, "the day after the last entry")->type_name("DATE");
  command->callback([options, &face] { run_demo(*options, face); });
}

// --- import, export, backup, verify ---

struct ImportArguments {
  BookOption book;
  std::vector<std::string> files;
  std::vector<std::string> renamed;
  std::vector<std::string> ignored;
  std::string kind;
  std::string day_zero;
  bool remove_others = false;
  bool json = false;
};

/// The CSV options as typed; problems are said.
std::optional<book::ImportOptions> import_options(const ImportArguments& arguments, Face& face) {
  book::ImportOptions options;
  options.remove_others = arguments.remove_others;
  options.csv.ignored = {arguments.ignored.begin(), arguments.ignored.end()};
  for (const std::string& pair : arguments.renamed) {
    const auto equals = pair.find('=');
    if (equals == std::string::npos || equals == 0 || equals + 1 == pair.size()) {
      face.refuse({ProblemCode::bad_value,
                   "not a pair of column names",
                   {"", 0, "--rename"},
                   "theirs=ours, such as weight_g=mass_g",
                   pair});
      return std::nullopt;
    }
    options.csv.renamed[pair.substr(0, equals)] = pair.substr(equals + 1);
  }
  if (!arguments.kind.empty()) {
    options.csv.kind = from_word<room::EntryKind>(arguments.kind);
    if (!options.csv.kind) {
      face.refuse({ProblemCode::bad_value,
                   "unknown kind of entry",
                   {"", 0, "--kind"},
                   words_listed<room::EntryKind>(),
                   arguments.kind});
      return std::nullopt;
    }
  }
  if (!arguments.day_zero.empty()) {
    const auto day = parse_date(arguments.day_zero);
    if (!day) {
      Problem problem = day.problem();
      problem.where.field = "--day-zero";
      face.refuse(problem);
      return std::nullopt;
    }
    options.csv.day_zero = *day;
  }
  return options;
}

void run_import(const ImportArguments& arguments, Face& face) {
  const auto options = import_options(arguments, face);
  if (!options) return;
  const bool was_there = std::filesystem::exists(arguments.book.path);
  auto book = open_book(arguments.book.path, face, true);
  if (!book) return;
  const auto report = book::import_files(*book, arguments.files, *options, [&](std::int64_t lines) {
    face.show_progress("reading", lines);
    return true;
  });
  face.show_progress("", 0, true);
  if (!report) {
    face.refuse(report.problem());
    face.err << fmt::format("{} problem(s); the book is unchanged\n", report.problem().size());
    if (!was_there) {  // a book that this refused import made holds nothing
      book.reset();
      for (const char* ending : {"", "-wal", "-shm"}) {
        std::filesystem::remove(arguments.book.path + ending);
      }
    }
    return;
  }
  if (arguments.json) {
    face.out << fmt::format("{{\"records\": {}, \"entries_added\": {}, \"entries_before\": {}}}\n",
                            report->records, report->entries_added, report->entries_before);
  } else {
    face.out << fmt::format("{} records in the room files; {} entries added, {} known before\n",
                            report->records, report->entries_added, report->entries_before);
  }
}

void add_import(CLI::App& program, Face& face) {
  auto* command = program.add_subcommand(
      "import", "read room files (.toml) and notebooks (.jsonl, .csv) into a book; all or nothing");
  auto options = options_for<ImportArguments>(*command);
  options->book.add_to(*command);
  command->add_option("FILE", options->files, "room files and notebooks")->required();
  command->add_option("--rename", options->renamed, "CSV: read a column under another name")
      ->type_name("THEIRS=OURS");
  command->add_option("--ignore", options->ignored, "CSV: pass over a column")->type_name("COLUMN");
  command->add_option("--kind", options->kind, "CSV: the kind of entry where no column says it")
      ->type_name("KIND");
  command
      ->add_option("--day-zero", options->day_zero, "CSV: the date that a column `day` counts from")
      ->type_name("DATE");
  command->add_flag("--remove-others", options->remove_others,
                    "take out records that the room files do not have");
  add_json_option(*command, options->json);
  command->footer(
      "Example, an old spreadsheet with the columns animal, day, weight_g and diet:\n"
      "  warmside import --book room.db room.toml old.csv --kind weighed \\\n"
      "    --rename weight_g=mass_g --ignore diet --day-zero 2026-03-01");
  command->callback([options, &face] { run_import(*options, face); });
}

void add_export(CLI::App& program, Face& face) {
  auto* command =
      program.add_subcommand("export", "write a book's room.toml and notebook.jsonl into a folder");
  struct Arguments {
    BookOption book;
    std::string folder;
  };
  auto options = options_for<Arguments>(*command);
  options->book.add_to(*command);
  command->add_option("DIR", options->folder, "the folder; files of these names are replaced")
      ->required();
  command->callback([options, &face] {
    const auto book = open_book(options->book.path, face);
    if (!book) return;
    book::export_book(*book, options->folder, [&](std::int64_t lines) {
      face.show_progress("writing", lines);
      return true;
    });
    face.show_progress("", 0, true);
    face.out << fmt::format("room.toml and notebook.jsonl with {} entries are in {}\n",
                            book->entry_count(), options->folder);
  });
}

void add_backup(CLI::App& program, Face& face) {
  auto* command = program.add_subcommand(
      "backup", "copy the whole book to a new file, while others may go on using it");
  struct Arguments {
    BookOption book;
    std::string file;
  };
  auto options = options_for<Arguments>(*command);
  options->book.add_to(*command);
  command->add_option("FILE", options->file, "a new file, best on another disk")->required();
  command->callback([options, &face] {
    const auto book = open_book(options->book.path, face);
    if (!book) return;
    const auto copy = book->back_up_to(options->file);
    if (!copy) return face.refuse(copy.problem());
    face.out << fmt::format("{} entries are safe in {}\n", book->entry_count(), options->file);
  });
}

void add_verify(CLI::App& program, Face& face) {
  auto* command = program.add_subcommand(
      "verify", "check a book: the file, its references, and that no entry was changed");
  struct Arguments {
    BookOption book;
    bool json = false;
  };
  auto options = options_for<Arguments>(*command);
  options->book.add_to(*command);
  add_json_option(*command, options->json);
  command->callback([options, &face] {
    const auto book = open_book(options->book.path, face);
    if (!book) return;
    const auto wrong = book->verify();
    face.exit_code = wrong.empty() ? kDone : kBadData;
    if (options->json) {
      face.out << report::verdict_as_json(wrong, book->entry_count());
    } else if (wrong.empty()) {
      face.out << fmt::format("The book is sound: {} entries, none changed or missing.\n",
                              book->entry_count());
    }
    for (const std::string& line : wrong) face.err << line << "\n";
  });
}

// --- today and the pages ---

void add_today(CLI::App& program, Face& face) {
  auto* command = program.add_subcommand("today", "today's round in order, with what was noticed");
  auto options = options_for<PageOptions>(*command);
  options->book.add_to(*command);
  add_date_option(*command, options->date);
  add_json_option(*command, options->json);
  command->callback([options, &face] {
    const auto book = open_book(options->book.path, face);
    if (!book) return;
    const auto hand = day_in_hand(*book, options->date, face);
    if (!hand) return;
    const auto round = round::lay_out(hand->day);
    face.out << (options->json ? report::round_as_json(round)
                               : report::round_as_text(round, face.style));
  });
}

void add_tools(CLI::App& program, Face& face) {
  auto* command = program.add_subcommand(
      "tools", "whose tools are whose, what may be shared, and the fewest that keep a room apart");
  auto options = options_for<PageOptions>(*command);
  options->book.add_to(*command);
  add_date_option(*command, options->date);
  add_json_option(*command, options->json);
  command->callback([options, &face] {
    const auto book = open_book(options->book.path, face);
    if (!book) return;
    const auto hand = day_in_hand(*book, options->date, face);
    if (!hand) return;
    const auto watched = round::lay_out(hand->day).watched;
    face.out << (options->json ? report::tools_as_json(hand->day, watched)
                               : report::tools_as_text(hand->day, watched, face.style));
  });
}

/// What a page needs beside its record.
report::PageInput page_input(const book::Book& book, const DayInHand& hand,
                             const round::Round& round, const room::Subject& subject) {
  report::PageInput input{&hand.day, &round, book.latest_about(subject, kEntriesOnAPage), {}};
  for (const room::Entry& entry : input.latest) {
    if (book.is_struck(entry.id)) input.struck.push_back(entry.id);
  }
  return input;
}

/// The page of a record in a book: `warmside animal NAME`, `warmside enclosure NAME`.
std::shared_ptr<PageOptions> add_page_options(CLI::App& command) {
  auto options = options_for<PageOptions>(command);
  options->book.add_to(command);
  command.add_option("NAME", options->name, "its id or name")->required();
  add_date_option(command, options->date);
  add_json_option(command, options->json);
  return options;
}

/// Opens the book, finds the record and shows it: show(record, book, day in hand).
template <class Find, class Show>
void with_record(const PageOptions& options, Face& face, Find find, Show show) {
  const auto book = open_book(options.book.path, face);
  if (!book) return;
  const auto hand = day_in_hand(*book, options.date, face);
  if (!hand) return;
  const auto record = find(hand->room, options.name);
  if (!record) return face.refuse(record.problem());
  show(**record, *book, *hand);
}

/// Prints a record's page with today's work on it.
template <class AsText, class AsJson>
auto page_printed(bool json, Face& face, AsText as_text, AsJson as_json) {
  return [=, &face](const auto& record, const book::Book& book, const DayInHand& hand) {
    const auto round = round::lay_out(hand.day);
    const auto input = page_input(book, hand, round, room::subject_of(record));
    face.out << (json ? as_json(record, input) : as_text(record, input, face.style));
  };
}

void add_animal(CLI::App& program, Face& face) {
  auto* command = program.add_subcommand("animal", "everything known and computed about an animal");
  auto options = add_page_options(*command);
  auto picture = options_for<PictureOption>(*command);
  auto* asked = picture->add_to(*command, "--picture");
  asked->description("instead: a chart of its weights, a name ending in .png or .svg")
      ->excludes(command->get_option("--json"));
  command->footer("Example:\n  warmside animal moss --picture moss.png");
  command->callback([options, picture, asked, &face] {
    if (asked->count() == 0) {
      return with_record(
          *options, face, room::find_animal,
          page_printed(options->json, face, report::animal_as_text, report::animal_as_json));
    }
    const auto format = picture->format(face);
    if (!format) return;
    with_record(*options, face, room::find_animal,
                [&](const room::Animal& animal, const book::Book&, const DayInHand& hand) {
                  picture->draw(report::weight_picture(animal, hand.day), *format, face);
                });
  });
}

void add_enclosure(CLI::App& program, Face& face) {
  auto* command =
      program.add_subcommand("enclosure", "everything known and computed about an enclosure");
  struct Options : PictureOption {
    std::string at = "14:00";
  };
  auto options = add_page_options(*command);
  auto picture = options_for<Options>(*command);
  auto* asked = picture->add_to(*command, "--picture");
  asked->description("instead: maps of its heat and UV with the day, a name ending in .png or .svg")
      ->excludes(command->get_option("--json"));
  command->add_option("--at", picture->at, "time of day of the maps of heat; else 14:00")
      ->type_name("TIME")
      ->needs(asked);
  command->footer("Example:\n  warmside enclosure skink-table --picture skink.png --at 11:00");
  command->callback([options, picture, asked, &face] {
    if (asked->count() == 0) {
      return with_record(
          *options, face, room::find_enclosure,
          page_printed(options->json, face, report::enclosure_as_text, report::enclosure_as_json));
    }
    const auto format = picture->format(face);
    if (!format) return;
    const auto at = argument("--at", parse_time_of_day(picture->at), face);
    if (!at) return;
    with_record(*options, face, room::find_enclosure,
                [&](const room::Enclosure& enclosure, const book::Book&, const DayInHand& hand) {
                  picture->draw(report::enclosure_picture(enclosure, hand.day, at->minutes / 60.0),
                                *format, face);
                });
  });
}

/// The page of one row of a built-in table, or the list of those whose names hold the word.
/// find(id): the row or null. row(row, json, units) and list(word, json): their texts.
template <class Find, class Row, class List>
void add_table_command(CLI::App& program, Face& face, const char* name, const char* what,
                       const char* unknown, Find find, Row row, List list) {
  auto* command = program.add_subcommand(name, what);
  struct Arguments {
    std::string name;
    bool json = false;
    bool us = false;
  };
  auto options = options_for<Arguments>(*command);
  command->add_option("NAME", options->name, "an id, or part of a name; nothing lists all");
  command->add_flag("--us", options->us, "print in US customary units");
  add_json_option(*command, options->json);
  command->callback([=, &face] {
    if (const auto* found = find(options->name)) {
      face.out << row(*found, options->json, options->us ? UnitSystem::us : UnitSystem::metric);
      return;
    }
    if (list(options->name, false).empty()) {
      return face.refuse({ProblemCode::unknown_name,
                          unknown,
                          {},
                          fmt::format("a name that `warmside {}` lists", name),
                          options->name});
    }
    face.out << list(options->name, options->json);
  });
}

void add_species(CLI::App& program, Face& face) {
  add_table_command(
      program, face, "species", "a species' care profile, each value with its source",
      "no species of this name",
      [](const std::string& id) {
        return species::built_in().find(species::SpeciesId::trusted(id));
      },
      [&face](const species::Profile& profile, bool json, UnitSystem units) {
        return json ? report::species_as_json(profile)
                    : report::species_as_text(profile, units, face.style);
      },
      [&face](const std::string& text, bool json) {
        return json ? report::species_list_as_json(text)
                    : report::species_list_as_text(text, face.style);
      });
}

void add_foods(CLI::App& program, Face& face) {
  add_table_command(
      program, face, "foods", "what a food holds, each value with its trust and source",
      "no food of this name", [](const std::string& id) { return diet::find_food(id); },
      [&face](const diet::Food& food, bool json, UnitSystem units) {
        return json ? report::food_as_json(food) : report::food_as_text(food, units, face.style);
      },
      [&face](const std::string& text, bool json) {
        return json ? report::food_list_as_json(text) : report::food_list_as_text(text, face.style);
      });
}

void add_disinfectants(CLI::App& program, Face& face) {
  add_table_command(
      program, face, "disinfectants",
      "what a disinfectant reaches and how to handle it, each value with its trust and source",
      "no disinfectant of this name",
      [](const std::string& name) { return hygiene::find_disinfectant(name); },
      [&face](const hygiene::DisinfectantFact& fact, bool json, UnitSystem units) {
        return json ? report::disinfectant_as_json(fact)
                    : report::disinfectant_as_text(fact, units, face.style);
      },
      [&face](const std::string& text, bool json) {
        return json ? report::disinfectant_list_as_json(text)
                    : report::disinfectant_list_as_text(text, face.style);
      });
}

}  // namespace

void add_book_commands(CLI::App& program, Face& face) {
  add_demo(program, face);
  add_import(program, face);
  add_export(program, face);
  add_today(program, face);
  add_animal(program, face);
  add_enclosure(program, face);
  add_tools(program, face);
  add_species(program, face);
  add_foods(program, face);
  add_disinfectants(program, face);
  add_verify(program, face);
  add_backup(program, face);
}

}  // namespace warmside::cli
