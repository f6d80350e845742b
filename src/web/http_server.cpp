#include "web/http_server.h"

#include <fmt/format.h>

#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/post.hpp>
#include <boost/asio/signal_set.hpp>
#include <boost/asio/ssl/context.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/write.hpp>
#include <boost/beast/core/flat_buffer.hpp>
#include <boost/beast/core/tcp_stream.hpp>
#include <boost/beast/http.hpp>
#include <boost/beast/ssl/ssl_stream.hpp>
#include <chrono>
#include <csignal>
#include <deque>
#include <map>
#include <optional>
#include <set>
#include <type_traits>

#include "core/check.h"
#include "core/problem.h"
#include "web/problem_answer.h"
#include "web/request_parser_internal.h"

namespace warmside::web {
namespace {

namespace asio = boost::asio;
namespace beast = boost::beast;
namespace http = beast::http;
using tcp = asio::ip::tcp;
using boost::system::error_code;
using std::chrono::seconds;

using PlainStream = beast::tcp_stream;
using TlsStream = beast::ssl_stream<beast::tcp_stream>;

constexpr std::size_t kReadPiece = 4096;
/// What a refused client may still send before the connection is cut: closing at once would make
/// its machine throw the answer away (RFC 9112 section 9.6).
constexpr std::size_t kMostDrained = 16 * 1024 * 1024;
constexpr int kDrainSeconds = 2;

/// On every answer. The app's own files alone, in no frame of others (W3C Content Security Policy
/// Level 3; Fetch Standard, Cross-Origin-Resource-Policy). No Strict-Transport-Security: it would
/// hold for every port of the name, and a keeper's other devices may speak plain http there.
constexpr std::pair<const char*, const char*> kSecurityHeaders[] = {
    {"Content-Security-Policy",
     "default-src 'self'; img-src 'self' data: blob:; object-src 'none'; base-uri 'none'; "
     "form-action 'self'; frame-ancestors 'none'"},
    {"X-Content-Type-Options", "nosniff"},
    {"Referrer-Policy", "same-origin"},
    {"Cross-Origin-Opener-Policy", "same-origin"},
    {"Cross-Origin-Resource-Policy", "same-origin"},
    {"Cross-Origin-Embedder-Policy", "require-corp"},
    {"Permissions-Policy", "geolocation=(), microphone=(), camera=()"}};

/// "::ffff:192.168.1.7", as a dual socket says it, is the IPv4 address.
std::string address_text(const asio::ip::address& address) {
  if (address.is_v6() && address.to_v6().is_v4_mapped()) {
    return asio::ip::make_address_v4(asio::ip::v4_mapped, address.to_v6()).to_string();
  }
  return address.to_string();
}

std::string as_text(const Event& event) {
  return fmt::format("event: {}\ndata: {}\n\n", event.name, event.data);
}

}  // namespace

/// What the connections share. All of it is touched on the io thread only, but for `io`.
struct HttpServer::Hub {
  class Connection;
  template <class Stream>
  class Client;

  Hub(ServerOptions o, Lane& l, Handler h)
      : options(std::move(o)), lane(l), handler(std::move(h)) {}

  void listen();
  void accept();
  void welcome(tcp::socket socket);
  void say_farewell();
  void set_common_fields(http::fields& fields) const;

  const ServerOptions options;
  Lane& lane;
  const Handler handler;
  std::optional<asio::ssl::context> tls;
  std::set<Connection*> connections;
  std::map<std::string, std::size_t> connections_of;  // by address
  std::set<Connection*> streams;
  std::size_t body_bytes = 0;  // that requests in hand may take
  bool leaving = false;
  // After all that its waiting operations use when they are destroyed with it; before what lives
  // on it.
  asio::io_context io{1};
  std::optional<tcp::acceptor> acceptor;
  std::optional<asio::steady_timer> breath;    // before accepting again
  std::optional<asio::steady_timer> farewell;  // the longest that leaving takes
  std::optional<asio::signal_set> signals;
};

/// A connection as the hub sees it.
class HttpServer::Hub::Connection {
 public:
  virtual ~Connection() = default;
  virtual void send_event(const std::shared_ptr<const std::string>& event) = 0;
  /// The server ends: a connection without a request in hand closes, others after their answer.
  virtual void leave() = 0;
};

/// A connection over plain TCP or TLS. It lives as long as an operation of its own waits or its
/// answer is being made.
template <class Stream>
class HttpServer::Hub::Client : public Connection,
                                public std::enable_shared_from_this<Client<Stream>> {
 public:
  template <class... Arguments>
  Client(Hub& hub, std::string peer, Arguments&&... arguments)
      : hub_(hub),
        peer_(std::move(peer)),
        stream_(std::forward<Arguments>(arguments)...),
        timer_(hub.io),
        buffer_(hub.options.most_header_bytes + most_of_any_body(hub.options) + kReadPiece) {
    hub_.connections.insert(this);
    ++hub_.connections_of[peer_];
  }

  ~Client() override {
    give_back();
    hub_.streams.erase(this);
    hub_.connections.erase(this);
    const auto of_one = hub_.connections_of.find(peer_);
    if (--of_one->second == 0) hub_.connections_of.erase(of_one);
  }

  void start() {
    if constexpr (std::is_same_v<Stream, TlsStream>) {
      allow(hub_.options.request_seconds);
      stream_.async_handshake(asio::ssl::stream_base::server,
                              [self = this->shared_from_this()](error_code error) {
                                if (!error) self->await_request();
                              });
    } else {
      await_request();
    }
  }

  void send_event(const std::shared_ptr<const std::string>& event) override {
    if (events_.size() >= hub_.options.most_events_waiting) return cut();
    events_.push_back(event);
    if (!writing_event_) write_event();
  }

  void leave() override {
    if (state_ == State::waiting || state_ == State::streaming) cut();
  }

 private:
  enum class State { waiting, reading, answering, streaming, ending };

  /// The other side has this long for the next step.
  void allow(int step_seconds) {
    beast::get_lowest_layer(stream_).expires_after(seconds(step_seconds));
  }

  void cut() {
    state_ = State::ending;
    timer_.cancel();
    beast::get_lowest_layer(stream_).close();
  }

  void give_back() {
    hub_.body_bytes -= taken_;
    taken_ = 0;
  }

  void await_request() {
    if (hub_.leaving) return cut();
    state_ = State::waiting;
    allow(hub_.options.idle_seconds);
    if (buffer_.size() > 0) return read_header();
    stream_.async_read_some(buffer_.prepare(kReadPiece),
                            [self = this->shared_from_this()](error_code error, std::size_t count) {
                              if (error) return self->cut();
                              self->buffer_.commit(count);
                              self->read_header();
                            });
  }

  void read_header() {
    state_ = State::reading;
    parser_.emplace();
    set_limits(*parser_, hub_.options);
    allow(hub_.options.request_seconds);  // for header and body together
    http::async_read_header(stream_, buffer_, *parser_,
                            [self = this->shared_from_this()](error_code error, std::size_t) {
                              if (error) return self->refuse(error);
                              self->read_body();
                            });
  }

  void read_body() {
    const std::size_t most = most_of_this_body(*parser_, hub_.options);
    const std::size_t wanted =
        parser_->chunked() ? most : static_cast<std::size_t>(parser_->content_length().value_or(0));
    if (wanted > most) return refuse(http::error::body_limit);
    parser_->body_limit(most);
    if (hub_.body_bytes + wanted > hub_.options.most_body_bytes_together) {
      return answer_and_close(machine_failed("too many large requests at once"));
    }
    taken_ = wanted;
    hub_.body_bytes += wanted;
    http::async_read(stream_, buffer_, *parser_,
                     [self = this->shared_from_this()](error_code error, std::size_t) {
                       if (error) return self->refuse(error);
                       self->ask();
                     });
  }

  void refuse(error_code error) {
    if (error == http::error::end_of_stream || error == asio::error::eof) return cut();
    if (error == beast::error::timeout) return cut();  // the socket is closed already
    if (error == http::error::body_limit) {
      return answer_and_close(problem_answer(413, "Too large."));
    }
    if (error == http::error::header_limit || error == http::error::buffer_overflow) {
      return answer_and_close(problem_answer(431, "Too large."));
    }
    if (error.category() == make_error_code(http::error::bad_version).category()) {
      return answer_and_close(problem_answer(400, "What was sent cannot be read."));
    }
    cut();
  }

  void answer_and_close(Response response) {
    keep_alive_ = false;
    head_only_ = false;
    version_ = 11;
    write(std::move(response));
  }

  void ask() {
    state_ = State::answering;
    http::request<http::string_body> read = parser_->release();
    parser_.reset();
    keep_alive_ = read.keep_alive();
    head_only_ = read.method() == http::verb::head;
    version_ = read.version();
    Request request = request_from(std::move(read));
    request.peer = peer_;
    request.over_tls = std::is_same_v<Stream, TlsStream>;

    // The answer may come from any thread; whoever drops it unanswered runs into the timer.
    const int question = ++question_;
    Respond respond = [self = this->shared_from_this(), question](Response response) {
      asio::post(self->hub_.io, [self, question, response = std::move(response)]() mutable {
        if (question == self->question_) self->answered(std::move(response));
      });
    };
    timer_.expires_after(seconds(hub_.options.answer_seconds));
    timer_.async_wait([self = this->shared_from_this(), question](error_code error) {
      if (!error && question == self->question_) {
        self->answered(machine_failed("the answer took too long"));
      }
    });
    const bool taken =
        hub_.lane.run([&handler = hub_.handler, request = std::move(request), respond]() mutable {
          try {
            handler(std::move(request), respond);
          } catch (const std::exception& e) {
            respond(machine_failed(e.what()));
          }
        });
    if (!taken) respond(machine_failed("too many requests at once"));
  }

  void answered(Response response) {
    if (state_ != State::answering) return;
    ++question_;  // a second answer to it counts for nothing
    timer_.cancel();
    give_back();
    if (response.stream_goes_on && !head_only_) return begin_stream(std::move(response));
    write(std::move(response));
  }

  void write(Response response) {
    if (hub_.leaving) keep_alive_ = false;
    response_ = std::move(response);
    const std::string_view bytes = response_.body.bytes();
    answer_.emplace(http::status(response_.status), version_);
    hub_.set_common_fields(*answer_);
    for (const auto& [name, value] : response_.headers) answer_->insert(name, value);
    const bool may_have_content = response_.status != 204 && response_.status != 304;
    if (may_have_content) {
      if (!response_.type.empty()) answer_->set(http::field::content_type, response_.type);
      answer_->content_length(bytes.size());
    }
    answer_->keep_alive(keep_alive_);
    if (may_have_content && !head_only_) {
      answer_->body() = beast::span<const char>(bytes.data(), bytes.size());
    }
    serializer_.emplace(*answer_);
    allow(hub_.options.write_seconds);
    const auto written = [self = this->shared_from_this()](error_code error, std::size_t) {
      if (error) return self->cut();
      self->response_ = {};
      if (!self->keep_alive_) return self->drain();
      self->await_request();
    };
    if (head_only_) {
      http::async_write_header(stream_, *serializer_, written);
    } else {
      write_some(written);
    }
  }

  /// Piece by piece, so that a large answer has time as long as the client takes it.
  template <class Written>
  void write_some(Written written) {
    allow(hub_.options.write_seconds);
    http::async_write_some(
        stream_, *serializer_,
        [self = this->shared_from_this(), written](error_code error, std::size_t count) {
          if (error || self->serializer_->is_done()) return written(error, count);
          self->write_some(written);
        });
  }

  void drain() {
    state_ = State::ending;
    if (hub_.leaving) return cut();
    error_code ignored;
    beast::get_lowest_layer(stream_).socket().shutdown(tcp::socket::shutdown_send, ignored);
    allow(kDrainSeconds);
    drained_ = 0;
    buffer_.clear();
    read_and_forget();
  }

  void read_and_forget() {
    auto& socket = beast::get_lowest_layer(stream_);
    socket.async_read_some(buffer_.prepare(kReadPiece),
                           [self = this->shared_from_this()](error_code error, std::size_t count) {
                             self->drained_ += count;
                             if (error || self->drained_ > kMostDrained) return self->cut();
                             self->read_and_forget();
                           });
  }

  void begin_stream(Response response) {
    if (hub_.leaving) return cut();
    if (hub_.streams.size() >= hub_.options.most_streams) {
      return write(too_many("too many open streams", hub_.options.alive_seconds));
    }
    state_ = State::streaming;
    hub_.streams.insert(this);
    goes_on_ = std::move(response.stream_goes_on);
    const std::string first = response.stream_begins ? as_text(response.stream_begins()) : "";
    std::string head;
    {
      http::response<http::empty_body> fields{http::status::ok, 11};
      hub_.set_common_fields(fields);
      fields.set(http::field::content_type, "text/event-stream");
      fields.set(http::field::cache_control, "no-store");
      fields.keep_alive(false);  // it ends with the connection
      std::ostringstream text;
      text << fields.base();
      head = text.str();
    }
    // The read begins while no time runs, so that the stream's one timer is the writer's alone.
    beast::get_lowest_layer(stream_).expires_never();
    await_end();
    // A first line at once, so that the client knows that the stream stands.
    send_event(std::make_shared<const std::string>(head + ": open\n\n" + first));
    stay_alive();
  }

  void write_event() {
    if (events_.empty()) return;
    if (!goes_on_()) return cut();
    writing_event_ = true;
    allow(hub_.options.write_seconds);
    asio::async_write(
        stream_, asio::buffer(*events_.front()),
        [self = this->shared_from_this(), sent = events_.front()](error_code error, std::size_t) {
          self->writing_event_ = false;
          if (error || self->state_ != State::streaming) return self->cut();
          self->events_.pop_front();
          beast::get_lowest_layer(self->stream_).expires_never();
          self->write_event();
        });
  }

  /// To learn that the client left.
  void await_end() {
    stream_.async_read_some(asio::buffer(scratch_),
                            [self = this->shared_from_this()](error_code error, std::size_t) {
                              // A client has nothing to say on a stream.
                              if (self->state_ == State::streaming || error) self->cut();
                            });
  }

  void stay_alive() {
    timer_.expires_after(seconds(hub_.options.alive_seconds));
    timer_.async_wait([self = this->shared_from_this()](error_code error) {
      if (error || self->state_ != State::streaming) return;
      if (!self->goes_on_()) return self->cut();
      if (self->events_.empty()) {
        self->send_event(std::make_shared<const std::string>(": still here\n\n"));
      }
      if (self->state_ == State::streaming) self->stay_alive();
    });
  }

  Hub& hub_;
  const std::string peer_;
  Stream stream_;
  asio::steady_timer timer_;
  beast::flat_buffer buffer_;
  State state_ = State::waiting;
  std::optional<RequestParser> parser_;
  std::size_t taken_ = 0;  // of the hub's body_bytes
  int question_ = 0;
  bool keep_alive_ = false, head_only_ = false;
  unsigned version_ = 11;
  Response response_;
  std::optional<http::response<http::span_body<const char>>> answer_;
  std::optional<http::response_serializer<http::span_body<const char>>> serializer_;
  std::size_t drained_ = 0;
  std::function<bool()> goes_on_;
  std::deque<std::shared_ptr<const std::string>> events_;
  bool writing_event_ = false;
  std::array<char, 64> scratch_{};
};

void HttpServer::Hub::set_common_fields(http::fields& fields) const {
  for (const auto& [name, value] : kSecurityHeaders) fields.set(name, value);
}

void HttpServer::Hub::listen() {
  const auto fail = [&](const std::string& step, const std::string& why) -> void {
    throw MachineFailure(
        fmt::format("{} on {} port {}: {}", step, options.address, options.port, why));
  };
  if (!options.certificate_file.empty()) {
    try {
      tls.emplace(asio::ssl::context::tls_server);
      tls->set_options(asio::ssl::context::default_workarounds | asio::ssl::context::no_tlsv1 |
                       asio::ssl::context::no_tlsv1_1 | SSL_OP_NO_RENEGOTIATION);
      tls->use_certificate_chain_file(options.certificate_file);
      tls->use_private_key_file(options.key_file, asio::ssl::context::pem);
    } catch (const boost::system::system_error& e) {
      throw MachineFailure(fmt::format("the certificate {} and its key {} cannot be used ({})",
                                       options.certificate_file, options.key_file, e.what()));
    }
  }
  error_code error;
  const auto address = asio::ip::make_address(options.address, error);
  if (error) fail("listening", "not an IP address");
  const tcp::endpoint endpoint(address, options.port);
  acceptor.emplace(io);
  acceptor->open(endpoint.protocol(), error);
  if (error) fail("opening a socket", error.message());
  acceptor->set_option(asio::socket_base::reuse_address(true));
  acceptor->bind(endpoint, error);
  if (error) fail("listening", error.message());
  acceptor->listen(asio::socket_base::max_listen_connections, error);
  if (error) fail("listening", error.message());
  breath.emplace(io);
  farewell.emplace(io);
  accept();
}

void HttpServer::Hub::accept() {
  acceptor->async_accept([this](error_code error, tcp::socket socket) {
    if (leaving) return;
    if (!error) {
      welcome(std::move(socket));
      return accept();
    }
    // As when the machine has no more file handles: let some be given back.
    breath->expires_after(std::chrono::milliseconds(100));
    breath->async_wait([this](error_code cancelled) {
      if (!cancelled && !leaving) accept();
    });
  });
}

void HttpServer::Hub::welcome(tcp::socket socket) {
  error_code error;
  const auto from = socket.remote_endpoint(error);
  if (error) return;
  const std::string peer = address_text(from.address());
  const auto of_one = connections_of.find(peer);
  // One too many is closed without a word: an answer would cost what the limit saves.
  if (connections.size() >= options.most_connections ||
      (of_one != connections_of.end() && of_one->second >= options.most_connections_of_one)) {
    return;
  }
  socket.set_option(tcp::no_delay(true), error);
  if (tls) {
    std::make_shared<Client<TlsStream>>(*this, peer, std::move(socket), *tls)->start();
  } else {
    std::make_shared<Client<PlainStream>>(*this, peer, std::move(socket))->start();
  }
}

void HttpServer::Hub::say_farewell() {
  if (leaving) return;
  leaving = true;
  error_code ignored;
  acceptor->close(ignored);
  breath->cancel();
  if (signals) signals->cancel(ignored);
  // leave() takes no connection out of the set: those go when their operations have ended.
  for (Connection* connection : connections) connection->leave();
  farewell->expires_after(seconds(options.farewell_seconds));
  farewell->async_wait([this](error_code error) {
    if (!error) io.stop();
  });
}

HttpServer::HttpServer(ServerOptions options, Lane& lane, Handler handler)
    : hub_(std::make_unique<Hub>(std::move(options), lane, std::move(handler))) {
  hub_->listen();
  if (hub_->options.takes_signals) {
    hub_->signals.emplace(hub_->io, SIGTERM, SIGINT);
    hub_->signals->async_wait([hub = hub_.get()](error_code error, int) {
      if (!error) hub->say_farewell();
    });
  }
}

HttpServer::~HttpServer() = default;

std::uint16_t HttpServer::port() const {
  return hub_->acceptor->local_endpoint().port();
}

void HttpServer::run() {
  while (!hub_->io.stopped()) {
    try {
      hub_->io.run_one();
    } catch (const std::exception&) {
      // No memory, for one: one client's operation is lost and closes with its connection; the
      // others go on.
    }
    if (hub_->leaving && hub_->connections.empty()) break;
  }
}

void HttpServer::stop() {
  asio::post(hub_->io, [hub = hub_.get()] { hub->say_farewell(); });
}

void HttpServer::publish(const Event& event) {
  auto text = std::make_shared<const std::string>(as_text(event));
  asio::post(hub_->io, [hub = hub_.get(), text = std::move(text)] {
    const std::set<Hub::Connection*> open = hub->streams;
    for (Hub::Connection* stream : open) stream->send_event(text);
  });
}

}  // namespace warmside::web
