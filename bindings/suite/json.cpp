#include "json.hpp"

#include <algorithm>
#include <cstdint>

namespace raceward::suite {

namespace {

/// How many bytes the character takes that begins here; 0 where they are no UTF-8, or none that XML can hold.
std::size_t character(std::string_view text) {
  const auto byte = [&](std::size_t i) { return i < text.size() ? static_cast<unsigned char>(text[i]) : 0u; };
  const unsigned first = byte(0);
  if (first < 0x80) return first >= 0x20 || first == '\n' || first == '\t' ? 1 : 0;
  const std::size_t size = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
  if (first < 0xc2 || first > 0xf4) return 0;
  std::uint32_t code = first & (0x7fu >> size);
  for (std::size_t i = 1; i < size; ++i) {
    if ((byte(i) & 0xc0u) != 0x80u) return 0;
    code = code << 6 | (byte(i) & 0x3fu);
  }
  constexpr std::uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
  const bool nothing =
      code < least[size] || code > 0x10ffff || (code >= 0xd800 && code < 0xe000) || (code & 0xfffe) == 0xfffe;
  return nothing ? 0 : size;
}

}  // namespace

std::string printable(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const std::size_t size = character(text);
    out += size == 0 ? "?" : text.substr(0, size);
    text.remove_prefix(std::max<std::size_t>(size, 1));
  }
  return out;
}

std::vector<std::string> lines_of(const std::vector<Problem>& problems) {
  std::vector<std::string> out;
  for (const Problem& p : problems) out.push_back(raceward::text_of(p));
  return out;
}

}  // namespace raceward::suite
