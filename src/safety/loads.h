#pragma once
// What each circuit, socket, strip, timer and thermostat of a room carries when everything that is
// plugged in runs at once, and when only what runs for hours does. Use it to judge ratings
// (circuits.h) and to show the keeper what hangs where (`warmside power`).
//
// It adds what is printed on the devices and knows nothing of wiring, fuses in plugs, the age of
// cords or the current when something is switched on. A device whose power is not known is not
// counted as nothing: the sum is then "at least". One that is plugged in nowhere is in no sum.
//
// Where a device is plugged in: its own socket, else its thermostat's, else its timer's. A strip's
// load is in all sockets before it. A timer or thermostat carries everything that it switches.

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "room/day.h"

namespace warmside::safety {

/// A heater, lamp or appliance in use.
struct Device {
  std::string_view kind;  // "heater", "lamp", "appliance"
  std::string id;
  std::optional<Power> power;
  room::EnclosureId enclosure;
  room::ThermostatId thermostat;  // in use, and switches it
  room::TimerId timer;
  bool lamp = false;
  bool room_heater = false;
  bool continuous = true;            // may run as long as counts as continuous
  std::vector<room::SocketId> path;  // from its plug to the wall; empty: plugged in nowhere
  room::CircuitId circuit;           // empty: plugged in nowhere, or its wall socket has none
};

/// What one thing carries.
struct Load {
  Power everything;                  // all of it at once
  Power continuous;                  // what may run for hours
  Power lamps;                       // of `everything`
  Power room_heater;                 // of `everything`
  std::vector<std::size_t> devices;  // places in Loads::devices
  int without_power = 0;             // of them: the sums are then "at least"
};

struct Loads {
  std::vector<Device> devices;  // heaters, lamps, appliances, each in id order
  // Of every circuit, socket, timer and thermostat in use, also where it carries nothing.
  std::map<room::CircuitId, Load> circuits;
  std::map<room::SocketId, Load> sockets;
  std::map<room::TimerId, Load> timers;
  std::map<room::ThermostatId, Load> thermostats;
  Load placed;      // all that is plugged in somewhere
  Load not_placed;  // the others
};

/// The room's records must be in id order. continuous: how long a load runs that counts as such.
Loads loads_of(const room::Room& room, Date date, Duration continuous);
/// With the rule of the room's country (mains.h).
Loads loads_of(const room::Day& day);

/// Whether a power is over a limit, by more than binary fractions make of a sum.
bool is_over(Power load, Power limit);

/// How long a timer is on; none where it does not say. On and off alike: all day.
std::optional<Duration> hours_on(const room::Timer& timer);

/// "1801 W": never rounded to kilowatts, as labels and ratings are compared to the watt.
std::string watts(Power power);
/// "1500 W", "at least 1500 W".
std::string words_of(const Load& load, Power power);
/// "heater-room 1500 W, panel 80 W, lamp-x (power not known); and 3 more", the largest first.
std::string devices_of(const Loads& loads, const Load& load);

}  // namespace warmside::safety
