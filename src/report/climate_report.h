#pragma once
// The climate of an enclosure for people (a sheet, a picture) and for programs (JSON,
// docs/schema/climate_*.schema.json).

#include <optional>
#include <string>

#include "climate/enclosure_climate.h"
#include "climate/room_climate.h"
#include "report/climate_pictures.h"
#include "report/sheet.h"

namespace warmside::report {

std::string steady_as_text(const climate::EnclosureCase& enclosure,
                           const climate::SteadyClimate& climate, UnitSystem units,
                           const SheetStyle& style);
std::string steady_as_json(const climate::EnclosureCase& enclosure,
                           const climate::SteadyClimate& climate);

std::string course_as_text(const climate::EnclosureCase& enclosure,
                           const climate::ClimateCourse& course, UnitSystem units,
                           const SheetStyle& style);
std::string course_as_json(const climate::EnclosureCase& enclosure,
                           const climate::ClimateCourse& course);

/// What a whole room's run says of each enclosure and of the room.
std::string room_as_text(const climate::RoomClimate& room, UnitSystem units,
                         const SheetStyle& style);
std::string room_as_json(const climate::RoomClimate& room);

/// What to draw the operative temperatures of an enclosure for.
struct PictureQuestion {
  double hour = 14;  // 0..24, of the maps
  climate::Body body;
  std::optional<Range<Temperature>> preferred;
  std::vector<Band> bands;  // further wanted ranges
};
/// The maps of floor and section, computed as a steady state with the clock at that hour, and the
/// day strip of a settled day. Problem: as of the computations.
Result<ClimatePicture> climate_picture(const climate::EnclosureCase& enclosure,
                                       const PictureQuestion& question, UnitSystem units);

}  // namespace warmside::report
