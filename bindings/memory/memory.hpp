// The memory of the command, and of whoever measures what the command does.
#pragma once

namespace raceward::memory {

/// Takes memory in large pages from here on: first touches of pages are what costs. The allocator comes with
/// linking this.
void tune();

}  // namespace raceward::memory
