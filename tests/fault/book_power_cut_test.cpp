// Power cuts under the whole room book: 1,000 in the default run, spread over jotting, importing,
// making the book, backing it up and checkpointing, each with a chance of a second cut while the
// book recovers. Every acknowledged entry must be there afterwards, no change half.
//
// The controls at the end run the same jotting with weaker durability. They must lose entries; if
// they do not, the other tests prove nothing.
#include <gtest/gtest.h>
#include <sqlite3.h>

#include <cstdio>
#include <sstream>

#include "book/files.h"
#include "book_fixture.h"
#include "demo/demo_room.h"

namespace warmside::fault {
namespace {

constexpr const char* kBook = "room.db";
constexpr const char* kCopy = "copy.db";

struct Tally {
  int cuts = 0, second_cuts = 0;
  int bad[5] = {};  // by Verdict
  std::int64_t changes = 0, entries = 0, found_in_doubt = 0, lost = 0;
  std::string first_bad;

  void count(const Ledger& ledger) {
    changes += ledger.acknowledged_changes();
    entries += ledger.acknowledged_entries();
    found_in_doubt += ledger.found_in_doubt();
    lost += ledger.lost_entries();
  }
  void judged(Verdict verdict, const std::string& why, std::uint64_t seed) {
    ++bad[static_cast<int>(verdict)];
    if (verdict != Verdict::whole && first_bad.empty()) {
      first_bad = std::string(name_of(verdict)) + ": " + why + " (seed " + std::to_string(seed) +
                  ", cut " + std::to_string(cuts) + ")";
    }
  }
  int of(Verdict verdict) const { return bad[static_cast<int>(verdict)]; }
  void print(const char* what) const {
    std::printf(
        "%-22s %5d cuts +%4d second, acknowledged %6lld changes %7lld entries, in doubt yet there "
        "%4lld; lost %lld entries, half %d, altered %d, damaged %d\n",
        what, cuts, second_cuts, static_cast<long long>(changes), static_cast<long long>(entries),
        static_cast<long long>(found_in_doubt), static_cast<long long>(lost), of(Verdict::half),
        of(Verdict::altered), of(Verdict::damaged));
  }
  void expect_sound() const {
    EXPECT_EQ(first_bad, "");
    EXPECT_EQ(lost, 0);
    for (const Verdict v : {Verdict::half, Verdict::lost, Verdict::altered, Verdict::damaged}) {
      EXPECT_EQ(of(v), 0) << name_of(v);
    }
    EXPECT_GT(of(Verdict::whole), 0);
  }
};

book::OpenOptions options_on(const SimulatedDisk& disk,
                             book::Durability durability = book::Durability::full) {
  book::OpenOptions options;
  options.create = true;
  options.vfs = disk.vfs_name();
  options.durability = durability;
  return options;
}

/// Makes the book with the small room, acknowledged and with full durability.
void make_book(const SimulatedDisk& disk) {
  std::optional<book::Book> book;
  ASSERT_EQ(open_into(book, kBook, options_on(disk)), "");
  book::Change change = book->change();
  ASSERT_TRUE(change.put_room(small_room()).empty());
  change.commit();
}

/// Opens the book and jots until the power is gone, or for `most` changes.
Attempt jot_until_dark(const SimulatedDisk& disk, const book::OpenOptions& options, Ledger& ledger,
                       EntryWriter& writer, int most, bool long_notes = false) {
  return attempt([&] {
    std::optional<book::Book> book;
    std::string problem = open_into(book, kBook, options);
    for (int n = 0; n < most && problem.empty() && disk.powered(); ++n) {
      problem = jot(*book, long_notes ? writer.long_change() : writer.change(), ledger, writer);
    }
    return problem;
  });
}

/// After a cut: power again, in half of the cases only to fail once more while the book is opened
/// and the next entries are jotted. Then everything is looked at.
Verdict recover(SimulatedDisk& disk, Ledger& ledger, EntryWriter& writer, Tally& tally,
                std::uint64_t seed) {
  disk.reboot();
  std::string why;
  if (draw(writer.random(), 0, 1) == 0) {
    disk.cut_after(draw(writer.random(), 1, 60));
    // The first look decides what became of the change in doubt, before there is another.
    const Verdict first = look(kBook, options_on(disk), ledger, why);
    if (disk.powered()) {
      if (first != Verdict::whole) {
        tally.judged(first, why, seed);
        return first;
      }
      jot_until_dark(disk, options_on(disk), ledger, writer, 20);
    }
    if (!disk.powered()) ++tally.second_cuts;
    disk.power_cut();
  }
  const Verdict verdict = look(kBook, options_on(disk), ledger, why);
  tally.judged(verdict, why, seed);
  return verdict;
}

Tally cut_while_jotting(book::Durability durability, int cuts, std::uint64_t seed) {
  Tally tally;
  constexpr int kCutsOfOneDisk = 10;
  while (tally.cuts < cuts) {
    ++seed;
    SimulatedDisk disk("jotting", {.seed = seed});
    EntryWriter writer(seed);
    Ledger ledger;
    make_book(disk);
    for (int n = 0; n < kCutsOfOneDisk && tally.cuts < cuts; ++n) {
      disk.cut_after(draw(writer.random(), 1, 500));
      jot_until_dark(disk, options_on(disk, durability), ledger, writer, 1000);
      EXPECT_FALSE(disk.powered());
      ++tally.cuts;
      if (recover(disk, ledger, writer, tally, seed) != Verdict::whole) break;
    }
    tally.count(ledger);
  }
  return tally;
}

TEST(PowerCut, JottingLosesNothing) {
  const Tally tally = cut_while_jotting(book::Durability::full, 400 * run_factor(), 1000);
  tally.print("jotting");
  tally.expect_sound();
  EXPECT_GT(tally.changes, 5'000);
}

TEST(PowerCutControl, WithNormalDurabilityAcknowledgedEntriesAreLost) {
  const Tally tally = cut_while_jotting(book::Durability::normal, 100, 2000);
  tally.print("control, normal");
  EXPECT_GT(tally.of(Verdict::lost), 0);
  EXPECT_GT(tally.lost, 0);
}

TEST(PowerCutControl, WithDurabilityOffTheBookIsDamagedOrEntriesAreLost) {
  const Tally tally = cut_while_jotting(book::Durability::off, 100, 3000);
  tally.print("control, off");
  EXPECT_GT(tally.of(Verdict::lost) + tally.of(Verdict::damaged), 0);
}

// --- Import -------------------------------------------------------------------------------------

TEST(PowerCut, AnImportIsWholeOrAbsent) {
  const demo::DemoBook demo = demo::make_demo_room();
  constexpr std::size_t kLines = 400;
  std::string lines;
  for (std::size_t i = 0; i < kLines; ++i) {
    lines += book::notebook_line(demo.entries[i], demo.room.info.units);
  }
  std::vector<room::Entry> entries;  // as the text has them
  std::istringstream text(lines);
  book::read_notebook_lines(
      text, "lines",
      [&](const room::Entry& e, const Where&) {
        entries.push_back(e);
        return true;
      },
      [](const Problem& p) {
        ADD_FAILURE() << to_line(p);
        return false;
      });
  ASSERT_EQ(entries.size(), kLines);

  const auto import = [&](const SimulatedDisk& disk, Ledger* ledger, book::ImportReport& report) {
    return attempt([&] {
      std::optional<book::Book> book;
      std::string problem = open_into(book, kBook, options_on(disk));
      if (!problem.empty()) return problem;
      book::Change change = book->change();
      Problems problems = change.put_room(demo.room);
      std::istringstream in(lines);
      book::import_notebook(change, in, "lines", report, problems);
      if (!problems.empty()) return to_line(problems.front());
      if (ledger != nullptr) ledger->begins(entries);
      change.commit();
      if (ledger != nullptr) ledger->acknowledged();
      return std::string();
    });
  };
  std::uint64_t total = 0;
  {
    SimulatedDisk disk("import", {.seed = 1});
    book::ImportReport report;
    ASSERT_TRUE(import(disk, nullptr, report).ok());
    total = disk.operations();
  }
  Tally tally;
  const int cuts = 150 * run_factor();
  for (std::uint64_t seed = 4000; tally.cuts < cuts; ++seed) {
    SimulatedDisk disk("import", {.seed = seed});
    std::mt19937_64 random(seed);
    Ledger ledger;
    book::ImportReport report;
    disk.cut_after(draw(random, 1, total));
    import(disk, &ledger, report);
    if (disk.powered()) continue;
    ++tally.cuts;
    disk.reboot();
    const bool second = draw(random, 0, 1) == 0;
    if (second) {
      disk.cut_after(draw(random, 1, 60));
      std::optional<book::Book> book;
      attempt([&] { return open_into(book, kBook, options_on(disk)); });
      book.reset();
      if (!disk.powered()) ++tally.second_cuts;
      disk.power_cut();
    }
    std::string why;
    std::optional<book::Book> book;
    ASSERT_EQ(open_into(book, kBook, options_on(disk)), "") << "seed " << seed;
    const Verdict verdict = ledger.judge(*book, why);
    tally.judged(verdict, why, seed);
    // Records and entries came in one change: both or neither.
    EXPECT_EQ(book->room(), ledger.written().empty() ? room::Room{} : demo.room) << "seed " << seed;
    if (!ledger.written().empty()) {
      EXPECT_EQ(book->verify(), std::vector<std::string>{});
    }
    book.reset();
    // The keeper tries again: whatever the cut left, all is there once.
    const bool was_there = !ledger.written().empty();
    report = {};
    ASSERT_TRUE(import(disk, was_there ? nullptr : &ledger, report).ok()) << "seed " << seed;
    EXPECT_EQ(report.entries_before, was_there ? static_cast<std::int64_t>(kLines) : 0);
    disk.power_cut();
    tally.judged(look(kBook, options_on(disk), ledger, why), why, seed);
    tally.count(ledger);
  }
  tally.print("import");
  tally.expect_sound();
}

// --- Making the book: the migration from nothing ------------------------------------------------

TEST(PowerCut, ABookHalfMadeIsMadeAnew) {
  std::uint64_t total = 0;
  {
    SimulatedDisk disk("making", {.seed = 1});
    make_book(disk);
    total = disk.operations();
  }
  Tally tally;
  int unmade = 0;
  const int cuts = 150 * run_factor();
  for (std::uint64_t seed = 5000; tally.cuts < cuts; ++seed) {
    SimulatedDisk disk("making", {.seed = seed});
    EntryWriter writer(seed);
    Ledger ledger;
    bool made = false;
    // Every operation in turn, from the first.
    disk.cut_after((seed - 5000) % total + 1);
    attempt([&] {
      std::optional<book::Book> book;
      std::string problem = open_into(book, kBook, options_on(disk));
      if (problem.empty()) {
        book::Change change = book->change();
        change.put_room(small_room());
        change.commit();
        made = true;
      }
      return problem;
    });
    if (disk.powered()) disk.power_cut();
    ++tally.cuts;
    disk.reboot();
    if (draw(writer.random(), 0, 1) == 0) {
      disk.cut_after(draw(writer.random(), 1, total));
      std::optional<book::Book> book;
      attempt([&] { return open_into(book, kBook, options_on(disk)); });
      book.reset();
      if (!disk.powered()) ++tally.second_cuts;
      disk.power_cut();
    }
    // Without leave to create it is a book, or a clear answer; never a crash or a wrong word.
    book::OpenOptions only_open = options_on(disk);
    only_open.create = false;
    std::optional<book::Book> book;
    auto opened = book::Book::open(kBook, only_open);
    if (!opened) {
      ++unmade;
      EXPECT_FALSE(made) << "seed " << seed;
      EXPECT_TRUE(opened.problem().code == ProblemCode::missing ||
                  opened.problem().what == "the file is empty, not a room book")
          << to_line(opened.problem()) << ", seed " << seed;
    } else {
      EXPECT_TRUE(!made || opened->room() == small_room()) << "seed " << seed;
    }
    opened = Problem{};
    ASSERT_EQ(open_into(book, kBook, options_on(disk)), "") << "seed " << seed;
    if (!made) {
      book::Change change = book->change();
      ASSERT_TRUE(change.put_room(small_room()).empty());
      change.commit();
    }
    ASSERT_EQ(jot(*book, writer.change(), ledger, writer), "");
    disk.power_cut();
    book.reset();
    std::string why;
    tally.judged(look(kBook, options_on(disk), ledger, why), why, seed);
    tally.count(ledger);
  }
  tally.print("making the book");
  std::printf("%-22s %5d were not yet books\n", "", unmade);
  tally.expect_sound();
  EXPECT_GT(unmade, 0);
}

// --- Backup -------------------------------------------------------------------------------------

TEST(PowerCut, ABackupIsWholeOrUnusableNeverWrong) {
  Tally tally;
  int whole = 0, unusable = 0;
  const int cuts = 150 * run_factor();
  for (std::uint64_t seed = 6000; tally.cuts < cuts; ++seed) {
    SimulatedDisk disk("backup", {.seed = seed});
    EntryWriter writer(seed);
    Ledger ledger;
    make_book(disk);
    ASSERT_TRUE(jot_until_dark(disk, options_on(disk), ledger, writer, 12).ok());
    bool copied = false;
    disk.cut_after(draw(writer.random(), 1, 150));
    attempt([&] {
      std::optional<book::Book> book;
      std::string problem = open_into(book, kBook, options_on(disk));
      if (!problem.empty()) return problem;
      const auto copy = book->back_up_to(kCopy);
      if (!copy) return to_line(copy.problem());
      copied = true;
      // The work goes on until the power fails.
      while (disk.powered()) {
        problem = jot(*book, writer.change(), ledger, writer);
        if (!problem.empty()) return problem;
      }
      return std::string();
    });
    ++tally.cuts;
    disk.reboot();

    book::OpenOptions only_open = options_on(disk);
    only_open.create = false;
    std::string why;
    const Attempt reading = attempt([&] {
      std::optional<book::Book> copy;
      std::string problem = open_into(copy, kCopy, only_open);
      if (!problem.empty()) return problem;
      // What opens is whole: the entries are the beginning of those written, the room is there.
      EXPECT_EQ(copy->verify(), std::vector<std::string>{}) << "seed " << seed;
      const auto entries = entries_of(*copy);
      EXPECT_GE(entries.size(), 12u) << "seed " << seed;
      EXPECT_TRUE(entries.size() <= ledger.written().size() &&
                  std::equal(entries.begin(), entries.end(), ledger.written().begin()))
          << "seed " << seed;
      EXPECT_EQ(copy->room(), small_room());
      ++whole;
      return std::string();
    });
    if (!reading.ok()) {
      ++unusable;
      EXPECT_FALSE(copied) << reading.words << ", seed " << seed;
    }
    tally.judged(look(kBook, options_on(disk), ledger, why), why, seed);
    // A second attempt, under the same name if nothing usable is there.
    std::optional<book::Book> book;
    ASSERT_EQ(open_into(book, kBook, options_on(disk)), "");
    const auto again = book->back_up_to(kCopy);
    EXPECT_EQ(again.ok(), !reading.ok())
        << (again.ok() ? "" : to_line(again.problem())) << ", seed " << seed;
    if (again.ok()) {
      disk.power_cut();
      tally.judged(look(kCopy, only_open, ledger, why), why, seed);
    }
    book.reset();
    tally.count(ledger);
  }
  tally.print("backup");
  std::printf("%-22s %5d copies whole, %d unusable or absent\n", "", whole, unusable);
  tally.expect_sound();
  EXPECT_GT(whole, 0);
  EXPECT_GT(unusable, 0);
}

// --- Checkpoint ---------------------------------------------------------------------------------

TEST(PowerCut, ACheckpointLosesNothing) {
  Tally tally;
  const int cuts = 150 * run_factor();
  int by_way[3] = {};
  for (std::uint64_t seed = 7000; tally.cuts < cuts; ++seed) {
    SimulatedDisk disk("checkpoint", {.seed = seed});
    EntryWriter writer(seed);
    Ledger ledger;
    make_book(disk);
    const int way = static_cast<int>(seed % 3);
    if (way == 0) {
      // Closing the book moves the log into it.
      std::optional<book::Book> book;
      ASSERT_EQ(open_into(book, kBook, options_on(disk)), "");
      for (int n = 0; n < 20; ++n) ASSERT_EQ(jot(*book, writer.change(), ledger, writer), "");
      disk.cut_after(draw(writer.random(), 1, 16));
      book.reset();
    } else if (way == 1) {
      // Asked for by another connection, between the entries.
      std::optional<book::Book> book;
      ASSERT_EQ(open_into(book, kBook, options_on(disk)), "");
      for (int n = 0; n < 20; ++n) ASSERT_EQ(jot(*book, writer.change(), ledger, writer), "");
      disk.cut_after(draw(writer.random(), 1, 40));
      sqlite3* other = nullptr;
      sqlite3_open_v2(kBook, &other, SQLITE_OPEN_READWRITE, disk.vfs_name().c_str());
      constexpr const char* kModes[] = {"PASSIVE", "FULL", "RESTART", "TRUNCATE"};
      const std::string pragma =
          std::string("PRAGMA wal_checkpoint(") + kModes[draw(writer.random(), 0, 3)] + ")";
      sqlite3_exec(other, pragma.c_str(), nullptr, nullptr, nullptr);
      attempt([&] { return jot(*book, writer.change(), ledger, writer); });
      sqlite3_close(other);
      book.reset();
    } else {
      // By itself, once the log has 1,000 pages.
      disk.cut_after(draw(writer.random(), 2000, 3000));
      jot_until_dark(disk, options_on(disk), ledger, writer, 1000, true);
    }
    if (disk.powered()) continue;
    ++by_way[way];
    ++tally.cuts;
    recover(disk, ledger, writer, tally, seed);
    tally.count(ledger);
  }
  tally.print("checkpoint");
  std::printf("%-22s %5d at closing, %d on request, %d by itself\n", "", by_way[0], by_way[1],
              by_way[2]);
  tally.expect_sound();
}

}  // namespace
}  // namespace warmside::fault
