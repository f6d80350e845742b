#include "climate/enclosure_network.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "climate/convection.h"
#include "climate/materials.h"
#include "core/check.h"

namespace warmside::climate {
namespace {

// Surface resistances between a face and a room, convection and radiation together, m2K/W.
// Source: ISO 6946:2017 table 7 (internal surfaces), from memory.
constexpr double kOuterWall = 0.13, kOuterTop = 0.10, kOuterBottom = 0.17;
/// A face against a shelf or another enclosure of given temperature: a thin gap. A guess.
constexpr double kContact = 0.10;
/// Walls of less resistance than this get one node: their two sides differ by little (Bi < 0.1).
constexpr double kThinWall = 0.02;
/// Stable air over cooler air still mixes a little. W/m2K; a guess, named in the model's page.
constexpr double kStableMixing = 1.0;
/// Discharge coefficients: large opening (Brown & Solvason 1962), sharp edge (IBPSA default).
constexpr double kDoorway = 0.6, kSharpEdge = 0.65;
/// Horizontal opening over lighter air: Q = 0.055 sqrt(g drho/rho D^5) (Epstein 1988, J. Heat
/// Transfer 110:885).
constexpr double kEpstein = 0.055;
/// The same flow written as a loss coefficient on the mean velocity (derived from kEpstein).
constexpr double kEpsteinLoss = 51;
/// Against the stable side of a lid little flows. A guess.
constexpr double kStableOpening = 0.1;
/// Cuts closer than this are one.
constexpr double kNearest_m = 0.012;

struct Stack {
  double resistance = 0;      // m2K/W
  double capacity = 0;        // J/m2K
  double lateral_w_per_k = 0; // conductivity times thickness, W/K
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

double inner_emissivity(const room::Construction& construction) {
  return find_material(construction.layers.front().material)->emissivity;
}

/// Cuts along one axis: the wanted ones in order, near ones joined, the rest divided evenly.
std::vector<double> divided(std::vector<double> cuts, double whole, double largest) {
  cuts.push_back(0);
  cuts.push_back(whole);
  std::sort(cuts.begin(), cuts.end());
  std::vector<double> kept{0};
  for (const double cut : cuts) {
    if (cut - kept.back() > kNearest_m && whole - cut > kNearest_m) kept.push_back(cut);
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
        length_(enclosure.length.metres()),
        width_(enclosure.width.metres()),
        height_(enclosure.height.metres()),
        start_k_(enclosure.room.kelvin()) {}

  EnclosureNetwork build() {
    add_air();
    add_floor();
    add_walls();
    // Boundaries follow the nodes, so ends that mean the room are marked until the count is known.
    add_radiation();
    mix_air();
    open_to_room();
    add_heaters();
    add_probes();
    number_boundaries();
    return std::move(out_);
  }

 private:
  static constexpr int kRoom = -1;  // an end that is boundary 0; -2 is boundary 1, and so on

  static std::size_t at(int i) { return static_cast<std::size_t>(i); }
  Network& net() { return out_.network; }

  int add_node(std::string name, double capacity) {
    net().nodes.push_back({std::move(name), capacity, start_k_});
    return net().node_count() - 1;
  }
  void conduct(int a, int b, double w_per_k) {
    if (w_per_k > 0) net().conductions.push_back({a, b, w_per_k});
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
    const AirProperties air = air_properties(start_k_);
    volume_heat_ = air.density_kg_per_m3 * air.specific_heat_j_per_kg_k;
    const double capacity = volume_heat_ * column_m() * width_ * level_m();
    for (int c = 0; c < res_.air_columns; ++c) {
      for (int l = 0; l < res_.air_levels; ++l) {
        const int node = add_node(fmt::format("air {}.{}", c + 1, l + 1), capacity);
        out_.air.push_back({c * column_m(), (c + 1) * column_m(), l * level_m(),
                            (l + 1) * level_m(), node});
      }
    }
  }

  void mix_air() {
    const double buoyancy = kGravity / start_k_;
    const double area = column_m() * width_;
    const double diameter = std::sqrt(4 * area / std::numbers::pi);
    const double overturning =
        volume_heat_ * kEpstein * std::sqrt(buoyancy) * std::pow(diameter, 2.5);
    const double doorway =
        volume_heat_ * kDoorway * width_ / 3 * std::sqrt(buoyancy * std::pow(level_m(), 3));
    for (int c = 0; c < res_.air_columns; ++c) {
      for (int l = 0; l < res_.air_levels; ++l) {
        if (l + 1 < res_.air_levels) {
          net().convections.push_back({air(c, l), air(c, l + 1), overturning, 0, 0.5});
          conduct(air(c, l), air(c, l + 1), kStableMixing * area);
        }
        if (c + 1 < res_.air_columns) {
          net().convections.push_back({air(c, l), air(c + 1, l), doorway, doorway, 0.5});
        }
      }
    }
  }

  // --- the floor: panel and substrate, cells in plan, nodes at the levels between ---

  void add_floor() {
    std::vector<double> x_cuts, y_cuts;
    for (int c = 1; c < res_.air_columns; ++c) x_cuts.push_back(c * column_m());
    for (const CaseHeater& heater : case_.heaters) {
      if (!heater.covers || heater.kind == CaseHeaterKind::panel) continue;
      x_cuts.insert(x_cuts.end(), {heater.covers->x_low.metres(), heater.covers->x_high.metres()});
      y_cuts.insert(y_cuts.end(), {heater.covers->y_low.metres(), heater.covers->y_high.metres()});
    }
    xs_ = divided(x_cuts, length_, res_.largest_cell_m);
    ys_ = divided(y_cuts, width_, res_.largest_cell_m);
    const Stack panel = stack_of(case_.bottom);
    const Material* substrate = find_material(case_.substrate);
    WS_CHECK(substrate != nullptr);
    const int intervals = res_.substrate_intervals;
    const double dz = case_.substrate_depth.metres() / intervals;
    const double k = substrate->conductivity_w_per_m_k;
    const double heat = substrate->density_kg_per_m3 * substrate->heat_capacity_j_per_kg_k;
    levels_ = intervals + 2;  // bottom of the panel, top of the panel, then the substrate's
    const int nx = static_cast<int>(xs_.size()) - 1, ny = static_cast<int>(ys_.size()) - 1;
    floor_node_.assign(at(nx * ny * levels_), 0);
    for (int i = 0; i < nx; ++i) {
      for (int j = 0; j < ny; ++j) {
        const double area = (xs_[at(i + 1)] - xs_[at(i)]) * (ys_[at(j + 1)] - ys_[at(j)]);
        for (int level = 0; level < levels_; ++level) {
          const double from_panel = level <= 1 ? panel.capacity / 2 : 0;
          const double from_substrate =
              level == 0 ? 0 : heat * dz * (level == 1 || level == levels_ - 1 ? 0.5 : 1.0);
          floor_node_[floor_index(i, j, level)] =
              add_node(fmt::format("floor {}.{}.{}", i + 1, j + 1, level),
                       area * (from_panel + from_substrate));
        }
        conduct(floor(i, j, 0), floor(i, j, 1), area / panel.resistance);
        for (int level = 1; level + 1 < levels_; ++level) {
          conduct(floor(i, j, level), floor(i, j, level + 1), k * area / dz);
        }
        join_outside("bottom", floor(i, j, 0), area, kOuterBottom);
        const int surface = floor(i, j, levels_ - 1);
        const double x = 0.5 * (xs_[at(i)] + xs_[at(i + 1)]);
        convect(surface, air(column_at(x), 0), area, Facing::up);
        out_.floor.push_back({xs_[at(i)], xs_[at(i + 1)], ys_[at(j)], ys_[at(j + 1)], surface});
      }
    }
    for (int i = 0; i < nx; ++i) {
      for (int j = 0; j < ny; ++j) {
        for (int level = 0; level < levels_; ++level) {
          const double through =
              (level <= 1 ? panel.lateral_w_per_k / 2 : 0) +
              (level == 0 ? 0 : k * dz * (level == 1 || level == levels_ - 1 ? 0.5 : 1.0));
          if (i + 1 < nx) {
            const double apart = 0.5 * (xs_[at(i + 2)] - xs_[at(i)]);
            conduct(floor(i, j, level), floor(i + 1, j, level),
                    through * (ys_[at(j + 1)] - ys_[at(j)]) / apart);
          }
          if (j + 1 < ny) {
            const double apart = 0.5 * (ys_[at(j + 2)] - ys_[at(j)]);
            conduct(floor(i, j, level), floor(i, j + 1, level),
                    through * (xs_[at(i + 1)] - xs_[at(i)]) / apart);
          }
        }
      }
    }
  }

  std::size_t floor_index(int i, int j, int level) const {
    const int ny = static_cast<int>(ys_.size()) - 1;
    return at((i * ny + j) * levels_ + level);
  }
  int floor(int i, int j, int level) const { return floor_node_[floor_index(i, j, level)]; }

  void convect(int surface, int air, double area, Facing facing) {
    net().convections.push_back({surface, air, room_surface_factor(facing, true) * area,
                                 room_surface_factor(facing, false) * area, 1.0 / 3});
  }

  // --- walls and lid ---

  void join_outside(const std::string& face, int node, double area, double resistance) {
    for (const Neighbour& neighbour : case_.neighbours) {
      if (neighbour.face != face) continue;
      if (neighbour.insulated) return;
      if (neighbour.temperature) {
        net().boundaries.resize(std::max<std::size_t>(net().boundaries.size(), 1));
        net().boundaries.push_back({"beside " + face, neighbour.temperature->kelvin(), {}});
        const int boundary = static_cast<int>(net().boundaries.size()) - 1;
        conduct(node, kRoom - boundary, area / kContact);
        return;
      }
    }
    conduct(node, kRoom, area / resistance);
  }

  void add_wall(const std::string& face, const room::Construction& construction, const Tile& tile,
                const std::vector<std::pair<int, double>>& air_shares, Facing facing,
                double outer_resistance, double solid_share = 1) {
    const Stack stack = stack_of(construction);
    const double area = tile.area_m2() * solid_share;
    const std::string name = fmt::format("{} {}", face, out_.walls.size() + 1);
    int inner = 0;
    if (stack.resistance < kThinWall) {
      inner = add_node(name, std::max(stack.capacity * area, 1.0));
      join_outside(face, inner, area, outer_resistance + stack.resistance / 2);
    } else {
      inner = add_node(name + " inside", stack.capacity * area / 2);
      const int outer = add_node(name + " outside", stack.capacity * area / 2);
      conduct(inner, outer, area / stack.resistance);
      join_outside(face, outer, area, outer_resistance);
    }
    for (const auto& [zone, share] : air_shares) convect(inner, zone, area * share, facing);
    out_.walls.push_back({face, tile, inner});
  }

  bool mesh_top() const { return case_.top.layers.front().material == "mesh"; }
  double lid_open_share() const { return mesh_top() ? 1 - case_.lid_covered.share() : 0; }

  void add_walls() {
    const auto levels = [&](int column) {
      std::vector<std::pair<int, double>> shares;
      for (int l = 0; l < res_.air_levels; ++l) {
        shares.emplace_back(air(column, l), 1.0 / res_.air_levels);
      }
      return shares;
    };
    for (int c = 0; c < res_.air_columns; ++c) {
      const double low = c * column_m(), high = (c + 1) * column_m();
      add_wall("front", case_.front, {1, true, 0, {low, 0}, {high, height_}}, levels(c),
               Facing::vertical, kOuterWall);
      add_wall("back", case_.back, {1, false, width_, {low, 0}, {high, height_}}, levels(c),
               Facing::vertical, kOuterWall);
      const std::vector<std::pair<int, double>> top{{air(c, res_.air_levels - 1), 1.0}};
      // Of a mesh only what is covered is a surface; a thin sheet stands for the cover.
      static const room::Construction kCover{{{"acrylic", Length::millimetres(3)}}};
      add_wall("top", mesh_top() ? kCover : case_.top, {2, false, height_, {low, 0}, {high, width_}},
               top, Facing::down, kOuterTop, std::max(1 - lid_open_share(), 1e-3));
    }
    add_wall("left", case_.left, {0, true, 0, {0, 0}, {width_, height_}}, levels(0),
             Facing::vertical, kOuterWall);
    add_wall("right", case_.right, {0, false, length_, {0, 0}, {width_, height_}},
             levels(res_.air_columns - 1), Facing::vertical, kOuterWall);
  }

  // --- radiation between all inner tiles ---

  void add_radiation() {
    std::vector<Tile> tiles;
    std::vector<double> emissivity;
    const double of_substrate = find_material(case_.substrate)->emissivity;
    for (const FloorCell& cell : out_.floor) {
      tiles.push_back({2, true, 0, {cell.x_low_m, cell.y_low_m}, {cell.x_high_m, cell.y_high_m}});
      ends_.push_back(cell.surface);
      emissivity.push_back(of_substrate);
    }
    for (const WallTile& wall : out_.walls) {
      tiles.push_back(wall.tile);
      ends_.push_back(wall.inner);
      const bool open = wall.face == "top" && mesh_top();
      emissivity.push_back(open ? 0.94 : inner_emissivity(*face_of(case_, wall.face)));
    }
    const auto n = static_cast<Eigen::Index>(tiles.size());
    const Eigen::MatrixXd views = view_matrix(tiles);
    Eigen::VectorXd areas(n), eps(n);
    for (Eigen::Index i = 0; i < n; ++i) {
      areas[i] = tiles[static_cast<std::size_t>(i)].area_m2();
      eps[i] = emissivity[static_cast<std::size_t>(i)];
    }
    const Eigen::MatrixXd exchange = exchange_areas(views, areas, eps);
    for (Eigen::Index i = 0; i < n; ++i) {
      for (Eigen::Index j = i + 1; j < n; ++j) {
        radiate(static_cast<int>(i), static_cast<int>(j), exchange(i, j));
      }
    }
    tiles_ = std::move(tiles);
  }

  bool is_lid(int tile) const {
    const int wall = tile - static_cast<int>(out_.floor.size());
    return wall >= 0 && out_.walls[at(wall)].face == "top";
  }

  /// Through the open part of a mesh lid a tile sees the room.
  void radiate(int i, int j, double area) {
    if (!(area > 1e-12)) return;
    const double open = is_lid(j) ? lid_open_share() : 0;
    if (open < 1) net().radiations.push_back({ends_[at(i)], ends_[at(j)], area * (1 - open)});
    if (open > 0) net().radiations.push_back({ends_[at(i)], kRoom, area * open});
  }

  // --- openings ---

  /// What a mesh takes from the free counterflow through an opening, at 5 K.
  /// Loss of a wire screen at low speed: Bailey et al. 2003 (Biosyst. Eng. 86:217), from memory.
  double mesh_factor(double area) const {
    const double phi = case_.mesh_open.share();
    if (phi >= 1) return 1;
    if (phi <= 0.01) return 0;
    constexpr double kWire_m = 0.3e-3, kAirViscosity = 1.57e-5;
    const double diameter = std::sqrt(4 * area / std::numbers::pi);
    const double open = kEpstein * std::sqrt(kGravity * 5 / start_k_ * std::pow(diameter, 5));
    double flow = open;
    for (int i = 0; i < 50; ++i) {
      const double u = std::max(flow / (area / 2), 1e-4);
      const double reynolds = u / phi * kWire_m / kAirViscosity;
      const double loss = (1 - phi * phi) / (phi * phi) *
                          (18 / reynolds + 0.75 / std::log10(reynolds + 1.25) +
                           0.055 * std::log10(reynolds));
      flow = 0.5 * (flow + open * std::sqrt(kEpsteinLoss / (kEpsteinLoss + std::max(loss, 0.0))));
    }
    return flow / open;
  }

  void open_to_room() {
    const double buoyancy = kGravity / start_k_;
    const int top = res_.air_levels - 1;
    const auto exchange = [&](int zone, double k, double against) {
      if (k > 0) net().convections.push_back({zone, kRoom, k, against, 0.5});
    };
    const double lid_area = length_ * width_ * lid_open_share();
    const double diameter = std::sqrt(4 * lid_area / std::numbers::pi);
    const double lid = volume_heat_ * kEpstein * std::sqrt(buoyancy) * std::pow(diameter, 2.5) *
                       (lid_area > 0 ? mesh_factor(lid_area) : 0) * case_.lid_flow_factor;
    const double low = case_.vents_low.square_metres(), high = case_.vents_high.square_metres();
    double vents = 0;
    if (low > 0 && high > 0) {
      const double both = 1 / std::sqrt(1 / (low * low) + 1 / (high * high));
      vents = volume_heat_ * kSharpEdge * both *
              std::sqrt(2 * buoyancy * std::max(case_.vents_apart.metres(), 0.02));
    } else if (low + high > 0) {
      // One opening breathes both ways (Brown & Solvason 1962), taken as square.
      const double area = low + high;
      vents = volume_heat_ * kDoorway * area / 3 * std::sqrt(buoyancy * std::sqrt(area));
    }
    const double leak =
        volume_heat_ * length_ * width_ * height_ * case_.leak_changes_per_h / 3600;
    for (int c = 0; c < res_.air_columns; ++c) {
      exchange(air(c, top), lid / res_.air_columns, kStableOpening * lid / res_.air_columns);
      for (int l = 0; l < res_.air_levels; ++l) {
        const double share = 1.0 / (res_.air_columns * res_.air_levels);
        exchange(air(c, l), vents * share, vents * share);
        conduct(air(c, l), kRoom, leak * share);
      }
    }
  }

  // --- heaters and probes ---

  void add_heaters() {
    for (const CaseHeater& heater : case_.heaters) {
      Heater out;
      out.name = heater.name;
      out.power_w = heater.power.watts();
      const bool in_floor = heater.kind == CaseHeaterKind::mat_under ||
                            heater.kind == CaseHeaterKind::mat_inside ||
                            heater.kind == CaseHeaterKind::cable;
      if (in_floor) {
        share_over_floor(*heater.covers, heater.kind == CaseHeaterKind::mat_under ? 0 : 1, out);
      } else {
        share_by_beam(heater, out);
      }
      if (heater.on) {
        out.on_from_s = heater.on->minutes * 60.0;
        out.on_until_s = heater.off->minutes * 60.0;
      }
      for (const CaseThermostat& thermostat : case_.thermostats) {
        if (thermostat.name == heater.thermostat) control(thermostat, out);
      }
      net().heaters.push_back(std::move(out));
    }
  }

  void share_over_floor(const Footprint& covers, int level, Heater& out) {
    double whole = 0;
    const int ny = static_cast<int>(ys_.size()) - 1;
    for (std::size_t c = 0; c < out_.floor.size(); ++c) {
      const FloorCell& cell = out_.floor[c];
      const double area =
          overlap(cell.x_low_m, cell.x_high_m, covers.x_low.metres(), covers.x_high.metres()) *
          overlap(cell.y_low_m, cell.y_high_m, covers.y_low.metres(), covers.y_high.metres());
      if (!(area > 0)) continue;
      const int i = static_cast<int>(c) / ny, j = static_cast<int>(c) % ny;
      out.shares.push_back({floor(i, j, level), area});
      whole += area;
    }
    for (Share& share : out.shares) share.part /= whole;
  }

  /// Radiation falls on the tiles in front as a lobe cos^m of the angle from straight down, m from
  /// the angle in which half of it goes: the share inside angle a is 1 - cos(a)^(m+1). The rest of
  /// the power warms the air about the heater. A panel lies under the lid over what it covers.
  void share_by_beam(const CaseHeater& heater, Heater& out) {
    Place at_place;
    double beam = heater.beam_deg;
    if (heater.kind == CaseHeaterKind::panel) {
      at_place = {(heater.covers->x_low + heater.covers->x_high) / 2,
                  (heater.covers->y_low + heater.covers->y_high) / 2,
                  case_.height - Length::centimetres(3)};
      beam = 90;  // of a flat face: half within 45 degrees of its normal
    } else {
      at_place = *heater.at;
    }
    const double x = at_place.x.metres(), y = at_place.y.metres(), z = at_place.z.metres();
    const double half = std::min(beam / 2, 89.0) * std::numbers::pi / 180;
    const double m = std::max(std::log(0.5) / std::log(std::cos(half)) - 1, 0.0);
    const double radiant = heater.radiant_share.share();
    const std::size_t first = out.shares.size();
    double whole = 0;
    for (std::size_t t = 0; t < tiles_.size() && radiant > 0; ++t) {
      const double weight = lobe_on_tile(tiles_[t], x, y, z, m);
      if (!(weight > 0) || is_lid(static_cast<int>(t))) continue;
      out.shares.push_back({ends_[t], weight});
      whole += weight;
    }
    for (std::size_t s = first; s < out.shares.size(); ++s) out.shares[s].part *= radiant / whole;
    const double to_air = whole > 0 ? 1 - radiant : 1;
    out.shares.push_back({air(column_at(x), level_at(z)), to_air});
  }

  /// Integral over a tile of cos^m(down) cos(tile) / r^2, by points 1 cm apart or less.
  static double lobe_on_tile(const Tile& tile, double x, double y, double z, double m) {
    const double span0 = tile.high_m[0] - tile.low_m[0], span1 = tile.high_m[1] - tile.low_m[1];
    const int n0 = std::clamp(static_cast<int>(span0 / 0.01), 2, 60);
    const int n1 = std::clamp(static_cast<int>(span1 / 0.01), 2, 60);
    double sum = 0;
    for (int i = 0; i < n0; ++i) {
      for (int j = 0; j < n1; ++j) {
        const double u = tile.low_m[0] + span0 * (i + 0.5) / n0;
        const double v = tile.low_m[1] + span1 * (j + 0.5) / n1;
        double p[3];
        p[tile.normal_axis] = tile.position_m;
        p[tile.normal_axis == 0 ? 1 : 0] = u;
        p[tile.normal_axis == 2 ? 1 : 2] = v;
        const double dx = p[0] - x, dy = p[1] - y, dz = p[2] - z;
        const double r2 = std::max(dx * dx + dy * dy + dz * dz, 1e-4), r = std::sqrt(r2);
        const double down = -dz / r;
        const double towards[3] = {dx / r, dy / r, dz / r};
        const double facing =
            -towards[tile.normal_axis] * (tile.faces_positive ? 1 : -1);
        if (down > 0 && facing > 0) sum += std::pow(down, m) * facing / r2;
      }
    }
    return sum * span0 * span1 / (n0 * n1);
  }

  void control(const CaseThermostat& thermostat, Heater& out) {
    out.control = thermostat.control == CaseControl::on_off ? ControlKind::on_off
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

  void add_probes() {
    for (const CaseProbe& probe : case_.probes) {
      Sensor sensor;
      sensor.name = probe.name;
      sensor.lag_s = probe.lag.seconds();
      const int zone = air(column_at(probe.at.x.metres()), level_at(probe.at.z.metres()));
      switch (probe.kind) {
        case ProbeKind::air: sensor.feels = {{zone, 1.0}}; break;
        case ProbeKind::bare: {
          // In still air a small body exchanges about as much by radiation as by convection.
          sensor.feels = {{zone, 0.5}};
          double whole = 0;
          for (const Tile& tile : tiles_) whole += tile.area_m2();
          for (std::size_t t = 0; t < tiles_.size(); ++t) {
            sensor.feels.push_back({ends_[t], 0.5 * tiles_[t].area_m2() / whole});
          }
          break;
        }
        case ProbeKind::surface: sensor.feels = {{nearest_surface(probe.at), 1.0}}; break;
      }
      out_.probe_sensor.push_back(static_cast<int>(net().sensors.size()));
      net().sensors.push_back(std::move(sensor));
    }
  }

  int nearest_surface(const Place& place) const {
    const double p[3] = {place.x.metres(), place.y.metres(), place.z.metres()};
    double best = 1e300;
    std::size_t found = 0;
    for (std::size_t t = 0; t < tiles_.size(); ++t) {
      const Tile& tile = tiles_[t];
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
    return ends_[found];
  }

  // --- the end: marks become boundary numbers ---

  void number_boundaries() {
    if (net().boundaries.empty()) net().boundaries.resize(1);
    Boundary& room = net().boundaries.front();
    room.name = "room";
    room.value_k = case_.room.kelvin();
    for (const Temperature& t : case_.room_hourly) room.hourly_k.push_back(t.kelvin());
    const int n = net().node_count();
    const auto number = [n](int& end) {
      if (end < 0) end = n + (kRoom - end);
    };
    for (auto& link : net().conductions) number(link.a), number(link.b);
    for (auto& link : net().convections) number(link.a), number(link.b);
    for (auto& link : net().radiations) number(link.a), number(link.b);
    out_.room = n;
  }

  const EnclosureCase& case_;
  const Resolution& res_;
  double length_, width_, height_, start_k_;
  double volume_heat_ = 1200;  // of air, J/m3K
  std::vector<double> xs_, ys_;
  int levels_ = 0;
  std::vector<int> floor_node_;
  std::vector<Tile> tiles_;   // floor cells, then walls
  std::vector<int> ends_;     // their nodes
  EnclosureNetwork out_;
};

}  // namespace

Resolution zonal_resolution() { return {}; }
Resolution map_resolution() { return {0.03, 5, 2, 2}; }

EnclosureNetwork build_network(const EnclosureCase& enclosure, const Resolution& resolution) {
  EnclosureNetwork built = Builder(enclosure, resolution).build();
  WS_CHECK(check(built.network).empty());
  return built;
}

}  // namespace warmside::climate
