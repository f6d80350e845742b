// UV tables of lamps: grammar, limits, round trip.

#include "room/uv_table.h"

#include <gtest/gtest.h>

#include <string>

namespace warmside::room {
namespace {

UvTable read(std::string_view text) {
  const auto table = UvTable::parse(text);
  EXPECT_TRUE(table.ok()) << text;
  return table ? *table : UvTable{};
}

TEST(UvTable, NearestFirst) {
  const UvTable two{{{Length::centimetres(20), UvIndex::index(4.1)},
                     {Length::centimetres(30), UvIndex::index(2.2)}}};
  EXPECT_EQ(read("20cm 4.1UVI + 30cm 2.2UVI"), two);
  EXPECT_EQ(read("  30 cm   2.2 UVI+20cm 4.1UVI "), two);
  EXPECT_EQ(read("12in 2UVI").rows[0].distance, Length::inches(12));
  EXPECT_EQ(read("50cm 0UVI").rows[0].uvi, UvIndex::index(0));
}

TEST(UvTable, SaysWhatIsWrong) {
  for (const char* bad :
       {"", "+", "20cm", "4.1UVI", "20cm 4.1", "20 4.1UVI", "20cm 4.1UVI +", "0cm 4.1UVI",
        "-20cm 4.1UVI", "20cm -1UVI", "20cm 4.1UVI + 20cm 3UVI", "20cm 4.1UVI + 0.2m 3UVI",
        "11m 1UVI", "20cm 1001UVI", "20cm nanUVI", "20cm 4.1g", "4.1UVI 20cm"}) {
    EXPECT_FALSE(UvTable::parse(bad).ok()) << bad;
  }
  std::string endless;
  for (int i = 1; i < 100'000; ++i) endless += "+ " + std::to_string(i) + "mm 1UVI ";
  EXPECT_FALSE(UvTable::parse(endless).ok());
}

TEST(UvTable, ReadsBack) {
  for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
    const UvTable table = read("12in 2.125UVI + 20cm 4.1UVI + 0.333333333m 0.3UVI");
    EXPECT_EQ(read(table.text(units)), table);
  }
}

}  // namespace
}  // namespace warmside::room
