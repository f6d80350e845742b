#pragma once
// A few threads that run jobs in the order in which they were given: a lane for quick answers, one
// for long computations. The number that may wait is limited, so that a flood is refused, not kept.

#include <condition_variable>
#include <cstddef>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

namespace warmside::web {

class Lane {
 public:
  Lane(std::size_t threads, std::size_t most_waiting);
  ~Lane() { stop(); }
  Lane(const Lane&) = delete;
  Lane& operator=(const Lane&) = delete;

  /// False: too many wait already, or the lane has stopped; the job is not run. A job must not
  /// throw.
  [[nodiscard]] bool run(std::function<void()> job);
  /// Ends when the jobs that run are done; those that wait are dropped.
  void stop();

 private:
  void work();

  const std::size_t most_waiting_;
  std::mutex mutex_;
  std::condition_variable wake_;
  std::deque<std::function<void()>> jobs_;
  bool stopped_ = false;
  std::vector<std::thread> threads_;
};

}  // namespace warmside::web
