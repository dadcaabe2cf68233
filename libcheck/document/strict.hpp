// Reads a file as the XML that we accept, and hands over what is written in it.
//
// It is strict, where fast parsers are lenient: broken UTF-8, stray ampersands, a second root and more are
// faults, each named with its place. It goes over the bytes once and keeps a few children of the root at a
// time.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "document/faults.hpp"
#include "document/written.hpp"
#include "installation/texts.hpp"

namespace raceward::document {

inline constexpr std::size_t most_bytes = 0xfffffff0U;  ///< of a file: offsets have 32 bits
inline constexpr std::size_t deepest_nesting = 256;
inline constexpr std::size_t most_attributes_written = 256;  ///< of one element

/// Takes what is written, in the order of the file, as long as nothing before it is malformed. The texts
/// stay; `written` itself is cleared afterwards, and may be swapped for another.
class Taker {
 public:
  Taker() = default;
  Taker(const Taker&) = delete;
  Taker& operator=(const Taker&) = delete;
  /// The root's start tag: one element, whose span tells nothing.
  virtual void root(Written& written) = 0;
  /// Some children of the root, each with all within it, one behind the other.
  virtual void children(Written& written) = 0;

 protected:
  ~Taker() = default;
};

/// What the strict pass fills besides calling its taker.
struct ReadingInto {
  std::vector<std::uint32_t>& line_starts;
  installation::Texts& texts;  ///< values with references or line ends in them
  Faults& faults;
};

/// False where the file is not well-formed: what was taken must be forgotten, and faults say why.
/// REQUIRES: bytes.size() <= most_bytes, and word_padding readable bytes behind them.
bool read_strictly(std::string_view bytes, const ReadingInto& into, Taker& taker);

}  // namespace raceward::document
