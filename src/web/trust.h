#pragma once
// The page that helps a phone to trust this machine's certificate: the authority's certificate to
// load, its fingerprint to compare, a QR code with the page's address, and plain steps. It is meant
// to be read before TLS works, so it is served over plain http as well.

#include <optional>
#include <string>

#include "web/http_server.h"
#include "web/local_authority.h"

namespace warmside::web {

struct TrustPages {
  LocalCertificate certificate;
  std::string page_address;  // "http://192.168.1.7:8731/trust", for the QR code
  std::string app_address;   // "https://192.168.1.7:8730/"
};

/// The answer for /trust and what is below it; null for other paths.
std::optional<Response> trust_answer(const TrustPages& pages, const Request& request,
                                     std::string_view path);

/// A text as a QR code (ISO/IEC 18004), drawn as SVG with the quiet zone of four modules.
std::string qr_code_svg(const std::string& text);

}  // namespace warmside::web
