#include "web/assets.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <span>
#include <utility>

#include "web/built_in_assets.h"
#include "web/problem_answer.h"
#include "web/router.h"

namespace warmside::web {
namespace {

constexpr std::string_view kIndex = "/index.html";
constexpr std::uintmax_t kMostFileBytes = 64 * 1024 * 1024;

// IANA media types; fonts as in RFC 8081.
constexpr std::pair<std::string_view, std::string_view> kTypes[] = {
    {".html", "text/html; charset=utf-8"},
    {".js", "text/javascript; charset=utf-8"},
    {".css", "text/css; charset=utf-8"},
    {".json", "application/json"},
    {".webmanifest", "application/manifest+json"},
    {".svg", "image/svg+xml"},
    {".png", "image/png"},
    {".ico", "image/x-icon"},
    {".woff2", "font/woff2"},
    {".txt", "text/plain; charset=utf-8"},
    {".map", "application/json"}};

/// The file that is meant: pages of the app are all made by index.html.
std::string_view file_of(std::string_view path) {
  const std::string_view last = path.substr(path.rfind('/') + 1);
  return last.find('.') == std::string_view::npos ? kIndex : path;
}

/// Files under /assets/ carry a hash of their content in their name and never change.
std::string_view caching_of(std::string_view path) {
  return path.starts_with("/assets/") ? "public, max-age=31536000, immutable" : "no-cache";
}

Response from_folder(std::string_view path, const std::string& web_dir) {
  const auto decoded = percent_decoded(path, false);
  if (!decoded) return no_such_thing();
  namespace fs = std::filesystem;
  std::error_code error;
  const fs::path base = fs::weakly_canonical(web_dir, error);
  const fs::path file = fs::weakly_canonical(base / decoded->substr(1), error);
  // Links and ".." must not lead out of the folder.
  const auto left = std::mismatch(base.begin(), base.end(), file.begin(), file.end());
  if (error || left.first != base.end() || !fs::is_regular_file(file, error) ||
      fs::file_size(file, error) > kMostFileBytes) {
    return no_such_thing();
  }
  std::ifstream in(file, std::ios::binary);
  Response response;
  response.type = std::string(content_type_of(path));
  response.body = std::string(std::istreambuf_iterator<char>(in), {});
  response.headers.emplace_back("Cache-Control", "no-store");
  return response;
}

}  // namespace

std::string_view content_type_of(std::string_view path) {
  for (const auto& [ending, type] : kTypes) {
    if (path.ends_with(ending)) return type;
  }
  return "application/octet-stream";
}

const Asset* find_asset(std::string_view path) {
  const std::span<const Asset> assets = built_in_assets();
  const auto at = std::find_if(assets.begin(), assets.end(),
                               [&](const Asset& asset) { return asset.path == path; });
  return at == assets.end() ? nullptr : &*at;
}

Response asset_answer(const Request& request, std::string_view path, const std::string& web_dir) {
  if (request.method != "GET" && request.method != "HEAD") {
    return problem_answer(405, "Not that way.");
  }
  const std::string_view file = file_of(path);
  if (!web_dir.empty()) return from_folder(file, web_dir);
  const Asset* asset = find_asset(file);
  if (asset == nullptr) return no_such_thing();
  Response response;
  response.type = std::string(content_type_of(file));
  response.headers.emplace_back("ETag", std::string(asset->tag));
  response.headers.emplace_back("Cache-Control", std::string(caching_of(file)));
  if (request.if_none_match.find(asset->tag) != std::string::npos) {
    response.status = 304;
  } else {
    response.body = Content::lasting(asset->content);
    response.gzipped = Content::lasting(asset->gzipped);
  }
  return response;
}

}  // namespace warmside::web
