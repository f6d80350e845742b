#include "web/live_book.h"

#include <chrono>
#include <exception>

namespace warmside::web {
namespace {

constexpr std::chrono::milliseconds kLookEvery{500};
/// In one change; more wait for the next.
constexpr std::size_t kMostTogether = 2000;
/// Of the readers, of which there are as many as threads: the working set of a day fits well.
constexpr int kReaderCache_kib = 4096;

Result<book::Book> open_reader(const std::string& path) {
  book::OpenOptions options;
  options.cache_kib = kReaderCache_kib;
  return book::Book::open(path, options);
}

}  // namespace

Result<std::unique_ptr<LiveBook>> LiveBook::open(const std::string& path, Instant now) {
  auto writer = open_reader(path);
  if (!writer) return writer.problem();
  auto watcher = open_reader(path);
  if (!watcher) return watcher.problem();
  return std::unique_ptr<LiveBook>(
      new LiveBook(path, std::move(writer).value(), std::move(watcher).value(), now.unix_ms()));
}

LiveBook::LiveBook(std::string path, book::Book writer, book::Book watcher,
                   std::int64_t first_change)
    : path_(std::move(path)),
      watcher_(std::move(watcher)),
      seen_version_(watcher_.others_version()),
      change_(first_change),
      writer_(std::move(writer)),
      writing_([this] { work(); }),
      watching_([this] { watch(); }) {}

LiveBook::~LiveBook() {
  {
    const std::lock_guard lock(mutex_);
    stopped_ = true;
  }
  wake_.notify_all();
  writing_.join();
  watching_.join();
}

std::int64_t LiveBook::change() {
  std::int64_t number = 0;
  {
    const std::lock_guard lock(change_mutex_);
    const std::int64_t version = watcher_.others_version();
    if (version == seen_version_) return change_;
    seen_version_ = version;
    number = ++change_;
  }
  if (told_) told_(number);
  return number;
}

void LiveBook::on_change(std::function<void(std::int64_t)> told) {
  const std::lock_guard lock(mutex_);
  told_ = std::move(told);
}

void LiveBook::write(std::vector<room::Entry> entries, std::function<void(Written)> done) {
  {
    const std::lock_guard lock(mutex_);
    jobs_.push_back({std::move(entries), std::move(done), {}, {}});
  }
  wake_.notify_all();
}

void LiveBook::alter(std::function<void(book::Book&)> step,
                     std::function<void(const std::string&)> failed) {
  {
    const std::lock_guard lock(mutex_);
    jobs_.push_back({{}, {}, std::move(step), std::move(failed)});
  }
  wake_.notify_all();
}

book::Book LiveBook::open_again() const {
  auto opened = open_reader(path_);
  if (!opened) throw MachineFailure(to_line(opened.problem()));
  return std::move(opened).value();
}

book::Book& LiveBook::writer() {
  if (!writer_) writer_.emplace(open_again());
  return *writer_;
}

void LiveBook::work() {
  for (;;) {
    std::vector<Job> taken;
    {
      std::unique_lock lock(mutex_);
      wake_.wait(lock, [this] { return stopped_ || !jobs_.empty(); });
      // What still waits was not acknowledged, and its sender will send it again.
      if (stopped_) return;
      std::size_t entries = 0;
      do {
        entries += jobs_.front().entries.size();
        taken.push_back(std::move(jobs_.front()));
        jobs_.pop_front();
      } while (!taken.back().step && !jobs_.empty() && !jobs_.front().step &&
               entries + jobs_.front().entries.size() <= kMostTogether);
    }
    if (!taken.front().step) {
      write_together(taken);
      continue;
    }
    try {
      taken.front().step(writer());
      change();
    } catch (const std::exception& e) {
      writer_.reset();
      taken.front().failed(e.what());
    }
  }
}

void LiveBook::write_together(std::vector<Job>& jobs) {
  std::vector<Written> written(jobs.size());
  std::string failure;
  std::int64_t number = 0;
  try {
    book::Change change_in_hand = writer().change();
    for (std::size_t i = 0; i < jobs.size(); ++i) {
      for (const room::Entry& entry : jobs[i].entries) {
        written[i].each.push_back(change_in_hand.append(entry));
      }
    }
    change_in_hand.commit();
    number = change();
  } catch (const std::exception& e) {
    writer_.reset();
    failure = e.what();
  }
  for (std::size_t i = 0; i < jobs.size(); ++i) {
    written[i].change = number;
    written[i].failure = failure;
    jobs[i].done(std::move(written[i]));
  }
}

void LiveBook::watch() {
  std::unique_lock lock(mutex_);
  while (!wake_.wait_for(lock, kLookEvery, [this] { return stopped_; })) {
    lock.unlock();
    try {
      change();
    } catch (const std::exception&) {
      // Whoever asks for the number next is told.
    }
    lock.lock();
  }
}

LiveBook::Borrowed::Borrowed(LiveBook& from)
    : from_(from), exceptions_(std::uncaught_exceptions()) {
  {
    const std::lock_guard lock(from_.readers_mutex_);
    if (!from_.readers_.empty()) {
      book_.emplace(std::move(from_.readers_.back()));
      from_.readers_.pop_back();
    }
  }
  if (!book_) book_.emplace(from_.open_again());
}

LiveBook::Borrowed::~Borrowed() {
  // One on which something failed is not used again.
  if (std::uncaught_exceptions() > exceptions_) return;
  const std::lock_guard lock(from_.readers_mutex_);
  from_.readers_.push_back(std::move(*book_));
}

}  // namespace warmside::web
