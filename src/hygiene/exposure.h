#pragma once
// Who has been exposed to an animal, and where an animal can have got something from: the contacts
// of a notebook (contacts.h) traced (trace.h), for one group of organisms or for each of them.
//
// It says where to look first. Whether anything passed, only a test can tell; it names no disease.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/result.h"
#include "hygiene/contacts.h"

namespace warmside::hygiene {

struct ExposureStep {
  Instant at;
  Way by = Way::tool;
  CarrierName from, to;
};

/// The strongest chain between the animal asked about and another.
struct Exposure {
  std::string animal;
  Instant at;         // ahead: when it can have got it; back: when it can have passed it on
  double weight = 0;  // product of the steps' (contacts.h): an order, no probability
  std::vector<ExposureStep> chain;  // in the order of time
  std::vector<Organism> organisms;  // those that no disinfection on every way stopped
};

struct Traced {
  std::vector<Exposure> exposed;        // strongest first
  std::vector<UnknownContact> unknown;  // in the order of time
};

enum class Direction { ahead, back };

struct TraceQuestion {
  std::string animal;
  Instant at;  // ahead: shedding from then on; back: ill by then
  Direction direction = Direction::ahead;
  std::optional<Organism> organism;  // none: each group is traced
};

/// Problem unknown_name: the animal is neither in the room nor in the notebook.
Result<Traced> trace(std::span<const room::Entry> entries, const ContactRoom& room,
                     const Zone& zone, const TraceQuestion& question);

}  // namespace warmside::hygiene
