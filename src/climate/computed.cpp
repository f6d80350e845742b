#include "climate/computed.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <span>

namespace warmside::climate {
namespace {

using species::Key;

// How wrong a computed value may well be, from what is assumed about places, ground and air; of the
// cool side more, since half the enclosure counts as one. Guesses; common practice, no source; see
// docs/models/climate.md, limits.
constexpr double kAirDoubt_k = 2, kCoolDoubt_k = 3, kSurfaceDoubt_k = 4, kHumidityDoubt = 0.15;
constexpr double kJoulesPerKwh = 3.6e6;
constexpr double kNoRest = 0.99;

/// Mean over the hours [from, to) of the day.
double mean_over(const std::vector<double>& hours, int from, int to) {
  double sum = 0;
  for (int h = from; h < to; ++h) sum += hours[static_cast<std::size_t>(h)];
  return sum / (to - from);
}

/// A value of a settled day, with those of half and twice the air through a mesh lid.
using Value = std::function<double(const ClimateDay&)>;

class Judge {
 public:
  Judge(const room::Day& day, const room::Enclosure& enclosure, std::span<const ClimateDay> days,
        EnclosureOutlook& out)
      : units_(day.room->info.units),
        animals_(day.animals_in(enclosure.id)),
        days_(days),
        out_(out) {}

  void judge() {
    temperature("warm side, air", Key::warm_side_air, kAirDoubt_k,
                [](const ClimateDay& d) { return mean_over(d.warm_air_k, 12, 16); });
    temperature("cool side, air", Key::cool_side, kCoolDoubt_k,
                [](const ClimateDay& d) { return mean_over(d.cool_air_k, 12, 16); });
    if (!days_.front().basking_k.empty()) {
      temperature("basking surface", Key::basking_surface, kSurfaceDoubt_k,
                  [](const ClimateDay& d) { return mean_over(d.basking_k, 12, 16); });
    }
    temperature("lowest at night, cool side", Key::night, kAirDoubt_k, [](const ClimateDay& d) {
      return *std::min_element(d.cool_air_k.begin(), d.cool_air_k.end());
    });
    humidity([](const ClimateDay& d) { return mean_over(d.humidity, 0, 24); });
  }

 private:
  /// Each awake animal's range; the worst standing stays.
  template <class Q, class Beyond>
  void against(const char* place, Key key, Q value, const std::string& shown_value, Beyond beyond) {
    std::optional<Outlook> worst;
    for (const room::AnimalDay* animal : animals_) {
      if (animal->brumating_since) continue;
      const species::Fact* fact = animal->profile.find(key);
      if (fact == nullptr) continue;
      const auto& range = std::get<Range<Q>>(fact->value);
      Outlook one;
      one.place = place;
      one.value = shown_value;
      one.wanted = species::for_people(fact->value, units_);
      one.standing = room::standing(value, range);
      one.surely = one.standing == room::Standing::outside && beyond(value, range);
      one.fact = fact;
      one.who = animal->profile.common_name;
      if (!worst || one.standing > worst->standing || (one.surely && !worst->surely)) {
        worst = std::move(one);
      }
    }
    if (worst) out_.places.push_back(std::move(*worst));
  }

  /// "24.5 °C", or "24.5 °C (24.1 to 25.2 °C)".
  template <class Shown>
  std::string banded(const Value& value, double worth, Shown text) const {
    const double middle = value(days_.front());
    double low = middle, high = middle;
    for (const ClimateDay& day : days_) {
      low = std::min(low, value(day));
      high = std::max(high, value(day));
    }
    if (high - low < worth) return text(middle);
    return fmt::format("{} ({} to {})", text(middle), text(low), text(high));
  }

  void temperature(const char* place, Key key, double doubt_k, const Value& value) {
    const std::string shown_value =
        banded(value, 0.1, [&](double k) { return for_people(Temperature::kelvin(k), units_); });
    against<Temperature>(place, key, Temperature::kelvin(value(days_.front())), shown_value,
                         [&](Temperature t, const auto& range) {
                           const TemperatureDelta doubt = TemperatureDelta::kelvin(doubt_k);
                           return t < range.low - doubt || t > range.high + doubt;
                         });
  }
  void humidity(const Value& value) {
    const auto percentage = [](double share) {
      return Percentage::percent(std::round(100 * std::clamp(share, 0.0, 1.0)));
    };
    const std::string shown_value =
        banded(value, 0.01, [&](double share) { return for_people(percentage(share), units_); });
    against<Percentage>("humidity, mean of the day", Key::humidity,
                        percentage(value(days_.front())), shown_value,
                        [&](Percentage p, const auto& range) {
                          return p.share() < range.low.share() - kHumidityDoubt ||
                                 p.share() > range.high.share() + kHumidityDoubt;
                        });
  }

  UnitSystem units_;
  std::vector<const room::AnimalDay*> animals_;
  std::span<const ClimateDay> days_;
  EnclosureOutlook& out_;
};

}  // namespace

DayQuestion wanted_warmth(const room::Day& day, const room::Enclosure& enclosure) {
  DayQuestion question;
  for (const room::AnimalDay* animal : day.animals_in(enclosure.id)) {
    const auto* range = animal->profile.value<Range<Temperature>>(Key::warm_side_air);
    if (animal->brumating_since || range == nullptr) continue;
    question.preferred = *range;
    question.body.slender = animal->profile.group == Group::snake;
    const auto* adult = animal->profile.value<Range<Mass>>(Key::adult_mass);
    if (animal->weighing != nullptr && animal->weighing->mass) {
      question.body.mass = *animal->weighing->mass;
    } else if (adult != nullptr) {
      question.body.mass = (adult->low + adult->high) / 2;
    }
    break;
  }
  return question;
}

namespace {

Finding finding_for(const room::Day& day, const room::Enclosure& enclosure,
                    const EnclosureOutlook& outlook, const std::vector<std::string>& notes,
                    const std::string& headline) {
  Finding finding;
  finding.when = When::good_to_know;
  finding.subject_kind = "enclosure";
  finding.subject = enclosure.id.text();
  finding.headline = headline;
  for (const std::string& note : notes) finding.evidence += note + " ";
  finding.evidence +=
      fmt::format("Room at {} by day.",
                  for_people(outlook.made.enclosure.room.temperature, day.room->info.units));
  finding.advice =
      "Computed, not measured: read the places with a thermometer first. If the readings agree, "
      "see "
      "what is assumed (`warmside enclosure NAME`) and try changes on the case (`warmside climate "
      "case`) before buying or moving anything. Keep every heater on a thermostat; wiring is for a "
      "licensed electrician.";
  finding.source = "docs/models/climate.md; ranges from the species' profiles";
  finding.module = "climate";
  return finding;
}

}  // namespace

Result<EnclosureOutlook> enclosure_outlook(const room::Day& day, const room::Enclosure& enclosure,
                                           bool band) {
  auto made = case_from_room(day, enclosure);
  if (!made) return made.problem();
  EnclosureOutlook out;
  out.made = std::move(made).value();
  const EnclosureCase& c = out.made.enclosure;
  if (c.heaters.empty()) {
    return Problem{ProblemCode::missing,
                   "nothing in the book heats or lights it",
                   {"", 0, "enclosure " + enclosure.id.text()},
                   "a heater or lamp with its power",
                   ""};
  }
  const DayQuestion question = wanted_warmth(day, enclosure);
  const auto climate = climate_day(c, question);
  if (!climate) return climate.problem();
  std::vector<ClimateDay> days{*climate};
  if (band && has_open_mesh(c)) {
    for (const double factor : {0.5, 2.0}) {
      EnclosureCase other = c;
      other.openings.lid_flow_factor *= factor;
      const auto one = climate_day(other);
      if (!one) return one.problem();
      days.push_back(*one);
    }
  }
  out.heat_balance_error = climate->heat_balance_error;
  for (std::size_t hour = 0; hour < out.ends.size(); ++hour) {
    const auto [low, high] = std::minmax({climate->cool_air_k[hour], climate->cool_floor_k[hour],
                                          climate->warm_air_k[hour], climate->warm_floor_k[hour]});
    out.ends[hour] = {Temperature::kelvin(low), Temperature::kelvin(high)};
  }
  out.quality = climate->quality;
  out.preferred = question.preferred;
  Judge(day, enclosure, days, out).judge();
  for (std::size_t h = 0; h < c.heaters.size(); ++h) {
    HeaterOutlook one;
    one.name = c.heaters[h].name;
    one.duty = climate->duty[h];
    one.mean_w = climate->energy_j[h] / 86400;
    one.kwh_per_month = climate->energy_j[h] * kDaysPerMonth / kJoulesPerKwh;
    one.flat_out = !c.heaters[h].thermostat.empty() && climate->afternoon_duty[h] > kNoRest;
    out.kwh_per_month += one.kwh_per_month;
    out.heaters.push_back(std::move(one));
  }
  if (const auto price = day.room->info.electricity_price)
    out.cost_per_month = *price * out.kwh_per_month;
  return out;
}

std::vector<Finding> computed_findings(const room::Day& day) {
  std::vector<Finding> found;
  for (const room::Enclosure& enclosure : day.room->enclosures) {
    if (!room::in_use(enclosure, day.date) || day.animals_in(enclosure.id).empty()) continue;
    const auto outlook = enclosure_outlook(day, enclosure, false);
    if (!outlook) continue;  // the book says too little of it; its page says what is missing
    std::vector<std::string> notes;
    std::string first;
    for (const Outlook& place : outlook->places) {
      if (!place.surely) continue;
      if (first.empty()) {
        first = fmt::format("{} computed at {}, wanted {}", place.place, place.value, place.wanted);
      }
      notes.push_back(fmt::format("{}: {}; {} wants {} ({}).", place.place, place.value, place.who,
                                  place.wanted, word(place.fact->trust)));
    }
    for (const HeaterOutlook& heater : outlook->heaters) {
      if (!heater.flat_out) continue;
      if (first.empty()) {
        first = fmt::format("{} would run all afternoon without a rest", heater.name);
      }
      notes.push_back(fmt::format("{} runs at full power all afternoon.", heater.name));
    }
    if (first.empty()) continue;
    found.push_back(finding_for(day, enclosure, *outlook, notes,
                                fmt::format("{}: {}", room::called(enclosure), first)));
  }
  return found;
}

}  // namespace warmside::climate
