#include "safety/mains.h"

#include <gmock/gmock.h>

namespace warmside::safety {
namespace {

using testing::HasSubstr;

TEST(Mains, HasTheCountriesOfTheReferenceTable) {
  // US and Canada: 80 % for 3 h or more, NEC 210.20(A) and article 100; volts by country, from
  // memory.
  for (const char* country : {"US", "CA"}) {
    const Mains* row = mains_of(country);
    ASSERT_NE(row, nullptr) << country;
    EXPECT_EQ(row->voltage_v, 120);
    EXPECT_DOUBLE_EQ(row->continuous_share->percent(), 80);
    EXPECT_DOUBLE_EQ(row->continuous_time->hours(), 3);
    EXPECT_EQ(row->residual_current_ma, 5);
  }
  for (const char* country : {"NO", "GB", "DE", "AU"}) {
    ASSERT_NE(mains_of(country), nullptr) << country;
    EXPECT_EQ(mains_of(country)->voltage_v, 230);
    EXPECT_FALSE(mains_of(country)->continuous_share);
    EXPECT_EQ(mains_of(country)->residual_current_ma, 30);
  }
  EXPECT_EQ(mains_of("JP")->voltage_v, 100);
  EXPECT_EQ(mains_of("no"), mains_of("NO"));
  EXPECT_EQ(mains_of(""), nullptr);
  EXPECT_EQ(mains_of("ZZ"), nullptr);
}

TEST(Mains, WithoutARuleThereIsARuleOfThumbThatSaysSo) {
  EXPECT_TRUE(continuous_rule(mains_of("US")).rule);
  EXPECT_THAT(continuous_rule(mains_of("US")).source, HasSubstr("nec2023"));
  for (const Mains* row : {mains_of("NO"), mains_of("ZZ")}) {
    const auto rule = continuous_rule(row);
    EXPECT_FALSE(rule.rule);
    EXPECT_DOUBLE_EQ(rule.share.percent(), 80);
    EXPECT_DOUBLE_EQ(rule.time.hours(), 3);
    EXPECT_EQ(rule.source, "common practice, no source");
  }
}

TEST(Mains, RefusesBadRows) {
  const std::string head =
      "country,voltage_v,voltage_high_pct,continuous_share_pct,continuous_h,residual_current_ma,"
      "status,source,note\n";
  EXPECT_TRUE(read_mains(head + "NO,230,10,,,30,from memory,x,\n").ok());
  EXPECT_TRUE(read_mains(head + "US,120,5,80,3,5,from memory,x,\n").ok());
  for (const char* bad : {"NOR,230,10,,,30,from memory,x,", "NO,,10,,,30,from memory,x,",
                          "NO,230V,10,,,30,from memory,x,", "NO,-230,10,,,30,from memory,x,",
                          "NO,230,10,80,,30,from memory,x,", "NO,230,10,,,30,certain,x,",
                          "NO,nan,10,,,30,from memory,x,", "NO,230,10,,,30,from memory,x"}) {
    const auto read = read_mains(head + bad + "\n");
    ASSERT_FALSE(read.ok()) << bad;
    EXPECT_EQ(read.problem().size(), 1u) << bad;
    EXPECT_EQ(read.problem()[0].where.line, 2) << bad;
  }
}

}  // namespace
}  // namespace warmside::safety
