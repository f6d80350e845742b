#pragma once
// What is wrong with the UV in a room: lamps that have faded, lamps behind glass, too little or too
// much of it at the basking place, lamps of which nothing is known.

#include <vector>

#include "core/finding.h"
#include "room/day.h"

namespace warmside::light {

/// Over this UV index at a point that an animal can reach it is too much for any: common practice,
/// from memory, which warns from 7 to 8.
constexpr double kTooMuchForAny = 8;

/// In order of urgency of their kind:
/// - a lamp whose latest reading is under the rule uv_low_share of the first since it was burnt in;
/// - more UV at the basking place than an animal's zone goes to, or than any should have;
/// - less than an animal's zone begins at, where that is sure;
/// - a lamp over a closed lid, nearer than its data sheet speaks of, past its usual life unread, or
///   of which nothing is known in a room without a UV meter;
/// - animals of a zone that is never without UV in an enclosure without a UVB lamp.
std::vector<Finding> findings(const room::Day& day);

}  // namespace warmside::light
