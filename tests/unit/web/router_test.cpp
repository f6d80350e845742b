// Paths, templates and percent-encoding, with the examples of RFC 3986 where it has them.

#include "web/router.h"

#include <gtest/gtest.h>

namespace warmside::web {
namespace {

TEST(Router, ReadsPathAndQuery) {
  const auto target = parse_target("/api/entries?text=a%20b+c&limit=5&&x");
  ASSERT_TRUE(target);
  EXPECT_EQ(target->path, "/api/entries");
  EXPECT_EQ(target->query, (Parameters{{"text", "a b c"}, {"limit", "5"}, {"x", ""}}));
}

TEST(Router, RefusesWhatIsNoPath) {
  for (const char* bad : {"", "api", "http://elsewhere/", "*", "/?a=%", "/?a=%4", "/?a=%zz",
                          "/?a=%00", "/?a=%ff", "/?%c0%af=1"}) {
    EXPECT_FALSE(parse_target(bad)) << bad;
  }
}

TEST(Router, KeepsTheNumberOfParametersSmall) {
  std::string target = "/?";
  for (int i = 0; i < 64; ++i) target += "&p" + std::to_string(i) + "=1";
  EXPECT_TRUE(parse_target(target));
  EXPECT_FALSE(parse_target(target + "&one=more"));
}

TEST(Router, FitsTemplates) {
  EXPECT_EQ(fit("/api/records/{kind}/{id}", "/api/records/animal/corn-1"),
            (Parameters{{"kind", "animal"}, {"id", "corn-1"}}));
  EXPECT_EQ(fit("/api/people/{name}", "/api/people/Zo%C3%AB"), (Parameters{{"name", "Zo\u00eb"}}));
  EXPECT_EQ(fit("/api/room", "/api/room"), Parameters{});
  for (const char* path : {"/api/people/", "/api/people", "/api/people/a/b", "/api/peopl/a",
                           "/api/people/%ff", "api/people/a", ""}) {
    EXPECT_FALSE(fit("/api/people/{name}", path)) << path;
  }
}

TEST(Router, APlusIsASpaceInQueriesOnly) {
  EXPECT_EQ(percent_decoded("a+b", true), "a b");
  EXPECT_EQ(percent_decoded("a+b", false), "a+b");
}

/// Unicode 15, table 3-7: the first bytes that are never well-formed, and surrogates.
TEST(Router, RefusesWhatIsNotUtf8) {
  for (const char* bad : {"%C0%80", "%C1%BF", "%E0%9F%BF", "%ED%A0%80", "%F0%8F%BF%BF",
                          "%F4%90%80%80", "%F5%80%80%80", "%80", "%E2%82", "%E2%28%A1"}) {
    EXPECT_FALSE(percent_decoded(bad, false)) << bad;
  }
  for (const char* good :
       {"%7F", "%C2%80", "%E0%A0%80", "%EF%BF%BD", "%F0%90%80%80", "%F4%8F%BF%BF"}) {
    EXPECT_TRUE(percent_decoded(good, false)) << good;
  }
}

}  // namespace
}  // namespace warmside::web
