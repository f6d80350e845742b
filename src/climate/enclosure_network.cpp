#include "climate/enclosure_network.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "climate/convection.h"
#include "climate/materials.h"
#include "climate/room_network.h"
#include "core/check.h"

namespace warmside::climate {
namespace {

// Surface resistances between a face and a room, convection and radiation together, m2K/W.
// Source: ISO 6946:2017 table 7 (internal surfaces), from memory.
constexpr double kOuterWall = 0.13, kOuterTop = 0.10, kOuterBottom = 0.17;
/// A face against a shelf or another enclosure of given temperature: a thin gap. A guess; common
/// practice, no source.
constexpr double kContact = 0.10;
/// Walls of less resistance than this get one node: their two sides differ by little (Bi < 0.1).
constexpr double kThinWall = 0.02;
/// Warm air over cool mixes by the layers that run along the walls: with the profiles of Squire
/// 1938 and Eckert (u ~ s (1-s)^2, T ~ (1-s)^2) their heat is 0.4 of the whole difference times
/// their flow, so a level's walls that pass h A dT drive a flow of heat capacity h A / 0.4.
constexpr double kLayerHeat = 0.4;
/// The difference of temperature, K, for which h is taken there.
constexpr double kLayerMet_k = 3;
/// Discharge coefficients: large opening (Brown & Solvason 1962), sharp edge (IBPSA default).
constexpr double kDoorway = 0.6, kSharpEdge = 0.65;
/// Horizontal opening over lighter air: Q = 0.055 sqrt(g drho/rho D^5) (Epstein 1988, J. Heat
/// Transfer 110:885).
constexpr double kEpstein = 0.055;
/// The same flow written as a loss coefficient on the mean velocity (derived from kEpstein).
constexpr double kEpsteinLoss = 51;
/// The difference of temperature across a layer, K, at which floor, levels and lid together carry
/// what the correlation gives, as surface_factor() does for two films; and how much more than those
/// the films may be made to carry, in boxes too narrow for a correlation of wide layers. The
/// latter: common practice, no source.
constexpr double kLayerAcross_k = 5, kMostOfLayer = 1.3;
/// Against the stable side of a lid little flows. A guess; common practice, no source.
constexpr double kStableOpening = 0.1;
/// Cuts closer than this are one.
constexpr double kNearest_m = 0.012;
/// The shell of a hide, and the resistance of the air in it (ISO 6946 table 8, 50 mm upward to
/// downward 0.16 to 0.21 m2K/W, from memory).
constexpr double kShell_m = 0.01, kHideAir = 0.17;
/// Of a stick-on thermometer: what it takes from the wall; the rest from the air. A guess; common
/// practice, no source.
constexpr double kStickOnWall = 0.75;
/// A thermostat's probe: its size, film (half of it convection), what it takes of a beam, and a
/// beam that is not worth a node. Guesses; common practice, no source.
constexpr double kProbeRadius_m = 0.003, kProbeFilm = 12, kProbeTakes = 0.6, kFaint_w_per_m2 = 2;
/// Half the side of the patch of ground that a probe feels. Common practice, no source.
constexpr double kPatch_m = 0.03;
/// How wide the strip beside a cable is: about the length of a fin of thin ground over plastic,
/// chosen so that year's network and map agree.
constexpr double kStrip_m = 0.04;
/// Window glass in the band of temp guns, 8 to 14 um; its heat balance takes 0.84.
constexpr double kGlassInBand = 0.95;
/// From damp by nature to drying: share of a moist substrate's surface that gives off water. A
/// guess; common practice, no source.
constexpr double kMoistShare = 0.3;
/// Width of a bulb with its air. A guess; common practice, no source.
constexpr double kBulb_m = 0.10;

struct Stack {
  double resistance = 0;       // m2K/W
  double capacity = 0;         // J/m2K
  double lateral_w_per_k = 0;  // conductivity times thickness, W/K
};

Stack stack_of(const room::Construction& construction) {
  Stack stack;
  for (const room::Layer& layer : construction.layers) {
    const Material* material = find_material(layer.material);
    WS_CHECK(material != nullptr);
    const double d = layer.thickness.metres();
    stack.resistance += d / material->conductivity_w_per_m_k;
    stack.capacity += d * material->density_kg_per_m3 * material->heat_capacity_j_per_kg_k;
    stack.lateral_w_per_k += d * material->conductivity_w_per_m_k;
  }
  return stack;
}

double in_gun_band(const std::string& material, double emissivity) {
  return material == "glass" ? kGlassInBand : emissivity;
}

/// Cuts along one axis: the wanted ones in order, near ones joined in their middle, the rest
/// divided evenly.
std::vector<double> divided(std::vector<double> cuts, double whole, double largest) {
  std::sort(cuts.begin(), cuts.end());
  std::vector<double> kept{0};
  for (std::size_t i = 0; i < cuts.size();) {
    std::size_t last = i;
    while (last + 1 < cuts.size() && cuts[last + 1] - cuts[last] <= kNearest_m) ++last;
    const double middle = 0.5 * (cuts[i] + cuts[last]);
    if (middle > kNearest_m && whole - middle > kNearest_m) kept.push_back(middle);
    i = last + 1;
  }
  kept.push_back(whole);
  std::vector<double> out{0};
  for (std::size_t i = 1; i < kept.size(); ++i) {
    const double span = kept[i] - kept[i - 1];
    const int parts = std::max(1, static_cast<int>(std::ceil(span / largest - 1e-9)));
    for (int p = 1; p <= parts; ++p) out.push_back(kept[i - 1] + span * p / parts);
  }
  return out;
}

double overlap(double a_low, double a_high, double b_low, double b_high) {
  return std::max(0.0, std::min(a_high, b_high) - std::max(a_low, b_low));
}

class Builder {
 public:
  Builder(const EnclosureCase& enclosure, const Resolution& resolution)
      : case_(enclosure),
        res_(resolution),
        length_(enclosure.size.length.metres()),
        width_(enclosure.size.width.metres()),
        height_(enclosure.size.height.metres()),
        start_k_(enclosure.room.walls_w_per_k ? enclosure.room.heater_day.kelvin()
                                              : enclosure.room.temperature.kelvin()) {}

  EnclosureNetwork build() {
    net().boundaries.push_back(
        air_boundary(case_.room, case_.weather, own_room() ? "outdoors" : "room"));
    add_air();
    cut_floor();
    add_floor();
    add_bodies();
    add_dish();
    add_floor_air();
    add_walls();
    add_radiation();
    mix_air();
    open_to_room();
    add_heaters();
    add_probes();
    add_misting();
    out_.room = net().node_count();
    if (own_room()) {
      add_room(case_.room, net());
      out_.outside_share.resize(net().heaters.size(), 0);
    }
    number_ends(net(), out_.room);
    return std::move(out_);
  }

 private:
  static std::size_t at(int i) { return static_cast<std::size_t>(i); }
  Network& net() { return out_.network; }
  bool own_room() const { return case_.room.walls_w_per_k.has_value(); }

  int add_node(std::string name, double capacity) {
    net().nodes.push_back({std::move(name), capacity, start_k_});
    return net().node_count() - 1;
  }
  void conduct(int a, int b, double w_per_k, bool air = false) {
    if (w_per_k > 0 && a != b) net().conductions.push_back({a, b, w_per_k, air});
  }

  // --- air ---

  double column_m() const { return length_ / res_.air_columns; }
  double level_m() const { return height_ / res_.air_levels; }
  int air(int column, int level) const {
    return out_.air[at(column * res_.air_levels + level)].node;
  }
  int column_at(double x) const {
    return std::clamp(static_cast<int>(x / column_m()), 0, res_.air_columns - 1);
  }
  int level_at(double z) const {
    return std::clamp(static_cast<int>(z / level_m()), 0, res_.air_levels - 1);
  }

  void add_air() {
    volume_heat_ = air_heat(start_k_);
    net().air_heat_j_per_m3_k = volume_heat_;
    const double volume = column_m() * width_ * level_m();
    const double vapour = own_room() ? vapour_of(case_.room.heater_day, case_.room.humidity)
                                     : net().boundaries.front().vapour_kg_per_m3;
    for (int c = 0; c < res_.air_columns; ++c) {
      for (int l = 0; l < res_.air_levels; ++l) {
        const int node = add_node(fmt::format("air {}.{}", c + 1, l + 1), volume * volume_heat_);
        net().air.push_back({node, volume, vapour});
        out_.air.push_back({c * column_m(), (c + 1) * column_m(), l * level_m(),
                            (l + 1) * level_m(), node, static_cast<int>(net().air.size()) - 1});
      }
    }
  }

  /// The flow along the walls between two levels of a column, W/K.
  double layers(int column) const {
    const double h = surface_factor(Facing::vertical, true, height_) * std::cbrt(kLayerMet_k);
    const int ends = (column == 0 ? 1 : 0) + (column == res_.air_columns - 1 ? 1 : 0);
    return h * level_m() * (2 * column_m() + ends * width_) / kLayerHeat;
  }

  /// Heat that rises between two levels of a column, W at 1 K; it grows with the power 3/2.
  double overturning() const {
    const double diameter = std::sqrt(4 * column_m() * width_ / std::numbers::pi);
    return volume_heat_ * kEpstein * std::sqrt(kGravity / start_k_) * std::pow(diameter, 2.5);
  }

  /// The coefficient of a warm floor or a cool lid: surface_factor() shares a layer's resistance
  /// between two films, but here the levels of air between them take a part of it.
  double layer_factor() const {
    const double shared = surface_factor(Facing::up, true, height_);
    const double heat = shared * std::pow(kLayerAcross_k / 2, 4.0 / 3) * column_m() * width_;
    double low = 0, high = kLayerAcross_k;
    for (int i = 0; i < 40; ++i) {
      const double step = 0.5 * (low + high);
      (overturning() * std::pow(step, 1.5) + layers(0) * step < heat ? low : high) = step;
    }
    const double left = 1 - (res_.air_levels - 1) * low / kLayerAcross_k;
    return shared * std::min(std::pow(std::max(left, 0.1), -4.0 / 3), kMostOfLayer);
  }

  void mix_air() {
    const double overturns = overturning();
    const double doorway = volume_heat_ * kDoorway * width_ / 3 *
                           std::sqrt(kGravity / start_k_ * std::pow(level_m(), 3));
    for (int c = 0; c < res_.air_columns; ++c) {
      for (int l = 0; l < res_.air_levels; ++l) {
        if (l + 1 < res_.air_levels) {
          net().convections.push_back({air(c, l), air(c, l + 1), overturns, 0, 0.5, true});
          conduct(air(c, l), air(c, l + 1), layers(c), true);
        }
        if (c + 1 < res_.air_columns) {
          net().convections.push_back({air(c, l), air(c + 1, l), doorway, doorway, 0.5, true});
        }
      }
    }
  }

  // --- the floor: panel and substrate, cells in plan, nodes at the levels between ---

  void cut_floor() {
    std::vector<double> x_cuts, y_cuts;
    for (int c = 1; c < res_.air_columns; ++c) x_cuts.push_back(c * column_m());
    const auto cut = [&](const Span& x, const Span& y) {
      x_cuts.insert(x_cuts.end(), {x.low.metres(), x.high.metres()});
      y_cuts.insert(y_cuts.end(), {y.low.metres(), y.high.metres()});
    };
    for (const CaseHeater& heater : case_.heaters) {
      if (in_floor(heater.kind)) cut(heater.x, heater.y);
      if (heater.kind == CaseHeaterKind::cable && res_.merged) {
        const auto [x, y] = beside_cable(heater);
        cut(x, y);
      }
      if (const auto lit = spot(heater); lit && res_.merged) cut(lit->first, lit->second);
    }
    for (const CaseProbe& probe : case_.probes) {
      if (const auto felt = patch(probe); felt && res_.merged) cut(felt->first, felt->second);
    }
    for (const CaseBody& body : case_.bodies) {
      if (body.kind == BodyKind::rock || (res_.bodies_cut && body.kind == BodyKind::hide)) {
        cut(body.x, body.y);
      }
    }
    xs_ = divided(x_cuts, length_, res_.largest_cell_m);
    ys_ = divided(y_cuts, width_, res_.largest_cell_m);
    nx_ = static_cast<int>(xs_.size()) - 1;
    ny_ = static_cast<int>(ys_.size()) - 1;
  }
  static bool in_floor(CaseHeaterKind kind) {
    return kind == CaseHeaterKind::mat_under || kind == CaseHeaterKind::mat_inside ||
           kind == CaseHeaterKind::cable;
  }

  void add_floor() {
    const Stack panel = stack_of(case_.faces.bottom);
    const Material* substrate = find_material(case_.substrate.kind);
    WS_CHECK(substrate != nullptr);
    const int intervals = res_.substrate_intervals;
    const double dz = case_.substrate.depth.metres() / intervals;
    const double k = substrate->conductivity_w_per_m_k;
    const double heat = substrate->density_kg_per_m3 * substrate->heat_capacity_j_per_kg_k;
    levels_ = intervals + 2;  // bottom of the panel, top of the panel, then the substrate's
    fin_m_ = fin_length(panel, k * case_.substrate.depth.metres(), dz * intervals / k);
    group_cells();
    for (int group = 0; group < groups_; ++group) {
      for (int level = 0; level < levels_; ++level) {
        floor_node_.push_back(add_node(fmt::format("floor {}.{}", group + 1, level), 0));
      }
    }
    for (int i = 0; i < nx_; ++i) {
      for (int j = 0; j < ny_; ++j) {
        const double area = cell_area(i, j);
        for (int level = 0; level < levels_; ++level) {
          const double from_panel = level <= 1 ? panel.capacity / 2 : 0;
          const double from_substrate =
              level == 0 ? 0 : heat * dz * (level == 1 || level == levels_ - 1 ? 0.5 : 1.0);
          net().nodes[at(floor(i, j, level))].capacity_j_per_k +=
              area * (from_panel + from_substrate);
        }
        conduct(floor(i, j, 0), floor(i, j, 1), area / panel.resistance);
        for (int level = 1; level + 1 < levels_; ++level) {
          conduct(floor(i, j, level), floor(i, j, level + 1), k * area / dz);
        }
        join_outside("bottom", floor(i, j, 0), area, kOuterBottom);
        Surface surface;
        surface.face = "floor";
        surface.tile = {2, true, 0, {xs_[at(i)], ys_[at(j)]}, {xs_[at(i + 1)], ys_[at(j + 1)]}};
        surface.floor_node = floor(i, j, levels_ - 1);
        surface.parts = {{surface.floor_node, 1}};
        surface.emissivity = substrate->emissivity;
        out_.surfaces.push_back(std::move(surface));
      }
    }
    out_.floor_count = nx_ * ny_;
    for (int i = 0; i < nx_; ++i) {
      for (int j = 0; j < ny_; ++j) {
        for (int level = 0; level < levels_; ++level) {
          const double through =
              (level <= 1 ? panel.lateral_w_per_k / 2 : 0) +
              (level == 0 ? 0 : k * dz * (level == 1 || level == levels_ - 1 ? 0.5 : 1.0));
          join_beside(i, j, through, [&](int a, int b) { return floor(a, b, level); });
        }
      }
    }
  }

  double cell_area(int i, int j) const {
    return (xs_[at(i + 1)] - xs_[at(i)]) * (ys_[at(j + 1)] - ys_[at(j)]);
  }
  /// Cells that share their nodes: each its own on the map; in the year's network those of one air
  /// column that lie over the same mats, under the same lamps and under the same rock.
  void group_cells() {
    std::map<std::vector<int>, int> known;
    for (int i = 0; i < nx_; ++i) {
      for (int j = 0; j < ny_; ++j) {
        const auto lies_over = [&](const Span& x, const Span& y) {
          return covered(i, j, x.low.metres(), x.high.metres(), y.low.metres(), y.high.metres()) >
                 0.5 * cell_area(i, j);
        };
        std::vector<int> mats;
        for (std::size_t h = 0; h < case_.heaters.size(); ++h) {
          const CaseHeater& heater = case_.heaters[h];
          if (in_floor(heater.kind) && lies_over(heater.x, heater.y)) {
            mats.push_back(static_cast<int>(h));
          }
        }
        std::vector<int> key{i, j};
        if (res_.merged) {
          key = mats;
          for (std::size_t h = 0; h < case_.heaters.size(); ++h) {
            const auto lit = spot(case_.heaters[h]);
            if (lit && lies_over(lit->first, lit->second)) key.push_back(static_cast<int>(h));
          }
          for (std::size_t h = 0; h < case_.heaters.size(); ++h) {
            if (case_.heaters[h].kind != CaseHeaterKind::cable) continue;
            const auto [x, y] = beside_cable(case_.heaters[h]);
            if (lies_over(x, y)) key.push_back(500 + static_cast<int>(h));
          }
          for (std::size_t p = 0; p < case_.probes.size(); ++p) {
            const auto felt = patch(case_.probes[p]);
            if (felt && lies_over(felt->first, felt->second)) {
              key.push_back(1000 + static_cast<int>(p));
            }
          }
          for (std::size_t b = 0; b < case_.bodies.size(); ++b) {
            const CaseBody& body = case_.bodies[b];
            if (body.kind == BodyKind::rock && lies_over(body.x, body.y)) {
              key.push_back(-1 - static_cast<int>(b));
            }
          }
          key.push_back(column_at(0.5 * (xs_[at(i)] + xs_[at(i + 1)])));
        }
        mats_.push_back(std::move(mats));
        group_.push_back(known.emplace(key, static_cast<int>(known.size())).first->second);
      }
    }
    groups_ = static_cast<int>(known.size());
  }
  int group(int i, int j) const { return group_[at(i * ny_ + j)]; }
  int floor(int i, int j, int level) const {
    return floor_node_[at(group(i, j) * levels_ + level)];
  }
  Surface& cell(int i, int j) { return out_.surfaces[at(i * ny_ + j)]; }

  /// How far the warmth of a mat reaches along the floor beyond its edge: as of a fin that gives
  /// heat to the box above and to what lies below (Incropera 3.6).
  double fin_length(const Stack& panel, double substrate_w_per_k,
                    double substrate_resistance) const {
    const double up = 1 / (kOuterTop + substrate_resistance / 2);
    double down = 1 / (kOuterBottom + panel.resistance / 2);
    for (const CaseNeighbour& neighbour : case_.neighbours) {
      if (neighbour.face != "bottom") continue;
      if (neighbour.temperature) down = 1 / (kContact + panel.resistance / 2);
      if (neighbour.insulated) down = 0;
    }
    return std::sqrt((panel.lateral_w_per_k + substrate_w_per_k) / (up + down));
  }

  /// The way of heat from the middle of a cell to that of the next, `step` further on. Where cells
  /// share their nodes, what lies beyond a mat's edge is not as warm as at the edge for longer than
  /// a fin's length; nor is what lies beyond a strip at such an edge so narrow that the mat's
  /// warmth passes it.
  double apart(int cell, int step, int place, const std::vector<double>& cuts) const {
    const double wide = cuts[at(place + 1)] - cuts[at(place)];
    const double next = cuts[at(place + 2)] - cuts[at(place + 1)];
    const auto edge = [&](int a, int b) { return mats_[at(a)] != mats_[at(b)]; };
    const bool falls =
        edge(cell, cell + step) || (wide < 2 * fin_m_ && place > 0 && edge(cell - step, cell)) ||
        (next < 2 * fin_m_ && at(place + 3) < cuts.size() && edge(cell + step, cell + 2 * step));
    if (!res_.merged || !falls) return 0.5 * (wide + next);
    return fin_m_ * (std::tanh(wide / (2 * fin_m_)) + std::tanh(next / (2 * fin_m_)));
  }

  /// Conducts from a cell to the next along the length and the depth; `node` of a cell may be -1.
  template <class NodeAt>
  void join_beside(int i, int j, double w_per_k, NodeAt node) {
    const int here = node(i, j), cell = i * ny_ + j;
    if (here < 0) return;
    if (i + 1 < nx_ && node(i + 1, j) >= 0) {
      const double wide = ys_[at(j + 1)] - ys_[at(j)];
      conduct(here, node(i + 1, j), w_per_k * wide / apart(cell, ny_, i, xs_));
    }
    if (j + 1 < ny_ && node(i, j + 1) >= 0) {
      const double wide = xs_[at(i + 1)] - xs_[at(i)];
      conduct(here, node(i, j + 1), w_per_k * wide / apart(cell, 1, j, ys_));
    }
  }

  double covered(int i, int j, double x_low, double x_high, double y_low, double y_high) const {
    return overlap(xs_[at(i)], xs_[at(i + 1)], x_low, x_high) *
           overlap(ys_[at(j)], ys_[at(j + 1)], y_low, y_high);
  }

  // --- what lies on the floor ---

  /// Something on the floor, as far as it lies in one cell.
  struct Lying {
    std::size_t cell;
    int node;
    Tile tile;
  };

  /// Takes a rectangle of a cell from the substrate for another node.
  void cover(int i, int j, int node, double x_low, double x_high, double y_low, double y_high) {
    const double area = covered(i, j, x_low, x_high, y_low, y_high);
    const double low[2] = {std::max(xs_[at(i)], x_low), std::max(ys_[at(j)], y_low)};
    const double high[2] = {std::min(xs_[at(i + 1)], x_high), std::min(ys_[at(j + 1)], y_high)};
    lying_.push_back({at(i * ny_ + j), node, {2, true, 0, {low[0], low[1]}, {high[0], high[1]}}});
    Surface& surface = cell(i, j);
    const double share = std::min(area / cell_area(i, j), surface.parts.front().share);
    surface.parts.front().share -= share;
    surface.parts.push_back({node, share});
  }

  void add_bodies() {
    for (const CaseBody& body : case_.bodies) {
      if (body.kind == BodyKind::branch) continue;
      const Material* material = find_material(body.material);
      const double h = body.height.metres(), k = material->conductivity_w_per_m_k;
      const double heat = material->density_kg_per_m3 * material->heat_capacity_j_per_kg_k;
      const bool solid = body.kind == BodyKind::rock;
      const double resistance = solid ? h / k : kShell_m / k + kHideAir;
      const double thick = solid ? h : kShell_m;
      std::vector<int> top(at(nx_ * ny_), -1);
      std::map<int, int> of_group;
      for (int i = 0; i < nx_; ++i) {
        for (int j = 0; j < ny_; ++j) {
          const double area = covered(i, j, body.x.low.metres(), body.x.high.metres(),
                                      body.y.low.metres(), body.y.high.metres());
          if (!(area > 1e-6)) continue;
          // A rock's heat is half on top, half at the floor; a hide's is its shell's.
          const double whole = heat * thick * area;
          const auto [found, fresh] = of_group.emplace(group(i, j), 0);
          if (fresh)
            found->second = add_node(fmt::format("{} {}", body.name, of_group.size()), 0.1);
          const int node = found->second;
          net().nodes[at(node)].capacity_j_per_k += solid ? whole / 2 : whole;
          if (solid) net().nodes[at(cell(i, j).floor_node)].capacity_j_per_k += whole / 2;
          conduct(node, cell(i, j).floor_node, area / resistance);
          cover(i, j, node, body.x.low.metres(), body.x.high.metres(), body.y.low.metres(),
                body.y.high.metres());
          top[at(i * ny_ + j)] = node;
        }
      }
      for (int i = 0; i < nx_; ++i) {
        for (int j = 0; j < ny_; ++j) {
          join_beside(i, j, k * thick * (solid ? 0.5 : 1.0),
                      [&](int a, int b) { return top[at(a * ny_ + b)]; });
        }
      }
    }
  }

  void add_dish() {
    if (!case_.dish) return;
    const CaseDish& dish = *case_.dish;
    const Material* water = find_material("water");
    const double area = dish.area.square_metres(), depth = dish.depth.metres();
    const double half_x = std::min(std::sqrt(area), length_) / 2;
    const double half_y = std::min(area / (2 * half_x), width_) / 2;
    const double x = std::clamp(dish.x.metres(), half_x, length_ - half_x);
    const double y = std::clamp(dish.y.metres(), half_y, width_ - half_y);
    dish_ = add_node("water dish",
                     area * depth * water->density_kg_per_m3 * water->heat_capacity_j_per_kg_k);
    for (int i = 0; i < nx_; ++i) {
      for (int j = 0; j < ny_; ++j) {
        const double under = covered(i, j, x - half_x, x + half_x, y - half_y, y + half_y);
        if (!(under > 1e-6)) continue;
        // Half the depth of still water and a film below it.
        conduct(dish_, cell(i, j).floor_node,
                under / (depth / 2 / water->conductivity_w_per_m_k + 0.01));
        cover(i, j, dish_, x - half_x, x + half_x, y - half_y, y + half_y);
      }
    }
  }

  void add_floor_air() {
    const double wet = case_.substrate.wetness ? case_.substrate.wetness->share()
                       : case_.substrate.kind.find("moist") != std::string::npos ? kMoistShare
                                                                                 : 0;
    struct Area {
      double m2 = 0, wet_share = 0;
    };
    std::map<std::pair<int, int>, Area> areas;  // by node and air column
    for (int i = 0; i < nx_; ++i) {
      for (int j = 0; j < ny_; ++j) {
        const int column = column_at(0.5 * (xs_[at(i)] + xs_[at(i + 1)]));
        for (const Part& part : cell(i, j).parts) {
          const bool bare = part.node == cell(i, j).floor_node;
          Area& area = areas[{part.node, column}];
          area.m2 += part.share * cell_area(i, j);
          area.wet_share = part.node == dish_ ? 1 : bare ? wet : 0;
        }
      }
    }
    // Without misting hardly any dew falls on the floor, so its films need no state.
    const bool film = !case_.mistings.empty();
    for (const auto& [ends, area] : areas) {
      if (area.m2 > 1e-6) {
        convect(ends.first, air(ends.second, 0), area.m2, Facing::up, area.wet_share, film);
      }
    }
  }

  /// Convection of a surface with air, and the vapour that goes with it.
  void convect(int surface, int zone, double area, Facing facing, double wet_share, bool film) {
    const auto factor = [&](bool warmer) {
      const bool unstable = facing != Facing::vertical && (facing == Facing::up) == warmer;
      return unstable ? layer_factor() : surface_factor(facing, warmer, height_);
    };
    net().convections.push_back(
        {surface, zone, factor(true) * area, factor(false) * area, 1.0 / 3});
    net().wet.push_back({static_cast<int>(net().convections.size()) - 1, area, wet_share, film});
  }

  // --- walls and lid ---

  void join_outside(const std::string& face, int node, double area, double resistance) {
    for (const CaseNeighbour& neighbour : case_.neighbours) {
      if (neighbour.face != face) continue;
      if (neighbour.insulated) return;
      if (neighbour.temperature) {
        conduct(node, beside(face, *neighbour.temperature), area / kContact);
        return;
      }
    }
    conduct(node, kRoomEnd, area / resistance);
  }
  /// The boundary that lies against a face, as a marked end.
  int beside(const std::string& face, Temperature t) {
    const std::string name = "beside " + face;
    auto& all = net().boundaries;
    for (std::size_t b = 0; b < all.size(); ++b) {
      if (all[b].name == name) return marked(static_cast<int>(b));
    }
    Boundary boundary;
    boundary.name = name;
    boundary.value_k = t.kelvin();
    all.push_back(std::move(boundary));
    return marked(static_cast<int>(all.size()) - 1);
  }

  void add_wall(const std::string& face, const room::Construction& construction, const Tile& tile,
                const std::vector<std::pair<int, double>>& air_shares, Facing facing,
                double outer_resistance, double solid_share = 1) {
    const Stack stack = stack_of(construction);
    const double area = tile.area_m2() * solid_share;
    const std::string name =
        fmt::format("{} {}", face, out_.surfaces.size() + 1 - at(out_.floor_count));
    int inner = 0;
    if (stack.resistance < kThinWall) {
      inner = add_node(name, std::max(stack.capacity * area, 1.0));
      join_outside(face, inner, area, outer_resistance + stack.resistance / 2);
    } else {
      inner = add_node(name + " inside", std::max(stack.capacity * area / 2, 1.0));
      const int outer = add_node(name + " outside", std::max(stack.capacity * area / 2, 1.0));
      conduct(inner, outer, area / stack.resistance);
      join_outside(face, outer, area, outer_resistance);
    }
    for (const auto& [zone, share] : air_shares)
      convect(inner, zone, area * share, facing, 0, true);
    Surface surface;
    surface.face = face;
    surface.tile = tile;
    surface.parts = {{inner, solid_share}};
    if (solid_share < 1) surface.parts.push_back({kRoomEnd, 1 - solid_share});
    surface.emissivity = find_material(construction.layers.front().material)->emissivity;
    out_.surfaces.push_back(std::move(surface));
  }

  bool mesh_top() const { return case_.faces.top.layers.front().material == "mesh"; }
  double lid_open_share() const { return mesh_top() ? 1 - case_.openings.lid_covered.share() : 0; }

  void add_walls() {
    const auto levels = [&](int column) {
      std::vector<std::pair<int, double>> shares;
      for (int l = 0; l < res_.air_levels; ++l) {
        shares.emplace_back(air(column, l), 1.0 / res_.air_levels);
      }
      return shares;
    };
    const CaseFaces& faces = case_.faces;
    for (int c = 0; c < res_.air_columns; ++c) {
      const double low = c * column_m(), high = (c + 1) * column_m();
      add_wall("front", faces.front, {1, true, 0, {low, 0}, {high, height_}}, levels(c),
               Facing::vertical, kOuterWall);
      add_wall("back", faces.back, {1, false, width_, {low, 0}, {high, height_}}, levels(c),
               Facing::vertical, kOuterWall);
      const std::vector<std::pair<int, double>> top{{air(c, res_.air_levels - 1), 1.0}};
      // Of a mesh only what is covered is a surface; a thin sheet stands for the cover.
      static const room::Construction kCover{{{"acrylic", Length::millimetres(3)}}};
      add_wall("top", mesh_top() ? kCover : faces.top,
               {2, false, height_, {low, 0}, {high, width_}}, top, Facing::down, kOuterTop,
               std::max(1 - lid_open_share(), 1e-3));
    }
    add_wall("left", faces.left, {0, true, 0, {0, 0}, {width_, height_}}, levels(0),
             Facing::vertical, kOuterWall);
    add_wall("right", faces.right, {0, false, length_, {0, 0}, {width_, height_}},
             levels(res_.air_columns - 1), Facing::vertical, kOuterWall);
  }

  // --- radiation between all inner tiles ---

  void add_radiation() {
    const auto n = static_cast<Eigen::Index>(out_.surfaces.size());
    std::vector<Tile> tiles;
    Eigen::VectorXd areas(n), emissivity(n);
    for (Eigen::Index i = 0; i < n; ++i) {
      const Surface& surface = out_.surfaces[static_cast<std::size_t>(i)];
      tiles.push_back(surface.tile);
      areas[i] = surface.tile.area_m2();
      emissivity[i] = surface.emissivity;
    }
    const Eigen::MatrixXd exchange = exchange_areas(view_matrix(tiles), areas, emissivity);
    net().radiations.reserve(static_cast<std::size_t>(n * n / 2 + n));
    for (Eigen::Index i = 0; i < n; ++i) {
      for (Eigen::Index j = i + 1; j < n; ++j) {
        if (!(exchange(i, j) > 1e-12)) continue;
        for (const Part& a : out_.surfaces[static_cast<std::size_t>(i)].parts) {
          for (const Part& b : out_.surfaces[static_cast<std::size_t>(j)].parts) {
            const double area = exchange(i, j) * a.share * b.share;
            if (a.node != b.node && area > 1e-12)
              net().radiations.push_back({a.node, b.node, area});
          }
        }
      }
    }
  }

  // --- openings ---

  /// What a mesh takes from the free counterflow through an opening, at 5 K.
  /// Loss of a wire screen at low speed: Bailey et al. 2003 (Biosyst. Eng. 86:217), from memory.
  double mesh_factor(double area) const {
    const double phi = case_.openings.mesh_open.share();
    if (phi >= 1) return 1;
    if (phi <= 0.01) return 0;
    constexpr double kWire_m = 0.3e-3, kAirViscosity = 1.57e-5;
    const double diameter = std::sqrt(4 * area / std::numbers::pi);
    const double open = kEpstein * std::sqrt(kGravity * 5 / start_k_ * std::pow(diameter, 5));
    double flow = open;
    for (int i = 0; i < 50; ++i) {
      const double u = std::max(flow / (area / 2), 1e-4);
      const double reynolds = u / phi * kWire_m / kAirViscosity;
      const double loss =
          (1 - phi * phi) / (phi * phi) *
          (18 / reynolds + 0.75 / std::log10(reynolds + 1.25) + 0.055 * std::log10(reynolds));
      flow = 0.5 * (flow + open * std::sqrt(kEpsteinLoss / (kEpsteinLoss + std::max(loss, 0.0))));
    }
    return flow / open;
  }

  void open_to_room() {
    const double buoyancy = kGravity / start_k_;
    const int top = res_.air_levels - 1;
    const CaseOpenings& open = case_.openings;
    const auto exchange = [&](int zone, double k, double against) {
      if (k > 0) net().convections.push_back({zone, kRoomEnd, k, against, 0.5, true});
    };
    const double lid_area = length_ * width_ * lid_open_share();
    const double diameter = std::sqrt(4 * lid_area / std::numbers::pi);
    const double lid = volume_heat_ * kEpstein * std::sqrt(buoyancy) * std::pow(diameter, 2.5) *
                       (lid_area > 0 ? mesh_factor(lid_area) : 0) * open.lid_flow_factor;
    const double low = open.vents_low.square_metres(), high = open.vents_high.square_metres();
    double vents = 0;
    if (low > 0 && high > 0) {
      const double both = 1 / std::sqrt(1 / (low * low) + 1 / (high * high));
      vents = volume_heat_ * kSharpEdge * both *
              std::sqrt(2 * buoyancy * std::max(open.vents_apart.metres(), 0.02));
    } else if (low + high > 0) {
      // One opening breathes both ways (Brown & Solvason 1962), taken as square.
      const double area = low + high;
      vents = volume_heat_ * kDoorway * area / 3 * std::sqrt(buoyancy * std::sqrt(area));
    }
    const double leak = volume_heat_ * length_ * width_ * height_ * open.leak_changes_per_h / 3600;
    for (int c = 0; c < res_.air_columns; ++c) {
      exchange(air(c, top), lid / res_.air_columns, kStableOpening * lid / res_.air_columns);
      for (int l = 0; l < res_.air_levels; ++l) {
        const double share = 1.0 / (res_.air_columns * res_.air_levels);
        exchange(air(c, l), vents * share, vents * share);
        conduct(air(c, l), kRoomEnd, leak * share, true);
      }
    }
  }

  // --- heaters ---

  void add_heaters() {
    for (const CaseHeater& heater : case_.heaters) {
      Heater out;
      out.name = heater.name;
      out.power_w = heater.power.watts();
      double outside = 0;
      if (in_floor(heater.kind)) {
        share_over_floor(heater, heater.kind == CaseHeaterKind::mat_under ? 0 : 1, out);
      } else {
        outside = share_by_beam(heater, out);
        out.power_w *= 1 - outside;
      }
      merge_shares(out);
      if (heater.on) {
        out.on_from_s = heater.on->minutes * 60.0;
        out.on_until_s = heater.off->minutes * 60.0;
      }
      for (const CaseThermostat& thermostat : case_.thermostats) {
        if (thermostat.name == heater.thermostat) control(thermostat, out);
      }
      net().heaters.push_back(std::move(out));
      out_.outside_share.push_back(outside);
    }
  }

  static void merge_shares(Heater& heater) {
    std::map<int, double> parts;
    for (const Share& share : heater.shares) parts[share.node] += share.part;
    heater.shares.clear();
    for (const auto& [node, part] : parts) heater.shares.push_back({node, part});
  }

  void share_over_floor(const CaseHeater& heater, int level, Heater& out) {
    double whole = 0;
    for (int i = 0; i < nx_; ++i) {
      for (int j = 0; j < ny_; ++j) {
        const double area = covered(i, j, heater.x.low.metres(), heater.x.high.metres(),
                                    heater.y.low.metres(), heater.y.high.metres());
        if (!(area > 0)) continue;
        out.shares.push_back({floor(i, j, level), area});
        whole += area;
      }
    }
    for (Share& share : out.shares) share.part /= whole;
  }

  /// Places from which a heater shines: a point, points along a tube, points of a panel.
  static std::vector<double> places(const Span& span, int most) {
    const double low = span.low.metres(), high = span.high.metres();
    if (!(high > low)) return {low};
    std::vector<double> out;
    for (int i = 0; i < most; ++i) out.push_back(low + (high - low) * (i + 0.5) / most);
    return out;
  }

  double beam_height(const CaseHeater& heater) const {
    return heater.kind == CaseHeaterKind::panel ? height_ - std::min(0.03, 0.5 * height_)
                                                : heater.z->metres();
  }
  static double half_beam(const CaseHeater& heater) {
    const double beam = heater.beam_deg.value_or(usual_beam_deg(heater.kind));
    return std::min(beam / 2, 89.0) * std::numbers::pi / 180;
  }
  /// Where a lamp throws half of its light on the floor: a cell of its own in the year's network.
  std::optional<std::pair<Span, Span>> spot(const CaseHeater& heater) const {
    if (covers_area(heater.kind) || heater.kind == CaseHeaterKind::tube) return std::nullopt;
    const double radius = std::max(beam_height(heater) * std::tan(half_beam(heater)), 0.04);
    const auto around = [&](const Span& at, double whole) {
      return Span{Length::metres(std::max(at.low.metres() - radius, 0.0)),
                  Length::metres(std::min(at.high.metres() + radius, whole))};
    };
    return std::pair{around(heater.x, length_), around(heater.y, width_)};
  }

  /// A cable is narrow, so that the strip beside it is neither as warm nor as cool as the rest: a
  /// cell of its own in the year's network.
  std::pair<Span, Span> beside_cable(const CaseHeater& cable) const {
    const auto wider = [](const Span& span, double whole) {
      return Span{Length::metres(std::max(span.low.metres() - kStrip_m, 0.0)),
                  Length::metres(std::min(span.high.metres() + kStrip_m, whole))};
    };
    return {wider(cable.x, length_), wider(cable.y, width_)};
  }

  /// The patch of ground that a thermostat's probe feels: a cell of its own in the year's network,
  /// since the whole enclosure follows it.
  std::optional<std::pair<Span, Span>> patch(const CaseProbe& probe) const {
    const bool controls =
        std::any_of(case_.thermostats.begin(), case_.thermostats.end(),
                    [&](const CaseThermostat& t) { return t.probe == probe.name; });
    if (!controls || probe.kind != ProbeKind::surface || probe.z.metres() > 0.02) {
      return std::nullopt;
    }
    const auto around = [&](Length at, double whole) {
      const double middle = std::clamp(at.metres(), kPatch_m, whole - kPatch_m);
      return Span{Length::metres(middle - kPatch_m), Length::metres(middle + kPatch_m)};
    };
    return std::pair{around(probe.x, length_), around(probe.y, width_)};
  }

  /// Radiation falls on the tiles in front as a lobe cos^m of the angle from straight down, m from
  /// the angle in which half of it goes: the share inside angle a is 1 - cos(a)^(m+1). The rest of
  /// the power warms the air about the heater. What lies on a mesh lid keeps the warmth of its own
  /// air and of the wires it strikes outside. Returns the share of the power that stays there.
  double share_by_beam(const CaseHeater& heater, Heater& out) {
    const bool panel = heater.kind == CaseHeaterKind::panel;
    const double z = beam_height(heater);
    const bool on_mesh = !panel && mesh_top() && z > height_ - 1e-3;
    const double m = lobe_exponent(half_beam(heater));
    const double radiant = heater.radiant_share.value_or(usual_radiant_share(heater.kind)).share();
    std::vector<double> weight(out_.surfaces.size(), 0);
    double whole = 0;
    const auto xs = places(heater.x, panel ? 5 : 7), ys = places(heater.y, panel ? 3 : 7);
    const auto falls_on = [&](const Tile& tile) {
      double sum = 0;
      for (const double x : xs) {
        for (const double y : ys) sum += lobe_on_tile(tile, x, y, z, m);
      }
      return sum;
    };
    for (std::size_t t = 0; t < weight.size() && radiant > 0; ++t) {
      if (out_.surfaces[t].face == "top") continue;
      weight[t] = falls_on(out_.surfaces[t].tile);
      whole += weight[t];
    }
    const double shines =
        whole > 0 ? radiant * (on_mesh ? case_.openings.mesh_open.share() : 1) : 0;
    const double warms_air = on_mesh ? 0 : 1 - shines;
    const double inside = shines + warms_air;
    if (!(inside > 0)) {  // a lamp that gives nothing to the box: its air zone takes a share of 0 W
      out.shares.push_back({air(column_at(heater.x.middle().metres()), level_at(z)), 1});
      return 1;
    }
    for (std::size_t t = 0; t < weight.size(); ++t) {
      if (!(weight[t] > 0)) continue;
      const double part = weight[t] / whole * shines;
      // On what lies in a floor cell as the beam strikes it, on the ground the rest.
      double lying_weight = 0;
      std::map<int, double> struck;
      for (const Lying& lying : lying_) {
        if (lying.cell != t) continue;
        const double falls = falls_on(lying.tile);
        struck[lying.node] += falls;
        lying_weight += falls;
      }
      const double all = std::max(weight[t], lying_weight);
      for (const auto& [node, falls] : struck) {
        out.shares.push_back({node, part * falls / all / inside});
      }
      const int rest =
          struck.empty() ? out_.surfaces[t].parts.front().node : out_.surfaces[t].floor_node;
      out.shares.push_back({rest, part * (1 - lying_weight / all) / inside});
    }
    Beam beam;
    beam.heater = static_cast<int>(out_.outside_share.size());
    for (const double x : xs) {
      for (const double y : ys) beam.from_m.push_back({x, y, z});
    }
    beam.exponent = m;
    for (const auto& row : {xs, ys}) {
      if (row.size() > 1) beam.nearest_m = std::max(beam.nearest_m, row[1] - row[0]);
    }
    beam.power_w = shines * heater.power.watts();
    beam.visible = heater.kind == CaseHeaterKind::lamp || heater.kind == CaseHeaterKind::tube;
    if (beam.power_w > 0) out_.beams.push_back(std::move(beam));
    // Its air rises over its length, at least that of a bulb.
    const double middle = heater.x.middle().metres();
    const double low = std::max(std::min(heater.x.low.metres(), middle - kBulb_m / 2), 0.0);
    const double high = std::min(std::max(heater.x.high.metres(), middle + kBulb_m / 2), length_);
    for (int c = 0; c < res_.air_columns && warms_air > 0; ++c) {
      const double share = overlap(low, high, c * column_m(), (c + 1) * column_m()) / (high - low);
      if (share > 0) out.shares.push_back({air(c, level_at(z)), warms_air * share / inside});
    }
    return 1 - inside;
  }

  void control(const CaseThermostat& thermostat, Heater& out) {
    out.control = thermostat.control == room::ThermostatKind::on_off ? ControlKind::on_off
                                                                     : ControlKind::proportional;
    out.band_k = thermostat.band.kelvin();
    for (std::size_t p = 0; p < case_.probes.size(); ++p) {
      if (case_.probes[p].name == thermostat.probe) out.sensor = static_cast<int>(p);
    }
    const double day = thermostat.day.kelvin();
    if (!thermostat.night) {
      out.set_point.points = {{0, day}};
      return;
    }
    const double night = thermostat.night->kelvin();
    const double ramp = std::max(thermostat.ramp.seconds(), 60.0);
    const double morning = thermostat.day_from.minutes * 60.0;
    const double evening = thermostat.night_from.minutes * 60.0;
    out.set_point.points = {{std::fmod(morning, 86400), night},
                            {std::fmod(morning + ramp, 86400), day},
                            {std::fmod(evening, 86400), day},
                            {std::fmod(evening + ramp, 86400), night}};
    std::sort(out.set_point.points.begin(), out.set_point.points.end(),
              [](const auto& a, const auto& b) { return a.second_of_day < b.second_of_day; });
  }

  // --- probes ---

  void add_probes() {
    for (const CaseProbe& probe : case_.probes) {
      Sensor sensor;
      sensor.name = probe.name;
      sensor.lag_s = probe.lag.seconds();
      const int zone = air(column_at(probe.x.metres()), level_at(probe.z.metres()));
      switch (probe.kind) {
        case ProbeKind::air:
          sensor.feels = {{zone, 1.0}};
          break;
        case ProbeKind::bare:
          // In still air a small body exchanges about as much by radiation as by convection.
          sensor.feels = {{zone, 0.5}};
          add_surroundings(0.5, sensor);
          if (lit(probe)) put_in_beam(probe, sensor);
          break;
        case ProbeKind::surface:
          sensor.feels = {{nearest_node(probe), 1.0}};
          break;
        case ProbeKind::stick_on:
          sensor.feels = {{nearest_node(probe), kStickOnWall}, {zone, 1 - kStickOnWall}};
          break;
        case ProbeKind::gun: {
          // It reads e_gun T^4 = e T_surface^4 + (e_gun - e) T_around^4, for it allows for what a
          // surface of its own emissivity would reflect.
          const Surface& surface = nearest_surface(probe);
          const double real = in_gun_band(material_of(surface), surface.emissivity);
          const double part = real / probe.emissivity;
          sensor.radiance = true;
          sensor.feels = {{nearest_node(probe), part}};
          add_surroundings(1 - part, sensor);
          break;
        }
      }
      out_.probe_sensor.push_back(static_cast<int>(net().sensors.size()));
      net().sensors.push_back(std::move(sensor));
    }
  }

  double facing_w_per_m2(const Beam& beam, const CaseProbe& probe) const {
    return beam.facing_w_per_m2(probe.x.metres(), probe.y.metres(), probe.z.metres());
  }
  bool lit(const CaseProbe& probe) const {
    return std::any_of(out_.beams.begin(), out_.beams.end(), [&](const Beam& beam) {
      return facing_w_per_m2(beam, probe) > kFaint_w_per_m2;
    });
  }

  /// A bare probe in the light of a lamp is warmer than all that is around it: it becomes a small
  /// body of its own, which takes its part of the beam. Its heat does not matter to the rest.
  void put_in_beam(const CaseProbe& probe, Sensor& sensor) {
    const double g = kProbeFilm * 4 * std::numbers::pi * kProbeRadius_m * kProbeRadius_m;
    const int node = add_node("probe " + probe.name, g * std::max(sensor.lag_s, 1.0));
    for (const Share& share : sensor.feels) conduct(node, share.node, g * share.part);
    const double shadow = std::numbers::pi * kProbeRadius_m * kProbeRadius_m * kProbeTakes;
    for (const Beam& beam : out_.beams) {
      // The beam that it takes does not reach the floor.
      Heater& heater = net().heaters[at(beam.heater)];
      if (!(heater.power_w > 0)) continue;
      const double part = facing_w_per_m2(beam, probe) * shadow / heater.power_w;
      for (Share& share : heater.shares) share.part *= 1 - part;
      heater.shares.push_back({node, part});
    }
    sensor.feels = {{node, 1.0}};
    sensor.lag_s = 0;
  }

  /// All surfaces by their area, together `part` of what a sensor feels.
  void add_surroundings(double part, Sensor& sensor) {
    double whole = 0;
    for (const Surface& surface : out_.surfaces) whole += surface.tile.area_m2();
    for (const Surface& surface : out_.surfaces) {
      for (const Part& p : surface.parts) {
        if (p.share > 0) {
          sensor.feels.push_back({p.node, part * p.share * surface.tile.area_m2() / whole});
        }
      }
    }
  }

  std::string material_of(const Surface& surface) const {
    if (surface.face == "floor") return case_.substrate.kind;
    return face_of(case_.faces, surface.face)->layers.front().material;
  }

  const Surface& nearest_surface(const CaseProbe& probe) const {
    const double p[3] = {probe.x.metres(), probe.y.metres(), probe.z.metres()};
    double best = 1e300;
    std::size_t found = 0;
    for (std::size_t t = 0; t < out_.surfaces.size(); ++t) {
      const Tile& tile = out_.surfaces[t].tile;
      double d2 = std::pow(p[tile.normal_axis] - tile.position_m, 2);
      const int axes[2] = {tile.normal_axis == 0 ? 1 : 0, tile.normal_axis == 2 ? 1 : 2};
      for (int a = 0; a < 2; ++a) {
        const double off = std::max({tile.low_m[a] - p[axes[a]], p[axes[a]] - tile.high_m[a], 0.0});
        d2 += off * off;
      }
      if (d2 < best) {
        best = d2;
        found = t;
      }
    }
    return out_.surfaces[found];
  }

  /// The node whose surface a probe lies on: of a rock or the roof of a hide when it is that high,
  /// else what shows most there, else the ground.
  int nearest_node(const CaseProbe& probe) const {
    for (const CaseBody& body : case_.bodies) {
      if (body.kind == BodyKind::branch || probe.z < body.height * 0.75) continue;
      if (probe.z > body.height * 1.25) continue;
      if (probe.x < body.x.low || probe.x > body.x.high || probe.y < body.y.low ||
          probe.y > body.y.high) {
        continue;
      }
      const int i = index_of(xs_, probe.x.metres()), j = index_of(ys_, probe.y.metres());
      const Surface& surface = out_.surfaces[at(i * ny_ + j)];
      for (const Part& part : surface.parts) {
        if (part.node >= 0 && net().nodes[at(part.node)].name.starts_with(body.name + " ")) {
          return part.node;
        }
      }
    }
    const Surface& surface = nearest_surface(probe);
    return surface.floor_node >= 0 ? surface.floor_node : surface.main_node();
  }
  const Network& net() const { return out_.network; }
  static int index_of(const std::vector<double>& cuts, double at_m) {
    const auto after = std::upper_bound(cuts.begin(), cuts.end(), at_m);
    return std::clamp(static_cast<int>(after - cuts.begin()) - 1, 0,
                      static_cast<int>(cuts.size()) - 2);
  }

  void add_misting() {
    if (case_.mistings.empty()) return;
    // It falls on all that is not wet already, by area.
    std::vector<double> parts;
    double whole = 0;
    for (const WetSurface& wet : net().wet) {
      parts.push_back(wet.film && wet.wet_share < 1 ? wet.area_m2 : 0);
      whole += parts.back();
    }
    for (double& part : parts) part /= whole;
    for (const CaseMisting& misting : case_.mistings) {
      net().misting.push_back(
          {misting.time.minutes * 60.0, misting.water.cubic_metres() * 1000, parts});
    }
  }

  const EnclosureCase& case_;
  const Resolution& res_;
  double length_, width_, height_, start_k_;
  double volume_heat_ = 1200;  // of air, J/m3K
  std::vector<double> xs_, ys_;
  int nx_ = 0, ny_ = 0, levels_ = 0, groups_ = 0;
  std::vector<int> group_;              // per cell
  std::vector<std::vector<int>> mats_;  // beneath each cell
  double fin_m_ = 0;
  std::vector<int> floor_node_;  // per group and level
  std::vector<Lying> lying_;
  int dish_ = -1;
  EnclosureNetwork out_;
};

}  // namespace

int Surface::main_node() const {
  return std::max_element(parts.begin(), parts.end(),
                          [](const Part& a, const Part& b) {
                            return (a.node < 0 ? 0 : a.share) < (b.node < 0 ? 0 : b.share);
                          })
      ->node;
}

Resolution zonal_resolution() {
  return {};
}
Resolution map_resolution() {
  return {0.03, 5, 2, 2, true, false};
}

EnclosureNetwork build_network(const EnclosureCase& enclosure, const Resolution& resolution) {
  EnclosureNetwork built = Builder(enclosure, resolution).build();
  WS_CHECK(check(built.network).empty());
  return built;
}

}  // namespace warmside::climate
