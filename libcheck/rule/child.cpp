#include "rule/child.hpp"

#ifdef RACEWARD_MODULES
#include <fcntl.h>
#include <poll.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <csignal>
#include <new>
#endif

namespace raceward::rule {

#ifdef RACEWARD_MODULES

namespace {

constexpr char done = 'd', threw = 't';

/// By name: what the system calls signals depends on the locale.
std::string name_of_signal(int signal) {
  switch (signal) {
    case SIGSEGV:
      return "SIGSEGV";
    case SIGBUS:
      return "SIGBUS";
    case SIGABRT:
      return "SIGABRT";
    case SIGFPE:
      return "SIGFPE";
    case SIGILL:
      return "SIGILL";
    case SIGTRAP:
      return "SIGTRAP";
    case SIGSYS:
      return "SIGSYS";
    default:
      return "signal " + std::to_string(signal);
  }
}

/// Memory that a child shares with us.
class Shared {
 public:
  Shared() {
    void* const at =
        mmap(nullptr, sizeof(Progress), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    if (at != MAP_FAILED) progress_ = new (at) Progress;
  }
  ~Shared() {
    if (progress_ != nullptr) munmap(progress_, sizeof(Progress));
  }
  Shared(const Shared&) = delete;
  Shared& operator=(const Shared&) = delete;
  [[nodiscard]] Progress* get() const { return progress_; }

 private:
  Progress* progress_ = nullptr;
};

/// What the child does; it never returns, and nothing of ours is torn down in it.
[[noreturn]] void live(const std::function<void(Progress&)>& work, Progress& progress, int tell) {
  // It ends as the system ends processes, whatever the program set up for itself, and leaves no file.
  for (const int signal : {SIGSEGV, SIGBUS, SIGABRT, SIGFPE, SIGILL, SIGTRAP}) std::signal(signal, SIG_DFL);
  const rlimit none{0, 0};
  setrlimit(RLIMIT_CORE, &none);
  const int nothing = open("/dev/null", O_RDWR);
  if (nothing >= 0) {
    for (const int fd : {0, 1, 2}) dup2(nothing, fd);
  }
  char told = done;
  try {
    work(progress);
  } catch (...) {
    told = threw;
  }
  const bool written = write(tell, &told, 1) == 1;
  _exit(written ? 0 : 1);
}

/// Waits for the child's last word; 0 where it ended without one, and -1 where it had to be stopped.
int last_word(int from, const Progress& progress, unsigned seconds) {
  using Clock = std::chrono::steady_clock;
  Clock::time_point since = Clock::now();
  std::uint64_t beats = 0;
  for (;;) {
    pollfd waiting{from, POLLIN, 0};
    const int ready = poll(&waiting, 1, 20);
    if (ready > 0) {
      char word = 0;
      const ssize_t read_now = read(from, &word, 1);
      if (read_now < 0 && errno == EINTR) continue;
      return read_now == 1 ? word : 0;
    }
    const std::uint64_t now = progress.beats;
    if (now != beats) {
      beats = now;
      since = Clock::now();
    } else if (Clock::now() - since > std::chrono::seconds(seconds)) {
      return -1;
    }
  }
}

std::string how_it_ended(int status) {
  if (WIFSIGNALED(status)) return "it crashed (" + name_of_signal(WTERMSIG(status)) + ")";
  return "it ended the process with status " + std::to_string(WEXITSTATUS(status));
}

}  // namespace

Tried in_child(const std::function<void(Progress&)>& work, unsigned seconds) {
  const Shared shared;
  int ends[2];
  if (shared.get() == nullptr || pipe(ends) != 0) return {};
  const pid_t child = fork();
  if (child == 0) {
    close(ends[0]);
    live(work, *shared.get(), ends[1]);
  }
  close(ends[1]);
  Tried tried;
  if (child > 0) {
    const int word = last_word(ends[0], *shared.get(), seconds);
    if (word == -1) kill(child, SIGKILL);
    int status = 0;
    pid_t ended = 0;
    do ended = waitpid(child, &status, 0);
    while (ended < 0 && errno == EINTR);
    if (word == -1) {
      tried.wrong = "it did not return: nothing was heard of it for " + std::to_string(seconds) + " s";
    } else if (word == threw) {
      tried.wrong = "it threw";
    } else if (word != done) {
      tried.wrong = ended == child ? how_it_ended(status) : "it ended the process";
    }
    tried.at = shared.get()->at;
  }
  close(ends[0]);
  return tried;
}

#else

Tried in_child(const std::function<void(Progress&)>&, unsigned) { return {}; }

#endif

}  // namespace raceward::rule
