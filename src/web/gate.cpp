#include "web/gate.h"

#include <arpa/inet.h>

#include <algorithm>
#include <array>

#include "core/letters.h"
#include "web/problem_answer.h"

namespace warmside::web {
namespace {

/// "room.local:8730" and "[::1]:8730" without the port.
std::string_view without_port(std::string_view host) {
  if (host.starts_with('[')) {
    const auto end = host.find(']');
    return end == std::string_view::npos ? std::string_view() : host.substr(1, end - 1);
  }
  return host.substr(0, host.find(':'));
}

bool changes_something(const Request& request) {
  return request.method != "GET" && request.method != "HEAD";
}

bool is_json(std::string_view content_type) {
  return lower(content_type.substr(0, content_type.find_first_of("; "))) == "application/json";
}

Response foreign(const char* what, const std::string& found) {
  return problem_answer(403, "Not for this role, or sent from another site.",
                        {{ProblemCode::bad_value, what, {}, "the app's own pages", shown(found)}});
}

/// A page of another site cannot come under a bare address: that would be its own origin.
bool is_address(const std::string& host) {
  std::array<unsigned char, sizeof(in6_addr)> bytes{};
  return ::inet_pton(AF_INET, host.c_str(), bytes.data()) == 1 ||
         ::inet_pton(AF_INET6, host.c_str(), bytes.data()) == 1;
}

}  // namespace

std::optional<Response> turned_away(const Request& request, const OwnNames& names) {
  const std::string host = lower(without_port(request.host));
  if (!names.contains(host) && !is_address(host)) {
    return foreign("this server does not go by that name", request.host);
  }
  if (!changes_something(request)) return std::nullopt;
  // Browsers say where a change comes from; other programs need not, and hold no cookie of ours.
  const std::string own = (request.over_tls ? "https://" : "http://") + request.host;
  if (!request.origin.empty() && lower(request.origin) != lower(own)) {
    return foreign("sent from another site", request.origin);
  }
  if (request.origin.empty() && !request.fetch_site.empty() &&
      request.fetch_site != "same-origin") {
    return foreign("sent from another site", request.fetch_site);
  }
  if (!request.body.empty() && !is_json(request.content_type)) {
    return problem_answer(415, "Not JSON.",
                          {{ProblemCode::bad_value,
                            "not JSON",
                            {"", 0, "Content-Type"},
                            "application/json",
                            shown(request.content_type)}});
  }
  return std::nullopt;
}

/// The prefix ties the cookie to this host and to TLS (RFC 6265bis section 4.1.3.2).
const char* session_cookie(bool over_tls) {
  return over_tls ? "__Host-warmside" : "warmside";
}

std::string session_token(const Request& request) {
  const std::string_view name = session_cookie(request.over_tls);
  std::string_view rest = request.cookie;
  while (!rest.empty()) {
    const auto end = rest.find(';');
    std::string_view pair = rest.substr(0, end);
    rest = end == std::string_view::npos ? std::string_view() : rest.substr(end + 1);
    pair.remove_prefix(std::min(pair.find_first_not_of(' '), pair.size()));
    if (pair.size() > name.size() && pair.starts_with(name) && pair[name.size()] == '=') {
      return std::string(pair.substr(name.size() + 1));
    }
  }
  return "";
}

}  // namespace warmside::web
