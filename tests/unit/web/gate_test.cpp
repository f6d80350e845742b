// Who is turned away: foreign names, other sites' changes, what is not JSON.

#include "web/gate.h"

#include <gtest/gtest.h>

namespace warmside::web {
namespace {

const OwnNames kNames{"localhost", "pi", "pi.local"};

Request change() {
  Request request;
  request.method = "POST";
  request.host = "pi.local:8730";
  request.content_type = "application/json";
  request.body = "{}";
  return request;
}

unsigned status(const Request& request) {
  const auto no = turned_away(request, kNames);
  return no ? no->status : 200;
}

TEST(Gate, LetsOwnNamesAndBareAddressesIn) {
  Request request = change();
  for (const char* host : {"pi.local:8730", "PI.LOCAL", "pi", "localhost:1", "192.168.1.7:8730",
                           "[fd00::7]:8730", "[::1]"}) {
    request.host = host;
    EXPECT_EQ(status(request), 200u) << host;
  }
  for (const char* host :
       {"", "pi.example", "pi.local.example:8730", "[::1", "192.168.1.7.example", "xlocalhost"}) {
    request.host = host;
    EXPECT_EQ(status(request), 403u) << host;
  }
}

TEST(Gate, AChangeComesFromOwnPages) {
  Request request = change();
  request.origin = "http://pi.local:8730";
  EXPECT_EQ(status(request), 200u);
  for (const char* origin : {"http://pi.local", "http://pi.local:8731", "https://pi.local:8730",
                             "null", "http://evil.example"}) {
    request.origin = origin;
    EXPECT_EQ(status(request), 403u) << origin;
  }
  request.over_tls = true;
  request.origin = "https://pi.local:8730";
  EXPECT_EQ(status(request), 200u);
  request.origin = "";
  for (const char* site : {"cross-site", "same-site", "none"}) {
    request.fetch_site = site;
    EXPECT_EQ(status(request), 403u) << site;
  }
  request.fetch_site = "same-origin";
  EXPECT_EQ(status(request), 200u);
}

/// A link from elsewhere may open a page: that changes nothing, and the cookie is SameSite=Strict.
TEST(Gate, ReadingMayComeFromElsewhere) {
  Request request = change();
  request.method = "GET";
  request.origin = "http://evil.example";
  request.fetch_site = "cross-site";
  EXPECT_EQ(status(request), 200u);
}

TEST(Gate, AChangeIsJson) {
  Request request = change();
  for (const char* type :
       {"application/json", "application/json; charset=utf-8", "Application/JSON"}) {
    request.content_type = type;
    EXPECT_EQ(status(request), 200u) << type;
  }
  // The three that a form of another site can send without asking (Fetch Standard,
  // CORS-safelisted).
  for (const char* type : {"", "text/plain", "application/x-www-form-urlencoded",
                           "multipart/form-data", "application/jsonp"}) {
    request.content_type = type;
    EXPECT_EQ(status(request), 415u) << type;
  }
  request.body = "";
  EXPECT_EQ(status(request), 200u);  // DELETE has none
}

TEST(Gate, KnowsLoopback) {
  EXPECT_TRUE(is_loopback("127.0.0.1"));
  EXPECT_TRUE(is_loopback("127.9.9.9"));
  EXPECT_TRUE(is_loopback("::1"));
  EXPECT_FALSE(is_loopback("0.0.0.0"));
  EXPECT_FALSE(is_loopback("::"));
  EXPECT_FALSE(is_loopback("192.168.1.7"));
  EXPECT_FALSE(is_loopback("1270.0.0.1"));
}

}  // namespace
}  // namespace warmside::web
