#include "core/uuid.h"

#include <xxhash.h>

#include <algorithm>

namespace warmside {
namespace {

Uuid with_fields(Instant at, std::uint8_t version, std::uint64_t high, std::uint64_t low) {
  Uuid id;
  const auto ms = static_cast<std::uint64_t>(std::max<std::int64_t>(at.unix_ms(), 0));
  for (std::size_t i = 0; i < 6; ++i) id.bytes[i] = static_cast<std::uint8_t>(ms >> (40 - 8 * i));
  id.bytes[6] = static_cast<std::uint8_t>((version << 4) | ((high >> 8) & 0x0f));
  id.bytes[7] = static_cast<std::uint8_t>(high);
  for (std::size_t i = 0; i < 8; ++i) {
    id.bytes[8 + i] = static_cast<std::uint8_t>(low >> (56 - 8 * i));
  }
  id.bytes[8] = static_cast<std::uint8_t>(0x80 | (id.bytes[8] & 0x3f));
  return id;
}

int hex_value(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

bool dash_before(std::size_t byte) {
  return byte == 4 || byte == 6 || byte == 8 || byte == 10;
}

}  // namespace

Uuid make_uuid_v7(Instant at, std::mt19937_64& random) {
  const std::uint64_t high = random();
  return with_fields(at, 7, high, random());
}

Uuid make_uuid_from_text(Instant at, std::string_view text) {
  const XXH128_hash_t hash = XXH3_128bits(text.data(), text.size());
  return with_fields(at, 8, hash.high64, hash.low64);
}

Result<Uuid> parse_uuid(std::string_view text) {
  Uuid id;
  std::size_t at = 0;
  bool good = text.size() == 36;
  for (std::size_t byte = 0; good && byte < 16; ++byte) {
    if (dash_before(byte)) good = text[at++] == '-';
    const int high = hex_value(text[at]), low = hex_value(text[at + 1]);
    good = good && high >= 0 && low >= 0;
    id.bytes[byte] = static_cast<std::uint8_t>((high << 4) | low);
    at += 2;
  }
  if (good) return id;
  return Problem{ProblemCode::bad_value,
                 "not an entry id",
                 {},
                 "a UUID such as 0192f0c1-2b3c-7def-8123-456789abcdef",
                 shown(text)};
}

std::string to_text(const Uuid& id) {
  static constexpr char kHex[] = "0123456789abcdef";
  std::string text;
  text.reserve(36);
  for (std::size_t byte = 0; byte < 16; ++byte) {
    if (dash_before(byte)) text += '-';
    text += kHex[id.bytes[byte] >> 4];
    text += kHex[id.bytes[byte] & 0x0f];
  }
  return text;
}

}  // namespace warmside
