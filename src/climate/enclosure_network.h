#pragma once
// From a case to a thermal network, at any resolution: the same physics with few cells (about thirty
// nodes, for years) or many (thousands, for the map).
//
// What is modelled, with sources, stands in docs/models/climate.md. In short: the floor stack in
// three dimensions; walls and lid as tiles of one or two nodes; the air as columns along the length
// and levels along the height, exchanging by buoyancy; radiation between all inner tiles; lamps as
// beams on the tiles they strike; openings as exchange with the room.

#include <vector>

#include "climate/enclosure_case.h"
#include "climate/network.h"
#include "climate/radiation.h"

namespace warmside::climate {

struct Resolution {
  double largest_cell_m = 10;    // of the floor's plan
  int substrate_intervals = 2;   // through its depth, 1..20
  int air_columns = 2;           // along the length, 1..8
  int air_levels = 2;            // along the height, 1..4
};
/// The year's network: cells follow the heaters' edges only.
Resolution zonal_resolution();
/// The map's network: cells of about 3 cm, five intervals through the substrate.
Resolution map_resolution();

/// A cell of the floor's plan; its node is the surface an animal lies on.
struct FloorCell {
  double x_low_m, x_high_m, y_low_m, y_high_m;
  int surface;
  double area_m2() const { return (x_high_m - x_low_m) * (y_high_m - y_low_m); }
};

struct AirZone {
  double x_low_m, x_high_m, z_low_m, z_high_m;
  int node;
};

/// A piece of a wall or of the lid.
struct WallTile {
  std::string face;
  Tile tile;
  int inner;  // its node on the inside
};

struct EnclosureNetwork {
  Network network;
  std::vector<FloorCell> floor;
  std::vector<AirZone> air;
  std::vector<WallTile> walls;
  std::vector<int> probe_sensor;  // per probe of the case, in order
  int room = 0;                   // the boundary that is the room, as an end
};

/// `enclosure` must have passed check_case.
EnclosureNetwork build_network(const EnclosureCase& enclosure, const Resolution& resolution);

}  // namespace warmside::climate
