#pragma once
// What the room's devices draw in a month and what that costs. Use it for the keeper's bill; not
// for ratings, which want the worst case (safety/loads.h).
//
// Heaters and lamps of an enclosure that can be computed take the climate model's mean power, so
// that this agrees with the enclosure's own page. Otherwise a lamp takes its timer's hours and an
// appliance its share of running; and where nobody knows how long a device is on, the answer is a
// band from nothing to full power, with the reason. No standing charge, no night tariff.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "climate/computed.h"
#include "room/day.h"

namespace warmside::round {

/// How a device's use was found. computed: by the climate model. unknown: not even its power.
enum class UseBasis { computed, timer, running_share, always, not_known, unknown };

struct DeviceUse {
  std::string_view kind;  // "heater", "lamp", "appliance"
  std::string id;
  room::EnclosureId enclosure;
  std::optional<Power> power;  // as printed on it
  UseBasis basis = UseBasis::unknown;
  double kwh_low = 0, kwh_high = 0;  // in a month; alike where it is known; 0 of an unknown power
};

struct RunningCost {
  std::vector<DeviceUse> devices;  // heaters, lamps, appliances, each in id order
  double kwh_low = 0, kwh_high = 0;
  int unknown = 0;              // devices without a power: the sum is then "at least"
  std::optional<double> price;  // of a kilowatt-hour, in the keeper's currency
};

inline constexpr double kHoursPerMonth = climate::kDaysPerMonth * 24;

/// A month like this day. Computes the climate of every enclosure.
RunningCost running_cost(const room::Day& day);

}  // namespace warmside::round

namespace warmside {
template <>
struct Words<round::UseBasis> {
  static constexpr std::array<std::string_view, 6> list{"computed",  "timer", "running share",
                                                        "always on", "band",  "unknown"};
};
}  // namespace warmside
