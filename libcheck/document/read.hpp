// The strict pass on a thread of its own, where that is quicker.
#pragma once

#include <functional>

#include "document/strict.hpp"

namespace raceward::document {

/// As read_strictly: what is written is taken on this thread, and for large files read on another. threads:
/// 0, as many as serve; 1, none but this one. `idle` is called on the thread that reads, while it would wait
/// for the taker, as long as it says that there is more to do.
bool read(std::string_view bytes, const ReadingInto& into, Taker& taker, unsigned threads,
          const std::function<bool()>& idle);

}  // namespace raceward::document
