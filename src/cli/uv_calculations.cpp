// calc uv and calc lamp: ultraviolet without a book.

#include <fmt/format.h>

#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <numbers>

#include "cli/face.h"
#include "light/erythema.h"
#include "light/uv_field.h"

namespace warmside::cli {
namespace {

using Json = nlohmann::ordered_json;

constexpr int kLabelWidth = 20;
constexpr const char* kCaution =
    "UV hurts eyes and skin, yours too: never look into the lamp, keep the distance its maker "
    "gives, and leave the animals a way into full shade. Computed, not measured: a UV index meter "
    "at the basking place goes first.";
constexpr double kMostTable_m = 10;

void add_uv(CLI::App& calc, Face& face) {
  auto* command =
      calc.add_subcommand("uv", "the UV index and the UVB of a spectrum, by the CIE's weighting");
  struct Arguments {
    std::string spectrum;
    bool json = false;
  };
  auto options = std::make_shared<Arguments>();
  command
      ->add_option("--spectrum", options->spectrum,
                   "CSV with the columns wavelength_nm,irradiance_w_per_m2_nm")
      ->required()
      ->type_name("FILE");
  add_json_option(*command, options->json);
  command->footer("Example:\n  warmside calc uv --spectrum tube.csv");
  command->callback([options, &face] {
    const auto text = text_of(options->spectrum, face);
    if (!text) return;
    const auto spectrum = light::read_spectrum(*text, options->spectrum);
    if (!spectrum) return face.refuse(spectrum.problem());
    const auto made = light::erythema(*spectrum);
    if (!made) {
      Problem problem = made.problem();
      problem.where.file = options->spectrum;
      return face.refuse(problem);
    }
    if (options->json) {
      face.out << Json{{"uvi", made->uvi},
                       {"erythemal_w_per_m2", made->erythemal_w_per_m2},
                       {"uvb_w_per_m2", made->uvb_w_per_m2},
                       {"covered_from_nm", made->covered_from_nm},
                       {"covered_to_nm", made->covered_to_nm},
                       {"lower_bound", made->lower_bound},
                       {"uvb_lower_bound", made->uvb_lower_bound},
                       {"note", made->note}}
                      .dump()
               << '\n';
      return;
    }
    const auto bound = [](bool lower) { return lower ? "at least " : ""; };
    report::Sheet sheet(face.style);
    sheet.row("UV index", fmt::format("{}{:.3g}", bound(made->lower_bound), made->uvi), kLabelWidth,
              0);
    sheet.row("weighted",
              fmt::format("{}{:.4g} W/m2, ISO/CIE 17166, 250 to 400 nm", bound(made->lower_bound),
                          made->erythemal_w_per_m2),
              kLabelWidth, 0);
    sheet.row(
        "UVB",
        fmt::format("{}{:.4g} W/m2 ({:.4g} uW/cm2), 280 to 315 nm, unweighted",
                    bound(made->uvb_lower_bound), made->uvb_w_per_m2, made->uvb_w_per_m2 * 100),
        kLabelWidth, 0);
    if (!made->note.empty()) sheet.line(made->note, 2);
    sheet.line(kCaution, 2);
    face.out << sheet.text();
  });
}

struct LampArguments {
  std::string kind, length, table, distance, aside, along, mesh_open, reflector = "unknown";
  double beam_deg = 0, tilt_deg = 0;
  bool glass = false;
  bool json = false;
};

/// What is wrong with a number that has no type of its own.
void out_of_range(const char* option, std::string what, std::string expected, double found,
                  Face& face) {
  face.refuse(Problem{ProblemCode::out_of_range,
                      std::move(what),
                      {"", 0, option},
                      std::move(expected),
                      fmt::format("{}", found)});
}

/// A length that must be more than nothing (or, `or_nothing`, may be) and at most 10 m.
std::optional<Length> length_of(const char* option, const std::string& text, bool or_nothing,
                                Face& face) {
  const auto length = argument(option, parse<Length>(text), face);
  if (!length) return std::nullopt;
  if (length->metres() > kMostTable_m || (!or_nothing && !(*length > Length()))) {
    out_of_range(option, "no distance under a lamp",
                 or_nothing ? "0cm to 10m" : "more than nothing, at most 10m", length->metres(),
                 face);
    return std::nullopt;
  }
  return length;
}

/// The lamp that the options describe; what is wrong with them is said.
std::optional<light::KnownLamp> lamp_of(const LampArguments& options, bool beam_given, Face& face) {
  light::KnownLamp lamp;
  lamp.emitter = *from_word<light::Emitter>(options.kind);
  lamp.reflector = *from_word<room::Answer>(options.reflector);
  const bool tube = lamp.emitter == light::Emitter::tube;
  if (!options.length.empty()) {
    lamp.length = length_of("--length", options.length, false, face);
    if (!lamp.length) return std::nullopt;
  }
  if (beam_given) {
    if (!(options.beam_deg >= 1 && options.beam_deg <= 180)) {
      out_of_range("--beam", "no angle of a beam", "1 to 180 degrees", options.beam_deg, face);
      return std::nullopt;
    }
    lamp.beam_deg = options.beam_deg;
  }
  if ((tube && beam_given) || (!tube && !options.length.empty())) {
    face.refuse(Problem{ProblemCode::conflict,
                        tube ? "a tube has no beam" : "only a tube has a length",
                        {"", 0, tube ? "--beam" : "--length"},
                        tube ? "--length" : "--beam, where the data sheet gives one",
                        ""});
    return std::nullopt;
  }
  if (!options.table.empty()) {
    const auto table = argument("--table", room::UvTable::parse(options.table), face);
    if (!table) return std::nullopt;
    lamp.rows = table->rows;
  }
  if (!options.mesh_open.empty()) {
    lamp.mesh_open = argument("--mesh-open", parse<Percentage>(options.mesh_open), face);
    if (!lamp.mesh_open) return std::nullopt;
    if (!(lamp.mesh_open->share() > 0 && lamp.mesh_open->share() <= 1)) {
      out_of_range("--mesh-open", "no share of a mesh", "over 0% to 100%",
                   lamp.mesh_open->percent(), face);
      return std::nullopt;
    }
    lamp.screen = room::Screen::mesh;
  }
  if (options.glass) lamp.screen = room::Screen::closed;
  return lamp;
}

void answer_lamp(const LampArguments& options, bool beam_given, Face& face) {
  const auto lamp = lamp_of(options, beam_given, face);
  if (!lamp) return;
  const auto distance = length_of("--distance", options.distance, false, face);
  if (!distance) return;
  const auto aside = length_of("--aside", options.aside, true, face);
  if (!aside) return;
  const auto along = length_of("--along", options.along, true, face);
  if (!along) return;
  if (!(options.tilt_deg >= 0 && options.tilt_deg <= 180)) {
    return out_of_range("--tilt", "no tilt", "0 to 180 degrees", options.tilt_deg, face);
  }
  const auto field = light::LampField::from(*lamp);
  if (!field) {
    Problem problem = field.problem();
    problem.where.field = "--table";
    return face.refuse(problem);
  }
  const double tilt = options.tilt_deg * std::numbers::pi / 180;
  const light::UvBand band = field->at({along->metres(), aside->metres(), distance->metres()},
                                       {0, std::sin(tilt), std::cos(tilt)});
  const std::string rests_on =
      fmt::format("its data sheet, {} {}, as if it were new", lamp->rows.size(),
                  lamp->rows.size() == 1 ? "distance" : "distances");
  if (options.json) {
    face.out << Json{{"uvi", band.best},
                     {"uvi_low", band.low},
                     {"uvi_high", band.high},
                     {"rests_on", rests_on},
                     {"notes", field->notes()}}
                    .dump()
             << '\n';
    return;
  }
  report::Sheet sheet(face.style);
  sheet.row("UV index",
            fmt::format("{:.3g}, very likely {:.2g} to {:.2g}", band.best, band.low, band.high),
            kLabelWidth, 0);
  sheet.row("rests on", rests_on, kLabelWidth, 0);
  for (const std::string& note : field->notes()) sheet.line(note, 2);
  sheet.line(kCaution, 2);
  face.out << sheet.text();
}

void add_lamp(CLI::App& calc, Face& face) {
  auto* command = calc.add_subcommand(
      "lamp", "the UV index at a point under a lamp, from the table of its data sheet");
  auto options = std::make_shared<LampArguments>();
  options->aside = options->along = "0cm";
  command->add_option("--kind", options->kind, "tube, compact, flood or spot")
      ->required()
      ->check(CLI::IsMember({"tube", "compact", "flood", "spot"}))
      ->type_name("KIND");
  command->add_option("--length", options->length, "of a tube: the part that shines")
      ->type_name("L");
  auto* beam = command->add_option(
      "--beam", options->beam_deg,
      "of the others: the full angle within which it is at least half as strong, degrees");
  beam->type_name("DEG");
  command->add_option("--reflector", options->reflector, "of a tube: yes, no or unknown")
      ->check(CLI::IsMember({"yes", "no", "unknown"}))
      ->type_name("WORD");
  command
      ->add_option("--table", options->table,
                   "UV index at distances straight below, such as \"30cm 2.2UVI + 45cm 1.2UVI\"")
      ->type_name("TABLE");
  command->add_option("--distance", options->distance, "how far below its face")
      ->required()
      ->type_name("L");
  command->add_option("--aside", options->aside, "and to the side of it; else 0cm")->type_name("L");
  command->add_option("--along", options->along, "and along a tube from its middle; else 0cm")
      ->type_name("L");
  command
      ->add_option("--tilt", options->tilt_deg,
                   "of the surface, from facing up to facing away to that side, degrees; else 0")
      ->type_name("DEG");
  auto* mesh = command->add_option("--mesh-open", options->mesh_open,
                                   "mesh between: its open share, such as 64%");
  mesh->type_name("PCT");
  command->add_flag("--glass", options->glass, "a closed lid of glass or plastic between")
      ->excludes(mesh);
  add_json_option(*command, options->json);
  command->footer(
      "Example:\n  warmside calc lamp --kind tube --length 55cm --table \"30cm 2.2UVI + 45cm "
      "1.2UVI\" "
      "--distance 40cm");
  command->callback([options, beam, &face] { answer_lamp(*options, beam->count() > 0, face); });
}

}  // namespace

void add_uv_calculations(CLI::App& calc, Face& face) {
  add_lamp(calc, face);
  add_uv(calc, face);
}

}  // namespace warmside::cli
