// Random bytes of a book changed: 2,000 flips in the default run. The book is then opened, read
// and written to. It must answer rightly, say that it is damaged, or let verify() find it; a wrong
// answer while verify() is content must not happen, and nothing may crash.
#include <gtest/gtest.h>
#include <sys/mman.h>

#include <algorithm>
#include <cstdio>
#include <new>

#include "book_fixture.h"
#include "demo/demo_room.h"

namespace warmside::fault {
namespace {

constexpr const char* kBook = "room.db";

// In memory that a forked child shares with the test, so that a crash still tells where it was.
struct Shared {
  int flip = 0;
  int unopened = 0;       // refused when opened
  int unread = 0;         // opened; a read or verify() threw
  int harmless = 0;       // all answers right, verify() content
  int noticed_right = 0;  // all answers right, verify() complains
  int noticed_wrong = 0;  // an answer wrong, verify() complains
  int unnoticed = 0;      // an answer wrong, verify() content
  int last_unnoticed = 0;
  int writes_refused = 0;
};

struct Answers {
  room::Room room;
  std::vector<room::Entry> entries;
  std::vector<room::Entry> history;
  std::int64_t count = 0;

  explicit Answers(const book::Book& book)
      : room(book.room()), entries(entries_of(book)), count(book.entry_count()) {
    const room::History recalled =
        book.history(recall_everything(), Instant::unix_ms(2'000'000'000'000));
    history.assign(recalled.entries().begin(), recalled.entries().end());
  }
};

class Flips {
 public:
  Flips() : demo_(demo::make_demo_room()) {
    SimulatedDisk disk("flips", {.seed = 1});
    std::optional<book::Book> book;
    EXPECT_EQ(open_into(book, kBook, options(disk)), "");
    {
      book::Change change = book->change();
      EXPECT_TRUE(change.put_room(demo_.room).empty());
      // Some entries that are struck, and those that strike them.
      std::vector<room::Entry> entries(demo_.entries.begin(), demo_.entries.begin() + 150);
      std::mt19937_64 random(5);
      for (std::size_t i = 20; i < 28; ++i) {
        room::Entry striking;
        striking.at = entries[i + 1].at;
        striking.id = make_uuid_v7(striking.at, random);
        striking.kind = room::EntryKind::struck;
        striking.strikes = entries[i].id;
        entries.push_back(striking);
      }
      for (const room::Entry& e : entries) EXPECT_TRUE(change.append(e));
      change.commit();
    }
    right_.emplace(*book);
    // Not our own word for it: what was struck is not recalled.
    for (const room::Entry& e : right_->history) {
      for (std::size_t i = 20; i < 28; ++i) EXPECT_NE(e.id, demo_.entries[i].id);
    }
    EXPECT_GT(right_->history.size(), 100u);
    EXPECT_EQ(book->verify(), std::vector<std::string>{});
    book.reset();
    image_ = *disk.read_file(kBook);
  }

  const std::string& image() const { return image_; }

  /// Opens an image, compares all answers, writes an entry.
  void look_at(const std::string& image, Shared& shared) const {
    SimulatedDisk disk("flips", {.seed = 1});
    disk.write_file(kBook, image);
    std::optional<book::Book> book;
    if (!attempt([&] { return open_into(book, kBook, options(disk)); }).ok()) {
      ++shared.unopened;
      return;
    }
    bool room_right = false, entries_right = false, content = false;
    const Attempt reading = attempt([&] {
      const Answers now(*book);
      room_right = now.room == right_->room;
      entries_right = now.entries == right_->entries && now.history == right_->history &&
                      now.count == right_->count;
      return std::string();
    });
    const Attempt verifying = attempt([&] {
      content = book->verify().empty();
      return std::string();
    });
    if (!reading.ok() || !verifying.ok()) {
      ++shared.unread;
      // What could not be read is not called sound.
      if (!reading.ok() && content) {
        ++shared.unnoticed;
        shared.last_unnoticed = shared.flip;
      }
    } else if (room_right && entries_right) {
      ++(content ? shared.harmless : shared.noticed_right);
    } else if (!content) {
      ++shared.noticed_wrong;
    } else {
      ++shared.unnoticed;
      shared.last_unnoticed = shared.flip;
    }
    // Writing to such a book is no cause to crash either.
    room::Entry note;
    note.id.bytes = {1, 2, 3};
    note.note = "after the damage";
    if (!attempt([&] {
           book::Change change = book->change();
           change.put_room(demo_.room);
           const auto stored = change.append(note);
           if (!stored) return to_line(stored.problem().front());
           change.commit();
           return std::string();
         }).ok()) {
      ++shared.writes_refused;
    }
  }

 private:
  static book::OpenOptions options(const SimulatedDisk& disk) {
    book::OpenOptions options;
    options.create = true;
    options.vfs = disk.vfs_name();
    return options;
  }

  demo::DemoBook demo_;
  std::optional<Answers> right_;
  std::string image_;
};

/// Runs `count` damages in forked children, so that a crash ends only a child.
Shared damage(int count, const std::function<void(int flip, Shared&)>& one) {
  void* memory =
      ::mmap(nullptr, sizeof(Shared), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
  EXPECT_NE(memory, MAP_FAILED);
  Shared& shared = *new (memory) Shared;
  int crashes = 0;
  while (shared.flip < count && crashes < 10) {
    Child child([&](const Child::Say&) {
      while (shared.flip < count) {
        ++shared.flip;
        one(shared.flip, shared);
      }
    });
    const ChildReport report = child.report();
    if (report.ended != "exit 0") {
      ++crashes;
      ADD_FAILURE() << "damage " << shared.flip << ": " << report.ended << " " << report.said;
    }
  }
  const Shared result = shared;
  ::munmap(memory, sizeof(Shared));
  return result;
}

void print(const char* what, const Shared& s) {
  std::printf(
      "%s: %d. not opened %d, not readable %d; right answers %d (of these verify() complains of "
      "%d); wrong answers: verify() notices %d, not noticed %d. Then writing refused: %d\n",
      what, s.flip, s.unopened, s.unread, s.harmless + s.noticed_right, s.noticed_right,
      s.noticed_wrong, s.unnoticed, s.writes_refused);
}

TEST(Damage, RandomByteFlips) {
  const Flips flips;
  const Shared shared = damage(2000 * run_factor(), [&](int flip, Shared& out) {
    std::mt19937_64 random(static_cast<std::uint64_t>(flip));
    std::string image = flips.image();
    char& byte = image[draw(random, 0, image.size() - 1)];
    byte = static_cast<char>(static_cast<std::uint64_t>(byte) ^ draw(random, 1, 255));
    flips.look_at(image, out);
  });
  print("byte flips", shared);
  EXPECT_EQ(shared.unnoticed, 0) << "flip " << shared.last_unnoticed;
  EXPECT_GT(shared.noticed_wrong, 0);
  EXPECT_GT(shared.harmless, 0);
}

TEST(Damage, TheBookCutShort) {
  const Flips flips;
  // Around every page border, and in odd steps between.
  std::vector<std::size_t> lengths;
  for (std::size_t at = 0; at < flips.image().size(); at += 4096) {
    for (const std::size_t length : {at, at + 1, at + 100, at + 4095}) lengths.push_back(length);
  }
  const Shared shared = damage(static_cast<int>(lengths.size()), [&](int n, Shared& out) {
    const std::size_t length = lengths[static_cast<std::size_t>(n - 1)];
    // An empty file is no damaged book: it becomes a new one.
    if (length > 0) flips.look_at(flips.image().substr(0, length), out);
  });
  print("lengths", shared);
  EXPECT_EQ(shared.harmless + shared.unnoticed, 0);
  EXPECT_GT(shared.unopened, shared.flip / 2);
}

}  // namespace
}  // namespace warmside::fault
