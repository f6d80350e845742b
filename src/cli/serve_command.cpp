// serve: the app for phones and its API over HTTP.

#include <charconv>
#include <chrono>
#include <memory>

#include "cli/face.h"
#include "web/serve.h"

namespace warmside::cli {
namespace {

struct ServeWords {
  BookOption book;
  std::string listen = "127.0.0.1:8730";
  std::string certificate, key, web_dir;
  bool tls = false;
  std::vector<std::string> names;
};

Instant clock() {
  return Instant::unix_ms(std::chrono::duration_cast<std::chrono::milliseconds>(
                              std::chrono::system_clock::now().time_since_epoch())
                              .count());
}

/// "127.0.0.1:8730" or "[::1]:8730" into address and port.
bool split(const std::string& listen, web::ServeOptions& options) {
  const auto colon = listen.rfind(':');
  if (colon == std::string::npos) return false;
  std::string address = listen.substr(0, colon);
  if (address.size() > 2 && address.front() == '[' && address.back() == ']') {
    address = address.substr(1, address.size() - 2);
  } else if (address.find(':') != std::string::npos) {
    return false;  // of an IPv6 address without brackets nobody knows where it ends
  }
  const char* const past = listen.data() + listen.size();
  const auto [end, error] = std::from_chars(listen.data() + colon + 1, past, options.port);
  options.address = address;
  return error == std::errc{} && end == past && !address.empty();
}

void run_serve(const ServeWords& options, Face& face) {
  web::ServeOptions serve;
  serve.book = options.book.path;
  if (!split(options.listen, serve)) {
    return face.refuse(Problem{ProblemCode::bad_value,
                               "not an address to listen on",
                               {"", 0, "--listen"},
                               "127.0.0.1:8730, 0.0.0.0:8730 for the home network, or [::]:8730",
                               options.listen});
  }
  serve.certificate_file = options.certificate;
  serve.key_file = options.key;
  serve.own_certificate = options.tls;
  serve.web_dir = options.web_dir;
  serve.further_names = options.names;
  serve.version = WARMSIDE_VERSION;
  serve.now = clock;
  const Problems problems = web::serve(serve, [&](const web::Listening& told) {
    for (const std::string& address : told.addresses) {
      face.out << "Serving " << serve.book << " at " << address << "\n";
    }
    if (!told.trust_page.empty()) {
      face.out << "Phones learn to trust it at " << told.trust_page << "\n"
               << "The certificate's SHA-256 fingerprint, to compare there:\n"
               << told.fingerprint << "\n";
    }
    for (const std::string& name : told.left_out) {
      face.out << "Not in the certificate, since it is no name or address of a home: " << name
               << "\n";
    }
    face.out << "Ctrl-C ends it.\n" << std::flush;
  });
  if (!problems.empty()) face.refuse(problems);
}

}  // namespace

void add_serve_command(CLI::App& program, Face& face) {
  auto* command = program.add_subcommand("serve", "the app for phones, from this machine");
  auto options = std::make_shared<ServeWords>();
  options->book.add_to(*command);
  command
      ->add_option("--listen", options->listen,
                   "address and port; else 127.0.0.1:8730, which only this machine reaches")
      ->type_name("ADDR:PORT");
  auto* tls = command->add_flag("--tls", options->tls,
                                "serve over TLS with a certificate made here (docs/app.md)");
  auto* certificate = command
                          ->add_option("--cert", options->certificate,
                                       "serve over TLS with this certificate and its chain (PEM)")
                          ->type_name("FILE");
  auto* key =
      command->add_option("--key", options->key, "the certificate's key (PEM)")->type_name("FILE");
  certificate->needs(key);
  key->needs(certificate);
  tls->excludes(certificate);
  command->add_option("--name", options->names, "a further name by which it is reached")
      ->type_name("NAME");
  command
      ->add_option("--web-dir", options->web_dir,
                   "the app's files from this folder, for work on the app")
      ->type_name("DIR");
  command->footer("Example:\n  warmside serve --book room.db\nPhones, people and TLS: docs/app.md");
  command->callback([options, &face] { run_serve(*options, face); });
}

}  // namespace warmside::cli
