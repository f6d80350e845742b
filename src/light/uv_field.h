#pragma once
// The UV index at a point under a lamp, from what is known of it straight below: a reading, or the
// rows of its data sheet. Geometry only carries a known level to other points; it never makes one
// up, so a lamp without readings and without a data sheet has no field here.
//
// A tube is a diffuse line of finite length, a lamp a point that seems to lie a little behind its
// face and throws a lobe cos^m of the angle from straight down. Rings, hot spots, mirrors on the
// walls and UV that comes back from anything are left out. What is reported is the UV index on a
// plane that faces up, as a basking animal's back does, unless said otherwise; under the lamp a
// meter held towards it reads the same.
//
// Equations, widths of the bands and their sources: docs/models/light.md.
// Checked by: tests/reference/uv_field_test.cpp, tests/reference/uv_check.py.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/result.h"
#include "core/words.h"
#include "room/lamp_place.h"
#include "room/uv_table.h"

namespace warmside::light {

/// A UV index and between what it very likely lies: nine times in ten, as far as the widths below
/// can be trusted.
struct UvBand {
  double best = 0;
  double low = 0;
  double high = 0;
};
/// Two lamps: the middles add up, and the widths as squares, since the errors of one have nothing
/// to do with those of the other.
UvBand operator+(const UvBand& a, const UvBand& b);

/// From the middle of a lamp's face.
struct UnderLamp {
  double along_m = 0;  // along a tube
  double aside_m = 0;
  double below_m = 0;
};

/// Which way a surface faces: a unit vector in the same frame, `up` against `below`.
struct Facing {
  double along = 0;
  double aside = 0;
  double up = 1;
};

/// How the light leaves a lamp, but for its strength.
struct Optics {
  /// Of a tube: the part that shines; nothing: a point.
  double length_m = 0;
  /// The light seems to come from this far behind the face.
  double offset_m = 0;
  /// A point: cos^lobe of the angle from straight down. A tube: the same of the angle across it, on
  /// top of the diffuse line: 0 bare, 1 a flat strip that shines down.
  double lobe = 0;
};

/// The open share of a square mesh at normal incidence, 0..1: (1 - d/p)^2 for wire d in squares p.
struct Mesh {
  double open = 1;
  /// What passes along a direction. Wires of each of the two ways shade on their own: at a tilt a
  /// across one, (1 - d/p)(1 - d/(p cos a)).
  double passes(double along, double aside, double down) const;
};

/// UV index for a strength of 1, through a mesh if there is one. A point: 1 straight below at 1 m
/// from where the light seems to come. A tube: F / pi^2 is 1, F its flux per metre.
double geometric_factor(const Optics& optics, const UnderLamp& at, const Facing& facing = {},
                        const Mesh* mesh = nullptr);

/// The lobe that is at half its strength at half the full angle; 180 degrees: an even half space.
double lobe_of_beam(double beam_deg);

enum class Emitter { tube, compact, flood, spot };
/// What a lamp of the book counts as: T5, T8 and LED strips as tubes, mercury vapour, metal halide
/// and halogen as floods.
Emitter emitter_of(room::LampKind kind);

/// What is known of a lamp.
struct KnownLamp {
  Emitter emitter = Emitter::tube;
  std::optional<Length> length;  // of a tube
  std::optional<double> beam_deg;
  room::Answer reflector = room::Answer::unknown;
  /// The UV index straight below at these distances from the face; none: there is no field.
  std::vector<room::UvRow> rows;
  /// Read in place, so that the rows hold what the screen takes. Else: without any screen.
  bool in_place = false;
  /// The level now against that of the rows, a factor.
  UvBand since{1, 1, 1};
  room::Screen screen = room::Screen::nothing;
  std::optional<Percentage> mesh_open;
};

class LampField {
 public:
  /// Problem (missing): no row, or none above nothing.
  static Result<LampField> from(const KnownLamp& lamp);

  UvBand at(const UnderLamp& at, const Facing& facing = {}) const;
  /// Only the best guess: for pictures.
  double best_at(const UnderLamp& at, const Facing& facing = {}) const;
  /// The best guess of its optics.
  const Optics& optics() const { return ways_.front().optics; }
  /// What was guessed and how, as sentences.
  const std::vector<std::string>& notes() const { return notes_; }

 private:
  /// One way in which the lamp may shine that agrees with the rows.
  struct Way {
    Optics optics;
    double strength = 0;
  };

  std::vector<Way> ways_;  // the best first
  UvBand level_{1, 1, 1};  // age, screen and width of the level together
  std::optional<Mesh> mesh_;
  double behind_mesh_ = 1;  // what the rows already hold of it
  std::vector<std::string> notes_;
};

}  // namespace warmside::light

namespace warmside {
template <>
struct Words<light::Emitter> {
  static constexpr std::array<std::string_view, 4> list{"tube", "compact", "flood", "spot"};
};
}  // namespace warmside
