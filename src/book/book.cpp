#include "book/book.h"

#include <SQLiteCpp/Backup.h>
#include <SQLiteCpp/SQLiteCpp.h>
#include <SQLiteCpp/Savepoint.h>
#include <fmt/format.h>
#include <sqlite3.h>
#include <xxhash.h>

#include <bit>
#include <cstring>
#include <limits>
#include <map>
#include <set>
#include <unordered_map>

#include "book/migrations.h"
#include "book/records_sql.h"
#include "book/room_file.h"
#include "room/look_up.h"

namespace warmside::book {
namespace {

using room::Entry;
using room::EntryKind;
using room::Subject;
using room::SubjectKind;

// "WARM": marks the file as ours (SQLite's application_id).
constexpr int kApplicationId = 0x5741524d;
// STRICT tables came with 3.37; Debian's package dependency promises less.
constexpr int kOldestSqlite = 3037000;

constexpr const char* kEntryColumns =
    "e.id, e.at_ms, e.kind, e.subject, e.keeper, e.mass_kg, e.length_m, e.temperature_k, "
    "e.humidity_share, e.uvi, e.count, e.item, e.target, e.strikes, e.note";

constexpr const char* kUnchanged = "nothing was changed";

/// Runs a step and turns SQLite's exceptions into ours. `outcome` says what a failure leaves.
template <class Step>
auto translated(const std::string& path, Step step, const char* outcome = kUnchanged) {
  try {
    return step();
  } catch (const SQLite::Exception& e) {
    const int code = e.getErrorCode() & 0xff;
    if (code == SQLITE_CORRUPT || code == SQLITE_NOTADB) {
      throw DamagedBook(fmt::format("{}: the book is damaged ({})", path, e.what()));
    }
    if (code == SQLITE_BUSY || code == SQLITE_LOCKED) {
      throw MachineFailure(
          fmt::format("{}: another program is writing to the book; {}, try again", path, outcome));
    }
    if (code == SQLITE_FULL) {
      throw MachineFailure(fmt::format("{}: the disk is full; {}", path, outcome));
    }
    if (code == SQLITE_READONLY || code == SQLITE_PERM) {
      throw MachineFailure(fmt::format("{}: no permission to write; {}", path, outcome));
    }
    throw MachineFailure(fmt::format("{}: {}; {}", path, e.what(), outcome));
  }
}

/// While it lives, all reading sees the book as of one moment. Inside a change that is the change's
/// own view already.
class Snapshot {
 public:
  explicit Snapshot(SQLite::Database& db) {
    if (sqlite3_get_autocommit(db.getHandle()) != 0) transaction_.emplace(db);
  }

 private:
  std::optional<SQLite::Transaction> transaction_;  // ends by rolling back: nothing was written
};

/// Mixes one entry into the chain of all before it (XXH3, 64 bits: against accidents and stray
/// hands, not against forgers). The order and form of the parts is part of the file format.
class Chain {
 public:
  explicit Chain(std::int64_t start) : value_(std::bit_cast<std::uint64_t>(start)) {}
  std::int64_t value() const { return std::bit_cast<std::int64_t>(value_); }

  struct Row {
    const Uuid& id;
    std::int64_t at_ms, kind, subject, keeper, target;  // 0: none
    const Entry& entry;
  };

  void add(const Row& row) {
    buffer_.clear();
    put(value_);
    buffer_.append(reinterpret_cast<const char*>(row.id.bytes.data()), row.id.bytes.size());
    for (const std::int64_t n : {row.at_ms, row.kind, row.subject, row.keeper, row.target}) put(n);
    const Entry& e = row.entry;
    put_optional(e.mass ? std::optional(e.mass->kilograms()) : std::nullopt);
    put_optional(e.length ? std::optional(e.length->metres()) : std::nullopt);
    put_optional(e.temperature ? std::optional(e.temperature->kelvin()) : std::nullopt);
    put_optional(e.humidity ? std::optional(e.humidity->share()) : std::nullopt);
    put_optional(e.uvi ? std::optional(e.uvi->index()) : std::nullopt);
    put_optional(e.count ? std::optional(static_cast<double>(*e.count)) : std::nullopt);
    put_text(e.item);
    put_text(e.note);
    if (e.strikes) {
      buffer_.append(reinterpret_cast<const char*>(e.strikes->bytes.data()),
                     e.strikes->bytes.size());
    }
    value_ = XXH3_64bits(buffer_.data(), buffer_.size());
  }

 private:
  template <class T>
  void put(T value) {
    char bytes[sizeof(T)];
    std::memcpy(bytes, &value, sizeof(T));
    buffer_.append(bytes, sizeof(T));
  }
  void put_optional(std::optional<double> value) {
    buffer_ += value ? '+' : '-';
    if (value) put(*value);
  }
  void put_text(const std::string& text) {
    put(text.size());
    buffer_ += text;
  }

  std::uint64_t value_;
  std::string buffer_;
};

/// What records_seal holds.
std::int64_t hash_of(const room::Room& room) {
  const std::string text = write_room_file(room);
  return std::bit_cast<std::int64_t>(XXH3_64bits(text.data(), text.size()));
}

static_assert(std::endian::native == std::endian::little,
              "the chain's form assumes little-endian numbers");

}  // namespace

struct Book::State {
  std::string path;
  OpenOptions options;
  std::unique_ptr<SQLite::Database> db;
  bool failed = false;  // a write failed: nothing more is done with this connection
  std::map<EntryKind, int> kind_numbers;  // as this file numbers them
  std::map<int, EntryKind> kinds;
  bool changing = false;

  SQLite::Database& database() const {
    if (failed) {
      throw MachineFailure(path +
                           ": the book was closed after a failed write; mend the disk, then open "
                           "it again");
    }
    return *db;
  }

  /// For steps that only read.
  template <class Step>
  auto reading(Step step) const {
    return translated(path, [&] { return step(database()); });
  }

  /// For steps that write: a failure of the disk ends the use of this connection. So does any
  /// failure on which SQLite gave up the whole change (no memory, for one): what came after would
  /// be written piece by piece.
  template <class Step>
  auto writing(Step step, const char* outcome = kUnchanged) {
    return translated(
        path,
        [&] {
          SQLite::Database& open = database();
          try {
            return step(open);
          } catch (const SQLite::Exception& e) {
            const int code = e.getErrorCode() & 0xff;
            failed = code == SQLITE_IOERR || code == SQLITE_FULL || code == SQLITE_CORRUPT ||
                     (changing && sqlite3_get_autocommit(open.getHandle()) != 0);
            throw;
          }
        },
        outcome);
  }

  std::int64_t pragma(const char* name) const {
    return db->execAndGet(fmt::format("PRAGMA {}", name)).getInt64();
  }

  void migrate();
  void load_kinds();
  Entry entry_from(SQLite::Statement& row, const std::map<std::int64_t, Subject>& things) const;
  Entry entry_from_columns(SQLite::Statement& row,
                           const std::map<std::int64_t, Subject>& things) const;
  std::map<std::int64_t, Subject> things() const;
  room::Room read_room() const;
  std::optional<std::int64_t> number_of(SubjectKind kind, const std::string& id) const;
};

Book::Book(std::unique_ptr<State> state) : state_(std::move(state)) {}
Book::Book(Book&&) noexcept = default;
Book& Book::operator=(Book&&) noexcept = default;
Book::~Book() = default;

void Book::State::load_kinds() {
  SQLite::Statement query(*db, "SELECT nr, word FROM entry_kind");
  while (query.executeStep()) {
    const auto kind = from_word<EntryKind>(query.getColumn(1).getText());
    if (!kind) throw DamagedBook(path + ": unknown kind of entry in the book");
    kind_numbers[*kind] = query.getColumn(0).getInt();
    kinds[query.getColumn(0).getInt()] = *kind;
  }
}

/// Brings the file to the present form, one transaction for each step, and makes sure that it
/// knows every kind of entry.
void Book::State::migrate() {
  const auto migrations = all_migrations();
  for (auto version = pragma("user_version"); version < std::ssize(migrations); ++version) {
    SQLite::Transaction step(*db, SQLite::TransactionBehavior::IMMEDIATE);
    // Another program may have been faster while we waited for the lock.
    if (pragma("user_version") != version) continue;
    db->exec(std::string(migrations[static_cast<std::size_t>(version)]));
    db->exec(fmt::format("PRAGMA user_version = {}", version + 1));
    if (version == 0) db->exec(fmt::format("PRAGMA application_id = {}", kApplicationId));
    step.commit();
  }
  const auto known = db->execAndGet("SELECT count(*) FROM entry_kind").getInt();
  if (known < static_cast<int>(Words<EntryKind>::list.size())) {
    SQLite::Transaction step(*db, SQLite::TransactionBehavior::IMMEDIATE);
    for (const auto& kind_word : Words<EntryKind>::list) {
      SQLite::Statement insert(*db, "INSERT OR IGNORE INTO entry_kind (word) VALUES (?)");
      insert.bind(1, std::string(kind_word));
      insert.exec();
    }
    step.commit();
  }
}

Result<Book> Book::open(const std::string& path, const OpenOptions& options) {
  WS_CHECK(sqlite3_libversion_number() >= kOldestSqlite);
  const auto refuse = [&](ProblemCode code, std::string what, std::string expected) {
    return Problem{code, std::move(what), {path, 0, ""}, std::move(expected), ""};
  };
  auto state = std::make_unique<State>();
  state->path = path;
  state->options = options;
  try {
    const int flags = SQLite::OPEN_READWRITE | (options.create ? SQLite::OPEN_CREATE : 0);
    const int patience_ms = static_cast<int>(options.patience.seconds() * 1000);
    state->db = std::make_unique<SQLite::Database>(path, flags, patience_ms, options.vfs);
    {
      SQLite::Transaction snapshot(*state->db);  // another program may be making the book just now
      const auto version = state->pragma("user_version");
      const auto owner = state->pragma("application_id");
      const bool blank = version == 0 && owner == 0 &&
                         state->db->execAndGet("SELECT count(*) FROM sqlite_schema").getInt() == 0;
      if (blank && !options.create) {
        return refuse(ProblemCode::not_a_book, "the file is empty, not a room book",
                      "a book made by `warmside import` or `warmside demo`");
      }
      if (!blank && owner != kApplicationId) {
        return refuse(ProblemCode::not_a_book, "a database, but not a room book",
                      "a book made by `warmside import` or `warmside demo`");
      }
      if (version > std::ssize(all_migrations())) {
        return refuse(ProblemCode::too_new, "a newer Warmside wrote this book",
                      "a Warmside at least as new as the book");
      }
    }
    return translated(path, [&]() -> Result<Book> {
      SQLite::Database& db = *state->db;
      db.exec("PRAGMA journal_mode = WAL");
      db.exec(fmt::format("PRAGMA synchronous = {}", static_cast<int>(options.durability)));
      db.exec(
          "PRAGMA foreign_keys = ON; PRAGMA recursive_triggers = ON; PRAGMA trusted_schema = OFF;"
          "PRAGMA cell_size_check = ON");
      db.exec(fmt::format("PRAGMA cache_size = -{}", options.cache_kib));
      if (db.execAndGet("PRAGMA journal_mode").getString() != "wal") {
        throw MachineFailure(path +
                             ": this file system cannot keep a write-ahead log, as some network "
                             "folders cannot; keep the book on a disk of this computer");
      }
      WS_CHECK(state->pragma("synchronous") == static_cast<int>(options.durability));
      WS_CHECK(state->pragma("foreign_keys") == 1);
      // After a failed sync Linux goes on showing pages that never reached the disk, and a second
      // sync "succeeds" (fsync(2), NOTES). A log found here may hold such pages, and what is
      // appended to it would be lost with them in a power cut. Moved into the book file it is
      // written anew.
      if (sqlite3_db_readonly(db.getHandle(), "main") == 0) db.exec("PRAGMA wal_checkpoint");
      state->migrate();
      state->load_kinds();
      return Book(std::move(state));
    });
  } catch (const SQLite::Exception& e) {
    const int code = e.getErrorCode() & 0xff;
    if (code == SQLITE_NOTADB || code == SQLITE_CORRUPT) {
      return refuse(ProblemCode::not_a_book, "not a room book, or a damaged one",
                    "a book made by `warmside import` or `warmside demo`");
    }
    if (code == SQLITE_CANTOPEN && !options.create) {
      return refuse(ProblemCode::missing, "no room book here, or no permission to open it",
                    "a book made by `warmside import` or `warmside demo`");
    }
    return translated(path, [&]() -> Result<Book> { throw; });
  }
}

std::map<std::int64_t, Subject> Book::State::things() const {
  std::map<std::int64_t, Subject> things;
  SQLite::Statement query(database(), "SELECT nr, kind, id FROM thing");
  while (query.executeStep()) {
    const auto kind = from_word<SubjectKind>(query.getColumn(1).getText());
    // Keepers, species, circuits, ... are things too, but no entry is about them; a keeper's id is
    // wanted all the same.
    things.emplace(query.getColumn(0).getInt64(),
                   Subject{kind.value_or(SubjectKind::room), query.getColumn(2).getString()});
  }
  return things;
}

std::optional<std::int64_t> Book::State::number_of(SubjectKind kind, const std::string& id) const {
  SQLite::Statement query(database(), "SELECT nr FROM thing WHERE kind = ? AND id = ?");
  query.bind(1, std::string(word(kind)));
  query.bind(2, id);
  if (!query.executeStep()) return std::nullopt;
  return query.getColumn(0).getInt64();
}

Entry Book::State::entry_from(SQLite::Statement& row,
                              const std::map<std::int64_t, Subject>& things) const {
  try {
    return entry_from_columns(row, things);
  } catch (const SQLite::Exception&) {
    throw;
  } catch (const DamagedBook&) {
    throw;
  } catch (const std::runtime_error& e) {
    throw DamagedBook(fmt::format("{}: an entry cannot be read ({})", path, e.what()));
  }
}

Entry Book::State::entry_from_columns(SQLite::Statement& row,
                                      const std::map<std::int64_t, Subject>& things) const {
  const auto uuid = [&](int column) {
    Uuid id;
    const SQLite::Column blob = row.getColumn(column);
    if (blob.getBytes() != static_cast<int>(id.bytes.size())) {
      throw DamagedBook(path + ": an entry id of the wrong length");
    }
    std::memcpy(id.bytes.data(), blob.getBlob(), id.bytes.size());
    return id;
  };
  const auto thing = [&](int column) -> const Subject& {
    const auto at = things.find(row.getColumn(column).getInt64());
    if (at == things.end()) throw DamagedBook(path + ": an entry about nothing in the book");
    return at->second;
  };
  Entry e;
  e.id = uuid(0);
  e.at = Instant::unix_ms(row.getColumn(1).getInt64());
  const auto kind = kinds.find(row.getColumn(2).getInt());
  if (kind == kinds.end()) throw DamagedBook(path + ": an entry of an unknown kind");
  e.kind = kind->second;
  e.subject = thing(3);
  if (!row.isColumnNull(4)) e.by = room::KeeperId::trusted(thing(4).id);
  read_column(row.getColumn(5), e.mass);
  read_column(row.getColumn(6), e.length);
  read_column(row.getColumn(7), e.temperature);
  read_column(row.getColumn(8), e.humidity);
  read_column(row.getColumn(9), e.uvi);
  read_column(row.getColumn(10), e.count);
  if (!row.isColumnNull(11)) e.item = row.getColumn(11).getString();
  if (!row.isColumnNull(12)) e.target = thing(12);
  if (!row.isColumnNull(13)) e.strikes = uuid(13);
  if (!row.isColumnNull(14)) e.note = row.getColumn(14).getString();
  return e;
}

room::Room Book::State::read_room() const {
  return reading([&](SQLite::Database& open) {
    room::Room room;
    const Snapshot snapshot(open);
    const auto read_fields = [&](SQLite::Statement& row, int first, auto& record) {
      using Record = std::remove_cvref_t<decltype(record)>;
      int at = first;
      Record::describe(record, [&](const char*, room::Need, auto& field, const char*) {
        read_column(row.getColumn(at++), field);
      });
    };
    try {
      SQLite::Statement info(open, fmt::format("SELECT {} FROM room",
                                               fmt::join(column_names<room::RoomInfo>(), ", ")));
      if (info.executeStep()) read_fields(info, 0, room.info);
      room::Room::for_each_kind(room, [&](auto& records) {
        using Record = typename std::remove_cvref_t<decltype(records)>::value_type;
        SQLite::Statement query(
            open, fmt::format("SELECT id, {} FROM \"{}\" ORDER BY id",
                              fmt::join(column_names<Record>(), ", "), Record::kWord));
        while (query.executeStep()) {
          Record record{};
          record.id = decltype(record.id)::trusted(query.getColumn(0).getString());
          read_fields(query, 1, record);
          records.push_back(std::move(record));
        }
      });
    } catch (const SQLite::Exception&) {
      throw;
    } catch (const std::runtime_error& e) {
      throw DamagedBook(fmt::format("{}: a record cannot be read ({})", path, e.what()));
    }
    return room;
  });
}

room::Room Book::room() const {
  return state_->read_room();
}

room::History Book::history(std::span<const room::Recall> recall, Instant until) const {
  return state_->reading([&](SQLite::Database& db) {
    std::vector<Entry> entries;
    const Snapshot snapshot(db);
    const auto things = state_->things();
    SQLite::Statement query(
        db, fmt::format("SELECT {} FROM entry e WHERE e.subject = ? AND e.kind = ? AND e.at_ms < ? "
                        "AND NOT EXISTS (SELECT 1 FROM entry s WHERE s.strikes = e.id) "
                        "ORDER BY e.at_ms DESC, e.seq DESC LIMIT ?",
                        kEntryColumns));
    for (const auto& [nr, subject] : things) {
      for (const room::Recall& wanted : recall) {
        const auto& subjects = room::rule_of(wanted.kind).subjects;
        if (!subjects.empty() &&
            std::find(subjects.begin(), subjects.end(), subject.kind) == subjects.end()) {
          continue;
        }
        const auto kind = state_->kind_numbers.find(wanted.kind);
        if (kind == state_->kind_numbers.end()) continue;
        const Instant since = until - Duration::days(wanted.days);
        query.bind(1, nr);
        query.bind(2, kind->second);
        query.bind(3, until.unix_ms());
        query.bind(4, wanted.days > 0 ? room::kMostRecalled : wanted.latest);
        for (int n = 0; query.executeStep(); ++n) {
          if (n >= wanted.latest && query.getColumn(1).getInt64() < since.unix_ms()) break;
          entries.push_back(state_->entry_from(query, things));
        }
        query.reset();
      }
    }
    return room::History(std::move(entries), until);
  });
}

std::vector<Entry> Book::latest_about(const Subject& subject, int most) const {
  return state_->reading([&](SQLite::Database& db) {
    std::vector<Entry> entries;
    const auto nr = state_->number_of(subject.kind, subject.id);
    if (!nr) return entries;
    const auto things = state_->things();
    // Newest of each kind first, then the newest of those: each step is a seek in the index.
    SQLite::Statement query(db, fmt::format("SELECT {} FROM entry e WHERE e.subject = ? AND "
                                            "e.kind = ? ORDER BY e.at_ms DESC, e.seq DESC LIMIT ?",
                                            kEntryColumns));
    for (const auto& [kind, number] : state_->kind_numbers) {
      query.bind(1, *nr);
      query.bind(2, number);
      query.bind(3, most);
      while (query.executeStep()) entries.push_back(state_->entry_from(query, things));
      query.reset();
    }
    std::sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) {
      return std::tie(b.at, b.id) < std::tie(a.at, a.id);
    });
    if (std::ssize(entries) > most) entries.resize(static_cast<std::size_t>(most));
    return entries;
  });
}

void Book::each_entry(const std::function<bool(const Entry&)>& visit) const {
  state_->reading([&](SQLite::Database& db) {
    const Snapshot snapshot(db);
    const auto things = state_->things();
    SQLite::Statement query(db,
                            fmt::format("SELECT {} FROM entry e ORDER BY e.seq", kEntryColumns));
    while (query.executeStep() && visit(state_->entry_from(query, things))) {
    }
  });
}

void Book::each_entry_back(
    const std::optional<Subject>& subject, std::optional<std::int64_t> before,
    const std::function<bool(const Entry&, std::int64_t, bool)>& visit) const {
  state_->reading([&](SQLite::Database& db) {
    const Snapshot snapshot(db);
    const auto things = state_->things();
    const auto nr = subject ? state_->number_of(subject->kind, subject->id) : std::nullopt;
    if (subject && !nr) return;
    SQLite::Statement query(
        db, fmt::format("SELECT {}, e.seq, EXISTS (SELECT 1 FROM entry s WHERE s.strikes = e.id) "
                        "FROM entry e WHERE e.seq < ?{} ORDER BY e.seq DESC",
                        kEntryColumns, nr ? " AND e.subject = ?" : ""));
    query.bind(1, before.value_or(std::numeric_limits<std::int64_t>::max()));
    if (nr) query.bind(2, *nr);
    while (query.executeStep() &&
           visit(state_->entry_from(query, things), query.getColumn(15).getInt64(),
                 query.getColumn(16).getInt() != 0)) {
    }
  });
}

std::int64_t Book::others_version() const {
  return state_->reading([&](SQLite::Database&) { return state_->pragma("data_version"); });
}

std::int64_t Book::entry_count() const {
  return state_->reading([](SQLite::Database& db) {
    return db.execAndGet("SELECT entries FROM notebook_end").getInt64();
  });
}

std::optional<Entry> Book::find_entry(const Uuid& id) const {
  return state_->reading([&](SQLite::Database& db) -> std::optional<Entry> {
    SQLite::Statement query(db,
                            fmt::format("SELECT {} FROM entry e WHERE e.id = ?", kEntryColumns));
    query.bind(1, id.bytes.data(), static_cast<int>(id.bytes.size()));
    if (!query.executeStep()) return std::nullopt;
    return state_->entry_from(query, state_->things());
  });
}

bool Book::is_struck(const Uuid& id) const {
  return state_->reading([&](SQLite::Database& db) {
    SQLite::Statement query(db, "SELECT 1 FROM entry WHERE strikes = ? LIMIT 1");
    query.bind(1, id.bytes.data(), static_cast<int>(id.bytes.size()));
    return query.executeStep();
  });
}

Change Book::change() {
  WS_CHECK(!state_->changing);
  return Change(*state_);
}

Result<std::string> Book::back_up_to(const std::string& path) const {
  WS_CHECK(!state_->changing);
  const auto taken = [&] {
    return Problem{ProblemCode::conflict,
                   "there is a file of this name already",
                   {path, 0, ""},
                   "a new name for the copy",
                   ""};
  };
  SQLite::Database& db = state_->database();
  return translated(path, [&]() -> Result<std::string> {
    // The copy is written in one transaction of its own file: it is whole, or it is not there.
    SQLite::Database copy(path, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE, 0,
                          state_->options.vfs);
    try {
      if (copy.execAndGet("SELECT count(*) FROM sqlite_schema").getInt() > 0) return taken();
    } catch (const SQLite::Exception& e) {
      if (e.getErrorCode() == SQLITE_NOTADB || e.getErrorCode() == SQLITE_CORRUPT) return taken();
      throw;
    }
    copy.exec("PRAGMA synchronous = FULL");
    SQLite::Backup backup(copy, db);
    for (int tries = 0; backup.executeStep(-1) != SQLITE_DONE; ++tries) {
      if (tries > 1000) throw SQLite::Exception("the book is busy", SQLITE_BUSY);
      sqlite3_sleep(5);
    }
    return path;
  });
}

// --- Changes ------------------------------------------------------------------------------------

namespace {

struct SubjectHash {
  std::size_t operator()(const Subject& s) const {
    return std::hash<std::string>{}(s.id) * 31 + static_cast<std::size_t>(s.kind);
  }
};

}  // namespace

struct Change::Work {
  Book::State& state;
  std::optional<SQLite::Statement> insert;
  std::optional<SQLite::Statement> find;
  std::unordered_map<Subject, std::int64_t, SubjectHash> numbers;
  std::unordered_map<std::string, std::int64_t> keepers;
  std::map<std::int64_t, Subject> things;  // the way back: what a number stands for
  bool numbers_loaded = false;
  Chain chain;
  std::int64_t entries = 0;
  bool appended = false;

  bool committed = false;

  explicit Work(Book::State& s) : state(s), chain(0) {
    state.writing([&](SQLite::Database& db) {
      db.exec("BEGIN IMMEDIATE");
      state.changing = true;
    });
  }
  Work(const Work&) = delete;
  Work& operator=(const Work&) = delete;

  /// Gives up what was not committed. If the disk failed, SQLite may have rolled back already.
  ~Work() {
    insert.reset();
    find.reset();
    if (!committed) state.db->tryExec("ROLLBACK");
    state.changing = false;
  }

  void load_numbers() {
    if (numbers_loaded) return;
    numbers.clear();
    keepers.clear();
    SQLite::Statement query(state.database(), "SELECT nr, kind, id FROM thing");
    while (query.executeStep()) {
      const auto nr = query.getColumn(0).getInt64();
      const std::string kind = query.getColumn(1).getString();
      if (kind == room::Keeper::kWord) {
        keepers.emplace(query.getColumn(2).getString(), nr);
      } else if (const auto subject_kind = from_word<SubjectKind>(kind)) {
        numbers.emplace(Subject{*subject_kind, query.getColumn(2).getString()}, nr);
      }
    }
    things = state.things();
    numbers_loaded = true;
  }

  std::int64_t thing_number(std::string_view kind, const std::string& id) {
    SQLite::Statement add(state.database(), "INSERT OR IGNORE INTO thing (kind, id) VALUES (?, ?)");
    add.bind(1, std::string(kind));
    add.bind(2, id);
    add.exec();
    SQLite::Statement query(state.database(), "SELECT nr FROM thing WHERE kind = ? AND id = ?");
    query.bind(1, std::string(kind));
    query.bind(2, id);
    WS_CHECK(query.executeStep());
    return query.getColumn(0).getInt64();
  }

  template <class Record>
  void put_records(const std::vector<Record>& records) {
    const auto columns = column_names<Record>();
    std::vector<std::string> updates, marks;
    for (const auto& column : columns) {
      updates.push_back(fmt::format("{0} = excluded.{0}", column));
      marks.emplace_back("?");
    }
    SQLite::Statement upsert(state.database(),
                             fmt::format("INSERT INTO \"{}\" (nr, id, {}) VALUES (?, ?, {}) "
                                         "ON CONFLICT (id) DO UPDATE SET {}",
                                         Record::kWord, fmt::join(columns, ", "),
                                         fmt::join(marks, ", "), fmt::join(updates, ", ")));
    for (const Record& record : records) {
      upsert.bind(1, thing_number(Record::kWord, record.id.text()));
      upsert.bind(2, record.id.text());
      int at = 3;
      Record::describe(record, [&](const char*, room::Need, const auto& field, const char*) {
        bind_field(upsert, at++, field);
      });
      upsert.exec();
      upsert.reset();
    }
  }

  /// Takes out the records that are not in the list; those that something speaks of stay, as
  /// Problems.
  template <class Record>
  void remove_others(const std::vector<Record>& keep, Problems& problems) {
    std::set<std::string> kept;
    for (const Record& record : keep) kept.insert(record.id.text());
    std::vector<std::string> gone;
    SQLite::Statement query(state.database(),
                            fmt::format("SELECT id FROM \"{}\" ORDER BY id", Record::kWord));
    while (query.executeStep()) {
      if (!kept.contains(query.getColumn(0).getString())) gone.push_back(query.getColumn(0));
    }
    for (const std::string& id : gone) {
      try {
        SQLite::Savepoint step(state.database(), "one_record");
        for (const auto& sql :
             {fmt::format("DELETE FROM \"{}\" WHERE id = ?", Record::kWord),
              fmt::format("DELETE FROM thing WHERE kind = '{}' AND id = ?", Record::kWord)}) {
          SQLite::Statement remove(state.database(), sql);
          remove.bind(1, id);
          remove.exec();
        }
        step.release();
      } catch (const SQLite::Exception& e) {
        if ((e.getErrorCode() & 0xff) != SQLITE_CONSTRAINT) throw;
        problems.push_back(
            {ProblemCode::conflict,
             fmt::format("the {} \"{}\" cannot be taken out: the notebook or another record speaks "
                         "of it",
                         Record::kWord, id),
             {},
             "the record in the room file, with a day on which it left or was retired",
             ""});
      }
    }
  }

  Problems names_in(const Entry& entry, Chain::Row& row) {
    Problems problems;
    const auto unknown = [&](std::string_view field, std::string_view kind, const std::string& id) {
      problems.push_back({ProblemCode::unknown_name,
                          fmt::format("the room has no {} of this id", kind),
                          {"", 0, std::string(field)},
                          fmt::format("the id of a [[{}]] of the room file", kind),
                          shown(id)});
    };
    const auto number = [&](const Subject& subject, std::string_view field) -> std::int64_t {
      const auto at = numbers.find(subject);
      if (at != numbers.end()) return at->second;
      unknown(field, word(subject.kind), subject.id);
      return 0;
    };
    row.subject = number(entry.subject, word(entry.subject.kind));
    if (entry.target) row.target = number(*entry.target, "target");
    if (!entry.by.empty()) {
      const auto at = keepers.find(entry.by.text());
      if (at != keepers.end()) {
        row.keeper = at->second;
      } else {
        unknown("by", room::Keeper::kWord, entry.by.text());
      }
    }
    return problems;
  }
};

Change::Change(Book::State& state) : work_(std::make_unique<Work>(state)) {
  state.writing([&](SQLite::Database& db) {
    SQLite::Statement end(db, "SELECT entries, chain FROM notebook_end");
    if (!end.executeStep()) throw DamagedBook(state.path + ": the notebook's end is missing");
    work_->entries = end.getColumn(0).getInt64();
    work_->chain = Chain(end.getColumn(1).getInt64());
  });
}

Change::Change(Change&&) noexcept = default;
Change::~Change() = default;

Problems Change::put_room(const room::Room& room, bool remove_others) {
  WS_CHECK(room::check_room(room).empty());
  Work& work = *work_;
  return work.state.writing([&](SQLite::Database& db) {
    Problems problems;
    work.numbers_loaded = false;
    db.exec("PRAGMA defer_foreign_keys = ON");
    const auto columns = column_names<room::RoomInfo>();
    std::vector<std::string> marks(columns.size(), "?");
    SQLite::Statement info(db, fmt::format("INSERT OR REPLACE INTO room (nr, {}) VALUES (?, {})",
                                           fmt::join(columns, ", "), fmt::join(marks, ", ")));
    info.bind(1, work.thing_number("room", "room"));
    int at = 2;
    room::RoomInfo::describe(room.info, [&](const char*, room::Need, const auto& field,
                                            const char*) { bind_field(info, at++, field); });
    info.exec();
    room::Room::for_each_kind(room, [&](const auto& records) { work.put_records(records); });
    db.exec("PRAGMA defer_foreign_keys = OFF");
    if (remove_others) {
      // Those that refer go before those that are referred to.
      std::vector<std::function<void()>> steps;
      room::Room::for_each_kind(room, [&](const auto& records) {
        steps.emplace_back([&] { work.remove_others(records, problems); });
      });
      for (auto step = steps.rbegin(); step != steps.rend(); ++step) (*step)();
    }
    SQLite::Statement seal(db, "INSERT OR REPLACE INTO records_seal VALUES (1, ?)");
    seal.bind(1, hash_of(work.state.read_room()));
    seal.exec();
    return problems;
  });
}

Checked<Stored> Change::append(const Entry& entry) {
  Work& work = *work_;
  Problems problems = room::check_entry(entry);
  return work.state.writing([&](SQLite::Database& db) -> Checked<Stored> {
    work.load_numbers();
    Chain::Row row{entry.id, entry.at.unix_ms(), 0, 0, 0, 0, entry};
    const auto kind = work.state.kind_numbers.find(entry.kind);
    WS_CHECK(kind != work.state.kind_numbers.end());
    row.kind = kind->second;
    for (Problem& problem : work.names_in(entry, row)) problems.push_back(std::move(problem));
    if (!problems.empty()) return problems;
    if (entry.strikes) {
      SQLite::Statement struck(db, "SELECT kind FROM entry WHERE id = ?");
      struck.bind(1, entry.strikes->bytes.data(), 16);
      const bool there = struck.executeStep();
      if (!there || struck.getColumn(0).getInt() == row.kind) {
        return Problems{
            {there ? ProblemCode::conflict : ProblemCode::unknown_name,
             there ? "a striking entry cannot itself be struck" : "the notebook has no such entry",
             {"", 0, "strikes"},
             "the id of an earlier entry",
             to_text(*entry.strikes)}};
      }
    }
    if (!work.insert) {
      work.insert.emplace(db,
                          "INSERT INTO entry (seq, id, at_ms, kind, subject, keeper, mass_kg, "
                          "length_m, temperature_k, humidity_share, uvi, count, item, target, "
                          "strikes, note, chain) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?) "
                          "ON CONFLICT (id) DO NOTHING");
    }
    SQLite::Statement& insert = *work.insert;
    Chain chain = work.chain;
    chain.add(row);
    const auto number_or_null = [&](int at, std::int64_t nr) {
      if (nr != 0) {
        insert.bind(at, nr);
      } else {
        insert.bind(at);
      }
    };
    const auto text_or_null = [&](int at, const std::string& text) {
      if (!text.empty()) {
        insert.bindNoCopy(at, text);
      } else {
        insert.bind(at);
      }
    };
    insert.bind(1, work.entries + 1);
    insert.bindNoCopy(2, entry.id.bytes.data(), 16);
    insert.bind(3, row.at_ms);
    insert.bind(4, row.kind);
    insert.bind(5, row.subject);
    number_or_null(6, row.keeper);
    bind_field(insert, 7, entry.mass);
    bind_field(insert, 8, entry.length);
    bind_field(insert, 9, entry.temperature);
    bind_field(insert, 10, entry.humidity);
    bind_field(insert, 11, entry.uvi);
    bind_field(insert, 12, entry.count);
    text_or_null(13, entry.item);
    number_or_null(14, row.target);
    if (entry.strikes) {
      insert.bindNoCopy(15, entry.strikes->bytes.data(), 16);
    } else {
      insert.bind(15);
    }
    text_or_null(16, entry.note);
    insert.bind(17, chain.value());
    const int added = insert.exec();
    insert.reset();
    if (added == 1) {
      work.chain = chain;
      ++work.entries;
      work.appended = true;
      return Stored::now;
    }
    // The id is there already: the same entry again, or two entries with one id?
    if (!work.find) {
      work.find.emplace(db, fmt::format("SELECT {} FROM entry e WHERE e.id = ?", kEntryColumns));
    }
    work.find->bind(1, entry.id.bytes.data(), 16);
    WS_CHECK(work.find->executeStep());
    const Entry stored = work.state.entry_from(*work.find, work.things);
    work.find->reset();
    if (stored == entry) return Stored::before;
    return Problems{{ProblemCode::conflict,
                     "an entry with this id and other content is in the notebook",
                     {"", 0, "id"},
                     "an id of its own for each entry",
                     to_text(entry.id)}};
  });
}

void Change::commit() {
  Work& work = *work_;
  work.state.writing([&](SQLite::Database& db) {
    if (work.appended) {
      SQLite::Statement end(db, "UPDATE notebook_end SET entries = ?, chain = ?");
      end.bind(1, work.entries);
      end.bind(2, work.chain.value());
      end.exec();
    }
    work.insert.reset();
    work.find.reset();
  });
  // When the last sync fails the change may be on the disk all the same.
  work.state.writing(
      [&](SQLite::Database& db) {
        db.exec("COMMIT");
        work.committed = true;
      },
      "open the book again to see whether the change is in it");
  work_.reset();
}

// --- Verifying ----------------------------------------------------------------------------------

std::vector<std::string> Book::verify() const {
  constexpr std::size_t kMostListed = 100;
  std::vector<std::string> wrong;
  const auto list = [&](std::string line) {
    if (wrong.size() < kMostListed) wrong.push_back(std::move(line));
  };
  try {
    state_->reading([&](SQLite::Database& db) {
      const Snapshot snapshot(db);
      SQLite::Statement integrity(db, fmt::format("PRAGMA integrity_check({})", kMostListed));
      while (integrity.executeStep()) {
        const std::string line = integrity.getColumn(0);
        if (line != "ok") list("database: " + line);
      }
      SQLite::Statement references(db, "PRAGMA foreign_key_check");
      while (references.executeStep()) {
        list(fmt::format("database: row {} of table {} refers to a row of {} that is not there",
                         references.getColumn(1).getString(), references.getColumn(0).getString(),
                         references.getColumn(2).getString()));
      }
      // The chain, entry by entry, in the order of writing.
      const auto things = state_->things();
      SQLite::Statement query(db, fmt::format("SELECT {}, e.seq, e.chain FROM entry e "
                                              "ORDER BY e.seq",
                                              kEntryColumns));
      Chain chain(0);
      std::int64_t count = 0;
      bool whole = true;
      while (query.executeStep()) {
        const std::int64_t seq = query.getColumn(15).getInt64();
        const std::int64_t stored = query.getColumn(16).getInt64();
        const Entry entry = state_->entry_from(query, things);
        const auto nr = [&](int column) { return query.getColumn(column).getInt64(); };
        chain.add({entry.id, entry.at.unix_ms(), nr(2), nr(3), nr(4), nr(12), entry});
        ++count;
        if (whole && seq != count) {
          list(fmt::format("notebook: entry number {} is missing", count));
          whole = false;
        } else if (whole && chain.value() != stored) {
          list(fmt::format("notebook: entry {} or one before it was changed or taken out",
                           to_text(entry.id)));
          whole = false;
        }
        for (const Problem& problem : room::check_entry(entry)) {
          list(fmt::format("notebook: entry {}: {}", to_text(entry.id), to_line(problem)));
        }
      }
      SQLite::Statement end(db, "SELECT entries, chain FROM notebook_end");
      if (!end.executeStep()) {
        list("notebook: its end is missing");
      } else if (whole && (end.getColumn(0).getInt64() != count ||
                           end.getColumn(1).getInt64() != chain.value())) {
        list(fmt::format("notebook: {} entries, but {} were written; the last were taken out",
                         count, end.getColumn(0).getInt64()));
      }
    });
    const room::Room records = room();
    state_->reading([&](SQLite::Database& db) {
      SQLite::Statement seal(db, "SELECT hash FROM records_seal");
      const bool sealed = seal.executeStep();
      if (sealed ? seal.getColumn(0).getInt64() != hash_of(records) : records != room::Room{}) {
        list("room: a record was changed by something else than Warmside, or is damaged");
      }
    });
    // A book into which nothing was put yet has no room to be wrong.
    if (records == room::Room{}) return wrong;
    for (const auto& found : room::check_room(records)) {
      list(fmt::format("room: {} \"{}\": {}", found.kind, found.id, to_line(found.problem)));
    }
  } catch (const DamagedBook& e) {
    list(e.what());
  }
  return wrong;
}

}  // namespace warmside::book
