#include "light/enclosure_uv.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "room/look_up.h"
#include "species/care_rules.h"

namespace warmside::light {
namespace {

using species::Key;

constexpr double kLeastShown = 0.1;  // of a meter that shows tenths; common practice, no source

/// What a data sheet's level is after some days, by how fast lamps fade: as slow as keepers count
/// on (70 % after a year), as fast as one strong tube (tau 260 d), and the geometric mean of the
/// rates. Of unknown age: our own choice, no source.
UvBand faded(std::optional<int> days) {
  if (!days) return {0.8, 0.5, 1};
  const AgeingPrior prior = usual_ageing();
  const double slow = std::max(prior.rate - prior.rate_sd, 0.0), fast = prior.rate;
  const double t = std::max(*days, 0);
  return {std::exp(-std::sqrt(slow * fast) * t), std::exp(-fast * t), std::exp(-slow * t)};
}

UnderLamp under_lamp(const EnclosurePoint& point, const room::LampPlace& place) {
  return {point.from_left_m - place.from_left.metres(),
          point.from_front_m - place.from_front.metres(),
          place.above_floor.metres() - point.above_floor_m};
}

/// Straight under a lamp, at its basking place.
EnclosurePoint basking_point(const LampUv& lamp) {
  return {lamp.place->from_left.metres(), lamp.place->from_front.metres(),
          lamp.place->above_floor.metres() - lamp.distance->metres()};
}

/// By the readings since it was new, with the band of their fit.
void rest_on_readings(const room::Day& day, LampUv& uv, KnownLamp& known) {
  const LampReading& latest = *uv.course.latest();
  const UvBand level = uv.course.ageing->level(ageing_day(day.date));
  known.in_place = true;
  known.rows = {{*uv.course.distance, UvIndex::index(level.best)}};
  known.since = {1, level.low / level.best, level.high / level.best};
  uv.by_reading = true;
  uv.rests_on =
      fmt::format("{} {} of your meter, the latest of {}, {}", uv.course.ageing->readings(),
                  uv.course.ageing->readings() == 1 ? "reading" : "readings", to_text(latest.on),
                  for_people(UvIndex::index(latest.uvi), day.room->info.units));
}

void rest_on_sheet(const room::Day& day, LampUv& uv, KnownLamp& known) {
  std::optional<int> days;
  if (uv.course.new_since) days = day.date - *uv.course.new_since;
  known.rows = uv.lamp->uv_table->rows;
  known.since = faded(days);
  uv.rests_on = days
                    ? fmt::format("its data sheet and {} days of use; nobody has read it", *days)
                    : std::string("its data sheet; how old it is is not known, nobody has read it");
}

LampUv lamp_uv(const room::Day& day, const room::Lamp& lamp, const room::Enclosure& enclosure) {
  const UnitSystem units = day.room->info.units;
  LampUv uv;
  uv.lamp = &lamp;
  uv.place = room::lamp_place(lamp, enclosure, units);
  uv.screen = uv.place ? uv.place->screen : room::screen_of(lamp, enclosure);
  uv.course = lamp_course(day, lamp);

  uv.distance = lamp.distance;
  if (!uv.distance && uv.place) {
    uv.distance = uv.place->above_floor;
    uv.notes.push_back(
        "How far the basking place is from the lamp is not written down; the ground is taken.");
  }
  KnownLamp known = known_lamp(lamp);
  known.screen = uv.screen;
  known.mesh_open = enclosure.mesh_open;
  if (room::is_tube(lamp.kind) && !lamp.length && known.length) {
    uv.notes.push_back(fmt::format("It is taken to shine along {}, as tubes of its power do.",
                                   for_people(*known.length, units)));
  }
  const LampReading* latest = uv.course.latest();
  if (latest != nullptr && latest->uvi == 0) {
    uv.rests_on = fmt::format("your meter, which showed nothing on {}", to_text(latest->on));
    uv.by_reading = true;
    uv.at_basking = UvBand{0, 0, kLeastShown};
    return uv;
  }
  if (uv.course.ageing && uv.course.distance) {
    rest_on_readings(day, uv, known);
  } else if (lamp.uv_table) {
    rest_on_sheet(day, uv, known);
  } else if (uv.course.ageing) {
    uv.rests_on = "not known: it was read, but at which distance is not written down";
  } else if (!uv.course.readings.empty()) {
    uv.rests_on = "not known: it was read only before it was burnt in, or away from its place";
  } else {
    uv.rests_on = "not known: it has no reading and no data sheet in the room file";
  }
  if (auto field = LampField::from(known)) {
    uv.notes.insert(uv.notes.end(), field->notes().begin(), field->notes().end());
    if (uv.distance) uv.at_basking = field->at({0, 0, uv.distance->metres()});
    uv.field = std::move(*field);
    if (uv.place) {
      uv.notes.insert(uv.notes.end(), uv.place->guessed.begin(), uv.place->guessed.end());
    }
  }
  if (uv.screen == room::Screen::mesh && enclosure.lid_covered &&
      *enclosure.lid_covered > Percentage()) {
    uv.notes.push_back(
        fmt::format("{} of the lid is covered; the lamp is taken to shine through the open part.",
                    for_people(*enclosure.lid_covered, units)));
  }
  return uv;
}

WantedUv wanted_by(const room::AnimalDay& animal) {
  WantedUv wanted;
  wanted.animal = &animal;
  wanted.zone = animal.profile.text(Key::ferguson_zone);
  if (const auto* range = animal.profile.value<Range<UvIndex>>(Key::uvi_gradient)) {
    wanted.gradient = *range;
  }
  if (const species::Fact* fact = animal.profile.find(Key::uvi_max)) {
    wanted.strongest = std::get<Range<UvIndex>>(fact->value);
    wanted.source = fact->source;
    if (fact->trust == Trust::keeper) {
      wanted.doubts = "your own value";
      return wanted;
    }
  }
  if (const species::Fact* zone = animal.profile.find(Key::ferguson_zone)) {
    wanted.doubts =
        fmt::format("{}{}{}", word(zone->trust), zone->note.empty() ? "" : ": ", zone->note);
  }
  return wanted;
}

void judge(const UvBand& basking, bool incomplete, WantedUv& wanted) {
  if (!wanted.strongest) return;
  const auto& range = *wanted.strongest;
  const UvIndex value = UvIndex::index(basking.best);
  // Of what is known only in part nobody can say that it is too little.
  if (incomplete && value < range.low) return;
  wanted.standing = room::standing(value, range);
  wanted.surely = UvIndex::index(basking.low) > range.high ||
                  (!incomplete && UvIndex::index(basking.high) < range.low);
}

template <class PointOf>
std::vector<double> middles(const EnclosureUv& uv, std::span<const double> first,
                            std::span<const double> second, PointOf point_of) {
  std::vector<double> made;
  for (std::size_t j = 0; j + 1 < second.size(); ++j) {
    for (std::size_t i = 0; i + 1 < first.size(); ++i) {
      const EnclosurePoint point =
          point_of((first[i] + first[i + 1]) / 2, (second[j] + second[j + 1]) / 2);
      double sum = 0;
      for (const LampUv& lamp : uv.lamps) {
        if (lamp.field && lamp.place) sum += lamp.field->best_at(under_lamp(point, *lamp.place));
      }
      made.push_back(sum);
    }
  }
  return made;
}

}  // namespace

UvBand EnclosureUv::at(const EnclosurePoint& point) const {
  UvBand sum;
  for (const LampUv& lamp : lamps) {
    if (lamp.field && lamp.place) sum = sum + lamp.field->at(under_lamp(point, *lamp.place));
  }
  return sum;
}

EnclosureUv enclosure_uv(const room::Day& day, const room::Enclosure& enclosure) {
  EnclosureUv made;
  made.enclosure = &enclosure;
  for (const room::Lamp& lamp : day.room->lamps) {
    if (lamp.uvb && lamp.enclosure == enclosure.id && room::in_use(lamp, day.date)) {
      made.lamps.push_back(lamp_uv(day, lamp, enclosure));
    }
  }
  for (const room::AnimalDay* animal : day.animals_in(enclosure.id)) {
    if (!animal->brumating_since) made.wanted.push_back(wanted_by(*animal));
  }
  double least_uvi = 0;
  for (const WantedUv& wanted : made.wanted) {
    if (wanted.strongest) least_uvi = std::max(least_uvi, wanted.strongest->low.index());
  }
  for (LampUv& lamp : made.lamps) {
    made.incomplete = made.incomplete || !lamp.at_basking;
    // What is wanted at the basking place, at the distance at which the lamp is read.
    double least_there = least_uvi;
    if (lamp.at_basking && lamp.course.distance && lamp.at_basking->best > 0) {
      least_there *=
          lamp.field->best_at({0, 0, lamp.course.distance->metres()}) / lamp.at_basking->best;
    }
    lamp.replacement = replacement_of(*lamp.lamp, lamp.course, least_there);
    if (!lamp.at_basking) continue;
    UvBand there = *lamp.at_basking;
    for (const LampUv& other : made.lamps) {
      if (&other == &lamp || !other.field || !other.place || !lamp.place) continue;
      there = there + other.field->at(under_lamp(basking_point(lamp), *other.place));
    }
    if (!made.basking || there.best > made.basking->best) {
      made.basking = there;
      made.under = &lamp;
    }
  }
  if (made.basking) {
    for (WantedUv& wanted : made.wanted) judge(*made.basking, made.incomplete, wanted);
  }
  return made;
}

std::vector<double> uv_plan(const EnclosureUv& uv, std::span<const double> x_edges_m,
                            std::span<const double> y_edges_m, double above_floor_m) {
  return middles(uv, x_edges_m, y_edges_m, [&](double x_m, double y_m) {
    return EnclosurePoint{x_m, y_m, above_floor_m};
  });
}

std::vector<double> uv_section(const EnclosureUv& uv, std::span<const double> x_edges_m,
                               std::span<const double> z_edges_m, double from_front_m) {
  return middles(uv, x_edges_m, z_edges_m, [&](double x_m, double z_m) {
    return EnclosurePoint{x_m, from_front_m, z_m};
  });
}

}  // namespace warmside::light
