// The order of findings on the page.

#include "core/finding.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <string>
#include <vector>

namespace warmside {
namespace {

Finding finding(When when, std::string kind, std::string subject, std::string headline) {
  Finding f;
  f.when = when;
  f.subject_kind = std::move(kind);
  f.subject = std::move(subject);
  f.headline = std::move(headline);
  f.module = "health";
  return f;
}

TEST(FindingOrder, MostUrgentThenSubjectThenHeadlineWhateverTheInput) {
  const std::vector<Finding> expected{
      finding(When::now, "enclosure", "viv-2", "b"),
      finding(When::today, "animal", "corn-1", "a"),
      finding(When::today, "animal", "corn-1", "b"),
      finding(When::today, "animal", "corn-2", "a"),
      finding(When::today, "enclosure", "a", "a"),
      finding(When::this_week, "animal", "corn-1", "a"),
      finding(When::good_to_know, "animal", "corn-1", "a"),
  };
  std::mt19937_64 random(1);
  for (int i = 0; i < 50; ++i) {
    std::vector<Finding> mixed = expected;
    std::shuffle(mixed.begin(), mixed.end(), random);
    sort_findings(mixed);
    ASSERT_EQ(mixed, expected);
  }
}

TEST(FindingOrder, NothingAndOne) {
  std::vector<Finding> none;
  sort_findings(none);
  EXPECT_TRUE(none.empty());
  std::vector<Finding> one{finding(When::now, "room", "room", "x")};
  sort_findings(one);
  EXPECT_EQ(one.size(), 1u);
}

TEST(FindingWords, ForThePage) {
  EXPECT_STREQ(name_of(When::now), "now");
  EXPECT_STREQ(name_of(When::today), "today");
  EXPECT_STREQ(name_of(When::this_week), "this week");
  EXPECT_STREQ(name_of(When::good_to_know), "good to know");
}

}  // namespace
}  // namespace warmside
