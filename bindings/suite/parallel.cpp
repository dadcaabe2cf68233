#include "parallel.hpp"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <system_error>
#include <thread>
#include <vector>

namespace raceward::suite {

namespace {
constexpr std::chrono::milliseconds now_and_then{50};
}

void each(std::size_t count, unsigned threads, const std::function<void(std::size_t)>& work,
          const std::function<void(std::size_t)>& told) {
  std::atomic<std::size_t> next{0}, done{0};
  std::mutex mutex;
  std::condition_variable ended;
  std::size_t busy = 0;
  std::exception_ptr thrown;
  const auto run = [&] {
    try {
      for (std::size_t i = next++; i < count; i = next++) {
        work(i);
        ++done;
      }
    } catch (...) {
      const std::lock_guard guard(mutex);
      thrown = std::current_exception();
      next = count;
    }
    const std::lock_guard guard(mutex);
    --busy;
    ended.notify_one();
  };
  const std::size_t wanted = std::min<std::size_t>(
      threads == 0 ? std::max(1u, std::thread::hardware_concurrency()) : threads, count);
  std::vector<std::jthread> workers;
  for (std::size_t i = 0; i < wanted; ++i) {
    {
      const std::lock_guard guard(mutex);
      ++busy;
    }
    try {
      workers.emplace_back(run);
    } catch (const std::system_error&) {  // the system gives no more
      const std::lock_guard guard(mutex);
      --busy;
      break;
    }
  }
  if (workers.empty() && count > 0) {
    busy = 1;
    run();
  }
  {
    // Not woken for each piece of work: that would cost more than small pieces do.
    std::unique_lock lock(mutex);
    std::size_t said = 0;
    while (busy > 0) {
      ended.wait_for(lock, now_and_then, [&] { return busy == 0; });
      const std::size_t now = done;
      if (told && now != said) told(now);
      said = now;
    }
    if (told && done != said) told(done);
  }
  workers.clear();
  if (thrown) std::rethrow_exception(thrown);
}

}  // namespace raceward::suite
