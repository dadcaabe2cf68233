// UTF-8, and the characters that XML allows.
#pragma once

#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>

#if defined(__SSE2__)
#include <emmintrin.h>
#endif

namespace raceward::document {

constexpr bool is_continuation(char c) { return (static_cast<unsigned char>(c) & 0xc0U) == 0x80U; }

/// A decoded character; size 0 where the bytes are no UTF-8.
struct Character {
  std::uint32_t code = 0;
  std::size_t size = 0;
};

/// The character at `at`, which is before `end`. Overlong forms, surrogates and what lies beyond U+10FFFF are
/// none.
constexpr Character decode(const char* at, const char* end) {
  const auto lead = static_cast<unsigned char>(*at);
  if (lead < 0x80) return {lead, 1};
  if (lead < 0xc2 || lead > 0xf4) return {};
  const std::size_t size = lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : 2;
  if (static_cast<std::size_t>(end - at) < size) return {};
  std::uint32_t code = lead & (0x7fU >> size);
  for (std::size_t i = 1; i < size; ++i) {
    if (!is_continuation(at[i])) return {};
    code = code << 6 | (static_cast<unsigned char>(at[i]) & 0x3fU);
  }
  constexpr std::uint32_t smallest[] = {0x80, 0x800, 0x10000};
  if (code < smallest[size - 2] || code > 0x10ffff || (code >= 0xd800 && code <= 0xdfff)) return {};
  return {code, size};
}

/// Char of XML 1.0.
constexpr bool is_xml_character(std::uint32_t code) {
  if (code < 0x20) return code == 0x9 || code == 0xa || code == 0xd;
  return code < 0xd800 || (code >= 0xe000 && code <= 0xfffd) || (code >= 0x10000 && code <= 0x10ffff);
}

constexpr bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }
constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }
constexpr bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
/// Bytes of XML names, as far as one can tell without a table of Unicode: all that is not ASCII counts as
/// one.
constexpr bool begins_name(char c) {
  return is_letter(c) || c == '_' || c == ':' || static_cast<unsigned char>(c) >= 0x80;
}
constexpr bool continues_name(char c) { return begins_name(c) || is_digit(c) || c == '-' || c == '.'; }
/// Characters of the words that documents name things with.
constexpr bool in_word(char c) { return is_letter(c) || is_digit(c) || c == '_' || c == '-' || c == '.'; }

/// Bits 1 << i of sixteen readable bytes: which are in_word, and which are the byte looked for.
struct Sixteen {
  unsigned word = 0, found = 0;
};
inline Sixteen look_at_sixteen(const char* at, char looked_for) {
  Sixteen bits;
#if defined(__SSE2__)
  const __m128i v = _mm_loadu_si128(reinterpret_cast<const __m128i*>(at));
  // Unsigned x <= n, as the smaller of both being x.
  const auto up_to = [](__m128i x, char n) { return _mm_cmpeq_epi8(_mm_min_epu8(x, _mm_set1_epi8(n)), x); };
  const __m128i small_letter = _mm_sub_epi8(_mm_or_si128(v, _mm_set1_epi8(0x20)), _mm_set1_epi8('a'));
  const __m128i from_hyphen = _mm_sub_epi8(v, _mm_set1_epi8('-'));  // - . / 0 ... 9
  const __m128i word =
      _mm_or_si128(_mm_or_si128(up_to(small_letter, 25), _mm_cmpeq_epi8(v, _mm_set1_epi8('_'))),
                   _mm_andnot_si128(_mm_cmpeq_epi8(v, _mm_set1_epi8('/')), up_to(from_hyphen, '9' - '-')));
  bits.word = static_cast<unsigned>(_mm_movemask_epi8(word));
  bits.found = static_cast<unsigned>(_mm_movemask_epi8(_mm_cmpeq_epi8(v, _mm_set1_epi8(looked_for))));
#else
  for (unsigned i = 0; i < 16; ++i) {
    if (in_word(at[i])) bits.word |= 1U << i;
    if (at[i] == looked_for) bits.found |= 1U << i;
  }
#endif
  return bits;
}

/// Whether two texts of one length are the same; behind both, sixteen bytes are readable.
inline bool same_padded(const char* a, const char* b, std::size_t n) {
#if defined(__SSE2__)
  if (n <= 16) {
    const __m128i equal = _mm_cmpeq_epi8(_mm_loadu_si128(reinterpret_cast<const __m128i*>(a)),
                                         _mm_loadu_si128(reinterpret_cast<const __m128i*>(b)));
    return std::countr_one(static_cast<unsigned>(_mm_movemask_epi8(equal))) >= static_cast<int>(n);
  }
#endif
  return std::memcmp(a, b, n) == 0;
}

}  // namespace raceward::document
