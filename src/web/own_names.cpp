#include "web/own_names.h"

#include <ifaddrs.h>
#include <netdb.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <array>

#include "core/letters.h"

namespace warmside::web {

bool is_loopback(std::string_view address) {
  return address.starts_with("127.") || address == "::1";
}

OwnNames names_of_this_machine() {
  OwnNames names{"localhost"};
  std::array<char, 256> host{};
  if (::gethostname(host.data(), host.size() - 1) != 0 || host[0] == '\0') return names;
  const std::string name = lower(host.data());
  const std::string bare = name.substr(0, name.find('.'));
  names.insert(name);
  names.insert(bare);
  names.insert(bare + ".local");  // as phones find it (RFC 6762)
  return names;
}

std::vector<std::string> addresses_of_this_machine() {
  std::vector<std::string> addresses;
  ifaddrs* all = nullptr;
  if (::getifaddrs(&all) != 0) return addresses;
  for (const ifaddrs* one = all; one != nullptr; one = one->ifa_next) {
    if (one->ifa_addr == nullptr) continue;
    const int family = one->ifa_addr->sa_family;
    if (family != AF_INET && family != AF_INET6) continue;
    std::array<char, NI_MAXHOST> text{};
    const auto length =
        static_cast<socklen_t>(family == AF_INET ? sizeof(sockaddr_in) : sizeof(sockaddr_in6));
    if (::getnameinfo(one->ifa_addr, length, text.data(), text.size(), nullptr, 0,
                      NI_NUMERICHOST) != 0) {
      continue;
    }
    const std::string address = text.data();
    if (is_loopback(address) || address.starts_with("fe80:")) continue;
    addresses.push_back(address);
  }
  ::freeifaddrs(all);
  std::sort(addresses.begin(), addresses.end());
  return addresses;
}

}  // namespace warmside::web
