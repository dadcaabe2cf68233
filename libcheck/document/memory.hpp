// Room for large arrays, in large pages where the system has them: first touches of small pages cost more
// than the loader's own work.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace raceward::document {

/// Asks the system to back untouched memory by large pages. Does nothing where that makes no difference.
void advise_large(const void* from, std::size_t bytes);

template <class T>
void reserve_large(std::vector<T>& vector, std::size_t count) {
  vector.reserve(count);
  advise_large(vector.data(), vector.capacity() * sizeof(T));
}

/// Memory that will be written soon. Whoever has nothing else to do touches some of it ahead of those who
/// write, so that they need not wait for new pages. Each array is touched as far as the others, for they fill
/// together.
class TouchAhead {
 public:
  void add(const void* from, std::size_t bytes);
  /// Touches the next large page; false where none is left, or the system cannot.
  bool some();

 private:
  struct Part {
    std::uintptr_t begin, end, next;
  };
  std::vector<Part> parts_;
};

}  // namespace raceward::document
