#pragma once
// The round: today's work in order, with what the modules noticed. Each module reports its findings
// through one interface (Finder); the round adds overdue work and lays the stops out in the order
// of service.

#include <cstdint>
#include <functional>
#include <set>
#include <span>
#include <string>
#include <vector>

#include "core/finding.h"
#include "hygiene/order.h"
#include "room/day.h"
#include "round/tasks.h"

namespace warmside::round {

/// One enclosure's turn.
struct Stop {
  room::EnclosureId enclosure;  // empty: preparation, before the first enclosure
  std::string title;            // the enclosure's name, or "Preparation"
  std::string where;            // "rack-a, shelf 2, place 1; east wall"
  hygiene::ServiceClass service_class = hygiene::ServiceClass::preparation;
  std::string reason;  // why it stands here in the order
  std::vector<room::AnimalId> animals;
  std::vector<std::string> animal_names;
  std::vector<std::string> before;  // hands, gloves, tools
  std::vector<Task> tasks;          // due today or late, in the order of doing
};

struct Round {
  Date date;
  std::string room_name;
  std::vector<std::string> cautions;  // printed on every sheet
  std::vector<Finding> findings;      // most urgent first
  std::set<room::AnimalId> watched;   // those that a finding puts under observation
  std::vector<Stop> stops;            // only those with work
  std::int64_t order_cost_s = 0;      // of their order (hygiene/order.h)
  std::int64_t order_bound_s = 0;     // no order of their classes costs less
  std::vector<std::string> after;     // what to do when the last stop is done
  std::vector<Task> ahead;            // due in the next days, soonest first
};

/// How a module reports what it noticed on a day.
using Finder = std::function<std::vector<Finding>(const room::Day&)>;
/// Those of every module that has one.
std::span<const Finder> all_finders();

constexpr int kDaysAhead = 7;

/// Lays out a day.
Round lay_out(const room::Day& day, std::span<const Finder> finders = all_finders());

}  // namespace warmside::round
