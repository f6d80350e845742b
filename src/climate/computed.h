#pragma once
// What the computation says of the enclosures in the book: each place against what its animals
// want, as a page's lines and as findings for the round.

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "climate/case_from_room.h"
#include "climate/enclosure_climate.h"
#include "climate/operative.h"
#include "climate/readings.h"
#include "core/finding.h"
#include "room/day.h"
#include "room/standing.h"

namespace warmside::climate {

/// A month, where what a day takes is told by the month.
inline constexpr double kDaysPerMonth = 30.4;

/// One computed value against its range.
struct Outlook {
  std::string place;  // "warm side, air"
  std::string value;  // for people
  std::string wanted;
  room::Standing standing = room::Standing::inside;
  /// Outside by more than the computation may be wrong.
  bool surely = false;
  const species::Fact* fact = nullptr;
  std::string who;  // the species that wants it
};

struct HeaterOutlook {
  std::string name;
  double duty = 0, mean_w = 0, kwh_per_month = 0;
  bool flat_out = false;  // has a thermostat and never rests in the afternoon
};

struct EnclosureOutlook {
  CaseFromRoom made;
  std::vector<Outlook> places;
  std::vector<HeaterOutlook> heaters;
  double kwh_per_month = 0;
  std::optional<double> cost_per_month;  // in the keeper's currency, where the room has a price
  /// Share of the floor inside the range that its animals want on the warm side, and the mean
  /// distance from it (d_e), by the hour, for a body of their mass; empty where none wants any.
  std::vector<ThermalQuality> quality;
  std::optional<Range<Temperature>> preferred;
  /// Coldest and warmest of air and floor at its two ends, by the hour; not under a lamp.
  std::array<Range<Temperature>, 24> ends;
  double heat_balance_error = 0;
};

/// What the first awake animal of an enclosure wants on the warm side, and its body.
DayQuestion wanted_warmth(const room::Day& day, const room::Enclosure& enclosure);

/// A settled day of an enclosure that something heats or lights. Problem: too little in the book.
/// band: also with half and with twice the air through a mesh lid, as a part of each value's text.
Result<EnclosureOutlook> enclosure_outlook(const room::Day& day, const room::Enclosure& enclosure,
                                           bool band = true);

/// One finding for each enclosure whose computed day surely lies outside what an awake animal in it
/// wants, or whose heater never rests.
std::vector<Finding> computed_findings(const room::Day& day);

}  // namespace warmside::climate
