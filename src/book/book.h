#pragma once
// The room book on disk: one SQLite file that holds the room's records and the notebook.
//
// Faces open a Book and hand its plain room:: structs to the models; no model ever sees a Book.
// Whatever changes the book goes through a Change: all of it is on the disk when commit() returns,
// or none of it. The journal is a write-ahead log with synchronous=FULL, set and asserted at
// opening; docs/decisions/0003 says why, docs/what-can-go-wrong.md what remains.
//
// Throws MachineFailure when the disk fails, DamagedBook when the file is not to be trusted. After
// a failed write the book closes itself; open it again once the machine is mended.

#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/result.h"
#include "room/entry.h"
#include "room/history.h"
#include "room/records.h"

namespace warmside::book {

/// The file is damaged: SQLite finds its pages or rows broken.
class DamagedBook : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// How hard a commit tries to reach the disk. Everything but `full` is there for the tests, which
/// show that the weaker settings lose entries in a power cut.
enum class Durability { off, normal, full };

struct OpenOptions {
  bool create = false;  // make the book if there is none
  std::string vfs;      // SQLite's file layer; empty: the system's
  Durability durability = Durability::full;
  Duration patience = Duration::seconds(5);  // how long to wait while another program writes
  int cache_kib = 32768;                     // the most that SQLite keeps of the file in memory
};

/// What append() did with an entry.
enum class Stored { now, before };

class Change;

class Book {
 public:
  /// Opens a book and brings it to the present form (numbered migrations, one transaction each).
  /// Problems: there is no file (missing), it is something else (not_a_book), a newer Warmside
  /// wrote it (too_new).
  static Result<Book> open(const std::string& path, const OpenOptions& options = {});
  Book(Book&&) noexcept;
  Book& operator=(Book&&) noexcept;
  ~Book();

  /// All records, each list in id order.
  room::Room room() const;

  /// What a day's work needs, from the entries before `until`. Cost depends on the number of
  /// things in the room and of entries asked for, not on the age of the book.
  room::History history(std::span<const room::Recall> recall, Instant until) const;

  /// The latest entries about one thing, newest first, struck ones too.
  std::vector<room::Entry> latest_about(const room::Subject& subject, int most) const;

  /// Every entry in the order of writing. Stops when `visit` returns false.
  void each_entry(const std::function<bool(const room::Entry&)>& visit) const;

  /// The entries as they were written, latest first, with their numbers and whether a later one
  /// strikes them: those about `subject`, if given, that have a number below `before`, if given.
  /// Stops when `visit` returns false.
  void each_entry_back(
      const std::optional<room::Subject>& subject, std::optional<std::int64_t> before,
      const std::function<bool(const room::Entry&, std::int64_t number, bool struck)>& visit) const;

  std::int64_t entry_count() const;
  std::optional<room::Entry> find_entry(const Uuid& id) const;
  /// Whether a later entry strikes this one.
  bool is_struck(const Uuid& id) const;

  /// A number that differs from what this Book said before when anyone else, another program too,
  /// has changed the book since. It says nothing of this Book's own changes, and nothing to others.
  /// Costs microseconds.
  std::int64_t others_version() const;

  /// Begins a change. One at a time.
  Change change();

  /// Writes a copy of the whole book to a new file, while others may go on reading and writing.
  /// A file that already holds something is a Problem.
  Result<std::string> back_up_to(const std::string& path) const;

  /// Everything that is wrong with the book, empty when it is sound: SQLite's own check, foreign
  /// keys, the records (room::check_room), every entry against its rule, and the notebook's chain.
  std::vector<std::string> verify() const;

 private:
  friend class Change;
  struct State;
  explicit Book(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

/// A change in the making. Dropped without commit(), it leaves no trace.
class Change {
 public:
  Change(Change&&) noexcept;
  Change& operator=(Change&&) = delete;
  ~Change();

  /// Puts the records into the book: new ones are added, those with a known id replaced. With
  /// `remove_others`, records that `room` does not have are taken out, and one that the notebook
  /// or another record speaks of is a Problem (conflict). `room` must have passed check_room.
  Problems put_room(const room::Room& room, bool remove_others = false);

  /// Adds an entry. An entry whose id is there with the same content counts as stored before;
  /// with other content it is a Problem (conflict). Names must be in the book. Entries that break
  /// their rule are Problems.
  Checked<Stored> append(const room::Entry& entry);

  /// Makes everything durable. On return it is on the disk. When it throws, the change is in the
  /// book whole or not at all; which, shows when the book is opened again. Appending the same
  /// entries once more is safe either way.
  void commit();

 private:
  friend class Book;
  explicit Change(Book::State& state);
  struct Work;
  std::unique_ptr<Work> work_;
};

}  // namespace warmside::book
