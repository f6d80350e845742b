#pragma once
// What is turned away before anybody asks what is wanted: requests under a name that is not ours
// (a foreign page that had its name resolve to this machine, "DNS rebinding"), changes that another
// site's page sends, and changes that are not JSON. And the session that a request names.

#include <optional>

#include "web/http_server.h"
#include "web/own_names.h"

namespace warmside::web {

/// The answer of no, or null: let in. A bare address as host is let in too: behind one, no other
/// site's page can hide.
std::optional<Response> turned_away(const Request& request, const OwnNames& names);

/// The token of our cookie; empty: none.
std::string session_token(const Request& request);
/// The cookie's name under TLS and without it.
const char* session_cookie(bool over_tls);

}  // namespace warmside::web
