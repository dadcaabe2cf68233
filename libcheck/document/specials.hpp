// Walks the bytes that markup hangs on, skipping all others 64 at a time.
#pragma once

#include <bit>
#include <cstdint>
#include <cstring>
#include <string>
#include <string_view>
#include <vector>

#if defined(__SSE2__)
#include <emmintrin.h>
#endif

#include "document/faults.hpp"

namespace raceward::document {

/// Steps from one special byte to the next: < > " ' & (and #, which callers must pass over). On the way it
/// notes line starts and carriage returns, and reports what no XML document may hold: control characters,
/// broken UTF-8.
class Specials {
 public:
  Specials(std::string_view bytes, std::vector<std::uint32_t>& line_starts, Faults& faults)
      : begin_(bytes.data()),
        end_(begin_ + bytes.size()),
        block_(begin_),
        next_(begin_),
        checked_(begin_),
        line_starts_(line_starts),
        faults_(faults) {}

  /// The next special byte, or the end.
  const char* next() {
    while (word_ == 0) {
      if (next_ == end_) return end_;
      read_block();
    }
    const char* found = block_ + std::countr_zero(word_);
    word_ &= word_ - 1;
    return found;
  }
  /// The first special byte at or behind `to`, or the end.
  const char* seek(const char* to) {
    const char* at = next();
    while (at < to) at = next();
    return at;
  }
  [[nodiscard]] const char* begin() const { return begin_; }
  [[nodiscard]] const char* end() const { return end_; }
  /// False where no byte from `from` to before `to`, the byte that next() gave last, is a tab, a line end or
  /// beyond ASCII.
  [[nodiscard]] bool may_hold_odd(const char* from, const char* to) const {
    if (from < block_) return true;
    const auto first = static_cast<unsigned>(from - block_), end = static_cast<unsigned>(to - block_);
    return (odd_ >> first << first & ((std::uint64_t{1} << end) - 1)) != 0;
  }
  /// True once a byte has been reported.
  [[nodiscard]] bool met_bad_byte() const { return bad_bytes_ > 0; }

 private:
  struct Masks {
    std::uint64_t special = 0, line_end = 0, odd = 0;  // odd: below a blank, or not ASCII
  };
  static Masks classify(const char* block);
  void read_block();
  void check_odd(std::uint64_t odd);
  void bad_byte(std::uint32_t offset, std::string message);

  const char* const begin_;
  const char* const end_;
  const char* block_;
  const char* next_;     // where the next block begins
  const char* checked_;  // characters before it were found good
  std::uint64_t word_ = 0;
  std::uint64_t odd_ = 0;  // of the block
  std::vector<std::uint32_t>& line_starts_;
  Faults& faults_;
  std::size_t bad_bytes_ = 0;
  char tail_[64];
};

#if defined(__SSE2__)
inline Specials::Masks Specials::classify(const char* block) {
  Masks masks;
  for (int i = 0; i < 4; ++i) {
    const __m128i v = _mm_loadu_si128(reinterpret_cast<const __m128i*>(block + 16 * i));
    // < and > differ in one bit; so do " and & and ', with # the odd one out.
    const __m128i angle = _mm_cmpeq_epi8(_mm_or_si128(v, _mm_set1_epi8(2)), _mm_set1_epi8('>'));
    const __m128i quote = _mm_cmpeq_epi8(_mm_or_si128(v, _mm_set1_epi8(5)), _mm_set1_epi8('\''));
    const auto bits = [](__m128i x) {
      return static_cast<std::uint64_t>(static_cast<std::uint32_t>(_mm_movemask_epi8(x)));
    };
    masks.special |= bits(_mm_or_si128(angle, quote)) << (16 * i);
    masks.line_end |= bits(_mm_cmpeq_epi8(v, _mm_set1_epi8('\n'))) << (16 * i);
    masks.odd |= bits(_mm_cmplt_epi8(v, _mm_set1_epi8(' '))) << (16 * i);  // bytes from 0x80 are negative
  }
  return masks;
}
#else
inline Specials::Masks Specials::classify(const char* block) {
  Masks masks;
  for (int i = 0; i < 64; ++i) {
    const auto c = static_cast<unsigned char>(block[i]);
    const std::uint64_t bit = std::uint64_t{1} << i;
    if (c == '<' || c == '>' || c == '"' || c == '\'' || c == '&') masks.special |= bit;
    if (c == '\n') masks.line_end |= bit;
    if (c < ' ' || c >= 0x80) masks.odd |= bit;
  }
  return masks;
}
#endif

inline void Specials::read_block() {
  block_ = next_;
  Masks masks;
  if (end_ - next_ >= 64) {
    masks = classify(block_);
    next_ += 64;
  } else {
    const auto rest = static_cast<std::size_t>(end_ - next_);
    std::memset(tail_, ' ', sizeof tail_);
    std::memcpy(tail_, block_, rest);
    masks = classify(tail_);
    next_ = end_;
  }
  word_ = masks.special;
  odd_ = masks.odd;
  const auto offset = static_cast<std::uint32_t>(block_ - begin_);
  for (std::uint64_t lines = masks.line_end; lines != 0; lines &= lines - 1)
    line_starts_.push_back(offset + static_cast<std::uint32_t>(std::countr_zero(lines)) + 1);
  if (const std::uint64_t odd = masks.odd & ~masks.line_end; odd != 0) check_odd(odd);
}

}  // namespace raceward::document
