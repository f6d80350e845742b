#pragma once
// Into the book and out of it: importing room files and notebooks, exporting them.
//
// An import is all or nothing: every bad line of every file is listed and the book is unchanged,
// or everything is in it and durable. An export writes each file whole or not at all.

#include <functional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/notebook_file.h"

namespace warmside::book {

/// Told now and then how many lines have been read or written. False stops an import, of which
/// nothing is then kept; an export goes on.
using Progress = std::function<bool(std::int64_t lines)>;

struct ImportOptions {
  CsvOptions csv;              // how CSV columns are understood; its zone is set from the room
  bool remove_others = false;  // take out records that the room files do not have
  bool preview = false;        // only say what would happen: the book stays as it is
};

struct ImportReport {
  int records = 0;                  // records in the room files
  std::int64_t entries_added = 0;   // entries that are new to the book
  std::int64_t entries_before = 0;  // entries that it had already
};

/// At most this many problems are listed; the last line says that there are more.
constexpr std::size_t kMostProblems = 500;

/// Imports files by their ending: .toml room files first, then .jsonl and .csv notebooks in the
/// order given. Files that cannot be opened are Problems too.
Checked<ImportReport> import_files(Book& book, const std::vector<std::string>& paths,
                                   const ImportOptions& options = {},
                                   const Progress& progress = {});

/// A file's name, whose ending says what it is, and its content.
struct NamedText {
  std::string name;
  std::string text;
};
/// The same with files that are in memory.
Checked<ImportReport> import_texts(Book& book, const std::vector<NamedText>& files,
                                   const ImportOptions& options = {});

/// Imports one notebook from a stream into a change: the middle of import_files, for readers that
/// have no file. Problems are added to `problems`; the caller commits when there are none.
void import_notebook(Change& change, std::istream& in, const std::string& name,
                     ImportReport& report, Problems& problems, const Progress& progress = {});

/// Writes room.toml and notebook.jsonl into a folder, which is made if need be.
void export_book(const Book& book, const std::string& folder, const Progress& progress = {});

/// Who may read a file that is written: whom the machine's settings let, or its owner alone.
enum class Readers { usual, owner };

/// Writes a file so that, whatever happens, its old or its new content is there whole: a new file
/// beside it, synced, then renamed. Throws MachineFailure.
void write_whole_file(const std::string& path,
                      const std::function<void(const std::function<void(std::string_view)>&)>& fill,
                      Readers readers = Readers::usual);

}  // namespace warmside::book
