#include "book_fixture.h"

#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>

#include "room/look_up.h"

namespace warmside::fault {

using room::Entry;
using room::EntryKind;
using room::Subject;
using room::SubjectKind;

int run_factor() {
  const char* text = std::getenv("WARMSIDE_FAULT_RUNS");
  return text == nullptr ? 1 : std::clamp(std::atoi(text), 1, 1'000'000);
}

std::uint64_t draw(std::mt19937_64& random, std::uint64_t first, std::uint64_t last) {
  return first + random() % (last - first + 1);
}

// --- Room and entries ---------------------------------------------------------------------------

room::Room small_room() {
  room::Room room;
  room.info.name = "The attic";
  room.info.zone = "Europe/Oslo";
  for (const char* id : {"ada", "bo"}) {
    room.keepers.push_back({room::KeeperId::trusted(id), room::KeeperRole::keeper});
  }
  for (const char* id : {"rack-1", "rack-2", "rack-3"}) {
    room::Enclosure enclosure;
    enclosure.id = room::EnclosureId::trusted(id);
    enclosure.length = Length::metres(0.9);
    room.enclosures.push_back(enclosure);
  }
  room::Lamp lamp;
  lamp.id = room::LampId::trusted("tube-1");
  lamp.enclosure = room::EnclosureId::trusted("rack-2");
  room.lamps.push_back(lamp);
  room::Jar jar;
  jar.id = room::JarId::trusted("calcium");
  room.jars.push_back(jar);
  for (const char* id : {"corn-1", "corn-2", "corn-3"}) {
    room::Animal animal;
    animal.id = room::AnimalId::trusted(id);
    animal.name = std::string("Animal ") + id;
    animal.species = species::SpeciesId::trusted("corn_snake");
    animal.enclosure = room::EnclosureId::trusted("rack-1");
    room.animals.push_back(animal);
  }
  return room;
}

EntryWriter::EntryWriter(std::uint64_t seed) : random_(seed), seed_(seed) {}

Entry EntryWriter::entry() {
  Entry e;
  e.at = Instant::unix_ms(1'764'000'000'000 + 1000 * ++written_);
  e.id = make_uuid_v7(e.at, random_);
  // The seed in the last bytes, so that two writers never give the same id.
  for (std::size_t i = 0; i < 4; ++i) {
    e.id.bytes[15 - i] = static_cast<std::uint8_t>(seed_ >> (8 * i));
  }
  const std::string which = std::to_string(draw(random_, 1, 3));
  e.subject = {SubjectKind::animal, "corn-" + which};
  if (draw(random_, 0, 2) != 0) e.by = room::KeeperId::trusted("ada");
  switch (draw(random_, 0, 4)) {
    case 0:
      e.kind = EntryKind::weighed;
      e.mass = Mass::grams(static_cast<double>(draw(random_, 100, 9000)) / 7);
      break;
    case 1:
      e.kind = EntryKind::fed;
      e.item = "adult mouse";
      e.count = static_cast<int>(draw(random_, 1, 3));
      e.target = Subject{SubjectKind::jar, "calcium"};
      break;
    case 2:
      e.kind = EntryKind::reading;
      e.subject = {SubjectKind::enclosure, "rack-" + which};
      e.temperature = Temperature::celsius(static_cast<double>(draw(random_, 180, 340)) / 10);
      e.humidity = Percentage::share(static_cast<double>(draw(random_, 20, 95)) / 100);
      e.item = "warm side";
      break;
    case 3:
      e.kind = EntryKind::uv_reading;
      e.subject = {SubjectKind::lamp, "tube-1"};
      e.uvi = UvIndex::index(static_cast<double>(draw(random_, 1, 60)) / 10);
      break;
    default:
      e.kind = EntryKind::note;
      e.note = std::string(draw(random_, 1, 400), static_cast<char>('a' + draw(random_, 0, 25)));
  }
  return e;
}

std::vector<Entry> EntryWriter::change() {
  std::vector<Entry> entries;
  for (std::uint64_t n = draw(random_, 1, 3); n > 0; --n) entries.push_back(entry());
  if (!strikable_.empty() && draw(random_, 0, 4) == 0) {
    Entry& e = entries.back();
    const Entry shell = e;
    e = Entry{};
    e.id = shell.id;
    e.at = shell.at;
    e.kind = EntryKind::struck;
    const std::size_t at = draw(random_, 0, strikable_.size() - 1);
    e.strikes = strikable_[at];
    strikable_.erase(strikable_.begin() + static_cast<std::ptrdiff_t>(at));
  }
  return entries;
}

std::vector<Entry> EntryWriter::long_change() {
  std::vector<Entry> entries = change();
  Entry e = entry();
  e.note = std::string(room::kLongestNote, 'n');
  entries.push_back(e);
  return entries;
}

void EntryWriter::in_book(const std::vector<Entry>& entries) {
  for (const Entry& e : entries) {
    if (e.kind != EntryKind::struck) strikable_.push_back(e.id);
  }
}

// --- The ledger ---------------------------------------------------------------------------------

const char* name_of(Verdict verdict) {
  constexpr const char* kNames[] = {"whole", "half", "lost", "altered", "damaged"};
  return kNames[static_cast<int>(verdict)];
}

void Ledger::acknowledged() {
  written_.insert(written_.end(), in_doubt_->begin(), in_doubt_->end());
  ++acknowledged_changes_;
  acknowledged_entries_ += std::ssize(*in_doubt_);
  in_doubt_.reset();
}

Verdict Ledger::judge(const book::Book& book, std::string& why) {
  const std::vector<Entry> found = entries_of(book);
  const std::size_t common = std::min(found.size(), written_.size());
  if (!std::equal(found.begin(), found.begin() + static_cast<std::ptrdiff_t>(common),
                  written_.begin())) {
    why = "an entry differs from what was written";
    return Verdict::altered;
  }
  if (found.size() < written_.size()) {
    why = std::to_string(written_.size() - found.size()) + " acknowledged entries are missing";
    lost_entries_ += std::ssize(written_) - std::ssize(found);
    return Verdict::lost;
  }
  if (found.size() > written_.size()) {
    const std::vector<Entry> rest(found.begin() + static_cast<std::ptrdiff_t>(written_.size()),
                                  found.end());
    if (!in_doubt_ || rest != *in_doubt_) {
      const bool part = in_doubt_ && rest.size() < in_doubt_->size() &&
                        std::equal(rest.begin(), rest.end(), in_doubt_->begin());
      why = part ? "a part of the unfinished change is there" : "entries that nobody wrote";
      return part ? Verdict::half : Verdict::altered;
    }
    written_ = found;
    ++found_in_doubt_;
  }
  in_doubt_.reset();
  return Verdict::whole;
}

// --- Steps --------------------------------------------------------------------------------------

Attempt attempt(const std::function<std::string()>& step) {
  try {
    std::string problem = step();
    return {problem.empty() ? Ending::done : Ending::problem, std::move(problem)};
  } catch (const MachineFailure& e) {
    return {Ending::machine_failure, e.what()};
  } catch (const book::DamagedBook& e) {
    return {Ending::damaged_book, e.what()};
  }
}

std::string open_into(std::optional<book::Book>& book, const std::string& path,
                      const book::OpenOptions& options) {
  auto opened = book::Book::open(path, options);
  if (!opened) return to_line(opened.problem());
  book.emplace(std::move(opened).value());
  return "";
}

std::string jot(book::Book& book, const std::vector<Entry>& entries, Ledger& ledger,
                EntryWriter& writer) {
  book::Change change = book.change();
  for (const Entry& e : entries) {
    const auto stored = change.append(e);
    if (!stored) return to_line(stored.problem().front());
  }
  ledger.begins(entries);
  change.commit();
  ledger.acknowledged();
  writer.in_book(entries);
  return "";
}

Verdict look(const std::string& path, const book::OpenOptions& options, Ledger& ledger,
             std::string& why) {
  Verdict verdict = Verdict::damaged;
  const Attempt reading = attempt([&] {
    std::optional<book::Book> book;
    std::string problem = open_into(book, path, options);
    if (!problem.empty()) return problem;
    const auto wrong = book->verify();
    if (!wrong.empty()) return wrong.front();
    verdict = ledger.judge(*book, why);
    return std::string();
  });
  if (!reading.ok()) why = reading.words;
  return reading.ok() ? verdict : Verdict::damaged;
}

std::vector<Entry> entries_of(const book::Book& book) {
  std::vector<Entry> entries;
  book.each_entry([&](const Entry& e) {
    entries.push_back(e);
    return true;
  });
  return entries;
}

std::vector<room::Recall> recall_everything() {
  std::vector<room::Recall> recall;
  for (std::size_t i = 0; i < Words<EntryKind>::list.size(); ++i) {
    recall.push_back({static_cast<EntryKind>(i), 3, 365});
  }
  return recall;
}

// --- Folders and processes ----------------------------------------------------------------------

TemporaryFolder::TemporaryFolder() {
  std::string pattern = (std::filesystem::temp_directory_path() / "warmside-fault-XXXXXX").string();
  if (::mkdtemp(pattern.data()) == nullptr) throw std::runtime_error("no temporary folder");
  path_ = pattern;
}

TemporaryFolder::~TemporaryFolder() {
  std::error_code error;
  std::filesystem::remove_all(path_, error);
}

Child::Child(const std::function<void(const Say&)>& work) {
  int ends[2];
  if (::pipe(ends) != 0) throw std::runtime_error("no pipe");
  std::fflush(nullptr);
  pid_ = ::fork();
  if (pid_ < 0) throw std::runtime_error("no process");
  if (pid_ == 0) {
    ::close(ends[0]);
    int code = 0;
    const Say say = [&](const std::string& text) {
      if (::write(ends[1], text.data(), text.size()) != static_cast<ssize_t>(text.size())) {
        ::_exit(9);
      }
    };
    try {
      work(say);
    } catch (const std::exception& e) {
      say(std::string("threw: ") + e.what());
      code = 8;
    }
    ::_exit(code);
  }
  ::close(ends[1]);
  pipe_ = ends[0];
}

Child::~Child() {
  if (pid_ > 0) {
    kill_now();
    report();
  }
  ::close(pipe_);
}

bool Child::hear(std::size_t bytes) {
  const std::size_t wanted = said_.size() + bytes;
  char buffer[4096];
  while (said_.size() < wanted) {
    const ssize_t n = ::read(pipe_, buffer, std::min(sizeof buffer, wanted - said_.size()));
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    said_.append(buffer, static_cast<std::size_t>(n));
  }
  return true;
}

void Child::kill_now() {
  ::kill(pid_, SIGKILL);
}

ChildReport Child::report() {
  while (hear(1)) {
  }
  int status = 0;
  while (::waitpid(pid_, &status, 0) < 0 && errno == EINTR) {
  }
  pid_ = -1;
  return {said_, WIFSIGNALED(status) ? "signal " + std::to_string(WTERMSIG(status))
                                     : "exit " + std::to_string(WEXITSTATUS(status))};
}

}  // namespace warmside::fault
