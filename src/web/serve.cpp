#include "web/serve.h"

#include <fmt/format.h>
#include <malloc.h>

#include <csignal>

#include "core/letters.h"
#include "web/api.h"

namespace warmside::web {
namespace {

/// Quick answers: parsing, the caches, one row of the book.
constexpr std::size_t kQuickThreads = 2;
/// As many as connections: each has one request in hand at most.
constexpr std::size_t kMostWaiting = 256;

}  // namespace

Problems serve(const ServeOptions& options, const std::function<void(std::uint16_t)>& listening) {
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
  Api api(api_options, book, people, options.now);

  ServerOptions server_options;
  server_options.address = options.address;
  server_options.port = options.port;
  server_options.certificate_file = options.certificate_file;
  server_options.key_file = options.key_file;
  Lane lane(kQuickThreads, kMostWaiting);
  HttpServer server(server_options, lane, [&api](Request request, Respond respond) {
    api.answer(std::move(request), std::move(respond));
  });
  book.on_change([&](std::int64_t change) {
    server.publish("change", fmt::format("{{\"change\": {}}}", change));
    api.prepare();
  });
  api.prepare();
  listening(server.port());
  server.run();
  // Whoever may still answer ends before the server goes.
  lane.stop();
  api.stop();
  opened->reset();
  return {};
}

}  // namespace warmside::web
