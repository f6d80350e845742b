#include "web/lane.h"

namespace warmside::web {

Lane::Lane(std::size_t threads, std::size_t most_waiting) : most_waiting_(most_waiting) {
  for (std::size_t i = 0; i < threads; ++i) threads_.emplace_back([this] { work(); });
}

bool Lane::run(std::function<void()> job) {
  {
    const std::lock_guard lock(mutex_);
    if (stopped_ || jobs_.size() >= most_waiting_) return false;
    jobs_.push_back(std::move(job));
  }
  wake_.notify_one();
  return true;
}

void Lane::stop() {
  std::deque<std::function<void()>> dropped;  // destroyed outside the lock: they may hold much
  {
    const std::lock_guard lock(mutex_);
    stopped_ = true;
    dropped.swap(jobs_);
  }
  wake_.notify_all();
  for (std::thread& thread : threads_) {
    if (thread.joinable()) thread.join();
  }
}

void Lane::work() {
  for (;;) {
    std::function<void()> job;
    {
      std::unique_lock lock(mutex_);
      wake_.wait(lock, [this] { return stopped_ || !jobs_.empty(); });
      if (stopped_) return;
      job = std::move(jobs_.front());
      jobs_.pop_front();
    }
    job();
  }
}

}  // namespace warmside::web
