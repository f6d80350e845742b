// calc: single computations that need no book.

#include <fmt/format.h>

#include <memory>

#include "cli/face.h"
#include "climate/moist_air.h"
#include "diet/metabolic_rate.h"
#include "hygiene/dilution.h"
#include "hygiene/measures.h"
#include "hygiene/water.h"
#include "light/sun.h"
#include "room/quoted_text.h"

namespace warmside::cli {
namespace {

/// "0.512 %", for a strength of any size.
std::string strength_in_words(double share) {
  return fmt::format("{:.3g} %", share * 100);
}

std::string page_of_dilution(const hygiene::Dilution& mixture, Percentage stock, UnitSystem units,
                             const report::SheetStyle& style) {
  const Volume whole = mixture.stock + mixture.water;
  report::Sheet sheet(style);
  sheet.line(fmt::format("{:.1f} mL of the stock and {:.1f} mL of water",
                         mixture.stock.millilitres(), mixture.water.millilitres()),
             0, 2, report::Tone::strong);
  const auto measured = hygiene::in_measures(mixture.stock, units);
  if (measured.volume < whole) {
    sheet.line(fmt::format("To measure: {} of the stock, filled up with water to {}; that makes "
                           "{}, not weaker than asked for.",
                           measured.words, for_people(whole, units),
                           strength_in_words(stock.share() * (measured.volume / whole))),
               2);
    if (units == UnitSystem::us) {
      sheet.line(
          fmt::format(
              "To a US gallon in all: {}.",
              hygiene::in_measures(Volume::us_gallons(1) * (mixture.stock / whole), units).words),
          2);
    }
  }
  sheet.line(
      "The label goes first. Water first, then the stock; gloves, eye protection, open air. Never "
      "mix bleach with ammonia or acid, nor any two disinfectants. Dirt makes every disinfectant "
      "useless: clean first. Keep it wet for the label's time, rinse, let dry; animals stay out of "
      "it, amphibians above all. Bleach that was mixed is good for a day. What it reaches: "
      "`warmside disinfectants`.",
      2);
  return sheet.text();
}

void add_dilute(CLI::App& calc, Face& face) {
  auto* command = calc.add_subcommand("dilute", "how much stock and how much water to mix");
  struct Arguments {
    std::string stock, target, volume;
    bool us = false;
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
  command->add_flag("--us", options->us, "measures in US spoons, cups and fluid ounces");
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
    face.out << page_of_dilution(*mixture, *stock,
                                 options->us ? UnitSystem::us : UnitSystem::metric, face.style);
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

std::string json_of_dechlorination(const hygiene::Dechlorination& water) {
  std::string unionised = "null";
  if (const auto& free = water.unionised) {
    unionised = fmt::format(
        "{{\"pka\": {}, \"share_pct\": {}, \"mg_per_l\": {}, \"limit_mg_per_l\": {}, "
        "\"above_limit\": {}}}",
        free->pka, free->share * 100, free->mg_per_l, hygiene::kAmphibianAmmoniaLimit_mg_per_l,
        free->above_amphibian_limit);
  }
  return fmt::format(
      "{{\"chlorine_mg\": {}, \"thiosulfate_pentahydrate_mg\": {}, "
      "\"thiosulfate_anhydrous_mg\": {}, \"pentahydrate_to_sulfur_mg\": {}, "
      "\"pentahydrate_to_sulfate_mg\": {}, \"ammonia_mg_per_l\": {}, "
      "\"ammonia_nitrogen_mg_per_l\": {}, \"unionised\": {}}}\n",
      water.chlorine.milligrams(), water.pentahydrate.milligrams(), water.anhydrous.milligrams(),
      water.pentahydrate_to_sulfur.milligrams(), water.pentahydrate_to_sulfate.milligrams(),
      water.ammonia_mg_per_l, water.nitrogen_mg_per_l, unionised);
}

std::string page_of_dechlorination(const hygiene::Dechlorination& water,
                                   const report::SheetStyle& style) {
  constexpr int kLabelWidth = 16;
  const auto mg = [](Mass mass) { return fmt::format("{:.3g} mg", mass.milligrams()); };
  report::Sheet sheet(style);
  sheet.line(fmt::format("{} of sodium thiosulfate pentahydrate, or {} of the anhydrous salt",
                         mg(water.pentahydrate), mg(water.anhydrous)),
             0, 2, report::Tone::strong);
  sheet.row("chlorine", fmt::format("{} in all, as Cl2", mg(water.chlorine)), kLabelWidth);
  // 7 g in 100 mL: 70 mg of the salt in 1 mL, which take 10 mg of chlorine.
  sheet.row("to measure",
            fmt::format("make a stock of 7 g pentahydrate in 100 mL of water; {:.2g} mL of it",
                        water.chlorine.milligrams() / 10),
            kLabelWidth);
  sheet.row("less would do",
            fmt::format("{} or {}, if it reacts further: the dose is on the safe side",
                        mg(water.pentahydrate_to_sulfur), mg(water.pentahydrate_to_sulfate)),
            kLabelWidth);
  if (water.ammonia_mg_per_l > 0) {
    sheet.row(
        "ammonia left",
        fmt::format("{:.2g} mg/L from the chloramine ({:.2g} mg/L as N): thiosulfate does not "
                    "take it away",
                    water.ammonia_mg_per_l, water.nitrogen_mg_per_l),
        kLabelWidth);
  }
  if (const auto& free = water.unionised) {
    sheet.row("un-ionised",
              fmt::format("{:.2g} mg/L, {:.2g} % of it: {} {:.2g} mg/L, the limit for amphibians",
                          free->mg_per_l, free->share * 100,
                          free->above_amphibian_limit ? "above" : "not above",
                          hygiene::kAmphibianAmmoniaLimit_mg_per_l),
              kLabelWidth);
  }
  sheet.line(
      "A conditioner's own label goes first, and one that binds ammonia too is the choice for "
      "chloramine. Test with strips for chlorine and ammonia before an animal goes in; aerate, "
      "since "
      "too much thiosulfate uses up oxygen. Ammonia that was in the water before is not counted. "
      "If "
      "an animal looks unwell, ask a veterinarian with reptile or amphibian experience.",
      2);
  sheet.line(
      "Sources: 2 S2O3(2-) + Cl2 -> S4O6(2-) + 2 Cl(-), seen on a public page; masses derived; "
      "Emerson et al. 1975 and the limit from memory.",
      2, 0, report::Tone::faint);
  return sheet.text();
}

void add_dechlorinate(CLI::App& calc, Face& face) {
  auto* command = calc.add_subcommand(
      "dechlorinate", "thiosulfate for chlorine and chloramine in tap water, and the ammonia left");
  struct Arguments {
    std::string volume, temperature;
    double chlorine = 0, chloramine = 0, ph = 0;
    bool json = false;
  };
  auto options = std::make_shared<Arguments>();
  command->add_option("--volume", options->volume, "how much water, such as 40L or 10gal")
      ->required()
      ->type_name("VOLUME");
  command->add_option("--chlorine", options->chlorine, "free chlorine, mg/L (ppm)")
      ->required()
      ->type_name("MG_PER_L");
  command->add_option("--chloramine", options->chloramine, "chloramine, mg/L as Cl2; else none")
      ->type_name("MG_PER_L");
  auto* ph = command->add_option("--ph", options->ph, "of the water, for the ammonia left");
  ph->type_name("PH");
  command->add_option("--temp", options->temperature, "of the water, such as 18C or 64F")
      ->type_name("T");
  add_json_option(*command, options->json);
  command->footer(
      "Example:\n  warmside calc dechlorinate --volume 40L --chlorine 0 --chloramine 2 --ph 7.5 "
      "--temp 18C");
  command->callback([options, ph, &face] {
    const auto volume = argument("--volume", parse<Volume>(options->volume), face);
    if (!volume) return;
    hygiene::TapWater water{*volume, options->chlorine, options->chloramine, {}, {}};
    if (ph->count() > 0) water.ph = options->ph;
    if (!options->temperature.empty()) {
      water.temperature = argument("--temp", parse<Temperature>(options->temperature), face);
      if (!water.temperature) return;
    }
    const auto found = hygiene::dechlorinate(water);
    if (!found) return face.refuse(found.problem());
    face.out << (options->json ? json_of_dechlorination(*found)
                               : page_of_dechlorination(*found, face.style));
  });
}

std::string json_of_sun(const light::SunDay& day, const Zone& zone) {
  const auto moment = [&](const std::optional<Instant>& t) {
    return t ? room::quoted(zone.instant_text(*t)) : "null";
  };
  return fmt::format(
      "{{\"sunrise\": {}, \"sunset\": {}, \"solar_noon\": {}, \"noon_elevation_deg\": {}, "
      "\"day_length_h\": {}, \"polar\": {}}}\n",
      moment(day.sunrise), moment(day.sunset), moment(day.solar_noon), day.noon_elevation_deg,
      day.day_length.hours(),
      day.polar == light::Polar::no ? "null" : room::quoted(word(day.polar)));
}

std::string page_of_sun(const light::SunDay& day, const Zone& zone,
                        const report::SheetStyle& style) {
  const auto event = [&](const std::optional<Instant>& t, const char* otherwise) {
    return t ? zone.instant_text(*t) : std::string(otherwise);
  };
  report::Sheet sheet(style);
  sheet.row("sunrise", event(day.sunrise, "none: it is up already, or stays down"), 16, 0);
  sheet.row("solar noon",
            fmt::format("{}, the sun {:.1f} degrees above the horizon", event(day.solar_noon, ""),
                        day.noon_elevation_deg),
            16, 0);
  sheet.row("sunset", event(day.sunset, "none: it stays up, or is down already"), 16, 0);
  sheet.row("day length",
            day.polar == light::Polar::day     ? "24 h: the sun is up all day"
            : day.polar == light::Polar::night ? "0 h: the sun stays down all day"
                                               : for_people(day.day_length),
            16, 0);
  sheet.line(
      "Upper limb on a flat horizon at sea level, usual refraction. Hills and houses shorten the "
      "real day; near the polar circles unusual air moves it by many minutes.",
      2);
  return sheet.text();
}

void add_sun(CLI::App& calc, Face& face) {
  auto* command = calc.add_subcommand("sun", "sunrise, sunset and day length at a place");
  struct Arguments {
    light::Place place;
    std::string date, zone;
    bool json = false;
  };
  auto options = std::make_shared<Arguments>();
  command->add_option("--lat", options->place.latitude_deg, "latitude, north positive")
      ->required()
      ->type_name("DEG");
  command->add_option("--lon", options->place.longitude_deg, "longitude, east positive")
      ->required()
      ->type_name("DEG");
  command->add_option("--date", options->date, "such as 2026-06-21")->required()->type_name("D");
  command->add_option("--zone", options->zone, "IANA time zone, such as Europe/Oslo")
      ->required()
      ->type_name("Z");
  add_json_option(*command, options->json);
  command->footer(
      "Example:\n  warmside calc sun --lat 60.39 --lon 5.32 --date 2026-06-21 --zone Europe/Oslo");
  command->callback([options, &face] {
    const auto date = argument("--date", parse_date(options->date), face);
    const auto zone = argument("--zone", Zone::named(options->zone), face);
    if (!date || !zone) return;
    const auto day = light::sun_day(options->place, *date, *zone);
    if (!day) return face.refuse(day.problem());
    face.out << (options->json ? json_of_sun(*day, *zone) : page_of_sun(*day, *zone, face.style));
  });
}

}  // namespace

void add_calc_command(CLI::App& program, Face& face) {
  auto* calc = program.add_subcommand("calc", "single computations that need no book");
  calc->require_subcommand(1);
  add_air(*calc, face);
  add_dechlorinate(*calc, face);
  add_dilute(*calc, face);
  add_energy(*calc, face);
  add_sun(*calc, face);
  add_uv_calculations(*calc, face);
}

}  // namespace warmside::cli
