#include "document/memory.hpp"

#include <algorithm>
#include <cstdint>

#if defined(__linux__)
#include <sys/mman.h>
#endif

namespace raceward::document {

namespace {

constexpr std::uintptr_t large_page = std::uintptr_t{2} << 20;

constexpr std::uintptr_t up(std::uintptr_t at) { return (at + large_page - 1) / large_page * large_page; }
constexpr std::uintptr_t down(std::uintptr_t at) { return at / large_page * large_page; }
std::uintptr_t address(const void* at) { return reinterpret_cast<std::uintptr_t>(at); }

}  // namespace

void advise_large([[maybe_unused]] const void* from, [[maybe_unused]] std::size_t bytes) {
#if defined(__linux__) && defined(MADV_HUGEPAGE)
  const std::uintptr_t begin = up(address(from)), end = down(address(from) + bytes);
  // Advice only: where it is not taken, everything works as before.
  if (end > begin) (void)madvise(reinterpret_cast<void*>(begin), end - begin, MADV_HUGEPAGE);
#endif
}

void TouchAhead::add(const void* from, std::size_t bytes) {
  const std::uintptr_t begin = up(address(from)), end = down(address(from) + bytes);
  if (end > begin) parts_.push_back({begin, end, begin});
}

bool TouchAhead::some() {
#if defined(__linux__) && defined(MADV_POPULATE_WRITE)
  const auto least = std::min_element(parts_.begin(), parts_.end(), [](const Part& a, const Part& b) {
    return std::uint64_t{a.next - a.begin} * (b.end - b.begin) <
           std::uint64_t{b.next - b.begin} * (a.end - a.begin);
  });
  if (least == parts_.end() || least->next == least->end) return false;
  // What was given back meanwhile is refused, or touched for whoever has it now; neither does harm.
  const bool can = madvise(reinterpret_cast<void*>(least->next), large_page, MADV_POPULATE_WRITE) == 0;
  least->next = can ? least->next + large_page : least->end;
  return true;
#else
  return false;
#endif
}

}  // namespace raceward::document
