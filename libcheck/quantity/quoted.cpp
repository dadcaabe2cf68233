// Puts a piece of foreign text into a message.
#include <cstdint>

#include "quantity/fault.hpp"

namespace raceward::quantity {
namespace {

constexpr std::size_t longest_quoted = 40;

// Bytes of the UTF-8 character at the front of a text that is not empty; 0 where there is none, or a control
// one.
std::size_t character_size(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char lead = byte(0);
  if (lead < 0x80) return lead >= 0x20 && lead != 0x7f ? 1 : 0;
  const std::size_t size = lead >= 0xf0 ? 4 : lead >= 0xe0 ? 3 : 2;
  if (lead < 0xc2 || lead > 0xf4 || text.size() < size) return 0;
  std::uint32_t code = lead & (0x7fU >> size);
  for (std::size_t i = 1; i < size; ++i) {
    if ((byte(i) & 0xc0U) != 0x80U) return 0;
    code = code << 6 | (byte(i) & 0x3fU);
  }
  constexpr std::uint32_t smallest[] = {0xa0, 0x800, 0x10000};  // below 0xa0 lie the C1 controls
  const bool surrogate = code >= 0xd800 && code <= 0xdfff;
  return code < smallest[size - 2] || code > 0x10ffff || surrogate ? 0 : size;
}

}  // namespace

std::string quoted(std::string_view text) {
  std::string out = "\"";
  std::size_t at = 0;
  while (at < text.size() && at < longest_quoted) {
    const std::size_t size = character_size(text.substr(at));
    if (size == 0)
      out += '?';
    else
      out += text.substr(at, size);
    at += size == 0 ? 1 : size;
  }
  out += at < text.size() ? "...\"" : "\"";
  return out;
}

}  // namespace raceward::quantity
