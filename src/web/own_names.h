#pragma once
// The names and addresses by which this machine is found on the home network.

#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace warmside::web {

/// In small letters.
using OwnNames = std::set<std::string, std::less<>>;

/// "localhost" and this machine's name: as it is, without its domain, and with ".local".
OwnNames names_of_this_machine();

/// This machine's addresses on its networks, without loopback and those of one link only.
std::vector<std::string> addresses_of_this_machine();

/// Whether an address is of this machine alone: 127.0.0.0/8 or ::1.
bool is_loopback(std::string_view address);

}  // namespace warmside::web
