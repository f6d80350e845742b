#include "web/serve.h"

#include <fmt/format.h>
#include <malloc.h>

#include <csignal>
#include <optional>
#include <thread>

#include "core/letters.h"
#include "web/api.h"
#include "web/operations.h"
#include "web/problem_answer.h"
#include "web/trust.h"

namespace warmside::web {
namespace {

/// Quick answers: parsing, the caches, one row of the book.
constexpr std::size_t kQuickThreads = 2;
/// As many as connections: each has one request in hand at most.
constexpr std::size_t kMostWaiting = 256;

/// "[::1]" for "::1".
std::string as_host(const std::string& address) {
  return address.find(':') == std::string::npos ? address : "[" + address + "]";
}

std::string url(bool tls, const std::string& host, std::uint16_t port, const char* path) {
  return fmt::format("{}://{}:{}{}", tls ? "https" : "http", as_host(host), port, path);
}

/// The hosts to show to people: all of this machine's where it listens on any.
std::vector<std::string> hosts_of(const std::string& address) {
  if (address != "0.0.0.0" && address != "::") return {address};
  auto hosts = addresses_of_this_machine();
  if (hosts.empty()) hosts.emplace_back("127.0.0.1");
  return hosts;
}

/// The trust page over plain http, on a thread of its own.
class TrustServer {
 public:
  TrustServer(const ServerOptions& app, const OwnNames& names, const TrustPages& pages)
      : server_(options_of(app), lane_,
                [&names, &pages](const Request& request, const Respond& respond) {
                  if (auto no = turned_away(request, names)) return respond(std::move(*no));
                  const auto path = request.target.substr(0, request.target.find('?'));
                  auto answer = trust_answer(pages, request, path);
                  respond(answer ? std::move(*answer) : no_such_thing());
                }) {}
  ~TrustServer() {
    if (!thread_.joinable()) return;
    server_.stop();
    thread_.join();
    lane_.stop();
  }
  TrustServer(const TrustServer&) = delete;
  TrustServer& operator=(const TrustServer&) = delete;

  std::uint16_t port() const { return server_.port(); }
  void start() {
    thread_ = std::thread([this] { server_.run(); });
  }

 private:
  static ServerOptions options_of(ServerOptions options) {
    options.certificate_file.clear();
    options.key_file.clear();
    options.takes_signals = false;
    if (options.port != 0) ++options.port;
    return options;
  }

  Lane lane_{1, kMostWaiting};
  HttpServer server_;
  std::thread thread_;
};

/// The machine's certificate in the folder beside the book.
LocalCertificate own_certificate(const ServeOptions& options, const OwnNames& names) {
  std::vector<std::string> addresses = addresses_of_this_machine();
  addresses.insert(addresses.begin(), {"127.0.0.1", "::1"});
  return local_certificate(options.book + ".tls", {names.begin(), names.end()}, addresses,
                           options.now());
}

}  // namespace

Problems serve(const ServeOptions& options,
               const std::function<void(const Listening&)>& listening) {
  // glibc gives each thread its own pool and keeps what was freed in each: computing now here, now
  // there would hold several times what it needs.
  ::mallopt(M_ARENA_MAX, 2);
  // A client that leaves while an answer is written is no reason to end.
  std::signal(SIGPIPE, SIG_IGN);

  auto opened = LiveBook::open(options.book, options.now());
  if (!opened) return {opened.problem()};
  LiveBook& book = **opened;
  People people(options.book);
  const bool loopback = is_loopback(options.address);
  if (!loopback && people.all().empty()) {
    return {{ProblemCode::conflict,
             fmt::format("nobody could sign in, so the book would be open to all who reach {}",
                         options.address),
             {"", 0, "--listen"},
             fmt::format("first `warmside people add NAME --role owner --book {}`", options.book),
             ""}};
  }

  ApiOptions api_options;
  api_options.names = names_of_this_machine();
  for (const std::string& name : options.further_names) api_options.names.insert(lower(name));
  api_options.open_without_people = loopback;
  api_options.version = options.version;
  api_options.web_dir = options.web_dir;

  ServerOptions server_options;
  server_options.large_path = "/api/import";  // the notebook of years, as it was exported
  server_options.address = options.address;
  server_options.port = options.port;
  server_options.certificate_file = options.certificate_file;
  server_options.key_file = options.key_file;

  TrustPages trust;  // filled once the ports are known
  if (options.own_certificate) {
    trust.certificate = own_certificate(options, api_options.names);
    server_options.certificate_file = trust.certificate.certificate_file;
    server_options.key_file = trust.certificate.key_file;
    api_options.trust = &trust;
  }
  const bool tls = !server_options.certificate_file.empty();
  Api api(api_options, book, people, options.now);
  Lane lane(kQuickThreads, kMostWaiting);
  HttpServer server(server_options, lane, [&api](Request request, Respond respond) {
    api.answer(std::move(request), std::move(respond));
  });
  /// Whoever may still answer or tell of a change ends before the server goes.
  struct Ending {
    Lane& lane;
    Api& api;
    std::unique_ptr<LiveBook>& book;
    ~Ending() {
      lane.stop();
      api.stop();
      book.reset();
    }
  } const ending{lane, api, *opened};
  book.on_change([&](std::int64_t change) {
    server.publish(change_event(change));
    api.prepare();
  });
  api.prepare();

  Listening told;
  for (const std::string& host : hosts_of(options.address)) {
    told.addresses.push_back(url(tls, host, server.port(), "/"));
  }
  std::optional<TrustServer> trust_server;
  if (options.own_certificate) {
    trust_server.emplace(server_options, api_options.names, trust);
    trust.app_address = told.addresses.front();
    trust.page_address =
        url(false, hosts_of(options.address).front(), trust_server->port(), "/trust");
    trust_server->start();
    told.trust_page = trust.page_address;
    told.fingerprint = trust.certificate.fingerprint;
    told.left_out = trust.certificate.left_out;
  }
  listening(told);
  server.run();
  return {};
}

}  // namespace warmside::web
