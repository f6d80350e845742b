#include "light/photoperiod.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "light/sun.h"

namespace warmside::light {
namespace {

using species::Fact;
using species::Key;

constexpr const char* kWithoutLatitude =
    "the room has no latitude, so that its season is not known";

LightOpinion of_sun(const Fact& home, Duration length) {
  const double latitude_deg = std::get<double>(home.value);
  return {length, fmt::format("{} by the sun {:.3g} degrees from the equator, as at home, in the "
                              "season of the room ({})",
                              light_words(length), std::abs(latitude_deg), word(home.trust))};
}

LightOpinion of_table(const Fact& winter, const Fact& summer, double summer_share) {
  const auto in_winter = std::get<Duration>(winter.value);
  const auto in_summer = std::get<Duration>(summer.value);
  const Duration length = in_winter + (in_summer - in_winter) * summer_share;
  // The weaker of two trusts is the later word, save that a keeper's own value makes both its own.
  const Trust trust = winter.trust == Trust::keeper || summer.trust == Trust::keeper
                          ? Trust::keeper
                          : std::max(winter.trust, summer.trust);
  const std::string year = in_winter == in_summer
                               ? "the same all year"
                               : fmt::format("{} in winter to {} in summer", light_words(in_winter),
                                             light_words(in_summer));
  return {length,
          fmt::format("{} by the profile, {} ({})", light_words(length), year, word(trust))};
}

bool is_keepers(const Fact* fact) {
  return fact != nullptr && fact->trust == Trust::keeper;
}

}  // namespace

Range<Duration> WantedLight::band() const {
  Range<Duration> band{opinions.front().length, opinions.front().length};
  for (const LightOpinion& opinion : opinions) {
    band.low = std::min(band.low, opinion.length);
    band.high = std::max(band.high, opinion.length);
  }
  return band;
}

WantedLight wanted_light(const species::Profile& profile, double room_latitude_deg, Date date) {
  const Fact* home = profile.find(Key::native_latitude);
  const Fact* winter = profile.find(Key::photoperiod_winter);
  const Fact* summer = profile.find(Key::photoperiod_summer);
  const bool hours_of_keeper = is_keepers(winter) || is_keepers(summer);
  const bool northern = !(room_latitude_deg < 0);

  WantedLight light;
  if (home != nullptr && !hours_of_keeper) {
    const double here_deg = (northern ? 1 : -1) * std::abs(std::get<double>(home->value));
    const auto length = day_length(here_deg, date);
    if (!length) return {{}, to_line(length.problem())};
    light.opinions.push_back(of_sun(*home, *length));
  }
  if (winter != nullptr && summer != nullptr && (hours_of_keeper || !is_keepers(home))) {
    const auto share = summer_share(northern, date);
    if (!share) return {{}, to_line(share.problem())};
    light.opinions.push_back(of_table(*winter, *summer, *share));
  }
  if (!light.known()) {
    light.unknown = winter != nullptr || summer != nullptr
                        ? "only one of photoperiod_summer and photoperiod_winter is known"
                        : "neither its home's latitude nor its photoperiod is known";
  }
  return light;
}

SharedLight shared_light(const room::Day& day, const room::EnclosureId& enclosure, Date date) {
  SharedLight shared;
  const auto animals = day.animals_in(enclosure);
  if (animals.empty()) {
    shared.unknown = "no animal lives there";
    return shared;
  }
  if (!day.room->info.latitude_deg) {
    shared.unknown = kWithoutLatitude;
    return shared;
  }
  shared.unknown = "all of its animals are in brumation";
  for (const room::AnimalDay* animal : animals) {
    if (animal->brumating_since) continue;
    WantedLight light = wanted_light(animal->profile, *day.room->info.latitude_deg, date);
    if (light.known()) {
      shared.wishes.push_back({animal, std::move(light)});
    } else {
      shared.unknown = fmt::format("{}: {}", room::called(*animal->animal), light.unknown);
    }
  }
  if (shared.wishes.empty()) return shared;
  shared.unknown.clear();

  Range<Duration> common{Duration::hours(0), Duration::hours(24)};
  Duration sum;
  for (const SharedLight::Wish& wish : shared.wishes) {
    const Range<Duration> band = wish.light.band();
    common.low = std::max(common.low, band.low);
    common.high = std::min(common.high, band.high);
    sum = sum + wish.light.wanted();
  }
  const auto tolerance = species::care_rules().value<Duration>("light_tolerance");
  shared.agree = !(common.high + tolerance < common.low - tolerance);
  shared.band = {std::min(common.low, common.high), std::max(common.low, common.high)};
  shared.wanted = sum / static_cast<double>(shared.wishes.size());
  if (shared.agree) {
    shared.accepted = {common.low - tolerance, common.high + tolerance};
    shared.wanted = std::clamp(shared.wanted, shared.accepted.low, shared.accepted.high);
  }
  return shared;
}

std::string light_words(Duration length) {
  constexpr double kStep_min = 5;
  return for_people(Duration::minutes(std::round(length.minutes() / kStep_min) * kStep_min));
}

std::string light_words(const Range<Duration>& band) {
  const std::string low = light_words(band.low), high = light_words(band.high);
  return low == high ? low : low + " to " + high;
}

}  // namespace warmside::light
