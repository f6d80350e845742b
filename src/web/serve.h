#pragma once
// The whole server, as `warmside serve` runs it: book, people, API and HTTP put together.

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "core/result.h"
#include "core/time.h"

namespace warmside::web {

struct ServeOptions {
  std::string book;
  std::string address = "127.0.0.1";
  std::uint16_t port = 8730;  // 0: one that is free
  std::string certificate_file, key_file;
  bool own_certificate = false;  // of this home's authority, kept in the folder `book`.tls
  std::vector<std::string> further_names;  // under which it is asked, beside the machine's own
  std::string web_dir;                     // the app's files from here
  std::string version;
  std::function<Instant()> now;
};

/// What whoever started the server wants to know.
struct Listening {
  std::vector<std::string> addresses;  // "https://192.168.1.7:8730/"
  /// With an own certificate:
  std::string trust_page;             // "http://192.168.1.7:8731/trust"
  std::string fingerprint;            // of the authority
  std::vector<std::string> left_out;  // names and addresses that the certificate does not hold
};

/// Serves until SIGTERM or SIGINT. listening is called once requests are taken. With an own
/// certificate the trust page is served over plain http at the next port.
/// Problems: the book cannot be opened; (conflict) it would be open to others with nobody to sign
/// in. Throws MachineFailure.
Problems serve(const ServeOptions& options, const std::function<void(const Listening&)>& listening);

}  // namespace warmside::web
