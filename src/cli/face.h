#pragma once
// What the command line hands to its commands: where to write, the time, chance, and how an answer
// of "no" or bad data becomes an exit code. docs/commands.md lists the commands and the codes.

#include <CLI/CLI.hpp>
#include <ostream>
#include <random>
#include <string>

#include "book/book.h"
#include "core/problem.h"
#include "report/picture.h"
#include "report/sheet.h"

namespace warmside::cli {

/// The exit codes that scripts can rely on.
enum ExitCode { kDone = 0, kBadData = 1, kWrongUsage = 2, kMachineFailed = 3 };

struct Face {
  std::ostream& out;
  std::ostream& err;
  Instant now;
  std::mt19937_64 random;
  report::SheetStyle style;     // of the output, when it is a terminal
  bool progress_shown = false;  // whether progress may be drawn on err
  int exit_code = kDone;

  /// Says what is wrong with the data, one line each, and sets the exit code.
  void refuse(const Problems& problems);
  void refuse(const Problem& problem) { refuse(Problems{problem}); }
  /// Redraws one line of progress, "reading 40,000 lines ..."; wipes it when `done`.
  void show_progress(const std::string& what, std::int64_t lines, bool done = false);
  /// The same with a share from 0 to 1, "computing 40 % ..."; wipes it at 1.
  void show_share(const std::string& what, double share);
};

/// Options that most commands share.
struct BookOption {
  std::string path = "room.db";
  void add_to(CLI::App& command);
};
void add_json_option(CLI::App& command, bool& json);
void add_units_option(CLI::App& command, std::string& units);

/// A picture that a command draws into a file. Its name is then all that the command prints.
struct PictureOption {
  std::string path;
  int width_px = report::kPictureWidth_px;
  /// Adds the option, such as "--out", and --width; returns the first.
  CLI::Option* add_to(CLI::App& command, const std::string& option);
  /// What the file's name asks for; another than .png and .svg is said.
  std::optional<report::PictureFormat> format(Face& face) const;
  /// Writes the file whole or not at all, or says why it cannot be drawn.
  template <class Picture>
  void draw(const Result<Picture>& picture, report::PictureFormat format, Face& face) const {
    if (!picture) return face.refuse(picture.problem());
    write(report::as_file(*picture, format, width_px), face);
  }

 private:
  void write(const Result<std::string>& file, Face& face) const;
  std::string option_;
};

/// The text of a file of at most 64 MB; what stands in the way is said.
std::optional<std::string> text_of(const std::string& path, Face& face);

/// What an option was read as; an error is said with the option's name.
template <class Q>
std::optional<Q> argument(const char* option, const Result<Q>& value, Face& face) {
  if (value) return *value;
  Problem problem = value.problem();
  problem.where.field = option;
  face.refuse(problem);
  return std::nullopt;
}

/// Each adds its commands to the program.
void add_book_commands(CLI::App& program, Face& face);
void add_jot_command(CLI::App& program, Face& face);
void add_calc_command(CLI::App& program, Face& face);
void add_climate_command(CLI::App& program, Face& face);
void add_diet_command(CLI::App& program, Face& face);
void add_health_command(CLI::App& program, Face& face);
void add_power_command(CLI::App& program, Face& face);
void add_light_command(CLI::App& program, Face& face);
void add_trace_command(CLI::App& program, Face& face);
/// uv and lamp, below `calc`.
void add_uv_calculations(CLI::App& calc, Face& face);
void add_completion_command(CLI::App& program, Face& face);

/// The room's zone, or UTC where the book names none that is known.
Zone zone_of(const room::Room& room);

}  // namespace warmside::cli
