#pragma once
// From a case to a thermal network, at any resolution: the same physics with few cells (about
// thirty nodes, for years) or many (thousands, for the map).
//
// What is modelled, with sources, stands in docs/models/climate.md. In short: the floor stack in
// three dimensions; rocks and hides on it; walls and lid as tiles of one or two nodes; the air as
// columns along the length and levels along the height, exchanging by buoyancy; radiation between
// all inner tiles; lamps as beams on the tiles they strike; openings as exchange with the room;
// vapour from dish, substrate and misting, dew on what is cold; the room as given air or as nodes
// of its own between heater and weather.

#include <vector>

#include "climate/beam.h"
#include "climate/enclosure_case.h"
#include "climate/network.h"
#include "climate/radiation.h"

namespace warmside::climate {

struct Resolution {
  double largest_cell_m = 10;   // of the floor's plan
  int substrate_intervals = 2;  // through its depth, 1..20
  int air_columns = 2;          // along the length, 1..8
  int air_levels = 2;           // along the height, 1..4
  bool bodies_cut = false;      // cells follow the edges of hides too, as of rocks
  bool merged = true;           // cells of one column with the same heaters and rock share nodes
};
/// The year's network: cells follow the edges of mats and rocks and the lamps' spots only.
Resolution zonal_resolution();
/// The map's network: cells of about 3 cm, five intervals through the substrate.
Resolution map_resolution();

/// What shows of a tile: a node and its share of the tile's area; node -1: the room through a mesh.
struct Part {
  int node = -1;
  double share = 1;
};

/// A tile of the box's inside: floor cells first, then walls and lid.
struct Surface {
  std::string face;  // "floor", "front", ...
  Tile tile;
  std::vector<Part> parts;
  double emissivity = 0.9;
  int floor_node = -1;  // of a floor cell: the substrate's top, also where something lies on it
  int main_node() const;
};

struct AirZone {
  double x_low_m, x_high_m, z_low_m, z_high_m;
  int node;
  int volume;  // index of its AirVolume
};

struct EnclosureNetwork {
  Network network;
  std::vector<Surface> surfaces;
  int floor_count = 0;  // the first of them are floor cells
  std::vector<AirZone> air;
  std::vector<int> probe_sensor;  // per probe of the case, in order
  int room = 0;                   // the end that is the room
  /// Per heater of the network: the share of its power that stays outside the box, by a lamp on a
  /// mesh lid. Its power in the network is what comes inside.
  std::vector<double> outside_share;
  std::vector<Beam> beams;
  /// What a heater draws for each watt that it gives to the network.
  double drawn_per_watt(std::size_t heater) const {
    return outside_share[heater] < 1 ? 1 / (1 - outside_share[heater]) : 0;
  }
};

/// `enclosure` must have passed check_case; with a weather file named, its weather must be read.
EnclosureNetwork build_network(const EnclosureCase& enclosure, const Resolution& resolution);

}  // namespace warmside::climate
