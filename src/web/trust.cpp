#include "web/trust.h"

#include <fmt/format.h>
#include <qrencode.h>

#include <memory>

#include "core/problem.h"
#include "web/problem_answer.h"

namespace warmside::web {
namespace {

constexpr const char* kStyle =
    "body{font:18px/1.5 sans-serif;max-width:40em;margin:1em auto;padding:0 1em}"
    "code{overflow-wrap:anywhere}img{width:14em;max-width:100%}"
    "a.load{display:inline-block;padding:.6em 1em;border:2px solid;border-radius:.4em}";

/// What people call "trusting a certificate" is hidden in settings under many names.
constexpr const char* kPage = R"(<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Trust this Warmside</title>
<link rel="stylesheet" href="/trust/style.css">
</head>
<body>
<main>
<h1>Let this phone trust your Warmside</h1>
<p>Your Warmside speaks with phones in a way that others cannot listen to. For that it made a
certificate of its own. A phone has to be told once that it is yours.</p>
<h2>1. Load the certificate</h2>
<p><a class="load" href="/trust/authority.crt">Load the certificate</a></p>
<h2>2. Install it</h2>
<ul>
<li>If the phone says that a <em>profile</em> was downloaded: open Settings, then the line about the
profile, and install it. After that look in Settings under General, About, Certificate Trust
Settings, and switch it on. Without this second step it does nothing.</li>
<li>Otherwise: open Settings and search for <em>CA certificate</em>. Choose it, say that you install
it anyway, and pick the file that you loaded. The phone warns that your network may be watched; it
says so of every certificate that is not from its maker.</li>
<li>On a computer: open the browser's settings, search for <em>certificates</em>, and import the file
as an authority for web sites.</li>
</ul>
<h2>3. Compare the fingerprint</h2>
<p>Before you switch it on, open the certificate's details. Its SHA-256 fingerprint must be the same
as the one that Warmside printed when it started, on the screen of its own machine:</p>
<p><code>{fingerprint}</code></p>
<p>If it differs, do not install it: somebody stands between.</p>
<h2>4. Open the app</h2>
<p><a href="{app}">{app}</a></p>
<h2>Another phone</h2>
<p>Let its camera look at this:</p>
<p><img src="/trust/code.svg" alt="QR code of {page}"></p>
<p><code>{page}</code></p>
<p>The certificate counts for names and addresses of home networks only, for no site on the
internet. To be rid of it, take it out in the same place of the settings.</p>
</main>
</body>
</html>
)";

Response with(std::string type, std::string body) {
  Response response;
  response.type = std::move(type);
  response.body = std::move(body);
  response.headers.emplace_back("Cache-Control", "no-store");
  return response;
}

}  // namespace

std::string qr_code_svg(const std::string& text) {
  constexpr int kQuiet = 4;
  const std::unique_ptr<QRcode, decltype(&QRcode_free)> code(
      QRcode_encodeString(text.c_str(), 0, QR_ECLEVEL_M, QR_MODE_8, 1), &QRcode_free);
  if (code == nullptr) throw MachineFailure("the QR code cannot be drawn");
  const int side = code->width + 2 * kQuiet;
  std::string dark;
  for (int y = 0; y < code->width; ++y) {
    for (int x = 0; x < code->width; ++x) {
      if ((code->data[y * code->width + x] & 1) == 0) continue;  // bit 0: dark (qrencode.h)
      dark += fmt::format("M{} {}h1v1h-1z", x + kQuiet, y + kQuiet);
    }
  }
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {0}\">"
      "<path fill=\"#fff\" d=\"M0 0h{0}v{0}H0z\"/><path d=\"{1}\"/></svg>\n",
      side, dark);
}

std::optional<Response> trust_answer(const TrustPages& pages, const Request& request,
                                     std::string_view path) {
  if (path != "/trust" && !path.starts_with("/trust/")) return std::nullopt;
  if (request.method != "GET" && request.method != "HEAD") {
    return problem_answer(405, "Not that way.");
  }
  if (path == "/trust" || path == "/trust/") {
    return with(
        "text/html; charset=utf-8",
        fmt::format(fmt::runtime(kPage), fmt::arg("fingerprint", pages.certificate.fingerprint),
                    fmt::arg("app", pages.app_address), fmt::arg("page", pages.page_address)));
  }
  if (path == "/trust/style.css") return with("text/css; charset=utf-8", kStyle);
  if (path == "/trust/code.svg") return with("image/svg+xml", qr_code_svg(pages.page_address));
  if (path == "/trust/authority.pem") {
    return with("application/x-pem-file", pages.certificate.authority_pem);
  }
  if (path == "/trust/authority.crt") {
    return with("application/x-x509-ca-cert", pages.certificate.authority_der);
  }
  return no_such_thing();
}

}  // namespace warmside::web
