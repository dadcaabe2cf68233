// Room for large arrays, in large pages where the system has them: first touches of small pages cost more
// than the loader's own work.
#pragma once

#include <cstddef>
#include <vector>

namespace raceward::document {

/// Asks the system to back untouched memory by large pages. Does nothing where that makes no difference.
void advise_large(const void* from, std::size_t bytes);

template <class T>
void reserve_large(std::vector<T>& vector, std::size_t count) {
  vector.reserve(count);
  advise_large(vector.data(), vector.capacity() * sizeof(T));
}

}  // namespace raceward::document
