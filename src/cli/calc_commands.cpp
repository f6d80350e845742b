// calc: single computations that need no book.

#include <fmt/format.h>

#include <memory>

#include "cli/face.h"
#include "climate/moist_air.h"
#include "hygiene/dilution.h"

namespace warmside::cli {
namespace {

void add_dilute(CLI::App& calc, Face& face) {
  auto* command = calc.add_subcommand("dilute", "how much stock and how much water to mix");
  struct Arguments {
    std::string stock, target, volume;
    bool json = false;
  };
  auto options = std::make_shared<Arguments>();
  command->add_option("--stock", options->stock, "strength of the stock, such as 5.25%")
      ->required()
      ->type_name("PCT");
  command->add_option("--target", options->target, "strength of the mixture, such as 0.5%")
      ->required()
      ->type_name("PCT");
  command->add_option("--volume", options->volume, "how much mixture, such as 2L or 1gal")
      ->required()
      ->type_name("VOLUME");
  add_json_option(*command, options->json);
  command->footer("Example:\n  warmside calc dilute --stock 5.25% --target 0.5% --volume 2L");
  command->callback([options, &face] {
    const auto stock = argument("--stock", parse<Percentage>(options->stock), face);
    const auto target = argument("--target", parse<Percentage>(options->target), face);
    const auto volume = argument("--volume", parse<Volume>(options->volume), face);
    if (!stock || !target || !volume) return;
    const auto mixture = hygiene::dilute(*stock, *target, *volume);
    if (!mixture) return face.refuse(mixture.problem());
    if (options->json) {
      face.out << fmt::format("{{\"stock_ml\": {}, \"water_ml\": {}}}\n",
                              mixture->stock.millilitres(), mixture->water.millilitres());
      return;
    }
    report::Sheet sheet(face.style);
    sheet.line(fmt::format("{:.1f} mL of the stock and {:.1f} mL of water",
                           mixture->stock.millilitres(), mixture->water.millilitres()),
               0, 2, report::Tone::strong);
    sheet.line(
        "Water first, then the stock; gloves and open air. Never mix bleach with ammonia or acid. "
        "Dirt makes any disinfectant useless: clean first. Follow the label's time, rinse, let "
        "dry; animals stay out of it, amphibians above all.",
        2);
    face.out << sheet.text();
  });
}

void add_air(CLI::App& calc, Face& face) {
  auto* command = calc.add_subcommand("air", "what temperature and humidity say about the air");
  struct Arguments {
    std::string temperature, humidity, pressure = "101325Pa";
    bool json = false;
  };
  auto options = std::make_shared<Arguments>();
  command->add_option("--temp", options->temperature, "such as 28C or 82F")
      ->required()
      ->type_name("T");
  command->add_option("--rh", options->humidity, "relative humidity, such as 70%")
      ->required()
      ->type_name("PCT");
  command->add_option("--pressure", options->pressure, "of the air; else 101325Pa")->type_name("P");
  add_json_option(*command, options->json);
  command->footer("Example:\n  warmside calc air --temp 28C --rh 70%");
  command->callback([options, &face] {
    const auto temperature = argument("--temp", parse<Temperature>(options->temperature), face);
    const auto humidity = argument("--rh", parse<Percentage>(options->humidity), face);
    const auto pressure = argument("--pressure", parse<Pressure>(options->pressure), face);
    if (!temperature || !humidity || !pressure) return;
    const auto air = climate::moist_air(*temperature, *humidity, *pressure);
    if (!air) return face.refuse(air.problem());
    if (options->json) {
      face.out << fmt::format(
          "{{\"saturation_pressure_pa\": {}, \"vapour_pressure_pa\": {}, \"humidity_ratio\": {}, "
          "\"dew_point_c\": {}, \"wet_bulb_c\": {}, \"enthalpy_j_per_kg\": {}, "
          "\"density_kg_per_m3\": {}}}\n",
          air->saturation_pressure.pascals(), air->vapour_pressure.pascals(), air->humidity_ratio,
          air->dew_point.celsius(), air->wet_bulb.celsius(), air->enthalpy_j_per_kg,
          air->density_kg_per_m3);
      return;
    }
    report::Sheet sheet(face.style);
    sheet.row("dew point", for_people(air->dew_point) + ": colder glass than this gets wet", 16, 0);
    sheet.row("wet bulb", for_people(air->wet_bulb), 16, 0);
    sheet.row("vapour",
              fmt::format("{:.2f} g in a cubic metre", air->vapour_density_kg_per_m3 * 1e3), 16, 0);
    face.out << sheet.text();
  });
}

}  // namespace

void add_calc_command(CLI::App& program, Face& face) {
  auto* calc = program.add_subcommand("calc", "single computations that need no book");
  calc->require_subcommand(1);
  add_air(*calc, face);
  add_dilute(*calc, face);
}

}  // namespace warmside::cli
