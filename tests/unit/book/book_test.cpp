// The room book: what is put in comes out, what must be refused is, and verify() sees what another
// program did to the file.

#include "book/book.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sqlite3.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <random>
#include <set>

#include "room/fields.h"
#include "room/look_up.h"
#include "support/room_builder.h"

namespace warmside::book {
namespace {

using room::Entry;
using room::EntryKind;
using room::Part;
using room::Recall;
using room::Room;
using room::Subject;
using room::SubjectKind;
using test::date;
using test::q;
using test::RoomBuilder;
using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

/// A new folder, removed with everything in it.
class BookTest : public testing::Test {
 protected:
  BookTest() {
    std::string name = (std::filesystem::temp_directory_path() / "warmside-XXXXXX").string();
    WS_CHECK(::mkdtemp(name.data()) != nullptr);
    folder_ = name;
  }
  ~BookTest() override { std::filesystem::remove_all(folder_); }

  std::string path(const char* name = "room.book") const { return (folder_ / name).string(); }

  Book open(const char* name = "room.book") const {
    OpenOptions options;
    options.create = true;
    auto book = Book::open(path(name), options);
    WS_CHECK(book.ok());
    return std::move(book).value();
  }
  /// A book of this room and notebook.
  Book book_of(const Room& room, const std::vector<Entry>& entries = {}) const {
    Book book = open();
    put(book, room, entries);
    return book;
  }
  Book book_of(const RoomBuilder& builder) const {
    return book_of(builder.room(), builder.entries());
  }
  static void put(Book& book, const Room& room, const std::vector<Entry>& entries = {}) {
    Change change = book.change();
    EXPECT_THAT(change.put_room(room), IsEmpty());
    for (const Entry& entry : entries) {
      const auto stored = change.append(entry);
      EXPECT_TRUE(stored.ok()) << to_line(stored.problem().at(0));
    }
    change.commit();
  }
  static std::vector<Entry> all_entries(const Book& book) {
    std::vector<Entry> entries;
    book.each_entry([&](const Entry& entry) {
      entries.push_back(entry);
      return true;
    });
    return entries;
  }

  std::filesystem::path folder_;
};

/// SQLite on a file, with its default settings, as any other program would use it.
class RawFile {
 public:
  explicit RawFile(const std::string& path) {
    WS_CHECK(sqlite3_open(path.c_str(), &db_) == SQLITE_OK);
  }
  ~RawFile() { sqlite3_close(db_); }
  RawFile(const RawFile&) = delete;
  RawFile& operator=(const RawFile&) = delete;

  /// The message when it fails, else an empty text.
  std::string try_exec(const std::string& sql) {
    char* message = nullptr;
    sqlite3_exec(db_, sql.c_str(), nullptr, nullptr, &message);
    const std::string text = message == nullptr ? "" : message;
    sqlite3_free(message);
    return text;
  }
  void exec(const std::string& sql) {
    const std::string message = try_exec(sql);
    EXPECT_EQ(message, "") << sql;
  }

 private:
  sqlite3* db_ = nullptr;
};

constexpr const char* kDropTriggers =
    "DROP TRIGGER entry_is_never_changed; DROP TRIGGER entry_is_never_removed;";

// ---- A room with every field of every kind of record filled ------------------------------------

/// Fills each field with a value that no other field has and no default is.
class Filler {
 public:
  template <class T>
  void operator()(const char*, room::Need, T& field, const char*) {
    fill(field);
  }

 private:
  template <class T>
  void fill(T& field) {
    ++n_;
    if constexpr (room::IsOptional<T>::value) {
      fill(field.emplace());
    } else if constexpr (std::same_as<T, std::string>) {
      field = fmt::format("text {} \"é\"\n\\ '{{}}'", n_);
    } else if constexpr (std::same_as<T, bool>) {
      field = !field;
    } else if constexpr (std::same_as<T, int>) {
      field = n_;
    } else if constexpr (std::same_as<T, double>) {
      field = 10 + n_ / 3.0;
    } else if constexpr (std::same_as<T, species::SpeciesId>) {
      field = T::trusted("species-1");
    } else if constexpr (room::IsId<T>::value) {
      field = reference(field);
    } else if constexpr (Worded<T>) {
      const auto last = static_cast<T>(Words<T>::list.size() - 1);
      field = field == last ? T{} : last;
    } else if constexpr (std::same_as<T, Percentage>) {
      field = T::share(n_ / 1000.0);
    } else if constexpr (std::same_as<T, Temperature>) {
      field = T::celsius(20 + n_ / 7.0);
    } else if constexpr (std::same_as<T, TemperatureDelta>) {
      field = T::kelvin(n_ / 7.0);
    } else if constexpr (std::same_as<T, Mass>) {
      field = T::ounces(n_);
    } else if constexpr (std::same_as<T, Length>) {
      field = T::inches(n_);
    } else if constexpr (std::same_as<T, Area>) {
      field = T::square_inches(n_);
    } else if constexpr (std::same_as<T, Volume>) {
      field = T::us_gallons(n_);
    } else if constexpr (std::same_as<T, Power>) {
      field = T::watts(n_ / 7.0);
    } else if constexpr (std::same_as<T, Duration>) {
      field = T::days(n_);
    } else if constexpr (std::same_as<T, Date>) {
      field = date("2026-01-01") + n_;
    } else if constexpr (std::same_as<T, TimeOfDay>) {
      field = TimeOfDay{n_};
    } else if constexpr (std::same_as<T, room::UvTable>) {
      field.rows = {{Length::centimetres(n_), UvIndex::index(n_ / 7.0)},
                    {Length::inches(n_), UvIndex::index(n_ / 30.0)}};
    } else {
      static_assert(std::same_as<T, room::Construction>, "fill the new type of field here");
      field.layers = {{"cork", Length::millimetres(n_)}, {"glass", Length::inches(n_)}};
    }
  }
  template <class Tag>
  Id<Tag> reference(const Id<Tag>&) {
    return Id<Tag>::trusted(std::string(Tag::kWord) + "-1");
  }

  int n_ = 0;
};

/// One record of each kind, and a second override since one names either an animal or a species.
Room full_room() {
  Room room;
  Filler filler;
  room::RoomInfo::describe(room.info, filler);
  room.info.zone = "Europe/Oslo";
  Room::for_each_kind(room, [&](auto& records) {
    auto& record = records.emplace_back();
    record.id = decltype(record.id)::trusted(std::string(record.kWord) + "-1");
    std::remove_cvref_t<decltype(record)>::describe(record, filler);
  });
  room::Override& of_animal = room.overrides[0];
  of_animal.key = "night";
  of_animal.value = "18C..22C";
  room::Override of_species = of_animal;
  of_animal.species = {};
  of_species.animal = {};
  of_species.id = room::OverrideId::trusted("override-2");
  room.overrides.push_back(of_species);
  room.info.country = "NO";
  room::Socket wall = room.sockets[0];  // a socket has a circuit or is plugged into another
  wall.id = room::SocketId::trusted("socket-2");
  wall.plugged_into = {};
  room.sockets[0].circuit = {};
  room.sockets[0].plugged_into = wall.id;
  room.sockets.push_back(wall);
  return room;
}

/// The names of fields that are as in a new record.
template <class Record>
std::vector<std::string> unfilled(const Record& record) {
  std::vector<std::string> names;
  std::vector<std::string> defaults, values;
  const auto texts = [](std::vector<std::string>& into) {
    return [&into]<class T>(const char*, room::Need, const T& field, const char*) {
      if constexpr (room::IsOptional<T>::value) {
        into.push_back(field ? "given" : "");
      } else if constexpr (room::TextField<T>) {
        into.push_back(room::field_text(field, UnitSystem::metric));
      } else {
        into.push_back(fmt::format("{}", field));
      }
    };
  };
  const Record blank{};
  Record::describe(blank, texts(defaults));
  Record::describe(record, texts(values));
  std::size_t i = 0;
  Record::describe(record, [&](const char* name, room::Need, const auto&, const char*) {
    if (values[i] == defaults[i]) names.emplace_back(name);
    ++i;
  });
  return names;
}

TEST_F(BookTest, EveryFieldOfEveryKindOfRecordSurvives) {
  const Room room = full_room();
  for (const auto& found : room::check_room(room)) {
    ADD_FAILURE() << found.kind << " " << found.field << ": " << to_line(found.problem);
  }
  EXPECT_THAT(unfilled(room.info), IsEmpty());
  Room::for_each_kind(room, [](const auto& records) {
    using Record = typename std::remove_cvref_t<decltype(records)>::value_type;
    if constexpr (std::same_as<Record, room::Socket>) {
      EXPECT_THAT(unfilled(records[0]), ElementsAre("circuit"));
    } else if constexpr (!std::same_as<Record, room::Override>) {
      EXPECT_THAT(unfilled(records[0]), IsEmpty()) << Record::kWord;
    }
  });
  EXPECT_THAT(unfilled(room.sockets[1]), ElementsAre("plugged_into"));
  EXPECT_THAT(unfilled(room.overrides[0]), ElementsAre("species"));
  EXPECT_THAT(unfilled(room.overrides[1]), ElementsAre("animal"));
  {
    Book book = book_of(room);
    EXPECT_TRUE(book.room() == room);
  }
  const Book again = open();
  EXPECT_TRUE(again.room() == room);
  EXPECT_THAT(again.verify(), IsEmpty());
}

TEST_F(BookTest, EveryKindOfRecordSurvivesEmpty) {
  Room room = full_room();
  Room::for_each_kind(room, [](auto& records) {
    auto blank = typename std::remove_cvref_t<decltype(records)>::value_type{};
    blank.id = records[0].id;
    records = {blank};
  });
  room.own_species[0].common_name = "x";
  room.supplies[0].name = "x";
  room.own_foods[0].name = "x";
  room.tasks[0].title = "x";
  room.animals[0].species = room.own_species[0].id;
  room.overrides = {};
  Book book = book_of(room);
  EXPECT_TRUE(book.room() == room);
}

TEST_F(BookTest, ANewBookHasAnEmptyRoom) {
  const Book book = open();
  EXPECT_TRUE(book.room() == Room{});
  EXPECT_EQ(book.entry_count(), 0);
  EXPECT_THAT(all_entries(book), IsEmpty());
  EXPECT_THAT(book.latest_about({}, 10), IsEmpty());
}

TEST_F(BookTest, RecordsAreReplacedByIdAndOthersStay) {
  Room room = full_room();
  Book book = book_of(room);
  Room part;
  part.info = room.info;
  part.info.name = "New name";
  part.animals = room.animals;
  part.own_species = room.own_species;
  part.animals[0] = room::Animal{};
  part.animals[0].id = room.animals[0].id;
  part.animals[0].species = room.own_species[0].id;
  part.animals[0].name = "Changed";
  put(book, part);
  room.info.name = "New name";
  room.animals[0] = part.animals[0];  // what it no longer says is gone
  EXPECT_TRUE(book.room() == room);
}

TEST_F(BookTest, RecordsComeInIdOrder) {
  RoomBuilder b;
  for (const char* id : {"b", "z", "a", "10", "2"}) b.enclosure(id);
  std::vector<std::string> ids;
  for (const auto& enclosure : book_of(b).room().enclosures) ids.push_back(enclosure.id.text());
  EXPECT_THAT(ids, ElementsAre("10", "2", "a", "b", "z"));
}

TEST_F(BookTest, RemoveOthersTakesOutWhatNothingSpeaksOf) {
  const Room room = full_room();
  Book book = book_of(room);
  Room less;
  less.info = room.info;
  Change change = book.change();
  EXPECT_THAT(change.put_room(less, true), IsEmpty());  // each spoke of others, and all go
  change.commit();
  EXPECT_TRUE(book.room() == less);
  EXPECT_THAT(book.verify(), IsEmpty());
}

TEST_F(BookTest, RemoveOthersKeepsWhatTheNotebookOrARecordSpeaksOf) {
  RoomBuilder b;
  b.add<room::Keeper>("ann").add<room::Keeper>("bob");
  b.enclosure("tub").enclosure("box").enclosure("empty").animal("juniper", "corn_snake");
  b.animal("moss", "crested_gecko", [](auto& a) { a.enclosure = {}; });
  b.moved("2026-11-20", "juniper", "box");
  b.entry("2026-11-20", EntryKind::note, "tub",
          [](Entry& e) { e.by = room::KeeperId::trusted("ann"); });
  b.entry("2026-11-20", EntryKind::note, "moss").strike_it("2026-11-21");
  Book book = book_of(b);
  Room less;
  less.info = b.room().info;
  Change change = book.change();
  std::vector<std::string> what;
  for (const Problem& problem : change.put_room(less, true)) {
    EXPECT_EQ(problem.code, ProblemCode::conflict);
    what.push_back(problem.what.substr(0, problem.what.find(" cannot")));
  }
  // Those the notebook is about (struck or not), a target, a writer; not "empty" nor "bob", and
  // juniper's record is what speaks of "empty".
  EXPECT_THAT(what, testing::UnorderedElementsAre("the animal \"juniper\"", "the animal \"moss\"",
                                                  "the enclosure \"box\"", "the enclosure \"tub\"",
                                                  "the enclosure \"empty\"", "the keeper \"ann\""));
}

TEST_F(BookTest, AChangeThatIsDroppedLeavesNoTrace) {
  RoomBuilder b = RoomBuilder().enclosure("tub").animal("juniper", "corn_snake");
  b.weighed("2026-11-20", "juniper", "500g");
  Book book = book_of(b);
  {
    Change change = book.change();
    Room other = b.room();
    other.info.name = "Other";
    EXPECT_THAT(change.put_room(other), IsEmpty());
    RoomBuilder more = b;
    more.weighed("2026-11-21", "juniper", "510g");
    EXPECT_TRUE(change.append(more.entries().back()).ok());
  }
  EXPECT_TRUE(book.room() == b.room());
  EXPECT_EQ(all_entries(book), b.entries());
  EXPECT_EQ(book.entry_count(), 1);
  EXPECT_THAT(book.verify(), IsEmpty());
}

// ---- Entries -----------------------------------------------------------------------------------

/// An entry of each kind about the full room: with all that it may hold, and with the least.
std::vector<Entry> entries_of_every_kind(const Room& room) {
  std::vector<Entry> entries;
  const auto id_of = [&](SubjectKind kind) {
    return kind == SubjectKind::room ? std::string("room") : std::string(word(kind)) + "-1";
  };
  Uuid strikable;
  std::int64_t n = 0;
  for (const bool all : {true, false}) {
    for (std::size_t k = 0; k < Words<EntryKind>::list.size(); ++k) {
      const auto kind = static_cast<EntryKind>(k);
      const room::EntryRule& rule = room::rule_of(kind);
      const auto& subjects = rule.subjects;
      std::vector<SubjectKind> about(subjects.begin(), subjects.end());
      if (about.empty()) {
        for (std::size_t s = 0; s < Words<SubjectKind>::list.size(); ++s) {
          about.push_back(static_cast<SubjectKind>(s));
        }
      }
      for (const SubjectKind subject : about) {
        Entry e;
        ++n;
        e.id = make_uuid_from_text(Instant::unix_ms(1'700'000'000'000 + n), std::to_string(n));
        e.at = Instant::unix_ms(1'700'000'000'000 + 7 * n);
        e.kind = kind;
        e.subject = {subject, id_of(subject)};
        std::vector<Part> parts(rule.must.begin(), rule.must.end());
        if (all) {
          parts.insert(parts.end(), rule.may.begin(), rule.may.end());
          e.by = room.keepers[0].id;
          e.note = fmt::format("note {} é \"\\\n", n);
        } else if (kind == EntryKind::reading) {
          parts.push_back(Part::humidity);
        }
        for (const Part part : parts) {
          const double x = 1 + static_cast<double>(n) / 7;
          if (part == Part::mass) e.mass = Mass::ounces(x);
          if (part == Part::length) e.length = Length::inches(x);
          if (part == Part::temperature) e.temperature = Temperature::celsius(x);
          if (part == Part::humidity) e.humidity = Percentage::percent(x);
          if (part == Part::uvi) e.uvi = UvIndex::index(x);
          if (part == Part::count) e.count = static_cast<int>(n);
          if (part == Part::item) e.item = fmt::format("item {}", n);
          if (part == Part::target) {
            const SubjectKind to = rule.targets.empty() ? SubjectKind::animal : rule.targets[0];
            e.target = {to, id_of(to)};
          }
          if (part == Part::strikes) e.strikes = strikable;
        }
        if (kind == EntryKind::note) strikable = e.id;
        entries.push_back(e);
      }
    }
  }
  return entries;
}

TEST_F(BookTest, EveryKindOfEntrySurvivesFullAndBare) {
  const Room room = full_room();
  const auto entries = entries_of_every_kind(room);
  EXPECT_GT(entries.size(), 2 * Words<EntryKind>::list.size());
  { book_of(room, entries); }
  const Book book = open();
  EXPECT_EQ(all_entries(book), entries);
  EXPECT_EQ(book.entry_count(), std::ssize(entries));
  for (const Entry& entry : entries) EXPECT_EQ(book.find_entry(entry.id), entry);
  EXPECT_THAT(book.verify(), IsEmpty());
}

/// A small room with an animal in it, and its keeper.
RoomBuilder small() {
  return RoomBuilder()
      .add<room::Keeper>("ann")
      .enclosure("tub")
      .animal("juniper", "corn_snake")
      .animal("moss", "crested_gecko");
}

TEST_F(BookTest, TheSameEntryAgainIsStoredBeforeAnotherWithItsIdIsAConflict) {
  RoomBuilder b = small().weighed("2026-11-20", "juniper", "500g");
  Book book = book_of(small());
  const Entry entry = b.entries()[0];
  {
    Change change = book.change();
    EXPECT_EQ(change.append(entry).value(), Stored::now);
    EXPECT_EQ(change.append(entry).value(), Stored::before);  // within one change
    change.commit();
  }
  Change change = book.change();
  EXPECT_EQ(change.append(entry).value(), Stored::before);
  const std::function<void(Entry&)> kChanges[] = {
      [](Entry& e) { e.mass = Mass::grams(501); },
      [](Entry& e) { e.at = e.at + Duration::seconds(1); },
      [](Entry& e) { e.subject.id = "moss"; },
      [](Entry& e) { e.note = "heavy"; },
      [](Entry& e) { e.by = room::KeeperId::trusted("ann"); },
      [](Entry& e) {
        e.kind = EntryKind::fed;
        e.mass.reset();
      },
  };
  for (const auto& make_other : kChanges) {
    Entry other = entry;
    make_other(other);
    const auto stored = change.append(other);
    ASSERT_FALSE(stored.ok());
    ASSERT_EQ(stored.problem().size(), 1u);
    EXPECT_EQ(stored.problem()[0].code, ProblemCode::conflict);
    EXPECT_EQ(stored.problem()[0].where.field, "id");
    EXPECT_EQ(stored.problem()[0].found, to_text(entry.id));
  }
  change.commit();
  EXPECT_EQ(all_entries(book), std::vector<Entry>{entry});
  EXPECT_THAT(book.verify(), IsEmpty());
}

TEST_F(BookTest, UnknownNamesAreProblemsEachWithItsField) {
  Book book = book_of(small());
  Change change = book.change();
  Entry entry;
  entry.id.bytes[15] = 1;
  entry.kind = EntryKind::moved;
  entry.subject = {SubjectKind::animal, "nobody"};
  entry.target = {SubjectKind::enclosure, "nowhere"};
  entry.by = room::KeeperId::trusted("nemo");
  const auto stored = change.append(entry);
  ASSERT_FALSE(stored.ok());
  std::vector<std::string> fields;
  for (const Problem& problem : stored.problem()) {
    EXPECT_EQ(problem.code, ProblemCode::unknown_name);
    fields.push_back(problem.where.field + "=" + problem.found);
  }
  EXPECT_THAT(fields, ElementsAre("animal=nobody", "target=nowhere", "by=nemo"));
  // An enclosure's id is no animal's, nor an animal's a keeper's.
  entry.subject.id = "tub";
  entry.target->id = "tub";
  entry.by = room::KeeperId::trusted("juniper");
  EXPECT_EQ(change.append(entry).problem().size(), 2u);
  entry.subject.id = "juniper";
  entry.by = room::KeeperId::trusted("ann");
  EXPECT_TRUE(change.append(entry).ok());
}

TEST_F(BookTest, NamesOfTheSameChangeAreKnown) {
  Book book = open();
  RoomBuilder b = small().weighed("2026-11-20", "juniper", "500g");
  Change change = book.change();
  EXPECT_EQ(change.append(b.entries()[0]).problem().at(0).code, ProblemCode::unknown_name);
  EXPECT_THAT(change.put_room(b.room()), IsEmpty());
  EXPECT_TRUE(change.append(b.entries()[0]).ok());
  change.commit();
  EXPECT_THAT(book.verify(), IsEmpty());
}

TEST_F(BookTest, EntriesThatBreakTheirRuleAreRefused) {
  Book book = book_of(small());
  Change change = book.change();
  Entry entry;
  entry.kind = EntryKind::weighed;
  entry.subject = {SubjectKind::animal, "juniper"};
  EXPECT_EQ(change.append(entry).problem().at(0).code, ProblemCode::missing);
  entry.mass = Mass::grams(0);
  EXPECT_EQ(change.append(entry).problem().at(0).code, ProblemCode::out_of_range);
  change.commit();
  EXPECT_EQ(book.entry_count(), 0);
}

// ---- Strikes -----------------------------------------------------------------------------------

TEST_F(BookTest, HistoryPassesOverWhatIsStruckAndTheListKeepsIt) {
  RoomBuilder b = small();
  b.weighed("2026-11-10", "juniper", "500g").weighed("2026-11-20", "juniper", "50g");
  const Uuid wrong = b.entries().back().id;
  b.strike_it("2026-11-21");
  const Book book = book_of(b);
  EXPECT_TRUE(book.is_struck(wrong));
  EXPECT_FALSE(book.is_struck(b.entries()[0].id));
  EXPECT_FALSE(book.is_struck(Uuid{}));
  const Subject juniper{SubjectKind::animal, "juniper"};
  const Recall recall[] = {{EntryKind::weighed, 2}, {EntryKind::struck, 2}};
  const auto history = book.history(recall, b.moment("2026-11-25"));
  ASSERT_EQ(history.all(juniper, EntryKind::weighed).size(), 1u);
  EXPECT_EQ(history.latest(juniper, EntryKind::weighed)->mass, Mass::grams(500));
  EXPECT_EQ(book.latest_about(juniper, 10).size(), 2u);
  EXPECT_EQ(all_entries(book).size(), 3u);
  // A strike holds even for a day before it was written: what was wrong was wrong all along.
  EXPECT_EQ(
      book.history(recall, b.moment("2026-11-20 18:00")).latest(juniper, EntryKind::weighed)->mass,
      Mass::grams(500));
}

TEST_F(BookTest, AStrikeOfAStrikeOrOfNothingIsRefused) {
  RoomBuilder b = small().weighed("2026-11-20", "juniper", "50g").strike_it("2026-11-21");
  Book book = book_of(b);
  Change change = book.change();
  Entry entry = b.entries()[1];
  entry.id.bytes[0] = 7;
  entry.strikes = b.entries()[1].id;
  auto stored = change.append(entry);
  ASSERT_FALSE(stored.ok());
  EXPECT_EQ(stored.problem()[0].code, ProblemCode::conflict);
  EXPECT_EQ(stored.problem()[0].where.field, "strikes");
  entry.strikes = entry.id;  // itself: not in the notebook
  stored = change.append(entry);
  ASSERT_FALSE(stored.ok());
  EXPECT_EQ(stored.problem()[0].code, ProblemCode::unknown_name);
  EXPECT_EQ(stored.problem()[0].where.field, "strikes");
  // Struck twice, and the first strike sent again: both fine.
  entry.strikes = b.entries()[0].id;
  EXPECT_EQ(change.append(entry).value(), Stored::now);
  EXPECT_EQ(change.append(b.entries()[1]).value(), Stored::before);
  change.commit();
  EXPECT_TRUE(book.is_struck(b.entries()[0].id));
  EXPECT_THAT(book.verify(), IsEmpty());
}

// ---- Reading the notebook ----------------------------------------------------------------------

/// What history() must give, by looking at every entry.
std::set<Uuid> brute_force(const std::vector<Entry>& entries, std::span<const Recall> recall,
                           Instant until) {
  std::set<Uuid> struck;
  for (const Entry& entry : entries) {
    if (entry.strikes) struck.insert(*entry.strikes);
  }
  std::map<std::pair<Subject, EntryKind>, std::vector<const Entry*>> lists;
  for (const Entry& entry : entries) {
    if (entry.at < until && !struck.contains(entry.id)) {
      lists[{entry.subject, entry.kind}].push_back(&entry);
    }
  }
  std::set<Uuid> found;
  for (auto& [about, list] : lists) {
    // Newest first; of one moment the one written later.
    std::stable_sort(list.begin(), list.end(),
                     [](const Entry* a, const Entry* b) { return a->at < b->at; });
    std::reverse(list.begin(), list.end());
    for (const Recall& wanted : recall) {
      if (wanted.kind != about.second) continue;
      for (int n = 0; n < std::ssize(list); ++n) {
        const Entry& entry = *list[static_cast<std::size_t>(n)];
        const bool recent = wanted.days > 0 && entry.at >= until - Duration::days(wanted.days);
        if (n < wanted.latest || recent) found.insert(entry.id);
      }
    }
  }
  return found;
}

TEST_F(BookTest, HistoryIsWhatLookingAtEveryEntryGives) {
  std::mt19937 random(20261125);
  const auto draw = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
  RoomBuilder b = small();
  const Instant end = b.moment("2026-11-25");
  const EntryKind kKinds[] = {EntryKind::weighed, EntryKind::fed, EntryKind::checked,
                              EntryKind::note};
  for (int i = 0; i < 600; ++i) {
    // Half days over 200 days: many at the same moment and at the edges of whole days.
    const std::string at = to_text(end - Duration::hours(12 * draw(400)));
    const EntryKind kind = kKinds[draw(4)];
    b.entry(at, kind, draw(2) == 0 ? "juniper" : "moss", [&](Entry& e) {
      if (kind == EntryKind::weighed) e.mass = Mass::grams(1 + draw(500));
      if (kind == EntryKind::checked) e.item = "mites";
    });
    if (draw(10) == 0) b.strike_it(at);
  }
  const Book book = book_of(b);
  for (int i = 0; i < 200; ++i) {
    const Instant until = end - Duration::hours(12 * draw(420) - 24);
    std::vector<Recall> recall;
    for (const EntryKind kind : kKinds) {
      if (draw(4) > 0) recall.push_back({kind, draw(5), draw(2) == 0 ? 0 : draw(100)});
    }
    std::set<Uuid> got;
    const auto history = book.history(recall, until);
    for (const Entry& entry : history.entries()) EXPECT_TRUE(got.insert(entry.id).second);
    EXPECT_EQ(got, brute_force(b.entries(), recall, until)) << "round " << i;
    EXPECT_EQ(history.until(), until);
  }
}

TEST_F(BookTest, HistoryStopsAtTwoThousandOfAKind) {
  RoomBuilder b = small();
  for (int i = 0; i < room::kMostRecalled + 100; ++i) {
    b.entry(to_text(b.moment("2026-11-20") + Duration::minutes(i)), EntryKind::fed, "juniper");
  }
  const Book book = book_of(b);
  const Recall recall[] = {{EntryKind::fed, 1, 30}};
  const auto history = book.history(recall, b.moment("2026-11-25"));
  const auto fed = history.all({SubjectKind::animal, "juniper"}, EntryKind::fed);
  ASSERT_EQ(fed.size(), 2000u);
  EXPECT_EQ(fed.back(), b.entries().back());  // the newest are kept
}

TEST_F(BookTest, LatestAboutIsNewestFirstOfAllKinds) {
  RoomBuilder b = small();
  b.weighed("2026-11-20", "juniper", "500g");
  b.entry("2026-11-22", EntryKind::fed, "juniper");
  b.entry("2026-11-21", EntryKind::note, "juniper");
  b.entry("2026-11-23", EntryKind::note, "moss");
  b.entry("2026-11-21", EntryKind::fed, "juniper");
  const Book book = book_of(b);
  const auto& e = b.entries();
  const Subject juniper{SubjectKind::animal, "juniper"};
  // Of the two at one moment the one with the greater id, which was written later.
  EXPECT_EQ(book.latest_about(juniper, 10), (std::vector<Entry>{e[1], e[4], e[2], e[0]}));
  EXPECT_EQ(book.latest_about(juniper, 2), (std::vector<Entry>{e[1], e[4]}));
  EXPECT_THAT(book.latest_about(juniper, 0), IsEmpty());
  EXPECT_THAT(book.latest_about({SubjectKind::animal, "nobody"}, 5), IsEmpty());
}

TEST_F(BookTest, EachEntryStopsWhenAsked) {
  RoomBuilder b = small();
  for (int i = 0; i < 5; ++i) b.entry("2026-11-20", EntryKind::fed, "juniper");
  const Book book = book_of(b);
  int seen = 0;
  book.each_entry([&](const Entry&) { return ++seen < 3; });
  EXPECT_EQ(seen, 3);
  EXPECT_FALSE(book.find_entry(Uuid{}).has_value());
}

// Found by these tests: a Day's recall was too short for what the models read.

TEST_F(BookTest, ADayKnowsEveryReadingOfTheWeek) {
  // climate: a reading not older than 7 days counts for its place. A logger writes many.
  RoomBuilder b = small().temperature("2026-11-19", "tub", "cool side", "30C");
  for (int i = 0; i < 100; ++i) {
    b.temperature(to_text(b.moment("2026-11-20") + Duration::hours(i)), "tub", "warm side", "28C");
  }
  const Book book = book_of(b);
  const auto history = book.history(room::recalled_for_a_day(), b.moment("2026-11-25"));
  EXPECT_EQ(history.all({SubjectKind::enclosure, "tub"}, EntryKind::reading).size(), 101u);
}

TEST_F(BookTest, ADayKnowsTheSamplesOfALongQuarantine) {
  // round: three faecal samples since quarantine began; its sheds are looked at every day.
  RoomBuilder b = small().entry("2026-06-01", EntryKind::quarantine_started, "juniper");
  b.checked("2026-06-02", "juniper", "faecal sample");
  for (int i = 0; i < 40; ++i) b.checked(to_text(date("2026-07-01") + i), "juniper", "shed");
  const Book book = book_of(b);
  const auto history = book.history(room::recalled_for_a_day(), b.moment("2026-11-25"));
  const auto checks = history.all({SubjectKind::animal, "juniper"}, EntryKind::checked);
  ASSERT_EQ(checks.size(), 41u);
  EXPECT_EQ(checks[0].item, "faecal sample");
}

TEST_F(BookTest, ADayKnowsWhatRestartedALongQuarantine) {
  // health/quarantine.h: moves, illness, sheds and turns of a year, however many came after.
  RoomBuilder b = small().entry("2026-01-10", EntryKind::quarantine_started, "juniper");
  b.entry("2026-01-20", EntryKind::ill, "juniper").entry("2026-02-01", EntryKind::shed, "juniper");
  for (int i = 0; i < 12; ++i) {
    const std::string on = to_text(date("2026-03-01") + 20 * i);
    b.moved(on, "juniper", "tub").entry(on, EntryKind::ill, "juniper");
    b.entry(on, EntryKind::recovered, "juniper").entry(on, EntryKind::shed, "juniper");
  }
  const Book book = book_of(b);
  const auto history = book.history(room::recalled_for_a_day(), b.moment("2026-11-25"));
  const room::Subject juniper{SubjectKind::animal, "juniper"};
  EXPECT_EQ(history.all(juniper, EntryKind::ill).size(), 13u);
  EXPECT_EQ(history.all(juniper, EntryKind::shed).size(), 13u);
  EXPECT_EQ(history.all(juniper, EntryKind::moved).size(), 12u);
  EXPECT_EQ(history.all(juniper, EntryKind::quarantine_started).size(), 1u);
}

TEST_F(BookTest, ADayKnowsTheNinetyDaysBeforeALatestWeighingOfNinetyDaysAgo) {
  RoomBuilder b = small();
  b.weighed(to_text(date("2026-11-25") - 180), "juniper", "500g");
  b.weighed(to_text(date("2026-11-25") - 100), "juniper", "460g");
  b.weighed(to_text(date("2026-11-25") - 90), "juniper", "440g");
  const Book book = book_of(b);
  const Instant end = Zone::named("Europe/Oslo").value().start_of(date("2026-11-26"));
  const auto history = book.history(room::recalled_for_a_day(), end);
  EXPECT_EQ(history.all({SubjectKind::animal, "juniper"}, EntryKind::weighed).size(), 3u);
}

TEST_F(BookTest, ADayKnowsTheMealsOfLastWinterAndTheShedsOfTwoYears) {
  // health: the gap of last winter's fast with the meal before it, sheds and brumations as pauses.
  RoomBuilder b = small();
  for (int days = 455; days > 0; days -= 5) {
    b.entry(to_text(date("2026-11-25") - days), EntryKind::fed, "juniper");
    b.entry(to_text(date("2026-11-25") - days), EntryKind::refused, "moss");
  }
  for (int days = 795; days > 0; days -= 53) {
    b.entry(to_text(date("2026-11-25") - days), EntryKind::shed, "juniper");
  }
  for (int days = 195; days > 0; days -= 13) {
    b.entry(to_text(date("2026-11-25") - days), EntryKind::droppings, "juniper");
  }
  const Book book = book_of(b);
  const Instant end = Zone::named("Europe/Oslo").value().start_of(date("2026-11-26"));
  const auto history = book.history(room::recalled_for_a_day(), end);
  const Subject juniper{SubjectKind::animal, "juniper"}, moss{SubjectKind::animal, "moss"};
  EXPECT_EQ(history.all(juniper, EntryKind::fed).size(), 91u);
  EXPECT_EQ(history.all(moss, EntryKind::refused).size(), 91u);
  EXPECT_EQ(history.all(juniper, EntryKind::shed).size(), 15u);
  EXPECT_EQ(history.all(juniper, EntryKind::droppings).size(), 15u);
}

// ---- Verify ------------------------------------------------------------------------------------

/// Ten entries, one of them struck, each with most of what an entry can hold.
RoomBuilder ten_entries() {
  RoomBuilder b = small();
  for (int i = 0; i < 8; ++i) {
    b.entry(to_text(date("2026-11-01") + i), EntryKind::fed, "juniper", [&](Entry& e) {
      e.mass = Mass::grams(30 + i);
      e.count = 2;
      e.item = "mouse";
      e.note = "n";
      e.by = room::KeeperId::trusted("ann");
    });
  }
  b.moved("2026-11-20", "juniper", "tub");
  return b.strike_it("2026-11-21");
}

TEST_F(BookTest, VerifyNoticesWhatAnotherProgramDid) {
  const struct {
    const char* name;
    std::string sql;
    std::string finds;
  } kCases[] = {
      {"a mass", "UPDATE entry SET mass_kg = 0.5 WHERE seq = 4", "was changed"},
      {"the last bit of a mass",
       "UPDATE entry SET mass_kg = mass_kg * (1 + 2.220446049250313e-16) WHERE seq = 4",
       "was changed"},
      {"a mass taken out", "UPDATE entry SET mass_kg = NULL WHERE seq = 4", "was changed"},
      {"a moment", "UPDATE entry SET at_ms = at_ms + 1 WHERE seq = 1", "was changed"},
      {"a count", "UPDATE entry SET count = 3 WHERE seq = 8", "was changed"},
      {"an item", "UPDATE entry SET item = 'rat' WHERE seq = 2", "was changed"},
      {"a note", "UPDATE entry SET note = NULL WHERE seq = 2", "was changed"},
      {"text moved from the item to the note",
       "UPDATE entry SET item = 'mous', note = 'en' WHERE seq = 2", "was changed"},
      {"a writer", "UPDATE entry SET keeper = NULL WHERE seq = 2", "was changed"},
      {"a kind",
       "UPDATE entry SET kind = (SELECT nr FROM entry_kind WHERE word = 'refused') WHERE seq = 3",
       "was changed"},
      {"a subject",
       "UPDATE entry SET subject = (SELECT nr FROM thing WHERE id = 'moss') WHERE seq = 3",
       "was changed"},
      {"a target",
       "UPDATE entry SET target = (SELECT nr FROM thing WHERE id = 'moss') WHERE seq = 9",
       "was changed"},
      {"a strike", "UPDATE entry SET strikes = (SELECT id FROM entry WHERE seq = 1) WHERE seq = 10",
       "was changed"},
      {"an id", "UPDATE entry SET id = x'000000000000000000000000000000f7' WHERE seq = 5",
       "was changed"},
      {"a link of the chain", "UPDATE entry SET chain = chain + 1 WHERE seq = 5", "was changed"},
      {"one of the middle removed", "DELETE FROM entry WHERE seq = 5", "number 5 is missing"},
      {"one of the middle removed and the others moved up",
       "DELETE FROM entry WHERE seq = 5; UPDATE entry SET seq = seq - 1 WHERE seq > 5;"
       "UPDATE notebook_end SET entries = 9",
       "was changed or taken out"},
      {"the first removed", "DELETE FROM entry WHERE seq = 1", "number 1 is missing"},
      {"the last removed", "DELETE FROM entry WHERE seq = 10",
       "9 entries, but 10 were written; the last were taken out"},
      {"the last removed and the count mended",
       "DELETE FROM entry WHERE seq = 10; UPDATE notebook_end SET entries = 9", "notebook"},
      {"all removed", "DELETE FROM entry WHERE seq = 10; DELETE FROM entry", "0 entries, but 10"},
      {"a pair swapped",
       "UPDATE entry SET seq = -3 WHERE seq = 3; UPDATE entry SET seq = 3 WHERE seq = 4;"
       "UPDATE entry SET seq = 4 WHERE seq = -3",
       "was changed"},
      {"one slipped in at the end",
       "INSERT INTO entry (seq, id, at_ms, kind, subject, chain) SELECT 11, "
       "x'000000000000000000000000000000f7', at_ms, kind, subject, 5 FROM entry WHERE seq = 1",
       "was changed"},
      {"the count", "UPDATE notebook_end SET entries = 11", "10 entries, but 11 were written"},
      {"the end of the chain", "UPDATE notebook_end SET chain = chain + 1", "notebook"},
      {"the end removed", "DELETE FROM notebook_end", "its end is missing"},
      {"a broken reference of a record",
       "UPDATE animal SET enclosure = 'nowhere' WHERE id = 'juniper'", "table animal refers"},
      {"a broken reference of an entry", "UPDATE entry SET keeper = 9999 WHERE seq = 2",
       "table entry refers"},
      {"a thing removed", "DELETE FROM thing WHERE id = 'juniper'", "about nothing in the book"},
      {"an entry against its rule", "UPDATE entry SET mass_kg = -1 WHERE seq = 2", "mass"},
      {"a word that no field has", "UPDATE animal SET sex = 'both' WHERE id = 'juniper'",
       "cannot be read"},
      {"a species that is not there", "UPDATE animal SET species = 'cat' WHERE id = 'juniper'",
       "room: animal \"juniper\""},
  };
  const RoomBuilder b = ten_entries();
  { book_of(b); }
  EXPECT_THAT(open().verify(), IsEmpty());
  for (const auto& c : kCases) {
    const std::string copy = path("copy.book");
    std::filesystem::copy_file(path(), copy, std::filesystem::copy_options::overwrite_existing);
    {
      RawFile raw(copy);
      raw.exec(kDropTriggers);
      raw.exec(c.sql);
    }
    const Book book = open("copy.book");
    EXPECT_THAT(book.verify(), Contains(HasSubstr(c.finds))) << c.name;
  }
}

TEST_F(BookTest, AnotherProgramsReplaceIsNoticedToo) {
  // SQLite's REPLACE deletes without asking the triggers unless recursive_triggers is on, which a
  // foreign program need not have set.
  const RoomBuilder b = ten_entries();
  { book_of(b); }
  {
    RawFile raw(path());
    raw.exec(
        "INSERT OR REPLACE INTO entry SELECT seq, id, at_ms, kind, subject, keeper, 0.5, length_m, "
        "temperature_k, humidity_share, uvi, count, item, target, strikes, note, chain FROM entry "
        "WHERE seq = 4");
  }
  EXPECT_THAT(open().verify(), Contains(HasSubstr("was changed")));
}

TEST_F(BookTest, TriggersRefuseChangesOfTheNotebook) {
  const RoomBuilder b = ten_entries();
  { book_of(b); }
  {
    RawFile raw(path());
    raw.exec("PRAGMA recursive_triggers = ON");  // as our own connections have it
    for (const char* sql :
         {"UPDATE entry SET note = 'x' WHERE seq = 1", "UPDATE entry SET seq = seq + 100",
          "DELETE FROM entry WHERE seq = 10", "DELETE FROM entry",
          "INSERT OR REPLACE INTO entry SELECT * FROM entry WHERE seq = 4",
          "REPLACE INTO entry SELECT 11, id, at_ms, kind, subject, keeper, mass_kg, length_m, "
          "temperature_k, humidity_share, uvi, count, item, target, strikes, note, chain FROM "
          "entry WHERE seq = 4"}) {
      EXPECT_THAT(raw.try_exec(sql), HasSubstr("the notebook is ink")) << sql;
    }
  }
  const Book book = open();
  EXPECT_EQ(all_entries(book), b.entries());
  EXPECT_THAT(book.verify(), IsEmpty());
}

// ---- Backup ------------------------------------------------------------------------------------

TEST_F(BookTest, ABackupIsTheWholeBook) {
  const RoomBuilder b = ten_entries();
  const Book book = book_of(b);
  const auto copied = book.back_up_to(path("copy.book"));
  ASSERT_TRUE(copied.ok());
  EXPECT_EQ(*copied, path("copy.book"));
  const Book copy = open("copy.book");
  EXPECT_TRUE(copy.room() == book.room());
  EXPECT_EQ(all_entries(copy), all_entries(book));
  EXPECT_THAT(copy.verify(), IsEmpty());
}

TEST_F(BookTest, ABackupOfAnEmptyBook) {
  const Book book = open();
  ASSERT_TRUE(book.back_up_to(path("copy.book")).ok());
  EXPECT_THAT(all_entries(open("copy.book")), IsEmpty());
}

TEST_F(BookTest, ABackupRefusesAFileThatIsThere) {
  const Book book = book_of(ten_entries());
  {
    RoomBuilder other = small();
    other.info([](auto& i) { i.name = "Other"; });
    Book there = open("other.book");
    put(there, other.room());
  }
  std::ofstream(path("text")) << "A letter to the vet, longer than any header of a database.\n"
                              << std::string(200, '.');
  for (const char* name : {"other.book", "text", "room.book"}) {
    std::ifstream in(path(name), std::ios::binary);
    const std::string before(std::istreambuf_iterator<char>(in), {});
    const auto copied = book.back_up_to(path(name));
    ASSERT_FALSE(copied.ok()) << name;
    EXPECT_EQ(copied.problem().code, ProblemCode::conflict) << name;
    EXPECT_EQ(copied.problem().where.file, path(name));
    std::ifstream again(path(name), std::ios::binary);
    EXPECT_EQ(std::string(std::istreambuf_iterator<char>(again), {}), before) << name;
  }
  EXPECT_EQ(open("other.book").room().info.name, "Other");
  EXPECT_THAT(book.verify(), IsEmpty());
}

TEST_F(BookTest, ABackupIntoNowhereIsAFailureOfTheMachine) {
  const Book book = open();
  EXPECT_THROW((void)book.back_up_to(path("no/such/folder.book")), MachineFailure);
}

// ---- Opening -----------------------------------------------------------------------------------

TEST_F(BookTest, WhatIsNotABookIsRefused) {
  std::ofstream(path("text")) << "A letter to the vet, longer than any header of a database.\n"
                              << std::string(200, '.');
  std::ofstream(path("short")) << "to do";
  std::ofstream(path("empty"));
  RawFile(path("foreign")).exec("CREATE TABLE t (x); INSERT INTO t VALUES (1)");
  RawFile(path("marked")).exec("PRAGMA application_id = 42; CREATE TABLE t (x)");
  RawFile(path("numbered")).exec("PRAGMA user_version = 1");
  const struct {
    const char* name;
    ProblemCode code;
  } kCases[] = {{"nothing", ProblemCode::missing},    {"text", ProblemCode::not_a_book},
                {"short", ProblemCode::not_a_book},   {"empty", ProblemCode::not_a_book},
                {"foreign", ProblemCode::not_a_book}, {"marked", ProblemCode::not_a_book},
                {"numbered", ProblemCode::not_a_book}};
  for (const auto& c : kCases) {
    const auto book = Book::open(path(c.name));
    ASSERT_FALSE(book.ok()) << c.name;
    EXPECT_EQ(book.problem().code, c.code) << c.name;
    EXPECT_EQ(book.problem().where.file, path(c.name));
  }
  EXPECT_FALSE(std::filesystem::exists(path("nothing")));
  // With `create` an empty file becomes a book, what holds something else does not.
  OpenOptions create;
  create.create = true;
  EXPECT_TRUE(Book::open(path("empty"), create).ok());
  for (const char* name : {"text", "short", "foreign", "marked", "numbered"}) {
    const auto book = Book::open(path(name), create);
    ASSERT_FALSE(book.ok()) << name;
    EXPECT_EQ(book.problem().code, ProblemCode::not_a_book) << name;
  }
  RawFile foreign(path("foreign"));
  EXPECT_EQ(foreign.try_exec("INSERT INTO t VALUES (2)"), "");
  EXPECT_THAT(foreign.try_exec("SELECT * FROM entry"), HasSubstr("no such table"));
}

TEST_F(BookTest, ABookOfANewerVersionIsRefused) {
  { open(); }
  RawFile(path()).exec("PRAGMA user_version = 999");
  const auto book = Book::open(path());
  ASSERT_FALSE(book.ok());
  EXPECT_EQ(book.problem().code, ProblemCode::too_new);
}

/// What each step from one form to the next added.
constexpr const char* kDropSecondForm = "ALTER TABLE room DROP COLUMN electricity_price;";
constexpr const char* kDropThirdForm =
    "DROP TABLE food;"
    "ALTER TABLE jar DROP COLUMN calcium_share;"
    "ALTER TABLE jar DROP COLUMN vitamin_d3_iu_per_g;"
    "ALTER TABLE jar DROP COLUMN retinol_iu_per_g;"
    "ALTER TABLE jar DROP COLUMN carotenoid_iu_per_g;"
    "ALTER TABLE jar DROP COLUMN vitamin_e_iu_per_g;"
    "ALTER TABLE supply DROP COLUMN food;"
    "ALTER TABLE supply DROP COLUMN piece_mass_kg;";

constexpr const char* kDropFourthForm =
    "DROP TABLE appliance;"
    "ALTER TABLE room DROP COLUMN country;"
    "ALTER TABLE socket DROP COLUMN plugged_into;"
    "ALTER TABLE socket DROP COLUMN capacity_w;"
    "ALTER TABLE socket DROP COLUMN residual_current_device;"
    "ALTER TABLE socket DROP COLUMN drip_loops;"
    "ALTER TABLE timer DROP COLUMN capacity_w;"
    "ALTER TABLE thermostat DROP COLUMN capacity_w;"
    "ALTER TABLE enclosure DROP COLUMN mesh_open_share;"
    "ALTER TABLE heater DROP COLUMN behind;"
    "ALTER TABLE heater DROP COLUMN air_gap_m;"
    "ALTER TABLE heater DROP COLUMN nearest;"
    "ALTER TABLE heater DROP COLUMN clearance_m;"
    "ALTER TABLE heater DROP COLUMN within_reach;"
    "ALTER TABLE lamp DROP COLUMN length_m;"
    "ALTER TABLE lamp DROP COLUMN beam_deg;"
    "ALTER TABLE lamp DROP COLUMN reflector;"
    "ALTER TABLE lamp DROP COLUMN uv_table;"
    "ALTER TABLE lamp DROP COLUMN from_left_m;"
    "ALTER TABLE lamp DROP COLUMN from_front_m;"
    "ALTER TABLE lamp DROP COLUMN above_floor_m;"
    "ALTER TABLE lamp DROP COLUMN nearest;"
    "ALTER TABLE lamp DROP COLUMN clearance_m;"
    "ALTER TABLE lamp DROP COLUMN within_reach;"
    "ALTER TABLE safety_device DROP COLUMN expires;"
    "ALTER TABLE safety_device DROP COLUMN by_the_door;";

// A book of the third form, as made before lamps had places and sockets strips.
TEST_F(BookTest, ABookOfTheThirdFormKeepsItsLampsAndCanTakeTheirPlaces) {
  room::Room room;
  room.info.name = "Old";
  room.info.zone = "UTC";
  room::Circuit circuit;
  circuit.id = room::CircuitId::trusted("west");
  room.circuits = {circuit};
  room::Socket wall;
  wall.id = room::SocketId::trusted("wall");
  wall.circuit = circuit.id;
  room.sockets = {wall};
  room::Lamp lamp;
  lamp.id = room::LampId::trusted("tube");
  lamp.kind = room::LampKind::tube_t5;
  lamp.socket = wall.id;
  lamp.uvb = true;
  room.lamps = {lamp};
  { Book book = book_of(room); }
  RawFile(path()).exec(std::string(kDropFourthForm) + "PRAGMA user_version = 3");
  {
    auto book = Book::open(path());
    ASSERT_TRUE(book.ok());
    EXPECT_TRUE(book->room() == room);
    EXPECT_THAT(book->verify(), IsEmpty());
    room.info.country = "NO";
    room.lamps[0].uv_table = room::UvTable::parse("20cm 4.1UVI + 30cm 2.2UVI").value();
    room.lamps[0].above_floor = Length::centimetres(45);
    room::Socket strip;
    strip.id = room::SocketId::trusted("strip");
    strip.plugged_into = wall.id;
    strip.capacity = Power::watts(2300);
    room.sockets.insert(room.sockets.begin(), strip);
    room::Appliance pump;
    pump.id = room::ApplianceId::trusted("pump");
    pump.kind = room::ApplianceKind::pump;
    pump.socket = strip.id;
    room.appliances = {pump};
    Change change = book->change();
    ASSERT_THAT(change.put_room(room), IsEmpty());
    change.commit();
  }
  const auto book = Book::open(path());
  EXPECT_TRUE(book->room() == room);
}

// A book of the second form, as made before jars had labels and rooms foods of their own.
TEST_F(BookTest, ABookOfTheSecondFormKeepsItsJarsAndCanTakeTheirLabels) {
  room::Room room;
  room.info.name = "Old";
  room::Jar jar;
  jar.id = room::JarId::trusted("calcium");
  jar.opened = date("2026-03-01");
  room.jars = {jar};
  room::Supply mice;
  mice.id = room::SupplyId::trusted("mice");
  mice.name = "mice";
  room.supplies = {mice};
  { Book book = book_of(room); }
  RawFile(path()).exec(std::string(kDropFourthForm) + kDropThirdForm + "PRAGMA user_version = 2");
  {
    auto book = Book::open(path());
    ASSERT_TRUE(book.ok());
    EXPECT_TRUE(book->room() == room);
    EXPECT_THAT(book->verify(), IsEmpty());
    room.jars[0].calcium = Percentage::percent(38);
    room.jars[0].vitamin_d3_iu_per_g = 20;
    room.supplies[0].food = room::FoodId::trusted("farm-mouse");
    room::OwnFood food;
    food.id = room.supplies[0].food;
    food.name = "the farm's mice";
    room.own_foods = {food};
    Change change = book->change();
    ASSERT_THAT(change.put_room(room), IsEmpty());
    change.commit();
  }
  const auto book = Book::open(path());
  ASSERT_TRUE(book.ok());
  EXPECT_TRUE(book->room() == room);
  EXPECT_THAT(book->verify(), IsEmpty());
}

// A book of the first form, as made before electricity had a price: it opens, keeps its records and
// their seal, and can take the new field.
TEST_F(BookTest, ABookOfTheFirstFormIsBroughtToThePresentOne) {
  {
    Book book = open();
    room::Room room;
    room.info.name = "Old";
    Change change = book.change();
    ASSERT_THAT(change.put_room(room), IsEmpty());
    change.commit();
  }
  RawFile(path()).exec(std::string(kDropFourthForm) + kDropSecondForm + kDropThirdForm +
                       "PRAGMA user_version = 1");
  {
    auto book = Book::open(path());
    ASSERT_TRUE(book.ok());
    EXPECT_EQ(book->room().info.name, "Old");
    EXPECT_EQ(book->room().info.electricity_price, std::nullopt);
    EXPECT_THAT(book->verify(), IsEmpty());
    room::Room room = book->room();
    room.info.electricity_price = 0.25;
    Change change = book->change();
    ASSERT_THAT(change.put_room(room), IsEmpty());
    change.commit();
  }
  const auto book = Book::open(path());
  ASSERT_TRUE(book.ok());
  EXPECT_EQ(book->room().info.electricity_price, 0.25);
}

TEST_F(BookTest, AFolderIsNoBook) {
  const auto book = Book::open(folder_.string());
  ASSERT_FALSE(book.ok());
  OpenOptions create;
  create.create = true;
  EXPECT_THROW((void)Book::open(folder_.string(), create), MachineFailure);
}

TEST_F(BookTest, OpeningAgainKeepsTheKindsOfEntryAndCreateChangesNothing) {
  const RoomBuilder b = ten_entries();
  { book_of(b); }
  for (int i = 0; i < 3; ++i) {
    const Book book = open();
    EXPECT_EQ(all_entries(book), b.entries());
  }
}

TEST_F(BookTest, AnUnknownKindOfEntryIsDamage) {
  { open(); }
  RawFile(path()).exec("INSERT INTO entry_kind (word) VALUES ('sang')");
  EXPECT_THROW((void)Book::open(path()), DamagedBook);
}

TEST_F(BookTest, OneChangeAtATimeElseTheOtherWaitsAndSaysSo) {
  Book book = book_of(small());
  OpenOptions hasty;
  hasty.patience = Duration::seconds(0.05);
  Book other = std::move(Book::open(path(), hasty)).value();
  {
    Change change = book.change();
    EXPECT_THROW((void)other.change(), MachineFailure);
    EXPECT_TRUE(other.room() == small().room());  // reading goes on
  }
  RoomBuilder b = small().weighed("2026-11-20", "juniper", "500g");
  Change change = other.change();
  EXPECT_TRUE(change.append(b.entries()[0]).ok());
  change.commit();
  EXPECT_EQ(book.entry_count(), 1);
}

}  // namespace
}  // namespace warmside::book
