// kill -9 while a process jots: 300 times in the default run, on the real disk. It says nothing
// about power cuts (the kernel keeps every write; see book_power_cut_test.cpp), but it shows that
// a book is never left locked or half-written by a program that dies.
#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdio>
#include <cstring>
#include <set>

#include "book_fixture.h"

namespace warmside::fault {
namespace {

TEST(Kill, AProcessKilledWhileJottingLosesNothing) {
  const TemporaryFolder folder;
  const std::string path = folder.file("room.db");
  book::OpenOptions options;
  options.create = true;
  {
    std::optional<book::Book> book;
    ASSERT_EQ(open_into(book, path, options), "");
    book::Change change = book->change();
    ASSERT_TRUE(change.put_room(small_room()).empty());
    change.commit();
  }
  std::mt19937_64 random(20261125);
  const int kills = 300 * run_factor();
  std::int64_t acknowledged = 0, in_doubt = 0;
  int in_the_middle = 0;
  for (int n = 1; n <= kills; ++n) {
    std::set<Uuid> promised;
    {
      Child child([&](const Child::Say& say) {
        EntryWriter writer(1000 + static_cast<std::uint64_t>(n));
        Ledger ledger;
        std::optional<book::Book> book;
        if (!open_into(book, path, options).empty()) ::_exit(7);
        say("+");
        while (true) {
          const auto entries = writer.change();
          if (!jot(*book, entries, ledger, writer).empty()) ::_exit(6);
          // Acknowledged: all ids of the change in one piece.
          std::string ids;
          for (const room::Entry& e : entries) {
            ids.append(reinterpret_cast<const char*>(e.id.bytes.data()), e.id.bytes.size());
          }
          say(ids);
        }
      });
      ASSERT_TRUE(child.hear(1));
      ::usleep(static_cast<useconds_t>(draw(random, 0, 60'000)));
      child.kill_now();
      const ChildReport report = child.report();
      ASSERT_EQ(report.ended, "signal 9");
      for (std::size_t at = 1; at + 16 <= report.said.size(); at += 16) {
        Uuid id;
        std::memcpy(id.bytes.data(), report.said.data() + at, 16);
        promised.insert(id);
      }
      in_the_middle += promised.empty() ? 0 : 1;
    }
    acknowledged += std::ssize(promised);
    std::optional<book::Book> book;
    ASSERT_EQ(open_into(book, path, options), "") << "kill " << n;
    for (const Uuid& id : promised) {
      const auto found = book->find_entry(id);
      ASSERT_TRUE(found) << "kill " << n << ": " << to_text(id) << " is lost";
    }
    // Beyond the promised ones at most one change, of one to three entries.
    ASSERT_GE(book->entry_count(), acknowledged + in_doubt);
    const std::int64_t more = book->entry_count() - acknowledged - in_doubt;
    ASSERT_LE(more, 3) << "kill " << n;
    in_doubt += more;
    if (n % 20 == 0 || n == kills) {
      ASSERT_EQ(book->verify(), std::vector<std::string>{}) << "kill " << n;
    }
  }
  std::printf(
      "kill -9: %d, of these %d after the first acknowledged change; acknowledged %lld entries, "
      "lost 0; %lld more written but not yet acknowledged\n",
      kills, in_the_middle, static_cast<long long>(acknowledged), static_cast<long long>(in_doubt));
  EXPECT_GT(in_the_middle, kills / 2);
}

}  // namespace
}  // namespace warmside::fault
