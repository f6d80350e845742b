// calc: single computations that need no book.

#include <fmt/format.h>

#include <memory>

#include "cli/face.h"
#include "climate/moist_air.h"
#include "diet/metabolic_rate.h"
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

std::string json_of_energy(const diet::MetabolicRate& rate, std::optional<Energy> field,
                           Energy veterinary) {
  const auto& day = rate.per_day;
  return fmt::format(
      "{{\"standard_kj_per_day\": {}, \"standard_low_kj_per_day\": {}, "
      "\"standard_high_kj_per_day\": {}, \"field_kj_per_day\": {}, "
      "\"veterinary_kj_per_day\": {}, \"source\": \"{}\", \"trust\": \"{}\", \"spread\": \"{}\", "
      "\"field_source\": {}}}\n",
      day.middle.kilojoules(), day.low.kilojoules(), day.high.kilojoules(),
      field ? fmt::format("{}", field->kilojoules()) : "null", veterinary.kilojoules(), rate.source,
      word(rate.trust), rate.spread, field ? fmt::format("\"{}\"", diet::kFieldSource) : "null");
}

std::string page_of_energy(const diet::MetabolicRate& rate, std::optional<Energy> field,
                           Energy veterinary, const report::SheetStyle& style) {
  const auto in_a_day = [](Energy e) { return fmt::format("{:.3g} kJ", e.kilojoules()); };
  report::Sheet sheet(style);
  sheet.row("standard",
            fmt::format("{} a day; four animals in five: {} to {}", in_a_day(rate.per_day.middle),
                        in_a_day(rate.per_day.low), in_a_day(rate.per_day.high)),
            16, 0);
  sheet.row("in the field",
            field ? in_a_day(*field) + " a day: a ceiling, few kept animals move so much"
                  : "no equation for amphibians is known to us",
            16, 0);
  sheet.row("rule of thumb", in_a_day(veterinary) + " a day, 10 kcal times (kg)^0.75, near 35 °C",
            16, 0);
  sheet.line(
      fmt::format("Source: {} ({}); spread: {}.", rate.source, word(rate.trust), rate.spread), 2);
  if (field) sheet.line(fmt::format("Field: {}.", diet::kFieldSource), 2);
  sheet.line(
      "Standard means fasting and at rest; a kept adult wants about 1.5 to 2 times as much. The "
      "animal's own weight goes before any equation.",
      2);
  return sheet.text();
}

void add_energy(CLI::App& calc, Face& face) {
  auto* command =
      calc.add_subcommand("energy", "what an animal burns in a day, by mass and warmth");
  struct Arguments {
    std::string group, mass, temperature;
    bool json = false;
  };
  auto options = std::make_shared<Arguments>();
  command->add_option("--group", options->group, "snake, lizard, chelonian, frog or salamander")
      ->required()
      ->check(CLI::IsMember({"snake", "lizard", "chelonian", "frog", "salamander"}))
      ->type_name("G");
  command->add_option("--mass", options->mass, "such as 350g or 1.2lb")->required()->type_name("M");
  command->add_option("--temp", options->temperature, "of its body, such as 28C or 82F")
      ->required()
      ->type_name("T");
  add_json_option(*command, options->json);
  command->footer("Example:\n  warmside calc energy --group snake --mass 500g --temp 28C");
  command->callback([options, &face] {
    const auto mass = argument("--mass", parse<Mass>(options->mass), face);
    const auto body = argument("--temp", parse<Temperature>(options->temperature), face);
    if (!mass || !body) return;
    const Group group = *from_word<Group>(options->group);
    const auto rate = diet::metabolic_rate(group, *mass, *body);
    if (!rate) return face.refuse(rate.problem());
    const auto field = diet::field_energy_per_day(group, *mass);
    const Energy veterinary = diet::veterinary_need_per_day(*mass);
    face.out << (options->json ? json_of_energy(*rate, field, veterinary)
                               : page_of_energy(*rate, field, veterinary, face.style));
  });
}

}  // namespace

void add_calc_command(CLI::App& program, Face& face) {
  auto* calc = program.add_subcommand("calc", "single computations that need no book");
  calc->require_subcommand(1);
  add_air(*calc, face);
  add_dilute(*calc, face);
  add_energy(*calc, face);
}

}  // namespace warmside::cli
