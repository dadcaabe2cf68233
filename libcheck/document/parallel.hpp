// Work on several threads at once.
#pragma once

#include <functional>

namespace raceward::document {

/// How many threads the machine runs at once; 1 where it has none or does not say.
unsigned machine_threads();

/// Calls work on this thread and on as many more as make `threads`, all at once; fewer where the system gives
/// no more. Returns when all are done. What is thrown on any of them is thrown here.
void on_threads(unsigned threads, const std::function<void()>& work);

}  // namespace raceward::document
