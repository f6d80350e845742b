#pragma once
// Where a lamp shines from inside its enclosure, and what lies between it and the animals. A keeper
// who measured gives from_left, from_front and above_floor; else the words of `place` ("above the
// lid, back"), `distance` and the kind stand in, and each guess is said. The heat of a lamp
// (climate) and its UV (light) read the same place.
//
// Heights count from the top of the substrate; the lid is taken to be one inside height above it.
// Lamps face down; a tube lies along the length. Other hangings are not known here.

#include <string>
#include <string_view>
#include <vector>

#include "core/words.h"
#include "room/records.h"

namespace warmside::room {

/// What lies between a lamp and the animals under it. unknown: it hangs over a lid of which the
/// book does not say what it is made of.
enum class Screen { nothing, mesh, closed, unknown };

struct LampPlace {
  Length from_left;    // of the middle of its face
  Length from_front;   // the same
  Length above_floor;  // of its face; over the height where it hangs above the lid
  Length span;         // of a tube: the part that shines; nothing for others
  bool over_lid = false;
  Screen screen = Screen::nothing;
  std::vector<std::string> guessed;  // sentences: what the book does not say
};

/// A tube or a strip: it shines from a line, not from a point.
bool is_tube(LampKind kind);

/// The part of a tube that shines, where the book does not give it: by the power printed on it;
/// null where that tells nothing. Nominal lengths of T5 high-output and T8 tubes, IEC 60081 (from
/// memory); a UVB tube of another build differs.
std::optional<Length> usual_tube_length(LampKind kind, std::optional<Power> power);

/// Length along and depth of a thing that hangs, by the words of its place: the left fifth unless
/// "right" or "middle" is said, half way back unless "back" or "front" is. Common practice, no
/// source.
struct Hanging {
  Length from_left;
  Length from_front;
};
Hanging hanging_by_words(std::string_view place, Length length, Length width);

/// Null when the enclosure's length, width or height is not known.
std::optional<LampPlace> lamp_place(const Lamp& lamp, const Enclosure& enclosure, UnitSystem units);

/// What lies between, for a lamp whose enclosure has no sizes either.
Screen screen_of(const Lamp& lamp, const Enclosure& enclosure);

}  // namespace warmside::room

namespace warmside {
template <>
struct Words<room::Screen> {
  static constexpr std::array<std::string_view, 4> list{"nothing", "mesh", "closed", "unknown"};
};
}  // namespace warmside
