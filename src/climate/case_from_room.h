#pragma once
// The case of an enclosure in the room book. The book says less than a computation needs: where
// exactly a heater lies, how wet the ground is. What is missing is assumed and said so, so that a
// keeper can write the case to a file and put it right there.

#include <string>
#include <vector>

#include "climate/enclosure_case.h"
#include "core/result.h"
#include "room/day.h"

namespace warmside::climate {

struct CaseFromRoom {
  EnclosureCase enclosure;
  std::vector<std::string> assumed;  // sentences, the weightiest first
};

/// Problem (missing) when the book does not give the inside size or no face of it.
Result<CaseFromRoom> case_from_room(const room::Day& day, const room::Enclosure& enclosure);

}  // namespace warmside::climate
