// The counting loop over the whole room book: fail the first write, look, fail the second, and so
// on until the work gets done without meeting the fault; once with one failure and once with all
// that follow failing too. The same for syncs, opens, reads, truncations and a full disk.
//
// Each time: a clear ending, never a crash; a book whose write failed refuses further use; every
// acknowledged entry is there afterwards, whether the power is cut at once or the keeper goes on.
#include <gtest/gtest.h>
#include <sqlite3.h>

#include <cstdio>
#include <cstdlib>
#include <set>
#include <sstream>

#include "book/files.h"
#include "book_fixture.h"

namespace warmside::fault {
namespace {

constexpr const char* kBook = "room.db";
constexpr const char* kCopy = "copy.db";
constexpr const char* kClosedWords = "the book was closed after a failed write";

book::OpenOptions options_on(const SimulatedDisk& disk) {
  book::OpenOptions options;
  options.create = true;
  options.vfs = disk.vfs_name();
  return options;
}

/// A day of a book's life: made, filled, written into, backed up, closed, opened, read.
class Day {
 public:
  Day(SimulatedDisk& disk, std::uint64_t seed) : disk_(disk), writer_(seed) {
    std::vector<room::Entry> entries;
    for (int i = 0; i < 12; ++i) entries.push_back(writer_.entry());
    for (const room::Entry& e : entries) lines_ += book::notebook_line(e, UnitSystem::metric);
    std::istringstream text(lines_);
    book::read_notebook_lines(
        text, "lines",
        [&](const room::Entry& e, const Where&) {
          imported_.push_back(e);
          return true;
        },
        [](const Problem&) { return false; });
  }

  /// Runs until a step ends badly. The book stays open as that step left it.
  Attempt run() {
    for (const auto& step :
         {&Day::open, &Day::import, &Day::jot_one, &Day::jot_one, &Day::jot_one, &Day::back_up,
          &Day::close, &Day::open, &Day::read, &Day::jot_one, &Day::jot_one, &Day::close}) {
      writing_ = step == &Day::import || step == &Day::jot_one;
      Attempt ended = attempt([&] { return (this->*step)(); });
      if (!ended.ok()) return ended;
    }
    return {};
  }

  std::string open() { return open_into(book_, kBook, options_on(disk_)); }
  std::string jot_one() { return jot(*book_, writer_.change(), ledger_, writer_); }
  std::string close() {
    book_.reset();
    return "";
  }

  std::optional<book::Book>& book() { return book_; }
  Ledger& ledger() { return ledger_; }
  /// Whether run() stopped while writing, and so the book should be closed for good.
  bool stopped_writing() const { return writing_; }
  bool imported() const { return !ledger_.written().empty(); }
  bool backed_up() const { return backed_up_; }

  std::string import() {
    book::Change change = book_->change();
    Problems problems = change.put_room(small_room());
    book::ImportReport report;
    std::istringstream in(lines_);
    book::import_notebook(change, in, "lines", report, problems);
    if (!problems.empty()) return to_line(problems.front());
    ledger_.begins(imported_);
    change.commit();
    ledger_.acknowledged();
    writer_.in_book(imported_);
    return "";
  }
  std::string back_up() {
    const auto copy = book_->back_up_to(kCopy);
    if (!copy) return to_line(copy.problem());
    backed_up_ = true;
    return "";
  }
  std::string read() {
    EXPECT_EQ(book_->room(), small_room());
    const auto until = Instant::unix_ms(2'000'000'000'000);
    const room::History history = book_->history(recall_everything(), until);
    EXPECT_GT(history.entries().size(), 0u);
    // A page that cannot be read is for verify() one more thing that is wrong.
    const auto wrong = book_->verify();
    if (!wrong.empty()) return wrong.front();
    std::string why;
    EXPECT_EQ(ledger_.judge(*book_, why), Verdict::whole) << why;
    return "";
  }

 private:
  SimulatedDisk& disk_;
  EntryWriter writer_;
  std::string lines_;
  std::vector<room::Entry> imported_;
  std::optional<book::Book> book_;
  Ledger ledger_;
  bool writing_ = false, backed_up_ = false;
};

struct Count {
  int struck = 0, unnoticed = 0, problems = 0, machine_failures = 0, damaged_books = 0;
  int refused = 0;         // books that were closed after a failed write
  int found_in_doubt = 0;  // changes that failed and yet are in the book
  std::set<std::string> words;
};

/// Afterwards: the keeper opens the book again. With `cut`, the power fails first; without, the
/// machine went on and the power fails after the next entries.
void expect_all_there(SimulatedDisk& disk, Day& day, bool cut, const std::string& said,
                      Count& count) {
  if (cut) disk.power_cut();
  ASSERT_EQ(day.close(), "");
  ASSERT_EQ(day.open(), "");
  std::string why;
  const std::int64_t in_doubt_before = day.ledger().found_in_doubt();
  ASSERT_EQ(day.ledger().judge(*day.book(), why), Verdict::whole) << why;
  if (day.ledger().found_in_doubt() > in_doubt_before) {
    ++count.found_in_doubt;
    EXPECT_EQ(said.find("nothing was changed"), std::string::npos) << said;
  }
  if (!day.imported()) {
    ASSERT_EQ(day.import(), "");
  }
  ASSERT_EQ(day.book()->verify(), std::vector<std::string>{});
  ASSERT_EQ(day.jot_one(), "");
  ASSERT_EQ(day.jot_one(), "");
  disk.power_cut();
  day.close();
  const Verdict verdict = look(kBook, options_on(disk), day.ledger(), why);
  ASSERT_EQ(verdict, Verdict::whole) << why;

  // The copy is whole if it was promised, and otherwise whole, absent or refused.
  book::OpenOptions only_open = options_on(disk);
  only_open.create = false;
  const Attempt copy = attempt([&] {
    std::optional<book::Book> opened;
    std::string problem = open_into(opened, kCopy, only_open);
    if (!problem.empty()) return problem;
    EXPECT_EQ(opened->verify(), std::vector<std::string>{});
    EXPECT_GE(entries_of(*opened).size(), 15u);
    return std::string();
  });
  if (day.backed_up()) {
    ASSERT_TRUE(copy.ok()) << copy.words;
  }
}

Count count_through(Fault fault, FailMode mode, bool forgets, bool cut) {
  Count count;
  for (std::uint64_t n = 1;; ++n) {
    SCOPED_TRACE("fault " + std::to_string(n));
    SimulatedDisk disk("counting", {.seed = n, .failed_sync_forgets = forgets});
    Day day(disk, n);
    disk.fail_nth(fault, n, mode);
    const Attempt ended = day.run();
    const bool hit = disk.fault_hit();
    switch (ended.ending) {
      case Ending::done:
        count.unnoticed += hit ? 1 : 0;
        break;
      case Ending::problem:
        ++count.problems;
        break;
      case Ending::machine_failure:
        ++count.machine_failures;
        break;
      case Ending::damaged_book:
        ++count.damaged_books;
        break;
    }
    if (!ended.ok()) {
      EXPECT_TRUE(hit) << ended.words;
      count.words.insert(ended.words);
    }
    if (!ended.ok() && day.stopped_writing() && fault != Fault::open) {
      // Even after the disk is well again this book stays closed, and says so.
      if (mode == FailMode::once) disk.clear_faults();
      for (const auto& use :
           {+[](book::Book& book) { book.change(); }, +[](book::Book& book) { book.entry_count(); },
            +[](book::Book& book) { book.verify(); }}) {
        const Attempt again = attempt([&] {
          use(*day.book());
          return std::string();
        });
        EXPECT_EQ(again.ending, Ending::machine_failure) << "after: " << ended.words;
        EXPECT_NE(again.words.find(kClosedWords), std::string::npos) << again.words;
      }
      ++count.refused;
    }
    if (!cut) day.close();  // while everything still fails
    disk.clear_faults();
    if (hit) ++count.struck;
    expect_all_there(disk, day, cut, ended.words, count);
    if (!hit || ::testing::Test::HasFatalFailure()) break;
  }
  return count;
}

void count_all_ways(const char* name, Fault fault, bool forgets = false) {
  for (const FailMode mode : {FailMode::once, FailMode::for_ever}) {
    for (const bool cut : {true, false}) {
      SCOPED_TRACE(std::string(name) + (mode == FailMode::once ? ", once" : ", for ever") +
                   (forgets ? ", forgets" : "") + (cut ? ", power cut" : ", goes on"));
      const Count count = count_through(fault, mode, forgets, cut);
      std::printf(
          "%-8s %-8s %-9s %-7s: %3d points struck: %3d machine failures, %d damaged, %d problems, "
          "%3d not noticed; %3d books closed themselves; %d failed changes yet there\n",
          name, mode == FailMode::once ? "once" : "for ever", cut ? "power cut" : "goes on",
          forgets ? "forgets" : "", count.struck, count.machine_failures, count.damaged_books,
          count.problems, count.unnoticed, count.refused, count.found_in_doubt);
      if (std::getenv("WARMSIDE_FAULT_WORDS") != nullptr) {
        for (const std::string& words : count.words) std::printf("    %s\n", words.c_str());
      }
      if (::testing::Test::HasFatalFailure()) return;
    }
  }
}

TEST(CountingLoop, Write) {
  count_all_ways("write", Fault::write);
}
TEST(CountingLoop, Sync) {
  count_all_ways("sync", Fault::sync);
}
TEST(CountingLoop, SyncThatForgets) {
  count_all_ways("sync", Fault::sync, true);
}
TEST(CountingLoop, Open) {
  count_all_ways("open", Fault::open);
}
TEST(CountingLoop, Read) {
  count_all_ways("read", Fault::read);
}
TEST(CountingLoop, Truncate) {
  count_all_ways("truncate", Fault::truncate);
}
TEST(CountingLoop, Remove) {
  count_all_ways("remove", Fault::remove);
}
TEST(CountingLoop, Full) {
  count_all_ways("full", Fault::full);
}

// Memory: SQLite may take no more than a limit, which rises from one round to the next until the
// work gets done.
TEST(CountingLoop, Memory) {
  constexpr std::int64_t kStep = 3001;
  int struck = 0, machine_failures = 0, others = 0, in_doubt = 0;
  std::set<std::string> words;
  bool done = false;
  for (std::int64_t n = 1; !done && !HasFatalFailure(); ++n) {
    SCOPED_TRACE("round " + std::to_string(n));
    SimulatedDisk disk("memory", {.seed = static_cast<std::uint64_t>(n)});
    Day day(disk, static_cast<std::uint64_t>(n));
    sqlite3_hard_heap_limit64(sqlite3_memory_used() + n * kStep);
    const Attempt ended = day.run();
    sqlite3_hard_heap_limit64(0);
    done = ended.ok();
    struck += done ? 0 : 1;
    ++(ended.ending == Ending::machine_failure ? machine_failures : others);
    words.insert(ended.words);
    Count count;
    // The same book may go on, if it is not closed: what is written then is whole.
    if (day.book()) {
      const Attempt more = attempt([&] {
        std::string why;
        if (day.ledger().judge(*day.book(), why) != Verdict::whole) ADD_FAILURE() << why;
        return day.imported() ? day.jot_one() : day.import();
      });
      EXPECT_TRUE(more.ok() || more.words.find(kClosedWords) != std::string::npos) << more.words;
    }
    expect_all_there(disk, day, n % 2 == 0, ended.words, count);
    in_doubt += count.found_in_doubt;
  }
  std::printf(
      "memory: %d points struck: %d machine failures, %d other endings; %d failed changes yet "
      "there\n",
      struck, machine_failures, others - 1, in_doubt);
  for (const std::string& line : words) {
    if (std::getenv("WARMSIDE_FAULT_WORDS") != nullptr) std::printf("    %s\n", line.c_str());
  }
  EXPECT_GT(struck, 20);
}

// A caller who does not give up a change when memory ran out in the middle of it: what append()
// took is there after commit(), or the change is refused as a whole.
TEST(CountingLoop, MemoryWithinOneChange) {
  int struck = 0, kept = 0, refused = 0;
  for (std::int64_t n = 0; n < 150; ++n) {
    SCOPED_TRACE("round " + std::to_string(n));
    SimulatedDisk disk("memory", {.seed = static_cast<std::uint64_t>(n + 1)});
    Day day(disk, static_cast<std::uint64_t>(n + 1));
    ASSERT_EQ(day.open(), "");
    ASSERT_EQ(day.import(), "");
    EntryWriter writer(1'000'000 + static_cast<std::uint64_t>(n));
    std::vector<room::Entry> taken;
    bool failed = false;
    const Attempt whole = attempt([&] {
      book::Change change = day.book()->change();
      for (int i = 0; i < 30; ++i) {
        if (i == 10) sqlite3_hard_heap_limit64(sqlite3_memory_used() + 1 + n * 97);
        if (i == 20) sqlite3_hard_heap_limit64(0);
        room::Entry e = writer.entry();
        const Attempt one = attempt([&] {
          if (change.append(e).ok()) taken.push_back(e);
          return std::string();
        });
        failed = failed || !one.ok();
      }
      day.ledger().begins(taken);
      change.commit();
      day.ledger().acknowledged();
      return std::string();
    });
    sqlite3_hard_heap_limit64(0);
    struck += failed ? 1 : 0;
    ++(whole.ok() ? kept : refused);
    day.close();
    std::string why;
    ASSERT_EQ(look(kBook, options_on(disk), day.ledger(), why), Verdict::whole) << why;
  }
  std::printf("memory within one change: %d struck; %d changes kept, %d refused\n", struck, kept,
              refused);
  EXPECT_GT(struck, 5);
}

}  // namespace
}  // namespace warmside::fault
