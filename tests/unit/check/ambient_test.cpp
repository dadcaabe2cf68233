// After loading, nothing is read and nothing is written: a check and its reports run where the kernel ends a
// process for any call but those that get memory.
#include <gtest/gtest.h>

#if defined(__linux__) && defined(__x86_64__) && !defined(__SANITIZE_ADDRESS__) && \
    !defined(__SANITIZE_THREAD__)
#define RACEWARD_CAN_CONFINE
#endif
#if defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer)
#undef RACEWARD_CAN_CONFINE
#endif
#endif

#ifdef RACEWARD_CAN_CONFINE
#include <fcntl.h>
#include <linux/filter.h>
#include <linux/seccomp.h>
#include <sys/prctl.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>

#include "raceward/engine.hpp"

namespace {

using namespace raceward;

/// From here on this process may get and give back memory, and end. Anything else ends it with SIGSYS.
bool confine() {
#define ALLOW(name) \
  BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, SYS_##name, 0, 1), BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_ALLOW)
  sock_filter filter[] = {
      BPF_STMT(BPF_LD | BPF_W | BPF_ABS, offsetof(seccomp_data, nr)),
      ALLOW(brk),
      ALLOW(mmap),
      ALLOW(munmap),
      ALLOW(mremap),
      ALLOW(madvise),
      ALLOW(futex),
      ALLOW(exit_group),
      BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_KILL_PROCESS),
  };
#undef ALLOW
  sock_fprog program{sizeof filter / sizeof *filter, filter};
  return prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0 &&
         prctl(PR_SET_SECCOMP, SECCOMP_MODE_FILTER, &program) == 0;
}

constexpr int not_confined = 99;

/// Status of a process that does this confined; its result is the exit code.
template <class Do>
int status_of(Do something) {
  const pid_t child = fork();
  if (child == 0) {
    if (!confine()) _exit(not_confined);
    _exit(something());
  }
  int status = 0;
  waitpid(child, &status, 0);
  return status;
}

std::string said(const Installation& installation, const Law& law) {
  const Report report = check(installation, law, {});
  const auto lines = figures(installation, law);
  return text_report(report) + json_report(report) + text_figures("x", lines) + json_figures("x", lines);
}

class Confined : public testing::TestWithParam<const char*> {};

TEST_P(Confined, ACheckGetsMemoryAndNothingElse) {
  const auto file = std::filesystem::path(RACEWARD_SOURCE_DIR) / "fixtures" / GetParam();
  const Loaded loaded = load_file(file.string());
  const LoadedLaw law = load_shipped_ruleset("nec-2023");
  ASSERT_TRUE(loaded.installation && law.law);
  const std::string before = said(*loaded.installation, *law.law);
  const int status = status_of([&] { return said(*loaded.installation, *law.law) == before ? 0 : 1; });
  ASSERT_FALSE(WIFSIGNALED(status)) << "ended by signal " << WTERMSIG(status);
  EXPECT_EQ(WEXITSTATUS(status), 0);
}

INSTANTIATE_TEST_SUITE_P(Fixtures, Confined,
                         testing::Values("demo/pottery-studio.xml", "demo/pottery-studio-faulty.xml",
                                         "rules/raceway-fill/undetermined-length.xml",
                                         "rules/pull-box-size/violates-straight.xml"));

TEST(Confinement, EndsWhoeverOpensAFileOrPrints) {
  for (const auto& forbidden : {+[] { return open("/dev/null", O_RDONLY) < 0 ? 1 : 0; },
                                +[] { return write(1, "", 0) < 0 ? 1 : 0; }}) {
    const int status = status_of(forbidden);
    ASSERT_TRUE(WIFSIGNALED(status)) << "exit " << WEXITSTATUS(status);
    EXPECT_EQ(WTERMSIG(status), SIGSYS);
  }
}

}  // namespace
#endif
