// The rare bytes: what is neither a blank, a line end nor printable ASCII.
#include "document/specials.hpp"

#include <fmt/format.h>

#include <utility>

#include "document/characters.hpp"

namespace raceward::document {

/// A file of another encoding, or of no text at all, is nothing but these: the first few tell it.
void Specials::bad_byte(std::uint32_t offset, std::string message) {
  constexpr std::size_t told = 8;  // not law: lines
  if (++bad_bytes_ > told)
    faults_.count();
  else
    faults_.add(offset, std::move(message));
}

void Specials::check_odd(std::uint64_t odd) {
  for (; odd != 0; odd &= odd - 1) {
    const char* at = block_ + std::countr_zero(odd);
    if (at < checked_) continue;
    const auto byte = static_cast<unsigned char>(*at);
    if (byte == '\t' || byte == '\r') continue;
    const auto offset = static_cast<std::uint32_t>(at - begin_);
    if (byte < ' ') {
      bad_byte(offset,
               byte == 0
                   ? std::string("NUL byte; a document is text")
                   : fmt::format("control character U+{:04X}; XML allows tabs and line ends only", byte));
      continue;
    }
    const Character c = decode(at, end_);
    if (c.size == 0) {
      bad_byte(offset, fmt::format("byte 0x{:02X} is not UTF-8 here; save the file as UTF-8", byte));
      checked_ = at + 1;
      while (checked_ != end_ && is_continuation(*checked_)) ++checked_;
      continue;
    }
    if (!is_xml_character(c.code))
      bad_byte(offset, fmt::format("character U+{:04X} is not allowed in XML", c.code));
    checked_ = at + c.size;
  }
}

}  // namespace raceward::document
