// Whether a file is well-formed XML as we read it, told from its bytes before any parser touches them.
//
// The parser behind it is fast and lenient: it passes over broken UTF-8, stray ampersands, a second root and
// more. So this pass decides what is well-formed, and names every fault with its place. It also finds what
// the loader needs to know beforehand: where lines begin, how many elements of each name there are, and where
// the file can be cut into stretches that are parsed one by one.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>
#include <vector>

#include "document/faults.hpp"
#include "document/vocabulary.hpp"

namespace raceward::document {

inline constexpr std::size_t most_bytes = 0xfffffff0U;  ///< of a file: offsets have 32 bits
inline constexpr std::size_t deepest_nesting = 256;
inline constexpr std::size_t most_attributes_written = 256;  ///< of one element
inline constexpr std::size_t chunk_bytes = std::size_t{256} << 10;

/// Offsets of bytes, from first to before end.
struct Span {
  std::uint32_t first = 0, end = 0;
};

struct Markup {
  std::vector<std::uint32_t> line_starts;
  Span root_tag;             ///< the root's start tag, from < to behind >; empty where there is none
  std::vector<Span> chunks;  ///< the root's children, in stretches of about chunk_bytes, each whole
  /// Values of attributes that a parser writes anew (entities, line ends): from behind the quote to the
  /// closing quote.
  std::vector<Span> rewritten;
  std::array<std::uint32_t, element_count + 1>
      counts{};            ///< per Element; the last: names outside the vocabulary
  bool malformed = false;  ///< not well-formed: the parser must not see it
};

/// REQUIRES: bytes.size() <= most_bytes, and word_padding readable bytes behind them.
Markup scan(std::string_view bytes, Faults& faults);

}  // namespace raceward::document
