// Answers as gzip.

#include "web/compression.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#define ZLIB_CONST  // its input is not written to
#include <zlib.h>

namespace warmside::web {
namespace {

using testing::Contains;
using testing::Not;
using testing::Pair;

std::string unpacked(std::string_view packed) {
  z_stream stream{};
  EXPECT_EQ(inflateInit2(&stream, 15 + 16), Z_OK);
  std::string plain(1'000'000, '\0');
  stream.next_in = reinterpret_cast<const Bytef*>(packed.data());
  stream.avail_in = static_cast<uInt>(packed.size());
  stream.next_out = reinterpret_cast<Bytef*>(plain.data());
  stream.avail_out = static_cast<uInt>(plain.size());
  EXPECT_EQ(inflate(&stream, Z_FINISH), Z_STREAM_END);
  plain.resize(stream.total_out);
  inflateEnd(&stream);
  return plain;
}

Response answer_of(std::string text, std::string type = "application/json") {
  Response response;
  response.body = std::move(text);
  response.type = std::move(type);
  return response;
}

const std::pair<std::string, std::string> kPacked{"Content-Encoding", "gzip"};

TEST(Compression, ReadsTheField) {
  // RFC 9110 section 12.5.3; a weight of 0 means "not acceptable" (section 12.4.2).
  for (const char* yes :
       {"gzip", "compress, gzip", "gzip;q=1.0", "br;q=1.0, gzip ; q=0.001, *;q=0"}) {
    EXPECT_TRUE(takes_gzip(yes)) << yes;
  }
  for (const char* no :
       {"", "*", "identity", "gzip;q=0", "gzip; q=0.000", "xgzip", "gzip2", ",,;", "br"}) {
    EXPECT_FALSE(takes_gzip(no)) << no;
  }
}

TEST(Compression, PacksAndUnpacks) {
  std::string bytes;
  for (int i = 0; i < 100'000; ++i) bytes += static_cast<char>(i * 7 ^ i >> 5);
  for (const std::string& text :
       {std::string(), std::string("a"), std::string(50'000, 'x'), bytes}) {
    EXPECT_EQ(unpacked(gzipped(text)), text);
  }
}

TEST(Compression, PacksLongTextsOnly) {
  Response response = answer_of(std::string(5000, 'x'));
  choose_form(response, "gzip");
  EXPECT_THAT(response.headers, Contains(kPacked));
  EXPECT_EQ(unpacked(response.body.bytes()), std::string(5000, 'x'));

  for (Response as_it_is : {answer_of("{}"), answer_of(std::string(5000, 'x'), "image/png")}) {
    const std::string before(as_it_is.body.bytes());
    choose_form(as_it_is, "gzip");
    EXPECT_THAT(as_it_is.headers, Not(Contains(kPacked)));
    EXPECT_EQ(as_it_is.body.bytes(), before);
  }
}

TEST(Compression, TakesWhatWasPackedBefore) {
  Response response = answer_of("long");
  response.gzipped = "packed";
  Response plain = response;
  choose_form(response, "gzip");
  EXPECT_EQ(response.body.bytes(), "packed");
  choose_form(plain, "");
  EXPECT_EQ(plain.body.bytes(), "long");
  EXPECT_THAT(plain.headers, Contains(Pair("Vary", "Accept-Encoding")));
}

}  // namespace
}  // namespace warmside::web
