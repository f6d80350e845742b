#include "light/lamp_course.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "core/letters.h"
#include "light/lights.h"
#include "species/care_rules.h"

namespace warmside::light {
namespace {

using room::Entry;
using room::EntryKind;

constexpr double kUsualHours = 12;   // a day, of a lamp without a timer; common practice, no source
constexpr double kOddWeight = 0.35;  // under it a reading lies 3 times its usual error off the line

/// The distance that a text begins with, and what follows it.
struct Placed {
  std::optional<Length> distance;
  std::string place;
};
Placed placed(const std::string& item) {
  const std::string text = lower(item);
  // "30cm slate", "30 cm, slate": the longest beginning that reads as a length.
  for (const std::size_t end : {text.find_first_of(" ,;:"), text.find_first_of(" ,;:", 4)}) {
    if (const auto length = parse<Length>(text.substr(0, end))) {
      const std::size_t rest = end == std::string::npos ? end : text.find_first_not_of(" ,;:", end);
      return {*length, rest == std::string::npos ? "" : text.substr(rest)};
    }
  }
  return {std::nullopt, text};
}

double hours_a_day(const room::Day& day, const room::Lamp& lamp) {
  const room::Timer* timer = room::find(day.room->timers, lamp.timer);
  const auto burns = timer == nullptr ? std::nullopt : burning_time(*timer);
  return burns ? burns->hours() : kUsualHours;
}

/// The place that most readings without a distance of their own name.
std::string usual_place(const std::vector<Placed>& places) {
  std::map<std::string, int> counts;
  std::string most;
  for (const Placed& p : places) {
    if (p.place.empty()) continue;
    const int n = ++counts[p.place];
    if (most.empty() || n > counts[most]) most = p.place;
  }
  return most;
}

std::string_view life_rule(room::LampKind kind) {
  switch (kind) {
    case room::LampKind::tube_t5:
      return "lamp_life_t5";
    case room::LampKind::tube_t8:
      return "lamp_life_t8";
    case room::LampKind::compact:
      return "lamp_life_compact";
    case room::LampKind::mercury_vapour:
      return "lamp_life_mercury_vapour";
    case room::LampKind::metal_halide:
      return "lamp_life_metal_halide";
    case room::LampKind::halogen:
    case room::LampKind::led:
      break;
  }
  return "";
}

Date date_of_day(double day) {
  return Date::days_from_epoch(static_cast<std::int32_t>(std::lround(day)));
}

}  // namespace

const LampReading* LampCourse::first() const {
  const auto at =
      std::find_if(readings.begin(), readings.end(), [](const LampReading& r) { return r.counts; });
  return at == readings.end() ? nullptr : &*at;
}

const LampReading* LampCourse::latest() const {
  const auto at = std::find_if(readings.rbegin(), readings.rend(),
                               [](const LampReading& r) { return r.counts; });
  return at == readings.rend() ? nullptr : &*at;
}

bool LampCourse::latest_is_odd() const {
  return ageing && latest()->uvi > 0 && ageing->weights().back() < kOddWeight;
}

KnownLamp known_lamp(const room::Lamp& lamp) {
  KnownLamp known;
  known.emitter = emitter_of(lamp.kind);
  known.length = lamp.length;
  if (!known.length && room::is_tube(lamp.kind)) {
    known.length = room::usual_tube_length(lamp.kind, lamp.power);
  }
  known.beam_deg = lamp.beam_deg;
  known.reflector = lamp.reflector;
  return known;
}

LampCourse lamp_course(const room::Day& day, const room::Lamp& lamp) {
  const room::Subject subject{room::SubjectKind::lamp, lamp.id.text()};
  LampCourse course;
  const Entry* replaced = day.history->latest(subject, EntryKind::replaced);
  if (replaced != nullptr) course.new_since = day.date_of(*replaced);
  // A new tube may be written into the room file only.
  if (lamp.installed && (!course.new_since || *lamp.installed > *course.new_since)) {
    course.new_since = lamp.installed;
    replaced = nullptr;
  }

  std::vector<const Entry*> entries;
  std::vector<Placed> places;
  for (const Entry& entry : day.history->all(subject, EntryKind::uv_reading)) {
    if (replaced != nullptr && entry.at < replaced->at) continue;
    if (course.new_since && day.date_of(entry) < *course.new_since) continue;
    entries.push_back(&entry);
    places.push_back(placed(entry.item));
    if (entry.length) places.back().distance = entry.length;
  }
  course.distance = lamp.distance;
  for (const Placed& p : places) {
    if (!lamp.distance && p.distance) course.distance = p.distance;
  }

  const double burn_in_h = species::care_rules().value<Duration>("lamp_burn_in").hours();
  const double in_a_day_h = hours_a_day(day, lamp);
  const std::string usual = usual_place(places);
  for (std::size_t i = 0; i < entries.size(); ++i) {
    LampReading reading;
    reading.on = day.date_of(*entries[i]);
    reading.uvi = entries[i]->uvi->index();
    reading.distance = places[i].distance ? places[i].distance : course.distance;
    reading.there = reading.uvi;
    if (reading.distance && course.distance && *reading.distance != *course.distance &&
        reading.uvi > 0) {
      KnownLamp known = known_lamp(lamp);
      if (lamp.uv_table) known.rows = lamp.uv_table->rows;
      if (known.rows.empty()) known.rows = {{*reading.distance, UvIndex::index(reading.uvi)}};
      if (const auto field = LampField::from(known)) {
        reading.there *= geometric_factor(field->optics(), {0, 0, course.distance->metres()}) /
                         geometric_factor(field->optics(), {0, 0, reading.distance->metres()});
      }
    }
    const bool elsewhere =
        !places[i].distance && !places[i].place.empty() && places[i].place != usual;
    const bool burnt_in =
        !course.new_since || (reading.on - *course.new_since) * in_a_day_h >= burn_in_h;
    reading.counts = burnt_in && !elsewhere;
    course.readings.push_back(reading);
  }

  std::vector<AgedReading> counted;
  for (const LampReading& r : course.readings) {
    if (r.counts && r.there > 0) counted.push_back({ageing_day(r.on), r.there});
  }
  course.ageing = Ageing::fit(counted);
  return course;
}

Replacement replacement_of(const room::Lamp& lamp, const LampCourse& course, double least_uvi) {
  const auto& rules = species::care_rules();
  Replacement made;
  if (course.ageing && course.ageing->informed()) {
    const Ageing& ageing = *course.ageing;
    const double share = rules.value<Percentage>("uv_low_share").share();
    // A lamp that was never strong enough for them does not become so by being replaced.
    const bool was_enough = ageing.level(ageing.first_day()).best > least_uvi;
    const DayBand days = ageing.falls_below(share, ageing.first_day(), was_enough ? least_uvi : 0);
    made.by_readings = true;
    if (days.best) made.due = date_of_day(*days.best);
    if (days.early) made.early = date_of_day(*days.early);
    if (days.late) made.late = date_of_day(*days.late);
    made.why = fmt::format(
        "by {} readings it falls under {:.0f} % of the first{}", ageing.readings(), 100 * share,
        least_uvi > 0 && was_enough
            ? fmt::format(" or UV index {:.2g}, the least that is wanted", least_uvi)
            : "");
    return made;
  }
  const auto rule = life_rule(lamp.kind);
  if (rule.empty()) return made;
  std::optional<Date> start = course.new_since;
  if (!start && !course.readings.empty()) start = course.readings.front().on;
  if (!start) return made;
  const auto life = parse_range<Duration>(rules.rule(rule).value).value();
  made.early = *start + static_cast<int>(std::lround(life.low.days()));
  made.due = made.late = *start + static_cast<int>(std::lround(life.high.days()));
  made.why =
      fmt::format("{} of use, the usual life of such a lamp that nobody has read often enough; {}",
                  life.low == life.high ? for_people(life.high) : for_people(life),
                  word(rules.rule(rule).trust));
  return made;
}

}  // namespace warmside::light
