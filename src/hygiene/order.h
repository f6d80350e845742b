#pragma once
// The order of service: cleanest first, so that hands, water and tools carry nothing from one
// animal to another. And what to do before each stop: hands, gloves, jars, tools.
//
// Classes (service_class.h) are a hard order, and in quarantine and among the sick the oldest go
// before the newest. Inside them the order with the least cost is sought: exposure carried from
// stop to stop, walking, jars and thawed prey to fetch, tools to change. sequence.h finds it, with
// a bound. Equations and prices: docs/models/hygiene.md.

#include <cstdint>
#include <set>
#include <span>
#include <string>
#include <vector>

#include "hygiene/service_class.h"

namespace warmside::hygiene {

/// A stop to be made and what is used there.
struct Visit {
  room::EnclosureId enclosure;
  std::set<room::JarId> jars;       // that food is dusted from
  std::set<room::SupplyId> thawed;  // batches of frozen prey that are fed
};
/// One to every enclosure in use, with nothing dusted or thawed.
std::vector<Visit> every_enclosure(const room::Day& day);

/// One enclosure's place in the order.
struct Place {
  const room::Enclosure* enclosure = nullptr;  // null: preparation, with no animal
  ServiceClass service_class = ServiceClass::preparation;
  std::string reason;               // why it stands here
  std::vector<std::string> before;  // what to do first: "Hands: ...", "Gloves: ...", "Jar: ...",
                                    // "Tools: ..."
};

struct ServiceOrder {
  std::vector<Place> places;  // preparation first
  std::int64_t cost_s = 0;    // of this order, by OrderPrices
  std::int64_t bound_s = 0;   // proven: no order of these classes costs less
  bool proven() const { return cost_s == bound_s; }
};

/// Prices of what an order can spare or cause, in seconds of the keeper's time, or seconds that a
/// keeper would walk to avoid it. All of them: common practice, no source. What every order asks
/// for alike, such as fresh gloves at each amphibian, has no price.
struct OrderPrices {
  // Exposure carried between two stops of one class:
  int other_group = 120;   // to another group of animals
  int back_a_group = 900;  // for each group back towards the less exposed
  int to_settled = 60;     // from an animal newly out of quarantine to the others
  // Work between them:
  int wash = 40;          // hands with soap and water, where they would be sanitised
  int change_tools = 10;  // to the set of another group
  int jar = 5;            // to fetch one that was not used at the stop before
  int thawed = 10;        // to fetch prey of a batch that was not fed at the stop before
  // Walking, also from class to class:
  int elsewhere = 10;  // to another place of the room
  int next_rack = 5;   // to another rack at the same place
  int shelf = 2;       // up or down one, but no more in all than to another place
  int position = 1;    // along a shelf, one
};

/// The stops in the order of service, preparation first. `watched`: as in standings(). A visit to
/// an enclosure that is not in use is left out. The same day and visits, in whatever order they
/// come, always give the same order of service. Exact up to thirteen stops in each class and date.
/// More than kMostStops stops (sequence.h) are only sorted by group, rack, shelf and position, with
/// a bound of 0.
ServiceOrder order_of_service(const room::Day& day, const std::set<room::AnimalId>& watched,
                              std::span<const Visit> visits, const OrderPrices& prices = {});

}  // namespace warmside::hygiene
