// climate: what an enclosure's build and heaters make of its air and ground.

#include <fmt/format.h>

#include <atomic>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <memory>

#include "cli/face.h"
#include "climate/case_file.h"
#include "climate/case_from_room.h"
#include "climate/enclosure_climate.h"
#include "climate/netlist.h"
#include "report/climate_report.h"
#include "room/look_up.h"

namespace warmside::cli {
namespace {

/// Up to here a run switches thermostats for real and records every minute.
constexpr double kMostRealHours = 72;

/// A case with the weather that it names, or why not.
std::optional<climate::EnclosureCase> case_of(const std::string& path, Face& face) {
  const auto text = text_of(path, face);
  if (!text) return std::nullopt;
  auto read = climate::read_case_file(*text, path);
  if (!read) {
    face.refuse(read.problem());
    return std::nullopt;
  }
  climate::EnclosureCase enclosure = std::move(read).value();
  if (!enclosure.room.weather.empty()) {
    const auto beside = std::filesystem::path(path).parent_path() / enclosure.room.weather;
    const auto csv = text_of(beside.string(), face);
    if (!csv) return std::nullopt;
    auto weather = climate::read_weather(*csv, beside.string());
    if (!weather) {
      face.refuse(weather.problem());
      return std::nullopt;
    }
    enclosure.weather = std::move(weather).value();
  }
  return enclosure;
}

/// A hand on Ctrl-C while a long run goes on: the run ends early and says so.
class Interruptible {
 public:
  Interruptible() : before_(std::signal(SIGINT, [](int) { pressed = true; })) {}
  ~Interruptible() { std::signal(SIGINT, before_); }
  Interruptible(const Interruptible&) = delete;
  Interruptible& operator=(const Interruptible&) = delete;
  static bool stopped() { return pressed; }

 private:
  static inline std::atomic<bool> pressed = false;
  void (*before_)(int);
};

/// Shows how far a run is and whether to go on.
std::function<bool(double)> progress_on(Face& face) {
  return [&face](double share) {
    face.show_share("computing", share);
    return !Interruptible::stopped();
  };
}

struct CaseOptions {
  std::string path, units = "metric";
  bool json = false;
  UnitSystem unit_system() const { return *from_word<UnitSystem>(units); }
};

void add_case_option(CLI::App& command, std::string& path) {
  command.add_option("case", path, "a case file (docs/case-file.md)")
      ->required()
      ->type_name("FILE");
}

void add_solve(CLI::App& climate, Face& face) {
  auto* command = climate.add_subcommand("solve", "the state an enclosure settles to");
  struct Options : CaseOptions {
    std::string at = "12:00";
    bool stuck_on = false, coarse = false;
  };
  auto options = std::make_shared<Options>();
  add_case_option(*command, options->path);
  command->add_option("--at", options->at, "time of day for timers and set points; else 12:00")
      ->type_name("TIME");
  command->add_flag("--stuck-on", options->stuck_on,
                    "as if every thermostat had failed with its heater on");
  command->add_flag("--coarse", options->coarse, "with the few cells of long runs");
  add_units_option(*command, options->units);
  add_json_option(*command, options->json);
  command->footer("Example:\n  warmside climate solve royal.toml");
  command->callback([options, &face] {
    const auto at = argument("--at", parse_time_of_day(options->at), face);
    if (!at) return;
    const auto enclosure = case_of(options->path, face);
    if (!enclosure) return;
    climate::SteadyQuestion question;
    question.second_of_day = at->minutes * 60.0;
    question.stuck_on = options->stuck_on;
    if (options->coarse) question.resolution = climate::zonal_resolution();
    const auto answer = climate::steady_climate(*enclosure, question);
    if (!answer) return face.refuse(answer.problem());
    face.out << (options->json ? report::steady_as_json(*enclosure, *answer)
                               : report::steady_as_text(*enclosure, *answer, options->unit_system(),
                                                        face.style));
  });
}

void add_run(CLI::App& climate, Face& face) {
  auto* command = climate.add_subcommand("run", "the course of an enclosure over hours or years");
  struct Options : CaseOptions {
    double hours = 0;
    std::string every, start = "00:00";
    bool mean_duty = false;
  };
  auto options = std::make_shared<Options>();
  add_case_option(*command, options->path);
  command->add_option("--hours", options->hours, "how long")->required()->type_name("H");
  command->add_option("--every", options->every, "between records; else 1min, over 72 h 1h")
      ->type_name("DURATION");
  command->add_option("--start", options->start, "time of day at the begin; else 00:00")
      ->type_name("TIME");
  command->add_flag("--mean-duty", options->mean_duty,
                    "thermostats by their mean duty, as over 72 h: much faster");
  add_units_option(*command, options->units);
  add_json_option(*command, options->json);
  command->footer("Example:\n  warmside climate run royal.toml --hours 48");
  command->callback([options, &face] {
    climate::RunOptions run;
    run.hours = options->hours;
    const bool real = run.hours <= kMostRealHours && !options->mean_duty;
    run.switching = real ? climate::Switching::real : climate::Switching::mean_duty;
    run.step_s = real ? 60 : 1800;
    run.record_every_s = run.hours <= kMostRealHours ? 60 : 3600;
    if (!options->every.empty()) {
      const auto every = argument("--every", parse<Duration>(options->every), face);
      if (!every) return;
      run.record_every_s = every->seconds();
    }
    const auto start = argument("--start", parse_time_of_day(options->start), face);
    if (!start) return;
    run.start_second_of_day = start->minutes * 60.0;
    if (!(run.hours > 0 && run.hours <= 10 * 8784) || !(run.record_every_s >= 1) ||
        run.hours * 3600 / run.record_every_s > 2e6) {
      return face.refuse(
          Problem{ProblemCode::out_of_range,
                  "a run that cannot be",
                  {"", 0, "--hours"},
                  "more than 0 hours, at most ten years, at most 2,000,000 records of "
                  "1s apart or more",
                  fmt::format("{:g}", run.hours)});
    }
    const auto enclosure = case_of(options->path, face);
    if (!enclosure) return;
    const Interruptible hand;
    run.progress = progress_on(face);
    const auto course = climate::climate_course(*enclosure, run);
    face.show_share("computing", 1);
    if (!course) return face.refuse(course.problem());
    face.out << (options->json ? report::course_as_json(*enclosure, *course)
                               : report::course_as_text(*enclosure, *course, options->unit_system(),
                                                        face.style));
    if (course->stopped) face.exit_code = kBadData;
  });
}

void add_network(CLI::App& climate, Face& face) {
  auto* command =
      climate.add_subcommand("network", "the case as a network for another program to solve");
  struct Options : CaseOptions {
    std::string format = "spice";
    double hours = 24;
    bool mean_duty = false;
  };
  auto options = std::make_shared<Options>();
  add_case_option(*command, options->path);
  command->add_option("--format", options->format, "spice: a netlist for a circuit simulator")
      ->check(CLI::IsMember({"spice"}))
      ->type_name("FORMAT");
  command->add_option("--hours", options->hours, "of the transient analysis; else 24")
      ->check(CLI::Range(0.01, 87840.0))
      ->type_name("H");
  command->add_flag("--mean-duty", options->mean_duty, "thermostats by their mean duty");
  command->footer("Example:\n  warmside climate network royal.toml --format spice > royal.cir");
  command->callback([options, &face] {
    const auto enclosure = case_of(options->path, face);
    if (!enclosure) return;
    climate::NetlistOptions netlist;
    netlist.hours = options->hours;
    netlist.mean_duty = options->mean_duty;
    const auto built = climate::build_network(*enclosure, climate::zonal_resolution());
    face.out << climate::spice_netlist(built.network, netlist);
  });
}

void add_case(CLI::App& climate, Face& face) {
  auto* command = climate.add_subcommand("case", "an enclosure of the room book as a case file");
  struct Options {
    BookOption book;
    std::string name;
  };
  auto options = std::make_shared<Options>();
  options->book.add_to(*command);
  command->add_option("enclosure", options->name, "its id or name")->required()->type_name("NAME");
  command->footer("Example:\n  warmside climate case rack-a-1 > rack-a-1.toml");
  command->callback([options, &face] {
    auto opened = book::Book::open(options->book.path, {});
    if (!opened) return face.refuse(opened.problem());
    const room::Room room = opened->room();
    const auto enclosure = room::find_enclosure(room, options->name);
    if (!enclosure) return face.refuse(enclosure.problem());
    const Zone zone = room::zone_of(room);
    const Date date = zone.date_of(face.now);
    const auto history = opened->history(room::recalled_for_a_day(), zone.start_of(date + 1));
    const room::Day day = room::make_day(room, history, date);
    const auto made = climate::case_from_room(day, **enclosure);
    if (!made) return face.refuse(made.problem());
    face.out << "# " << room::called(**enclosure) << ", from the room book. Assumed:\n";
    for (const std::string& assumed : made->assumed) face.out << "# - " << assumed << "\n";
    face.out << climate::write_case_file(made->enclosure, room.info.units);
  });
}

void add_map(CLI::App& climate, Face& face) {
  auto* command = climate.add_subcommand("map", "a picture of what an animal feels where and when");
  struct Options : CaseOptions {
    PictureOption picture;
    std::string prefer, mass = "100g", at = "14:00";
    bool slender = false;
  };
  auto options = std::make_shared<Options>();
  add_case_option(*command, options->path);
  options->picture.add_to(*command, "--out")->required();
  command->add_option("--prefer", options->prefer, "the preferred range, such as 28C..32C")
      ->type_name("RANGE");
  command->add_option("--mass", options->mass, "of the animal; else 100g")->type_name("MASS");
  command->add_flag("--slender", options->slender, "a snake or legless lizard");
  command->add_option("--at", options->at, "time of day of the maps; else 14:00")
      ->type_name("TIME");
  add_units_option(*command, options->units);
  command->footer(
      "Example:\n  warmside climate map royal.toml --out royal.png --prefer 28C..32C --mass 1.2kg "
      "--slender");
  command->callback([options, &face] {
    const auto format = options->picture.format(face);
    if (!format) return;
    report::PictureQuestion question;
    const auto at = argument("--at", parse_time_of_day(options->at), face);
    const auto mass = argument("--mass", parse<Mass>(options->mass), face);
    if (!at || !mass) return;
    if (*mass < Mass::milligrams(100) || *mass > Mass::kilograms(300)) {
      return face.refuse(Problem{ProblemCode::out_of_range,
                                 "not the mass of an animal kept here",
                                 {"", 0, "--mass"},
                                 "0.1g to 300kg",
                                 options->mass});
    }
    question.hour = at->minutes / 60.0;
    question.body = {*mass, options->slender};
    if (!options->prefer.empty()) {
      const auto range = argument("--prefer", parse_range<Temperature>(options->prefer), face);
      if (!range) return;
      question.preferred = *range;
    }
    const auto enclosure = case_of(options->path, face);
    if (!enclosure) return;
    const auto picture = report::climate_picture(*enclosure, question, options->unit_system());
    options->picture.draw(picture, *format, face);
  });
}

void add_room(CLI::App& climate, Face& face) {
  auto* command =
      climate.add_subcommand("room", "many enclosures that share a room's air and its heater");
  struct Options : CaseOptions {
    std::vector<std::string> paths;
    int copies = 1, threads = 2;
    double hours = 8760;
  };
  auto options = std::make_shared<Options>();
  command
      ->add_option("cases", options->paths,
                   "case files; the first one's [room] with its walls is the room")
      ->required()
      ->type_name("FILE");
  command->add_option("--copies", options->copies, "of each enclosure; else 1")
      ->check(CLI::Range(1, 200))
      ->type_name("N");
  command->add_option("--hours", options->hours, "how long; else a year, 8760")
      ->check(CLI::Range(1.0, 87840.0))
      ->type_name("H");
  command->add_option("--threads", options->threads, "to compute on; else 2")
      ->check(CLI::Range(1, 64))
      ->type_name("N");
  add_units_option(*command, options->units);
  add_json_option(*command, options->json);
  command->footer("Example:\n  warmside climate room royal.toml frogs.toml --copies 20");
  command->callback([options, &face] {
    std::vector<climate::EnclosureCase> cases;
    for (const std::string& path : options->paths) {
      auto one = case_of(path, face);
      if (!one) return;
      cases.push_back(std::move(*one));
    }
    if (!cases.front().room.walls_w_per_k) {
      return face.refuse(Problem{ProblemCode::missing,
                                 "the room has no walls",
                                 {options->paths.front(), 0, "room.walls_w_per_k"},
                                 "W for each K through walls and windows, such as 60",
                                 ""});
    }
    climate::RoomRunOptions run;
    run.hours = options->hours;
    run.threads = options->threads;
    const Interruptible hand;
    run.progress = progress_on(face);
    const auto room = climate::room_climate(cases, options->copies, run);
    face.show_share("computing", 1);
    if (!room) return face.refuse(room.problem());
    face.out << (options->json ? report::room_as_json(*room)
                               : report::room_as_text(*room, options->unit_system(), face.style));
    if (room->course.stopped) face.exit_code = kBadData;
  });
}

}  // namespace

void add_climate_command(CLI::App& program, Face& face) {
  auto* climate = program.add_subcommand(
      "climate", "heat and moisture in an enclosure, computed from what it is made of");
  climate->require_subcommand(1);
  add_solve(*climate, face);
  add_run(*climate, face);
  add_map(*climate, face);
  add_room(*climate, face);
  add_network(*climate, face);
  add_case(*climate, face);
}

}  // namespace warmside::cli
