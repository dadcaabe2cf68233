// Work spread over threads.
#pragma once

#include <cstddef>
#include <functional>

namespace raceward::suite {

/// Calls work(i) for each i below count, on so many threads, or as many as the machine has (0), or as the
/// system gives. `told` is called on this thread, now and then, with how many are done. What is thrown in
/// work is thrown here.
void each(std::size_t count, unsigned threads, const std::function<void(std::size_t)>& work,
          const std::function<void(std::size_t done)>& told);

}  // namespace raceward::suite
