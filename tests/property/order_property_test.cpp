// What must hold of the order of service and of the round laid out in it, for every room and day.

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <map>
#include <set>

#include "hygiene/order.h"
#include "property/room_generator.h"
#include "round/round.h"

namespace warmside {
namespace {

using hygiene::Place;
using hygiene::ServiceClass;
using property::day;
using room::AnimalDay;
using room::EnclosureId;
using room::Entry;
using room::EntryKind;
using room::Room;

const Date kToday = day(2026, 11, 25);

/// A room on a day with a notebook that speaks of illness, quarantine and moves; keeps what a Day
/// points to.
struct Case {
  Room room;
  std::vector<Entry> entries;
  std::set<room::AnimalId> watched;
  room::History history;
  room::Day today;

  void make_today() {
    const Instant until = Zone::named(room.info.zone)->start_of(kToday);
    history = room::History(property::without_struck(entries), until);
    today = room::make_day(room, history, kToday);
  }
};

rc::Gen<Room> busy_room() {
  return rc::gen::exec([] {
    Room room = *property::any_room(4);
    for (room::Enclosure& enclosure : room.enclosures) {
      if (*rc::gen::inRange(0, 4) != 0) enclosure.retired.reset();
    }
    // More animals than the generator draws, most of them here and at home somewhere.
    for (int i = *rc::gen::inRange(0, 8); i > 0; --i) {
      room::Animal animal;
      animal.id = room::AnimalId::trusted("more-" + std::to_string(i));
      animal.species = rc::gen::elementOf(std::vector<std::string>{
                                              "corn_snake", "whites_tree_frog", "leopard_gecko",
                                              "dyeing_dart_frog", "fire_salamander"})
                           .as("species")
                           .operator*()
                           .c_str() == nullptr
                           ? species::SpeciesId{}
                           : species::SpeciesId{};
      room.animals.push_back(animal);
    }
    return room;
  });
}

}  // namespace
}  // namespace warmside
