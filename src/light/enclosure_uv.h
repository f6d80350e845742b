#pragma once
// The UV index in an enclosure of the book: under which lamp it is how strong, by what, and whether
// that is what the animals want. For the page, the findings and the pictures.
//
// The basking place is the nearest point that an animal can reach straight under a lamp, at the
// lamp's `distance`; where that is not written down, the ground. All UVB lamps are taken to be on.
// Only UVB lamps count: daylight through windows holds none.

#include <functional>
#include <span>
#include <string>
#include <vector>

#include "light/lamp_course.h"
#include "room/lamp_place.h"
#include "room/standing.h"

namespace warmside::light {

/// One UVB lamp over an enclosure.
struct LampUv {
  const room::Lamp* lamp = nullptr;
  std::optional<room::LampPlace> place;  // null: the enclosure's sizes are not known
  room::Screen screen = room::Screen::nothing;
  LampCourse course;
  std::optional<LampField> field;  // null: not known
  std::string rests_on;            // what the level rests on; says so where it is not known
  bool by_reading = false;
  std::optional<Length> distance;    // from its face to its basking place
  std::optional<UvBand> at_basking;  // of this lamp alone
  Replacement replacement;
  std::vector<std::string> notes;  // what was guessed
};

/// What one animal wants, and whether it has it at the strongest basking place.
struct WantedUv {
  const room::AnimalDay* animal = nullptr;
  std::string zone;                         // Ferguson zone, "2-3"; empty: not known
  std::optional<Range<UvIndex>> gradient;   // average over its day
  std::optional<Range<UvIndex>> strongest;  // at the basking place
  std::optional<room::Standing> standing;   // null where the UV index is not known
  bool surely = false;                      // outside by more than the band
  std::string doubts;                       // where the lists disagree, and how far it is trusted
  std::string source;
};

struct EnclosurePoint {
  double from_left_m = 0;
  double from_front_m = 0;
  double above_floor_m = 0;
};

struct EnclosureUv {
  const room::Enclosure* enclosure = nullptr;
  std::vector<LampUv> lamps;
  /// Of all lamps together, at the strongest of their basking places. Null: not known. It is at
  /// least this where `incomplete`.
  std::optional<UvBand> basking;
  const LampUv* under = nullptr;  // whose basking place that is; null without lamps
  bool incomplete = false;        // of some lamp nothing is known
  std::vector<WantedUv> wanted;   // of the animals that live there and are awake

  /// Of all lamps of which something is known, on a plane that faces up.
  UvBand at(const EnclosurePoint& point) const;
};

/// `day` must outlive what is returned.
EnclosureUv enclosure_uv(const room::Day& day, const room::Enclosure& enclosure);

/// Best guesses at the middles of the cells between edges, first along x: for pictures. A plan at a
/// height above the ground, a section parallel to the front at a depth from it. All lengths in m.
std::vector<double> uv_plan(const EnclosureUv& uv, std::span<const double> x_edges_m,
                            std::span<const double> y_edges_m, double above_floor_m);
std::vector<double> uv_section(const EnclosureUv& uv, std::span<const double> x_edges_m,
                               std::span<const double> z_edges_m, double from_front_m);

}  // namespace warmside::light
