#include "light/timers.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>

#include "light/lights.h"
#include "light/photoperiod.h"

namespace warmside::light {
namespace {

constexpr const char* kCommonPractice = "common practice, no source";
constexpr const char* kLampCaution =
    " Take a timer that its maker rates for the lamp; the labels of lamp and timer and local code "
    "go first, and fixed wiring is for a licensed electrician.";

Finding about(When when, const char* kind, std::string subject, std::string headline,
              std::string evidence, std::string advice, std::string source) {
  return {when,
          kind,
          std::move(subject),
          std::move(headline),
          std::move(evidence),
          std::move(advice),
          std::move(source),
          "light"};
}

std::string times_of(const room::Timer& timer) {
  return fmt::format("{} to {}", to_text(*timer.on), to_text(*timer.off));
}

/// "led-1 (LED) 07:30 to 18:30, tube-1 (T5 tube) 10:00 to 16:00".
std::string hours_of(const Lights& lights) {
  std::string text;
  for (const TimedLamp& one : lights.timed) {
    text += fmt::format("{}{} ({}) {}", text.empty() ? "" : ", ", one.lamp->id.text(),
                        word(one.lamp->kind), times_of(*one.timer));
  }
  return text;
}

/// The species of the animals, each once: "Corn snake, Royal python".
std::string species_of(const SharedLight& shared) {
  std::set<std::string> names;
  for (const SharedLight::Wish& wish : shared.wishes) {
    names.insert(wish.animal->profile.common_name);
  }
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : ", ") + name;
  return text;
}

/// What each animal wants, in the words of its sources; those that read the same once.
std::string opinions_of(const SharedLight& shared) {
  std::vector<std::string> said;
  for (const SharedLight::Wish& wish : shared.wishes) {
    std::string text = wish.animal->profile.common_name + ":";
    for (std::size_t i = 0; i < wish.light.opinions.size(); ++i) {
      text += (i == 0 ? " " : "; ") + wish.light.opinions[i].words;
    }
    if (std::find(said.begin(), said.end(), text) == said.end()) said.push_back(text);
  }
  std::string all;
  for (const std::string& text : said) all += (all.empty() ? "" : ". ") + text;
  return all;
}

/// Judges one enclosure after the other.
class Inspection {
 public:
  explicit Inspection(const room::Day& day) : day_(day) {}

  std::vector<Finding> findings() {
    for (const room::Enclosure& enclosure : day_.room->enclosures) {
      if (!room::in_use(enclosure, day_.date)) continue;
      const auto animals = day_.animals_in(enclosure.id);
      const bool awake = std::any_of(
          animals.begin(), animals.end(),
          [](const room::AnimalDay* animal) { return !animal->brumating_since.has_value(); });
      if (awake) inspect(enclosure);
    }
    timers_without_times();
    if (season_missed_ && !day_.room->info.latitude_deg) latitude_unknown();
    return std::move(found_);
  }

 private:
  void inspect(const room::Enclosure& enclosure) {
    const Lights lights = lights_over(day_, enclosure.id);
    for (const room::Lamp* lamp : lights.never_off) never_off(enclosure, *lamp);
    for (const room::Lamp* lamp : lights.without_times) timeless_.insert({lamp->timer, lamp});
    if (lights.timed.empty()) return;
    different_hours(enclosure, lights);
    season_missed_ = true;
    const SharedLight shared = shared_light(day_, enclosure.id, day_.date);
    if (shared.wishes.empty()) return;
    if (!shared.agree) return disagreement(enclosure, shared);
    const auto lit = lights.lit();
    if (!lit || shared.accepted.contains(*lit)) return;
    wrong_length(enclosure, lights, *lit, shared);
  }

  void wrong_length(const room::Enclosure& enclosure, const Lights& lights, Duration lit,
                    const SharedLight& shared) {
    const TimedLamp& lamp = *lights.longest();
    found_.push_back(about(
        When::this_week, "lamp", lamp.lamp->id.text(),
        fmt::format("The light over {} burns {}; wanted now: {} ({})", room::called(enclosure),
                    light_words(lit), light_words(shared.band), species_of(shared)),
        fmt::format("{}. {}. More than {} off is mentioned.", hours_of(lights), opinions_of(shared),
                    for_people(tolerance())),
        fmt::format("Change it over some weeks, not at once: `warmside light plan {}` gives the "
                    "settings. Longer light heats longer too, so watch the warm side. If the "
                    "hours are meant, say so with an override of photoperiod_summer and "
                    "photoperiod_winter.",
                    enclosure.id.text()),
        species::care_rules().rule("light_tolerance").source));
  }

  void disagreement(const room::Enclosure& enclosure, const SharedLight& shared) {
    found_.push_back(about(
        When::good_to_know, "enclosure", enclosure.id.text(),
        fmt::format("The animals in {} want days of different length", room::called(enclosure)),
        fmt::format("{}. No length is within {} of all.", opinions_of(shared),
                    for_people(tolerance())),
        "Decide whose day it is, and write that as an override for the others; or house them "
        "apart.",
        species::care_rules().rule("light_tolerance").source));
  }

  void different_hours(const room::Enclosure& enclosure, const Lights& lights) {
    const auto shortest =
        std::min_element(lights.timed.begin(), lights.timed.end(),
                         [](const TimedLamp& a, const TimedLamp& b) { return a.burns < b.burns; });
    const TimedLamp& longest = *lights.longest();
    if (!(longest.burns - shortest->burns > tolerance())) return;
    found_.push_back(about(
        When::good_to_know, "enclosure", enclosure.id.text(),
        fmt::format("The lamps over {} keep different hours: {} and {}", room::called(enclosure),
                    light_words(shortest->burns), light_words(longest.burns)),
        hours_of(lights) + ".",
        "Fine where it is meant, such as UVB round noon only. If not, give their timers the same "
        "times.",
        species::care_rules().rule("light_tolerance").source));
  }

  void never_off(const room::Enclosure& enclosure, const room::Lamp& lamp) {
    found_.push_back(
        about(When::this_week, "lamp", lamp.id.text(),
              fmt::format("The lamp {} over {} burns day and night as far as the book says",
                          lamp.id.text(), room::called(enclosure)),
              fmt::format("{}{}: neither a timer nor a thermostat in use is named for it.",
                          word(lamp.kind),
                          lamp.power ? ", " + for_people(*lamp.power, day_.room->info.units) : ""),
              std::string("Animals need dark nights, those that wake at night as well. If it hangs "
                          "on a timer, write that in the room file; if not, put it on one.") +
                  kLampCaution,
              kCommonPractice));
  }

  void timers_without_times() {
    for (const auto& entry : timeless_) {
      const room::Timer& timer = *room::find(day_.room->timers, entry.first);
      const std::string& id = timer.id.text();
      const bool same = timer.on && timer.off;
      found_.push_back(
          about(When::good_to_know, "lamp", entry.second->id.text(),
                same ? fmt::format("The timer {} goes on and off at the same time", id)
                     : fmt::format("The times of the timer {} are not known", id),
                same ? fmt::format("On and off at {}.", to_text(*timer.on))
                     : fmt::format("On: {}; off: {}. The light it makes cannot be judged.",
                                   timer.on ? to_text(*timer.on) : "not known",
                                   timer.off ? to_text(*timer.off) : "not known"),
                "Look at it, and write both times in the room file.", kCommonPractice));
    }
  }

  void latitude_unknown() {
    found_.push_back(about(
        When::good_to_know, "room", "room",
        "The season of the room is not known, so the length of light is not judged",
        "The room has no latitude, and lamps on timers hang over animals.",
        "Write latitude (and longitude) in the room file, in degrees, north positive; a whole "
        "degree will do.",
        kCommonPractice));
  }

  Duration tolerance() const { return species::care_rules().value<Duration>("light_tolerance"); }

  const room::Day& day_;
  std::vector<Finding> found_;
  std::map<room::TimerId, const room::Lamp*> timeless_;  // and the first lamp of each
  bool season_missed_ = false;                           // whether a timed light would be judged
};

}  // namespace

std::vector<Finding> timer_findings(const room::Day& day) {
  return Inspection(day).findings();
}

}  // namespace warmside::light
