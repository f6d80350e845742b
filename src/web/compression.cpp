#include "web/compression.h"

#define ZLIB_CONST  // its input is not written to
#include <zlib.h>

#include <new>

#include "core/check.h"

namespace warmside::web {
namespace {

/// Shorter ones fit into one packet as they are. Common practice, no source.
constexpr std::size_t kWorthPacking = 1024;
/// Larger ones would keep a thread busy for seconds.
constexpr std::size_t kMostPacked = 64 * 1024 * 1024;
// zlib.h, deflateInit2: a gzip header in place of zlib's, and the default use of memory.
constexpr int kGzipWindowBits = 15 + 16;
constexpr int kMemoryLevel = 8;

constexpr std::string_view kBlanks = " \t";

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(kBlanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kBlanks) - first + 1);
}

/// Takes what stands before `separator` off the front of the text.
std::string_view next_part(std::string_view& text, char separator) {
  const std::size_t end = text.find(separator);
  const std::string_view part = text.substr(0, end);
  text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  return trimmed(part);
}

/// "q=0", "q=0.0": not at all.
bool is_zero_weight(std::string_view parameter) {
  return (parameter.starts_with("q=") || parameter.starts_with("Q=")) &&
         parameter.find_first_not_of("0.", 2) == std::string_view::npos;
}

bool is_text(std::string_view type) {
  return type.starts_with("text/") || type.find("json") != std::string_view::npos ||
         type.find("toml") != std::string_view::npos;
}

}  // namespace

std::string gzipped(std::string_view bytes) {
  z_stream stream{};
  if (deflateInit2(&stream, Z_DEFAULT_COMPRESSION, Z_DEFLATED, kGzipWindowBits, kMemoryLevel,
                   Z_DEFAULT_STRATEGY) != Z_OK) {
    throw std::bad_alloc();
  }
  std::string packed(deflateBound(&stream, bytes.size()), '\0');
  stream.next_in = reinterpret_cast<const Bytef*>(bytes.data());
  stream.avail_in = static_cast<uInt>(bytes.size());
  stream.next_out = reinterpret_cast<Bytef*>(packed.data());
  stream.avail_out = static_cast<uInt>(packed.size());
  const int outcome = deflate(&stream, Z_FINISH);
  packed.resize(stream.total_out);
  deflateEnd(&stream);
  WS_CHECK(outcome == Z_STREAM_END);
  return packed;
}

bool takes_gzip(std::string_view accept_encoding) {
  while (!accept_encoding.empty()) {
    std::string_view coding = next_part(accept_encoding, ',');
    if (next_part(coding, ';') != "gzip") continue;
    return !is_zero_weight(next_part(coding, ';'));
  }
  return false;
}

void choose_form(Response& response, std::string_view accept_encoding) {
  if (response.stream_goes_on || response.status == 204) return;
  response.headers.emplace_back("Vary", "Accept-Encoding");
  if (response.status == 304 || !takes_gzip(accept_encoding)) return;
  if (response.gzipped.bytes().empty()) {
    const std::string_view plain = response.body.bytes();
    if (plain.size() < kWorthPacking || plain.size() > kMostPacked || !is_text(response.type)) {
      return;
    }
    try {
      response.gzipped = gzipped(plain);
    } catch (const std::bad_alloc&) {
      return;  // sent as it is
    }
  }
  response.body = response.gzipped;
  response.headers.emplace_back("Content-Encoding", "gzip");
}

}  // namespace warmside::web
