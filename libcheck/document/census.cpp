#include "document/census.hpp"

#include <cstring>

#include "document/characters.hpp"

namespace raceward::document {
namespace {

constexpr std::size_t parts = 256, part_bytes = 4096;

void count(std::string_view bytes, Census& census) {
  const char* const end = bytes.data() + bytes.size();
  for (const char* at = bytes.data(); at != end;) {
    at = static_cast<const char*>(std::memchr(at, '<', static_cast<std::size_t>(end - at)));
    if (at == nullptr) return;
    const char* name = ++at;
    while (at != end && continues_name(*at))
      if (*at++ == ':') name = at;
    const std::uint8_t found = element_words.find_padded(name, static_cast<std::size_t>(at - name));
    if (found != 0) ++census[found - 1U];
  }
}

}  // namespace

Census count_elements(std::string_view bytes) {
  Census census{};
  if (bytes.size() <= parts * part_bytes) {
    count(bytes, census);
    return census;
  }
  const std::size_t step = bytes.size() / parts;
  for (std::size_t part = 0; part < parts; ++part) count(bytes.substr(part * step, part_bytes), census);
  // Some more than the parts say: too little costs a copy of the whole array, too much nothing.
  for (std::size_t& n : census) n = n * step / part_bytes * 17 / 16;
  return census;
}

}  // namespace raceward::document
