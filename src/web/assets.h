#pragma once
// The app's files, built into the program, or read from a folder while somebody works on the app.

#include <string>
#include <string_view>

#include "web/http_server.h"

namespace warmside::web {

/// A built-in file. Those that gzip makes smaller come with that form as well.
struct Asset {
  std::string_view path;  // "/index.html"
  std::string_view content;
  std::string_view gzipped;  // empty: not smaller
  std::string_view tag;      // ETag, weak, with its quotes, of the content
};

/// The file of this path, or null.
const Asset* find_asset(std::string_view path);

/// The answer to GET or HEAD for a path outside of /api. "/" and paths of the app's own pages,
/// whose last part has no dot, are answered with index.html. web_dir: read from there, if not
/// empty.
Response asset_answer(const Request& request, std::string_view path, const std::string& web_dir);

/// "text/javascript" for "/assets/app.js".
std::string_view content_type_of(std::string_view path);

}  // namespace warmside::web
