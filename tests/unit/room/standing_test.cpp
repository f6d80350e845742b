// A value against its range.

#include "room/standing.h"

#include <gtest/gtest.h>

#include <string>

#include "support/room_builder.h"

namespace warmside::room {
namespace {

using test::q;

TEST(Standing, InsideEdgingOutside) {
  // Within a tenth of the width of an end: 26..30 C has a width of 4 K and a margin of 0.4 K.
  // Quarters of a degree of 273.15 K are not exact: the edges are tested a little to either side.
  const auto range = parse_range<Temperature>("26C..30C").value();
  const struct {
    const char* t;
    Standing standing;
  } kCases[] = {
      {"25.999C", Standing::outside}, {"26C", Standing::edging}, {"26.39C", Standing::edging},
      {"26.41C", Standing::inside},   {"28C", Standing::inside}, {"29.59C", Standing::inside},
      {"29.61C", Standing::edging},   {"30C", Standing::edging}, {"30.001C", Standing::outside}};
  for (const auto& c : kCases) EXPECT_EQ(standing(q<Temperature>(c.t), range), c.standing) << c.t;
  // A linear quantity whose numbers are exact in binary: 40..60 %, margin 2 %.
  const Range<UvIndex> uv{UvIndex::index(0), UvIndex::index(10)};
  EXPECT_EQ(standing(UvIndex::index(0.5), uv), Standing::edging);
  EXPECT_EQ(standing(UvIndex::index(1), uv), Standing::inside);  // not within
  EXPECT_EQ(standing(UvIndex::index(9), uv), Standing::inside);
  EXPECT_EQ(standing(UvIndex::index(9.5), uv), Standing::edging);
  const Range<UvIndex> point{UvIndex::index(1), UvIndex::index(1)};
  EXPECT_EQ(standing(UvIndex::index(1), point), Standing::inside);
  EXPECT_EQ(standing(UvIndex::index(2), point), Standing::outside);
}

TEST(Standing, ItsWords) {
  EXPECT_EQ(std::string(word_for(Standing::inside)), "inside");
  EXPECT_EQ(std::string(word_for(Standing::edging)), "edging");
  EXPECT_EQ(std::string(word_for(Standing::outside)), "outside");
}

}  // namespace
}  // namespace warmside::room
