#include "room/lamp_place.h"

#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>

#include "core/letters.h"

namespace warmside::room {
namespace {

// All of these are common practice, no source.
constexpr double kWarmEnd = 0.2;    // of the length: where a lamp hangs unless said otherwise
constexpr double kTubeShare = 0.8;  // of the length, where a tube's own is not known
constexpr double kUnderLid = 0.9;   // of the height: a lamp inside
constexpr double kWholeLid = 1 - 1e-9;

bool has(const std::string& text, std::initializer_list<const char*> words) {
  return std::any_of(words.begin(), words.end(),
                     [&](const char* word) { return text.find(word) != std::string::npos; });
}

bool over_lid(const Lamp& lamp, const Enclosure& enclosure) {
  if (lamp.above_floor && enclosure.height) return *lamp.above_floor >= *enclosure.height;
  return has(lower(lamp.place), {"above the lid", "on the lid", "over the lid", "on top"});
}

bool is_mesh(const Construction& construction) {
  return construction.layers.front().material == "mesh";
}

}  // namespace

bool is_tube(LampKind kind) {
  return kind == LampKind::tube_t5 || kind == LampKind::tube_t8 || kind == LampKind::led;
}

std::optional<Length> usual_tube_length(LampKind kind, std::optional<Power> power) {
  struct Usual {
    LampKind kind;
    double watts;
    double length_cm;
  };
  constexpr Usual kUsual[] = {{LampKind::tube_t5, 24, 55},  {LampKind::tube_t5, 39, 85},
                              {LampKind::tube_t5, 54, 115}, {LampKind::tube_t5, 80, 145},
                              {LampKind::tube_t8, 15, 44},  {LampKind::tube_t8, 18, 59},
                              {LampKind::tube_t8, 30, 90},  {LampKind::tube_t8, 36, 120}};
  if (!power) return std::nullopt;
  for (const Usual& usual : kUsual) {
    if (usual.kind == kind && std::abs(power->watts() - usual.watts) < 0.5) {
      return Length::centimetres(usual.length_cm);
    }
  }
  return std::nullopt;
}

Hanging hanging_by_words(std::string_view words, Length length, Length width) {
  const std::string place = lower(words);
  double along = kWarmEnd;
  if (has(place, {"right"})) along = 1 - kWarmEnd;
  if (has(place, {"middle", "centre", "center"})) along = 0.5;
  const double deep = has(place, {"back"}) ? 0.75 : has(place, {"front"}) ? 0.25 : 0.5;
  return {length * along, width * deep};
}

Screen screen_of(const Lamp& lamp, const Enclosure& enclosure) {
  if (!over_lid(lamp, enclosure)) return Screen::nothing;
  if (!enclosure.top) return Screen::unknown;
  if (!is_mesh(*enclosure.top)) return Screen::closed;
  const bool covered = enclosure.lid_covered && enclosure.lid_covered->share() >= kWholeLid;
  return covered ? Screen::closed : Screen::mesh;
}

std::optional<LampPlace> lamp_place(const Lamp& lamp, const Enclosure& enclosure,
                                    UnitSystem units) {
  if (!enclosure.length || !enclosure.width || !enclosure.height) return std::nullopt;
  const Length height = *enclosure.height;
  const bool tube = is_tube(lamp.kind);
  LampPlace made;
  made.over_lid = over_lid(lamp, enclosure);
  made.screen = screen_of(lamp, enclosure);

  const Hanging hanging = hanging_by_words(lamp.place, *enclosure.length, *enclosure.width);
  const Length middle = *enclosure.length * 0.5;
  made.from_left = lamp.from_left.value_or(tube ? middle : hanging.from_left);
  made.from_front = lamp.from_front.value_or(hanging.from_front);
  if (tube) {
    made.span = std::min(lamp.length.value_or(*enclosure.length * kTubeShare), *enclosure.length);
  }
  if (!lamp.from_left || !lamp.from_front) {
    made.guessed.push_back(fmt::format(
        "{} is taken to hang {} from the left and {} from the front, by the words of "
        "its place.",
        lamp.id.text(), for_people(made.from_left, units), for_people(made.from_front, units)));
  }

  if (lamp.above_floor) {
    made.above_floor = *lamp.above_floor;
    return made;
  }
  const bool mesh = enclosure.top && is_mesh(*enclosure.top);
  made.above_floor = made.over_lid ? height : height * kUnderLid;
  if (!made.over_lid && !tube && lamp.distance && *lamp.distance < height) {
    made.above_floor = *lamp.distance;
  }
  // Further from the basking place than the box is high: it hangs above an open lid.
  if (lamp.distance && *lamp.distance > height && mesh) {
    made.above_floor = *lamp.distance;
    made.over_lid = true;
    made.screen = made.screen == Screen::closed ? Screen::closed : Screen::mesh;
  }
  made.guessed.push_back(fmt::format("{} is taken to shine from {} above the ground.",
                                     lamp.id.text(), for_people(made.above_floor, units)));
  return made;
}

}  // namespace warmside::room
