#pragma once
// A request off the wire: the parser with its limits, and what the rest of the module knows of what
// it read. Apart from the server for the fuzzer's sake. Only web/*.cpp includes this.

#include <algorithm>
#include <boost/beast/http/message.hpp>
#include <boost/beast/http/parser.hpp>
#include <boost/beast/http/string_body.hpp>

#include "web/http_server.h"

namespace warmside::web {

using RequestParser = boost::beast::http::request_parser<boost::beast::http::string_body>;

/// The largest body of all.
inline std::size_t most_of_any_body(const ServerOptions& options) {
  return options.large_path.empty()
             ? options.most_body_bytes
             : std::max(options.most_body_bytes, options.most_large_body_bytes);
}

/// Sets the limits of a new parser, before it is known where the request goes.
inline void set_limits(RequestParser& parser, const ServerOptions& options) {
  parser.header_limit(static_cast<std::uint32_t>(options.most_header_bytes));
  parser.body_limit(most_of_any_body(options));
}

/// The largest body for the path of a header that was read.
inline std::size_t most_of_this_body(const RequestParser& parser, const ServerOptions& options) {
  const auto target = parser.get().target();
  const bool large =
      !options.large_path.empty() && target.substr(0, target.find('?')) == options.large_path;
  return large ? options.most_large_body_bytes : options.most_body_bytes;
}

/// All of it but who sent it and how.
inline Request request_from(
    boost::beast::http::request<boost::beast::http::string_body>&& message) {
  namespace http = boost::beast::http;
  const auto text = [](boost::beast::string_view bytes) {
    return std::string(bytes.data(), bytes.size());
  };
  Request request;
  request.method = text(message.method_string());
  request.target = text(message.target());
  request.host = text(message[http::field::host]);
  request.origin = text(message[http::field::origin]);
  request.fetch_site = text(message["Sec-Fetch-Site"]);
  request.content_type = text(message[http::field::content_type]);
  request.accept_encoding = text(message[http::field::accept_encoding]);
  request.if_match = text(message[http::field::if_match]);
  request.if_none_match = text(message[http::field::if_none_match]);
  request.cookie = text(message[http::field::cookie]);
  request.body = std::move(message.body());
  return request;
}

}  // namespace warmside::web
