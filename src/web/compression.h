#pragma once
// Answers as gzip (RFC 1952) for clients that take them so. No answer holds a secret beside what
// its reader wrote, so that the length of one tells nothing over TLS.

#include <string>
#include <string_view>

#include "web/http_server.h"

namespace warmside::web {

/// bytes: less than 4 GiB.
std::string gzipped(std::string_view bytes);

/// Whether an Accept-Encoding field (RFC 9110 section 12.5.3) allows gzip by name.
bool takes_gzip(std::string_view accept_encoding);

/// Gives the answer the form that the field allows: packs a text unless it is short.
void choose_form(Response& response, std::string_view accept_encoding);

}  // namespace warmside::web
