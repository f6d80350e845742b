#pragma once
// The HTTP server: it reads requests, hands them to a handler, writes the answers, and keeps
// streams of server-sent events open. It knows nothing of books or people.
//
// All reading and writing happens on the one thread that is in run(). The handler runs on threads
// of a Lane and answers whenever it is ready, from any thread; so a long computation keeps nobody
// from being read or answered. Everything that a client can make grow has a limit in
// ServerOptions, and a client that does not keep up is dropped.
//
// Not here: routing, sign-in, JSON (web/api.h); which names it is asked by (web/gate.h).
// Boost.Beast and Asio appear in http_server.cpp alone.

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "web/lane.h"

namespace warmside::web {

/// A request that was read whole. Header fields that were not sent are empty.
struct Request {
  std::string method;  // "GET"
  std::string target;  // path and query as sent
  std::string body;
  std::string host, origin, fetch_site, content_type, accept_encoding, if_match, if_none_match,
      cookie;
  std::string peer;  // the client's address, without its port
  bool over_tls = false;
};

/// Bytes to send, and whatever keeps them alive.
class Content {
 public:
  Content() = default;
  Content(std::string text) : Content(std::make_shared<const std::string>(std::move(text))) {}
  Content(const char* text) : Content(std::string(text)) {}
  Content(std::shared_ptr<const std::string> text) : bytes_(*text), owner_(std::move(text)) {}
  /// Bytes that live as long as the program, such as built-in files.
  static Content lasting(std::string_view bytes) {
    Content content;
    content.bytes_ = bytes;
    return content;
  }
  std::string_view bytes() const { return bytes_; }

 private:
  std::string_view bytes_;
  std::shared_ptr<const void> owner_;
};

/// A server-sent event (HTML Standard, section 9.2).
struct Event {
  std::string name, data;
};

struct Response {
  unsigned status = 200;
  std::string type = "application/json";  // empty: no content
  Content body;
  Content gzipped;                                           // the same, packed before; empty: not
  std::vector<std::pair<std::string, std::string>> headers;  // beside those on every answer
  /// Set: the answer is a stream of events. Asked before each event and each sign of life, on the
  /// server's own thread, so it must be quick; false ends the stream.
  std::function<bool()> stream_goes_on;
  /// The stream's first event, asked for when no later one can pass it by any more; as quick.
  std::function<Event()> stream_begins;
};

/// Gives the answer, once, from any thread. Must not be called after the server is gone.
using Respond = std::function<void(Response)>;
/// What it throws is answered with 503.
using Handler = std::function<void(Request, Respond)>;

/// Limits: common practice, no source, where none is given.
struct ServerOptions {
  std::string address = "127.0.0.1";  // to listen on: IPv4 or IPv6
  std::uint16_t port = 8730;          // 0: one that is free
  std::string certificate_file;       // PEM, with its chain; empty: plain http
  std::string key_file;               // PEM
  bool takes_signals = true;          // SIGTERM and SIGINT end run()

  std::size_t most_header_bytes = 16 * 1024;
  std::size_t most_body_bytes = 1024 * 1024;
  std::string large_path;  // where a body may be larger; empty: nowhere
  std::size_t most_large_body_bytes = 8 * 1024 * 1024;
  std::size_t most_body_bytes_together = 32 * 1024 * 1024;  // of all requests in hand
  int request_seconds = 10;                                 // to send a whole request
  int idle_seconds = 30;                                    // between requests
  int write_seconds = 10;                                   // to take the next piece of an answer
  int answer_seconds = 120;                                 // for the handler
  int alive_seconds = 15;                                   // between signs of life on a stream
  int farewell_seconds = 5;                                 // for answers in hand at the end
  std::size_t most_connections = 256;
  std::size_t most_connections_of_one = 64;  // address
  std::size_t most_streams = 64;
  std::size_t most_events_waiting = 64;  // for one stream; one more and it is dropped
};

class HttpServer {
 public:
  /// Listens at once. Throws MachineFailure where the address cannot be listened on or the
  /// certificate and key cannot be used. `handler` runs on `lane`, which must be stopped before
  /// the server goes.
  HttpServer(ServerOptions options, Lane& lane, Handler handler);
  ~HttpServer();

  std::uint16_t port() const;
  /// Serves until stop() or a signal; then answers what is in hand, closes the streams, returns.
  void run();
  /// From any thread.
  void stop();
  /// Sends an event to every open stream: from any thread.
  void publish(const Event& event);

 private:
  struct Hub;
  std::unique_ptr<Hub> hub_;
};

}  // namespace warmside::web
