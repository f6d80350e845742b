// How fast the book is: today's round on books of 50,000, 500,000 and 5,000,000 entries, importing
// a notebook, jotting one entry. Figures stand in docs/performance.md.
//
//   cmake --preset bench && cmake --build --preset bench
//   build/bench/bench/book_bench
//
// The books are made in the folder of the environment variable TMPDIR, else /tmp (up to 2 GB), and
// removed afterwards. All are of one room: 60 animals in 60 enclosures, 137 entries a day, so that
// more entries mean an older book (1, 10 and 100 years).

#include <benchmark/benchmark.h>
#include <fcntl.h>
#include <fmt/format.h>
#include <spawn.h>
#include <sys/wait.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>

#include "book/files.h"
#include "book/room_file.h"
#include "health/quarantine.h"
#include "report/record_pages.h"
#include "report/round_report.h"
#include "round/round.h"

extern char** environ;

namespace {

using namespace warmside;
using room::Entry;
using room::EntryKind;
using room::SubjectKind;
namespace fs = std::filesystem;

constexpr int kAnimals = 60;
constexpr int kEntriesADay = 137;
const Date kLastDay = *Date::of(2026, 11, 25);

std::string animal_id(int i) {
  return fmt::format("animal-{:02}", i);
}
std::string enclosure_id(int i) {
  return fmt::format("enclosure-{:02}", i);
}

room::Room big_room() {
  static constexpr const char* kSpecies[] = {"corn_snake",       "royal_python",
                                             "crested_gecko",    "leopard_gecko",
                                             "whites_tree_frog", "hermanns_tortoise"};
  room::Room room;
  room.info.name = "Sixty";
  room.info.zone = "Europe/Oslo";
  room.keepers.push_back({room::KeeperId::trusted("keeper")});
  for (int i = 0; i < kAnimals; ++i) {
    room::Enclosure enclosure;
    enclosure.id = room::EnclosureId::trusted(enclosure_id(i));
    room.enclosures.push_back(enclosure);
    room::Animal animal;
    animal.id = room::AnimalId::trusted(animal_id(i));
    animal.species = species::SpeciesId::trusted(kSpecies[i % 6]);
    animal.enclosure = enclosure.id;
    room.animals.push_back(animal);
  }
  return room;
}

/// The n-th entry counted back from the last day, of a mix as in a real room: mostly readings,
/// water and cleaning, a meal every few days, a weighing a month.
Entry entry_back(std::int64_t n, std::mt19937_64& random) {
  const Zone oslo = *Zone::named("Europe/Oslo");
  static const Instant end = oslo.start_of(kLastDay);
  Entry entry;
  entry.at = Instant::unix_ms(end.unix_ms() - n * (86'400'000 / kEntriesADay));
  const int who = static_cast<int>(random() % kAnimals);
  const auto draw = random() % 100;
  entry.by = room::KeeperId::trusted("keeper");
  const auto about_animal = [&](EntryKind kind) {
    entry.kind = kind;
    entry.subject = {SubjectKind::animal, animal_id(who)};
  };
  const auto about_enclosure = [&](EntryKind kind) {
    entry.kind = kind;
    entry.subject = {SubjectKind::enclosure, enclosure_id(who)};
  };
  if (draw < 3) {
    about_animal(EntryKind::weighed);
    entry.mass = Mass::grams(static_cast<double>(4000 + random() % 200) / 10);
  } else if (draw < 15) {
    about_animal(EntryKind::fed);
    entry.item = "cricket, adult";
    entry.count = static_cast<int>(1 + random() % 8);
  } else if (draw < 20) {
    about_animal(EntryKind::droppings);
  } else if (draw < 45) {
    about_enclosure(EntryKind::reading);
    entry.item = draw < 33 ? "warm side" : "cool side";
    entry.temperature = Temperature::celsius(static_cast<double>(200 + random() % 100) / 10);
    entry.humidity = Percentage::percent(static_cast<double>(40 + random() % 30));
  } else if (draw < 70) {
    about_enclosure(EntryKind::watered);
  } else if (draw < 95) {
    about_enclosure(EntryKind::spot_cleaned);
  } else {
    about_enclosure(EntryKind::misted);
  }
  entry.id = make_uuid_v7(entry.at, random);
  return entry;
}

/// A folder that is removed at the end of the program.
const fs::path& work_folder() {
  struct Folder {
    fs::path path = fs::temp_directory_path() / fmt::format("warmside-bench-{}", getpid());
    Folder() { fs::create_directories(path); }
    ~Folder() { fs::remove_all(path); }
  };
  static const Folder folder;
  return folder.path;
}

/// A notebook of `count` entries, oldest first.
std::string notebook_path(std::int64_t count) {
  const auto path = (work_folder() / fmt::format("{}.jsonl", count)).string();
  if (fs::exists(path)) return path;
  std::mt19937_64 random(20261125);
  std::ofstream out(path);
  for (std::int64_t n = count; n > 0; --n) {
    out << book::notebook_line(entry_back(n, random), UnitSystem::metric);
  }
  return path;
}

std::string room_path() {
  const auto path = (work_folder() / "room.toml").string();
  if (!fs::exists(path)) std::ofstream(path) << book::write_room_file(big_room());
  return path;
}

book::Book open_book(const std::string& path, bool create = false) {
  book::OpenOptions options;
  options.create = create;
  return *book::Book::open(path, options);
}

std::string book_path(std::int64_t count) {
  const auto path = (work_folder() / fmt::format("{}.db", count)).string();
  if (fs::exists(path)) return path;
  auto book = open_book(path, true);
  const auto report = book::import_files(book, {room_path(), notebook_path(count)});
  WS_CHECK(report.ok() && report->entries_added == count);
  return path;
}

std::string todays_round(const book::Book& book) {
  const room::Room room = book.room();
  const Zone zone = *Zone::named(room.info.zone);
  const auto history = book.history(room::recalled_for_a_day(), zone.start_of(kLastDay + 1));
  auto day = room::make_day(room, history, kLastDay);
  health::presume_quarantines(day);
  return report::round_as_json(round::lay_out(day));
}

/// One animal's page from a day in memory whose round is laid out: all models of health, the
/// parameters of its group with them.
void animal_page(benchmark::State& state) {
  const auto book = open_book(book_path(state.range(0)));
  const room::Room room = book.room();
  const Zone zone = *Zone::named(room.info.zone);
  const auto history = book.history(room::recalled_for_a_day(), zone.start_of(kLastDay + 1));
  auto day = room::make_day(room, history, kLastDay);
  health::presume_quarantines(day);
  const auto round = round::lay_out(day);
  const room::Animal& animal = room.animals.front();
  for (auto _ : state) {
    const report::PageInput input{
        &day, &round, book.latest_about(room::subject_of(animal), 20), {}};
    benchmark::DoNotOptimize(report::animal_as_json(animal, input));
  }
}

void today_in_process(benchmark::State& state) {
  const std::string path = book_path(state.range(0));
  for (auto _ : state) {
    const auto book = open_book(path);
    benchmark::DoNotOptimize(todays_round(book));
  }
}

void today_whole_process(benchmark::State& state) {
  const std::string path = book_path(state.range(0));
  const char* arguments[] = {WARMSIDE_PROGRAM, "today",      "--book", path.c_str(),
                             "--date",         "2026-11-25", "--json", nullptr};
  posix_spawn_file_actions_t quiet;
  posix_spawn_file_actions_init(&quiet);
  posix_spawn_file_actions_addopen(&quiet, 1, "/dev/null", O_WRONLY, 0);
  for (auto _ : state) {
    pid_t child = 0;
    int status = 0;
    WS_CHECK(posix_spawn(&child, WARMSIDE_PROGRAM, &quiet, nullptr,
                         const_cast<char* const*>(arguments), environ) == 0);
    WS_CHECK(waitpid(child, &status, 0) == child && status == 0);
  }
  posix_spawn_file_actions_destroy(&quiet);
}

void import_notebook(benchmark::State& state) {
  const std::string notebook = notebook_path(state.range(0));
  const auto path = (work_folder() / "import.db").string();
  for (auto _ : state) {
    state.PauseTiming();
    for (const char* ending : {"", "-wal", "-shm"}) fs::remove(path + ending);
    {
      auto book = open_book(path, true);
      WS_CHECK(book::import_files(book, {room_path()}).ok());
    }
    state.ResumeTiming();
    auto book = open_book(path);
    const auto report = book::import_files(book, {notebook});
    WS_CHECK(report.ok() && report->entries_added == state.range(0));
  }
  state.SetItemsProcessed(state.iterations() * state.range(0));
}

/// One entry, durable, into a book of the given size. Also its median and 99th percentile.
void jot_one(benchmark::State& state) {
  auto book = open_book(book_path(state.range(0)));
  std::mt19937_64 random(7);
  std::vector<double> milliseconds;
  std::int64_t n = 0;
  for (auto _ : state) {
    Entry entry = entry_back(-(++n), random);
    const auto start = std::chrono::steady_clock::now();
    auto change = book.change();
    WS_CHECK(change.append(entry).ok());
    change.commit();
    milliseconds.push_back(
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start)
            .count());
  }
  std::sort(milliseconds.begin(), milliseconds.end());
  state.counters["median_ms"] = milliseconds[milliseconds.size() / 2];
  state.counters["p99_ms"] = milliseconds[milliseconds.size() * 99 / 100];
}

// Whole imports come first: the books of the other measurements are made from the same notebooks.
BENCHMARK(import_notebook)
    ->Arg(500'000)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime()
    ->Iterations(3);
BENCHMARK(animal_page)->Arg(500'000)->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK(today_in_process)
    ->Arg(50'000)
    ->Arg(500'000)
    ->Arg(5'000'000)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();
BENCHMARK(today_whole_process)
    ->Arg(50'000)
    ->Arg(500'000)
    ->Arg(5'000'000)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();
BENCHMARK(jot_one)->Arg(500'000)->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(2000);

}  // namespace

BENCHMARK_MAIN();
