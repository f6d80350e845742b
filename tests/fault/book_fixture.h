#pragma once
// What the fault tests of the room book share: a small room, a writer of entries, and a ledger that
// knows which entries must be in the book and which may.
//
// WARMSIDE_FAULT_RUNS=20 makes the counted runs (cuts, kills, flips) twenty times as many.

#include <sys/types.h>

#include <cstdint>
#include <functional>
#include <optional>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "book/book.h"
#include "simulated_disk.h"

namespace warmside::fault {

/// The factor from the environment; 1 when it is not set.
int run_factor();

/// A room of 2 keepers, 3 enclosures, 1 lamp, 1 jar and 3 animals.
room::Room small_room();

/// Invents entries about the small room. The same seed gives the same entries; two seeds never
/// give the same id.
class EntryWriter {
 public:
  explicit EntryWriter(std::uint64_t seed);
  room::Entry entry();
  /// 1 to 3 entries, now and then one that strikes an entry which is in the book.
  std::vector<room::Entry> change();
  /// A change with a note of 4,000 bytes, which fills the log quickly.
  std::vector<room::Entry> long_change();
  /// Says that an entry is in the book, so that a later one may strike it.
  void in_book(const std::vector<room::Entry>& entries);
  std::mt19937_64& random() { return random_; }

 private:
  std::mt19937_64 random_;
  std::uint64_t seed_;
  std::int64_t written_ = 0;
  std::vector<Uuid> strikable_;
};

/// From first to last, both included.
std::uint64_t draw(std::mt19937_64& random, std::uint64_t first, std::uint64_t last);

/// What became of the notebook, from best to worst.
enum class Verdict {
  whole,    // all acknowledged entries and nothing else, or with the whole of the change in doubt
  half,     // a part of the change that was not acknowledged
  lost,     // acknowledged entries are missing
  altered,  // entries that nobody wrote, or with other content
  damaged   // does not open, cannot be read, or verify() finds something
};
const char* name_of(Verdict verdict);

/// The entries that were written, in order.
class Ledger {
 public:
  /// A change that commit() has not yet acknowledged.
  void begins(std::vector<room::Entry> change) { in_doubt_ = std::move(change); }
  void acknowledged();
  /// Compares with the book. A change in doubt that is found whole counts as written from now on;
  /// one that is not found never happened. `why` says what is wrong.
  Verdict judge(const book::Book& book, std::string& why);

  const std::vector<room::Entry>& written() const { return written_; }
  std::int64_t acknowledged_changes() const { return acknowledged_changes_; }
  std::int64_t acknowledged_entries() const { return acknowledged_entries_; }
  /// Changes that were there although commit() had not returned.
  std::int64_t found_in_doubt() const { return found_in_doubt_; }
  /// Acknowledged entries that judge() missed.
  std::int64_t lost_entries() const { return lost_entries_; }

 private:
  std::vector<room::Entry> written_;
  std::optional<std::vector<room::Entry>> in_doubt_;
  std::int64_t acknowledged_changes_ = 0, acknowledged_entries_ = 0;
  std::int64_t found_in_doubt_ = 0, lost_entries_ = 0;
};

/// How a step of work ended. Anything else that is thrown is our mistake and fails the test.
enum class Ending { done, problem, machine_failure, damaged_book };
struct Attempt {
  Ending ending = Ending::done;
  std::string words;
  bool ok() const { return ending == Ending::done; }
};

/// Runs a step; it may return a Problem's line, or an empty text when all went well.
Attempt attempt(const std::function<std::string()>& step);

/// Opens a book; the Problem as a line when there is one.
std::string open_into(std::optional<book::Book>& book, const std::string& path,
                      const book::OpenOptions& options);

/// Writes entries in one change, and tells the ledger and the writer before and after.
std::string jot(book::Book& book, const std::vector<room::Entry>& entries, Ledger& ledger,
                EntryWriter& writer);

/// Opens the book and looks at everything: the entries, the ledger, verify().
Verdict look(const std::string& path, const book::OpenOptions& options, Ledger& ledger,
             std::string& why);

/// All entries of a book in the order of writing.
std::vector<room::Entry> entries_of(const book::Book& book);

/// Every kind of entry, the latest three and those of a year.
std::vector<room::Recall> recall_everything();

/// A new folder in the system's place for temporary files, removed with everything in it.
class TemporaryFolder {
 public:
  TemporaryFolder();
  ~TemporaryFolder();
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  const std::string& path() const { return path_; }
  std::string file(const std::string& name) const { return path_ + "/" + name; }

 private:
  std::string path_;
};

/// What a forked child said before it ended, and how it ended: "exit 0", "signal 6".
struct ChildReport {
  std::string said;
  std::string ended;
};

/// A forked process that runs `work` and then ends without running destructors of this one. What
/// it hands to `say` arrives at report() whole, piece by piece.
class Child {
 public:
  using Say = std::function<void(const std::string&)>;
  explicit Child(const std::function<void(const Say&)>& work);
  ~Child();
  Child(const Child&) = delete;
  Child& operator=(const Child&) = delete;
  /// Waits until the child has said `bytes` bytes more, or ended. False: ended.
  bool hear(std::size_t bytes);
  void kill_now();
  /// Waits for the end.
  ChildReport report();

 private:
  pid_t pid_ = -1;
  int pipe_ = -1;
  std::string said_;
};

}  // namespace warmside::fault
