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
  std::vector<std::string> further_names;  // under which it is asked, beside the machine's own
  std::string web_dir;                     // the app's files from here
  std::string version;
  std::function<Instant()> now;
};

/// Serves until SIGTERM or SIGINT. listening(port) is called once requests are taken.
/// Problems: the book cannot be opened; (conflict) it would be open to others with nobody to sign
/// in. Throws MachineFailure.
Problems serve(const ServeOptions& options, const std::function<void(std::uint16_t)>& listening);

}  // namespace warmside::web
