// The room book on the real file system: a full disk, a file-size limit, files and folders that
// may not be written, files that are no room books, two programs at once, entries sent twice.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sqlite3.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "book/files.h"
#include "book_fixture.h"

namespace warmside::fault {
namespace {

namespace fs = std::filesystem;
using ::testing::Test;

book::OpenOptions create_options() {
  book::OpenOptions options;
  options.create = true;
  return options;
}

void make_book(const std::string& path, std::uint64_t seed, int changes, Ledger& ledger) {
  EntryWriter writer(seed);
  std::optional<book::Book> book;
  ASSERT_EQ(open_into(book, path, create_options()), "");
  {
    book::Change change = book->change();
    ASSERT_TRUE(change.put_room(small_room()).empty());
    change.commit();
  }
  for (int n = 0; n < changes; ++n) ASSERT_EQ(jot(*book, writer.change(), ledger, writer), "");
}

void write_bytes(const std::string& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary) << bytes;
}

std::string bytes_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

bool contains(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

int sql(const std::string& path, const std::string& statements) {
  sqlite3* db = nullptr;
  sqlite3_open(path.c_str(), &db);
  const int code = sqlite3_exec(db, statements.c_str(), nullptr, nullptr, nullptr);
  sqlite3_close(db);
  return code;
}

/// Opens in a child that is jotting until it cannot, and says how many changes were acknowledged
/// (as a fixed-width number) and with which words it ended.
std::string jot_until_failure(const std::string& path, std::uint64_t seed) {
  EntryWriter writer(seed);
  Ledger ledger;
  const Attempt ended = attempt([&] {
    std::optional<book::Book> book;
    std::string problem = open_into(book, path, create_options());
    while (problem.empty()) {
      problem = jot(*book, writer.long_change(), ledger, writer);
    }
    return problem;
  });
  char number[16];
  std::snprintf(number, sizeof number, "%08lld ",
                static_cast<long long>(ledger.acknowledged_entries()));
  return number + ended.words;
}

/// The book has what was there before and at least what the child had acknowledged.
void expect_nothing_lost(const std::string& path, std::int64_t before, const std::string& said) {
  std::optional<book::Book> book;
  ASSERT_EQ(open_into(book, path, create_options()), "");
  EXPECT_EQ(book->verify(), std::vector<std::string>{});
  const std::int64_t acknowledged = std::stoll(said.substr(0, 8));
  EXPECT_GT(acknowledged, 0) << said;
  EXPECT_GE(book->entry_count(), before + acknowledged);
  EXPECT_LE(book->entry_count(), before + acknowledged + 4);
}

// --- No room ------------------------------------------------------------------------------------

TEST(FileSystem, AFileSizeLimitStopsTheBookAndLosesNothing) {
  const TemporaryFolder folder;
  const std::string path = folder.file("room.db");
  Ledger ledger;
  make_book(path, 1, 10, ledger);
  for (int round = 0; round < 5; ++round) {
    const std::int64_t before = [&] {
      std::optional<book::Book> book;
      open_into(book, path, create_options());
      return book->entry_count();
    }();
    Child child([&](const Child::Say& say) {
      ::signal(SIGXFSZ, SIG_IGN);
      const rlimit limit{1'000'000u + 300'000u * static_cast<unsigned>(round), RLIM_INFINITY};
      if (::setrlimit(RLIMIT_FSIZE, &limit) != 0) ::_exit(5);
      say(jot_until_failure(path, 10 + static_cast<std::uint64_t>(round)));
    });
    const ChildReport report = child.report();
    EXPECT_EQ(report.ended, "exit 0");
    EXPECT_TRUE(contains(report.said, "disk I/O error") || contains(report.said, "full"))
        << report.said;
    expect_nothing_lost(path, before, report.said);
    if (Test::HasFatalFailure()) return;
  }
}

TEST(FileSystem, AFileSizeLimitLeavesTheOldExportWhole) {
  const TemporaryFolder folder;
  const std::string path = folder.file("room.db");
  Ledger ledger;
  make_book(path, 2, 100, ledger);
  std::optional<book::Book> book;
  ASSERT_EQ(open_into(book, path, create_options()), "");
  book::export_book(*book, folder.file("out"));
  const std::string notebook = bytes_of(folder.file("out/notebook.jsonl"));
  const std::string room = bytes_of(folder.file("out/room.toml"));
  EXPECT_GT(notebook.size(), 10'000u);
  EntryWriter writer(22);
  ASSERT_EQ(jot(*book, writer.change(), ledger, writer), "");
  book.reset();
  for (const rlim_t most : {rlim_t{0}, rlim_t{100}, rlim_t{5000}, rlim_t{notebook.size()}}) {
    Child child([&](const Child::Say& say) {
      std::optional<book::Book> own;
      if (!open_into(own, path, create_options()).empty()) ::_exit(7);
      ::signal(SIGXFSZ, SIG_IGN);
      const rlimit limit{most, RLIM_INFINITY};
      if (::setrlimit(RLIMIT_FSIZE, &limit) != 0) ::_exit(5);
      say(attempt([&] {
            book::export_book(*own, folder.file("out"));
            return std::string();
          }).words);
    });
    const ChildReport report = child.report();
    EXPECT_EQ(report.ended, "exit 0");
    EXPECT_TRUE(contains(report.said, "nothing was changed")) << report.said;
    EXPECT_EQ(bytes_of(folder.file("out/notebook.jsonl")), notebook);
    EXPECT_EQ(bytes_of(folder.file("out/room.toml")), room);
    EXPECT_FALSE(fs::exists(folder.file("out/notebook.jsonl.part")));
  }
}

TEST(FileSystem, AFullDiskStopsTheBookAndLosesNothing) {
  const TemporaryFolder folder;
  const std::string disk = folder.file("disk");
  ASSERT_EQ(::mkdir(disk.c_str(), 0755), 0);
  if (::mount("tmpfs", disk.c_str(), "tmpfs", 0, "size=2M") != 0) {
    GTEST_SKIP() << "needs the right to mount a small tmpfs; RLIMIT_FSIZE is tested instead";
  }
  struct Unmount {
    std::string path;
    ~Unmount() { ::umount(path.c_str()); }
  } const unmount{disk};
  const std::string path = disk + "/room.db";
  Ledger ledger;
  make_book(path, 3, 10, ledger);
  const std::int64_t before = std::ssize(ledger.written());
  Child child([&](const Child::Say& say) { say(jot_until_failure(path, 30)); });
  const ChildReport report = child.report();
  EXPECT_EQ(report.ended, "exit 0");
  EXPECT_TRUE(contains(report.said, "the disk is full")) << report.said;
  // Still full: a clear word on opening or writing, or it works; then with room again all is there.
  write_bytes(disk + "/filler", std::string(2'000'000, 'x'));
  Child second([&](const Child::Say& say) { say(jot_until_failure(path, 31)); });
  const ChildReport full = second.report();
  EXPECT_EQ(full.ended, "exit 0") << full.said;
  EXPECT_EQ(full.said.substr(0, 8), "00000000") << full.said;
  EXPECT_GT(full.said.size(), 20u) << full.said;
  std::printf("full disk: \"%s\", then \"%s\"\n", report.said.c_str(), full.said.c_str());
  fs::remove(disk + "/filler");
  ASSERT_EQ(::mount("tmpfs", disk.c_str(), "tmpfs", MS_REMOUNT, "size=8M"), 0);
  expect_nothing_lost(path, before, report.said);
}

// --- No permission ------------------------------------------------------------------------------

/// Runs `work` as nobody. Skips when we may not become nobody and are root all the same.
ChildReport as_nobody(const std::function<void(const Child::Say&)>& work) {
  Child child([&](const Child::Say& say) {
    if (::geteuid() == 0 && (::setgid(65534) != 0 || ::setuid(65534) != 0)) ::_exit(77);
    work(say);
  });
  return child.report();
}

std::string read_then_write(const std::string& path, const book::OpenOptions& options) {
  std::optional<book::Book> book;
  std::string said;
  const Attempt opening = attempt([&] { return open_into(book, path, options); });
  if (!opening.ok()) return "open: " + opening.words;
  const Attempt reading = attempt([&] {
    said = "read " + std::to_string(entries_of(*book).size()) + " entries; ";
    return std::string();
  });
  if (!reading.ok()) return "read: " + reading.words;
  EntryWriter writer(99);
  Ledger ledger;
  const Attempt writing = attempt([&] { return jot(*book, writer.change(), ledger, writer); });
  return said + "write: " + (writing.ok() ? "done" : writing.words);
}

struct PermissionCase {
  const char* name;
  mode_t file, folder;
  const char* expected[2];  // one of these is in the words
};

TEST(FileSystem, WithoutPermissionTheBookSaysSo) {
  constexpr PermissionCase kCases[] = {
      {"file to read only", 0444, 0777, {"no permission to write", "no permission to write"}},
      {"folder and file to read only", 0444, 0555, {"no permission", "unable to open"}},
      {"file not to be read", 0000, 0777, {"no permission", "unable to open"}},
      {"folder not to be entered", 0644, 0700, {"no permission", "unable to open"}},
  };
  for (const PermissionCase& c : kCases) {
    for (const bool create : {false, true}) {
      SCOPED_TRACE(std::string(c.name) + (create ? ", create" : ""));
      const TemporaryFolder folder;
      const std::string path = folder.file("room.db");
      Ledger ledger;
      make_book(path, 4, 5, ledger);
      ASSERT_EQ(::chmod(path.c_str(), c.file), 0);
      ASSERT_EQ(::chmod(folder.path().c_str(), c.folder), 0);
      book::OpenOptions options;
      options.create = create;
      const ChildReport report =
          as_nobody([&](const Child::Say& say) { say(read_then_write(path, options)); });
      if (report.ended == "exit 77") GTEST_SKIP() << "cannot become nobody";
      EXPECT_EQ(report.ended, "exit 0") << report.said;
      EXPECT_TRUE(contains(report.said, c.expected[0]) || contains(report.said, c.expected[1]))
          << report.said;
      std::printf("%s%s: %s\n", c.name, create ? ", create" : "",
                  report.said.substr(0, 160).c_str());
      ::chmod(folder.path().c_str(), 0777);
      ::chmod(path.c_str(), 0644);
      std::string why;
      EXPECT_EQ(look(path, create_options(), ledger, why), Verdict::whole) << why;
    }
  }
}

TEST(FileSystem, ABookInAnotherJournalModeThatIsReadOnlyIsNoCrash) {
  const TemporaryFolder folder;
  const std::string path = folder.file("room.db");
  Ledger ledger;
  make_book(path, 5, 5, ledger);
  ASSERT_EQ(sql(path, "PRAGMA journal_mode = DELETE"), SQLITE_OK);
  ASSERT_EQ(::chmod(path.c_str(), 0444), 0);
  for (const mode_t mode : {mode_t{0777}, mode_t{0555}}) {
    ASSERT_EQ(::chmod(folder.path().c_str(), mode), 0);
    const ChildReport report =
        as_nobody([&](const Child::Say& say) { say(read_then_write(path, {})); });
    if (report.ended == "exit 77") GTEST_SKIP() << "cannot become nobody";
    EXPECT_EQ(report.ended, "exit 0") << report.said;
    EXPECT_TRUE(contains(report.said, "permission")) << report.said;
    std::printf("rollback mode, folder %o: %s\n", mode, report.said.substr(0, 160).c_str());
  }
}

TEST(FileSystem, AFileSystemWithoutAWriteAheadLogIsRefused) {
  // SQLite's "unix-dotfile" layer has no shared memory, as on some network folders. It was a crash.
  const TemporaryFolder folder;
  book::OpenOptions options = create_options();
  options.vfs = "unix-dotfile";
  const Attempt opening = attempt([&] {
    std::optional<book::Book> book;
    return open_into(book, folder.file("room.db"), options);
  });
  EXPECT_EQ(opening.ending, Ending::machine_failure);
  EXPECT_TRUE(contains(opening.words, "cannot keep a write-ahead log")) << opening.words;
}

// --- Files that are no room books ---------------------------------------------------------------

TEST(FileSystem, ForeignFilesAreRefusedAndLeftAlone) {
  const TemporaryFolder folder;
  const auto refused = [&](const std::string& path, bool create, ProblemCode code) {
    SCOPED_TRACE(path + (create ? ", create" : ""));
    const std::string before = fs::is_directory(path) ? "" : bytes_of(path);
    book::OpenOptions options;
    options.create = create;
    const auto opened = book::Book::open(path, options);
    ASSERT_FALSE(opened.ok());
    EXPECT_EQ(opened.problem().code, code) << to_line(opened.problem());
    if (!fs::is_directory(path)) {
      EXPECT_EQ(bytes_of(path), before);
    }
    EXPECT_FALSE(fs::exists(path + "-wal"));
  };
  const std::string foreign = folder.file("foreign.db");
  ASSERT_EQ(sql(foreign, "CREATE TABLE song (name TEXT); INSERT INTO song VALUES ('x')"),
            SQLITE_OK);
  const std::string numbered = folder.file("numbered.db");
  ASSERT_EQ(sql(numbered, "PRAGMA user_version = 1; CREATE TABLE entry (x)"), SQLITE_OK);
  const std::string text = folder.file("notes.txt");
  write_bytes(text, "Feed the snakes.\n");
  const std::string long_text = folder.file("long.txt");
  write_bytes(long_text, std::string(20'000, 'n'));
  const std::string picture = folder.file("picture.jpg");
  write_bytes(picture, std::string("\xff\xd8\xff\xe0\x00\x10JFIF", 10) + std::string(9000, '\x7f'));
  const std::string header = folder.file("header.db");
  write_bytes(header, std::string("SQLite format 3\0", 16) + std::string(4080, '\x01'));
  for (const bool create : {false, true}) {
    for (const std::string& path : {foreign, numbered, text, long_text, picture, header}) {
      refused(path, create, ProblemCode::not_a_book);
    }
  }
  const std::string empty = folder.file("empty.db");
  write_bytes(empty, "");
  refused(empty, false, ProblemCode::not_a_book);
  refused(folder.path(), false, ProblemCode::missing);
  refused(folder.file("nothing.db"), false, ProblemCode::missing);
  EXPECT_FALSE(fs::exists(folder.file("nothing.db")));
  // With leave to create, a folder is a failure of the machine's, not a Problem.
  EXPECT_EQ(attempt([&] {
              std::optional<book::Book> book;
              return open_into(book, folder.path(), create_options());
            }).ending,
            Ending::machine_failure);

  const std::string newer = folder.file("newer.db");
  Ledger ledger;
  make_book(newer, 6, 3, ledger);
  ASSERT_EQ(sql(newer, "PRAGMA user_version = 99"), SQLITE_OK);
  refused(newer, false, ProblemCode::too_new);
  refused(newer, true, ProblemCode::too_new);
}

TEST(FileSystem, ABackupNeverOverwritesAFile) {
  const TemporaryFolder folder;
  const std::string path = folder.file("room.db");
  Ledger ledger;
  make_book(path, 7, 5, ledger);
  std::optional<book::Book> book;
  ASSERT_EQ(open_into(book, path, create_options()), "");
  const std::string text = folder.file("notes.txt");
  write_bytes(text, "Feed the snakes.\n");
  const std::string foreign = folder.file("foreign.db");
  ASSERT_EQ(sql(foreign, "CREATE TABLE song (name TEXT)"), SQLITE_OK);
  ASSERT_TRUE(book->back_up_to(folder.file("copy.db")).ok());
  for (const std::string& taken : {text, foreign, folder.file("copy.db"), path}) {
    const std::string before = bytes_of(taken);
    const auto copy = book->back_up_to(taken);
    ASSERT_FALSE(copy.ok()) << taken;
    EXPECT_EQ(copy.problem().code, ProblemCode::conflict);
    EXPECT_EQ(copy.problem().where.file, taken);
    EXPECT_EQ(bytes_of(taken), before);
  }
  for (const std::string& nowhere : {folder.path(), folder.file("no/folder/copy.db")}) {
    const Attempt copy = attempt([&] {
      const auto done = book->back_up_to(nowhere);
      return done ? std::string() : to_line(done.problem());
    });
    EXPECT_EQ(copy.ending, Ending::machine_failure);
    EXPECT_TRUE(contains(copy.words, nowhere)) << copy.words;  // the copy is at fault, not the book
  }
  book.reset();
  std::string why;
  EXPECT_EQ(look(path, create_options(), ledger, why), Verdict::whole) << why;
  EXPECT_EQ(look(folder.file("copy.db"), create_options(), ledger, why), Verdict::whole) << why;
}

// --- Two programs -------------------------------------------------------------------------------

TEST(TwoPrograms, BothWriteAndNothingIsLost) {
  const TemporaryFolder folder;
  const std::string path = folder.file("room.db");
  Ledger ledger;
  make_book(path, 8, 3, ledger);
  constexpr int kEntries = 200;
  const auto work = [&](std::uint64_t seed) {
    return [&path, seed](const Child::Say& say) {
      EntryWriter writer(seed);
      Ledger own;
      std::optional<book::Book> book;
      std::string problem = open_into(book, path, {});
      for (int n = 0; n < kEntries && problem.empty(); ++n) {
        problem = jot(*book, {writer.entry()}, own, writer);
      }
      say(problem);
    };
  };
  Child first(work(801)), second(work(802));
  for (Child* child : {&first, &second}) {
    const ChildReport report = child->report();
    EXPECT_EQ(report.ended, "exit 0");
    EXPECT_EQ(report.said, "");
  }
  std::optional<book::Book> book;
  ASSERT_EQ(open_into(book, path, {}), "");
  EXPECT_EQ(book->verify(), std::vector<std::string>{});
  EXPECT_EQ(book->entry_count(), std::ssize(ledger.written()) + 2 * kEntries);
  // Each program's entries are all there, equal and in its own order.
  const auto all = entries_of(*book);
  for (const std::uint64_t seed : {801u, 802u}) {
    EntryWriter writer(seed);
    auto at = all.begin();
    for (int n = 0; n < kEntries; ++n) {
      at = std::find(at, all.end(), writer.entry());
      ASSERT_NE(at, all.end()) << "seed " << seed << ", entry " << n;
    }
  }
}

TEST(TwoPrograms, BothMakeTheBookAtOnce) {
  // Either may be told that the other is at work; nobody is told that the file is no room book.
  int waited = 0;
  for (int round = 0; round < 100; ++round) {
    const TemporaryFolder folder;
    const std::string path = folder.file("room.db");
    // All begin at one moment, to meet in the first microseconds of the file's life.
    const auto start = std::chrono::steady_clock::now() + std::chrono::milliseconds(4);
    const auto work = [&](const Child::Say& say) {
      while (std::chrono::steady_clock::now() < start) {
      }
      const Attempt ended = attempt([&] {
        std::optional<book::Book> book;
        return open_into(book, path, create_options());
      });
      say(std::to_string(static_cast<int>(ended.ending)) + ended.words);
    };
    Child first(work), second(work), third(work);
    int made = 0;
    for (Child* child : {&first, &second, &third}) {
      const ChildReport report = child->report();
      EXPECT_EQ(report.ended, "exit 0") << report.said;
      if (report.said == "0") {
        ++made;
      } else {
        ++waited;
        EXPECT_TRUE(contains(report.said, "another program is writing")) << report.said;
      }
    }
    EXPECT_GE(made, 1);
    std::optional<book::Book> book;
    ASSERT_EQ(open_into(book, path, {}), "");
    EXPECT_EQ(book->entry_count(), 0);
  }
  std::printf("three make one book, 100 times: %d of 300 were told to try again\n", waited);
}

TEST(TwoPrograms, AChangeHeldTooLongIsAClearMessage) {
  const TemporaryFolder folder;
  const std::string path = folder.file("room.db");
  Ledger ledger;
  make_book(path, 9, 3, ledger);
  const std::size_t before = ledger.written().size();
  // The child opens first: no connection of SQLite's may be carried into a forked child.
  Child child([&](const Child::Say& say) {
    EntryWriter writer(902);
    std::optional<book::Book> book;
    std::string words = open_into(book, path, {});
    book::Change change = book->change();
    words += change.append(writer.entry()).ok() ? "" : "not appended";
    say("holding" + words);
    ::usleep(800'000);
    change.commit();
    say("; committed");
  });
  ASSERT_TRUE(child.hear(7));
  EntryWriter writer(901);
  book::OpenOptions options;
  options.patience = Duration::seconds(0.2);
  std::optional<book::Book> book;
  ASSERT_EQ(open_into(book, path, options), "");
  const Attempt hasty = attempt([&] { return jot(*book, {writer.entry()}, ledger, writer); });
  EXPECT_EQ(hasty.ending, Ending::machine_failure);
  EXPECT_TRUE(contains(hasty.words,
                       "another program is writing to the book; nothing was changed, try again"))
      << hasty.words;
  // Reading goes on meanwhile, and does not see the other's change.
  EXPECT_EQ(entries_of(*book).size(), before);
  // With more patience the entry is written after the other's.
  options.patience = Duration::seconds(10);
  std::optional<book::Book> patient;
  ASSERT_EQ(open_into(patient, path, options), "");
  ASSERT_EQ(jot(*patient, {writer.entry()}, ledger, writer), "");
  const ChildReport report = child.report();
  EXPECT_EQ(report.ended + ", " + report.said, "exit 0, holding; committed");
  // The hasty book was not harmed either.
  ASSERT_EQ(jot(*book, {writer.entry()}, ledger, writer), "");
  EXPECT_EQ(book->entry_count(), std::ssize(ledger.written()) + 1);
  EXPECT_EQ(book->verify(), std::vector<std::string>{});
}

// --- The same entries twice ---------------------------------------------------------------------

TEST(Duplicates, AnyMixtureOfResentBatchesGivesOneNotebook) {
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    SimulatedDisk disk("duplicates", {.seed = seed});
    book::OpenOptions options = create_options();
    options.vfs = disk.vfs_name();
    std::optional<book::Book> book;
    ASSERT_EQ(open_into(book, "room.db", options), "");
    {
      book::Change change = book->change();
      ASSERT_TRUE(change.put_room(small_room()).empty());
      change.commit();
    }
    // Two phones with ten batches each. A phone sends its batch until it is told "stored"; the
    // answer may be lost, the batch cut in half, and an old batch may arrive once more, late.
    std::mt19937_64 random(seed);
    EntryWriter writers[2] = {EntryWriter(2 * seed), EntryWriter(2 * seed + 1)};
    std::vector<std::vector<room::Entry>> batches[2];
    std::size_t next[2] = {0, 0};
    std::vector<room::Entry> all;
    for (int phone = 0; phone < 2; ++phone) {
      for (int n = 0; n < 10; ++n) {
        batches[phone].push_back(writers[phone].change());
        all.insert(all.end(), batches[phone].back().begin(), batches[phone].back().end());
      }
    }
    std::int64_t now = 0, before = 0;
    const auto send = [&](const std::vector<room::Entry>& batch, std::size_t most) {
      book::Change change = book->change();
      for (std::size_t i = 0; i < std::min(most, batch.size()); ++i) {
        const auto stored = change.append(batch[i]);
        ASSERT_TRUE(stored.ok());
        ++(*stored == book::Stored::now ? now : before);
      }
      change.commit();
    };
    while (next[0] < 10 || next[1] < 10) {
      const std::size_t phone = draw(random, 0, 1);
      if (next[phone] == 10) continue;
      const auto& batch = batches[phone][next[phone]];
      switch (draw(random, 0, 4)) {
        case 0:  // half a batch, then the connection is gone
          send(batch, 1);
          break;
        case 1:  // stored, but the answer is lost: sent again later
          send(batch, batch.size());
          break;
        case 2:  // an older batch once more
          send(batches[phone][draw(random, 0, next[phone])], 100);
          break;
        case 3:  // the power fails and comes back
          disk.power_cut();
          book.reset();
          ASSERT_EQ(open_into(book, "room.db", options), "");
          break;
        default:
          send(batch, batch.size());
          ++next[phone];
      }
    }
    EXPECT_EQ(now, std::ssize(all));
    EXPECT_GT(before, 0);
    EXPECT_EQ(book->entry_count(), std::ssize(all));
    EXPECT_EQ(book->verify(), std::vector<std::string>{});
    for (const room::Entry& e : all) EXPECT_EQ(book->find_entry(e.id), e);
    // The same id with other content is refused, and what is there stays.
    room::Entry other = all.front();
    other.note += "!";
    {
      book::Change change = book->change();
      const auto stored = change.append(other);
      ASSERT_FALSE(stored.ok());
      EXPECT_EQ(stored.problem().front().code, ProblemCode::conflict);
    }
    EXPECT_EQ(book->find_entry(other.id), all.front());
  }
}

TEST(Duplicates, ANotebookImportsIntoARoomThatIsThereAlready) {
  // "cannot start a transaction within a transaction": the room was read while the change was open.
  const TemporaryFolder folder;
  Ledger ledger;
  make_book(folder.file("room.db"), 11, 20, ledger);
  std::optional<book::Book> book;
  ASSERT_EQ(open_into(book, folder.file("room.db"), {}), "");
  book::export_book(*book, folder.file("out"));
  for (int n = 0; n < 2; ++n) {
    const auto report = book::import_files(*book, {folder.file("out/notebook.jsonl")});
    ASSERT_TRUE(report.ok()) << to_line(report.problem().front());
    EXPECT_EQ(report->entries_added, 0);
    EXPECT_EQ(report->entries_before, std::ssize(ledger.written()));
  }
}

TEST(Duplicates, AReadErrorInTheMiddleOfANotebookIsNoEndOfIt) {
  // A stream that breaks after two lines: what was read must not pass for the whole.
  class Broken : public std::streambuf {
   public:
    explicit Broken(std::string text) : text_(std::move(text)) {
      setg(text_.data(), text_.data(), text_.data() + text_.size());
    }

   protected:
    int_type underflow() override { throw std::runtime_error("the disk"); }

   private:
    std::string text_;
  };
  EntryWriter writer(12);
  std::string lines;
  for (int n = 0; n < 2; ++n) lines += book::notebook_line(writer.entry(), UnitSystem::metric);
  Broken buffer(lines);
  std::istream in(&buffer);
  const Attempt reading = attempt([&] {
    book::read_notebook_lines(
        in, "lines", [](const room::Entry&, const Where&) { return true; },
        [](const Problem&) { return true; });
    return std::string();
  });
  EXPECT_EQ(reading.ending, Ending::machine_failure);
}

}  // namespace
}  // namespace warmside::fault
