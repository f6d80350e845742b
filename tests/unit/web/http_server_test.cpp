// The server's limits, from both sides where that is quick, by a client that speaks over a bare
// socket. Hostile clients in numbers are in tests/end-to-end/check_serve.py.

#include "web/http_server.h"

#include <arpa/inet.h>
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <optional>
#include <thread>

#include "core/problem.h"

namespace warmside::web {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::StartsWith;

class Client {
 public:
  explicit Client(std::uint16_t port, int receive_buffer = 0)
      : socket_(::socket(AF_INET, SOCK_STREAM, 0)) {
    if (receive_buffer > 0) {
      ::setsockopt(socket_, SOL_SOCKET, SO_RCVBUF, &receive_buffer, sizeof receive_buffer);
    }
    const timeval patience{20, 0};
    ::setsockopt(socket_, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    sockaddr_in to{};
    to.sin_family = AF_INET;
    to.sin_port = htons(port);
    ::inet_pton(AF_INET, "127.0.0.1", &to.sin_addr);
    EXPECT_EQ(::connect(socket_, reinterpret_cast<sockaddr*>(&to), sizeof to), 0);
  }
  ~Client() { ::close(socket_); }
  Client(const Client&) = delete;
  Client& operator=(const Client&) = delete;

  void send(const std::string& text) {
    // A server that has closed is no reason to end the test.
    static_cast<void>(::send(socket_, text.data(), text.size(), MSG_NOSIGNAL));
  }
  /// Until the text has come or the server closes.
  std::string read_until(const std::string& wanted) {
    std::string text;
    char piece[4096];
    for (std::size_t from = 0; text.find(wanted, from) == std::string::npos;) {
      from = text.size() - std::min(text.size(), wanted.size());
      const auto count = ::recv(socket_, piece, sizeof piece, 0);
      if (count <= 0) break;
      text.append(piece, static_cast<std::size_t>(count));
    }
    return text;
  }
  std::string read_all() { return read_until(std::string(1, '\0')); }

 private:
  int socket_;
};

/// A server with small limits that answers with what was asked.
class HttpServerTest : public testing::Test {
 protected:
  HttpServerTest() {
    options_.port = 0;
    options_.takes_signals = false;
    options_.most_header_bytes = 1024;
    options_.most_body_bytes = 1000;
    options_.large_path = "/much";
    options_.most_large_body_bytes = 2000;
    options_.most_body_bytes_together = 2500;
    options_.request_seconds = 1;
    options_.idle_seconds = 2;
    options_.write_seconds = 1;
    options_.answer_seconds = 1;
    options_.most_connections_of_one = 4;
    options_.most_streams = 2;
    options_.most_events_waiting = 8;
  }
  ~HttpServerTest() override { stop(); }

  void start() {
    server_.emplace(options_, lane_, [this](Request request, Respond respond) {
      ++asked_;
      if (request.target == "/throw") throw std::runtime_error("no room left");
      if (request.target == "/silent") return;
      Response response;
      response.type = "text/plain";
      if (request.target == "/events") {
        response.stream_goes_on = [this] { return goes_on_.load(); };
        response.stream_begins = [] { return Event{"change", "1"}; };
      } else if (request.target == "/large") {
        response.body = std::string(3'000'000, 'x');
      } else {
        response.body = request.method + " " + request.target + " " + request.body;
      }
      respond(std::move(response));
      respond(Response{});  // a second answer counts for nothing
    });
    thread_ = std::thread([this] { server_->run(); });
  }
  void stop() {
    if (!thread_.joinable()) return;
    server_->stop();
    thread_.join();
    lane_.stop();
    server_.reset();
  }
  std::uint16_t port() const { return server_->port(); }

  std::string answer(const std::string& request) {
    Client client(port());
    client.send(request);
    return client.read_all();
  }
  static std::string get(const std::string& target) {
    return "GET " + target + " HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n";
  }

  ServerOptions options_;
  Lane lane_{2, 16};
  std::optional<HttpServer> server_;
  std::thread thread_;
  std::atomic<int> asked_ = 0;
  std::atomic<bool> goes_on_ = true;
};

std::string posted(std::size_t bytes, const std::string& target = "/") {
  return "POST " + target +
         " HTTP/1.1\r\nHost: a\r\nConnection: close\r\nContent-Length: " + std::to_string(bytes) +
         "\r\n\r\n" + std::string(bytes, 'b');
}

TEST_F(HttpServerTest, AnswersOneAfterTheOtherOnAConnection) {
  start();
  Client client(port());
  // The second is sent before the first is answered.
  client.send("GET /1 HTTP/1.1\r\nHost: a\r\n\r\nGET /2 HTTP/1.1\r\nHost: a\r\n\r\n");
  EXPECT_THAT(client.read_until("GET /2 "), HasSubstr("GET /1 "));
  client.send("HEAD /3 HTTP/1.1\r\nHost: a\r\nConnection: close\r\n\r\n");
  const std::string head = client.read_all();
  EXPECT_THAT(head, HasSubstr("Content-Length: 8\r\n"));  // "HEAD /3 "
  EXPECT_TRUE(head.ends_with("\r\n\r\n")) << head;
  EXPECT_EQ(asked_, 3);
}

TEST_F(HttpServerTest, HeaderAndBodyHaveLimits) {
  start();
  const auto with_header = [](std::size_t bytes) {
    return "GET / HTTP/1.1\r\nHost: a\r\nConnection: close\r\nX: " + std::string(bytes, 'x') +
           "\r\n\r\n";
  };
  EXPECT_THAT(answer(with_header(900)), StartsWith("HTTP/1.1 200"));
  EXPECT_THAT(answer(with_header(1100)), StartsWith("HTTP/1.1 431"));
  EXPECT_THAT(answer(posted(1000)), StartsWith("HTTP/1.1 200"));
  EXPECT_THAT(answer(posted(1001)), StartsWith("HTTP/1.1 413"));
  EXPECT_THAT(answer("nonsense\r\n\r\n"), StartsWith("HTTP/1.1 400"));
}

TEST_F(HttpServerTest, OnePathTakesMore) {
  start();
  EXPECT_THAT(answer(posted(2000, "/much?x=1")), StartsWith("HTTP/1.1 200"));
  EXPECT_THAT(answer(posted(2001, "/much")), StartsWith("HTTP/1.1 413"));
  EXPECT_THAT(answer(posted(1001, "/much/more")), StartsWith("HTTP/1.1 413"));
  const auto chunked = [](const std::string& target, std::size_t bytes) {
    return "POST " + target +
           " HTTP/1.1\r\nHost: a\r\nConnection: close\r\nTransfer-Encoding: chunked\r\n\r\n" +
           fmt::format("{:x}\r\n", bytes) + std::string(bytes, 'y') + "\r\n0\r\n\r\n";
  };
  EXPECT_THAT(answer(chunked("/much", 2000)), StartsWith("HTTP/1.1 200"));
  EXPECT_THAT(answer(chunked("/much", 2001)), StartsWith("HTTP/1.1 413"));
  EXPECT_THAT(answer(chunked("/", 1000)), StartsWith("HTTP/1.1 200"));
  EXPECT_THAT(answer(chunked("/", 1001)), StartsWith("HTTP/1.1 413"));
}

TEST_F(HttpServerTest, BodiesTogetherHaveALimit) {
  start();
  Client first(port()), second(port());
  for (Client* one : {&first, &second}) {
    one->send("POST / HTTP/1.1\r\nHost: a\r\nContent-Length: 1000\r\n\r\n");
  }
  std::this_thread::sleep_for(std::chrono::milliseconds(200));
  EXPECT_THAT(answer(posted(600)), StartsWith("HTTP/1.1 503"));
  EXPECT_THAT(answer(posted(400)), StartsWith("HTTP/1.1 200"));
  EXPECT_THAT(first.read_all(), IsEmpty());  // given up after a second
  EXPECT_THAT(second.read_all(), IsEmpty());
  EXPECT_THAT(answer(posted(1000)), StartsWith("HTTP/1.1 200"));
}

TEST_F(HttpServerTest, OneAddressHasFewConnections) {
  start();
  Client a(port()), b(port()), c(port()), d(port());
  std::this_thread::sleep_for(std::chrono::milliseconds(100));
  EXPECT_THAT(answer(get("/")), IsEmpty());
  a.send(get("/"));
  EXPECT_THAT(a.read_all(), StartsWith("HTTP/1.1 200"));
}

TEST_F(HttpServerTest, AHandlerThatThrowsOrForgetsIsAnswered) {
  start();
  EXPECT_THAT(answer(get("/throw")), HasSubstr("no room left"));
  EXPECT_THAT(answer(get("/silent")), StartsWith("HTTP/1.1 503"));
}

TEST_F(HttpServerTest, AClientThatDoesNotReadIsDropped) {
  start();
  Client client(port(), 4096);
  client.send(get("/large"));
  std::this_thread::sleep_for(std::chrono::milliseconds(2500));
  EXPECT_LT(client.read_all().size(), 3'000'000u);
}

TEST_F(HttpServerTest, StreamsHearEventsAndHaveALimit) {
  start();
  Client one(port()), two(port());
  for (Client* client : {&one, &two}) {
    client->send(get("/events"));
    client->read_until(": open");
  }
  EXPECT_THAT(answer(get("/events")), StartsWith("HTTP/1.1 429"));
  server_->publish({"change", "7"});
  for (Client* client : {&one, &two}) {
    EXPECT_THAT(client->read_until("7\n\n"), HasSubstr("event: change\ndata: 7\n\n"));
  }
  goes_on_ = false;
  server_->publish({"change", "8"});
  EXPECT_THAT(one.read_all(), IsEmpty()) << "whoever may no longer hear it heard it";
}

TEST_F(HttpServerTest, AStreamThatIsNotReadIsDropped) {
  start();
  Client slow(port(), 4096), quick(port());
  for (Client* client : {&slow, &quick}) {
    client->send(get("/events"));
    client->read_until(": open");
  }
  const std::string large(1'000'000, 'x');
  std::string heard;
  for (int i = 0; i < 12; ++i) {
    server_->publish({"change", large + std::to_string(i)});
    heard = quick.read_until("x" + std::to_string(i) + "\n\n");
  }
  EXPECT_THAT(heard, HasSubstr("x11\n\n"));
  EXPECT_LT(slow.read_all().size(), 10'000'000u);
}

TEST_F(HttpServerTest, EndsWithOpenStreamsAndIdleConnections) {
  start();
  Client stream(port()), idle(port());
  stream.send(get("/events"));
  EXPECT_THAT(stream.read_until("data: 1\n\n"), HasSubstr(": open\n\nevent: change\ndata: 1\n\n"));
  const auto begun = std::chrono::steady_clock::now();
  stop();
  EXPECT_LT(std::chrono::steady_clock::now() - begun, std::chrono::seconds(3));
  EXPECT_THAT(stream.read_all(), IsEmpty());
}

TEST(HttpServer, SaysWhyItCannotListen) {
  Lane lane(1, 1);
  ServerOptions options;
  options.takes_signals = false;
  options.address = "192.0.2.1";  // for documentation alone (RFC 5737)
  EXPECT_THROW(HttpServer(options, lane, {}), MachineFailure);
  options.address = "nowhere";
  EXPECT_THROW(HttpServer(options, lane, {}), MachineFailure);
  options.address = "127.0.0.1";
  options.port = 0;
  options.certificate_file = "/none.pem";
  EXPECT_THROW(HttpServer(options, lane, {}), MachineFailure);
}

}  // namespace
}  // namespace warmside::web
