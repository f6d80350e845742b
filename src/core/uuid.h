#pragma once
// UUIDs (RFC 9562): the ids of notebook entries, made by whoever writes the entry, so that an
// entry that is sent twice is stored once.

#include <array>
#include <compare>
#include <cstdint>
#include <random>
#include <string>
#include <string_view>

#include "core/result.h"
#include "core/time.h"

namespace warmside {

/// 16 bytes in network order.
struct Uuid {
  std::array<std::uint8_t, 16> bytes{};
  auto operator<=>(const Uuid&) const = default;
};

/// A version 7 UUID (RFC 9562 section 5.7): 48 bits of milliseconds, then 74 random bits from
/// `random`, which the caller seeds (std::random_device in the program, a fixed seed in the demo).
/// Throws nothing; `at` before 1970 counts as 1970.
Uuid make_uuid_v7(Instant at, std::mt19937_64& random);

/// A version 8 UUID (RFC 9562 section 5.8) from a text's hash: the same text gives the same id.
/// For lines of a hand-made file that carry no id. `at` fills the first 48 bits as in version 7.
Uuid make_uuid_from_text(Instant at, std::string_view text);

/// Reads "0192f0c1-2b3c-7def-8123-456789abcdef", either case.
Result<Uuid> parse_uuid(std::string_view text);
std::string to_text(const Uuid& id);

}  // namespace warmside
