#include "cli/face.h"

#include <fmt/format.h>

#include <filesystem>
#include <fstream>

#include "book/files.h"

namespace warmside::cli {
namespace {

constexpr std::uintmax_t kMostBytes = 64 * 1024 * 1024;

}  // namespace

void Face::refuse(const Problems& problems) {
  for (const Problem& problem : problems) err << to_line(problem) << "\n";
  exit_code = kBadData;
}

void Face::show_progress(const std::string& what, std::int64_t lines, bool done) {
  if (!progress_shown) return;
  err << (done ? std::string("\r\033[K") : fmt::format("\r\033[K{} {} lines ...", what, lines));
  err.flush();
}

void Face::show_share(const std::string& what, double share) {
  if (!progress_shown) return;
  err << (share >= 1 ? std::string("\r\033[K")
                     : fmt::format("\r\033[K{} {:.0f} % ...", what, 100 * share));
  err.flush();
}

void BookOption::add_to(CLI::App& command) {
  command.add_option("--book", path, "the room book; else $WARMSIDE_BOOK, else room.db here")
      ->envname("WARMSIDE_BOOK")
      ->type_name("FILE");
}

void add_json_option(CLI::App& command, bool& json) {
  command.add_flag("--json", json, "answer with one JSON object (docs/schema/)");
}

void add_units_option(CLI::App& command, std::string& units) {
  command.add_option("--units", units, "to read: metric or us")
      ->check(CLI::IsMember({"metric", "us"}))
      ->type_name("UNITS");
}

CLI::Option* PictureOption::add_to(CLI::App& command, const std::string& option) {
  option_ = option;
  auto* file = command.add_option(option, path, "the picture: a name ending in .png or .svg")
                   ->type_name("FILE");
  command.add_option("--width", width_px, "of the picture, in pixels; else 1080")
      ->check(CLI::Range(report::kLeastWidth_px, report::kMostWidth_px))
      ->needs(file)
      ->type_name("PX");
  return file;
}

std::optional<report::PictureFormat> PictureOption::format(Face& face) const {
  const auto format = report::picture_format(path);
  if (!format) {
    face.refuse(Problem{ProblemCode::bad_value,
                        "not a picture that can be drawn",
                        {"", 0, option_},
                        "a name ending in .png or .svg",
                        path});
  }
  return format;
}

void PictureOption::write(const Result<std::string>& file, Face& face) const {
  if (!file) return face.refuse(file.problem());
  book::write_whole_file(path, [&](const auto& put) { put(*file); });
  face.out << path << "\n";
}

std::optional<std::string> text_of(const std::string& path, Face& face) {
  std::ifstream in(path, std::ios::binary);
  std::error_code unknown;
  const auto size = std::filesystem::is_directory(path, unknown)
                        ? kMostBytes + 1
                        : std::filesystem::file_size(path, unknown);
  if (!in || (!unknown && size > kMostBytes)) {
    face.refuse(Problem{ProblemCode::missing,
                        "cannot be read as a file",
                        {path, 0, ""},
                        "a file of at most 64 MB that exists",
                        ""});
    return std::nullopt;
  }
  return std::string{std::istreambuf_iterator<char>(in), {}};
}

}  // namespace warmside::cli
