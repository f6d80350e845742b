#include "light/uv_field.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "species/care_rules.h"

namespace warmside::light {
namespace {

// Widths: half of a band that holds nine in ten, as a logarithm. From memory, no source at hand.
constexpr double kMeter = 0.15;      // a keeper's UV index meter under a lamp
constexpr double kUnitToUnit = 0.3;  // a lamp against its data sheet: batch, mains, ballast, warmth
constexpr double kGeometry = 0.07;   // that no lamp is a line or a point
constexpr double kRounding = 0.05;   // of a row: printed with two figures, a place found by hand
constexpr double kDirtyMesh = 0.85, kCleanMesh = 1.05;  // of a mesh whose open share is known

// Our own choices, no source: where a point or a line would have to be to throw such light.
constexpr double kNearest_m = 0.005;  // nearer there is no place for a point
constexpr double kFarthestOffset_m = 0.5;
constexpr int kSegments = 24;  // of a tube seen through a mesh

struct Choice {
  double best, low, high;
};
Choice usual_offset_m(Emitter emitter) {
  switch (emitter) {
    case Emitter::tube:
      return {0.01, 0, 0.03};
    case Emitter::compact:
      return {0.03, 0, 0.1};
    case Emitter::flood:
      return {0.05, 0, 0.15};
    case Emitter::spot:
      break;
  }
  return {0.1, 0, 0.3};
}

/// One closed integral over the part u1..u2 of a line: u runs along it from the point's foot,
/// v aside and w up to it. K rho (w/rho)^m times the integral of (n_u u + c) / (rho^2 + u^2)^2.
double line_factor(double u1, double u2, double v, double w, const Facing& facing, double lobe) {
  const double rho = std::max(std::hypot(v, w), kNearest_m);
  const double c = facing.aside * v + facing.up * w;
  // Only what lies in front of the surface.
  if (facing.along == 0) {
    if (!(c > 0)) return 0;
  } else if (const double horizon = -c / facing.along; facing.along > 0) {
    u1 = std::max(u1, horizon);
  } else {
    u2 = std::min(u2, horizon);
  }
  if (!(u1 < u2)) return 0;
  const auto even = [&](double u) {
    return u / (2 * rho * rho * (rho * rho + u * u)) + std::atan(u / rho) / (2 * rho * rho * rho);
  };
  const auto odd = [&](double u) { return -1 / (2 * (rho * rho + u * u)); };
  return rho * std::pow(std::max(w, 0.0) / rho, lobe) *
         (c * (even(u2) - even(u1)) + facing.along * (odd(u2) - odd(u1)));
}

double tube_factor(const Optics& optics, const UnderLamp& at, const Facing& facing,
                   const Mesh* mesh) {
  const double w = at.below_m + optics.offset_m, v = -at.aside_m;
  const double from = -optics.length_m / 2 - at.along_m, to = optics.length_m / 2 - at.along_m;
  if (mesh == nullptr) return line_factor(from, to, v, w, facing, optics.lobe);
  double sum = 0;
  for (int i = 0; i < kSegments; ++i) {
    const double u1 = from + (to - from) * i / kSegments;
    const double u2 = from + (to - from) * (i + 1) / kSegments;
    sum += line_factor(u1, u2, v, w, facing, optics.lobe) * mesh->passes((u1 + u2) / 2, v, w);
  }
  return sum;
}

double point_factor(const Optics& optics, const UnderLamp& at, const Facing& facing,
                    const Mesh* mesh) {
  const double u = -at.along_m, v = -at.aside_m, w = at.below_m + optics.offset_m;
  const double r = std::max(std::sqrt(u * u + v * v + w * w), kNearest_m);
  const double in_front = (facing.along * u + facing.aside * v + facing.up * w) / r;
  if (!(in_front > 0)) return 0;
  return std::pow(w / r, optics.lobe) * in_front / (r * r) *
         (mesh == nullptr ? 1 : mesh->passes(u, v, w));
}

/// How well a lamp's rows fit a line or a point with an offset: strength and what is left over.
struct Fit {
  double strength = 0;
  double misfit = 0;  // root mean square, as a logarithm
};
Fit fit(const Optics& optics, std::span<const room::UvRow> rows) {
  std::vector<double> logs;
  double mean = 0;
  for (const room::UvRow& row : rows) {
    logs.push_back(
        std::log(row.uvi.index() / geometric_factor(optics, {0, 0, row.distance.metres()})));
    mean += logs.back() / static_cast<double>(rows.size());
  }
  double squares = 0;
  for (const double log : logs) squares += (log - mean) * (log - mean);
  return {std::exp(mean), std::sqrt(squares / static_cast<double>(rows.size()))};
}

/// The offset at which the rows fit best. The misfit has one valley in it: on the axis the fall
/// from near to far grows gentler with it throughout.
double fitted_offset_m(Optics optics, std::span<const room::UvRow> rows) {
  double low = 0, high = kFarthestOffset_m;
  const double shrink = (std::sqrt(5.0) - 1) / 2;
  const auto misfit = [&](double offset_m) {
    optics.offset_m = offset_m;
    return fit(optics, rows).misfit;
  };
  double a = high - shrink * (high - low), b = low + shrink * (high - low);
  double at_a = misfit(a), at_b = misfit(b);
  for (int i = 0; i < 60; ++i) {
    if (at_a <= at_b) {
      high = b;
      b = a;
      at_b = at_a;
      a = high - shrink * (high - low);
      at_a = misfit(a);
    } else {
      low = a;
      a = b;
      at_a = at_b;
      b = low + shrink * (high - low);
      at_b = misfit(b);
    }
  }
  return (low + high) / 2;
}

/// The same, where the nearest row may be wrong one way and the farthest the other.
std::vector<room::UvRow> bent(std::vector<room::UvRow> rows, double by) {
  rows.front().uvi = rows.front().uvi * std::exp(by);
  rows.back().uvi = rows.back().uvi * std::exp(-by);
  return rows;
}

/// Those above nothing: 0 is below what the meter shows.
std::vector<room::UvRow> usable(const std::vector<room::UvRow>& rows) {
  std::vector<room::UvRow> made;
  for (const room::UvRow& row : rows) {
    if (row.uvi > UvIndex()) made.push_back(row);
  }
  return made;
}

}  // namespace

UvBand operator+(const UvBand& a, const UvBand& b) {
  const double best = a.best + b.best;
  return {best, std::max(best - std::hypot(a.best - a.low, b.best - b.low), 0.0),
          best + std::hypot(a.high - a.best, b.high - b.best)};
}

double Mesh::passes(double along, double aside, double down) const {
  const double wire = 1 - std::sqrt(open);  // d/p
  const auto way = [&](double across) {
    const double cosine = down / std::hypot(across, down);
    return std::max(1 - wire / cosine, 0.0);
  };
  return down > 0 ? way(along) * way(aside) : 0;
}

double geometric_factor(const Optics& optics, const UnderLamp& at, const Facing& facing,
                        const Mesh* mesh) {
  if (!(at.below_m > 0)) return 0;
  return optics.length_m > 0 ? tube_factor(optics, at, facing, mesh)
                             : point_factor(optics, at, facing, mesh);
}

double lobe_of_beam(double beam_deg) {
  const double cosine = std::cos(beam_deg / 2 * std::numbers::pi / 180);
  return cosine < 1e-9 ? 0 : std::log(0.5) / std::log(cosine);
}

Emitter emitter_of(room::LampKind kind) {
  if (room::is_tube(kind)) return Emitter::tube;
  return kind == room::LampKind::compact ? Emitter::compact : Emitter::flood;
}

Result<LampField> LampField::from(const KnownLamp& lamp) {
  const auto rows = usable(lamp.rows);
  if (rows.empty()) {
    return Problem{
        ProblemCode::missing,
        lamp.rows.empty() ? "nothing is known of its UV" : "it gave no UV where it was read",
        {},
        "a reading of a UV meter, or the UV index at a distance from its data sheet",
        ""};
  }
  LampField field;

  // --- which lines or points it may be ---
  std::vector<double> lengths{0}, lobes{0};
  if (lamp.emitter == Emitter::tube) {
    if (lamp.length) {
      lengths = {lamp.length->metres()};
    } else {
      lengths = {0.55, 0.3, 1.15};
      field.notes_.push_back("How long the tube shines is not known: 30 to 115 cm are counted.");
    }
    switch (lamp.reflector) {
      case room::Answer::no:
        lobes = {0};
        break;
      case room::Answer::yes:
        lobes = {1, 0.5, 2};
        break;
      case room::Answer::unknown:
        lobes = {0.5, 0, 2};
        field.notes_.push_back(
            "Whether the tube hangs in a reflector is not known; to its sides it may be weaker or "
            "stronger.");
        break;
    }
  } else if (lamp.beam_deg) {
    const double lobe = lobe_of_beam(*lamp.beam_deg);
    lobes = {lobe, lobe * 0.7, lobe * 1.4};
  } else if (lamp.emitter == Emitter::compact) {
    lobes = {0, 1};
  } else {
    const bool spot = lamp.emitter == Emitter::spot;
    lobes = spot ? std::vector<double>{lobe_of_beam(30), lobe_of_beam(45), lobe_of_beam(20)}
                 : std::vector<double>{lobe_of_beam(60), lobe_of_beam(120), lobe_of_beam(30)};
    field.notes_.push_back(fmt::format(
        "How wide its beam is is not known: {} degrees are counted, and beside the middle the band "
        "is wide.",
        spot ? "20 to 45" : "30 to 120"));
  }
  double misfit = 0;
  for (const double length_m : lengths) {
    std::vector<double> offsets;
    Optics optics{length_m, 0, 0};
    if (rows.size() == 1) {
      const Choice usual = usual_offset_m(lamp.emitter);
      offsets = {usual.best, usual.low, usual.high};
    } else {
      offsets = {fitted_offset_m(optics, rows), fitted_offset_m(optics, bent(rows, kRounding)),
                 fitted_offset_m(optics, bent(rows, -kRounding))};
      optics.offset_m = offsets.front();
      if (field.ways_.empty()) misfit = fit(optics, rows).misfit;
    }
    for (const double offset_m : offsets) {
      for (const double lobe : lobes) {
        optics = {length_m, offset_m, lobe};
        field.ways_.push_back({optics, fit(optics, rows).strength});
      }
    }
  }
  if (rows.size() == 1 && !lamp.in_place) {
    field.notes_.push_back("Its data sheet gives one distance; away from it the band is wider.");
  }
  if (misfit > 2 * kRounding) {
    field.notes_.push_back(
        fmt::format("The distances do not fit one lamp well (by {:.0f} %): is one a slip?",
                    100 * std::expm1(misfit)));
  }

  // --- how sure the level is ---
  const double width = std::hypot(lamp.in_place ? kMeter : kUnitToUnit, kGeometry, 1.6 * misfit);
  field.level_ = {lamp.since.best, lamp.since.low * std::exp(-width),
                  lamp.since.high * std::exp(width)};

  // --- what lies between ---
  switch (lamp.screen) {
    case room::Screen::nothing:
      break;
    case room::Screen::closed:
      if (lamp.in_place) {
        field.notes_.push_back(
            "A closed lid lies between by the room file, yet UV was read: the reading is believed. "
            "Was it taken below the lid?");
      } else {
        field.level_ = {0, 0, 0};
        field.notes_.push_back(
            "A closed lid of glass or plastic lies between: ordinary glass and acrylic let next to "
            "no UVB through, so nothing is counted.");
      }
      break;
    case room::Screen::mesh:
    case room::Screen::unknown: {
      const auto loss = *parse_range<Percentage>(species::care_rules().rule("mesh_uv_loss").value);
      const double middle = 1 - (loss.low.share() + loss.high.share()) / 2;
      const bool known = lamp.screen == room::Screen::mesh && lamp.mesh_open.has_value();
      field.mesh_ = Mesh{known ? std::clamp(lamp.mesh_open->share(), 0.0, 1.0) : middle};
      if (lamp.in_place) {
        field.behind_mesh_ = field.mesh_->open;
        if (!(field.behind_mesh_ > 0)) field.mesh_.reset(), field.behind_mesh_ = 1;
        break;
      }
      if (known) {
        field.level_.low *= kDirtyMesh;
        field.level_.high *= kCleanMesh;
        break;
      }
      if (lamp.screen == room::Screen::unknown) {
        field.level_.low = 0;
        field.level_.high /= middle;
        field.notes_.push_back(
            "It hangs over the lid and what the lid is made of is not known: mesh is counted; "
            "under glass or plastic there would be no UVB.");
        break;
      }
      field.level_.low *= (1 - loss.high.share()) / middle;
      field.level_.high *= (1 - loss.low.share()) / middle;
      field.notes_.push_back(fmt::format(
          "How open the mesh is is not known: a loss of {:.0f} % is counted, from {:.0f} "
          "to {:.0f} %.",
          100 * (1 - middle), loss.low.percent(), loss.high.percent()));
      break;
    }
  }
  return field;
}

double LampField::best_at(const UnderLamp& at, const Facing& facing) const {
  const Mesh* mesh = mesh_ ? &*mesh_ : nullptr;
  const Way& way = ways_.front();
  return level_.best * way.strength * geometric_factor(way.optics, at, facing, mesh) / behind_mesh_;
}

UvBand LampField::at(const UnderLamp& at, const Facing& facing) const {
  const Mesh* mesh = mesh_ ? &*mesh_ : nullptr;
  UvBand made;
  for (std::size_t i = 0; i < ways_.size(); ++i) {
    const Way& way = ways_[i];
    const double value =
        way.strength * geometric_factor(way.optics, at, facing, mesh) / behind_mesh_;
    if (i == 0) made = {value, value, value};
    made.low = std::min(made.low, value);
    made.high = std::max(made.high, value);
  }
  return {made.best * level_.best, made.low * level_.low, made.high * level_.high};
}

}  // namespace warmside::light
