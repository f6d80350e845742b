#include "climate/readings.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>

#include "core/letters.h"
#include "room/standing.h"

namespace warmside::climate {
namespace {

using room::Entry;
using room::EntryKind;
using species::Key;

/// The latest reading of each place that has the part asked for, from the last days.
template <class Part>
std::map<std::string, const Entry*> latest_by_place(const room::Day& day,
                                                    const room::Enclosure& enclosure, Part part) {
  const Duration believed = species::care_rules().value<Duration>("reading_believed");
  std::map<std::string, const Entry*> latest;
  for (const Entry& entry : day.history->all(room::subject_of(enclosure), EntryKind::reading)) {
    if (entry.at < day.history->until() - believed || !(entry.*part)) continue;
    latest[lower(entry.item)] = &entry;  // oldest first, so the last one stays
  }
  return latest;
}

/// Whether it may be night for the enclosure: between 19:00 and 08:00 on the room's clock. Common
/// practice, no source.
bool may_be_night(const room::Day& day, const Entry& entry) {
  const auto hour = std::stoi(day.zone.wall_text(entry.at).substr(11, 2));
  return hour < 8 || hour >= 19;
}

/// "lowest 24.1 °C, highest 33.0 °C of 6 readings since 2026-11-18", of the same place.
template <class Part>
std::string spread(const room::Day& day, const room::Enclosure& enclosure, Part part,
                   const std::string& place, UnitSystem units) {
  int n = 0;
  const Entry *low = nullptr, *high = nullptr, *first = nullptr;
  for (const Entry& entry : day.history->all(room::subject_of(enclosure), EntryKind::reading)) {
    if (lower(entry.item) != place || !(entry.*part)) continue;
    if (first == nullptr) first = &entry;
    if (low == nullptr || *(entry.*part) < *(low->*part)) low = &entry;
    if (high == nullptr || *(entry.*part) > *(high->*part)) high = &entry;
    ++n;
  }
  if (n < 2) return "";
  return fmt::format(" Lowest {}, highest {} of {} readings since {}.",
                     for_people(*(low->*part), units), for_people(*(high->*part), units), n,
                     to_text(day.date_of(*first)));
}

/// From where down it is too cold. The profile of a species that brumates gives the floor of its
/// brumation; awake its alarm lies 4 degrees under the nights it wants (docs/data.md; common
/// practice, no source).
std::optional<Temperature> cold_alarm(const room::AnimalDay& animal) {
  const auto* floor = animal.profile.value<Temperature>(Key::cold_alarm);
  const auto* night = animal.profile.value<Range<Temperature>>(Key::night);
  const auto brumation = animal.profile.text(Key::brumation);
  std::optional<Temperature> alarm;
  if (floor != nullptr) alarm = *floor;
  if (!animal.brumating_since && night != nullptr && !brumation.empty() && brumation != "none") {
    const Temperature awake = night->low - TemperatureDelta::kelvin(4);
    alarm = alarm ? std::max(*alarm, awake) : awake;
  }
  return alarm;
}

struct Wanted {
  const room::AnimalDay* animal = nullptr;
  const species::Fact* fact = nullptr;
};

Finding outside(const room::Day& day, const room::Enclosure& enclosure, const Entry& entry,
                const Wanted& wanted, const std::string& what, const std::string& value,
                const std::string& more) {
  const UnitSystem units = day.room->info.units;
  Finding finding;
  finding.when = When::today;
  finding.subject_kind = "enclosure";
  finding.subject = enclosure.id.text();
  finding.headline = fmt::format("{}: {} {} is outside {}", room::called(enclosure), what, value,
                                 species::for_people(wanted.fact->value, units));
  finding.evidence =
      fmt::format("Read {} on {}; {} wants {} ({}).{}", value, day.zone.wall_text(entry.at),
                  wanted.animal->profile.common_name,
                  species::for_people(wanted.fact->value, units), word(wanted.fact->trust), more);
  finding.advice =
      "Read again with a second instrument. If it stands, check the probe's place, the set point "
      "and the room before changing anything by more than a degree or two a day. Do not open or "
      "rewire a heater or thermostat: that is for a licensed electrician.";
  finding.source = wanted.fact->source;
  finding.module = "climate";
  return finding;
}

void judge_temperatures(const room::Day& day, const room::Enclosure& enclosure,
                        const std::vector<const room::AnimalDay*>& animals,
                        std::vector<Finding>& found) {
  const UnitSystem units = day.room->info.units;
  for (const auto& [place, entry] : latest_by_place(day, enclosure, &Entry::temperature)) {
    const auto key = key_for_place(place);
    if (!key) continue;
    const Temperature t = *entry->temperature;
    std::optional<Finding> worst;  // one for a place, though several animals share it
    for (const room::AnimalDay* animal : animals) {
      const Key wanted_key = animal->brumating_since ? Key::brumation_temperature : *key;
      const Wanted wanted{animal, animal->profile.find(wanted_key)};
      const auto* night = animal->profile.value<Range<Temperature>>(Key::night);
      if (wanted.fact == nullptr) continue;
      const auto& range = std::get<Range<Temperature>>(wanted.fact->value);
      if (room::standing(t, range) != room::Standing::outside) continue;
      if (may_be_night(day, *entry) && !animal->brumating_since && night != nullptr &&
          Range<Temperature>{std::min(night->low, range.low), std::max(night->high, range.high)}
              .contains(t)) {
        continue;
      }
      Finding finding = outside(day, enclosure, *entry, wanted, place, for_people(t, units),
                                spread(day, enclosure, &Entry::temperature, place, units));
      const auto* hot = animal->profile.value<Temperature>(Key::heat_alarm);
      const auto cold = cold_alarm(*animal);
      const bool surface = *key == Key::basking_surface;  // alarms are levels of air and water
      if ((hot != nullptr && !surface && t >= *hot) || (cold && t <= *cold)) {
        finding.when = When::now;
      }
      if (!worst || finding.when < worst->when) worst = std::move(finding);
    }
    if (worst) found.push_back(std::move(*worst));
  }
}

void judge_humidity(const room::Day& day, const room::Enclosure& enclosure,
                    const std::vector<const room::AnimalDay*>& animals,
                    std::vector<Finding>& found) {
  const UnitSystem units = day.room->info.units;
  for (const auto& [place, entry] : latest_by_place(day, enclosure, &Entry::humidity)) {
    for (const room::AnimalDay* animal : animals) {
      const Wanted wanted{animal, animal->profile.find(Key::humidity)};
      if (wanted.fact == nullptr || animal->brumating_since) continue;
      const auto& range = std::get<Range<Percentage>>(wanted.fact->value);
      if (room::standing(*entry->humidity, range) != room::Standing::outside) continue;
      Finding finding = outside(day, enclosure, *entry, wanted,
                                place.empty() ? "humidity" : "humidity at the " + place,
                                for_people(*entry->humidity, units),
                                spread(day, enclosure, &Entry::humidity, place, units));
      finding.when = When::this_week;
      found.push_back(std::move(finding));
      break;
    }
  }
}

}  // namespace

std::optional<Key> key_for_place(std::string_view written) {
  const std::string place = lower(written);
  if (place == "warm side") return Key::warm_side_air;
  if (place == "cool side") return Key::cool_side;
  if (place == "basking surface") return Key::basking_surface;
  return std::nullopt;
}

std::vector<Finding> findings(const room::Day& day) {
  std::vector<Finding> found;
  for (const room::Enclosure& enclosure : day.room->enclosures) {
    if (!room::in_use(enclosure, day.date)) continue;
    const auto animals = day.animals_in(enclosure.id);
    judge_temperatures(day, enclosure, animals, found);
    judge_humidity(day, enclosure, animals, found);
  }
  return found;
}

}  // namespace warmside::climate
