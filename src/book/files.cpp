#include "book/files.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <memory>
#include <sstream>

#include "book/room_file.h"

namespace warmside::book {
namespace {

constexpr std::uintmax_t kMostCsvBytes = 1ULL << 30;
constexpr std::int64_t kProgressEvery = 20'000;

bool ends_with(const std::string& path, std::string_view ending) {
  return std::string_view(path).ends_with(ending);
}

void add_problem(Problems& problems, Problem problem) {
  if (problems.size() < kMostProblems) {
    problems.push_back(std::move(problem));
  } else if (problems.size() == kMostProblems) {
    problems.push_back({ProblemCode::bad_syntax,
                        "there are more problems than are listed here",
                        {},
                        "mend these first",
                        ""});
  }
}

/// A file to import, wherever its content is.
struct Source {
  std::string name;
  /// Null, and a Problem, where it cannot be read.
  std::function<std::unique_ptr<std::istream>(Problems&)> open;
  std::function<std::uintmax_t()> size;
};

Source source_on_disk(const std::string& path) {
  const auto open = [path](Problems& problems) -> std::unique_ptr<std::istream> {
    std::error_code error;
    auto in = std::make_unique<std::ifstream>(path, std::ios::binary);
    if (std::filesystem::is_directory(path, error) || !in->is_open()) {
      add_problem(problems,
                  {ProblemCode::missing,
                   std::filesystem::exists(path, error) ? "cannot be read" : "no such file",
                   {path, 0, ""},
                   "a room file (.toml) or notebook (.jsonl, .csv)",
                   ""});
      return nullptr;
    }
    return in;
  };
  const auto size = [path]() -> std::uintmax_t {
    std::error_code error;
    const auto bytes = std::filesystem::file_size(path, error);
    return error ? 0 : bytes;
  };
  return {path, open, size};
}

Source source_in_memory(const NamedText& file) {
  return {file.name, [&file](Problems&) { return std::make_unique<std::istringstream>(file.text); },
          [&file] { return file.text.size(); }};
}

std::string whole_text(std::istream& in, const std::string& path) {
  std::string text(std::istreambuf_iterator<char>(in), {});
  if (in.bad()) throw MachineFailure(path + ": cannot be read");
  return text;
}

int record_count(const room::Room& room) {
  std::size_t count = 0;
  room::Room::for_each_kind(room, [&](const auto& records) { count += records.size(); });
  return static_cast<int>(count);
}

/// Appends entries to the change as a reader hands them over.
class Intake {
 public:
  /// Without a change, lines are only read.
  Intake(Change* change, ImportReport& report, Problems& problems, const Progress& progress)
      : change_(change), report_(report), problems_(problems), progress_(progress) {}

  OnEntry on_entry() {
    return [this](const room::Entry& entry, const Where& where) {
      if (change_ == nullptr) return go_on();
      auto stored = change_->append(entry);
      if (!stored) {
        for (Problem problem : std::move(stored).problem()) {
          problem.where = {where.file, where.line, problem.where.field};
          add_problem(problems_, std::move(problem));
        }
      } else {
        ++(*stored == Stored::now ? report_.entries_added : report_.entries_before);
      }
      return go_on();
    };
  }
  OnProblem on_problem() {
    return [this](Problem problem) {
      add_problem(problems_, std::move(problem));
      return go_on();
    };
  }

 private:
  bool go_on() {
    if (++lines_ % kProgressEvery == 0 && progress_ && !progress_(lines_)) {
      add_problem(problems_, {ProblemCode::conflict, "stopped on request", {}, "", ""});
      return false;
    }
    return problems_.size() <= kMostProblems;
  }

  Change* change_;
  ImportReport& report_;
  Problems& problems_;
  const Progress& progress_;
  std::int64_t lines_ = 0;
};

Checked<ImportReport> import_sources(Book& book, const std::vector<Source>& sources,
                                     const ImportOptions& options, const Progress& progress) {
  Problems problems;
  ImportReport report;
  bool any_room_file = false;
  // Begun first, so that nobody else changes the records that the files are laid over.
  Change change = book.change();
  const room::Room before = book.room();
  room::Room room = options.remove_others ? room::Room{} : before;

  RecordPlaces places;
  for (const auto& [path, open, size] : sources) {
    if (ends_with(path, ".toml")) {
      any_room_file = true;
      const auto in = open(problems);
      if (!in) continue;
      for (Problem& problem : read_room_file(whole_text(*in, path), path, room, places)) {
        add_problem(problems, std::move(problem));
      }
    } else if (!ends_with(path, ".jsonl") && !ends_with(path, ".csv")) {
      add_problem(problems, {ProblemCode::bad_value,
                             "not a file to import",
                             {path, 0, ""},
                             "a room file (.toml) or notebook (.jsonl, .csv)",
                             ""});
    }
  }
  if (!any_room_file && before.info.name.empty()) {
    add_problem(problems, {ProblemCode::missing,
                           "the book has no room yet",
                           {},
                           "a room file (.toml) before or with the first notebook",
                           ""});
  }
  // References are looked up once all files are in; a broken file would only repeat itself.
  if (any_room_file && problems.empty()) {
    for (const auto& found : room::check_room(room)) add_problem(problems, places.placed(found));
  }
  // With a room that does not fit, names cannot be looked up, but each line can still be read.
  const bool room_fits = problems.empty();
  if (any_room_file && room_fits) {
    for (Problem& problem : change.put_room(room, options.remove_others)) {
      add_problem(problems, std::move(problem));
    }
    report.records = record_count(room);
  }
  CsvOptions csv = options.csv;
  const auto zone = Zone::named(any_room_file ? room.info.zone : before.info.zone);
  if (zone) csv.zone = *zone;
  Intake intake(room_fits ? &change : nullptr, report, problems, progress);
  for (const auto& [path, open, size] : sources) {
    if (problems.size() > kMostProblems) break;
    if (!ends_with(path, ".jsonl") && !ends_with(path, ".csv")) continue;
    const auto in = open(problems);
    if (!in) continue;
    if (ends_with(path, ".jsonl")) {
      read_notebook_lines(*in, path, intake.on_entry(), intake.on_problem());
      continue;
    }
    if (size() > kMostCsvBytes) {
      add_problem(problems, {ProblemCode::bad_syntax,
                             "too long",
                             {path, 0, ""},
                             "at most 1 GB of CSV; JSON Lines have no limit",
                             ""});
      continue;
    }
    read_notebook_csv(whole_text(*in, path), path, csv, intake.on_entry(), intake.on_problem());
  }
  if (!problems.empty()) return problems;
  if (!options.preview) change.commit();
  return report;
}

}  // namespace

void import_notebook(Change& change, std::istream& in, const std::string& name,
                     ImportReport& report, Problems& problems, const Progress& progress) {
  Intake intake(&change, report, problems, progress);
  read_notebook_lines(in, name, intake.on_entry(), intake.on_problem());
}

Checked<ImportReport> import_files(Book& book, const std::vector<std::string>& paths,
                                   const ImportOptions& options, const Progress& progress) {
  std::vector<Source> sources;
  for (const std::string& path : paths) sources.push_back(source_on_disk(path));
  return import_sources(book, sources, options, progress);
}

Checked<ImportReport> import_texts(Book& book, const std::vector<NamedText>& files,
                                   const ImportOptions& options) {
  std::vector<Source> sources;
  for (const NamedText& file : files) sources.push_back(source_in_memory(file));
  return import_sources(book, sources, options, {});
}

void write_whole_file(const std::string& path,
                      const std::function<void(const std::function<void(std::string_view)>&)>& fill,
                      Readers readers) {
  const std::string part = path + ".part";
  const auto fail = [&](const char* step, const char* outcome = "nothing was changed") {
    const std::string why = std::strerror(errno);
    ::unlink(part.c_str());
    throw MachineFailure(fmt::format("{}: {} failed ({}); {}", path, step, why, outcome));
  };
  const mode_t mode = readers == Readers::owner ? 0600 : 0666;
  const int made = ::open(part.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, mode);
  // One that an accident left behind may have another mode.
  if (made >= 0 && readers == Readers::owner && ::fchmod(made, mode) != 0) fail("protecting");
  std::FILE* file = made < 0 ? nullptr : ::fdopen(made, "wb");
  if (file == nullptr) fail("opening");
  bool good = true;
  try {
    fill([&](std::string_view text) {
      good = good && std::fwrite(text.data(), 1, text.size(), file) == text.size();
    });
  } catch (...) {
    std::fclose(file);
    ::unlink(part.c_str());
    throw;
  }
  good = good && std::fflush(file) == 0 && ::fsync(::fileno(file)) == 0;
  good = std::fclose(file) == 0 && good;
  if (!good) fail("writing");
  if (std::rename(part.c_str(), path.c_str()) != 0) fail("renaming");
  // The new name is durable once its folder is.
  const auto folder = std::filesystem::absolute(path).parent_path();
  const int handle = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY);
  if (handle >= 0) {
    const bool synced = ::fsync(handle) == 0;
    ::close(handle);
    if (!synced) fail("syncing the folder", "the new file may be lost in a power cut");
  }
}

void export_book(const Book& book, const std::string& folder, const Progress& progress) {
  std::error_code error;
  std::filesystem::create_directories(folder, error);
  if (error) throw MachineFailure(fmt::format("{}: cannot be made ({})", folder, error.message()));
  const std::filesystem::path base(folder);
  const room::Room room = book.room();
  write_whole_file((base / "notebook.jsonl").string(), [&](const auto& put) {
    std::int64_t lines = 0;
    book.each_entry([&](const room::Entry& entry) {
      put(notebook_line(entry, room.info.units));
      if (++lines % kProgressEvery == 0 && progress) progress(lines);
      return true;
    });
  });
  write_whole_file((base / "room.toml").string(),
                   [&](const auto& put) { put(write_room_file(room)); });
}

}  // namespace warmside::book
