// What must hold of the room book for every room and notebook: nothing is lost or changed between
// a book and its files, nothing is stored twice, and an import is all or nothing.
// Seed: the environment variable RC_PARAMS; RapidCheck prints it and the smallest case on failure.

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <numeric>
#include <set>

#include "book/book.h"
#include "book/files.h"
#include "book/room_file.h"
#include "core/csv.h"
#include "property/room_generator.h"

namespace warmside::book {
namespace {

using property::any_entries;
using property::any_room;
using room::Entry;
using room::EntryKind;
using room::Room;

constexpr int kMostEntries = 12;

/// A folder of its own for each case, gone with it.
class Folder {
 public:
  Folder() {
    static int number = 0;
    path_ = std::filesystem::temp_directory_path() /
            fmt::format("warmside-book-property-{}-{}", ::getpid(), number++);
    std::filesystem::create_directories(path_);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { std::filesystem::remove_all(path_); }
  std::string operator/(const std::string& name) const { return (path_ / name).string(); }

 private:
  std::filesystem::path path_;
};

std::string text_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}
std::string write(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
  return path;
}

/// A new book. These tests are not about power cuts, so it does not wait for the disk.
Book new_book(const std::string& path) {
  OpenOptions options;
  options.create = true;
  options.durability = Durability::off;
  return Book::open(path, options).value();
}

std::string lines_of(const std::vector<Entry>& entries, UnitSystem units) {
  std::string text;
  for (const Entry& entry : entries) text += notebook_line(entry, units);
  return text;
}

/// Records and entries straight into a book, past all files.
void put(Book& book, const Room& room, const std::vector<Entry>& entries) {
  Change change = book.change();
  RC_ASSERT(change.put_room(room).empty());
  for (const Entry& entry : entries) {
    const auto stored = change.append(entry);
    RC_ASSERT(stored.ok());
    RC_ASSERT((*stored == Stored::now));
  }
  change.commit();
}

std::vector<Entry> entries_of(const Book& book) {
  std::vector<Entry> entries;
  book.each_entry([&](const Entry& entry) {
    entries.push_back(entry);
    return true;
  });
  return entries;
}

ImportReport import(Book& book, const std::vector<std::string>& paths,
                    const ImportOptions& options = {}) {
  const auto report = import_files(book, paths, options);
  if (!report) RC_LOG() << to_line(report.problem().front()) << "\n";
  RC_ASSERT(report.ok());
  return *report;
}

/// Everything a book says, as its two files.
std::string exported(const Book& book, const std::string& folder) {
  export_book(book, folder);
  return text_of(folder + "/room.toml") + text_of(folder + "/notebook.jsonl");
}

/// The same entries in another order in which no strike comes before what it strikes.
std::vector<Entry> reordered(std::vector<Entry> left) {
  std::vector<Entry> out;
  while (!left.empty()) {
    const auto n = *rc::gen::inRange<std::size_t>(0, left.size());
    const Entry entry = left[n];
    const bool waits = std::any_of(left.begin(), left.end(), [&](const Entry& other) {
      return entry.strikes && other.id == *entry.strikes;
    });
    if (waits) continue;
    out.push_back(entry);
    left.erase(left.begin() + static_cast<std::ptrdiff_t>(n));
  }
  return out;
}

std::vector<Entry> by_id(std::vector<Entry> entries) {
  std::sort(entries.begin(), entries.end(),
            [](const Entry& a, const Entry& b) { return a.id < b.id; });
  return entries;
}

RC_GTEST_PROP(RoomGeneratorProperty, RoomsAndEntriesAreSound, ()) {
  const Room room = *any_room();
  RC_ASSERT(room::check_room(room).empty());
  for (const Entry& entry : *any_entries(room, kMostEntries)) {
    RC_ASSERT(room::check_entry(entry).empty());
  }
}

RC_GTEST_PROP(RoomFileProperty, ReadsBackInBothUnits, ()) {
  Room room = *any_room();
  for (const UnitSystem units : {UnitSystem::metric, UnitSystem::us}) {
    room.info.units = units;
    const std::string text = write_room_file(room);
    Room back;
    RecordPlaces places;
    const Problems problems = read_room_file(text, "room.toml", back, places);
    if (!problems.empty()) RC_LOG() << to_line(problems.front()) << "\n" << text;
    RC_ASSERT(problems.empty());
    RC_ASSERT((back == room));
    RC_ASSERT(write_room_file(back) == text);
  }
}

RC_GTEST_PROP(BookProperty, FilesAndBooksHoldTheSame, ()) {
  const Folder folder;
  const Room room = *any_room();
  const std::vector<Entry> entries = *any_entries(room, kMostEntries);
  Book first = new_book(folder / "first.room");
  put(first, room, entries);
  RC_ASSERT((first.room() == room));
  RC_ASSERT((entries_of(first) == entries));
  const std::string one = exported(first, folder / "one");

  Book second = new_book(folder / "second.room");
  const auto report = import(second, {folder / "one/room.toml", folder / "one/notebook.jsonl"});
  RC_ASSERT(report.entries_added == std::ssize(entries));
  RC_ASSERT(report.entries_before == 0);
  RC_ASSERT((second.room() == room));
  RC_ASSERT((entries_of(second) == entries));
  RC_ASSERT(second.verify().empty());
  RC_ASSERT(exported(second, folder / "two") == one);
}

RC_GTEST_PROP(BookProperty, TheSameFilesTwiceAddNothing, ()) {
  const Folder folder;
  const Room room = *any_room();
  const std::vector<Entry> entries = *any_entries(room, kMostEntries);
  const std::vector<std::string> files{
      write(folder / "room.toml", write_room_file(room)),
      write(folder / "notebook.jsonl", lines_of(entries, room.info.units))};
  Book book = new_book(folder / "a.room");
  import(book, files);
  const std::string before = exported(book, folder / "before");
  const auto report = import(book, files);
  RC_ASSERT(report.entries_added == 0);
  RC_ASSERT(report.entries_before == std::ssize(entries));
  RC_ASSERT(exported(book, folder / "after") == before);
}

RC_GTEST_PROP(BookProperty, ARoomTakesNoHarmFromItsOwnPutAgain, ()) {
  const Folder folder;
  const Room room = *any_room();
  const std::vector<Entry> entries = *any_entries(room, kMostEntries);
  Book book = new_book(folder / "a.room");
  put(book, room, entries);
  Change change = book.change();
  RC_ASSERT(change.put_room(room, true).empty());
  change.commit();
  RC_ASSERT((book.room() == room));
  RC_ASSERT((entries_of(book) == entries));
}

RC_GTEST_PROP(BookProperty, BatchesDuplicatesAndOrderMakeNoDifference, ()) {
  const Folder folder;
  const Room room = *any_room();
  const std::vector<Entry> entries = *any_entries(room, kMostEntries);
  Book book = new_book(folder / "a.room");
  put(book, room, {});
  // Batches: neighbours in some order, with entries of earlier batches thrown in again.
  const std::vector<Entry> order = reordered(entries);
  std::vector<Entry> batch, seen;
  int batches = 0;
  std::int64_t added = 0;
  const auto send = [&] {
    const std::string name = fmt::format("batch{}.jsonl", batches++);
    const auto units = static_cast<UnitSystem>(*rc::gen::inRange(0, 2));
    added += import(book, {write(folder / name, lines_of(batch, units))}).entries_added;
    batch.clear();
  };
  for (const Entry& entry : order) {
    batch.push_back(entry);
    seen.push_back(entry);
    while (*rc::gen::inRange(0, 3) == 2) batch.push_back(*rc::gen::elementOf(seen));
    if (*rc::gen::inRange(0, 4) == 0) send();
  }
  send();
  RC_ASSERT(added == std::ssize(entries));
  RC_ASSERT(book.entry_count() == std::ssize(entries));
  RC_ASSERT((by_id(entries_of(book)) == by_id(entries)));
  RC_ASSERT((entries_of(book) == order));  // as written, each once
  RC_ASSERT(book.verify().empty());
}

/// The columns of a notebook in CSV, as docs/notebook.md names them.
std::string csv_of(const std::vector<Entry>& entries, UnitSystem units) {
  std::set<std::string> subject_kinds;
  for (const Entry& entry : entries) subject_kinds.emplace(word(entry.subject.kind));
  std::string text =
      "id,at,kind,by,mass,length,temperature,humidity,uvi,count,item,target,strikes,note";
  for (const std::string& kind : subject_kinds) text += "," + kind;
  text += "\n";
  for (const Entry& e : entries) {
    const auto quantity = [&](const auto& q) { return q ? to_text(*q, units) : std::string(); };
    std::vector<std::string> cells{
        to_text(e.id),
        to_text(e.at),
        std::string(word(e.kind)),
        e.by.text(),
        quantity(e.mass),
        quantity(e.length),
        quantity(e.temperature),
        quantity(e.humidity),
        quantity(e.uvi),
        e.count ? std::to_string(*e.count) : "",
        e.item,
        e.target ? fmt::format("{} {}", word(e.target->kind), e.target->id) : "",
        e.strikes ? to_text(*e.strikes) : "",
        e.note};
    for (const std::string& kind : subject_kinds) {
      cells.push_back(kind == word(e.subject.kind) ? e.subject.id : "");
    }
    for (std::size_t i = 0; i < cells.size(); ++i) text += (i ? "," : "") + csv_field(cells[i]);
    text += "\n";
  }
  return text;
}

RC_GTEST_PROP(BookProperty, CsvHoldsTheSameAsJsonLines, ()) {
  const Folder folder;
  const Room room = *any_room();
  const std::vector<Entry> entries = *any_entries(room, kMostEntries);
  Book book = new_book(folder / "a.room");
  put(book, room, {});
  const auto units = static_cast<UnitSystem>(*rc::gen::inRange(0, 2));
  const auto report = import(book, {write(folder / "notebook.csv", csv_of(entries, units))});
  RC_ASSERT(report.entries_added == std::ssize(entries));
  RC_ASSERT((entries_of(book) == entries));
  // What is there in one form is there in the other.
  const auto again =
      import(book, {write(folder / "again.jsonl", lines_of(entries, room.info.units))});
  RC_ASSERT(again.entries_added == 0);
}

/// Rows without ids: equal rows are as many entries, and the same file again adds none.
RC_GTEST_PROP(BookProperty, CsvRowsWithoutIdsAreStoredOnceEach, ()) {
  const Folder folder;
  Room room;
  room.info.name = "r";
  room.info.zone = "Europe/Oslo";
  room.animals.resize(2);
  room.animals[0].id = room::AnimalId::trusted("a");
  room.animals[1].id = room::AnimalId::trusted("b");
  room.animals[0].species = room.animals[1].species = species::SpeciesId::trusted("corn_snake");
  std::string text = "date,animal,mass_g\n";
  const int rows = *rc::gen::inRange(0, 12);
  for (int i = 0; i < rows; ++i) {
    text += fmt::format("2026-10-{:02},{},{}\n", *rc::gen::inRange(24, 27),
                        *rc::gen::element("a", "b"), *rc::gen::inRange(1, 3));
  }
  Book book = new_book(folder / "a.room");
  put(book, room, {});
  ImportOptions options;
  options.csv.kind = EntryKind::weighed;
  const std::string file = write(folder / "masses.csv", text);
  RC_ASSERT(import(book, {file}, options).entries_added == rows);
  const auto again = import(book, {file}, options);
  RC_ASSERT(again.entries_added == 0);
  RC_ASSERT(again.entries_before == rows);
}

/// A line that a notebook cannot hold, and the field that the problem must name (none: the line).
struct BadLine {
  std::string text;
  std::string field;
};

/// `stored` is in the book already. The ids of the lines are their own.
BadLine bad_line(const Entry& stored, UnitSystem units) {
  const std::string id = to_text(*property::any_uuid());
  const auto line = [&](const std::string& rest) {
    return fmt::format("{{\"id\":\"{}\",\"at\":\"2026-11-25T07:10:00Z\",{}}}\n", id, rest);
  };
  switch (*rc::gen::inRange(0, 13)) {
    case 0:
      return {"{\"id\":\n", ""};
    case 1:
      return {"weighed juniper 812 g\n", ""};
    case 2:
      return {line(R"("kind":"painted","room":"room")"), "kind"};
    case 3:
      return {line(R"("kind":"note","room":"room","colour":"red")"), "colour"};
    case 4:
      return {line(R"("kind":"note","animal":"nobody-of-this-name")"), "animal"};
    case 5:
      return {line(R"("kind":"note","room":"room","room":"room")"), "room"};
    case 6:
      return {line(R"("kind":"note","room":"room","by":"nobody-of-this-name")"), "by"};
    case 7:
      return {line(R"("kind":"note","room":"room","mass":"5g")"), "mass"};
    case 8:
      return {line(R"("kind":"tested","room":"room","item":7)"), "item"};
    case 9:
      return {line(R"("kind":"struck","room":"room")"), "strikes"};
    case 10:
      return {line(R"("kind":"struck","room":"room",)"
                   R"("strikes":"00000000-0000-0000-0000-000000000000")"),
              "strikes"};
    case 11:
      return {line("\"kind\":\"note\",\"room\":\"room\",\"note\":\"\xff\""), ""};
    default: {
      Entry other = stored;  // the id of a stored entry with other content
      other.note += "!";
      return {notebook_line(other, units), "id"};
    }
  }
}

RC_GTEST_PROP(BookProperty, BadLinesAreAllListedAndNothingIsStored, ()) {
  const Folder folder;
  const Room room = *any_room();
  std::vector<Entry> stored = *any_entries(room, kMostEntries);
  if (stored.empty()) stored.push_back(property::draw_entry(room, EntryKind::note, {}, {}));
  for (Entry& entry : stored) entry.note.clear();  // room for one more byte
  Book book = new_book(folder / "a.room");
  put(book, room, stored);
  const std::string before = exported(book, folder / "before");

  // New entries for the same book, the bad lines among them, over two files.
  std::vector<Entry> fresh = *any_entries(room, kMostEntries);
  std::string texts[2];
  int lines[2] = {0, 0};
  std::map<std::pair<std::string, int>, std::string> planted;  // file and line: field
  const std::string names[2] = {folder / "one.jsonl", folder / "two.jsonl"};
  const auto add = [&](int file, const std::string& line) {
    texts[file] += line;
    ++lines[file];
  };
  const int bad = *rc::gen::inRange(1, 6);
  std::vector<int> turns(fresh.size(), 0);
  turns.insert(turns.end(), static_cast<std::size_t>(bad), 1);
  for (std::size_t i = turns.size(); i > 1; --i) {
    std::swap(turns[i - 1], turns[*rc::gen::inRange<std::size_t>(0, i)]);
  }
  std::size_t next = 0;
  int file = 0;
  for (const int turn : turns) {
    if (file == 0 && *rc::gen::inRange(0, 8) == 0) file = 1;
    if (*rc::gen::inRange(0, 8) == 0) add(file, "\n");
    if (turn == 1) {
      const BadLine line = bad_line(*rc::gen::elementOf(stored), room.info.units);
      add(file, line.text);
      planted[{names[file], lines[file]}] = line.field;
    } else {
      add(file, notebook_line(fresh[next++], room.info.units));
    }
  }
  for (int i : {0, 1}) write(names[i], texts[i]);

  const auto report = import_files(book, {names[0], names[1]});
  RC_ASSERT(!report.ok());
  std::map<std::pair<std::string, int>, std::string> listed;
  for (const Problem& problem : report.problem()) {
    listed[{problem.where.file, problem.where.line}] = problem.where.field;
  }
  RC_ASSERT(listed == planted);
  RC_ASSERT(exported(book, folder / "after") == before);
  RC_ASSERT(book.verify().empty());
}

/// A record that does not fit: named with its line, and nothing of the file comes in.
RC_GTEST_PROP(BookProperty, ABadRecordLeavesTheBookAsItWas, ()) {
  const Folder folder;
  const Room room = *any_room();
  const std::vector<Entry> entries = *any_entries(room, kMostEntries);
  Book book = new_book(folder / "a.room");
  put(book, room, entries);
  const std::string before = exported(book, folder / "before");
  std::string text = write_room_file(room);
  const auto lines = std::count(text.begin(), text.end(), '\n');
  static const std::vector<std::pair<std::string, int>> kBad{
      // the record, the line at fault
      {"[[animal]]\nid = \"bad-1\"\nspecies = \"unicorn\"\n", 3},
      {"[[lamp]]\nid = \"bad-1\"\nkind = \"LED\"\ntimer = \"no-such-timer\"\n", 4},
      {"[[task]]\nid = \"bad-1\"\ntitle = \"t\"\nevery = \"36h\"\n", 4},
      {"[[heater]]\nid = \"bad-1\"\nkind = \"mat\"\npower = \"14\"\n", 4},
      {"[[jar]]\nid = \"Bad 1\"\ncontents = \"other\"\n", 2},
      {"[[tool]]\nid = \"bad-1\"\nkind = \"tub\"\ncolour = \"red\"\n", 4}};
  const auto [record, bad_line_in_it] = *rc::gen::elementOf(kBad);
  text += record;
  const std::string file = write(folder / "room.toml", text);
  const auto report = import_files(book, {file});
  RC_ASSERT(!report.ok());
  RC_ASSERT(report.problem().size() == 1u);
  const Where& where = report.problem().front().where;
  RC_LOG() << to_line(report.problem().front()) << "\n";
  RC_ASSERT(where.file == file);
  RC_ASSERT(where.line == lines + bad_line_in_it);
  RC_ASSERT(exported(book, folder / "after") == before);
}

// ---- What random rooms and the fuzz targets found ----------------------------------------------

Problems read(const std::string& text) {
  Room room;
  RecordPlaces places;
  return read_room_file(text, "room.toml", room, places);
}
const std::string kLeastRoom = "[room]\nname = \"r\"\nzone = \"UTC\"\n";

TEST(RoomFile, BracketsInATextWereTakenForNesting) {
  EXPECT_TRUE(read(kLeastRoom + "place = \"" + std::string(100, '[') + "\"\n").empty());
}

TEST(RoomFile, DotsInATextAreNoKey) {
  const std::string dots(100, '.');
  EXPECT_TRUE(read(kLeastRoom + "place = \"\\\"" + dots + "\"\n# " + dots + "\n").empty());
  EXPECT_TRUE(read(kLeastRoom + "place = \"\"\"" + dots + "\"\n" + dots + "\"\"\"\n").empty());
  EXPECT_TRUE(read(kLeastRoom + "place = '" + dots + "'\n").empty());
}

TEST(RoomFile, AKeyOfAMillionPartsRanOutOfStack) {
  std::string key = "a";
  for (int i = 0; i < 1'000'000; ++i) key += ".a";
  // after a text that ends in four quotes, of which three end it
  const std::string after_text = "x = {y = \"\"\"z\"\"\"\", " + key + " = 1}\n";
  for (const std::string& text : {key + " = 1\n", "[" + key + "]\n", after_text}) {
    const Problems problems = read(kLeastRoom + text);
    ASSERT_EQ(problems.size(), 1u);
    EXPECT_EQ(problems[0].what, "a key of too many parts");
    EXPECT_EQ(problems[0].where.file, "room.toml");
  }
}

TEST(RoomFile, AThickLayerWasWrittenWithAPlusThatSplitIt) {
  const auto with_layer = [](const std::string& thickness) {
    return read(kLeastRoom + "[[enclosure]]\nid = \"e\"\nback = \"glass " + thickness + "\"\n");
  };
  EXPECT_TRUE(with_layer("10m").empty());
  const Problems problems = with_layer("44444444444444444444in");  // 1.1e+18 m
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems[0].where.line, 6);
}

TEST(RoomCheck, AKeyThatIsNoneWasShownInFullLength) {
  Room room;
  room.info.name = "r";
  room::Animal& animal = room.animals.emplace_back();
  animal.id = room::AnimalId::trusted("a");
  animal.species = species::SpeciesId::trusted("corn_snake");
  room::Override& entry = room.overrides.emplace_back();
  entry.id = room::OverrideId::trusted("o");
  entry.animal = animal.id;
  entry.key = std::string(2000, '\n');
  entry.value = entry.reason = "x";
  const auto found = room::check_room(room);
  ASSERT_EQ(found.size(), 1u);
  EXPECT_LE(found[0].problem.found.size(), 40u);
}

/// The problems and entries of a CSV file of sheds.
std::pair<Problems, std::vector<Entry>> read_csv(const std::string& text, const CsvOptions& set) {
  std::pair<Problems, std::vector<Entry>> read;
  CsvOptions options = set;
  options.kind = EntryKind::shed;
  read_notebook_csv(
      text, "n.csv", options,
      [&](const Entry& entry, const Where&) {
        read.second.push_back(entry);
        return true;
      },
      [&](Problem problem) {
        read.first.push_back(std::move(problem));
        return true;
      });
  return read;
}

TEST(NotebookCsv, DaysCountedBeyondTheYear9999WereStored) {
  CsvOptions options;
  options.day_zero = property::day(9999, 12, 31);
  const auto [problems, entries] = read_csv("day,animal\n0,a\n1,a\n-1,a\n", options);
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems[0].where.line, 3);
  EXPECT_EQ(problems[0].where.field, "day");
  EXPECT_EQ(entries.size(), 2u);
}

TEST(NotebookCsv, TheFirstNoonEastOfGreenwichWasStoredInTheYear0) {
  CsvOptions options;
  options.zone = Zone::named("Pacific/Apia").value();  // its local mean time: UTC + 12:33:04
  const auto [problems, entries] = read_csv("date,animal\n0001-01-01,a\n0001-01-02,a\n", options);
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems[0].where.line, 2);
  EXPECT_EQ(entries.size(), 1u);
}

TEST(NotebookCsv, ABadHeaderBelowCommentsWasSoughtOnLineOne) {
  const auto [problems, entries] = read_csv("# sheds\n#\ndate,animal,oops\n2026-11-25,a,b\n", {});
  ASSERT_EQ(problems.size(), 1u);
  EXPECT_EQ(problems[0].where.line, 3);
  EXPECT_EQ(problems[0].where.field, "oops");
  EXPECT_TRUE(entries.empty());
}

}  // namespace
}  // namespace warmside::book
