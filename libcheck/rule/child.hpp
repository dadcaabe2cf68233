// Work done in a process of its own, so that what goes wrong there ends that process and not this one.
#pragma once

#include <atomic>
#include <cstdint>
#include <functional>
#include <string>

namespace raceward::rule {

/// How far the child is, in memory that both processes see.
struct Progress {
  std::atomic<std::uint64_t> beats{0};  ///< goes up as long as the child gets on
  std::atomic<std::uint32_t> at{0};     ///< what it is busy with
};

/// What became of it; `wrong` is empty where the work was done: "it crashed (SIGSEGV)".
struct Tried {
  std::string wrong;
  std::uint32_t at = 0;  ///< Progress::at at the end
};

/// Does the work in a child of this process. It is ended where Progress::beats stays the same for `seconds`.
/// Nothing that the work changes is seen here; what it prints is lost. Where there are no processes, or none
/// can be had, nothing is done and nothing is wrong.
Tried in_child(const std::function<void(Progress&)>& work, unsigned seconds);

}  // namespace raceward::rule
