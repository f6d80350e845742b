// The command line: reads the arguments, runs one command, turns its outcome into an exit code.

#include <fmt/format.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <iostream>

#include "cli/face.h"

namespace {

using namespace warmside;
using namespace warmside::cli;

int terminal_width() {
  winsize size{};
  if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) {
    return std::min<int>(size.ws_col, 100);
  }
  return 80;
}

Face make_face() {
  const bool terminal = isatty(STDOUT_FILENO) != 0;
  std::random_device seed;
  std::seed_seq seeds{seed(), seed(), seed(), seed()};
  Face face{std::cout,
            std::cerr,
            Instant::unix_ms(std::chrono::duration_cast<std::chrono::milliseconds>(
                                 std::chrono::system_clock::now().time_since_epoch())
                                 .count()),
            std::mt19937_64(seeds),
            {terminal && std::getenv("NO_COLOR") == nullptr, terminal_width()},
            isatty(STDERR_FILENO) != 0};
  return face;
}

int wrong_usage(const CLI::App& program, const CLI::ParseError& e) {
  std::string what = e.what();
  std::string chain = "warmside";
  const CLI::App* command = &program;
  while (!command->get_subcommands().empty()) {
    command = command->get_subcommands().front();
    chain += " " + command->get_name();
  }
  // CLI11 says only that a command is needed when it does not know the one that was given.
  const auto left = program.remaining(true);
  if (!command->get_subcommands(nullptr).empty() && !left.empty() && left.front()[0] != '-') {
    what = fmt::format("there is no command \"{} {}\"", chain, left.front());
  }
  std::cerr << what << "\nTry: " << chain << " --help\n";
  return kWrongUsage;
}

}  // namespace

int main(int argc, char** argv) {
  Face face = make_face();
  CLI::App program(
      "Warmside keeps the book of a room of reptiles and amphibians and works out today's round.\n"
      "Quantities carry their unit: 28C, 82F, 350g, 12.5oz, 60cm, 30min, 55%.\n"
      "\nExamples:\n"
      "  warmside demo demo && warmside today --book demo/room.db\n"
      "  warmside jot --book demo/room.db weigh juniper 812g\n"
      "  warmside jot --book demo/room.db fed juniper rowan --food \"adult mouse\" --count 1\n",
      "warmside");
  program.set_version_flag("--version", WARMSIDE_VERSION);
  program.require_subcommand(1);
  add_book_commands(program, face);
  add_jot_command(program, face);
  add_calc_command(program, face);
  add_climate_command(program, face);
  add_diet_command(program, face);
  add_health_command(program, face);
  add_power_command(program, face);
  add_light_command(program, face);
  add_trace_command(program, face);
  add_completion_command(program, face);
  try {
    program.parse(argc, argv);
  } catch (const CLI::CallForHelp& e) {
    return program.exit(e);
  } catch (const CLI::CallForAllHelp& e) {
    return program.exit(e);
  } catch (const CLI::CallForVersion& e) {
    return program.exit(e);
  } catch (const CLI::ParseError& e) {
    return wrong_usage(program, e);
  } catch (const book::DamagedBook& e) {
    std::cerr << e.what()
              << "\nKeep the file as it is. Run `warmside verify`, and go back to a backup or "
                 "import your last export into a new book.\n";
    return kBadData;
  } catch (const std::exception& e) {
    std::cerr << e.what() << "\n";
    return kMachineFailed;
  }
  std::cout.flush();
  if (!std::cout) {
    std::cerr << "the answer could not be written\n";
    return kMachineFailed;
  }
  return face.exit_code;
}
