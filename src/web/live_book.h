#pragma once
// The book while the server runs: one thread writes, several read, and everybody can ask for the
// number of its latest change.
//
// Entries that arrive while a commit runs go into the next one together, so that many phones wait
// for two syncs of the disk at most, not for one each. What is called stored is durable.
//
// Throws as Book does (MachineFailure, DamagedBook). After a failed write the book is opened anew
// for the next.

#include <condition_variable>
#include <cstdint>
#include <deque>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "book/book.h"

namespace warmside::web {

/// What became of entries that were to be written.
struct Written {
  std::vector<Checked<book::Stored>> each;  // in their order
  std::int64_t change = 0;                  // of the book with them in it
  std::string failure;  // not empty: the machine failed and nothing of them counts as stored
};

class LiveBook {
 public:
  /// Problems: as Book::open. now: for the number of the first change.
  static Result<std::unique_ptr<LiveBook>> open(const std::string& path, Instant now);
  ~LiveBook();
  LiveBook(const LiveBook&) = delete;
  LiveBook& operator=(const LiveBook&) = delete;

  /// The number of the latest change, by whomever; it grows. It begins with the milliseconds since
  /// 1970 at opening, so that it grows over a restart as well. Costs microseconds.
  std::int64_t change();
  /// Is told the number after each change, from any thread; must be quick. Changes by other
  /// programs are noticed within half a second. To be set before anything is written.
  void on_change(std::function<void(std::int64_t)> told);

  /// step(const book::Book&), in the caller's thread.
  template <class Step>
  auto read(Step step) {
    Borrowed borrowed(*this);
    return step(borrowed.book());
  }

  /// Writes entries with others in one change. `done` is called from the writing thread.
  void write(std::vector<room::Entry> entries, std::function<void(Written)> done);
  /// Any other change, by itself: step(book) in the writing thread; `failed` is told what it threw.
  void alter(std::function<void(book::Book&)> step, std::function<void(const std::string&)> failed);

 private:
  struct Job {
    std::vector<room::Entry> entries;
    std::function<void(Written)> done;
    std::function<void(book::Book&)> step;  // set: this, not entries
    std::function<void(const std::string&)> failed;
  };

  /// A Book that nobody else uses meanwhile.
  class Borrowed {
   public:
    explicit Borrowed(LiveBook& from);
    ~Borrowed();
    Borrowed(const Borrowed&) = delete;
    Borrowed& operator=(const Borrowed&) = delete;
    const book::Book& book() const { return *book_; }

   private:
    LiveBook& from_;
    const int exceptions_;  // in flight when it was made
    std::optional<book::Book> book_;
  };

  LiveBook(std::string path, book::Book writer, book::Book watcher, std::int64_t first_change);
  book::Book open_again() const;
  book::Book& writer();
  void work();
  void write_together(std::vector<Job>& jobs);
  void watch();

  const std::string path_;
  std::function<void(std::int64_t)> told_;

  std::mutex change_mutex_;
  book::Book watcher_;
  std::int64_t seen_version_ = 0;
  std::int64_t change_ = 0;

  std::mutex readers_mutex_;
  std::vector<book::Book> readers_;  // those that nobody uses

  std::optional<book::Book> writer_;  // of the writing thread

  std::mutex mutex_;
  std::condition_variable wake_;
  std::deque<Job> jobs_;
  bool stopped_ = false;
  std::thread writing_, watching_;
};

}  // namespace warmside::web
