#pragma once
// The picture of an enclosure of the room: its heat and, where UVB lamps hang, its UV index on the
// same planes, since an animal takes both at one place (climate_pictures.h).

#include "report/climate_pictures.h"
#include "room/day.h"

namespace warmside::report {

/// hour: 0..24, of the heat maps; the UV maps have all UVB lamps on. A lamp of which nothing is
/// known leaves the UV out, and the subtitle says so.
/// Problem: the book does not say enough to compute the climate.
Result<ClimatePicture> enclosure_picture(const room::Enclosure& enclosure, const room::Day& day,
                                         double hour);

}  // namespace warmside::report
