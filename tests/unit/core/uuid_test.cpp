// Entry ids: the layout of RFC 9562, and that the same text gives the same id.

#include "core/uuid.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

namespace warmside {
namespace {

constexpr std::uint64_t kSeed = 9562;

int version_of(const Uuid& id) {
  return id.bytes[6] >> 4;
}
int variant_of(const Uuid& id) {
  return id.bytes[8] >> 6;
}

std::uint64_t ms_of(const Uuid& id) {
  std::uint64_t ms = 0;
  for (std::size_t i = 0; i < 6; ++i) ms = ms << 8 | id.bytes[i];
  return ms;
}

// RFC 9562 (2024), appendix A.6: 2022-02-22T19:22:22Z (14:22:22 at GMT-05:00) is 0x017F22E279B0.
constexpr const char* kExample = "017F22E2-79B0-7CC3-98C4-DC0C0C07398F";

TEST(UuidVersion7, ExampleOfRfc9562) {
  const auto example = parse_uuid(kExample);
  ASSERT_TRUE(example.ok());
  EXPECT_EQ(version_of(*example), 7);
  EXPECT_EQ(variant_of(*example), 0b10);
  EXPECT_EQ(ms_of(*example), 0x017F22E279B0u);
  EXPECT_EQ(to_text(*example), "017f22e2-79b0-7cc3-98c4-dc0c0c07398f");

  const auto at = parse_instant("2022-02-22T19:22:22Z");
  ASSERT_TRUE(at.ok());
  std::mt19937_64 random(kSeed);
  const Uuid made = make_uuid_v7(*at, random);
  EXPECT_EQ(ms_of(made), 0x017F22E279B0u);
  EXPECT_EQ(to_text(made).substr(0, 15), "017f22e2-79b0-7");
}

TEST(UuidVersion7, SixBitsAreFixedAnd74Random) {
  std::mt19937_64 random(kSeed);
  std::array<std::uint8_t, 16> ones{}, zeros{};
  for (int i = 0; i < 200; ++i) {  // a fair bit stays the same 200 times in 2^199
    const Uuid id = make_uuid_v7(Instant::unix_ms(0), random);
    EXPECT_EQ(version_of(id), 7);
    EXPECT_EQ(variant_of(id), 0b10);
    for (std::size_t b = 0; b < 16; ++b) {
      ones[b] |= id.bytes[b];
      zeros[b] |= static_cast<std::uint8_t>(~id.bytes[b]);
    }
  }
  int varied = 0;
  for (std::size_t b = 0; b < 16; ++b) {
    for (int bit = 0; bit < 8; ++bit) varied += (ones[b] & zeros[b]) >> bit & 1;
  }
  EXPECT_EQ(varied, 74);  // 122 bits less 48 of time (here zero)
}

TEST(UuidVersion7, OrderIsTheOrderOfTime) {
  std::mt19937_64 random(kSeed);
  std::uniform_int_distribution<std::int64_t> any(0, 253'402'300'799'999);  // to the end of 9999
  std::vector<std::int64_t> times;
  for (int i = 0; i < 1000; ++i) times.push_back(any(random));
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  std::vector<Uuid> ids;
  std::vector<std::string> texts;
  for (const std::int64_t ms : times) {
    ids.push_back(make_uuid_v7(Instant::unix_ms(ms), random));
    texts.push_back(to_text(ids.back()));
    EXPECT_EQ(ms_of(ids.back()), static_cast<std::uint64_t>(ms));
  }
  EXPECT_TRUE(std::is_sorted(ids.begin(), ids.end()));
  EXPECT_TRUE(std::is_sorted(texts.begin(), texts.end()));
}

TEST(UuidVersion7, NoTwoAlikeAndTheSameSeedTheSame) {
  std::mt19937_64 one(kSeed), other(kSeed);
  std::set<Uuid> seen;
  for (int i = 0; i < 1000; ++i) {
    const Uuid id = make_uuid_v7(Instant::unix_ms(1), one);
    EXPECT_EQ(id, make_uuid_v7(Instant::unix_ms(1), other));
    seen.insert(id);
  }
  EXPECT_EQ(seen.size(), 1000u);
}

TEST(UuidVersion7, Before1970CountsAs1970) {
  std::mt19937_64 random(kSeed);
  EXPECT_EQ(ms_of(make_uuid_v7(Instant::unix_ms(-1), random)), 0u);
  EXPECT_EQ(ms_of(make_uuid_from_text(Instant::unix_ms(-62'135'596'800'000), "a")), 0u);
}

TEST(UuidFromText, SameTextAndMomentSameId) {
  const Instant at = Instant::unix_ms(1'764'054'600'000);
  const Uuid id = make_uuid_from_text(at, "2026-11-25T07:10:00Z,fed,corn-1");
  EXPECT_EQ(id, make_uuid_from_text(at, std::string("2026-11-25T07:10:00Z,fed,") + "corn-1"));
  EXPECT_NE(id, make_uuid_from_text(at, "2026-11-25T07:10:00Z,fed,corn-2"));
  EXPECT_NE(id, make_uuid_from_text(Instant::unix_ms(at.unix_ms() + 1),
                                    "2026-11-25T07:10:00Z,fed,corn-1"));
  EXPECT_EQ(version_of(id), 8);
  EXPECT_EQ(variant_of(id), 0b10);
  EXPECT_EQ(ms_of(id), 1'764'054'600'000u);
}

TEST(UuidFromText, EmptyAndAlikeTexts) {
  std::set<Uuid> seen;
  seen.insert(make_uuid_from_text(Instant(), std::string_view()));
  EXPECT_EQ(seen.count(make_uuid_from_text(Instant(), "")), 1u);
  for (int i = 0; i < 1000; ++i) seen.insert(make_uuid_from_text(Instant(), std::to_string(i)));
  seen.insert(make_uuid_from_text(Instant(), std::string_view("\0", 1)));
  EXPECT_EQ(seen.size(), 1002u);
}

// The hash behind it must never change: ids of imported lines are kept in books. XXH3_128bits of
// nothing with seed 0 is published in the xxHash repository (tests/sanity_test_vectors.h):
// low 0x6001C324468D497F, high 0x99AA06D3014798D8. With the fields of version 8 laid over them.
TEST(UuidFromText, HashIsThePublishedXxh3) {
  EXPECT_EQ(to_text(make_uuid_from_text(Instant(), "")), "00000000-0000-88d8-a001-c324468d497f");
}

TEST(UuidText, EitherCaseReadsBack) {
  const char* kLower = "0192f0c1-2b3c-7def-8123-456789abcdef";
  const auto lower = parse_uuid(kLower);
  const auto upper = parse_uuid("0192F0C1-2B3C-7DEF-8123-456789ABCDEF");
  ASSERT_TRUE(lower.ok() && upper.ok());
  EXPECT_EQ(*lower, *upper);
  EXPECT_EQ(to_text(*lower), kLower);
  // RFC 9562 sections 5.9 and 5.10: the nil and the max UUID.
  EXPECT_EQ(*parse_uuid("00000000-0000-0000-0000-000000000000"), Uuid{});
  EXPECT_EQ(to_text(*parse_uuid("FFFFFFFF-FFFF-FFFF-FFFF-FFFFFFFFFFFF")),
            "ffffffff-ffff-ffff-ffff-ffffffffffff");
}

TEST(UuidText, Refusals) {
  for (const std::string_view text :
       {std::string_view(""), std::string_view("x"), std::string_view("0192f0c1"),
        std::string_view("0192f0c12b3c7def8123456789abcdef"),
        std::string_view("0192f0c1-2b3c-7def-8123-456789abcde"),
        std::string_view("0192f0c1-2b3c-7def-8123-456789abcdef0"),
        std::string_view("0192f0c1-2b3c-7def-8123-456789abcdeg"),
        std::string_view("{192f0c1-2b3c-7def-8123-456789abcde}"),
        std::string_view("0192f0c12-b3c-7def-8123-456789abcdef"),
        std::string_view("0192f0c1-2b3c-7def-8123_456789abcdef"),
        std::string_view("0192f0c1-2b3c-7def-8123-456789abcd\xC3\x98"),
        std::string_view("------------------------------------"),
        std::string_view(" 192f0c1-2b3c-7def-8123-456789abcdef")}) {
    const auto id = parse_uuid(text);
    ASSERT_FALSE(id.ok()) << text;
    EXPECT_EQ(id.problem().code, ProblemCode::bad_value);
  }
}

}  // namespace
}  // namespace warmside
