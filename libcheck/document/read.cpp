#include "document/read.hpp"

#ifdef RACEWARD_THREADS
#include <array>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <system_error>
#include <thread>
#include <utility>
#endif

namespace raceward::document {

#ifdef RACEWARD_THREADS

namespace {

constexpr std::size_t large = std::size_t{1} << 20;  // bytes that are worth a thread

/// Carries what is written from the thread that reads to the one that takes it, in order.
class Belt final : public Taker {
 public:
  explicit Belt(const std::function<bool()>& idle) : idle_(idle) {}

  // On the thread that reads.
  void root(Written& written) override { put(written, true); }
  void children(Written& written) override { put(written, false); }
  void finish() {
    const std::lock_guard lock(mutex_);
    finished_ = true;
    changed_.notify_one();
  }

  // On the thread that takes: false where nothing comes any more.
  bool hand_to(Taker& taker) {
    {
      std::unique_lock lock(mutex_);
      if (full_ == 0) changed_.wait(lock, [&] { return full_ >= half || finished_; });
      if (full_ == 0) return false;
    }
    // This one is left alone until it is given back.
    Load& load = loads_[taken_ % loads_.size()];
    ++taken_;
    if (load.is_root)
      taker.root(load.written);
    else
      taker.children(load.written);
    load.written.clear();
    const std::lock_guard lock(mutex_);
    if (--full_ == half) changed_.notify_one();
    return true;
  }
  /// Nothing is taken any more: the reader must not wait.
  void abandon() {
    const std::lock_guard lock(mutex_);
    abandoned_ = true;
    changed_.notify_one();
  }

 private:
  // Who has to wait does so until there is something to do for a while: to be woken for each load costs more
  // than the load.
  static constexpr std::size_t half = 8;  // not law: half of the belt
  struct Load {
    Written written;
    bool is_root = false;
  };

  void put(Written& written, bool is_root) {
    {
      std::unique_lock lock(mutex_);
      for (bool more = true; more && full_ == loads_.size() && !abandoned_;) {
        lock.unlock();
        more = idle_();
        lock.lock();
      }
      if (full_ == loads_.size()) changed_.wait(lock, [&] { return full_ <= half || abandoned_; });
      if (abandoned_) return;
    }
    Load& load = loads_[put_ % loads_.size()];
    ++put_;
    load.is_root = is_root;
    std::swap(load.written, written);
    const std::lock_guard lock(mutex_);
    if (++full_ == half) changed_.notify_one();
  }

  const std::function<bool()>& idle_;
  std::mutex mutex_;
  std::condition_variable changed_;  // at most one of the two threads waits
  std::array<Load, 2 * half> loads_;
  std::size_t full_ = 0;
  std::size_t put_ = 0, taken_ = 0;  // each of one thread alone
  bool finished_ = false, abandoned_ = false;
};

}  // namespace

bool read(std::string_view bytes, const ReadingInto& into, Taker& taker, unsigned threads,
          const std::function<bool()>& idle) {
  if (threads == 1 || bytes.size() < large || std::thread::hardware_concurrency() < 2)
    return read_strictly(bytes, into, taker);
  Belt belt(idle);
  bool well_formed = false;
  std::exception_ptr thrown;
  std::thread reader;
  try {
    reader = std::thread([&] {
      try {
        well_formed = read_strictly(bytes, into, belt);
      } catch (...) {
        thrown = std::current_exception();
      }
      belt.finish();
    });
  } catch (const std::system_error&) {  // no thread to be had
    return read_strictly(bytes, into, taker);
  }
  try {
    while (belt.hand_to(taker)) {
    }
  } catch (...) {
    belt.abandon();
    reader.join();
    throw;
  }
  reader.join();
  if (thrown) std::rethrow_exception(thrown);
  return well_formed;
}

#else

bool read(std::string_view bytes, const ReadingInto& into, Taker& taker, unsigned,
          const std::function<bool()>&) {
  return read_strictly(bytes, into, taker);
}

#endif

}  // namespace raceward::document
