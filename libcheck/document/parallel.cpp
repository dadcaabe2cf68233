#include "document/parallel.hpp"

#ifdef RACEWARD_THREADS
#include <exception>
#include <mutex>
#include <system_error>
#include <thread>
#include <vector>
#endif

namespace raceward::document {

#ifdef RACEWARD_THREADS

unsigned machine_threads() {
  const unsigned threads = std::thread::hardware_concurrency();
  return threads == 0 ? 1 : threads;
}

void on_threads(unsigned threads, const std::function<void()>& work) {
  std::exception_ptr first;
  std::mutex guard;
  const auto safely = [&] {
    try {
      work();
    } catch (...) {
      const std::lock_guard lock(guard);
      if (!first) first = std::current_exception();
    }
  };
  std::vector<std::thread> others;
  if (threads > 1) others.reserve(threads - 1);
  try {
    while (others.size() + 1 < threads) others.emplace_back(safely);
  } catch (const std::system_error&) {
    // Those that there are do it all.
  }
  safely();
  for (std::thread& other : others) other.join();
  if (first) std::rethrow_exception(first);
}

#else

unsigned machine_threads() { return 1; }

void on_threads(unsigned, const std::function<void()>& work) { work(); }

#endif

}  // namespace raceward::document
